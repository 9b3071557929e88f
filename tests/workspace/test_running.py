"""Shaft lines of a workspace are run, kept, ranked, and grow stale with what they rest on."""

from __future__ import annotations

import math
import signal
from collections.abc import Callable, Iterator
from concurrent.futures import Future, as_completed
from contextlib import suppress
from datetime import date
from multiprocessing import active_children
from pathlib import Path

import pytest

from halfbore import store
from halfbore.demo import plant
from halfbore.demo.suppliers import load
from halfbore.domain.study import Decision
from halfbore.domain.workspace import Address, Edit
from halfbore.intake.jobfile import read_job_text
from halfbore.numbers import INCH
from halfbore.phrases import in_style
from halfbore.store import Workspace
from halfbore.study import study
from halfbore.workspace import running
from halfbore.workspace.lines import kept_worths, lines_at, lines_of
from halfbore.workspace.ranking import as_plain, from_plain, ranked
from halfbore.workspace.running import Ran, reading_of, run_lines

ON = date(2026, 3, 2)
FEWER = Edit((), "value.draws", "1000")


@pytest.fixture
def workspace(copied: Callable[[], Path]) -> Workspace:
    opened = store.open(copied())
    opened.apply([FEWER], "test", "fewer draws")
    return opened


def run(workspace: Workspace, *tags: str) -> list[Ran]:
    lines = [line for tag in tags for line in lines_at(workspace, tag)]
    return list(run_lines(workspace, lines, ON))


def test_a_line_of_the_workspace_and_its_job_file_give_the_same_answer(workspace: Workspace) -> None:
    with workspace:
        (ran,) = run(workspace, "T1")
    job = plant.job_text("T1").replace("[value]", "[value]\ndraws = 1000", 1)
    alone = study(read_job_text(job), [load("first"), load("second")], on=ON)
    assert ran.study is not None
    assert [p.decision for p in ran.study.positions] == [p.decision for p in alone.positions]
    for mine, other in zip(ran.study.positions, alone.positions, strict=True):
        assert mine.value is not None
        assert other.value is not None
        assert mine.value.saving == other.value.saving


def test_a_kept_row_comes_back_as_it_was(workspace: Workspace) -> None:
    with workspace:
        (ran,) = run(workspace, "T1")
        rows, never = kept_worths(workspace)
    assert rows == ran.worths
    assert from_plain(as_plain(rows), ("inputs changed",))[0].stale == ("inputs changed",)
    assert len(never) == 10


def test_kept_sentences_are_written_in_inches_too(workspace: Workspace) -> None:
    with workspace:
        (ran,) = run(workspace, "F2")
        rows, _ = kept_worths(workspace)
    for kept, made in zip(rows, ran.worths, strict=True):
        for name in ("because", "next_step"):
            told = in_style(getattr(made, name), INCH)
            assert in_style(getattr(kept, name), INCH) == told
            assert " mm" not in told
    assert any(" in" in in_style(row.next_step, INCH) for row in rows)
    assert any(" mm" in row.next_step for row in rows)


def test_an_edit_makes_the_result_stale_and_undo_makes_it_current(workspace: Workspace) -> None:
    with workspace:
        run(workspace, "T1")
        workspace.apply([Edit(("T1", "", "T1-A"), "old_is_seized", True)], "test", "look")
        assert {row.stale for row in kept_worths(workspace)[0]} == {("inputs changed",)}
        workspace.undo("test")
        assert {row.stale for row in kept_worths(workspace)[0]} == {()}


def test_undo_brings_back_the_answer_that_rests_on_the_same_inputs(workspace: Workspace) -> None:
    with workspace:
        (first,) = run(workspace, "T1")
        workspace.apply([Edit(("T1", "", "T1-A"), "old_is_seized", True)], "test", "look")
        (second,) = run(workspace, "T1")
        assert second.worths != first.worths
        assert kept_worths(workspace)[0] == second.worths
        workspace.undo("test")
        assert kept_worths(workspace)[0] == first.worths
        kept = workspace.result(("T1", ""))
        assert kept is not None
        assert (kept.stale, kept.id) == ((), workspace.results()["T1", ""].id)


def test_results_are_kept_as_they_come_and_told_in_order(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    with workspace:
        lines = [line for tag in ("S1", "T1") for line in lines_at(workspace, tag)]
        rans = {ran.line: ran for ran in run_lines(workspace, lines, ON)}
        backwards = [rans[line] for line in reversed(lines)]
        monkeypatch.setattr(running, "_studies", lambda *_: iter(backwards))
        kept: list[Address] = []
        assert [ran.line for ran in run_lines(workspace, lines, ON, kept=kept)] == lines
        assert kept == [ran.line for ran in backwards]


def test_a_plant_wide_edit_makes_every_line_stale(workspace: Workspace) -> None:
    with workspace:
        run(workspace, "T1", "S1")
        workspace.apply([Edit((), "value.discount_rate", "5 %")], "test", "bank")
        assert all(row.stale for row in kept_worths(workspace)[0])


def test_a_line_that_lacks_what_nothing_stands_for_says_what_and_stops_no_other(workspace: Workspace) -> None:
    with workspace:
        workspace.apply([Edit(("T1", ""), "loads", None)], "test", "lost")
        broken, fine, third = run(workspace, "T1", "S1", "F2")
        assert broken.study is None
        assert any("loads" in problem.where for problem in broken.problems)
        assert fine.study is not None
        assert third.study is not None


def test_the_ranking_puts_the_largest_mean_first_and_those_without_money_last(workspace: Workspace) -> None:
    with workspace:
        rows = ranked(row for ran in run(workspace, "S1", "C1", "H1") for row in ran.worths)
    worth = [math.inf if row.saving is None else row.saving.mean for row in rows]
    known = [value for value in worth if math.isfinite(value)]
    assert known == sorted(known, reverse=True)
    assert all(math.isinf(value) for value in worth[len(known) :])
    assert rows[0].position == "C1-A"


def test_where_no_unit_holds_the_row_says_what_would_let_one_in(workspace: Workspace) -> None:
    with workspace:
        rows = {row.position: row for ran in run(workspace, "H1", "F2") for row in ran.worths}
    assert rows["H1-B"].decision is Decision.WAITS
    assert rows["H1-B"].because.startswith("Not decided at H1-B: ")
    assert rows["H1-B"].next_step.startswith("Settle what holds the shaft in each axial direction: ")
    assert rows["H1-B"].next_step.endswith(" units wait for it")
    assert rows["H1-A"].decision is Decision.NO_UNIT
    assert rows["H1-A"].unit == ""
    assert "plain shaft towards the drive end" in rows["H1-A"].next_step
    assert "mended seat diameter" in rows["F2-A"].next_step


def test_a_position_that_came_last_stands_where_it_belongs(workspace: Workspace) -> None:
    with workspace:
        middle = workspace.document(("L1", "", "L1-2"))
        workspace.apply([Edit(("L1", "", "L1-2"), "", None)], "test", "lost")
        workspace.apply([Edit(("L1", "", "L1-2"), "", middle)], "test", "found")
        assert [e["name"] for e in workspace.job_data(("L1", ""))["positions"]][-1] == "L1-2"
        names = [p.name for p in reading_of(workspace, ("L1", "")).job.positions]
    assert names == ["L1-1", "L1-2", "L1-3", "L1-4"]


def test_tags_of_any_kind_mean_their_lines(workspace: Workspace) -> None:
    with workspace:
        assert lines_at(workspace, "e1") == (("E1", "head"), ("E1", "boot"))
        assert lines_at(workspace, "E1 boot") == lines_at(workspace, "E1-C") == (("E1", "boot"),)
        assert len(lines_of(workspace)) == 11


def test_a_measurement_that_may_turn_the_unit_away_comes_before_the_conversion(workspace: Workspace) -> None:
    with workspace:
        (ran,) = run(workspace, "F3")
    row = next(row for row in ran.worths if row.position == "F3-B")
    assert row.decision is Decision.CONVERT_IF
    assert row.next_step.startswith("Measure the temperature of the shaft at F3-B first: ")
    assert row.next_step.endswith(" “axial chain” at F3-B, whose bad end is past the limit")
    assert row.because.startswith(row.next_step)
    assert ran.study is not None
    found = next(p for p in ran.study.positions if p.position == "F3-B")
    assert found.order is not None
    assert not found.order.ready
    assert found.order.standing == "not ready: it is not shown yet that the unit holds"
    assert ran.study.sentence.startswith("Convert F3-B once it is shown that the unit holds; ")


def test_a_row_carries_the_code_as_ordered_and_that_of_the_standard_build(workspace: Workspace) -> None:
    with workspace:
        (ran,) = run(workspace, "F1")
    assert ran.study is not None
    for row, found in zip(ran.worths, ran.study.positions, strict=True):
        assert found.order is not None
        assert found.choice is not None and found.choice.chosen is not None
        assert (row.unit, row.standard) == (found.order.code, found.choice.chosen.code)
        assert row.unit != row.standard


@pytest.mark.parametrize("deaths", [1, 2])
def test_a_dead_worker_stops_no_line_but_its_own(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch, deaths: int
) -> None:
    left = [deaths]
    before = set(active_children())

    def killing(asked: list[Future[Ran]]) -> Iterator[Future[Ran]]:
        if left[0]:
            left[0] -= 1
            (set(active_children()) - before).pop().kill()
        return as_completed(asked)

    monkeypatch.setattr(running, "as_completed", killing)
    with workspace:
        first, *others = run(workspace, "T1", "S1", "F2")
        rows, never = kept_worths(workspace)
    assert [ran.line[0] for ran in (first, *others)] == ["T1", "S1", "F2"]
    assert all(ran.study is not None for ran in others)
    assert (first.study is None) == (deaths == 2)
    assert [problem.what for problem in first.problems] == [running.DIED] * (deaths == 2)
    assert (("T1", "") in never) == (deaths == 2)
    assert {row.machine for row in rows} >= {"S1", "F2"}


def test_an_interrupt_that_nobody_heard_stops_the_run_at_the_next_line(
    workspace: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An interrupt inside a callback, of the store or of memory that is freed, is swallowed by the language."""
    with workspace:
        both = run(workspace, "T1", "S1")

        def swallowing(*_: object) -> Iterator[Ran]:
            yield both[0]
            with suppress(KeyboardInterrupt):
                signal.raise_signal(signal.SIGINT)
            yield both[1]

        monkeypatch.setattr(running, "_studies", swallowing)
        before, kept = signal.getsignal(signal.SIGINT), list[Address]()
        with pytest.raises(KeyboardInterrupt):
            list(run_lines(workspace, [ran.line for ran in both], ON, kept=kept))
    assert kept == [both[0].line]
    assert signal.getsignal(signal.SIGINT) is before
