"""The survey sheet on paper: all is asked, the numbers are those of the sketch, what decides are marked."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import is_dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pypdf
import pytest

from halfbore.documents.survey_fields import (
    CONDITION,
    DESK,
    DRIVEN,
    FAILURE,
    LOCATES,
    LUBRICANT,
    MACHINE,
    POSITION,
    SEGMENT,
    SITE,
    STOPPED,
    STOPS,
    TRAPS,
    WORK,
    Group,
    deciding,
    part_asks,
    place_of,
)
from halfbore.documents.survey_pages import BLANK
from halfbore.documents.survey_sheet import (
    survey_sheet_data,
    survey_sheet_pdf,
    write_survey_sheet,
    write_survey_sheets,
)
from halfbore.documents.survey_workbook import start_of, survey_sheet_xlsx
from halfbore.domain.duty import Condition
from halfbore.domain.fields import walk
from halfbore.domain.machine import MachineKind, Segment
from halfbore.domain.position import Failure, Position
from halfbore.domain.survey import Thing, Told
from halfbore.domain.survey_form import PARTS, Ask, SheetKind, choices_of, field_of, label_of
from halfbore.errors import InputError
from halfbore.present.survey_details import LETTERS
from halfbore.present.survey_layouts import dimensions, layout_of
from halfbore.units import Span
from tests.documents.studies import flat, pages

WHEN = date(2026, 3, 2)


@cache
def pdf(kind: SheetKind) -> bytes:
    """Return the sheet of a kind of shaft line."""
    return survey_sheet_pdf(kind, WHEN, "F1")


@cache
def told(kind: SheetKind) -> tuple[str, ...]:
    """Return the text of each page."""
    return tuple(pages(pdf(kind)))


def rows(data: Any) -> Iterator[dict[str, Any]]:
    """Yield every row of questions in the data of a sheet, wherever it stands."""
    if isinstance(data, dict):
        if data.get("kind") == "Row":
            yield data
        data = list(data.values())
    if isinstance(data, list):
        for item in data:
            yield from rows(item)


def lower(text: str) -> str:
    return flat(text).casefold()


@pytest.mark.parametrize("kind", SheetKind)
def test_page_one_has_every_numbered_dimension(kind: SheetKind) -> None:
    layout = layout_of(kind)
    first = told(kind)[0]
    marks = {
        row["mark"]: row
        for row in rows(survey_sheet_data(kind, WHEN, "F1")["blocks"])
        if row["mark"].isdecimal()
    }
    found = dimensions(layout)
    assert list(marks) == [str(d.number) for d in found]
    for d in found:
        part = layout.parts[d.index] if d.ask.thing is Thing.PART else None
        row = marks[str(d.number)]
        label = label_of(d.ask, part.kind if part else "")
        assert row["label"].endswith(label) and row["place"] == place_of(d.ask)
        assert part is None or row["label"].casefold().startswith(part.name)
        assert flat(row["label"]) in first and row["place"] in first


@pytest.mark.parametrize("kind", SheetKind)
def test_everything_is_asked_under_the_label_of_its_record(kind: SheetKind) -> None:
    layout, whole = layout_of(kind), lower(" ".join(told(kind)))
    asks = [
        (a, "")
        for group in (CONDITION, *POSITION, SITE, STOPPED, STOPS, WORK, LOCATES, LUBRICANT)
        for a in group.asks
    ]
    asks += [(Ask(Thing.POSITION, path), "") for path in LETTERS]
    asks += [(a, part.kind) for part in layout.parts for a in part_asks(part.kind)]
    wanted = [(a, p) for a, p in asks if a not in DESK and a != Ask(Thing.CONDITION, "name")]
    assert [a for a, p in wanted if lower(label_of(a, p)) not in whole] == []
    words = [w for a, p in wanted for w in choices_of(field_of(a, p))]
    assert [w for w in words if lower(w) not in whole] == []


@pytest.mark.parametrize("kind", SheetKind)
def test_the_twenty_that_decide_are_marked_and_no_others(kind: SheetKind) -> None:
    layout = layout_of(kind)
    main = next(part for part in layout.parts if part.main)
    wanted = {label_of(a, main.kind if a.thing is Thing.PART else "").casefold() for a in deciding(kind)}
    marked = [
        row["label"].casefold() for row in rows(survey_sheet_data(kind, WHEN, "F1")["blocks"]) if row["black"]
    ]
    assert len(set(deciding(kind))) == len(deciding(kind)) == 20
    assert {w for w in wanted if not any(label.endswith(w) for label in marked)} == set()
    assert [label for label in marked if not any(label.endswith(w) for w in wanted)] == []


@pytest.mark.parametrize("kind", SheetKind)
def test_traps_stand_beside_their_fields(kind: SheetKind) -> None:
    whole = " ".join(told(kind))
    always = [
        TRAPS[Ask(Thing.POSITION, path)] for path in ("seat.diameter", "old_mounting", "base.stud_stick_out")
    ]
    assert [t for t in always if flat(t) not in whole] == []
    assert (TRAPS[Ask(Thing.MACHINE, "machine.name_plate.power")] in whole) == (kind in DRIVEN)
    assert all(flat(BLANK) in page for page in told(kind))


@pytest.mark.parametrize("kind", SheetKind)
def test_cautions_are_on_page_one_and_defer_to_the_site(kind: SheetKind) -> None:
    first = told(kind)[0]
    for words in ("site's own procedure, which comes before this sheet", "Rotating parts", "Stored energy"):
        assert words in first
    assert "Hot surfaces burn" in first and "suspended load" in first


@pytest.mark.parametrize("kind", SheetKind)
def test_two_bearings_fill_five_pages(kind: SheetKind) -> None:
    """One page for sketch, parts and stops each, two for each pair of bearings."""
    bearings = len(layout_of(kind).bearings)
    assert len(told(kind)) == 3 + 2 * ((bearings + 1) // 2)
    whole = " ".join(told(kind))
    assert all(f"bearing F1-{b.letter}" in whole for b in layout_of(kind).bearings)


def test_a_line_shaft_has_as_many_bearings_as_are_asked_for() -> None:
    whole = " ".join(pages(survey_sheet_pdf(SheetKind.LINE_SHAFT, WHEN, "L1", 5)))
    assert "bearing L1-E" in whole and "bearing L1-F" not in whole


def test_what_is_known_stands_there_with_a_box_to_tick() -> None:
    known = (
        *start_of(SheetKind.FAN, "F1"),
        Told(
            Thing.MACHINE, ("F1",), {"machine": {"plant": "Somewhere", "name_plate": {"power": "250 kW"}}}, ""
        ),
        Told(
            Thing.FAILURE,
            ("F1", "", "F1-B"),
            {"on": "2021-08-30", "why": "abrasive wear", "failed": False},
            "",
        ),
        Told(Thing.POSITION, ("F1", "", "F1-B"), {"x": "3 400 mm"}, ""),
        Told(Thing.SEGMENT, ("F1", ""), {"length": "6 1/2 in", "diameter": "160 mm"}, ""),
    )
    found = pages(survey_sheet_pdf(SheetKind.FAN, WHEN, "F1", told=known))
    assert "Somewhere" in found[0] and "6 1/2 in still so" in found[0] and "160 mm still so" in found[0]
    assert "250 kW still so" in found[1]
    assert "F1-B 2021-08-30 abrasive wear no" in found[3]
    assert "from datum to its middle 3 400 mm still so 5 Step 1" in found[0]
    assert "still so" not in " ".join(told(SheetKind.FAN))


def test_positions_keep_the_tags_that_they_have() -> None:
    known = [Told(Thing.POSITION, ("X", None, tag), {}, "") for tag in ("N7-drive", "N7-fan")]
    whole = " ".join(pages(survey_sheet_pdf(SheetKind.FAN, WHEN, "F1", told=known)))
    assert "Bearing N7-drive: place" in whole and "Bearing N7-fan: place" in whole and "F1-A" not in whole


def test_the_same_arguments_give_the_same_bytes() -> None:
    assert survey_sheet_pdf(SheetKind.SCREW, WHEN, "F1") == pdf(SheetKind.SCREW)
    assert survey_sheet_pdf(SheetKind.SCREW, WHEN.replace(day=3), "F1") != pdf(SheetKind.SCREW)


def test_it_is_archival_and_tagged_and_its_pictures_have_words() -> None:
    content = pdf(SheetKind.FAN)
    reader = pypdf.PdfReader(io.BytesIO(content))
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"] == True  # noqa: E712
    assert (
        reader.metadata is not None
        and reader.metadata.title == "Survey sheet: fan, wheel between bearings, F1"
    )
    assert b"pdfuaid" in content and b"pdfaid" in content
    pictures = [b for b in survey_sheet_data(SheetKind.FAN, WHEN)["blocks"] if b["kind"] == "Picture"]
    assert len(pictures) == 2 and all("to scale" in p["alt"] for p in pictures)


@pytest.mark.parametrize("tag", ['#eval("1+1") *b* $x$ <l> @r', "F" * 500, "☃ \u4e2d", "=1+1"])
def test_any_tag_can_be_set(tag: str) -> None:
    assert len(pages(survey_sheet_pdf(SheetKind.TAIL_DRUM, WHEN, tag))) >= 5


def test_a_sheet_that_there_is_not_is_refused() -> None:
    with pytest.raises(InputError, match="no sheet with so many positions"):
        survey_sheet_pdf(SheetKind.FAN, WHEN, positions=4)


def test_the_file_is_written_whole(tmp_path: Path) -> None:
    path = write_survey_sheet(SheetKind.FAN, WHEN, tmp_path / "sheets" / "fan.pdf", "F1")
    assert path.read_bytes() == pdf(SheetKind.FAN)


def test_paper_and_workbook_are_written_together(tmp_path: Path) -> None:
    written = write_survey_sheets("Overhung  fan", tmp_path / "sheets", "F/2", when=WHEN)
    assert [path.name for path in written] == ["survey-F-2.pdf", "survey-F-2.xlsx"]
    assert written[0].read_bytes() == survey_sheet_pdf(SheetKind.OVERHUNG_FAN, WHEN, "F/2")
    assert written[1].read_bytes() == survey_sheet_xlsx(SheetKind.OVERHUNG_FAN, WHEN, "F/2")
    assert [path.name for path in write_survey_sheets("screw", tmp_path)] == ["survey-screw.pdf"]


@pytest.mark.parametrize("kind", ["", "pump", "fan wheel", "x" * 900])
def test_a_kind_that_there_is_not_is_told_with_those_that_there_are(kind: str, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="accepted: fan, overhung fan, head shaft, tail drum"):
        write_survey_sheets(kind, tmp_path)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("kind", SheetKind)
def test_each_kind_has_a_name_in_full_and_a_kind_of_machine(kind: SheetKind) -> None:
    assert SheetKind.named(kind.words) is SheetKind.named(kind.value.upper()) is kind
    assert kind.machine in MachineKind and flat(kind.words).casefold() in told(kind)[0].casefold()


def test_every_field_that_is_asked_is_a_field_of_its_record() -> None:
    for group in MACHINE:
        assert all(field_of(ask).meta.help for ask in group.asks)
    for kind in PARTS:
        assert all(field_of(ask, kind).meta.help for ask in part_asks(kind))
    with pytest.raises(KeyError, match="has no field"):
        field_of(Ask(Thing.POSITION, "seat.length"))


def test_every_trap_and_every_one_of_the_ten_is_beside_a_field_that_is_asked() -> None:
    asked = {a for group in (*MACHINE, CONDITION, SEGMENT, *POSITION, FAILURE) for a in group.asks}
    asked |= {a for kind in PARTS for a in part_asks(kind)}
    asked |= {Ask(Thing.POSITION, path) for path in ("x", *LETTERS)}
    assert set(TRAPS) - asked == set()
    assert {a for kind in SheetKind for a in deciding(kind)} - asked == set()


ENGINEERS = {"name", "history"}
"""Fields of a position that no column asks: a tag says the name, and failures have a sheet of their own."""


@pytest.mark.parametrize(
    ("record", "groups"),
    [(Position, POSITION), (Condition, (CONDITION,)), (Failure, (FAILURE,)), (Segment, (SEGMENT,))],
)
def test_nothing_of_a_position_is_forgotten(record: type, groups: tuple[Group, ...]) -> None:
    asked = {a.path for group in groups for a in group.asks} | {"x", *LETTERS}
    lists = [path for path, info in walk(record) if "[]" in path]
    leaves = {path for path, info in walk(record) if not is_dataclass(info.type) or info.type is Span}
    assert leaves - asked - set(lists) - (ENGINEERS if record is Position else set()) == set()
