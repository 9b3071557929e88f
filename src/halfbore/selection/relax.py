"""Which requirement would let a unit in: read off the sweep, then set and run again before it is shown."""

from __future__ import annotations

import dataclasses
import re
from typing import Any

import numpy as np

from halfbore.domain.check import Relaxation, Verdict
from halfbore.domain.job import Job
from halfbore.domain.selection import Sweep
from halfbore.domain.unit import UnitTable
from halfbore.selection.check import Wish, verdicts
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.need import Need
from halfbore.units import Span

MOST = 12
"""Relaxations that are worked out for one position."""
PAST = (Verdict.FAILS, Verdict.NO_DATA, Verdict.OUTSIDE)


def relaxations(need: Need, found: Sweep) -> tuple[Relaxation, ...]:
    """Return the requirements that would let more units in, singles before pairs, cheap units first.

    Every row is set in the job and run again; only those that then hold are returned.
    """
    past = np.isin(found.verdict, PAST)
    fails = (found.verdict == Verdict.FAILS).sum(0)
    failing = past.sum(0)
    rows = np.flatnonzero((failing <= 2) & (failing >= 1) & (fails == failing))
    cost = np.where(np.isnan(found.cost[rows]), np.inf, found.cost[rows])
    ordered = rows[np.lexsort((found.units.code[rows], cost, failing[rows]))]
    kept: list[Relaxation] = []
    for r in ordered[: 4 * MOST]:
        one = _relaxed(need, found, int(r))
        if one is not None:
            kept.append(one)
        if len(kept) >= MOST:
            break
    return tuple(kept)


def _relaxed(need: Need, found: Sweep, row: int) -> Relaxation | None:
    unit = found.units.row(row)
    failing = [i for i in range(len(CHECKS)) if found.verdict[i, row] == Verdict.FAILS]
    wishes = [CHECKS[i].relax(need, unit) for i in failing]
    if not all(wishes):
        return None
    merged = _merged([w for group in wishes for w in group])
    eased = with_wishes(need, merged)
    if not holds(eased, unit):
        return None
    first = merged[0]
    return Relaxation(
        str(unit.code[0]),
        tuple(CHECKS[i].name for i in failing),
        "; ".join(w.path for w in merged),
        "; ".join(_text(value_at(need.job, w.path)) for w in merged),
        "; ".join(f"{w.words} {_text(w.value)}" for w in merged),
        float(first.value) if isinstance(first.value, (int, float)) else float("nan"),
        float(unit.price[0]),
    )


def _merged(wishes: list[Wish]) -> list[Wish]:
    """Return one wish a path; of two for a required life the lower is the one that serves both."""
    by_path: dict[str, Wish] = {}
    for w in wishes:
        old = by_path.get(w.path)
        lower = old is None or (
            isinstance(w.value, float) and isinstance(old.value, float) and w.value < old.value
        )
        if lower:
            by_path[w.path] = w
    return list(by_path.values())


def with_wishes(need: Need, wishes: list[Wish]) -> Need:
    """Return the need with these requirements set in its job."""
    job = need.job
    for w in wishes:
        job = with_value(job, w.path, w.value)
    return _need_of(job, need)


def _need_of(job: Job, need: Need) -> Need:
    """Return the need of a changed job; speeds and thrusts follow into the duty."""
    duty = dataclasses.replace(need.duty, speed=np.array([c.speed for c in job.duty]))
    before, after = _thrust(need.job), _thrust(job)
    if before > 0 and after != before:
        scale = after / before
        duty = dataclasses.replace(
            duty, axial_low=duty.axial_low * min(scale, 1.0), axial_high=duty.axial_high * scale
        )
    return Need(job, need.index, duty)


def _thrust(job: Job) -> float:
    """Return the largest named axial force of the machine [N]."""
    named = [
        getattr(x, n).high for x in job.loads for n in ("axial_thrust", "axial_force") if getattr(x, n, None)
    ]
    return max(named, default=0.0)


def holds(need: Need, unit: UnitTable) -> bool:
    """Whether a unit is turned away by no check."""
    return not any(int(verdicts(c, c.column(need, unit))[0]) in PAST for c in CHECKS)


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


def _text(value: Any) -> str:
    if isinstance(value, Span):
        return f"{value.low:g}" if value.exact else f"{value.low:g} to {value.high:g}"
    return f"{value:g}" if isinstance(value, (int, float)) else str(value)
