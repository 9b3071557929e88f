"""Surveys read by their mapping: what was typed is kept, nothing is guessed, no row is lost."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from halfbore import limits
from halfbore.domain.survey import SurveyReading, Thing
from halfbore.errors import InputError, LimitError, Problem
from halfbore.intake.book import Book, Page
from halfbore.intake.book_reader import sheets_of
from halfbore.intake.survey.mapping import read_mapping_text
from halfbore.intake.survey.read import read_survey, survey_of
from halfbore.intake.survey.rejects import write_rejects
from tests.intake.survey_files import GOOD, HEADINGS, TITLE, book, data, mapping, page, told, write


def read(*rows: Any, **changed: str) -> SurveyReading:
    return survey_of(book(*rows), mapping(**changed))


def refused(reading: SurveyReading, number: int = 0) -> str:
    assert len(reading.rejects) > number, reading
    return " | ".join(p.sentence() for p in reading.rejects[number].problems)


def one(column: str, cell: Any, **changed: str) -> SurveyReading:
    """Return the reading of a position of which only one cell is given."""
    row = ["X1-A", *[""] * (len(HEADINGS) - 1)]
    row[HEADINGS.index(column)] = cell
    return read(row, **changed)


def test_good_rows_are_told_as_typed_with_the_unit_of_the_column(tmp_path: Path) -> None:
    path = write(tmp_path / "s.xlsx", (*TITLE, HEADINGS, *GOOD))
    reading = read_survey(path, mapping())
    assert reading.rejects == ()
    assert reading.rows == 3
    assert data(reading) == [
        {
            "role": "locating",
            "seat": {"diameter": "160 mm"},
            "x": "0 in",
            "trapped_between": ["coupling", "wheel"],
            "room": {"hoist": True},
        },
        {
            "role": "non-locating",
            "seat": {"diameter": "159,98 mm"},
            "x": "133 7/8 in",
            "trapped_between": ["wheel"],
            "room": {"hoist": False},
        },
        {
            "role": "non-locating",
            "seat": {"diameter": "112,7 mm"},
            "x": "12.125 in",
            "trapped_between": ["sheave", "wheel"],
        },
    ]
    assert [t.tags for t in told(reading)] == [
        ("F1", None, "F1-A"),
        ("F1", None, "F1-B"),
        ("F2", None, "F2-A"),
    ]
    assert data(reading, Thing.FAILURE) == [
        {"on": "2019-04-11", "why": "abrasive wear"},
        {"on": "2023-02-14", "why": "fretting corrosion"},
    ]
    assert told(reading, Thing.FAILURE)[0].tags == ("F1", None, "F1-A")
    assert told(reading)[0].place == "s.xlsx, sheet 'Lager', row 4"
    assert read_survey(path, mapping()) == reading


def test_a_blank_says_nothing_and_is_not_zero() -> None:
    reading = read(("F1-A", "-", "k.A.", "", "K.a.", "", "-", " ", ""))
    assert data(reading) == [{}]
    assert data(one("Abstand (in)", 0.0)) == [{"x": "0 in"}]


@pytest.mark.parametrize(
    ("column", "cell", "told_so"),
    [
        ("Welle Ø [mm]", "ca. 60", "write a value, or a range as 'low to high' where ranges are taken"),
        ("Welle Ø [mm]", "approx 100 mm", "write a value, or a range"),
        ("Welle Ø [mm]", "1O0", "a letter (O, l or I) stands among the digits"),
        ("Welle Ø [mm]", "60-62", "write a range as 'low to high'"),
        ("Welle Ø [mm]", "60 kg", "'kg' is a unit of mass, not of length"),
        ("Welle Ø [mm]", "1,250", "the ',' has two readings; read '1,250'"),
        ("Welle Ø [mm]", 4.4375, "is out of bounds; read '4.4375 mm'; accepted: 5 to 1500 mm"),
        ("Welle Ø [mm]", "4-7/16", "a fraction is an inch size, and the column is in mm"),
        ("Welle Ø [mm]", "4 1/0 in", "divides by zero"),
        ("Welle Ø [mm]", "1e999", "not finite or too large"),
        ("Welle Ø [mm]", "x" * 10_000, "longer than 64 characters"),
        ("Welle Ø [mm]", "07-Apr", "the spreadsheet made a date or time of it"),
        ("Welle Ø [mm]", "7. Apr.", "the spreadsheet made a date or time of it"),
        ("Welle Ø [mm]", "#REF!", "the cell shows an error; read '#REF!'; type the value"),
        ("Fest/Los", "fst", "is not one of the choices; read 'fst'; accepted: locating, non-locating"),
        ("Wechsel", "30.02.2025", "there is no such day; read '30.02.2025'"),
        ("Wechsel", "2020-06", "a day is wanted"),
        ("Wechsel", "03.04.25", "the year has not four digits"),
        ("Wechsel", 45827.0, "is a number; read '45827'"),
        ("Wechsel", "1900-01-12", "is before 1930"),
        ("Kran", "vielleicht", "is neither yes nor no; read 'vielleicht'; accepted: yes, no, true, false"),
        ("Lagerstelle", "a\x07b", "the tag holds a control character"),
        ("Lagerstelle", "?!", "is no tag"),
    ],
)
def test_a_bad_cell_is_named_with_what_is_accepted(column: str, cell: Any, told_so: str) -> None:
    reading = one(column, cell)
    assert reading.told == ()
    text = refused(reading)
    assert text.startswith(f"s.xlsx, sheet 'Lager', row 4, column '{column}': "), text
    assert told_so in text


def test_all_bad_cells_of_a_row_are_told_at_once() -> None:
    reading = read(("F1-A", "x", "ca. 60", "1,250", "31.02.2020", "?", "", "", ""))
    columns = [p.where.rpartition("column ")[2] for p in reading.rejects[0].problems]
    assert columns == ["'Fest/Los'", "'Welle Ø [mm]'", "'Abstand (in)'", "'Wechsel'", "'Ursache'"]
    assert reading.rejects[0].row == 4
    assert reading.rejects[0].headings == HEADINGS


@pytest.mark.parametrize(
    ("cell", "decimal", "thousands", "kept"),
    [
        ("1,250", ",", "", "1.250 mm"),
        ("1.250", ",", ".", "1250 mm"),
        ("1.250,5", ",", ".", "1250.5 mm"),
        ("1,250", ".", ",", "1250 mm"),
        ("1,250.5", ".", ",", "1250.5 mm"),
        ("1'250.5", ".", "'", "1250.5 mm"),
        ("1 250", ",", "", "1 250 mm"),
        ("112,7", ".", "", "112,7 mm"),
        ("4.4375 in", ",", "", "4.4375 in"),
        (112.125, ",", "", "112.125 mm"),
        (112.7125, ",", "", "112,7125 mm"),
        ("5.936 to 5.937 in", ".", "", "5.936 to 5.937 in"),
        ("150,01 to 150,02", ",", "", "150,01 to 150,02 mm"),
    ],
)
def test_the_decimal_sign_of_the_mapping_decides(cell: Any, decimal: str, thousands: str, kept: str) -> None:
    signs = f'blanks = []\ndecimal = "{decimal}"\nthousands = "{thousands}"'
    large = read_mapping_text(
        f'format=1\n[cells]\n{signs}\n[[table]]\nrows="position"\n[table.columns]\n'
        '"P"={field="tag.position"}\n"W"={field="room.beside",unit="mm"}\n'
    )
    reading = survey_of(Book("a.csv", (Page("a.csv", "", (("P", "W"), ("A", cell))),)), large)
    assert data(reading) == [{"room": {"beside": kept}}] or kept.count(" to ")
    if kept.count(" to "):
        assert data(one("Welle Ø [mm]", cell, blanks=signs)) == [{"seat": {"diameter": kept}}]


def test_two_readings_of_a_number_are_refused_and_one_is_not() -> None:
    assert "has two readings" in refused(one("Welle Ø [mm]", "1.250", blanks='decimal = ","'))
    assert "does not part thousands" in refused(
        one("Welle Ø [mm]", "12.5", blanks='decimal = ","\nthousands = "."')
    )
    assert data(one("Welle Ø [mm]", "12.5", blanks='decimal = ","')) == [{"seat": {"diameter": "12.5 mm"}}]


@pytest.mark.parametrize(
    ("cell", "dates", "day"),
    [
        ("03/04/2025", "dmy", "2025-04-03"),
        ("03/04/2025", "mdy", "2025-03-04"),
        ("2025-04-03", "mdy", "2025-04-03"),
        ("2025-04-03T00:00:00", "mdy", "2025-04-03"),
        ("19. Juni 2025", "mdy", "2025-06-19"),
        ("1er août 2024", "dmy", "2024-08-01"),
        ("3 de enero de 2024", "dmy", "2024-01-03"),
        ("Jun 19, 2025", "dmy", "2025-06-19"),
        ("25.06.2025", "", "2025-06-25"),
        ("2025/6/19", "dmy", "2025-06-19"),
    ],
)
def test_dates(cell: str, dates: str, day: str) -> None:
    assert data(one("Wechsel", cell, dates=f'dates = "{dates}"'), Thing.FAILURE) == [{"on": day}]


def test_a_date_with_two_readings_asks_the_mapping() -> None:
    assert "has two readings; read '03/04/2025'" in refused(one("Wechsel", "03/04/2025", dates='dates = ""'))
    assert "there is no such day" in refused(one("Wechsel", "25/04/2025", dates='dates = "mdy"'))


@pytest.mark.parametrize(("serials", "day"), [("1900", "2025-06-19"), ("1904", "2029-06-20")])
def test_day_numbers_count_from_what_the_mapping_names(serials: str, day: str) -> None:
    reading = one("Wechsel", 45827.0, dates=f'serials = "{serials}"')
    assert data(reading, Thing.FAILURE) == [{"on": day}]


def test_what_a_workbook_says_beside_the_values(tmp_path: Path) -> None:
    path = tmp_path / "s.xlsx"
    with xlsxwriter.Workbook(str(path)) as made:
        sheet = made.add_worksheet("Lager")
        sheet.write_row(2, 0, HEADINGS)
        for row, tag in enumerate(("F1-A", "F1-B", "F2-A", "F2-B", "F3-A"), 3):
            sheet.write(row, 0, tag)
        sheet.write_formula(3, 2, "=80*2", None, 160)
        sheet.write_formula(4, 2, "=1/0", None, "#DIV/0!")
        sheet.write_formula(5, 2, "=B1", None, "")
        sheet.write_number(6, 2, 46119, made.add_format({"num_format": "d-mmm"}))
        sheet.write_number(7, 2, 1.5, made.add_format({"num_format": "0 %"}))
        sheet.set_row(3, None, None, {"hidden": True})
        sheet.set_column(2, 2, None, None, {"hidden": True})
    reading = read_survey(path, mapping())
    assert data(reading) == [{"seat": {"diameter": "160 mm"}}]
    texts = [p.sentence() for reject in reading.rejects for p in reject.problems]
    assert "the cell shows an error; read '#DIV/0!'" in texts[0]
    assert "the formula has no stored value" in texts[1]
    assert "the spreadsheet made a date or time of it; read '2026-04-07'" in texts[2]
    assert "'%'" in texts[3] and "150 %" in texts[3]
    assert reading.remarks == (
        "s.xlsx, sheet 'Lager', row 4: hidden, and read like the others",
        "s.xlsx, sheet 'Lager', column 'Welle Ø [mm]': hidden, and read like the others",
        "s.xlsx, sheet 'Lager', column 'Welle Ø [mm]', row 4: the stored values of formulas are used",
    )


def test_a_share_shown_in_percent_is_no_hundredth_of_it(tmp_path: Path) -> None:
    path = tmp_path / "s.xlsx"
    with xlsxwriter.Workbook(str(path)) as made:
        sheet = made.add_worksheet("Duty")
        sheet.write_row(0, 0, ["Machine", "Condition", "Share [%]"])
        sheet.write_row(1, 0, ["F1", "loaded"])
        sheet.write_number(1, 2, 0.85, made.add_format({"num_format": "0%"}))
        sheet.write_row(2, 0, ["F1", "empty", 15])
    text = (
        'format=1\n[[table]]\nsheet="Duty"\nrows="condition"\n[table.columns]\n"Machine"={field="tag.machine"}\n'
        '"Condition"={field="name"}\n"Share [%]"={field="share",unit="%"}\n'
    )
    reading = read_survey(path, read_mapping_text(text))
    assert [d["share"] for d in data(reading, Thing.CONDITION)] == ["85 %", "15 %"]


def test_totals_titles_blanks_and_stray_cells_are_named() -> None:
    rows = (GOOD[0], ("Summe", "", 3.0), (), ("-", "", "k.A."), ("Hall 2",), (*GOOD[1], "stray"))
    reading = survey_of(book(*rows, merged=((7, 0, 7, 5),)), mapping())
    assert [t.tags[-1] for t in told(reading)] == ["F1-A"]
    assert reading.rows == 5
    assert reading.remarks == (
        "s.xlsx, sheet 'Lager', row 5: passed over, as skip of the mapping says",
        "s.xlsx, sheet 'Lager', row 7: blanks only, passed over",
        "s.xlsx, sheet 'Lager', row 8: a title across merged cells, passed over",
    )
    assert "row 9, column 'column J': a cell stands where no heading is; read 'stray'" in refused(reading)


def test_merged_cells_hold_for_all_or_one_or_are_refused() -> None:
    rows = (("F1-A", "", 160.0, ""), ("F1-B", "", "", ""))
    merged = ((3, 2, 4, 2),)
    refusing = survey_of(book(*rows, merged=merged), mapping())
    assert [t.tags[-1] for t in told(refusing)] == ["F1-A"]
    assert "row 5, column 'Welle Ø [mm]': the cell is merged with another" in refused(refusing)
    repeat = survey_of(book(*rows, merged=merged), mapping(dates='merged = "repeat"'))
    assert data(repeat) == [{"seat": {"diameter": "160 mm"}}] * 2
    assert repeat.remarks[-1] == "s.xlsx, sheet 'Lager', row 5: merged cells, the value holds for each"
    blank = survey_of(book(*rows, merged=merged), mapping(dates='merged = "blank"'))
    assert data(blank) == [{"seat": {"diameter": "160 mm"}}, {}]


def test_more_merged_cells_than_people_merge_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "s.xlsx"
    with xlsxwriter.Workbook(str(path)) as made:
        sheet = made.add_worksheet("Lager")
        sheet.merge_range(0, 0, 1_000_000, 0, "a")
        sheet.write(9, 9, "end")
    assert len(sheets_of(path)["sheets"][0]["rows"]) == 10
    monkeypatch.setattr(limits, "MERGED", 5)
    with pytest.raises(
        LimitError, match="sheet 'Lager': too many merged cells; read '10'; accepted: up to 5 cells"
    ):
        sheets_of(path)


def test_two_rows_of_one_position_that_disagree_are_both_rejected() -> None:
    rows = (GOOD[0], GOOD[1], ("F1-A", "los", "160 mm"), ("F1-B", "los", 159.98), ("F1-B", "los"))
    reading = read(*rows)
    assert [t.tags[-1] for t in told(reading)] == ["F1-B", "F1-B", "F1-B"]
    assert [r.row for r in reading.rejects] == [4, 6]
    first, second = refused(reading), refused(reading, 1)
    assert "position F1-A: role is told in two ways; read 'locating'" in first
    assert "row 6 says 'non-locating'" in first
    assert "row 4 says 'locating'" in second
    assert "diameter" not in first + second


def test_of_three_rows_that_disagree_none_is_told() -> None:
    rows = [
        ("F1-A", role, size)
        for role, size in (("fest", 160.0), ("los", 160.0), ("fest", 161.0), ("fest", ""))
    ]
    reading = read(*rows)
    assert [r.row for r in reading.rejects] == [4, 5, 6, 7]
    assert reading.told == ()
    assert "row 5 says 'non-locating'" in refused(reading, 3)


def test_a_repeated_row_goes_with_the_one_that_it_repeats() -> None:
    reading = read(("F1-A", "fest"), ("F1-A", "los"), ("F1-A", "fest"))
    assert [r.row for r in reading.rejects] == [4, 5, 6]
    lost = {"s.xlsx, sheet 'Lager', row 4": [Problem("nowhere", "s.xlsx, sheet 'Lager', row 4")]}
    again = survey_of(book(("F1-A", "fest"), ("F1-A", "fest")), mapping(), lost)
    assert [(r.row, r.problems[0].what) for r in again.rejects] == [(4, "nowhere"), (5, "nowhere")]


def test_a_row_that_says_the_same_again_is_a_remark() -> None:
    reading = read(GOOD[1], GOOD[1])
    assert len(told(reading)) == 1
    where = "s.xlsx, sheet 'Lager', row"
    assert reading.remarks == (f"{where} 5: says again what {where} 4 says, and is passed over",)


def test_the_same_position_may_have_a_row_for_each_failure() -> None:
    rows = [("F1-A", "fest", "", "", day, "Staub") for day in ("01.02.2020", "03.04.2021")]
    reading = read(*rows)
    assert [d["on"] for d in data(reading, Thing.FAILURE)] == ["2020-02-01", "2021-04-03"]
    assert reading.rejects == ()


def test_machines_that_disagree_over_their_positions_are_rejected() -> None:
    text = (
        'format=1\n[[table]]\nrows="position"\nmachine={from="position",before="-"}\n[table.columns]\n'
        '"P"={field="tag.position"}\n"K"={field="machine.kind"}\n"n"={field="condition.speed",unit="r/min"}\n'
        '[table.fixed]\n"condition.name"="running"\n"condition.share"="1"\n'
    )
    rows = (
        ("P", "K", "n"),
        ("F1-A", "fan", 990),
        ("F1-B", "screw", 990),
        ("F2-A", "fan", ""),
        ("F2-B", "fan", 1480),
    )
    reading = survey_of(Book("a.csv", (Page("a.csv", "", rows),)), read_mapping_text(text))
    assert [r.row for r in reading.rejects] == [2, 3]
    assert "machine F1: machine.kind is told in two ways; read 'fan'" in refused(reading)
    assert data(reading, Thing.MACHINE) == [{"machine": {"kind": "fan"}}] * 2
    assert told(reading, Thing.CONDITION)[0].data == {"speed": "1480 r/min", "name": "running", "share": "1"}
    assert len(data(reading, Thing.CONDITION)) == 1


def test_parts_are_checked_by_their_kind() -> None:
    text = (
        'format=1\n[[table]]\nsheet="Teile"\nrows="part"\ncarry_down=["M"]\n[table.columns]\n"M"={field="tag.machine"}\n'
        '"Art"={field="kind",words={Laufrad="fan wheel"}}\n"Name"={field="name"}\n"x"={field="x",unit="mm"}\n'
        '"Masse"={field="mass",unit="kg"}\n"Schub"={field="axial_thrust",unit="kN"}\n'
    )
    rows = (
        ("M", "Art", "Name", "x", "Masse", "Schub"),
        ("F1", "Laufrad", "wheel", 1700.0, 2600.0, 1.5),
        ("", "coupling", "half coupling", 0.0, "140", 3.0),
        ("", "coupling", "half coupling", 0.0, "140", ""),
        ("", "", "sheave", 0.0, "", ""),
    )
    reading = survey_of(Book("s.xlsx", (Page("s.xlsx", "Teile", rows),)), read_mapping_text(text))
    assert told(reading, Thing.PART)[0].data == {
        "kind": "fan wheel",
        "name": "wheel",
        "x": "1700 mm",
        "mass": "2600 kg",
        "axial_thrust": "1.5 kN",
    }
    assert [t.tags for t in told(reading, Thing.PART)] == [("F1", None)] * 2
    assert (
        "column 'Schub': a coupling has no such value: axial_thrust; read '3'; accepted: kind, name"
        in refused(reading)
    )
    assert "without its kind" in refused(reading, 1)


def test_segments_stand_in_the_order_of_their_rows() -> None:
    text = (
        'format=1\n[[table]]\nrows="segment"\n[table.columns]\n"M"={field="tag.machine"}\n"S"={field="tag.shaft_line"}\n'
        '"l"={field="length",unit="mm"}\n"d"={field="diameter",unit="mm"}\n'
    )
    rows = (("M", "S", "l", "d"), ("E1", "head", 500, 160), ("E1", "head", 500, 160), ("E1", "boot", 9, 100))
    reading = survey_of(Book("a.csv", (Page("a.csv", "", rows),)), read_mapping_text(text))
    assert [(t.tags, t.data["length"]) for t in reading.told] == [
        (("E1", "head"), "500 mm"),
        (("E1", "head"), "500 mm"),
        (("E1", "boot"), "9 mm"),
    ]


def test_what_is_unusual_is_used_and_said() -> None:
    reading = one("Welle Ø [mm]", "20")
    assert data(reading) == [{"seat": {"diameter": "20 mm"}}]
    text = "20 mm is unusual; 30 to 620 mm is common; read '20'"
    assert reading.remarks == (f"s.xlsx, sheet 'Lager', row 4, column 'Welle Ø [mm]': {text}",)


@pytest.mark.parametrize(("encoding", "delimiter"), [("cp1252", ";"), ("utf-16", "\t"), ("utf-8-sig", ",")])
def test_csv_in_other_encodings(tmp_path: Path, encoding: str, delimiter: str) -> None:
    path = tmp_path / "s.csv"
    lines = (("P", "Ø mm"), ("É1-A", "159.98"), ("F", "160"))
    path.write_bytes("\n".join(delimiter.join(line) for line in lines).encode(encoding))
    text = (
        'format=1\n[[table]]\nrows="position"\n[table.columns]\n"P"={field="tag.position"}\n'
        '"Ø mm"={field="seat.diameter",unit="mm"}\n'
    )
    reading = read_survey(path, read_mapping_text(text))
    assert [(t.tags[-1], t.data) for t in reading.told] == [
        ("É1-A", {"seat": {"diameter": "159.98 mm"}}),
        ("F", {"seat": {"diameter": "160 mm"}}),
    ]


def test_a_decimal_comma_in_a_comma_file_is_no_shifted_row(tmp_path: Path) -> None:
    path = tmp_path / "s.csv"
    path.write_text("P,W,X\nA,112,7,60\nB,112,60\n")
    text = (
        'format=1\n[[table]]\nrows="position"\n[table.columns]\n"P"={field="tag.position"}\n'
        '"W"={field="seat.diameter",unit="mm"}\n"X"={field="x",unit="mm"}\n'
    )
    reading = read_survey(path, read_mapping_text(text))
    assert [t.tags[-1] for t in reading.told] == ["B"]
    assert "check the delimiter and the decimal sign" in refused(reading)


@pytest.mark.parametrize(
    ("headings", "told_so"),
    [
        (
            ("Lager", *HEADINGS[1:]),
            "the heading is not there; read 'Lagerstelle'; accepted: nearest heading: Lager",
        ),
        ((*HEADINGS, "Neu"), "the heading is not in the mapping; read 'Neu'"),
    ],
)
def test_headings_that_changed_are_told_before_anything_is_read(
    headings: tuple[str, ...], told_so: str
) -> None:
    changed = Page("s.xlsx", "Lager", (*TITLE, headings, GOOD[0]))
    with pytest.raises(InputError) as raised:
        survey_of(Book("s.xlsx", (changed,)), mapping())
    assert told_so in str(raised.value)


def test_sheets_that_the_mapping_does_not_name_are_told() -> None:
    other = page(GOOD[0], name="Other")
    with pytest.raises(InputError, match="sheet 'Other': the sheet is not in the mapping"):
        survey_of(Book("s.xlsx", (page(GOOD[0]), other)), mapping())
    with pytest.raises(InputError, match="none of the mapped sheets is there"):
        survey_of(Book("s.xlsx", (other,)), mapping())
    hidden = survey_of(Book("s.xlsx", (page(GOOD[0], hidden=True),)), mapping())
    assert "the sheet is hidden" in hidden.remarks[0]


def test_headings_are_joined_and_made_different() -> None:
    rows = (
        ("Lager", "", "Welle", "", "Welle", ""),
        ("Nr", "", "Ø", "x", "Ø", ""),
        ("A", "", "100 mm", "0 mm", "100,1 mm", "odd"),
    )
    text = (
        'format=1\n[[table]]\nrows="position"\nheader=[1, 2]\nignored=["column F"]\n[table.columns]\n'
        '"Lager Nr"={field="tag.position"}\n"Welle Ø"={field="seat.diameter"}\n"Welle x"={field="x"}\n'
        '"Welle Ø #2"={field="seat.nominal"}\n'
    )
    merged = ((0, 2, 0, 3),)
    reading = survey_of(Book("a.xlsx", (Page("a.xlsx", "A", rows, merged=merged),)), read_mapping_text(text))
    assert data(reading) == [{"seat": {"diameter": "100 mm", "nominal": "100,1 mm"}, "x": "0 mm"}]


@pytest.mark.parametrize("first", ["TOTAL", "Total:", "Summe 3 Lager", "Moyenne", "subtotal"])
def test_totals_are_no_position_though_the_mapping_does_not_say_so(first: str) -> None:
    reading = survey_of(book(*GOOD, (first, "", "", 0.0)), mapping(skip="skip = []"))
    assert len(told(reading)) == len(GOOD) and reading.rejects == ()
    assert "s.xlsx, sheet 'Lager', row 7: totals, passed over" in reading.remarks
    assert reading.rows == len(GOOD) + 1


@pytest.mark.parametrize(
    "first", ["Note: measured cold", "* measured cold", "¹) from the drawing, not measured"]
)
def test_a_note_under_the_table_is_no_position(first: str) -> None:
    reading = survey_of(book(*GOOD, (first,)), mapping())
    assert len(told(reading)) == len(GOOD) and reading.rejects == ()
    assert "s.xlsx, sheet 'Lager', row 7: a note, passed over" in reading.remarks


@pytest.mark.parametrize("tag", ["SUM-1", "Total-2", "NOTE-A", "*X-1"])
def test_a_tag_that_looks_like_totals_is_a_position(tag: str) -> None:
    reading = survey_of(book((tag, "fest")), mapping(skip="skip = []"))
    assert [t.tags[-1] for t in told(reading)] == [tag]


def test_an_inch_size_in_a_column_of_millimetres_says_what_to_write() -> None:
    told_of = refused(one("Welle Ø [mm]", "4-7/16"))
    assert "a fraction is an inch size, and the column is in mm; read '4-7/16'" in told_of
    assert "write its unit behind it where it is one, 4-7/16 in, else a decimal number in mm" in told_of
    assert data(one("Welle Ø [mm]", "4-7/16 in"))[0]["seat"]["diameter"] == "4-7/16 in"


def test_a_merged_cell_names_the_key_that_mends_it() -> None:
    reading = survey_of(book(("F1-A", "fest", 160.0), ("F1-B",), merged=((3, 1, 4, 1),)), mapping())
    assert 'write under [cells] of the mapping merged = "repeat"' in refused(reading)


SHAFTS = (
    'format=1\n[[table]]\nsheet="Wellen"\nrows="segment"\n[table.columns]\n"M"={field="tag.machine"}\n'
    '"L"={field="length",unit="mm"}\n"D"={field="diameter",unit="mm"}\n'
)


def test_a_shaft_comes_in_whole_or_not_at_all(tmp_path: Path) -> None:
    rows = (
        ("M", "L", "D"),
        ("F1", 500.0, 160.0),
        ("F1", 0.0, 180.0),
        ("F1", 300.0, 160.0),
        ("C1", 900.0, 140.0),
    )
    how = read_mapping_text(SHAFTS)
    reading = survey_of(Book("s.xlsx", (Page("s.xlsx", "Wellen", rows),)), how)
    assert [t.tags[0] for t in reading.told] == ["C1"]
    assert [r.row for r in reading.rejects] == [2, 3, 4]
    assert "row 2: another segment of this shaft is not usable, row 3; mend that row" in refused(reading)
    write_rejects(tmp_path / "r.xlsx", reading, how)
    again = read_survey(tmp_path / "r.xlsx", how)
    assert [r.cells[1] for r in again.rejects] == ["500", "0", "300"]
