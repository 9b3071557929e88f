"""Documents of a plant: what goes in comes back, by address, by name, and as the job of a shaft line."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from halfbore import store
from halfbore.domain.workspace import Address, Edit, LineNode, MachineNode
from halfbore.errors import HalfboreError, InputError
from halfbore.store import Workspace
from tests.store.conftest import PLANT, POSITION, in_a_file

TREE = (
    MachineNode("E1", (LineNode("head", ("E1-A", "E1-B")), LineNode("boot", ()))),
    MachineNode("F1", (LineNode("", ("F1-A",)),)),
)


def test_what_goes_in_comes_back(plant: Workspace) -> None:
    assert plant.tree() == TREE
    assert plant.document(()) == {"machine": {"plant": PLANT}, "lubricant": {"name": "plant grease"}}
    assert plant.document(POSITION) == {"x": "450 mm", "seat": {"diameter": "5.936 in to 5.937 in"}}
    assert plant.document(("F1", "", "F1-A")) == {}


def test_it_is_there_when_opened_again(plant: Workspace, home: store.Place) -> None:
    before = plant.contents()
    plant.close()
    with store.open(home) as again:
        assert again.tree() == TREE
        assert again.contents() == before
        assert again.plant == PLANT
        assert again.uid == plant.uid


def test_contents_are_all_documents_from_the_top(plant: Workspace) -> None:
    contents = plant.contents()
    assert [len(address) for address in contents] == [0, 1, 1, 2, 2, 2, 3, 3, 3]
    assert all(plant.document(address) == document for address, document in contents.items())


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("E1-A", [POSITION]),
        ("  e1-a ", [POSITION]),
        ("e1", [("E1",)]),
        ("E1   HEAD", [("E1", "head")]),
        ("F1", [("F1",)]),
        ("f1-a", [("F1", "", "F1-A")]),
        ("head", []),
        ("E2", []),
        ("", []),
        ("%", []),
    ],
)
def test_find(plant: Workspace, text: str, found: list[Address]) -> None:
    assert plant.find(text) == tuple(found)


def test_the_job_of_a_line_is_what_plant_machine_and_line_say(plant: Workspace) -> None:
    assert plant.job_data(("E1", "head")) == {
        "format": 1,
        "title": "Head shaft",
        "machine": {"name": "E1", "plant": PLANT, "kind": "elevator head"},
        "shaft": {"name": "head"},
        "lubricant": {"name": "plant grease"},
        "positions": [
            {"name": "E1-A", "x": "450 mm", "seat": {"diameter": "5.936 in to 5.937 in"}},
            {"name": "E1-B", "x": "1450 mm"},
        ],
    }


def test_a_machine_of_one_line_stands_for_it(plant: Workspace) -> None:
    job = plant.job_data(("F1",))
    assert job == plant.job_data(("f1", ""))
    assert job["title"] == "F1"
    assert "shaft" not in job
    assert [load["name"] for load in job["loads"]] == ["fan wheel", "coupling"]


def test_the_line_says_more_than_the_machine_and_the_machine_more_than_the_plant(plant: Workspace) -> None:
    edits = [
        Edit((), "value.currency", "EUR"),
        Edit((), "value.crew", "2"),
        Edit(("E1",), "value.crew", "3"),
        Edit(("E1", "head"), "value.crew", "4"),
        Edit((), "duty", [{"name": "all year"}]),
        Edit(("E1",), "duty", [{"name": "campaign"}]),
        Edit(("E1", "head"), "shaft.name", "drive shaft"),
    ]
    plant.apply(edits, "Ida", "set")
    job = plant.job_data(("E1", "head"))
    assert job["value"] == {"currency": "EUR", "crew": "4"}
    assert job["duty"] == [{"name": "campaign"}]
    assert job["shaft"]["name"] == "drive shaft"
    assert plant.job_data(("E1", "boot"))["value"]["crew"] == "3"


def test_dates_are_kept_as_text(plant: Workspace) -> None:
    on = Edit(POSITION, "history[+]", {"on": date(2021, 10, 8), "why": "overload"})
    assert plant.apply([on], "Ida", "failure") is not None
    assert plant.document(POSITION)["history"] == [{"on": "2021-10-08", "why": "overload"}]
    same = Edit(POSITION, "history[2021-10-08].on", date(2021, 10, 8))
    assert plant.apply([same], "Ida", "the same day") is None


@pytest.mark.parametrize("call", ["document", "version", "job_data", "inputs_hash", "result"])
def test_an_unknown_address_is_told_with_what_is_near(plant: Workspace, call: str) -> None:
    with pytest.raises(InputError, match=r"not in the workspace.*E1 head E1-X.*accepted: .*E1 head E1-A"):
        getattr(plant, call)(("E1", "head", "E1-X"))


@pytest.mark.parametrize(
    ("address", "what"),
    [(("E1",), "E1: is no shaft line; accepted: E1 head, E1 boot"), ((), "the plant: is no shaft line")],
)
def test_what_is_no_shaft_line_has_no_job(plant: Workspace, address: Address, what: str) -> None:
    with pytest.raises(InputError, match=what):
        plant.job_data(address)


REFUSED: list[tuple[Edit, str]] = [
    (Edit(("G1", "", "G1-A"), "", {}), "G1 G1-A: there is no G1.*add a shaft line first"),
    (Edit(("G1", ""), "", {}), "there is no G1.*add a machine first"),
    (Edit(("G1",), "machine.kind", "fan"), "G1 machine.kind: there is no G1"),
    (Edit(("",), "", {}), "is no tag of a machine"),
    (Edit(("x" * 81,), "", {}), "is no tag of a machine"),
    (Edit(("a\x1b[31m",), "", {}), "is no tag of a machine"),
    (Edit(("E1", "head", "E1-C", "x"), "", {}), "is no address"),
    (Edit(("F1", "", "e1-a"), "", {}), "the tag stands in E1 head already"),
    (Edit(("F1", "second"), "", {}), "F1: a machine of several shaft lines has one without a tag"),
    (Edit((), "", None), "the plant cannot be taken out"),
    (Edit(("E1",), "", "text"), "is no document"),
    (Edit(POSITION, "seat.diameter", float("nan")), "E1 head E1-A seat.diameter: is no finite number"),
    (Edit(POSITION, "seat..x", 1), "is no path"),
    (Edit(POSITION, "loads[fan].mass", 1), "there is no such list"),
]


@pytest.mark.parametrize(("edit", "what"), REFUSED)
def test_an_edit_that_cannot_be_made_changes_nothing(plant: Workspace, edit: Edit, what: str) -> None:
    before = plant.contents()
    with pytest.raises(InputError, match=what):
        plant.apply([Edit(("E1",), "machine.kind", "fan"), edit], "Ida", "set")
    assert plant.contents() == before
    assert len(plant.batches()) == 1


def test_all_edits_that_cannot_be_made_are_told_at_once(plant: Workspace) -> None:
    with pytest.raises(InputError) as caught:
        plant.apply([Edit(POSITION, f"rows[{n}].x", 1) for n in range(60)], "Ida", "set")
    assert len(caught.value.problems) == 51
    assert caught.value.problems[-1].what == "10 more edits cannot be made"


@pytest.mark.parametrize(("who", "what"), [("", "set"), ("Ida", "  "), ("\n", "set")])
def test_an_edit_says_who_makes_it_and_why(plant: Workspace, who: str, what: str) -> None:
    with pytest.raises(InputError, match="is missing"):
        plant.apply([Edit(POSITION, "x", "1 mm")], who, what)


def test_an_address_is_meant_whatever_its_case(plant: Workspace) -> None:
    batch = plant.apply([Edit(("e1", "HEAD", " e1-a "), "x", "460 mm")], "Ida", "set")
    assert batch is not None
    assert plant.document(POSITION)["x"] == "460 mm"
    assert plant.history(limit=1)[0].address == POSITION


def test_many_positions_at_once(empty: Workspace) -> None:
    edits = [Edit(("M",), "", {}), Edit(("M", ""), "", {})]
    for n in range(1500):
        address = ("M", "", f"M-{n}")
        edits += [Edit(address, "", {}), *(Edit(address, f"seat.f{k}", f"{k} mm") for k in range(30))]
    batch = empty.apply(edits, "Ida", "survey")
    assert batch is not None
    assert batch.changes == 1502
    assert empty.tree()[0].lines[0].positions == tuple(f"M-{n}" for n in range(1500))
    assert empty.document(("M", "", "M-1234"))["seat"]["f29"] == "29 mm"
    assert empty.apply(edits, "Ida", "survey") is None


def test_the_store_is_light_until_it_is_used() -> None:
    code = "import sys, halfbore.store; sys.exit('sqlalchemy' in sys.modules or 'alembic' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code]).returncode == 0


def test_the_store_has_no_other_names() -> None:
    assert store.Workspace is Workspace
    with pytest.raises(AttributeError):
        _ = store.nothing


@in_a_file
@pytest.mark.parametrize("call", [lambda w: w.tree(), lambda w: w.apply([Edit((), "x", 1)], "Ida", "set")])
def test_a_file_that_went_away_is_told(
    plant: Workspace, path: Path, call: Callable[[Workspace], Any]
) -> None:
    plant.close()
    path.unlink()
    with pytest.raises(HalfboreError, match="cannot be opened"):
        call(plant)
