"""Which requirement would let a unit in: read off the sweep, then set and run again before it is shown."""

from __future__ import annotations

import dataclasses
import re
from collections import Counter
from typing import Any

import numpy as np

from halfbore.domain.check import Change, Relaxation, Verdict
from halfbore.domain.job import Job
from halfbore.domain.selection import Sweep
from halfbore.domain.shaftline import PositionDuty
from halfbore.domain.unit import UnitTable
from halfbore.selection.check import Wish, found, nothing, verdicts
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.need import Need

MOST = 12
"""Relaxations that are shown for one position."""
ALIKE = 3
"""Of them, those that ease the same checks."""
TRIES = 36
"""Units that are run again for it."""
PAST = (Verdict.FAILS, Verdict.NO_DATA, Verdict.OUTSIDE)
_MOVES_THE_SHAFT = re.compile(r"loads|duty|machine|positions\[\d+\]\.role")
"""Places in the job that change what the shaft line puts on the position."""


def relaxations(need: Need, swept: Sweep) -> tuple[Relaxation, ...]:
    """Return the requirements that would let more units in, singles before pairs, cheap units first.

    Every row is set in the job and run again, with the shaft line where it changes; only what then holds is shown.
    """
    trial = _Trial(need)
    kept: list[Relaxation] = []
    alike: Counter[tuple[str, ...]] = Counter()
    for r in _rows(swept)[:TRIES]:
        checks = tuple(np.array(swept.checks)[swept.verdict[:, r] == Verdict.FAILS].tolist())
        if alike[checks] >= ALIKE:
            continue
        one = trial.relaxed(swept.units.row(int(r)), checks)
        if one is not None:
            alike[checks] += 1
            kept.append(one)
        if len(kept) >= MOST:
            break
    return tuple(kept)


def _rows(swept: Sweep) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
    """Return the units that one or two checks turn away, all of which something in the job could ease."""
    fails = swept.verdict == Verdict.FAILS
    hopeless = np.isin(swept.verdict, PAST)
    hopeless[np.array([check.relax is not nothing for check in CHECKS])] &= ~fails[
        np.array([check.relax is not nothing for check in CHECKS])
    ]
    count = fails.sum(0)
    rows = np.flatnonzero(~hopeless.any(0) & (count >= 1) & (count <= 2))
    cost = np.where(np.isnan(swept.cost[rows]), np.inf, swept.cost[rows])
    return rows[np.lexsort((swept.units.code[rows], cost, count[rows]))]


class _Trial:
    """Jobs that are eased and run again; the shaft line of one changed job is solved once."""

    def __init__(self, need: Need) -> None:
        self.need = need
        self.solved: dict[tuple[Wish, ...], PositionDuty] = {}

    def relaxed(self, unit: UnitTable, checks: tuple[str, ...]) -> Relaxation | None:
        """Return what would let a unit past these checks, when that makes it hold."""
        asked = [check.relax(self.need, unit) for check in CHECKS if check.name in checks]
        wishes = merged([wish for group in asked for wish in group])
        eased = self.eased(wishes) if all(asked) else None
        if eased is None or not holds(eased, unit):
            return None
        changes = tuple(
            Change(w.path, value_at(self.need.job, w.path), w.value, w.words, w.kind) for w in wishes
        )
        return Relaxation(str(unit.code[0]), str(unit.supplier[0]), checks, changes, float(unit.price[0]))

    def eased(self, wishes: tuple[Wish, ...]) -> Need | None:
        """Return the need of the changed job; None where the shaft line would have to be solved and cannot be."""
        job = with_wishes(self.need.job, wishes)
        moving = tuple(w for w in wishes if _MOVES_THE_SHAFT.match(w.path))
        if not moving:
            return Need(job, self.need.index, self.need.duty, self.need.again)
        if self.need.again is None:
            return None
        if moving not in self.solved:
            self.solved[moving] = self.need.again(job)
        return Need(job, self.need.index, self.solved[moving], self.need.again)


def merged(wishes: list[Wish]) -> tuple[Wish, ...]:
    """Return one wish a path; of two numbers the lower serves both, since only limits from above meet so."""
    by_path: dict[str, Wish] = {}
    for w in wishes:
        old = by_path.get(w.path)
        if old is None or (
            isinstance(w.value, float) and isinstance(old.value, float) and w.value < old.value
        ):
            by_path[w.path] = w
    return tuple(by_path.values())


def with_wishes(job: Job, wishes: tuple[Wish, ...]) -> Job:
    """Return the job with these requirements set."""
    for w in wishes:
        job = with_value(job, w.path, w.value)
    return job


def holds(need: Need, unit: UnitTable) -> bool:
    """Whether a unit is turned away by no check."""
    return not any(int(verdicts(check, found(check, need, unit))[0]) in PAST for check in CHECKS)


_STEP = re.compile(r"(\w+)(?:\[(\d+)\])?")


def value_at(job: Job, path: str) -> Any:
    """Return what stands at a path of the job, such as positions[0].room.plain_left."""
    value: Any = job
    for name, index in _STEP.findall(path):
        value = getattr(value, name)
        value = value[int(index)] if index else value
    return value


def with_value(record: Any, path: str, value: Any) -> Any:
    """Return a record with one value set at a path; everything else stays."""
    name, index = _STEP.findall(path)[0]
    rest = path.partition(".")[2]
    old = getattr(record, name)
    if index:
        new = list(old)
        new[int(index)] = with_value(old[int(index)], rest, value) if rest else value
        return dataclasses.replace(record, **{name: tuple(new)})
    return dataclasses.replace(record, **{name: with_value(old, rest, value) if rest else value})
