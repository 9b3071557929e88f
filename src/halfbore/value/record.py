"""The stops on record at a position: beside the outage of the one-piece plan, or in its place where so asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from statistics import median

import numpy as np

from halfbore.domain.economics import Economics, StopHours
from halfbore.domain.plan import PlanDraws, WayDraws
from halfbore.domain.position import Position
from halfbore.numbers import number

FEWEST = 2
"""Stops on record from which they say anything (common practice, no source)."""


def one_piece_hours(position: Position, economics: Economics, way: WayDraws) -> WayDraws:
    """Return the changes of the one-piece bearing with the outage that the job asks for: planned, or as recorded."""
    times = against_the_plan(position, way)
    if economics.one_piece_hours is StopHours.PLAN or times is None:
        return way

    def scaled(change: PlanDraws) -> PlanDraws:
        return replace(change, outage=change.outage * times)

    return WayDraws(*(scaled(change) for change in (way.next, way.planned, way.failed, way.seized)))


def against_the_plan(position: Position, way: WayDraws) -> float | None:
    """Return how many times the plan's outage the stops on record take, at their median; None with too few of them.

    A bearing taken out as a precaution is held to the planned change, one that failed to the change after a failure.
    """
    stops = [(f.stop, f.failed) for f in position.history if f.stop is not None]
    if len(stops) < FEWEST:
        return None
    middle = {
        failed: float(np.median(draws.outage)) for failed, draws in ((False, way.planned), (True, way.failed))
    }
    return median(hours / middle[failed] for hours, failed in stops)


def said(position: Position, economics: Economics, way: WayDraws, shared: bool) -> Iterator[str]:
    """Yield which outage of a one-piece change is taken, and what the other would be.

    way: as planned; shared: stops on record were shared with other positions.
    """
    times, asked = against_the_plan(position, way), economics.one_piece_hours is StopHours.RECORD
    if times is None:
        if asked:
            yield "Fewer than two stops are on record: the outage of a one-piece change is the plan's."
        return
    count = sum(f.stop is not None for f in position.history)
    work = "; in shared stops the work at the others is in it" if shared else ""
    taken = "the record's is taken" if asked else "the plan's is taken (value.one_piece_hours)"
    yield (
        f"{count} stops on record took {number(times, 2)} times the one-piece plan's outage, at their median{work}: "
        f"{taken}."
    )
