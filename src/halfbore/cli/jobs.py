"""Run one shaft line as far as a stage, and show what came out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from halfbore.calc.why import Asked, asked
from halfbore.cli import proposals, show, show_choice, show_machine, show_plant, show_time, workings
from halfbore.cli.style import shown
from halfbore.cli.targets import Target
from halfbore.domain.estimate import Narrowing
from halfbore.domain.job import JobReading
from halfbore.domain.study import PositionStudy, Study
from halfbore.errors import NothingHoldsError, Problem
from halfbore.intake.explain import explained
from halfbore.narrowing import answered
from halfbore.numbers import INCH
from halfbore.present.plain import plain_data, to_json
from halfbore.present.styled import styled
from halfbore.present.wording import CALCULATION_AID, counted, invented_words, sentence
from halfbore.study import Stage

STAGES: dict[str, tuple[Stage, Callable[[PositionStudy], None] | None]] = {
    "loads": (Stage.LOADS, None),
    "check": (Stage.SELECT, show_machine.checks),
    "select": (Stage.SELECT, show_choice.choice),
    "order": (Stage.ORDER, show_choice.order),
    "changeover": (Stage.CHANGEOVER, show_time.changeover),
    "value": (Stage.VALUE, show_time.value),
}
"""Command → how far the study goes, and what shows one position of it; none where there are only loads."""


def explained_job(job: Target) -> str:
    """Return a job with every assumption filled in, as a file."""
    return explained(job.reading).rstrip("\n")


def studied(job: Target, upto: Stage) -> tuple[Study, tuple[Narrowing, ...]]:
    """Return the study of a job as of the day of its survey and what to measure next.

    Raises InputError.
    """
    return answered(job.reading, job.catalogues() if upto > Stage.LOADS else (), upto)


def stage(command: str, job: Target, as_json: bool, require: bool, checks: str = "") -> None:
    """Run a job as far as the stage of a command and show it.

    checks: those whose working is shown in place of the rest, as `asked` reads them; none where it is empty.
    Raises InputError; NothingHoldsError where a unit is required and none holds.
    """
    upto, each = STAGES[command]
    wanted = _wanted(job, checks)
    found, _ = studied(job, upto)
    if as_json:
        required(found, require)
        show.document(to_json(_record(found, wanted)))
        return
    found = styled(found, shown())
    opening(found, job)
    if wanted is not None:
        workings.workings(found, wanted)
    elif each is None:
        show_machine.loads(found)
    else:
        for position in found.positions:
            each(position)
    closing(found, job)
    required(found, require)


def run(job: Target, checks: str, as_json: bool, require: bool, out: Path | None) -> None:
    """Run a whole job, show the answer in brief, what to measure next, and the working of checks that are asked for.

    checks: as in `stage`; out: folder for the proposal, None for no proposal. Raises as `stage`.
    """
    wanted = _wanted(job, checks)
    if out is not None:
        proposals.folder(out)
    found, narrowings = studied(job, Stage.VALUE)
    answer(job, found, narrowings, wanted, as_json, require, out)


def answer(
    job: Target,
    found: Study,
    narrowings: Sequence[Narrowing],
    wanted: Asked | None,
    as_json: bool,
    require: bool,
    out: Path | None = None,
) -> None:
    """Show the answer of a whole job, as `run` does.

    found, narrowings: what came out and what to measure next; wanted: whose working is shown, as `asked` reads it.
    """
    if as_json:
        required(found, require)
        show.document(to_json({**plain_data(_record(found, wanted)), "narrowings": plain_data(narrowings)}))
        return
    told = styled(found, shown())
    opening(told, job)
    show_machine.reactions(told.response)
    for position in told.positions:
        _brief(position, job)
    show_plant.narrowings(narrowings)
    if wanted is not None:
        workings.workings(told, wanted)
    if out is not None:
        for path in proposals.written(found, job.stem, out, proposals.day(""), inch=shown() == INCH):
            show.document(f"\nWritten: {path}")
    closing(found, job)
    required(found, require)


def _wanted(job: Target, checks: str) -> Asked | None:
    """Return whose working is wanted, before anything runs. Raises InputError."""
    return asked(checks, job.reading.job) if checks else None


def _record(found: Study, wanted: Asked | None) -> Any:
    """Return what `--json` prints: the study, and beside it the working that was asked for."""
    if wanted is None:
        return found
    return {**plain_data(found), "working": workings.as_data(found, wanted)}


def opening(found: Study, job: Target) -> None:
    """Show the answer as a sentence, and what was odd in the file."""
    show.heading(found.sentence)
    reading: JobReading = found.reading
    if reading.assumptions:
        count = counted(len(reading.assumptions), "assumption")
        show.line(f"{count} filled in; halfbore run {job.typed} --explain prints the job with all of them.")
    if job.folder is not None and any(a.path == "catalogues" for a in reading.assumptions):
        show.line(f"No catalogue is named; assumed: {', '.join(reading.job.catalogues)}, both invented.")
    for question in reading.questions:
        show.question(question.path, question.text)


def closing(found: Study, job: Target) -> None:
    """Show what to type where no unit is chosen, what is invented, and that a calculation is no decision."""
    show.line()
    if without(found):
        show.line("Next, what turned each unit away, and what would let one in:")
        show.document(f"  halfbore select {job.typed}")
    suppliers = any(use.invented for use in found.provenance.catalogues)
    if words := invented_words(found.reading.job.invented, suppliers):
        show.line(words)
    show.line(CALCULATION_AID)


def _brief(position: PositionStudy, job: Target) -> None:
    show.heading(f"{position.position}: {position.decision}")
    show.line(sentence(position.because))
    choice = position.choice
    if choice is None:
        return
    if position.because != choice.sentence:
        show.line(sentence(choice.sentence))
    if choice.findings:
        show_machine.check_table(choice.findings)
    if choice.chosen is None:
        show_machine.without_unit(choice)
    if choice.next is not None:
        show.line(f"Next: {choice.next.code}, {choice.next.name}; {choice.next_because}.")
    if position.order is not None:
        show.line(f"Order: {position.order.code}, {position.order.standing} (halfbore order {job.typed}).")
    if position.plans is not None:
        show_time.clocks(position.plans)
    if position.value is not None:
        show.line(position.value.no_when)


def without(found: Study) -> list[PositionStudy]:
    """Return the positions where a unit was looked for and none holds."""
    return [p for p in found.positions if p.choice is not None and p.choice.chosen is None]


def required(found: Study, require: bool) -> None:
    """Raise NothingHoldsError where a unit is required and a position has none."""
    lacking = without(found)
    if require and lacking:
        raise NothingHoldsError(
            Problem(
                str(p.decision), p.position, accepted="a unit that holds every check", next_step=p.because
            )
            for p in lacking
        )
