"""Checks of units against a position: columns for all units, findings for the rows that are shown."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum, StrEnum

import numpy as np
from numpy.typing import NDArray

from halfbore.phrases import Amount, Phrase, joined, phrase
from halfbore.sources import Source
from halfbore.units import Kind, Span, units_of

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
    datum: what is missing and who can supply it.
    in_doubt: the unit holds at the good end of the ranges and fails at the bad one; asks: what the supplier could
    say that settles it, empty where only what is uncertain on the site does.
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
    in_doubt: bool = False
    asks: str = ""


@dataclass(frozen=True)
class Change:
    """One requirement of the job set to another value.

    path: place in the job, such as positions[0].room.plain_left; now, value: what stands there and what would;
    words: what it is; kind: what it measures, None for what is no quantity.
    """

    path: str
    now: object
    value: object
    words: str
    kind: Kind | None = None

    @property
    def would_be(self) -> str:
        """What would stand there, in internal units."""
        if isinstance(self.value, tuple):
            return self.words
        return phrase("{} {}", self.words, _written(self.value, self.kind))

    @property
    def was(self) -> str:
        """What stands there now, in internal units."""
        return "nothing" if self.now is None or self.now == () else _written(self.now, self.kind)


_FINEST = {Kind.LENGTH: 0.001, Kind.FORCE: 1.0}
"""The smallest step in which a requirement is written [internal unit]; six digits count where there is none."""


def _written(value: object, kind: Kind | None) -> str:
    if isinstance(value, tuple):
        return " and ".join(str(getattr(part, "name", part)) for part in value)
    if kind is None or not isinstance(value, Span | float):
        return str(value)
    step = _FINEST.get(kind, 0.0)
    return Phrase(Amount(value, kind, units_of(kind)[0], digits=9 if step else 6, resolution=step))


@dataclass(frozen=True)
class Relaxation:
    """What the job would have to allow to let one more unit in: set all changes, and the unit holds.

    unit: its code; supplier: whose; checks: those that turn it away now; price: of the unit, NaN when not given.
    open: what must be settled besides, which nothing in the job can ease; empty where the unit then holds.
    """

    unit: str
    supplier: str
    checks: tuple[str, ...]
    changes: tuple[Change, ...]
    price: float
    open: tuple[str, ...] = ()

    @property
    def would_be(self) -> str:
        """All requirements as they would be, as one phrase."""
        return joined("; ", (change.would_be for change in self.changes))

    @property
    def now(self) -> str:
        """What stands there now, in the same order."""
        return joined("; ", (change.was for change in self.changes))

    @property
    def text(self) -> str:
        """All changes as one phrase, and what would still be open."""
        changed = (phrase("{} instead of {}", change.would_be, change.was) for change in self.changes)
        return joined("; ", (*changed, *self.still_open))

    @property
    def still_open(self) -> tuple[str, ...]:
        """What must be settled besides, as a phrase of its own where there is any."""
        return (phrase("then still open: {}", joined("; ", self.open)),) if self.open else ()
