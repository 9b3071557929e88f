"""Run shaft lines of a workspace: one in full, many with a ranking at the end."""

from __future__ import annotations

import sys
from pathlib import Path

import typer

from halfbore.calc.why import asked
from halfbore.cli import jobs, show, show_plant
from halfbore.cli.commands import INTERRUPTED
from halfbore.cli.style import shown
from halfbore.cli.targets import only
from halfbore.domain.workspace import Address
from halfbore.errors import InputError, NothingHoldsError, Problem
from halfbore.phrases import in_style
from halfbore.present.plain import plain_data, to_json
from halfbore.present.wording import CALCULATION_AID, counted
from halfbore.store import Workspace
from halfbore.store import open as open_workspace
from halfbore.workspace.catalogues import catalogues_of
from halfbore.workspace.find import workspace_file
from halfbore.workspace.lines import lines_at, lines_of
from halfbore.workspace.ranking import ranked
from halfbore.workspace.running import Ran, run_lines


def run_workspace(
    named: list[str], checks: str, as_json: bool, require: bool, workspace: Path | None
) -> None:
    """Run shaft lines of a workspace: one in full, several as a ranking; results are kept.

    named: tags, none for the whole workspace; the rest as in `jobs.run`.
    Raises InputError; NothingHoldsError where a unit is required and none holds.
    """
    with open_workspace(workspace_file(workspace)) as opened:
        lines = _lines(opened, named)
        catalogues_of(opened)  # says what to do where there is none, before anything is worked out
        if len(lines) == 1 or checks:
            _one(opened, named or [" ".join(filter(None, lines[0]))], checks, as_json, require)
        else:
            _many(opened, lines, as_json, require)


def _one(workspace: Workspace, named: list[str], checks: str, as_json: bool, require: bool) -> None:
    """Run one shaft line, keep the result and show it in full."""
    job = only(named, workspace.path)
    wanted = asked(checks, job.reading.job) if checks else None
    assert job.line is not None
    (ran,) = run_lines(workspace, (job.line,))
    if ran.study is None:
        raise InputError(ran.problems)
    jobs.answer(job, ran.study, ran.narrowings, wanted, as_json, require)


def _lines(workspace: Workspace, named: list[str]) -> tuple[Address, ...]:
    if not named:
        lines = lines_of(workspace)
        if not lines:
            step = "halfbore import survey FILE, or halfbore import job JOB.toml"
            raise InputError(Problem("holds no position yet", str(workspace.path), next_step=step))
        return lines
    return tuple(dict.fromkeys(line for text in named for line in lines_at(workspace, text)))


def _many(workspace: Workspace, lines: tuple[Address, ...], as_json: bool, require: bool) -> None:
    """Run shaft lines and show them by worth; what is kept by the time that somebody stops it stays kept."""
    ran, kept = list[Ran](), list[Address]()
    try:
        for one in run_lines(workspace, lines, kept=kept):
            ran.append(one)
            if not as_json:
                _told(one)
    except KeyboardInterrupt:
        print(f"halfbore: stopped; {counted(len(kept), 'shaft line')} kept", file=sys.stderr)
        raise typer.Exit(INTERRUPTED) from None
    rows = ranked(worth for one in ran for worth in one.worths)
    if as_json:
        show.document(to_json({"worths": rows, "not_run": [_not_run(one) for one in ran if one.problems]}))
    else:
        show_plant.ranking(rows)
        show.line(CALCULATION_AID)
    _required(ran, require)


def _told(one: Ran) -> None:
    name = " ".join(part for part in one.line if part)
    if one.study is not None:
        show.line(in_style(one.study.sentence, shown()))
        return
    show.line(f"{name} was not run:")
    for problem in one.problems:
        show.pairs([("", problem.sentence())])


def _not_run(one: Ran) -> dict[str, object]:
    return {"line": list(one.line), "problems": [plain_data(problem) for problem in one.problems]}


def _required(ran: list[Ran], require: bool) -> None:
    """Raise the problems where nothing could be run; NothingHoldsError where units are required and missing."""
    if ran and all(one.study is None for one in ran):
        raise InputError(problem for one in ran for problem in one.problems)
    if require:
        lacking = [p for one in ran if one.study for p in jobs.without(one.study)]
        if lacking:
            raise NothingHoldsError(
                Problem(str(p.decision), p.position, next_step=p.because) for p in lacking
            )
