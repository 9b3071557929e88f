"""Sheets of another shape than a row for each bearing, and sizes as a drawing has them: what was seen, and what to do."""

from __future__ import annotations

from pathlib import Path

import pytest

from halfbore.errors import InputError, Problem
from halfbore.intake.survey.propose import propose
from halfbore.units import Kind, parse, parse_span

TWO = {
    "DE": "Machine;Shaft dia {0} [mm];Old bearing {0};Shaft dia {1} [mm];Old bearing {1};Speed [rpm]",
    "words": "Machine;{0} shaft diameter;{0} bore;{1} shaft diameter;{1} bore;Speed [rpm]",
}
DOWN = "Bearing;{0};{1}\nMachine;F1;F1\nShaft diameter [mm];99.98;99.97\nRole;fixed;float\nCentre height [mm];180;180\n"


def refused(tmp_path: Path, text: str) -> Problem:
    path = tmp_path / "s.csv"
    path.write_text(text)
    with pytest.raises(InputError) as told:
        propose(path)
    (problem,) = told.value.problems
    return problem


@pytest.mark.parametrize(
    ("sides", "headings"),
    [
        (("DE", "NDE"), "DE"),
        (("left", "right"), "DE"),
        (("Drive end", "Non-drive end"), "words"),
        (("AS", "BS"), "DE"),
    ],
)
def test_two_bearings_in_a_row_are_told(tmp_path: Path, sides: tuple[str, str], headings: str) -> None:
    row = "F1;99.98;sleeve;99.97;sleeve;990" if headings == "DE" else "F1;99.98;100;99.97;100;990"
    problem = refused(tmp_path, f"{TWO[headings].format(*sides)}\n{row}\nF2;99.98;1;99.97;1;990\n")
    assert problem.what == "a row holds two bearings"
    assert all(side.casefold() in problem.value.casefold() for side in sides)
    assert "give each bearing a row and a tag of its own" in problem.next_step


@pytest.mark.parametrize(
    "headings",
    [
        "Bearing;Shaft dia DE [mm];Shaft dia NDE [mm];Role",  # one field twice may be two readings
        "Bearing;Bolt 1;Bolt 2;Shaft diameter [mm];Role",
        "Bearing;Drive end;Shaft diameter [mm];Role",
    ],
)
def test_other_sheets_are_proposed(tmp_path: Path, headings: str) -> None:
    path = tmp_path / "s.csv"
    path.write_text(f"{headings}\nF1-A;99.98;99.97;fixed;x\n")
    assert "[[table]]" in propose(path).text


@pytest.mark.parametrize("tags", [("F1-A", "F1-B"), ("DE bearing", "NDE bearing")])
def test_a_sheet_on_its_side_is_told(tmp_path: Path, tags: tuple[str, str]) -> None:
    problem = refused(tmp_path, DOWN.format(*tags))
    assert problem.what == "fields stand down the sheet and bearings across it"
    assert "transpose it" in problem.next_step


@pytest.mark.parametrize(
    ("text", "told"),
    [("125 h8", "h8"), ("125h8", "h8"), ("125 mm js6", "js6"), ("4 15/16 h9", "h9"), ("4 15/16 in M6", "M6")],
)
def test_a_tolerance_class_is_told(text: str, told: str) -> None:
    for read in (parse, parse_span):
        with pytest.raises(InputError) as refusal:
            read(text, Kind.LENGTH)
        (problem,) = refusal.value.problems
        assert (
            problem.what == f"a size with a tolerance class ({told}) is what a drawing asks for, no reading"
        )
        assert "write what was measured" in problem.next_step


@pytest.mark.parametrize("text", ["125 h", "125 q8", "125 h19", "h8", "125 l6"])
def test_what_is_no_tolerance_class_is_not_told_as_one(text: str) -> None:
    with pytest.raises(InputError) as refusal:
        parse(text, Kind.LENGTH)
    assert "tolerance" not in refusal.value.problems[0].what
