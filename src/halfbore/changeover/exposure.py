"""Hours and person-hours in which people are exposed to a hazard."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.plan import Exposure, Hazard, Task
from halfbore.numerics.sampling import quantiles

Floats = NDArray[np.float64]


def hours_covered(starts: Floats, finishes: Floats) -> Floats:
    """Return the length of the union of intervals, row by row.

    starts, finishes: (draws, intervals) in any unit of time.
    Returns (draws,) in that unit; where intervals overlap the time counts once.
    """
    order = np.argsort(starts, axis=1)
    begin, end = np.take_along_axis(starts, order, 1), np.take_along_axis(finishes, order, 1)
    covered = np.maximum.accumulate(end, axis=1)
    before = np.concatenate([np.full((len(begin), 1), -np.inf), covered[:, :-1]], axis=1)
    return np.asarray(np.maximum(0.0, end - np.maximum(begin, before)).sum(axis=1))


def person_hours(tasks: Sequence[Task], starts: Floats, finishes: Floats) -> Floats:
    """Return the person-hours of the tasks (draws,), from their times (draws, tasks) [h]."""
    persons = np.array([task.persons for task in tasks], dtype=np.float64)
    return np.asarray((finishes - starts) @ persons)


def exposures(tasks: Sequence[Task], starts: Floats, finishes: Floats) -> tuple[Exposure, ...]:
    """Return the hours and person-hours exposed to each hazard that occurs, at P50.

    tasks: of one plan; starts, finishes: (draws, tasks) [h].
    """
    found = []
    for hazard in Hazard:
        columns = [i for i, task in enumerate(tasks) if hazard in task.hazards]
        if columns:
            begin, end = starts[:, columns], finishes[:, columns]
            exposed = person_hours([tasks[i] for i in columns], begin, end)
            middle = [float(quantiles(draws).p50) for draws in (hours_covered(begin, end), exposed)]
            found.append(Exposure(hazard, *middle))
    return tuple(found)
