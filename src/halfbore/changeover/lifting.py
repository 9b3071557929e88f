"""What the lift of the shaft opens: the drive past the lift allowed, other bearings past the tilt that they bear."""

from __future__ import annotations

import math
from collections.abc import Iterator

from halfbore.domain.job import Job
from halfbore.domain.machine import Coupling, Drum, ElevatorDrum, FanWheel, ShaftDrive, Sheave
from halfbore.domain.position import Position
from halfbore.domain.shaftline import LiftResult, Neighbour
from halfbore.numbers import number
from halfbore.phrases import kilonewton, mm, phrase

MOST_TILT = math.radians(1.5)
"""Tilt that an aligning bearing bears while its cap is loose [rad] (common practice, no source)."""

_OPENED = {
    FanWheel: "the casing is opened",
    Coupling: "the coupling is opened and aligned again",
    ShaftDrive: "the torque arm is freed and set again",
    Sheave: "the drive belts are slack",
    Drum: "the belt on the drum is slack",
    ElevatorDrum: "the take-up at the boot is slack",
}
"""What the plan opens for each part; belts are slack in every plan."""


def drive_opens(position: Position, lift: LiftResult | None) -> bool:
    """Return whether the lift needed is over the lift that is surely allowed."""
    allowed = position.lift.allowed
    return lift is not None and allowed is not None and lift.lift > allowed.low


def holding_down(lift: LiftResult | None) -> tuple[Neighbour, ...]:
    """Return the other bearings that must be seen to hold the shaft down while this one is away.

    The only other one, and any that the tilt would have opened; among several closed ones the shaft lies by itself.
    """
    if lift is None:
        return ()
    alone = len(lift.neighbours) == 1
    return tuple(n for n in lift.neighbours if n.holds_down and (alone or n in tilted(lift)))


def tilted(lift: LiftResult | None) -> tuple[Neighbour, ...]:
    """Return the other bearings in which the lifted shaft tilts more than they bear, whatever they hold."""
    return tuple(n for n in lift.neighbours if abs(n.slope) > MOST_TILT) if lift is not None else ()


def notes(job: Job, position: Position, lift: LiftResult | None) -> Iterator[str]:
    """Yield how the shaft is held, and what is opened so that it can be lifted."""
    allowed = position.lift.allowed
    if lift is not None:
        yield phrase("Holding the shaft: {}.", lift.holding)
    if lift is None or (allowed is None and lift.lift > 0.0):
        yield "Lift needed was not compared with lift allowed: the drive is taken to stay closed."
    elif allowed is not None and drive_opens(position, lift):
        limit = f", limited by {position.lift.limited_by}" if position.lift.limited_by else ""
        yield phrase(
            "The unit's entry needs a lift of {} and {} is sure{}: {}.",
            mm(lift.lift, 1),
            mm(allowed.low, 1),
            limit,
            _opened(job),
        )
    for other in holding_down(lift):
        yield phrase(
            "Caution: with {} away {} holds the shaft down with up to {}: it stays closed, and a hold-down for that "
            "force is set beside it first.",
            position.name,
            other.position,
            kilonewton(-other.least),
        )
    for other in tilted(lift):
        done = (
            "it may be opened only when the hold-down carries that force"
            if other.holds_down
            else "that bearing is opened too"
        )
        yield (
            f"The lifted shaft tilts by {number(math.degrees(abs(other.slope)), places=1)}° at {other.position}, over "
            f"{number(math.degrees(MOST_TILT), places=1)}° (common practice, no source): {done}."
        )


def _opened(job: Job) -> str:
    """Return what the first conversion opens, all that may limit the lift, or where the site adds its hours."""
    found = [words for part, words in _OPENED.items() if any(isinstance(load, part) for load in job.loads)]
    if found:
        return f"in the first conversion {'; '.join(found)}; the site gives 0 h to what may stay closed"
    return (
        "no part of the drive is known, so the plan has no hours to free it; the site adds them to "
        "'Hold the shaft and take the load off' of the first conversion"
    )
