"""Whose working is wanted, and what belongs to it beside the clauses: the step to hours, where numbers came from."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from halfbore.domain.fields import Quantity, fields_of
from halfbore.domain.job import Job
from halfbore.domain.unit import UnitTable
from halfbore.errors import InputError, Problem
from halfbore.selection.checks.every import CHECKS
from halfbore.sources import derived
from halfbore.standards.iso281_2007 import life_in_hours
from halfbore.units import INTERNAL, Span
from halfbore.working import Step, working

ALL = "all"
TRIVIAL = 20
"""Whole numbers up to this one are met too often for their origin to be told by their value."""


@dataclass(frozen=True)
class Asked:
    """Whose working is wanted: checks by name, at one position or, where none is named, at all."""

    position: str
    checks: tuple[str, ...]


def asked(text: str, job: Job) -> Asked:
    """Return whose working is wanted.

    text: `all` or the name of a check, behind `POSITION:` where one position is meant.
    Raises InputError for a name that no check and no position has.
    """
    place, _, check = (part.strip() for part in text.rpartition(":"))
    names, places = tuple(c.name for c in CHECKS), tuple(p.name for p in job.positions)
    problems = []
    if place and place not in places:
        problems.append(Problem("there is no such position", "--why", place, ", ".join(places)))
    if check not in (*names, ALL):
        problems.append(Problem("there is no such check", "--why", check, ", ".join((ALL, *names))))
    if problems:
        raise InputError(problems)
    return Asked(place, names if check == ALL else (check,))


def to_hours(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Return the steps that turn lives over the duty into hours, as the life checks do after the last clause."""
    over = [s for s in steps if s.name == "life_over_duty"]
    factor = 1.0 if any(s.name == "modified_rating_life" for s in steps) else _last(steps, "a_1", 1.0)
    return tuple(step for s in over for step in _hours(s, factor))


def origins(job: Job, unit: UnitTable) -> dict[tuple[float, str], str]:
    """Return where numbers came from: (number, unit) → the job or the catalogue."""
    from_unit = ((float(v), u) for v, u in _columns(unit))
    return dict.fromkeys(from_unit, "catalogue") | dict.fromkeys(_numbers(job), "job")


def _last(steps: Sequence[Step], name: str, other: float) -> float:
    return next((float(s.result) for s in reversed(steps) if s.name == name), other)


def _hours(over: Step, a_1: float) -> Iterator[Step]:
    """Yield mean speed, turns an hour, and the life in hours, times the reliability factor where it is still to come."""
    speeds, shares = (np.asarray(over.given[name], dtype=float) for name in ("speeds", "shares"))
    mean = float(speeds @ shares / shares.sum())
    given = {"speeds": speeds, "shares": shares}
    yield Step("mean_speed", derived("speeds weighted by their shares of the time"), "", given, mean)
    yield Step("turns_an_hour", derived("sixty minutes"), "60*n", {"n": mean}, 60.0 * mean)
    with working() as steps:
        hours = life_in_hours(over.result, mean)
    yield from steps
    if a_1 != 1.0:
        source = derived("the rating life at the required reliability")
        yield Step("life_at_the_reliability", source, "a_1*L_h", {"a_1": a_1, "L_h": hours}, a_1 * hours)


def _columns(unit: UnitTable) -> Iterator[tuple[float, str]]:
    for info in fields_of(UnitTable):
        if isinstance(info.meta, Quantity):
            values = np.asarray(getattr(unit, info.name), dtype=float).ravel()
            yield from ((float(v), INTERNAL[info.meta.kind]) for v in values if _telling(float(v)))


def _numbers(record: Any) -> Iterator[tuple[float, str]]:
    """Yield every number of a record with its unit."""
    for info in fields_of(type(record)):
        value = getattr(record, info.name)
        if isinstance(info.meta, Quantity):
            ends: Iterable[Any] = dataclasses.astuple(value) if isinstance(value, Span) else (value,)
            yield from (
                (float(v), INTERNAL[info.meta.kind])
                for v in ends
                if isinstance(v, int | float) and _telling(float(v))
            )
            continue
        for item in value if isinstance(value, tuple) else (value,):
            if dataclasses.is_dataclass(item) and not isinstance(item, type):
                yield from _numbers(item)


def _telling(value: float) -> bool:
    return bool(np.isfinite(value)) and not (abs(value) <= TRIVIAL and value == int(value))
