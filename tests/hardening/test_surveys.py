"""Surveys spoiled at random, seeded: never a traceback, never a silent number, and no row is lost."""

from __future__ import annotations

import random
import re
import tomllib
import zipfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from halfbore.domain.survey import SurveyReading, Thing
from halfbore.errors import HalfboreError, InputError
from halfbore.intake.book import Book, Page, read_book
from halfbore.intake.check import check_document
from halfbore.intake.survey.mapping import SurveyMapping, read_mapping_text
from halfbore.intake.survey.propose import propose
from halfbore.intake.survey.read import survey_of
from tests.hardening.mutations import MAPPINGS, NASTY, spoiled, spoiled_text
from tests.hardening.plain_toml import dumped
from tests.intake.survey_files import GOOD, HEADINGS, MAPPING, TITLE, write

Rows = list[list[Any]]
TOP = 3
"""Rows above the data."""
ODD = (
    "07-Apr", "4-7/16", "2026-04-07", "3/16/2021", "ca. 60", "approx 100 mm", "#REF!", "1.200,5 mm", "1.250", "4.4375",
    "112,7 mm", "k.A.", "-", "0", 0.0, -0.0, 4.4375, 45827.0, 1e300, -1.0, True, False, "TOTAL", "F1-A", "F9", "x" * 501,
    "=cmd()", "'=1", "  160  ", "160\u00a0mm", "\u00bd in", "1 to 2 mm", "2 to 1 mm", "mm", "12'", "5 %", "60-62", "fest",
    "03.04.2021",
)  # fmt: skip
"""What spreadsheets, phones and people put into the cells of a survey."""
UNITS = {"Welle Ø [mm]": "mm", "Abstand (in)": "in"}


def good() -> Rows:
    """Return the data of a sound survey: three rows that differ in kind, and five alike."""
    alike = [[f"T{i}-A", "los", 100.0 + i, "5", "03.04.2021", "Staub", "drum", "ja", ""] for i in range(5)]
    return [[*row] for row in GOOD] + alike


@cache
def by() -> SurveyMapping:
    return read_mapping_text(MAPPING)


def read(
    rows: Rows, headings: list[Any] | None = None, mapping: SurveyMapping | None = None, **odd: Any
) -> SurveyReading:
    sheet = (*TITLE, tuple(headings or HEADINGS), *map(tuple, rows))
    return survey_of(Book("s.xlsx", (Page("s.xlsx", "Lager", sheet, **odd),)), mapping or by())


def numbers_in(remark: str) -> set[int]:
    """Return the rows that a remark names, runs of them written out."""
    found: set[int] = set()
    for listed in re.findall(r", rows? ([\d, to]+)", remark):
        for part in re.findall(r"(\d+)(?: to (\d+))?", listed):
            found |= set(range(int(part[0]), int(part[1] or part[0]) + 1))
    return found


def rows_told(reading: SurveyReading) -> set[int]:
    return {number for told in reading.told for number in numbers_in(told.place)}


def account(rows: Rows, reading: SurveyReading, top: int = TOP) -> None:
    """Check that every row is told, rejected or named, no row is both of the first, and nothing told is wrong."""
    told, rejected = rows_told(reading), {reject.row for reject in reading.rejects}
    named = {number for remark in reading.remarks for number in numbers_in(remark)}
    filled = {i for i, row in enumerate(rows, top + 1) if any(str(cell).strip() for cell in row)}
    assert not told & rejected
    assert filled <= told | rejected | named
    assert reading.rows == len(filled)
    for t in reading.told:
        assert check_document(t.thing, t.data)[0] == (), t
    assert all(
        p.what and p.where.startswith("s.xlsx, sheet 'Lager', row ")
        for r in reading.rejects
        for p in r.problems
    )


def test_the_survey_is_sound_as_it_stands() -> None:
    reading = read(good())
    account(good(), reading)
    assert reading.rejects == () and reading.remarks == ()


@pytest.mark.parametrize("seed", range(100))
def test_a_spoiled_cell_is_named_or_kept_as_typed(seed: int) -> None:
    draw, rows = random.Random(seed), good()
    row, column = draw.randrange(len(rows)), draw.randrange(len(HEADINGS))
    cell = rows[row][column] = draw.choice([*NASTY, *ODD])
    reading = read(rows)
    account(rows, reading)
    others = set(range(TOP + 1, TOP + 1 + len(rows))) - {TOP + 1 + row}
    if column:
        assert others <= rows_told(reading)
    for reject in reading.rejects:
        assert column == 0 or all(repr(HEADINGS[column]) in p.where for p in reject.problems)
    if (unit := UNITS.get(HEADINGS[column])) and TOP + 1 + row in rows_told(reading):
        _kept_as_typed(reading, TOP + 1 + row, column, cell, unit)


def _kept_as_typed(reading: SurveyReading, number: int, column: int, cell: Any, unit: str) -> None:
    """Check that a told size is what stands in the cell, with the unit of its column where it has none, or nothing."""
    told = next(t for t in reading.told if t.thing is Thing.POSITION and t.place.endswith(f"row {number}"))
    kept = told.data.get("x") if column == 3 else told.data.get("seat", {}).get("diameter")
    text = f"{cell:.15g}" if isinstance(cell, float) else str(cell).strip()
    assert kept in ({None} if text.casefold() in ("", "-", "k.a.") else {text, f"{text} {unit}"})


def _doubled(draw: random.Random, rows: Rows, *_: Any) -> None:
    rows.append(list(draw.choice(rows)))


def _doubled_otherwise(draw: random.Random, rows: Rows, *_: Any) -> None:
    rows.append([draw.choice(rows)[0], *draw.choice(rows)[1:]])


def _removed(draw: random.Random, rows: Rows, *_: Any) -> None:
    del rows[draw.randrange(len(rows))]


def _total(draw: random.Random, rows: Rows, *_: Any) -> None:
    rows.insert(draw.randrange(len(rows)), ["", "Summe", draw.random()])


def _blank(draw: random.Random, rows: Rows, *_: Any) -> None:
    rows.insert(draw.randrange(len(rows)), draw.choice([[], [""] * 9, ["-", "k.A."], ["", " "]]))


def _long(draw: random.Random, rows: Rows, *_: Any) -> None:
    draw.choice(rows).extend(["", "9"])


def _short(draw: random.Random, rows: Rows, *_: Any) -> None:
    del draw.choice(rows)[draw.randrange(9) :]


def _shifted(draw: random.Random, rows: Rows, *_: Any) -> None:
    draw.choice(rows).insert(draw.randrange(5), "")


def _note(draw: random.Random, rows: Rows, *_: Any) -> None:
    rows.append([draw.choice(["* measured hot", "see sketch 4", "=SUM(A1:A9)", "----"])])


def _merged(draw: random.Random, rows: Rows, _: list[Any], odd: dict[str, Any]) -> None:
    row, column = TOP + draw.randrange(len(rows) - 1), draw.randrange(9)
    odd["merged"] = ((row, column, row + draw.randrange(2), column + draw.randrange(3)),)


def _covered(draw: random.Random, rows: Rows, _: list[Any], odd: dict[str, Any]) -> None:
    row, column = draw.randrange(len(rows) - 1), draw.randrange(9)
    rows[row + 1][column] = ""
    odd["merged"] = ((TOP + row, column, TOP + row + 1, column),)


def _hidden(draw: random.Random, _rows: Rows, _: list[Any], odd: dict[str, Any]) -> None:
    odd["hidden_rows"], odd["hidden_columns"] = frozenset({TOP, TOP + 2}), frozenset({draw.randrange(9)})


def _formula(draw: random.Random, rows: Rows, _: list[Any], odd: dict[str, Any]) -> None:
    row, column = draw.randrange(len(rows)), draw.randrange(9)
    odd["formulas"] = frozenset({(TOP + row, column)})
    if draw.random() < 0.5:
        rows[row][column] = ""
        odd["kinds"] = {(TOP + row, column): "lost"}


def _renamed(draw: random.Random, _: Rows, headings: list[Any], *_odd: Any) -> None:
    headings[draw.randrange(9)] = draw.choice(["Welle", "", "Bem.", "#", 5.0, "Kran \n", "x" * 40_000])


def _exchanged(draw: random.Random, _: Rows, headings: list[Any], *_odd: Any) -> None:
    i, j = draw.sample(range(9), 2)
    headings[i], headings[j] = headings[j], headings[i]


def _headless(_: random.Random, rows: Rows, headings: list[Any], *_odd: Any) -> None:
    headings[:] = rows.pop(0)


Spoil = Callable[..., None]
OF_ROWS: tuple[Spoil, ...] = (
    _doubled, _doubled_otherwise, _removed, _total, _blank, _long, _short, _shifted, _note, _merged, _covered, _hidden, _formula,
)  # fmt: skip
OF_HEADINGS: tuple[Spoil, ...] = (_renamed, _exchanged, _headless)


@pytest.mark.parametrize("spoil", OF_ROWS)
@pytest.mark.parametrize("seed", range(4))
def test_a_spoiled_row_is_accounted_for(spoil: Spoil, seed: int) -> None:
    draw, rows, odd = random.Random(seed), good(), {}  # type: ignore[var-annotated]
    spoil(draw, rows, list(HEADINGS), odd)
    account(rows, read(rows, **odd))


@pytest.mark.parametrize("spoil", OF_HEADINGS)
@pytest.mark.parametrize("seed", range(5))
def test_a_spoiled_heading_is_told_or_the_rows_are(spoil: Spoil, seed: int) -> None:
    draw, rows, headings = random.Random(seed), good(), list(HEADINGS)
    spoil(draw, rows, headings, {})
    try:
        account(rows, read(rows, headings))
    except InputError as refused:
        assert all(p.what and p.where.startswith("s.xlsx, sheet 'Lager'") for p in refused.problems)


def test_many_faults_at_once_lose_no_row() -> None:
    for seed in range(20):
        draw, rows, odd = random.Random(seed), good(), {}  # type: ignore[var-annotated]
        for _ in range(4):
            draw.choice(OF_ROWS)(draw, rows, [], odd)
            row = draw.choice([r for r in rows if r])
            row[draw.randrange(len(row))] = draw.choice([*NASTY, *ODD])
        account(rows, read(rows, **odd))


@pytest.mark.parametrize("seed", range(40))
def test_a_spoiled_mapping_is_refused_by_place_or_read(seed: int) -> None:
    data, how = spoiled(tomllib.loads(MAPPING), seed, MAPPINGS)
    try:
        reading = read(good(), mapping=read_mapping_text(dumped(data), "mine.toml"))
    except InputError as refused:
        assert all(p.what and (p.where or p.value) for p in refused.problems), how
        return
    header = data["table"][0].get("header", 1)
    account(good()[header - TOP if isinstance(header, int) else 0 :], reading, header)


@pytest.mark.parametrize("seed", range(20))
def test_a_spoiled_text_of_a_mapping_is_refused_or_read(seed: int) -> None:
    text = spoiled_text(MAPPING, random.Random(seed))
    try:
        account(good(), read(good(), mapping=read_mapping_text(text)))
    except InputError as refused:
        assert all(p.what for p in refused.problems)


SETTLED = {"decimal": ".", "thousands": "", "dates": "dmy", "serials": "1900", "merged": "blank"}


def settled(data: dict[str, Any]) -> dict[str, Any]:
    """Return a proposed mapping as a person leaves it who settles what is open."""
    data["cells"] |= {key: SETTLED[key] for key, value in data["cells"].items() if value == "?"}
    for table in data["table"]:
        for heading, column in list(table["columns"].items()):
            column["words"] = {text: word for text, word in column.get("words", {}).items() if word != "?"}
            if column.get("unit") == "?":
                column["unit"] = "mm"
            if column["field"] == "?":
                del table["columns"][heading]
                table.setdefault("ignored", []).append(heading)
    return data


def _csv() -> bytes:
    rows = [HEADINGS, *good()]
    return "\n".join(";".join(str(cell) for cell in row) for row in rows).encode("cp1252", "replace")


@pytest.mark.parametrize("seed", range(40))
def test_spoiled_bytes_of_a_csv_file_are_told_or_proposed(seed: int, tmp_path: Path) -> None:
    draw, data = random.Random(seed), bytearray(_csv())
    for _ in range(draw.choice([1, 3, 30])):
        data[draw.randrange(len(data))] = draw.choice(
            b'\x00\xff\xfe;,"\n\r\t\x81\x1b' + bytes([draw.randrange(256)])
        )
    if draw.random() < 0.3:
        del data[draw.randrange(len(data)) :]
    path = tmp_path / "s.csv"
    path.write_bytes(bytes(data))
    try:
        found = propose(path)
    except InputError as refused:
        assert all(p.what and p.where.startswith("s.csv") for p in refused.problems)
        return
    try:
        how = read_mapping_text(dumped(settled(tomllib.loads(found.text))))
        reading = survey_of(read_book(path, how.encoding, how.delimiter), how)
    except InputError as refused:
        assert all(p.what and p.where for p in refused.problems)
        return
    told, rejected = rows_told(reading), {reject.row for reject in reading.rejects}
    named = {number for remark in reading.remarks for number in numbers_in(remark)}
    assert not told & rejected and len(told | rejected | named) >= reading.rows


@pytest.fixture(scope="module")
def workbook(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write(tmp_path_factory.mktemp("s") / "s.xlsx", (*TITLE, HEADINGS, *good()))


@pytest.mark.parametrize("seed", range(8))
def test_spoiled_bytes_of_a_workbook_are_told_or_read(seed: int, workbook: Path, tmp_path: Path) -> None:
    """Each opens a child process, which takes most of the time."""
    draw, data = random.Random(seed), bytearray(workbook.read_bytes())
    for _ in range(draw.choice([1, 10, 100])):
        data[draw.randrange(len(data))] = draw.randrange(256)
    _told_or_read(bytes(data), tmp_path)


@pytest.mark.parametrize("seed", range(8))
def test_a_spoiled_sheet_of_a_workbook_is_told_or_read(seed: int, workbook: Path, tmp_path: Path) -> None:
    draw = random.Random(seed)
    path = tmp_path / "made.xlsx"
    with zipfile.ZipFile(workbook) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            text = old.read(name).decode()
            new.writestr(name, _spoiled_xml(draw, text) if draw.random() < 0.4 else text)
    _told_or_read(path.read_bytes(), tmp_path)


def _spoiled_xml(draw: random.Random, text: str) -> str:
    spot = draw.randrange(len(text))
    ways: tuple[Callable[[], str], ...] = (
        lambda: text[:spot],
        lambda: text[:spot] + draw.choice(["<", "&lol;", "\x00", "</c>", '"']) + text[spot:],
        lambda: text.replace('r="', 'r="-', 1),
        lambda: re.sub(r'r="([A-Z])(\d)"', r'r="\g<1>9\2"', text, count=3),
        lambda: text.replace('t="s"', draw.choice(['t="e"', 't="b"', 't="n"', 't="inlineStr"', ""])),
        lambda: text.replace("<v>", "<f>1/0</f><v>", 2),
        lambda: '<!DOCTYPE x [<!ENTITY a "b">]>' + text,
        lambda: text.replace(
            "<sheetData>", '<cols><col min="1" max="99999999" hidden="1"/></cols><sheetData>'
        ),
        lambda: text.replace(
            "</sheetData>", '</sheetData><mergeCells><mergeCell ref="A4:XFD1048576"/></mergeCells>'
        ),
    )
    return draw.choice(ways)()


def _told_or_read(data: bytes, folder: Path) -> None:
    path = folder / "s.xlsx"
    path.write_bytes(data)
    try:
        book = read_book(path)
        reading = survey_of(book, by())
    except HalfboreError as refused:
        assert refused.exit_code == 2 and all(p.what and "s.xlsx" in p.where for p in refused.problems)
        return
    rows = [list(row) for row in book.pages[0].rows[TOP:]]
    account([[book.pages[0].text(r, c) for c in range(len(row))] for r, row in enumerate(rows, TOP)], reading)
