"""Our own survey sheets are read without a mapping."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from halfbore.domain.survey import Thing
from halfbore.domain.survey_layout import MARKER, PATHS_ROW, heading, unit_of
from halfbore.errors import InputError
from halfbore.intake.survey.own import is_own_sheet, own_mapping, read_own
from halfbore.intake.survey.read import read_survey
from halfbore.intake.survey.rejects import write_rejects
from tests.intake.survey_files import data, told, write

POSITIONS = (
    (
        "tag.machine",
        "tag.shaft_line",
        "tag.position",
        "x",
        "seat.diameter",
        "room.hoist",
        "machine.kind",
        "trapped_between",
        "",
    ),
    (
        "machine",
        "shaft line",
        "position",
        "place [mm]",
        "seat [in]",
        "hoist",
        "kind",
        "between",
        "my own notes",
    ),
    ("E1", "head", "E1-A", 0.0, "6.936 to 6.937", "no", "elevator head", "gear unit; drum", "dirty"),
    ("E1", "boot", "E1-C", "12 in", "99,98 mm", "", "", "", ""),
)
MACHINES = (
    ("tag.machine", "machine.locates[0].name", "machine.locates[0].holds", "value.currency", "value.stopped_production[1].rate",
     "value.stopped_production[0].rate", "value.stopped_production[0].after"),
    ("machine", "what else holds", "which way", "currency", "rate, 2", "rate, 1", "after, 1 [h]"),
    ("E1", "gear unit", "both ways", "EUR", "2600 EUR/h", "1600 EUR/h", 6.0),
)  # fmt: skip
FAILURES = (
    ("tag.position", "on", "why", "stop"),
    ("position", "date", "cause", "stop [h]"),
    ("E1-A", "2020-12-01", "abrasive wear", "22"),
)


def survey(path: Path, positions: Any = POSITIONS, **others: Any) -> Path:
    with xlsxwriter.Workbook(str(path), {"strings_to_formulas": False}) as made:
        made.add_worksheet("how to fill").write_string(0, 0, MARKER)
        for name, rows in {"positions": positions, **others}.items():
            sheet = made.add_worksheet(name)
            sheet.write_string(0, 0, "a title")
            for r, row in enumerate(rows, PATHS_ROW - 1):
                for c, cell in enumerate(row):
                    if cell != "":
                        sheet.write(r, c, cell)
    return path


def test_it_is_read_by_its_paths_and_the_units_of_its_headings(tmp_path: Path) -> None:
    path = survey(tmp_path / "s.xlsx", machines=MACHINES, failures=FAILURES)
    assert is_own_sheet(path)
    reading = read_own(path)
    assert reading.rejects == ()
    assert [(t.tags, t.data) for t in told(reading)] == [
        (
            ("E1", "head", "E1-A"),
            {
                "x": "0 mm",
                "seat": {"diameter": "6.936 to 6.937 in"},
                "room": {"hoist": False},
                "trapped_between": ["gear unit", "drum"],
            },
        ),
        (("E1", "boot", "E1-C"), {"x": "12 in", "seat": {"diameter": "99,98 mm"}}),
    ]
    assert data(reading, Thing.MACHINE) == [
        {"machine": {"kind": "elevator head"}},
        {
            "machine": {"locates": [{"name": "gear unit", "holds": "both ways"}]},
            "value": {
                "currency": "EUR",
                "stopped_production": [{"rate": "1600 EUR/h", "after": "6 h"}, {"rate": "2600 EUR/h"}],
            },
        },
    ]
    assert told(reading, Thing.FAILURE)[0].tags == (None, None, "E1-A")
    assert reading.remarks == (
        "s.xlsx, sheet 'positions', column 'my own notes': names no field, and is not read",
    )
    assert read_own(path) == reading


def test_its_bad_rows_come_back_as_a_sheet_of_ours(tmp_path: Path) -> None:
    bad = (*POSITIONS, ("E1", "", "E1-D", "1", "ca. 4"), ("E1", "", "", "1 mm"))
    path = survey(tmp_path / "s.xlsx", bad)
    reading = read_own(path)
    assert [r.row for r in reading.rejects] == [6, 7]
    assert "fill in 'position'" in reading.rejects[1].problems[0].next_step
    rejected = tmp_path / "r.xlsx"
    write_rejects(rejected, reading, own_mapping(path))
    assert is_own_sheet(rejected)
    again = read_own(rejected)
    assert [r.cells[:5] for r in again.rejects] == [r.cells[:5] for r in reading.rejects]
    assert read_survey(rejected, own_mapping(path)) == again


@pytest.mark.parametrize(
    ("row", "column", "text", "told_so"),
    [
        (0, 3, "y", "row 2, column 'place [mm]': a table of positions has no such field; read 'y'"),
        (0, 3, "seat.diameter", "two columns fill one field; read 'seat.diameter'"),
        (0, 3, "history[0].why", "has no such field"),
    ],
)
def test_a_damaged_layout_is_told(tmp_path: Path, row: int, column: int, text: str, told_so: str) -> None:
    rows = [list(r) for r in POSITIONS]
    rows[row][column] = text
    with pytest.raises(InputError) as raised:
        read_own(survey(tmp_path / "s.xlsx", rows))
    assert told_so in str(raised.value)


def test_what_is_none_of_ours(tmp_path: Path) -> None:
    other = write(tmp_path / "o.xlsx", (("halfbore survey 2",),))
    assert not is_own_sheet(other) and not is_own_sheet(tmp_path / "none.xlsx")
    (tmp_path / "a.xlsx").write_bytes(b"PK\x03\x04")
    assert not is_own_sheet(tmp_path / "a.xlsx")
    with pytest.raises(InputError, match="is no survey sheet of this program"):
        read_own(other)
    with pytest.raises(InputError, match="holds no sheet that is known"):
        read_own(write(tmp_path / "m.xlsx", ((MARKER,),)))
    with pytest.raises(InputError, match="there is no such row of headings"):
        read_own(write(tmp_path / "p.xlsx", ((MARKER,),), "positions"))


def test_headings_carry_their_unit() -> None:
    assert unit_of(heading("A: seat, measured", "mm")) == "mm"
    assert unit_of("seat [mm] today") == "" and unit_of(heading("kind")) == ""
