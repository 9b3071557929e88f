"""History and undo: who changed what, when; and back again."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from halfbore import store
from halfbore.domain.workspace import Address, Edit
from halfbore.errors import InputError
from halfbore.store import StaleEditError, UndoError, Workspace
from tests.store.conftest import EDITS, POSITION


def put(workspace: Workspace, *edits: tuple[Address, str, Any], who: str = "Ida") -> int:
    """Make edits and return the number of their batch."""
    batch = workspace.apply([Edit(*edit) for edit in edits], who, "set")
    assert batch is not None
    return batch.id


def test_who_when_what_old_and_new(plant: Workspace) -> None:
    plant.apply([Edit(POSITION, "seat.diameter", "150.7 mm")], "Bo", "measured again", "sheet 2")
    change = plant.history(POSITION)[0]
    assert (change.who, change.what, change.address) == ("Bo", "measured again", POSITION)
    assert (change.path, change.old, change.new) == ("seat.diameter", "5.936 in to 5.937 in", "150.7 mm")
    assert timedelta() <= datetime.now(UTC) - change.at < timedelta(minutes=1)
    batch = plant.batches()[0]
    assert (batch.id, batch.source, batch.changes, batch.undoes, batch.undone) == (
        2,
        "sheet 2",
        1,
        None,
        False,
    )


def test_the_history_of_a_thing_is_also_that_of_what_is_below(plant: Workspace) -> None:
    put(plant, (POSITION, "x", "460 mm"), (("F1",), "machine.kind", "fan"))
    put(plant, (("E1", "boot"), "title", "Boot shaft"))
    assert [c.path for c in plant.history(("E1",), limit=2)] == ["title", "x"]
    assert {c.address for c in plant.history(("E1", "head"))} == {
        ("E1", "head"),
        POSITION,
        ("E1", "head", "E1-B"),
    }
    assert plant.history() == plant.history((), None)
    assert len(plant.history(limit=3)) == 3


def test_a_value_that_comes_or_goes_is_old_or_new_none(plant: Workspace) -> None:
    put(plant, (POSITION, "seat.note", "worn"), (POSITION, "x", None))
    assert {(c.path, c.old, c.new) for c in plant.history(POSITION, 2)} == {
        ("seat.note", None, "worn"),
        ("x", "450 mm", None),
    }


def test_the_same_again_changes_nothing(plant: Workspace) -> None:
    before = plant.contents(), plant.history(), plant.version(POSITION)
    assert plant.apply(EDITS, "Bo", "survey") is None
    assert plant.apply([], "Bo", "survey") is None
    there_and_back = [Edit(POSITION, "x", "1 mm"), Edit(POSITION, "x", "450 mm")]
    assert plant.apply(there_and_back, "Bo", "set") is None
    assert (
        plant.apply([Edit(POSITION, "", None), Edit(POSITION, "", plant.document(POSITION))], "Bo", "set")
        is None
    )
    assert (plant.contents(), plant.history(), plant.version(POSITION)) == before


def test_a_document_put_in_place_of_another_shows_value_by_value(plant: Workspace) -> None:
    put(plant, (POSITION, "", {"x": "451 mm", "seat": {"note": "worn"}}))
    assert [c.path for c in plant.history(POSITION, 3)] == ["seat.diameter", "seat.note", "x"]


def test_undo_takes_back_the_last_and_then_the_one_before(plant: Workspace) -> None:
    states = [plant.contents()]
    for n in range(3):
        put(plant, (POSITION, "x", f"{n} mm"), (POSITION, "history[+]", {"on": f"2020-01-0{n + 1}"}))
        states.append(plant.contents())
    for state in reversed(states[:-1]):
        plant.undo("Bo")
        assert plant.contents() == state
    plant.undo("Bo")
    assert plant.tree() == ()
    with pytest.raises(UndoError, match="nothing to take back"):
        plant.undo("Bo")


def test_undo_is_written_into_the_history(plant: Workspace) -> None:
    number = put(plant, (POSITION, "x", "460 mm"))
    back = plant.undo("Bo")
    assert (back.undoes, back.who, back.changes) == (number, "Bo", 1)
    change = plant.history(POSITION)[0]
    assert (change.what, change.old, change.new) == (f"undo of batch {number}: set", "460 mm", "450 mm")
    assert [b.undone for b in plant.batches()] == [False, True, False]


def test_undo_of_an_undo(plant: Workspace) -> None:
    number = put(plant, (POSITION, "x", "460 mm"))
    back = plant.undo("Bo")
    plant.undo("Bo", back.id)
    assert plant.document(POSITION)["x"] == "460 mm"
    plant.undo("Bo")
    assert plant.document(POSITION)["x"] == "450 mm"
    with pytest.raises(
        UndoError, match=f"taken back already.*take back batch {plant.batches()[0].id} to have it again"
    ):
        plant.undo("Bo", number)


def test_an_earlier_batch_is_taken_back_where_nothing_came_over_it(plant: Workspace) -> None:
    first = put(plant, (POSITION, "x", "460 mm"))
    put(plant, (POSITION, "seat.note", "worn"), (("E1", "head", "E1-B"), "x", "9 mm"))
    plant.undo("Bo", first)
    assert plant.document(POSITION) == {
        "x": "450 mm",
        "seat": {"diameter": "5.936 in to 5.937 in", "note": "worn"},
    }


CONFLICTS: list[tuple[list[tuple[Address, str, Any]], tuple[Address, str, Any], str]] = [
    ([(POSITION, "x", "1 mm")], (POSITION, "x", "2 mm"), "E1 head E1-A x"),
    ([(POSITION, "seat.note", "worn")], (POSITION, "seat", "gone"), "E1 head E1-A seat"),
    ([(("F1", ""), "loads[coupling].mass", "9 kg")], (("F1", ""), "loads[+]", {"name": "guard"}), "F1 loads"),
    ([(POSITION, "x", "1 mm")], (POSITION, "", None), "E1 head E1-A"),
    ([(POSITION, "x", "1 mm")], (("E1",), "", None), "E1 head E1-A"),
    ([(("G1",), "", {})], (("G1", "x"), "", {}), "G1 x"),
    ([(("G1",), "", {})], (("G1",), "title", "t"), "G1 title"),
    ([(POSITION, "", None)], (POSITION, "", {}), "E1 head E1-A"),
    ([(POSITION, "", None)], (("E1",), "", None), "E1"),
]


@pytest.mark.parametrize(("first", "second", "place"), CONFLICTS)
def test_undo_is_refused_where_something_came_over_it(
    plant: Workspace, first: list[tuple[Address, str, Any]], second: tuple[Address, str, Any], place: str
) -> None:
    number = put(plant, *first)
    later = put(plant, second, who="Bo")
    before = plant.contents()
    with pytest.raises(UndoError, match=rf"{place}: was changed again by Bo on .* UTC, batch {later}"):
        plant.undo("Ida", number)
    assert plant.contents() == before
    plant.undo("Ida", later)
    plant.undo("Ida", number)
    assert len(plant.batches()) == 5


def test_things_that_came_and_went_come_back_whole(plant: Workspace) -> None:
    before, tree = plant.contents(), plant.tree()
    put(plant, (("E1",), "", None))
    assert [c.address for c in plant.history(limit=9) if c.new is None] == [
        POSITION,
        ("E1", "head", "E1-B"),
        ("E1", "head"),
        ("E1", "boot"),
        ("E1",),
    ]
    assert plant.find("E1") == ()
    plant.undo("Bo")
    assert (plant.contents(), plant.tree()) == (before, tree)


def test_a_position_may_move_to_another_machine(plant: Workspace) -> None:
    before = plant.contents()
    put(plant, (POSITION, "", None), (("F1", "", "E1-A"), "", {"x": "1 mm"}))
    assert plant.find("E1-A") == (("F1", "", "E1-A"),)
    plant.undo("Bo")
    assert plant.contents() == before


def test_undo_is_refused_where_the_tag_went_elsewhere(plant: Workspace) -> None:
    number = put(plant, (POSITION, "", None))
    put(plant, (("F1", "", "E1-A"), "", {}))
    with pytest.raises(InputError, match="E1-A: the tag stands in F1 already"):
        plant.undo("Bo", number)


def test_an_old_undo_is_not_taken_back_over_a_later_one(plant: Workspace) -> None:
    put(plant, (POSITION, "x", "1 mm"))
    put(plant, (POSITION, "x", "2 mm"))
    back = plant.undo("Ida").id
    plant.undo("Bo", 2)
    with pytest.raises(UndoError, match="E1 head E1-A x: was changed again by Bo"):
        plant.undo("Ida", back)
    assert plant.document(POSITION)["x"] == "450 mm"


def test_there_is_no_such_batch(plant: Workspace) -> None:
    with pytest.raises(UndoError, match="no change has this number; read '99'"):
        plant.undo("Bo", 99)


def test_an_edit_on_what_was_changed_since_is_refused(plant: Workspace) -> None:
    seen = plant.version(POSITION)
    put(plant, (POSITION, "x", "460 mm"), (POSITION, "seat.note", "worn"), who="Bo")
    with pytest.raises(
        StaleEditError, match=r"E1-A: was changed since by Bo on .* UTC, batch 2; read 'seat.note, x'"
    ):
        plant.apply([Edit(POSITION, "x", "470 mm")], "Ida", "set", expected={POSITION: seen})
    assert plant.document(POSITION)["x"] == "460 mm"
    now = {
        POSITION: plant.version(POSITION),
        ("E1",): plant.version(("E1",)),
        ("G1",): 0,
        (): plant.version(()),
    }
    assert plant.apply([Edit(POSITION, "x", "470 mm")], "Ida", "set", expected=now) is not None


def test_an_edit_on_what_went_or_came_since_is_refused(plant: Workspace) -> None:
    seen = plant.version(POSITION)
    put(plant, (POSITION, "", None), who="Bo")
    with pytest.raises(StaleEditError, match=r"changed since by Bo.*the whole thing"):
        plant.apply([Edit(POSITION, "x", None)], "Ida", "set", expected={POSITION: seen})
    with pytest.raises(StaleEditError, match="F1: was changed since by Ida"):
        plant.apply([Edit(("F1",), "", {})], "Ida", "add", expected={("F1",): 0})
    with pytest.raises(StaleEditError, match="F1: is not the thing that was looked at"):
        plant.apply([Edit(("F1",), "x", 1)], "Ida", "add", expected={("F1",): 77})


def test_a_thing_that_came_back_is_not_the_version_that_went(plant: Workspace) -> None:
    seen = plant.version(POSITION)
    put(plant, (POSITION, "", None))
    put(plant, (POSITION, "", {"x": "450 mm"}))
    assert plant.version(POSITION) > seen


PLACES = [
    (),
    ("A",),
    ("A", "head"),
    ("A", "head", "p"),
    ("A", "head", "q"),
    ("B",),
    ("B", ""),
    ("B", "", "q"),
]
FILLED = [Edit(place, "", {"loads": [{"name": "fan"}, {"x": 1}]}) for place in PLACES[:-1]]
ADDRESSES = st.sampled_from(
    [*PLACES, ("a", "Head", "P"), ("C",), ("C", "boot"), ("C", "boot", "r"), ("A", "boot")]
)
PATHS = st.sampled_from(
    [
        "x",
        "seat.diameter",
        "seat",
        "loads[+]",
        "loads[0]",
        "loads[fan]",
        "loads[fan].mass",
        "loads[0].name",
        "loads[1].x",
    ]
)
VALUES: st.SearchStrategy[Any] = st.sampled_from(
    [None, 1, True, "5 in", {"name": "fan"}, {"name": "fan", "mass": "3 kg"}, {}, [], "fan"]
)
ONE_EDIT = st.one_of(
    st.builds(Edit, ADDRESSES, PATHS, VALUES),
    st.builds(
        Edit, ADDRESSES, st.just(""), st.sampled_from([{}, {"x": 2}, {"loads": [{"name": "fan"}]}, None])
    ),
)
ACTS = st.lists(
    st.one_of(st.lists(ONE_EDIT, min_size=1, max_size=3), st.integers(0, 30)), min_size=1, max_size=7
)


def act(workspace: Workspace, what: Sequence[Edit] | int) -> None:
    """Make edits, or take a batch back; what cannot be done is refused and changes nothing."""
    before = workspace.contents(), workspace.tree()
    try:
        if isinstance(what, int):
            number = workspace.undo("Bo", 1 + what % len(workspace.batches(None))).id
            after = workspace.contents(), workspace.tree()
            again = workspace.undo("Bo", number).id
            assert (workspace.contents(), workspace.tree()) == before, "undo of an undo"
            workspace.undo("Bo", again)
            assert (workspace.contents(), workspace.tree()) == after, "undo of an undo of an undo"
        else:
            workspace.apply(what, "Ida", "set")
    except InputError:
        assert (workspace.contents(), workspace.tree()) == before


@given(acts=ACTS)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
def test_undo_of_all_gives_the_first_state(
    template: Path, tmp_path: Path, acts: list[list[Edit] | int]
) -> None:
    path = Path(shutil.copy(template, tmp_path / "any.halfbore"))
    with store.open(path) as workspace:
        first = workspace.contents()
        workspace.apply(FILLED, "Ida", "survey")
        for what in acts:
            act(workspace, what)
        while any(batch.undoes is None and not batch.undone for batch in workspace.batches(None)):
            workspace.undo("Bo")
        assert workspace.contents() == first
        assert workspace.tree() == ()
