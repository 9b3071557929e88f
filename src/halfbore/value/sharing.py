"""Stops that bearings of one shaft line share: each bears its part of what the stop itself costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from halfbore.domain.position import Position


@dataclass(frozen=True)
class Sharing:
    """How far the stops of a position are its own.

    share: of what a stop costs that counts here, 1 where no other bearing was changed on its dates;
    others: positions that were changed on one of its dates.
    """

    share: float
    others: tuple[str, ...]


def sharing(position: Position, positions: Sequence[Position]) -> Sharing:
    """Return the stop share of a position: the mean over its dates of one over the positions changed that day.

    positions: all of the machine that the study sees. Without a record the stops are the position's own.
    """
    dates = {failure.on for failure in position.history}
    others = {p.name: {f.on for f in p.history} & dates for p in positions if p.name != position.name}
    if not dates:
        return Sharing(1.0, ())
    each = [1.0 / (1 + sum(day in those for those in others.values())) for day in sorted(dates)]
    return Sharing(sum(each) / len(each), tuple(name for name, those in others.items() if those))
