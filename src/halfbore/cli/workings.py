"""The working of checks: which are asked for, and what is shown of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from halfbore.calc.why import Asked, origins, to_hours
from halfbore.cli import show, show_machine, show_working
from halfbore.cli.show_calc import step_data
from halfbore.domain.study import PositionStudy, Study
from halfbore.present.wording import sentence
from halfbore.study import why
from halfbore.working import Step


def workings(found: Study, wanted: Asked) -> None:
    """Show the working of the checks that are wanted, of the chosen unit or of the nearest one."""
    for position in _positions(found, wanted):
        choice = position.choice
        assert choice is not None
        unit = choice.shown_unit
        if unit is None:
            show.heading(
                f"Why, {position.position}: there is no unit of this bore, so no check has a working."
            )
            continue
        told = {f.check: f for f in choice.shown_findings}
        known = origins(found.reading.job, unit)
        for check in wanted.checks:
            show.heading(f"Why, {position.position}: {check}")
            show.line(f"{show_machine.verdict(told[check])}. {sentence(show_machine.reason(told[check]))}")
            heard = _heard(found, position.position, check)
            show_working.steps(heard, known)
            if not heard:
                show.line("No clause is worked out here: the check compares what job and catalogue say.")


def as_data(found: Study, wanted: Asked) -> list[dict[str, Any]]:
    """Return the same as plain data."""
    return [
        {
            "position": position.position,
            "check": check,
            "working": [step_data(step) for step in _heard(found, position.position, check)],
        }
        for position in _positions(found, wanted)
        if position.choice is not None and position.choice.shown_unit is not None
        for check in wanted.checks
    ]


def _positions(found: Study, wanted: Asked) -> Iterator[PositionStudy]:
    for position in found.positions:
        if position.choice is not None and wanted.position in ("", position.position):
            yield position


def _heard(found: Study, position: str, check: str) -> tuple[Step, ...]:
    heard = why(found, position, check)
    return (*heard, *to_hours(heard)) if check.endswith("life") else heard
