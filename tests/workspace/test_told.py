"""Rows of a survey find the thing that they are about, add what they tell, and are never lost."""

from __future__ import annotations

from typing import Any

import pytest

from halfbore.domain.survey import Thing, Told
from halfbore.workspace.told import Documents, added

PLANT: Documents = {
    (): {"customer": "Ostrindale Lime (invented)"},
    ("E1",): {"machine": {"kind": "elevator head"}},
    ("E1", "head"): {"loads": [{"kind": "elevator drum", "name": "drum", "mass": "1100 kg"}]},
    ("E1", "boot"): {},
    ("E1", "head", "E1-A"): {"x": "0 mm"},
    ("F1",): {},
    ("F1", ""): {},
}


def told(thing: Thing, *tags: str | None, place: str = "row 5", **data: Any) -> Told:
    return Told(thing, tags, data, place)


def one(row: Told) -> Documents:
    documents, lost = added(PLANT, [row])
    assert lost == {}
    return documents


def lost(row: Told) -> str:
    documents, problems = added(PLANT, [row])
    assert documents == PLANT
    assert list(problems) == [row.place]
    return problems[row.place].sentence()


def test_a_known_position_is_found_by_its_tag_alone() -> None:
    documents = one(told(Thing.POSITION, None, None, "E1-A", seat={"diameter": "170 mm"}))
    assert documents["E1", "head", "E1-A"] == {"x": "0 mm", "seat": {"diameter": "170 mm"}}


def test_a_new_position_goes_to_the_only_line_of_its_machine() -> None:
    assert one(told(Thing.POSITION, "F1", None, "F1-A", x="0 mm"))["F1", "", "F1-A"] == {"x": "0 mm"}


def test_a_new_machine_gets_one_line_without_a_tag() -> None:
    documents = one(told(Thing.POSITION, "T1", None, "T1-A", x="0 mm"))
    assert documents["T1",] == documents["T1", ""] == {}
    assert documents["T1", "", "T1-A"] == {"x": "0 mm"}


@pytest.mark.parametrize(
    ("row", "says"),
    [
        (told(Thing.POSITION, "E1", None, "E1-Z"), "E1 has several shaft lines: head, boot"),
        (told(Thing.POSITION, None, None, "X-1"), "names no machine"),
        (told(Thing.POSITION, "F1", None, "E1-A"), "E1-A stands in E1 head, not here"),
        (told(Thing.POSITION, "F1", None, None), "names no position"),
        (told(Thing.FAILURE, None, None, "X-1", on="2020-01-01"), "X-1 is not among the positions"),
        (told(Thing.FAILURE, "F1", None, "F1-Z", on="2020-01-01"), "F1-Z is not among the positions"),
        (told(Thing.FAILURE, None, None, "E1-A", why="fretting corrosion"), "gives no on"),
        (told(Thing.PART, "F1", None, kind="coupling", mass="3 kg"), "gives no name"),
        (told(Thing.PART, None, None, name="drum"), "names no machine"),
        (told(Thing.PART, "E1", "head", kind="coupling", name="half"), "tells nothing of half but its name"),
        (told(Thing.MACHINE, None, kind="fan"), "names no machine"),
    ],
)
def test_a_row_without_a_place_says_why_and_changes_nothing(row: Told, says: str) -> None:
    assert says in lost(row)


def test_a_part_is_known_by_its_name_and_keeps_what_the_row_does_not_give() -> None:
    documents = one(told(Thing.PART, "E1", "head", name="drum", diameter="800 mm"))
    assert documents["E1", "head"]["loads"] == [
        {"kind": "elevator drum", "name": "drum", "mass": "1100 kg", "diameter": "800 mm"}
    ]


def test_an_empty_sheet_names_the_parts_of_a_line_that_has_none() -> None:
    row = told(Thing.PART, "F1", None, kind="fan wheel", name="wheel")
    assert one(row)["F1", ""]["loads"] == [{"kind": "fan wheel", "name": "wheel"}]


def test_failures_stand_in_the_order_of_their_dates_and_count_once() -> None:
    rows = [
        told(Thing.FAILURE, None, None, "E1-A", on="2023-09-14", place="a"),
        told(Thing.FAILURE, None, None, "E1-A", on="2020-12-01", place="b"),
        told(Thing.FAILURE, None, None, "E1-A", on="2023-09-14", why="moisture corrosion", place="c"),
    ]
    documents, problems = added(PLANT, rows)
    assert problems == {}
    assert documents["E1", "head", "E1-A"]["history"] == [
        {"on": "2020-12-01"},
        {"on": "2023-09-14", "why": "moisture corrosion"},
    ]


def test_segments_of_a_line_replace_those_that_are_there() -> None:
    rows = [
        told(Thing.SEGMENT, "F1", None, length=f"{n} mm", diameter="160 mm", place=f"row {n}")
        for n in (300, 200)
    ]
    documents, _ = added(one(told(Thing.SHAFT_LINE, "F1", "", shaft={"segments": [1, 2, 3]})), rows)
    assert [s["length"] for s in documents["F1", ""]["shaft"]["segments"]] == ["300 mm", "200 mm"]


def test_the_order_of_sheets_does_not_matter() -> None:
    rows = [
        told(Thing.FAILURE, None, None, "F1-A", on="2020-12-01", place="a"),
        told(Thing.POSITION, "F1", None, "F1-A", x="0 mm", place="b"),
        told(Thing.MACHINE, "F1", machine={"kind": "fan"}, place="c"),
    ]
    assert added(PLANT, rows) == added(PLANT, rows[::-1])


def test_telling_the_same_again_changes_nothing() -> None:
    row = told(Thing.POSITION, "F1", None, "F1-A", x="0 mm", seat={"diameter": "160 mm"})
    once = one(row)
    assert added(once, [row]) == (once, {})


@pytest.mark.parametrize("step", [1, -1])
def test_a_row_without_a_line_is_not_put_into_the_first_of_several(step: int) -> None:
    rows = [
        told(Thing.POSITION, "B1", "head", "B1-A", place="a"),
        told(Thing.POSITION, "B1", None, "B1-B", place="b"),
        told(Thing.POSITION, "B1", "boot", "B1-C", place="c"),
    ][::step]
    documents, problems = added(PLANT, rows)
    assert {address for address in documents if address[:1] == ("B1",) and len(address) == 3} == {
        ("B1", "head", "B1-A"),
        ("B1", "boot", "B1-C"),
    }
    assert problems["b"].what.startswith("B1 has several shaft lines: ")


def test_segments_of_one_line_stay_together_though_not_each_names_it() -> None:
    rows = [
        told(Thing.SEGMENT, "B1", line, length=length, place=length)
        for line, length in (("head", "300 mm"), (None, "200 mm"))
    ]
    documents, problems = added(PLANT, rows)
    assert problems == {}
    assert [s["length"] for s in documents["B1", "head"]["shaft"]["segments"]] == ["300 mm", "200 mm"]
