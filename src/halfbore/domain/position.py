"""One bearing position as surveyed: the old bearing, the seat, the room, the base, the way in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Annotated

from halfbore.domain.fields import Note, Quantity
from halfbore.units import Kind, Span


class Role(StrEnum):
    """Whether the position shall hold the shaft axially."""

    LOCATING = "locating"
    NON_LOCATING = "non-locating"


class Mounting(StrEnum):
    """How the old bearing sits on the shaft."""

    ADAPTER_SLEEVE = "adapter sleeve"
    WITHDRAWAL_SLEEVE = "withdrawal sleeve"
    DIRECT_SEAT = "direct seat"
    TAPERED_SEAT = "tapered seat"
    SET_SCREW = "set screw"
    ECCENTRIC_COLLAR = "eccentric collar"
    PLAIN_BUSH = "plain bush"
    SPLIT_UNIT = "split unit"


class EntrySide(StrEnum):
    """From which side of the shaft, seen from the drive end, a support can be brought in."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"
    NEITHER = "neither"


class Fixing(StrEnum):
    """What carries the bearing."""

    BASE = "base"
    SIDE_ENTRY = "side-entry base"
    WALL = "wall"
    TAKE_UP = "take-up frame"


class DamageMode(StrEnum):
    """Why the last bearing died, in the terms of ISO 15243:2017 and of the trade."""

    SUBSURFACE_FATIGUE = "subsurface initiated fatigue"
    SURFACE_FATIGUE = "surface initiated fatigue"
    ABRASIVE_WEAR = "abrasive wear"
    ADHESIVE_WEAR = "adhesive wear"
    MOISTURE_CORROSION = "moisture corrosion"
    FRETTING = "fretting corrosion"
    FALSE_BRINELLING = "false brinelling"
    CURRENT = "electrical erosion"
    OVERLOAD = "overload"
    INDENTATION = "indentations from particles"
    FRACTURE = "forced fracture"
    FATIGUE_FRACTURE = "fatigue fracture"
    THERMAL_CRACKING = "thermal cracking"
    NOT_KNOWN = "not known"


@dataclass(frozen=True)
class Seat:
    """The ground part of the shaft under the inner ring, as measured."""

    diameter: Annotated[Span | None, Quantity(Kind.LENGTH, "measured diameter, smallest to largest reading", (30, 620), (5, 1500))] = None
    form_error: Annotated[Span | None, Quantity(Kind.LENGTH, "roundness and taper, the larger", (0, 0.1), (0, 5))] = None
    nominal: Annotated[float | None, Quantity(Kind.LENGTH, "nominal diameter the unit shall have", (30, 620), (5, 1500))] = None
    note: Annotated[str, Note("what was seen and done")] = ""


@dataclass(frozen=True)
class Room:
    """Free room along and around the shaft."""

    plain_left: Annotated[float | None, Quantity(Kind.LENGTH, "plain shaft from the position towards the drive end, to the next step, hub, key or wall", (20, 5000), (0, 20000))] = None
    plain_right: Annotated[float | None, Quantity(Kind.LENGTH, "plain shaft from the position towards the free end", (20, 5000), (0, 20000))] = None
    left_is: Annotated[str, Note("what ends the room towards the drive end")] = ""
    right_is: Annotated[str, Note("what ends the room towards the free end")] = ""
    beside: Annotated[float | None, Quantity(Kind.LENGTH, "free width beside the shaft centre on the entry side", (50, 5000), (0, 20000))] = None
    entry_side: Annotated[EntrySide | None, Note("side from which a support can be brought in, seen from the drive end")] = None
    headroom: Annotated[float | None, Quantity(Kind.LENGTH, "free height above the shaft centre", (100, 10000), (0, 50000))] = None
    hoist: Annotated[bool | None, Note("a hoist or crane reaches the position")] = None


@dataclass(frozen=True)
class Base:
    """What the unit stands on."""

    fixing: Annotated[Fixing, Note("what carries the bearing", assumed="a horizontal base")] = Fixing.BASE
    turned: Annotated[float, Quantity(Kind.ANGLE, "angle by which the base is turned about the shaft, positive to the right seen from the drive end; 90° where a take-up frame travels upright", (-1.6, 1.6), (-6.3, 6.3), assumed="a level base, a take-up frame that travels level")] = 0.0
    centre_height: Annotated[float | None, Quantity(Kind.LENGTH, "height of the shaft centre above the base", (40, 800), (0, 5000))] = None
    bolt_spacing: Annotated[float | None, Quantity(Kind.LENGTH, "distance of the base bolts across the shaft", (80, 2000), (10, 5000))] = None
    bolt_size: Annotated[float | None, Quantity(Kind.LENGTH, "diameter of the base bolts", (8, 64), (4, 150))] = None
    stud_stick_out: Annotated[Span, Quantity(Kind.LENGTH, "height by which studs stand above the base; 0 for bolts that come out", (0, 200), (0, 1000), assumed="bolts come out upwards")] = Span(0.0, 0.0, 0.0)
    height_error: Annotated[Span, Quantity(Kind.LENGTH, "surveyed height of this base against the straight line of the others", (-3, 3), (-100, 100), assumed="in line")] = Span(0.0, 0.0, 0.0)
    tilt_error: Annotated[Span, Quantity(Kind.ANGLE, "tilt of the base along the shaft", (0, 0.01), (0, 0.2), assumed="up to 1 mm per m, common practice")] = Span(0.0, 0.0005, 0.001)
    holds_down: Annotated[bool, Note("cap and bolts hold the shaft down as well as up", assumed="a closed housing holds both ways")] = True
    drive_can_follow: Annotated[bool, Note("the whole line can be raised and the drive aligned again", assumed="the drive stays where it is")] = False


@dataclass(frozen=True)
class Lift:
    """How far the shaft may be lifted here, and what limits it."""

    allowed: Annotated[Span | None, Quantity(Kind.LENGTH, "lift that clearances allow", (0, 100), (0, 1000))] = None
    limited_by: Annotated[str, Note("coupling, wheel gap, casing seals or other")] = ""
    jack_x: Annotated[float | None, Quantity(Kind.LENGTH, "place of the jack or sling along the shaft", (0, 20000), (0, 20000))] = None


@dataclass(frozen=True)
class SealSide:
    """One side of the position: the diameter that the seal runs on, and whether the shaft goes on."""

    diameter: Annotated[float | None, Quantity(Kind.LENGTH, "shaft diameter under the seal", (30, 650), (5, 1500))] = None
    shaft_ends: Annotated[bool, Note("the shaft ends inside the unit on this side", assumed="the shaft goes through")] = False


@dataclass(frozen=True)
class Failure:
    """One bearing that was taken out."""

    on: Annotated[date, Note("date of removal")]
    why: Annotated[DamageMode, Note("how it died", assumed="not known")] = DamageMode.NOT_KNOWN
    failed: Annotated[bool, Note("it had failed; false for one taken out as a precaution", assumed="it had failed")] = True
    stop: Annotated[float | None, Quantity(Kind.DURATION, "hours from product off to product on", (0.2, 400), (0, 10000))] = None
    note: Annotated[str, Note("what was seen")] = ""


@dataclass(frozen=True)
class Position:
    """One bearing location on the shaft line."""

    name: Annotated[str, Note("tag or name")]
    x: Annotated[float, Quantity(Kind.LENGTH, "place along the shaft", limits=(0, 20000))]
    role: Annotated[Role, Note("whether it shall hold the shaft axially")]
    convert: Annotated[bool, Note("a split unit is wanted here; false keeps what is there", assumed="wanted")] = True
    trapped_between: Annotated[tuple[str, ...], Note("drive parts on both sides that keep a one-piece bearing from coming off", assumed="nothing traps it")] = ()
    old_mounting: Annotated[Mounting | None, Note("how the old bearing sits on the shaft")] = None
    old_is_seized: Annotated[bool, Note("the old bearing has seized on the shaft", assumed="it turns")] = False
    seat: Annotated[Seat, Note("the shaft seat as measured")] = Seat()
    shaft_temperature: Annotated[Span | None, Quantity(Kind.TEMPERATURE, "shaft beside this bearing, measured in running; counts before what the condition says or hot gas gives", (-40, 150), (-60, 500))] = None
    room: Annotated[Room, Note("free room along and around the shaft")] = Room()
    base: Annotated[Base, Note("what the unit stands on")] = Base()
    lift: Annotated[Lift, Note("how far the shaft may be lifted here")] = Lift()
    seal_left: Annotated[SealSide, Note("side towards the drive end")] = SealSide()
    seal_right: Annotated[SealSide, Note("side towards the free end")] = SealSide()
    history: Annotated[tuple[Failure, ...], Note("bearings taken out here, oldest first", assumed="no record")] = ()
    in_service_since: Annotated[date | None, Note("since when the present bearing runs")] = None
    surveyed_by: Annotated[str, Note("who measured, with what, when")] = ""

    @property
    def trapped(self) -> bool:
        """Whether drive parts stand on both sides."""
        return len(self.trapped_between) >= 2
