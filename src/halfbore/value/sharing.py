"""Stops that bearings of one shaft line share: each bears its part of what the stop itself costs."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from halfbore.domain.position import Position


@dataclass(frozen=True)
class Sharing:
    """How far the stops of a position are its own.

    share: of what a stop costs that counts here, 1 where no other bearing was changed on its dates;
    others: positions that were changed on one of its dates; staying: those of them at which no split unit goes in;
    governed: part of the stops in which one of these was changed as well, so that its change goes on as it is.
    """

    share: float
    others: tuple[str, ...]
    staying: tuple[str, ...] = ()
    governed: float = 0.0


def sharing(position: Position, positions: Sequence[Position], stays: Collection[str] = ()) -> Sharing:
    """Return the stop share of a position: the mean over its dates of one over the positions changed that day.

    positions: all of the machine that the study sees; stays: names of those that keep a one-piece bearing. On a day
    that one of these shares nothing of the stop counts: its change lasts as long and costs the same as before.
    Without a record the stops are the position's own.
    """
    dates = {failure.on for failure in position.history}
    others = {p.name: {f.on for f in p.history} & dates for p in positions if p.name != position.name}
    if not dates:
        return Sharing(1.0, ())
    kept = {name: those for name, those in others.items() if name in stays and those}
    held = {day for those in kept.values() for day in those}
    each = [
        0.0 if day in held else 1.0 / (1 + sum(day in those for those in others.values()))
        for day in sorted(dates)
    ]
    named = tuple(name for name, those in others.items() if those)
    return Sharing(sum(each) / len(each), named, tuple(kept), len(held) / len(dates))
