"""What a check is: a column for all units, an outcome in words for the one that is shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.domain.check import Column, Finding, Sense, State, Verdict
from halfbore.domain.unit import UnitTable
from halfbore.selection.need import Need
from halfbore.sources import Source
from halfbore.units import Kind, Span

Floats = NDArray[np.float64]
Codes = NDArray[np.int8]

RESERVE = 0.10
"""A unit that uses more than 90 % of a limit is tight: common practice, no source."""
EXACT = 1e-9
"""Rounding that a limit forgives."""


@dataclass(frozen=True)
class Outcome:
    """One check of one unit in words and numbers; verdict and use come from its column."""

    reason: str
    sources: tuple[Source, ...]
    value: Span | None = None
    limit: Span | None = None
    kind: Kind = Kind.NUMBER
    sense: Sense = Sense.AT_MOST
    datum: str = ""
    details: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Wish:
    """A requirement of the job that would let a unit in: a path in the job, its value, in words what it is."""

    path: str
    value: object
    words: str


def nothing(_need: Need, _unit: UnitTable) -> tuple[Wish, ...]:
    """Return no wish: nothing in the job would let a unit past this check."""
    return ()


@dataclass(frozen=True)
class Check:
    """One check: how all units fare, and how one unit's result is told.

    decisive: a tight result keeps a unit from the first rank; never_fails: at worst tight;
    derived: reads the columns of earlier checks.
    """

    name: str
    title: str
    column: Callable[[Need, UnitTable], Column]
    outcome: Callable[[Need, UnitTable], Outcome]
    decisive: bool = False
    never_fails: bool = False
    reserve: float = RESERVE
    relax: Callable[[Need, UnitTable], tuple[Wish, ...]] = nothing


def column(good: ArrayLike, bad: ArrayLike, n: int, state: ArrayLike | None = None) -> Column:
    """Return a column of n units; a use that is not a number becomes `no data` unless a state says more.

    good, bad: part of the limit used at both ends of the ranges.
    """
    low = np.broadcast_to(np.asarray(good, np.float64), (n,))
    high = np.broadcast_to(np.asarray(bad, np.float64), (n,))
    missing = np.where(np.isnan(low) | np.isnan(high), State.NO_DATA, State.NUMBER)
    given = np.broadcast_to(np.asarray(State.NUMBER if state is None else state), (n,))
    return Column(
        np.minimum(low, high), high, np.where(given != State.NUMBER, given, missing).astype(np.int8)
    )


def everywhere(state: State, n: int) -> Column:
    """Return a column in which no unit has a number."""
    blank = np.full(n, np.nan)
    return Column(blank, blank, np.full(n, state, dtype=np.int8))


_BY_STATE = {
    State.NO_DATA: Verdict.NO_DATA,
    State.OUTSIDE: Verdict.OUTSIDE,
    State.NOT_APPLICABLE: Verdict.NOT_APPLICABLE,
}


def verdicts(check: Check, found: Column) -> Codes:
    """Return the verdict of each unit: by the bad end, but failing only where the good end fails too."""
    with np.errstate(invalid="ignore"):
        past = found.good > 1.0 + EXACT
        near = found.bad > 1.0 - check.reserve
    worst = Verdict.TIGHT if check.never_fails else Verdict.FAILS
    by_number = np.where(past, worst, np.where(near, Verdict.TIGHT, Verdict.HOLDS))
    return np.select([found.state == s for s in _BY_STATE], list(_BY_STATE.values()), by_number).astype(
        np.int8
    )


def finding(check: Check, need: Need, unit: UnitTable, verdict: int, good: float, bad: float) -> Finding:
    """Return what a check says of one unit, for showing.

    unit: a one-row table; verdict, good, bad: from the column that decided.
    """
    told = check.outcome(need, unit)
    numeric = verdict in (Verdict.HOLDS, Verdict.TIGHT, Verdict.FAILS)
    return Finding(
        check=check.name,
        title=check.title,
        verdict=Verdict(verdict),
        kind=told.kind,
        value=told.value,
        limit=told.limit,
        sense=told.sense,
        used=Span(good, 0.5 * (good + bad), bad) if numeric and np.isfinite(good + bad) else None,
        reason=told.reason,
        sources=told.sources,
        datum=told.datum,
        details=told.details,
    )


def spread(low: float, high: float) -> Span | None:
    """Return a range from its two ends in either order; an end without bound is left out."""
    finite = [v for v in (low, high) if np.isfinite(v)]
    if not finite:
        return None
    a, b = min(finite), max(finite)
    return Span(a, 0.5 * (a + b), b)


def rounded(value: float, digits: int = 2) -> str:
    """Return a number with so many digits that count, never in powers of ten."""
    if not np.isfinite(value):
        return "no bound" if value > 0 else "nothing"
    return f"{float(f'{value:.{digits}g}'):,.10g}".replace(",", "\u2009")


def one(values: Floats) -> float:
    """Return the only entry of a one-row column."""
    return float(np.asarray(values).reshape(-1)[0])
