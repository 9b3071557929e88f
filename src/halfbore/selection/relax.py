"""Which requirement would let a unit in: read off the sweep, then set and run again before it is shown."""

from __future__ import annotations

import dataclasses
import re
from collections import Counter
from typing import Any

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Change, Relaxation, Verdict
from halfbore.domain.job import Job
from halfbore.domain.selection import Sweep
from halfbore.domain.shaftline import PositionDuty
from halfbore.domain.unit import UnitTable
from halfbore.selection.check import Check, Wish, found, nothing, verdicts
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.missing import parts_of
from halfbore.selection.need import Need
from halfbore.selection.standing import is_open

MOST = 12
"""Relaxations that are shown for one position."""
ALIKE = 3
"""Of them, those that ask for the same changes with other values."""
LOOKED_AT, TRIES = 200, 36
"""Units that are looked at for it, and those that are run again."""
PAST = (Verdict.FAILS, Verdict.NO_DATA, Verdict.OUTSIDE)
_MOVES_THE_SHAFT = re.compile(r"loads|duty|machine|positions\[\d+\]\.role")
"""Places in the job that change what the shaft line puts on the position."""


def relaxations(need: Need, swept: Sweep) -> tuple[Relaxation, ...]:
    """Return the requirements that would let more units in, singles before pairs, cheap units first.

    Every row is set in the job and run again, with the shaft line where it changes; only what then holds is shown.
    Where a unit holds already, nothing is offered that changes what the machine does. Where every unit fails and
    none would hold with a change alone, what then only waits for an answer is shown, with the question.
    """
    holding = bool((~np.isin(swept.verdict, PAST)).all(0).any())
    trial = _Trial(need if not holding else dataclasses.replace(need, again=None))
    found = _let_in(trial, swept, PAST)
    return found if found or holding or is_open(swept).any() else _let_in(trial, swept, (Verdict.FAILS,))


def _let_in(trial: _Trial, swept: Sweep, past: tuple[Verdict, ...]) -> tuple[Relaxation, ...]:
    """Return what lets units in; past: the verdicts that keep a unit out."""
    need, kept = trial.need, list[Relaxation]()
    alike: Counter[tuple[str, ...]] = Counter()
    trial.count = 0
    for r in _rows(swept, past)[:LOOKED_AT].tolist():
        unit, fails = swept.units.row(r), swept.verdict[:, r] == Verdict.FAILS
        wishes = asked(need, unit, [CHECKS[i] for i in np.flatnonzero(fails)])
        paths = tuple(w.path for w in wishes)
        if not wishes or alike[paths] >= ALIKE:
            continue
        still_open = trial.leaves(unit, wishes, past)
        if still_open is not None:
            alike[paths] += 1
            turned_away = tuple(np.array(swept.checks)[fails].tolist())
            kept.append(_relaxation(need, unit, turned_away, wishes, still_open))
        if len(kept) >= MOST or trial.count >= TRIES:
            break
    return tuple(kept)


def asked(need: Need, unit: UnitTable, checks: list[Check]) -> tuple[Wish, ...]:
    """Return the requirements that would let a unit past these checks; none where one of them has no such thing."""
    groups = [check.relax(need, unit) for check in checks]
    return merged([wish for group in groups for wish in group]) if all(groups) else ()


def _relaxation(
    need: Need,
    unit: UnitTable,
    checks: tuple[str, ...],
    wishes: tuple[Wish, ...],
    still_open: tuple[str, ...],
) -> Relaxation:
    changes = tuple(Change(w.path, value_at(need.job, w.path), w.value, w.words, w.kind) for w in wishes)
    return Relaxation(
        str(unit.code[0]), str(unit.supplier[0]), checks, changes, float(unit.price[0]), still_open
    )


def _rows(swept: Sweep, past: tuple[Verdict, ...]) -> NDArray[np.intp]:
    """Return the units that one or two checks turn away, all of which something in the job could ease."""
    fails = swept.verdict == Verdict.FAILS
    eases = np.array([[check.relax is not nothing] for check in CHECKS])
    hopeless = (np.isin(swept.verdict, past) & ~(fails & eases)).any(0)
    count = fails.sum(0)
    rows = np.flatnonzero(~hopeless & (count >= 1) & (count <= 2))
    cost = np.where(np.isnan(swept.cost[rows]), np.inf, swept.cost[rows])
    return rows[np.lexsort((swept.units.code[rows], cost, count[rows]))]


class _Trial:
    """Jobs that are eased and run again; the shaft line of one changed job is solved once."""

    def __init__(self, need: Need) -> None:
        self.need = need
        self.solved: dict[tuple[Wish, ...], PositionDuty] = {}
        self.count = 0

    def leaves(
        self, unit: UnitTable, wishes: tuple[Wish, ...], past: tuple[Verdict, ...]
    ) -> tuple[str, ...] | None:
        """Return what is still open of a unit once these requirements are set; None where a verdict keeps it out."""
        eased = self.eased(wishes)
        self.count += 1
        if eased is None:
            return None
        verdict = {check: int(verdicts(check, found(check, eased, unit))[0]) for check in CHECKS}
        if any(v in past for v in verdict.values()):
            return None
        told = (check.outcome(eased, unit) for check, v in verdict.items() if v in PAST)
        return tuple(dict.fromkeys(part for t in told for part in (parts_of(t.datum) or [t.reason])))

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
