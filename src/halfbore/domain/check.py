"""Checks of units against a position: columns for all units, findings for the rows that are shown."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum, StrEnum

import numpy as np
from numpy.typing import NDArray

from halfbore.sources import Source
from halfbore.units import Kind, Span

Floats = NDArray[np.float64]
Codes = NDArray[np.int8]


class State(IntEnum):
    """Why a check gives no number for a unit; NUMBER where it gives one."""

    NUMBER = 0
    NO_DATA = 1
    OUTSIDE = 2
    NOT_APPLICABLE = 3


class Verdict(IntEnum):
    """What a check says of a unit."""

    HOLDS = 0
    TIGHT = 1
    FAILS = 2
    OUTSIDE = 3
    NO_DATA = 4
    NOT_APPLICABLE = 5

    @property
    def word(self) -> str:
        """The verdict as it is written."""
        return _WORDS[self]


_WORDS = {
    Verdict.HOLDS: "holds",
    Verdict.TIGHT: "tight",
    Verdict.FAILS: "fails",
    Verdict.OUTSIDE: "outside the method",
    Verdict.NO_DATA: "no data",
    Verdict.NOT_APPLICABLE: "does not apply",
}


class Sense(StrEnum):
    """Whether the limit is a ceiling or a floor."""

    AT_MOST = "≤"
    AT_LEAST = "≥"


@dataclass(frozen=True)
class Column:
    """One check for all units: part of the limit used at the good and at the bad end of the ranges (n)."""

    good: Floats
    bad: Floats
    state: Codes


@dataclass(frozen=True)
class Finding:
    """One check of one unit, in words and numbers.

    value, limit: in the internal unit of kind; used: part of the limit, good end to bad end.
    datum: what is missing and who can supply it; way: what would bring it in.
    """

    check: str
    title: str
    verdict: Verdict
    kind: Kind
    value: Span | None
    limit: Span | None
    sense: Sense
    used: Span | None
    reason: str
    sources: tuple[Source, ...]
    datum: str = ""
    details: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Relaxation:
    """A requirement of the job that, set to this value, would let one more unit in."""

    unit: str
    checks: tuple[str, ...]
    path: str
    now: str
    would_be: str
    value: float
    price: float
