"""What a check is: a column for all units, an outcome in words for the one that is shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.domain.check import Column, Finding, Sense, State, Verdict
from halfbore.domain.unit import UnitTable
from halfbore.numbers import is_known
from halfbore.phrases import Amount, Phrase
from halfbore.selection.need import Need
from halfbore.sources import Source
from halfbore.units import Kind, Span
from halfbore.working import Number

Floats = NDArray[np.float64]
Codes = NDArray[np.int8]
Mask = NDArray[np.bool_]

RESERVE = 0.10
"""A unit that uses more than 90 % of a limit is tight: common practice, no source."""
JUST_TIGHT = 1.0 - RESERVE + 0.001
"""Use of a limit by a unit that holds only with something said about it."""
NUMBER = int(State.NUMBER)
EXACT = 1e-9
"""Rounding that a limit forgives."""


@dataclass(frozen=True)
class Outcome:
    """One check of one unit in words and numbers; verdict and use come from its column.

    datum: what is missing and who can supply it, where that keeps the check from an answer.
    asks: what the supplier could say that settles it where the bad end alone is past the limit.
    """

    reason: str
    sources: tuple[Source, ...]
    value: Span | None = None
    limit: Span | None = None
    kind: Kind = Kind.NUMBER
    sense: Sense = Sense.AT_MOST
    datum: str = ""
    details: tuple[tuple[str, str], ...] = ()
    asks: str = ""


@dataclass(frozen=True)
class Wish:
    """A requirement of the job that would let a unit in: a path in the job, its value, in words what it is."""

    path: str
    value: object
    words: str
    kind: Kind | None = None


def nothing(_need: Need, _unit: UnitTable) -> tuple[Wish, ...]:
    """Return no wish: nothing in the job would let a unit past this check."""
    return ()


@dataclass(frozen=True)
class Check:
    """One check: how all units fare, and how one unit's result is told.

    decisive: a tight result keeps a unit from the first rank.
    fails_past: part of the limit past which a unit fails; without bound for a check that at worst makes it tight.
    relax: the requirements that would let a unit past it, all of them together.
    """

    name: str
    title: str
    column: Callable[[Need, UnitTable], Column]
    outcome: Callable[[Need, UnitTable], Outcome]
    decisive: bool = False
    fails_past: float = 1.0
    reserve: float = RESERVE
    relax: Callable[[Need, UnitTable], tuple[Wish, ...]] = nothing


def column(good: ArrayLike, bad: ArrayLike, n: int, state: ArrayLike | None = None) -> Column:
    """Return a column of n units; a use that is not a number becomes `no data` unless a state says more.

    good, bad: part of the limit used at both ends of the ranges.
    """
    low, high = (np.full(n, end) if np.ndim(end) == 0 else np.asarray(end) for end in (good, bad))
    low = np.minimum(low, high)
    codes = np.isnan(low).astype(np.int8)  # NUMBER is 0, NO_DATA is 1
    if state is not None and np.any(state):
        codes = np.where(np.asarray(state) == NUMBER, codes, state).astype(np.int8)
        low, high = (np.where(codes == NUMBER, end, np.nan) for end in (low, high))
    return Column(low, high, codes)


def everywhere(state: State, n: int) -> Column:
    """Return a column in which no unit has a number."""
    blank = np.full(n, np.nan)
    return Column(blank, blank, np.full(n, state, dtype=np.int8))


def worst(parts: Floats) -> Floats:
    """Return the largest use of several parts, a part a row; a part that is not known leaves it open.

    A part that is known to be past its limit decides whatever the others are.
    """
    most: Floats = np.maximum.reduce(parts)
    unknown = np.isnan(most)
    if not unknown.any():
        return most
    known: Floats = np.fmax.reduce(parts)
    return np.where(unknown & ~(known > 1.0 + EXACT), np.nan, known)


def found(check: Check, need: Need, units: UnitTable) -> Column:
    """Return the column of a check, worked out once for a need and a table."""
    kept = need.kept(units)
    if check.name not in kept:
        kept[check.name] = check.column(need, units)
    answer: Column = kept[check.name]
    return answer


_BY_STATE = np.array([Verdict.HOLDS, Verdict.NO_DATA, Verdict.OUTSIDE, Verdict.NOT_APPLICABLE], dtype=np.int8)
"""The verdict of each State; the first stands for a number, which decides itself."""


def judged(good: Floats, bad: Floats, state: Codes, fails_past: ArrayLike, reserve: ArrayLike) -> Codes:
    """Return verdicts: by the bad end, but failing only where the good end fails too."""
    with np.errstate(invalid="ignore"):
        verdict = (bad > 1.0 - np.asarray(reserve) + EXACT).astype(np.int8)  # HOLDS is 0, TIGHT is 1
        verdict[good > np.asarray(fails_past) + EXACT] = Verdict.FAILS
    return np.where(state == NUMBER, verdict, _BY_STATE[state])


def verdicts(check: Check, answer: Column) -> Codes:
    """Return the verdict of each unit by one check."""
    return judged(answer.good, answer.bad, answer.state, check.fails_past, check.reserve)


def in_doubt(fails_past: Number, good: Number, bad: Number) -> Mask:
    """Return whether the good end of the ranges is within a limit that fails a unit and the bad one past it."""
    return np.asarray((fails_past == 1.0) & (good <= 1.0 + EXACT) & (bad > 1.0 + EXACT))


def finding(check: Check, need: Need, unit: UnitTable, verdict: int, good: float, bad: float) -> Finding:
    """Return what a check says of one unit, for showing.

    unit: a one-row table; verdict, good, bad: from the column that decided.
    """
    told = check.outcome(need, unit)
    numeric = verdict in (Verdict.HOLDS, Verdict.TIGHT, Verdict.FAILS)
    doubtful = numeric and bool(in_doubt(check.fails_past, good, bad))
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
        datum="" if numeric else told.datum,
        details=told.details,
        in_doubt=doubtful,
        asks=told.asks if doubtful else "",
    )


def spread(low: float, high: float) -> Span | None:
    """Return a range from its two ends in either order; an end without bound is left out."""
    finite = [v for v in (low, high) if np.isfinite(v)]
    if not finite:
        return None
    a, b = min(finite), max(finite)
    return Span(a, 0.5 * (a + b), b)


def exactly(value: float) -> Span | None:
    """Return a value as a range; None for one that is not known or without bound."""
    return spread(value, value)


def given(datum: Amount) -> str:
    """Return a datum of a supplier as it is written, or that it is not given."""
    return Phrase(datum) if is_known(datum.value) else "not given"


def one(values: Floats) -> float:
    """Return the only entry of a one-row column."""
    return float(np.asarray(values).reshape(-1)[0])
