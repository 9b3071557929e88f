"""What decides which tasks a changeover has: what traps the bearing, how it sits, what the site allows."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from halfbore.changeover import dangers, lifting
from halfbore.changeover.seat_branches import SeatState, seat_state
from halfbore.domain.economics import Stop
from halfbore.domain.job import Job
from halfbore.domain.machine import (
    Coupling,
    Drum,
    ElevatorDrum,
    FanWheel,
    Load,
    Paddles,
    PointLoad,
    ScrewFlight,
    ShaftDrive,
    Sheave,
)
from halfbore.domain.plan import Hazard
from halfbore.domain.position import Mounting, Position
from halfbore.domain.shaftline import LiftResult
from halfbore.domain.unit import LIFT_BY_HAND, UnitTable, heaviest_part
from halfbore.phrases import Amount, mm, phrase
from halfbore.units import Kind

HEIGHT_TOLERANCE = 0.05
"""Centre heights that differ by less are one height [mm] (common practice, no source)."""


class Trap(StrEnum):
    """A part that a one-piece bearing must pass on its way off the shaft."""

    COUPLING = "coupling"
    SHEAVE = "sheave"
    NEXT_BEARING = "next bearing"
    DRIVE = "shaft-mounted drive"
    WHEEL = "fan wheel"
    OTHER = "other part"
    DRUM = "drum"
    PADDLES = "paddles"
    FLIGHT = "screw flight"


_EFFORT = {
    Trap.NEXT_BEARING: 3.0,
    Trap.COUPLING: 6.0,
    Trap.SHEAVE: 6.0,
    Trap.OTHER: 5.0,
    Trap.DRIVE: 7.0,
    Trap.WHEEL: 8.0,
    Trap.DRUM: 100.0,
    Trap.PADDLES: 100.0,
    Trap.FLIGHT: 100.0,
}
"""Rough hours to take a part off and put it back: which end of the shaft is the easier way out."""
_TRAP_OF: dict[type[Load], Trap] = {
    Coupling: Trap.COUPLING,
    Sheave: Trap.SHEAVE,
    ShaftDrive: Trap.DRIVE,
    FanWheel: Trap.WHEEL,
    Drum: Trap.DRUM,
    ElevatorDrum: Trap.DRUM,
    Paddles: Trap.PADDLES,
    ScrewFlight: Trap.FLIGHT,
    PointLoad: Trap.OTHER,
}


class BaseHeight(StrEnum):
    """The new unit's centre height against the old one's."""

    NOT_HIGHER = "not higher"
    MILL = "higher, the base is milled"
    RAISE = "higher, the line is raised"
    UNKNOWN = "not compared"


class Beginning(StrEnum):
    """How a change begins."""

    PLANNED = "planned"
    FAILED = "after a failure"
    SEIZED = "after a seizure"


@dataclass(frozen=True)
class Situation:
    """All that decides the tasks of the plans of one position; one situation serves every plan.

    traps: what a one-piece bearing must pass, empty where it comes off freely;
    drive_opens: lift needed is over lift allowed; casing_opens: so it is, and a wheel stands in a casing;
    others_open: other bearings in which the lifted shaft tilts too far; held_down: other bearings that hold the shaft
    down, which stay closed; dangers: what machine and site add to the hazards of the work; size: shaft diameter [mm].
    """

    position: str
    mounting: Mounting | None
    trapped: bool
    traps: tuple[Trap, ...]
    wheel_side: bool
    coupling: bool
    drive: bool
    belts: bool
    drum: bool
    hot_work: bool
    hoist: bool
    seat: SeatState
    base: BaseHeight
    drive_opens: bool
    casing_opens: bool
    others_open: int
    held_down: int
    dangers: tuple[Hazard, ...]
    size: float
    next: Beginning
    notes: tuple[str, ...]


def situation_of(
    job: Job, position: Position, unit: UnitTable, lift: LiftResult | None, base_step: float
) -> Situation:
    """Return the situation of a position.

    unit: the chosen unit, one row; lift: the shaft lifted by what the entry of this unit needs, None if not solved;
    base_step: new centre height less the old one [mm], NaN where it is not known.
    """
    traps = way_out(job, position) if position.trapped else ()
    opens, tilted = lifting.drive_opens(position, lift), lifting.tilted(lift)
    return Situation(
        position=position.name,
        mounting=position.old_mounting,
        trapped=position.trapped,
        traps=traps,
        wheel_side=_beside_overhung_wheel(job, position),
        coupling=_any(job, Coupling),
        drive=_any(job, ShaftDrive),
        belts=_any(job, Sheave),
        drum=_any(job, Drum) or _any(job, ElevatorDrum),
        hot_work=job.changeover.hot_work_allowed,
        hoist=bool(position.room.hoist),
        seat=seat_state(position, unit),
        base=_base_height(position, base_step),
        drive_opens=opens,
        casing_opens=opens and _any(job, FanWheel),
        others_open=sum(not other.holds_down for other in tilted),
        held_down=len(lifting.holding_down(lift)),
        dangers=tuple(dangers.of(job)),
        size=job.shaft.segment_at(position.x).diameter,
        next=_next_beginning(job, position),
        notes=(
            *lifting.notes(job, position, lift),
            *dangers.notes(job),
            *_other_notes(position, unit, base_step),
        ),
    )


def way_out(job: Job, position: Position) -> tuple[Trap, ...]:
    """Return the parts that a one-piece bearing must pass, over the easier end of the shaft.

    A side on which the survey names a trap but no load stands counts as one other part.
    """
    ways = [_passed(job, position, side) or (Trap.OTHER,) for side in (-1.0, 1.0)]
    return min(ways, key=lambda parts: sum(_EFFORT[part] for part in parts))


def _passed(job: Job, position: Position, side: float) -> tuple[Trap, ...]:
    parts = [(load.x, _TRAP_OF[type(load)]) for load in job.loads]
    parts += [(other.x, Trap.NEXT_BEARING) for other in job.positions if other.name != position.name]
    beyond = [(x, part) for x, part in parts if (x - position.x) * side > 0.0]
    return tuple(part for _, part in sorted(beyond, key=lambda item: -abs(item[0] - position.x)))


def _any(job: Job, part: type) -> bool:
    return any(isinstance(load, part) for load in job.loads)


def _beside_overhung_wheel(job: Job, position: Position) -> bool:
    """Return whether a wheel hangs over beyond this, the last bearing on its side."""
    places = [p.x for p in job.positions]
    wheels = [load.x for load in job.loads if isinstance(load, FanWheel)]
    after = position.x == max(places) and any(x > position.x for x in wheels)
    before = position.x == min(places) and any(x < position.x for x in wheels)
    return after or before


def _base_height(position: Position, step: float) -> BaseHeight:
    if math.isnan(step):
        return BaseHeight.UNKNOWN
    if step <= HEIGHT_TOLERANCE:
        return BaseHeight.NOT_HIGHER
    return BaseHeight.RAISE if position.base.drive_can_follow else BaseHeight.MILL


def _next_beginning(job: Job, position: Position) -> Beginning:
    if position.old_is_seized:
        return Beginning.SEIZED
    return Beginning.FAILED if job.changeover.next_stop is Stop.UNPLANNED else Beginning.PLANNED


def _other_notes(position: Position, unit: UnitTable, base_step: float) -> Iterable[str]:
    if math.isnan(base_step):
        yield "The new centre height was not compared with the old one: one chance in five that the base is worked on."
    elif base_step > HEIGHT_TOLERANCE:
        work = (
            "the line is raised, the drive aligned again"
            if position.base.drive_can_follow
            else "the base is milled"
        )
        yield phrase("The new centre is {} above the old one: {}.", mm(base_step, 1), work)
    if position.trapped and position.old_mounting is None:
        yield "How the old bearing sits on the shaft is not known: the hours to get it off are a wide guess."
    part = heaviest_part(unit)
    if part > LIFT_BY_HAND:
        weight = Amount(part, Kind.MASS, "kg", resolution=1.0)
        yield phrase("The heaviest part weighs {}: it goes in with lifting gear.", weight)
