"""What the checks of a unit find where every input stands at its likely value: the middle of a range, worked out, not guessed."""

from __future__ import annotations

import dataclasses
from typing import Any, TypeVar

from halfbore.domain.job import Job
from halfbore.domain.machine import Contamination
from halfbore.domain.shaftline import Bearing
from halfbore.domain.study import Study
from halfbore.errors import InputError
from halfbore.selection.bearing import bearing_of
from halfbore.selection.choose import weigh
from halfbore.selection.need import Need
from halfbore.shaftline.respond import respond
from halfbore.units import Span

T = TypeVar("T")


def likely_values(found: Study, position: str) -> dict[str, Span]:
    """Return what each check of the unit that is shown finds at the likely value of every input [unit of the check].

    found: a study; position: its name. A value that is a range even then keeps it; empty where no unit is shown, or
    where the likely values alone cannot be solved.
    """
    choices = {p.position: p.choice for p in found.positions}
    choice = choices.get(position)
    unit = None if choice is None else choice.shown_unit
    if unit is None:
        return {}
    job = likely_job(found.reading.job)
    index = [p.name for p in job.positions].index(position)
    try:
        response = respond(job, _bearings(found))
    except InputError:
        return {}
    seen = weigh(Need(job, index, response.duties[index]), unit)
    return {f.check: f.value for f in seen.shown_findings if f.value is not None}


def likely_job(job: Job) -> Job:
    """Return a job in which every range is its likely value; a lubricant is as dirty as it may be."""
    told: Job = _likely(job)
    oil = told.lubricant
    if oil is None or len(oil.cleanliness) < 2:
        return told
    worst = max(oil.cleanliness, key=list(Contamination).index)
    return dataclasses.replace(told, lubricant=dataclasses.replace(oil, cleanliness=(worst,)))


def _likely(value: Any) -> Any:
    if isinstance(value, Span):
        return Span.of(value.likely)
    if isinstance(value, tuple):
        return tuple(_likely(item) for item in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        changed = {f.name: _likely(getattr(value, f.name)) for f in dataclasses.fields(value) if f.init}
        return dataclasses.replace(value, **changed)
    return value


def _bearings(found: Study) -> tuple[Bearing, ...]:
    """Return give and clearance of the chosen bearings where they decide the reactions."""
    job = found.reading.job
    if len(job.positions) < 3:
        return ()
    units = {p.position: p.choice.chosen_unit for p in found.positions if p.choice is not None}
    needs = [Need(job, i, duty) for i, duty in enumerate(found.response.duties)]
    return tuple(
        Bearing(float("inf"), 0.0) if unit is None else bearing_of(need, unit)
        for need, unit in ((need, units.get(need.position.name)) for need in needs)
    )
