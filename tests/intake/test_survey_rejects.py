"""Bad row → file of rejects → mend → import with the same mapping gives the same text."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import python_calamine
from hypothesis import given, settings
from hypothesis import strategies as st

from halfbore.domain.survey import Reject, SurveyReading
from halfbore.domain.survey_layout import WRONG
from halfbore.errors import InputError, Problem
from halfbore.intake.book import Book, Page
from halfbore.intake.book_reader import sheets_of
from halfbore.intake.survey.mapping import SurveyMapping, read_mapping_text
from halfbore.intake.survey.read import read_survey, survey_of
from halfbore.intake.survey.rejects import write_rejects
from tests.intake.survey_files import GOOD, HEADINGS, MAPPING, TITLE, book, data, mapping, told, write


def cells(path: Path) -> list[list[Any]]:
    return python_calamine.load_workbook(str(path)).get_sheet_by_index(0).to_python(skip_empty_area=False)


def in_process(path: Path) -> Book:
    """Return a workbook read without a child process, for tests that open many."""
    answer = sheets_of(path)
    pages = [
        Page(path.name, s["name"], tuple(map(tuple, s["rows"])), kinds={(r, c): k for r, c, k in s["kinds"]})
        for s in answer["sheets"]
    ]
    return Book(path.name, tuple(pages), answer["serials"])


def test_a_mended_row_gives_what_it_would_have_given(tmp_path: Path) -> None:
    bad = ("F3-A", "fest", "ca. 140", 12.125, "03.04.2021", "Staub", "coupling/B", "ja", "=1+1")
    first = read_survey(write(tmp_path / "s.xlsx", (*TITLE, HEADINGS, GOOD[0], bad)), mapping())
    assert [t.tags[-1] for t in told(first)] == ["F1-A"]
    path = tmp_path / "s.rejects.xlsx"
    assert write_rejects(path, first, mapping()) == 1
    rows = cells(path)
    assert rows[2] == [*HEADINGS, WRONG]
    assert rows[3][:9] == [
        "F3-A",
        "fest",
        "ca. 140",
        "12.125",
        "03.04.2021",
        "Staub",
        "coupling/B",
        "ja",
        "=1+1",
    ]
    assert (
        rows[3][9].startswith("s.xlsx, sheet 'Lager', row 4, column 'Welle Ø [mm]': it does not begin")
        is False
    )
    assert "row 5, column 'Welle Ø [mm]': it does not begin with a number; read 'ca. 140'" in rows[3][9]
    again = read_survey(path, mapping())
    assert again.rejects[0].cells[:9] == first.rejects[0].cells
    rows[3][2] = "140"
    mended = read_survey(write(tmp_path / "m.xlsx", rows), mapping())
    whole = read_survey(
        write(tmp_path / "w.xlsx", (*TITLE, HEADINGS, (*bad[:2], 140.0, *bad[3:]))), mapping()
    )
    assert [(t.tags, t.data) for t in mended.told] == [(t.tags, t.data) for t in whole.told]
    assert data(mended)[0]["seat"] == {"diameter": "140 mm"}


def test_numbers_keep_their_sign_through_the_file(tmp_path: Path) -> None:
    """A number of the workbook is written with the mapping's decimal sign, or 112.125 would come back as 112125."""
    comma = mapping(dates='decimal = ","\nthousands = "."')
    reading = survey_of(book(("F1-A", "?", 112.125, 234.5)), comma)
    path = tmp_path / "r.xlsx"
    write_rejects(path, reading, comma)
    assert cells(path)[3][2:4] == ["112,125", "234,5"]
    rows = cells(path)
    rows[3][1] = "fest"
    mended = read_survey(write(tmp_path / "m.xlsx", rows), comma)
    assert data(mended) == [{"role": "locating", "seat": {"diameter": "112.125 mm"}, "x": "234,5 in"}]


def test_what_a_workbook_alone_knows_is_refused_again_until_it_is_mended(tmp_path: Path) -> None:
    odd = {(3, 2): "lost", (4, 2): "error", (5, 2): "date", (6, 2): "time"}
    rows = (
        ("A-1", "", ""),
        ("A-2", "", "#REF!"),
        ("A-3", "", "2026-04-07"),
        ("A-4", "", "12:30:00"),
        ("A-5", "", 1.0),
    )
    reading = survey_of(book(*rows, ("A-6",), kinds=odd, merged=((7, 2, 8, 2),)), mapping())
    assert len(reading.rejects) == 6
    path = tmp_path / "r.xlsx"
    write_rejects(path, reading, mapping())
    again = read_survey(path, mapping())
    assert again.told == ()
    assert [r.cells[2] for r in again.rejects] == [r.cells[2] for r in reading.rejects]
    texts = [r.cells[2] for r in again.rejects]
    assert (texts[0], texts[-1]) == ("#NO STORED VALUE!", "#MERGED!")


def test_rows_of_a_csv_file_come_back_as_its_first_sheet(tmp_path: Path) -> None:
    path = tmp_path / "s.csv"
    path.write_text("P;W\nA;ca. 60\nB;60;stray\n")
    by = read_mapping_text(
        'format=1\n[csv]\ndelimiter=";"\n[[table]]\nrows="position"\n[table.columns]\n"P"={field="tag.position"}\n'
        '"W"={field="seat.diameter",unit="mm"}\n'
    )
    reading = read_survey(path, by)
    rejected = tmp_path / "r.xlsx"
    write_rejects(rejected, reading, by)
    assert cells(rejected)[0] == ["P", "W", "column C", WRONG]
    again = read_survey(rejected, by)
    assert [r.cells[:3] for r in again.rejects] == [("A", "ca. 60", ""), ("B", "60", "stray")]
    assert "a cell stands where no heading is" in again.rejects[1].problems[0].what


def test_several_sheets_and_rows_of_headings(tmp_path: Path) -> None:
    by = read_mapping_text(
        'format=1\n[[table]]\nsheet="A"\nrows="position"\nheader=[1, 2]\n[table.columns]\n"P Nr"={field="tag.position"}\n'
        '"W"={field="x",unit="mm"}\n[[table]]\nsheet="B"\nrows="failure"\nheader=4\n[table.columns]\n'
        '"P"={field="tag.position"}\n"D"={field="on"}\n[[table]]\nsheet="C"\nrows="failure"\n[table.columns]\n'
        '"P"={field="tag.position"}\n"D"={field="on"}\n'
    )
    a = Page("s.xlsx", "A", (("P", "W"), ("Nr", ""), ("F1", "x")))
    b = Page("s.xlsx", "B", ((), (), (), ("P", "D"), ("F1", "x")))
    c = Page("s.xlsx", "C", (("P", "D"), ("F1", "2020-01-02")))
    reading = survey_of(Book("s.xlsx", (a, b, c)), by)
    path = tmp_path / "r.xlsx"
    write_rejects(path, reading, by)
    again = read_survey(path, by)
    assert [(r.sheet, r.row) for r in again.rejects] == [("A", 3), ("B", 5)]
    assert again.remarks == (), "only sheets with bad rows are in such a file"


def test_a_file_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    reading = survey_of(book(("F1-A", "?")), mapping())
    with pytest.raises(InputError, match="cannot be written"):
        write_rejects(tmp_path / "none" / "r.xlsx", reading, mapping())
    assert list(tmp_path.iterdir()) == []


TEXT = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Co", "Cn"]), min_size=1, max_size=12
).map(str.strip)
ODD = st.sampled_from(
    [
        "=1+1",
        "+5",
        "-3",
        "@x",
        "'=1",
        "''",
        "'",
        "1/2",
        "1e5",
        "001",
        "TRUE",
        "http://a.b",
        "ca. 60",
        "4-7/16",
        "n/a",
        "0",
    ]
)
ROW = st.lists(TEXT | ODD | st.just(""), min_size=9, max_size=9)


@given(rows=st.lists(ROW, min_size=1, max_size=4))
@settings(deadline=None)
def test_every_rejected_cell_comes_back_as_it_was(
    tmp_path_factory: pytest.TempPathFactory, rows: list[list[str]]
) -> None:
    by = mapping()
    rejected = [Reject("Lager", i, HEADINGS, tuple(row), (Problem("odd"),)) for i, row in enumerate(rows, 4)]
    path = tmp_path_factory.mktemp("r") / "r.xlsx"
    write_rejects(path, SurveyReading((), tuple(rejected), (), len(rows)), by)
    page = in_process(path).pages[0]
    found = [
        [page.text(r, c) if c < len(page.rows[r]) else "" for c in range(9)] for r in range(3, 3 + len(rows))
    ]
    assert found == rows


@given(rows=st.lists(ROW, min_size=1, max_size=4), decimal=st.sampled_from([".", ","]))
@settings(deadline=None)
def test_reading_the_rejects_rejects_them_again_for_the_same_reasons(
    tmp_path_factory: pytest.TempPathFactory, rows: list[list[str]], decimal: str
) -> None:
    by: SurveyMapping = read_mapping_text(MAPPING.replace('dates = "dmy"', f'decimal = "{decimal}"'))
    # one tag a row: two rows that disagree are both rejected, and mending one of them alone mends the other
    reading = survey_of(book(*([f"P-{i}", *row[1:]] for i, row in enumerate(rows))), by)
    path = tmp_path_factory.mktemp("r") / "r.xlsx"
    write_rejects(path, reading, by)
    if not reading.rejects:
        return
    again = survey_of(in_process(path), by)
    assert again.told == ()
    assert [r.cells[:9] for r in again.rejects] == [r.cells for r in reading.rejects]
    reasons = [
        [(p.what, p.value, p.accepted) for p in r.problems] for r in (*reading.rejects, *again.rejects)
    ]
    assert reasons[: len(reading.rejects)] == reasons[len(reading.rejects) :]
