"""The stops on record at a position against the outage that the one-piece plan reckons with."""

from __future__ import annotations

from collections.abc import Iterator

from halfbore.domain.plan import PlanDraws, WayDraws
from halfbore.domain.position import Position
from halfbore.numbers import number
from halfbore.numerics.sampling import quantiles

MANY = 0.5
"""More than this share of the stops on record lie on one side of P10 to P90: one in ten does so by luck."""


def against_the_record(position: Position, one_piece: WayDraws) -> Iterator[str]:
    """Yield what the stops on record say against the outage of a one-piece change, P10 to P90.

    A bearing taken out as a precaution is held to the planned change, one that failed to the change after a failure.
    """
    for failed, draws, kind in (
        (False, one_piece.planned, "planned"),
        (True, one_piece.failed, "unplanned"),
    ):
        stops = [f.stop for f in position.history if f.stop is not None and f.failed is failed]
        if stops:
            yield from _outside(sorted(stops), draws, kind)


def _outside(stops: list[float], draws: PlanDraws, kind: str) -> Iterator[str]:
    low, _, high = (float(hours) for hours in quantiles(draws.outage))
    sides = (("below", [s for s in stops if s < low]), ("above", [s for s in stops if s > high]))
    for side, beyond in sides:
        if beyond and len(beyond) > MANY * len(stops):
            count = "" if len(beyond) == len(stops) else f"{len(beyond)} of {len(stops)} "
            who = f"{count}recorded {kind} stops of {number((beyond[0], beyond[-1]), 3)} h"
            yield (
                f"{who[0].upper()}{who[1:]} lie {side} the plan's {number((low, high), places=1)} h: "
                "enter the site's own hours under [[changeover.tasks]]."
            )
