"""Hours of tasks, draw by draw: a task that two plans share has the same hours in both."""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from halfbore.changeover import templates
from halfbore.domain.plan import Task
from halfbore.numerics.pert import beta_pert_at
from halfbore.numerics.sampling import streams
from halfbore.units import Span

Floats = NDArray[np.float64]

PACE = 0.7
"""Chance that a task follows the pace of the site instead of its own luck (common practice, no source).

Crew, weather and access slow all tasks of a stop together: with tasks that know nothing of each other the sum
would look far better known than it is. Two tasks then correlate with 0.7² = 0.49.
"""


class Luck:
    """The luck of every task, from one seed: each task name has a stream of its own, so no plan touches another's."""

    def __init__(self, seed: int, draws: int) -> None:
        """Begin with a seed, zero or more, and a number of draws."""
        self.draws = draws
        self._streams = streams(seed, ("pace of the site", *templates.NAMES))
        self._pace = self._streams["pace of the site"].random(draws)
        self._drawn: dict[Task, Floats] = {}

    def hours(self, tasks: Sequence[Task]) -> Floats:
        """Return the hours of tasks (draws, tasks), a column in one piece; equal records have equal hours."""
        for task in tasks:
            if task not in self._drawn:
                self._drawn[task] = self._draw(task)
        return np.stack([self._drawn[task] for task in tasks]).T

    def _draw(self, task: Task) -> Floats:
        rng = self._stream(task.name)
        own, follows = rng.random(self.draws), rng.random(self.draws) < PACE
        share = np.where(follows, self._pace, own)
        return _at(share, task.hours) + self._branch_hours(task, share)

    def _branch_hours(self, task: Task, share: Floats) -> Floats | float:
        """Return what the branch that comes true adds; hold points decided by one thing take the same luck."""
        if not task.branches:
            return 0.0
        found = self._stream(task.decided_by or task.name).random(self.draws)
        limits = np.cumsum([branch.chance for branch in task.branches])
        which = np.searchsorted(limits[:-1], found, side="right")
        return np.choose(which, [_at(share, branch.hours) for branch in task.branches])

    def _stream(self, name: str) -> Generator:
        return deepcopy(self._streams[name])


def _at(share: Floats, hours: Span) -> Floats:
    return beta_pert_at(share, hours.low, hours.likely, hours.high)
