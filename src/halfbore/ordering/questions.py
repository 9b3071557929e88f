"""What comes back from a supplier after an order, answered beforehand, assumed or shown as open.

The list is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from halfbore.domain.fields import fields_of
from halfbore.domain.job import Job
from halfbore.domain.machine import NO_ZONE_NAMED, End, FanWheel, PointLoad, ScrewFlight
from halfbore.domain.order import Answer, AnswerState, Specification, Wishes
from halfbore.domain.position import Position, SealSide
from halfbore.domain.shaftline import PositionDuty
from halfbore.domain.unit import Support, UnitTable
from halfbore.numbers import number
from halfbore.ordering.words import support_of
from halfbore.phrases import Amount, Phrase, celsius, kilonewton, micron, mm, phrase, reading, size
from halfbore.units import Kind

WEEK = 168.0


@dataclass(frozen=True)
class Asked:
    """All that an answer may rest on; duty is None before the shaft line is solved."""

    job: Job
    position: Position
    unit: UnitTable
    specification: Specification
    code: str
    version: str
    duty: PositionDuty | None
    wishes: Wishes


Reply = tuple[AnswerState, str]


def _is(text: str) -> Reply:
    return AnswerState.ANSWERED, text


def _assumed(text: str) -> Reply:
    return AnswerState.ASSUMED, text


def _no_matter(why: str) -> Reply:
    return AnswerState.NOT_APPLICABLE, why


def _open(missing: str) -> Reply:
    return AnswerState.OPEN, missing


def _seat(a: Asked) -> Reply:
    measured = a.position.seat.diameter
    if measured is None:
        return _open("seat not measured: micrometer, both ends, three angles")
    bore, lower, upper = (float(v[0]) for v in (a.unit.bore, a.unit.seat_lower, a.unit.seat_upper))
    read = phrase("{} measured", reading(measured))
    if math.isnan(lower + upper):
        return _open(phrase("{}; tolerance not given", read))
    allowed = micron((lower, upper), signed=True)
    return _is(phrase("{}; the shaft may be {} off {}", read, allowed, size(bore)))


def _under_seals(a: Asked) -> Reply:
    half = float(a.unit.length[0]) / 2
    left = _under(a.position.seal_left, a.position.x - half, a.job)
    right = _under(a.position.seal_right, a.position.x + half, a.job)
    text = phrase("drive end side {}, free end side {}", left or "not known", right or "not known")
    return _is(text) if left and right else _open(text)


def _under(side: SealSide, x: float, job: Job) -> str:
    """Return the shaft under one seal: as surveyed, else from the segments of the shaft."""
    if side.shaft_ends:
        return "the shaft ends inside"
    if side.diameter is not None:
        return phrase("{} measured", reading(side.diameter))
    end = 0.0
    for segment in job.shaft.segments:
        end += segment.length
        if 0 <= x <= end:
            return phrase("{} by the shaft's segments", size(segment.diameter))
    return ""


def _role(a: Asked) -> Reply:
    return _is("locating" if a.specification.locating else "non-locating")


def _speed(a: Asked) -> Reply:
    speeds = [c.speed for c in a.job.duty if c.speed > 0]
    if not speeds:
        return _open("no condition has a speed")
    slow = "" if min(speeds) == max(speeds) else f", down to {Phrase(Amount(min(speeds), Kind.SPEED))}"
    return _is(f"{Phrase(Amount(max(speeds), Kind.SPEED))}{slow}")


def _radial(a: Asked) -> Reply:
    if a.duty is None:
        return _open("the shaft line is not solved")
    worst = int(np.argmax(a.duty.peak_high))
    degrees = math.degrees(float(a.duty.angle[worst])) % 360
    load = kilonewton(float(a.duty.peak_high[worst]))
    mean = kilonewton(float(np.max(a.duty.equivalent_high)))
    base = math.degrees(a.position.base.turned)
    towards = f"{number(degrees)}° from straight up, positive to the right"
    turned = f", on a base turned by {number(base)}°" if base else ""
    return _is(phrase("largest {}, {}{}; equivalent {}", load, towards, turned, mean))


def _axial(a: Asked) -> Reply:
    if not a.specification.locating:
        return _no_matter("the unit does not hold the shaft")
    if a.duty is None or not a.duty.axial_known:
        return _open("what pushes the shaft axially is not known")
    return _is(phrase("{}, {}", kilonewton(float(np.max(a.duty.axial_high))), _towards(a.job)))


def _towards(job: Job) -> str:
    """Return which way the loads push the shaft."""
    ways = {
        load.thrust_towards.value
        for load in job.loads
        if isinstance(load, (FanWheel, ScrewFlight)) and load.thrust_towards
    }
    if job.shaft.inclination:
        ways.add((End.DRIVE if job.shaft.inclination > 0 else End.FREE).value)
    for load in job.loads:
        if isinstance(load, PointLoad) and (load.axial_force.low < 0 or load.axial_force.high > 0):
            ways |= {"drive end"} if load.axial_force.low < 0 else set()
            ways |= {"free end"} if load.axial_force.high > 0 else set()
    return f"towards the {' and the '.join(sorted(ways))}" if ways else "either way"


def _temperatures(a: Asked) -> Reply:
    air = celsius(a.job.machine.site.ambient)
    if a.duty is not None:
        shaft = [float(t) for t in a.duty.shaft_temperature_high]
    else:
        shaft = [c.shaft_temperature.high if c.shaft_temperature else math.nan for c in a.job.duty]
    if not shaft or any(map(math.isnan, shaft)):
        return _open(phrase("shaft temperature not known; air {}", air))
    return _is(phrase("shaft up to {}, air {}", celsius(max(shaft)), air))


def _ends(a: Asked) -> Reply:
    ended = {True: "ends inside", False: "goes through"}
    left, right = a.position.seal_left.shaft_ends, a.position.seal_right.shaft_ends
    return _is(f"drive end side {ended[left]}, free end side {ended[right]}")


def _clearance(a: Asked) -> Reply:
    group = a.specification.clearance - 1
    low, high = float(a.unit.clearance_min[0, group]), float(a.unit.clearance_max[0, group])
    if math.isnan(low):
        return _is(f"group {group + 1}")
    band = phrase("from {}", micron(low)) if math.isnan(high) else micron((low, high))
    return _is(phrase("group {}, {} on a nominal shaft", str(group + 1), band))


def _support(a: Asked) -> Reply:
    return _is(support_of(a.specification))


def _on_base(a: Asked) -> bool:
    return int(a.unit.support[0]) in (Support.PLAIN, Support.SIDE_ENTRY)


def _centre_height(a: Asked) -> Reply:
    if not _on_base(a):
        return _no_matter("the unit does not stand on a base")
    old, new = a.position.base.centre_height, float(a.unit.centre_height[0])
    if old is None or math.isnan(new):
        return _open("centre height above the base not known: measure it, or send the drawing of the base")
    step = new - old
    if abs(step) < 0.05:
        return _is(phrase("{}, as the unit", size(old)))
    change = "{} of packing" if step < 0 else "{} higher than now"
    told = phrase("base {} below the shaft centre, unit {}: ", size(old), size(new))
    return _is(phrase("{}{}", told, phrase(change, mm(abs(step), digits=4))))


def _bolts(a: Asked) -> Reply:
    if not _on_base(a):
        return _no_matter("the unit does not stand on a base")
    bolt, apart = a.position.base.bolt_size, a.position.base.bolt_spacing
    if bolt is None or apart is None:
        return _open("size and spacing of the base bolts not known")
    size, spacing = float(a.unit.bolt_size[0]), float(a.unit.bolt_spacing[0])
    made = _bolted("unit made for", size, spacing)
    told = ", within its slots" if a.unit.slots_reach(apart)[0] else ": new holes or a plate between"
    fits = "" if math.isnan(spacing) else told
    thick = ", and the bolts are thicker than it is made for" if bolt > size else ""
    return _is(phrase("{}; {}{}{}", _bolted("bolts of", bolt, apart), made, fits, thick))


def _bolted(what: str, bolt: float, apart: float) -> Phrase:
    return phrase("{} {}, {} apart", what, mm(bolt, digits=4), mm(apart, digits=5))


def _wished(a: Asked, name: str) -> Reply:
    """Return what is wanted beside the unit, or what is assumed where nothing was said."""
    wish = getattr(a.wishes, name)
    return _is(wish) if wish else _assumed(f"{_ASSUMED[name]} (assumed)")


_ASSUMED = {info.name: info.meta.assumed for info in fields_of(Wishes)}
"""What is assumed of each wish."""


def _wish(name: str) -> Callable[[Asked], Reply]:
    return lambda a: _wished(a, name)


def _spares(a: Asked) -> Reply:
    state, text = _wished(a, "spares")
    return state, _ASSUMED["spares"] if text.casefold() == "none" else text


def _lubricant(a: Asked) -> Reply:
    oil = a.job.lubricant
    state, ports = _wished(a, "ports")
    if oil is None:
        return _open(f"lubricant not named; ports: {ports}")
    grade = "" if oil.iso_vg is None else f", ISO VG {number(oil.iso_vg, 6)}"
    if oil.viscosity_40 is not None:
        grade = phrase(
            ", base oil {} at {}", Amount(oil.viscosity_40, Kind.VISCOSITY, digits=3), celsius(40.0)
        )
    return state, phrase("{}{}; ports: {}", oil.kind.value, grade, ports)


def _zone(a: Asked) -> Reply:
    site = a.job.machine.site
    special = f"; {', '.join(site.special)}" if site.special else ""
    told = f"explosive-atmosphere zone: {site.explosive_zone}"
    return (
        _assumed(f"{told} (assumed){special}")
        if site.explosive_zone == NO_ZONE_NAMED
        else _is(told + special)
    )


def _delivery(a: Asked) -> Reply:
    lead, within = float(a.unit.lead_time[0]), a.job.required.latest_delivery
    if math.isnan(lead):
        return _open("the supplier names no lead time")
    (dated, when), (parted, parts) = _wanted(a), _parts(a)
    text = f"wanted {when}, the supplier takes {_weeks(lead)}; {parts}"
    if within is not None and lead > within:
        return _open(f"{text}: too late")
    return _assumed(text) if AnswerState.ASSUMED in (dated, parted) else _is(text)


def _wanted(a: Asked) -> Reply:
    """Return when the delivery is wanted: by its date, else within the longest lead time that helps."""
    within = a.job.required.latest_delivery
    if a.wishes.wanted_by or within is None:
        state, when = _wished(a, "wanted_by")
        return state, f"by {when}" if state is AnswerState.ANSWERED else when
    return _is(f"within {_weeks(within)}")


def _weeks(hours: float) -> str:
    return f"{number(hours / WEEK, 3)} weeks"


def _parts(a: Asked) -> Reply:
    if a.wishes.part_delivery is None:
        return _assumed(f"{_ASSUMED['part_delivery']} (assumed)")
    return _is("part delivery accepted" if a.wishes.part_delivery else "all at once")


def _one_code(a: Asked) -> Reply:
    return _is(f"{a.code} alone, by catalogue version {a.version}; the words beside it say the same")


QUESTIONS: tuple[tuple[str, Callable[[Asked], Reply], str], ...] = (
    ("Shaft diameter at both ends of the seat, and its tolerance", _seat, "position.seat.diameter"),
    (
        "Shaft diameter under both seals",
        _under_seals,
        "position.seal_left.diameter position.seal_right.diameter",
    ),
    ("Locating or not", _role, "position.role"),
    ("Speed", _speed, ""),
    ("Radial load with its direction", _radial, ""),
    ("Axial load with its direction", _axial, ""),
    ("Temperature of shaft and air", _temperatures, "position.shaft_temperature machine.site.ambient"),
    (
        "Shaft through or ended on each side",
        _ends,
        "position.seal_left.shaft_ends position.seal_right.shaft_ends",
    ),
    ("Clearance", _clearance, ""),
    ("Support and hand", _support, "position.base.fixing position.room.entry_side"),
    ("Centre height, or drawing of the base", _centre_height, "position.base.centre_height"),
    ("Base bolts", _bolts, "position.base.bolt_size position.base.bolt_spacing"),
    ("Lubricant and ports", _lubricant, "lubricant.kind lubricant.iso_vg order.ports"),
    ("Sensors", _wish("sensors"), "order.sensors"),
    ("Paint", _wish("paint"), "order.paint"),
    ("Zone and special rules", _zone, "machine.site.explosive_zone machine.site.special"),
    ("Certificates", _wish("certificates"), "order.certificates"),
    ("Spares", _spares, "order.spares"),
    (
        "Date, and delivery in parts",
        _delivery,
        "order.wanted_by order.part_delivery required.latest_delivery",
    ),
    ("Which code counts", _one_code, ""),
    ("Drawing and revision", _wish("drawing"), "order.drawing"),
)
"""What the supplier asks, how it is answered, and the paths of the job that say it."""


def answers(asked: Asked) -> tuple[Answer, ...]:
    """Return every question with its answer: answered, assumed, does not apply, or open with what is missing."""
    replies = [(question, *reply(asked), told_by) for question, reply, told_by in QUESTIONS]
    return tuple(Answer(name, text, state, tuple(by.split())) for name, state, text, by in replies)
