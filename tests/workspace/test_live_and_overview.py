"""What is kept at hand of a plant stays true to its workspace, and is read again only where something was touched."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from halfbore import store
from halfbore.domain.study import Study
from halfbore.domain.workspace import Edit
from halfbore.errors import InputError
from halfbore.likely import likely_values
from halfbore.store import Workspace
from halfbore.units import Span
from halfbore.workspace import live
from halfbore.workspace.lines import kept_worths
from halfbore.workspace.live import Studies
from halfbore.workspace.overview import Overview
from halfbore.workspace.running import run_lines

T1, S1 = ("T1", ""), ("S1", "")


@pytest.fixture
def workspace(copied: Callable[[], Path]) -> Workspace:
    opened = store.open(copied())
    opened.apply([Edit((), "value.draws", "1000")], "test", "fewer draws")
    return opened


def same(overview: Overview, workspace: Workspace) -> bool:
    """Return whether what is kept at hand is what a new look gives."""
    return {m.tag: m for m in overview.machines()} == {m.tag: m for m in Overview(workspace).machines()}


def test_the_overview_follows_every_change(workspace: Workspace) -> None:
    with workspace:
        overview = Overview(workspace)
        assert {line.word for m in overview.machines() for line in m.lines} == {"not run"}
        list(run_lines(workspace, [T1], date(2026, 3, 2)))
        assert same(overview, workspace)
        rows = [row for m in overview.machines() for line in m.lines for row in line.rows]
        assert tuple(rows) == kept_worths(workspace)[0]
        for edit in (
            Edit(("T1", "", "T1-A"), "old_is_seized", True),
            Edit(("T1", "", "T1-C"), "", {"x": "100 mm"}),
            Edit(("T1", "", "T1-C"), "", None),
            Edit((), "value.discount_rate", "5 %"),
            Edit(("S1",), "", None),
            Edit(("N1",), "", {"machine": {"kind": "fan"}}),
        ):
            workspace.apply([edit], "test", "change")
            assert same(overview, workspace), edit
            workspace.undo("test")
            assert same(overview, workspace), edit


def test_only_what_was_touched_is_read_again(workspace: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    with workspace:
        overview = Overview(workspace)
        overview.machines()
        asked: list[object] = []
        look = workspace.contents
        monkeypatch.setattr(
            workspace, "contents", lambda machines=None: asked.append(machines) or look(machines)
        )
        overview.machines()
        assert asked == []
        workspace.apply([Edit(("T1", "", "T1-A"), "old_is_seized", True)], "test", "look")
        overview.machines()
        assert asked == [frozenset({"T1"})]


def test_a_study_is_made_once_for_the_same_inputs(workspace: Workspace) -> None:
    with workspace:
        studies = Studies(workspace)
        first = studies.of(T1)
        assert studies.of(T1) is first
        workspace.apply([Edit((*T1, "T1-A"), "x", "150 mm")], "test", "moved")
        assert studies.of(T1) is not first
        workspace.undo("test")
        assert studies.of(T1) is first


def test_likely_values_are_worked_out_once_for_the_same_inputs(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def counted(found: Study, position: str) -> dict[str, Span]:
        asked.append(position)
        return likely_values(found, position)

    monkeypatch.setattr(live, "likely_values", counted)
    with workspace:
        studies = Studies(workspace)
        found = studies.of(T1)
        first = studies.likely(found, "T1-A")
        assert first == likely_values(found, "T1-A")
        assert first
        assert studies.likely(studies.of(T1), "T1-A") is first
        assert asked == ["T1-A"]
        workspace.apply([Edit((*T1, "T1-A"), "x", "150 mm")], "test", "moved")
        moved = studies.of(T1)
        assert studies.likely(moved, "T1-A") == likely_values(moved, "T1-A")
        workspace.undo("test")
        assert studies.likely(studies.of(T1), "T1-A") is first
        assert asked == ["T1-A", "T1-A"]


def test_what_cannot_be_solved_says_so_each_time(workspace: Workspace) -> None:
    with workspace:
        workspace.apply([Edit(T1, "loads", None)], "test", "lost")
        workspace.apply([Edit(("T1",), "name_plate", None)], "test", "lost")
        workspace.apply([Edit(T1, "shaft", None)], "test", "lost")
        studies = Studies(workspace)
        for _ in range(2):
            with pytest.raises(InputError):
                studies.of(T1)
