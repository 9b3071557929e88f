"""The survey workbook: all cells text, drop-down lists, and what is filled in comes back from the importer as it was."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import python_calamine

from halfbore.documents.survey_fields import DECISIVE
from halfbore.documents.survey_known import paths_of, text_at
from halfbore.documents.survey_workbook import (
    FIRST,
    columns_of,
    start_of,
    survey_sheet_xlsx,
    survey_workbook,
    write_survey_workbook,
)
from halfbore.domain.fields import FieldInfo, Quantity
from halfbore.domain.survey import Thing, Told
from halfbore.domain.survey_form import PARTS, Ask, SheetKind, choices_of, field_of
from halfbore.domain.survey_layout import KIND, MARKER, PATHS_ROW, SHEETS, TAGS, unit_of
from halfbore.errors import InputError
from halfbore.intake.check import check_value
from halfbore.intake.survey.own import read_own
from halfbore.present.survey_words import units_to_ring
from halfbore.units import Kind, convert, parse

WHEN = date(2026, 3, 2)
SHAFT = ("E1", "head")


def pages(content: bytes) -> dict[str, list[list[Any]]]:
    """Return what a workbook holds, read back."""
    book = python_calamine.load_workbook(io.BytesIO(content))
    return {name: book.get_sheet_by_name(name).to_python(skip_empty_area=False) for name in book.sheet_names}


def sheet_xml(content: bytes) -> list[str]:
    with zipfile.ZipFile(io.BytesIO(content)) as book:
        return [book.read(n).decode() for n in book.namelist() if n.startswith("xl/worksheets/sheet")]


def same(told: Iterable[Told]) -> list[Told]:
    """Return what is told in one order, without its place and with what has no tag as None."""
    plain = [replace(t, place="", tags=tuple(tag or None for tag in t.tags)) for t in told]
    return sorted(plain, key=lambda t: (list(Thing).index(t.thing), repr(t.tags), repr(t.data)))


def read(content: bytes, folder: Path) -> list[Told]:
    """Return what the importer makes of a workbook, which it must take whole."""
    path = folder / "survey.xlsx"
    path.write_bytes(content)
    reading = read_own(path)
    assert reading.rejects == ()
    assert [r for r in reading.remarks if "not read" in r] == []
    return same(reading.told)


@pytest.mark.parametrize("kind", SheetKind)
def test_an_empty_sheet_tells_its_parts_and_positions_and_nothing_else(
    kind: SheetKind, tmp_path: Path
) -> None:
    assert read(survey_sheet_xlsx(kind, WHEN, "X9"), tmp_path) == same(start_of(kind, "X9"))


CURRENCY = {Kind.MONEY: " EUR", Kind.MONEY_RATE: " EUR/h"}


def sample(ask: Ask, info: FieldInfo, part: str) -> Any:
    """Return a value that a surveyor might write: a usual quantity in the last unit to ring, the last word, a date."""
    meta, words = info.meta, choices_of(info)
    if isinstance(meta, Quantity):
        low, high = meta.plausible or meta.limits or (1.0, 1.0)
        unit = (units_to_ring(info) or ("",))[-1]
        value = convert((low + high) / 2, meta.kind, unit) if unit else (low + high) / 2
        text = f"{value:.0f}" if abs(value) >= 10 or meta.kind is Kind.COUNT else f"{value:.3g}"
        text = f"{text} {unit}".strip() + CURRENCY.get(meta.kind, "")
    elif words:
        text = words[-1]
    else:
        text = "2021-10-08" if info.type is date else "=1+1 & Ø so"
    if info.type == tuple[str, ...]:
        text = "gear unit; head drum"
    return check_value(ask.thing, ask.path, text, part)


def filled() -> list[Told]:
    """Return a survey that gives a value for every field that any sheet asks."""
    found = []
    rows: list[tuple[Thing, tuple[str, ...], str]] = [
        (Thing.PLANT, (), ""),
        (Thing.MACHINE, SHAFT[:1], ""),
        (Thing.SHAFT_LINE, SHAFT, ""),
        (Thing.SEGMENT, SHAFT, ""),
        (Thing.CONDITION, SHAFT, ""),
        *((Thing.PART, SHAFT, kind) for kind in PARTS),
        (Thing.POSITION, (*SHAFT, "E1-A"), ""),
        (Thing.FAILURE, (*SHAFT, "E1-A"), ""),
    ]
    for thing, tags, part in rows:
        data: dict[str, Any] = {KIND: part, "name": f"the {part}"} if part else {}
        for path in [c.path for c in columns_of(thing) if c.path not in (*TAGS, KIND, "name")]:
            if part and path not in {f.path for f in asked(part)}:
                continue
            put(data, path, sample(Ask(thing, path), field_of(Ask(thing, path), part), part))
        if thing is Thing.CONDITION:
            data["name"] = "normal"
        found.append(Told(thing, tags, data, ""))
    return found


def asked(part: str) -> list[Ask]:
    """Return what the sheet of parts asks of one kind."""
    rows = [Told(Thing.PART, SHAFT, {KIND: part, "name": "x"}, "")]
    return [Ask(Thing.PART, c.path) for c in columns_of(Thing.PART, rows)]


def put(data: dict[str, Any], path: str, value: Any) -> None:
    """Put a value into plain data by its path."""
    *above, last = re.findall(r"([^.\[\]]+)(?:\[(\d+)\])?", path)
    for name, index in above:
        if index:
            entries = data.setdefault(name, [])
            entries += [{} for _ in range(int(index) + 1 - len(entries))]
            data = entries[int(index)]
        else:
            data = data.setdefault(name, {})
    data[last[0]] = value


def test_everything_that_can_be_filled_in_comes_back_as_it_was(tmp_path: Path) -> None:
    told = filled()
    assert sum(len(list(paths_of(t.data))) for t in told) > 200
    assert read(survey_workbook(told, WHEN), tmp_path) == same(told)


def test_what_is_known_and_not_asked_stands_there_too(tmp_path: Path) -> None:
    told = [Told(Thing.MACHINE, ("E1",), {"machine": {"kind": "fan"}, "value": {"overtime": "1.5"}}, "")]
    assert read(survey_workbook(told, WHEN), tmp_path) == same(told)


def test_half_filled_rows_say_no_more_than_they_hold(tmp_path: Path) -> None:
    told = [
        Told(Thing.POSITION, (None, None, "F1-A"), {"x": "4 15/16 in"}, ""),
        Told(
            Thing.POSITION,
            ("F1", None, "F1-B"),
            {"seat": {"diameter": "5.936 in to 5.937 in"}, "convert": False},
            "",
        ),
    ]
    assert read(survey_workbook(told, WHEN), tmp_path) == same(told)


def test_entries_of_a_list_stand_in_columns_of_their_own(tmp_path: Path) -> None:
    steps = [
        {"after": "0.5 h", "rate": "5 400 EUR/h"},
        {"after": "12 h", "rate": "7 800 EUR/h", "once": "21 000 EUR"},
    ]
    told = [Told(Thing.MACHINE, ("F1",), {"value": {"stopped_production": steps}}, "")]
    assert read(survey_workbook(told, WHEN), tmp_path) == same(told)


@pytest.mark.parametrize(
    "content", [survey_sheet_xlsx(SheetKind.LINE_SHAFT, WHEN, "=1+1", 5), survey_workbook(filled(), WHEN)]
)
def test_every_cell_is_text(content: bytes) -> None:
    for xml in sheet_xml(content):
        assert "<f>" not in xml and "<hyperlink" not in xml
        assert [c for c in re.findall(r"<c ([^>]*)><v>", xml) if 't="s"' not in c] == []


def test_the_layout_is_the_one_that_the_importer_reads() -> None:
    found = pages(survey_sheet_xlsx(SheetKind.FAN, WHEN, "F1"))
    assert next(iter(found)) == FIRST and found[FIRST][0][0] == MARKER
    assert set(found) - {FIRST} == set(SHEETS)
    for name, rows in found.items():
        if name != FIRST:
            headings = [h for h in rows[2] if h]
            assert len(set(headings)) == len(headings) == len([p for p in rows[PATHS_ROW - 1] if p])


def test_the_unit_of_a_heading_is_one_of_its_quantity() -> None:
    for thing in SHEETS.values():
        for column in columns_of(thing):
            parts = [p for p in PARTS if thing is not Thing.PART or column.path in {a.path for a in asked(p)}]
            if column.path not in (*TAGS, KIND, "name") and unit_of(column.heading):
                meta = field_of(Ask(thing, column.path), parts[0]).meta
                assert isinstance(meta, Quantity)
                parse(f"1 {unit_of(column.heading)}", meta.kind)


def test_a_number_takes_the_unit_of_its_heading(tmp_path: Path) -> None:
    told = [Told(Thing.POSITION, (None, None, "F1-A"), {"x": "400", "base": {"centre_height": "10 in"}}, "")]
    [row] = read(survey_workbook(told, WHEN), tmp_path)
    assert row.data == {"x": "400 mm", "base": {"centre_height": "10 in"}}


def test_choices_drop_down_and_hints_are_short_enough() -> None:
    xml = "".join(sheet_xml(survey_sheet_xlsx(SheetKind.FAN, WHEN, "F1")))
    for words in (
        "adapter sleeve,withdrawal sleeve,direct seat",
        "yes,no",
        "F1-A,F1-B",
        "clockwise,counter-clockwise,both",
    ):
        assert words in xml
    assert max(map(len, re.findall(r'prompt="([^"]*)"', xml))) <= 300  # & is written as &amp;
    assert "A size read off a sleeve-mounted bearing is not the shaft" in xml


def test_what_decides_is_yellow_until_it_is_known() -> None:
    def yellow(told: list[Told]) -> int:
        content = survey_workbook(told, WHEN)
        with zipfile.ZipFile(io.BytesIO(content)) as book:
            styles = book.read("xl/styles.xml").decode()
        fills = re.findall(r"<fill>.*?</fill>", styles)
        wanted = next(i for i, fill in enumerate(fills) if "FFFFF2B3" in fill)
        formats = re.findall(r"<xf [^>]*?(?:/>|>.*?</xf>)", styles.partition("<cellXfs")[2])
        marks = {str(i) for i, f in enumerate(formats) if f'fillId="{wanted}"' in f}
        return sum(
            len(re.findall(rf'<c r="[A-Z]+\d+" s="{m}"/>', xml)) for m in marks for xml in sheet_xml(content)
        )

    blank = Told(Thing.POSITION, ("F1", None, "F1-A"), {}, "")
    known = replace(blank, data={"x": "400 mm", "old_mounting": "direct seat"})
    asked = sum(ask.thing is Thing.POSITION for ask in DECISIVE)
    assert asked == 10 and yellow([blank]) == asked and yellow([known]) == asked - 2


def test_the_same_rows_and_date_give_the_same_bytes() -> None:
    assert survey_sheet_xlsx(SheetKind.FAN, WHEN, "F1") == survey_sheet_xlsx(SheetKind.FAN, WHEN, "F1")


def test_a_workbook_without_a_tag_is_refused() -> None:
    with pytest.raises(InputError, match="needs the tag of its machine"):
        survey_sheet_xlsx(SheetKind.FAN, WHEN, " ")


def test_the_file_is_written_whole(tmp_path: Path) -> None:
    told = start_of(SheetKind.FAN, "F1")
    path = write_survey_workbook(tmp_path / "survey.xlsx", told, WHEN)
    assert path.read_bytes() == survey_workbook(told, WHEN)


def test_plain_values_are_written_as_people_write_them() -> None:
    data = {"a": {"b": True}, "c": ["x", "y"], "d": [{"e": "1 mm"}, {"e": False}], "f": date(2026, 3, 2)}
    assert list(paths_of(data)) == ["a.b", "c", "d[0].e", "d[1].e", "f"]
    assert [text_at(data, path) for path in paths_of(data)] == ["yes", "x; y", "1 mm", "no", "2026-03-02"]
    assert text_at(data, "d[2].e") == text_at(data, "a.z") == text_at(data, "c.b") == ""
