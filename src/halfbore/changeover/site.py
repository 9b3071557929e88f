"""From template hours to the hours of this site: its own figures, the size of the shaft, the crew."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from difflib import get_close_matches

from halfbore.changeover import shared_tasks as shared
from halfbore.domain.economics import Changeover, TaskOverride
from halfbore.domain.plan import Phase, Task, Way
from halfbore.errors import InputError, Problem
from halfbore.units import Span

REFERENCE_SIZE = 150.0
"""Shaft diameter to which the template hours belong [mm]."""
SIZE_RANGE = (0.5, 2.5)
"""Smallest and largest factor on template hours by size (common practice, no source)."""

_PLANS = {"one-piece": Way.ONE_PIECE, "first conversion": Way.SPLIT_FIRST, "repeat": Way.SPLIT_REPEAT}
_WAITS = {
    shared.ISOLATION.name: "isolation_lead",
    shared.COOLING.name: "cooling",
    shared.RUN_UP.name: "run_up",
}
_MECHANICAL = (Phase.PREPARE, Phase.EXCHANGE, Phase.RESTORE)


def stretched(hours: Span, times: float) -> Span:
    """Return hours multiplied."""
    return Span(hours.low * times, hours.likely * times, hours.high * times)


def on_site(task: Task, way: Way, changeover: Changeover, size: float) -> Task:
    """Return a template task with the hours of this site.

    The site's own figure comes first and is used as it stands; template hours grow with the shaft, and with the
    people that are missing from the crew; a small shaft needs no more than two. size: shaft diameter [mm].
    """
    own, told = _own_hours(task.name, way, changeover)
    by_size = _size_factor(size) if task.phase in _MECHANICAL and task.persons else 1.0
    needed = min(task.persons, max(2, math.ceil(task.persons * by_size)))
    persons = min(needed, changeover.crew)
    if own is not None:
        return replace(task, hours=own, source=shared.SITE if told else task.source, persons=persons)
    times = by_size * (needed / persons if persons else 1.0)
    return replace(task, hours=stretched(task.hours, times), persons=persons)


def check_overrides(overrides: Sequence[TaskOverride], names: Sequence[str]) -> None:
    """Refuse the site's own hours for a task or a plan that does not exist; InputError names the nearest."""
    problems = [*_unknown_tasks(overrides, names), *_unknown_plans(overrides)]
    if problems:
        raise InputError(problems)


def _own_hours(name: str, way: Way, changeover: Changeover) -> tuple[Span | None, bool]:
    """Return the hours of a task where the job has them, and whether the site told them or they are the usual ones."""
    wait = _WAITS.get(name, "")
    for override in reversed(changeover.tasks):
        if override.task == name and (not override.plan or _PLANS[override.plan] is way):
            return override.duration, True
    # By identity: a site that writes down the usual hours has told them.
    hours = getattr(changeover, wait) if wait else None
    return hours, bool(wait) and hours is not getattr(Changeover, wait)


def _size_factor(size: float) -> float:
    least, most = SIZE_RANGE
    return min(max(size / REFERENCE_SIZE, least), most)


def _unknown_tasks(overrides: Sequence[TaskOverride], names: Sequence[str]) -> Iterable[Problem]:
    by_fold = {name.casefold(): name for name in names}
    for i, override in enumerate(overrides):
        if override.task not in names:
            near = get_close_matches(override.task.casefold(), by_fold, n=3, cutoff=0.4)
            shown = "; ".join(by_fold[n] for n in near) or "; ".join(names)
            yield Problem(
                "no such task", f"changeover.tasks[{i}].task", override.task, next_step=f"nearest: {shown}"
            )


def _unknown_plans(overrides: Sequence[TaskOverride]) -> Iterable[Problem]:
    for i, override in enumerate(overrides):
        if override.plan and override.plan not in _PLANS:
            accepted = f"{', '.join(_PLANS)}, or empty for all"
            yield Problem("no such plan", f"changeover.tasks[{i}].plan", override.plan, accepted)
