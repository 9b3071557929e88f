"""The stops on record at a position: in place of the outage of the one-piece plan, or beside it where so asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from statistics import median

import numpy as np

from halfbore.domain.economics import Economics, StopHours
from halfbore.domain.plan import PlanDraws, WayDraws
from halfbore.domain.position import Position
from halfbore.numbers import number
from halfbore.numerics.sampling import quantiles
from halfbore.phrases import Amount, phrase
from halfbore.units import Kind

FEWEST = 2
"""Stops on record from which they say anything (common practice, no source)."""


def one_piece_hours(position: Position, economics: Economics, way: WayDraws) -> WayDraws:
    """Return the changes of the one-piece bearing with the outage that the job asks for: as recorded, or planned."""
    return _paced(way, _pace(position, economics, way))


def split_hours(position: Position, economics: Economics, one_piece: WayDraws, split: WayDraws) -> WayDraws:
    """Return the changes of the split unit at the pace of the site, where its record is slower than the plan.

    one_piece, split: as planned. A site that takes longer for one bearing is taken to take longer for the other as
    well; one that is quicker is not taken to be quicker, as nothing of its record shows that (common practice, no source).
    """
    return _paced(split, max(_pace(position, economics, one_piece), 1.0))


def _pace(position: Position, economics: Economics, one_piece: WayDraws) -> float:
    times = against_the_plan(position, one_piece)
    return 1.0 if economics.one_piece_hours is StopHours.PLAN or times is None else times


def _paced(way: WayDraws, times: float) -> WayDraws:
    def scaled(change: PlanDraws) -> PlanDraws:
        return replace(change, outage=change.outage * times)

    return way if times == 1.0 else WayDraws(*map(scaled, (way.next, way.planned, way.failed, way.seized)))


def against_the_plan(position: Position, way: WayDraws) -> float | None:
    """Return how many times the plan's outage the stops on record take, at their median; None with too few of them.

    A bearing taken out as a precaution is held to the planned change, one that failed to the change after a failure.
    """
    stops = _stops(position)
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
    times, count = against_the_plan(position, way), len(_stops(position))
    if times is None:
        if count:
            yield "Fewer than two stops are on record: the outage of a one-piece change is the plan's."
        return
    work = "; in shared stops the work at the others is in it" if shared else ""
    yield (
        f"{count} stops on record took {number(times, 2)} times the one-piece plan's outage, at their median{work}: "
        f"{_taken(economics, times)} (value.one_piece_hours)."
    )


def differs(position: Position, economics: Economics, way: WayDraws) -> Iterator[str]:
    """Yield that record and plan disagree: the record's median lies outside the plan's P10 to P90.

    way: as planned.
    """
    times, stops = against_the_plan(position, way), _stops(position)
    if times is None:
        return
    plan = quantiles((way.failed if any(failed for _, failed in stops) else way.planned).outage)
    low, middle, high = map(float, (plan.p10, plan.p50, plan.p90))
    if low <= times * middle <= high:
        return
    hours = [hours for hours, _ in stops]
    yield phrase(
        "{} stops on record took {}, the plan says {} for such a change of the one-piece bearing: {}.",
        str(len(stops)),
        *(Amount(ends, Kind.DURATION) for ends in ((min(hours), max(hours)), (low, high))),
        _taken(economics, times),
    )


def _stops(position: Position) -> list[tuple[float, bool]]:
    return [(f.stop, f.failed) for f in position.history if f.stop is not None]


def _taken(economics: Economics, times: float) -> str:
    taken = f"the {economics.one_piece_hours}'s is taken"
    if economics.one_piece_hours is StopHours.PLAN:
        return taken
    split = "longer by the same part" if times > 1.0 else "the plan's"
    return f"{taken}; the hours of the split unit are {split}"
