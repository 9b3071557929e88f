"""What the survey asks and in which order; what goes wrong most often, beside the field that it spoils."""

from __future__ import annotations

from dataclasses import dataclass

from halfbore.domain.fields import fields_of
from halfbore.domain.survey import Thing
from halfbore.domain.survey_form import PARTS, Ask, SheetKind
from halfbore.present.survey_layouts import Layout


@dataclass(frozen=True)
class Group:
    """Fields that are asked together."""

    title: str
    asks: tuple[Ask, ...]


def _group(title: str, thing: Thing, *paths: str) -> Group:
    return Group(title, tuple(Ask(thing, path) for path in paths))


PLANT = _group(
    "Plant", Thing.PLANT, "customer", "machine.plant", "value.currency", "value.labour", "value.crane_call"
)
PLATES = _group(
    "Name plates",
    Thing.MACHINE,
    *("machine.name_plate.power", "machine.name_plate.motor_speed", "machine.name_plate.ratio"),
    *("machine.name_plate.arrangement", "machine.variable_speed"),
)
SITE = _group(
    "Around the bearings",
    Thing.MACHINE,
    *("machine.site.ambient", "machine.site.contamination", "machine.site.dust", "machine.site.water"),
    *("machine.site.pressure_across_seal", "machine.site.explosive_zone", "machine.site.special"),
)
STOPPED = _group(
    "What a stop costs",
    Thing.MACHINE,
    *(f"value.stopped_production[{i}].{name}" for i in range(3) for name in ("after", "rate", "once")),
)
STOPS = _group(
    "What else a stop costs",
    Thing.MACHINE,
    *("value.unplanned_extra", "value.hours_a_year", "value.stop_length", "value.planned_share"),
    "value.one_piece_price",
)
WORK = _group(
    "The work",
    Thing.MACHINE,
    *("changeover.crew", "changeover.isolation_lead", "changeover.cooling", "changeover.run_up"),
    *("changeover.next_stop", "changeover.hot_work_allowed", "order.ports", "order.sensors"),
)
RUNNING = _group("rotation", Thing.MACHINE, "machine.rotation")
LOCATES = _group(
    "What else holds the shaft axially",
    Thing.MACHINE,
    *(f"machine.locates[{i}].{name}" for i in range(2) for name in ("name", "holds", "x")),
)
LUBRICANT = _group(
    "Lubricant and duty",
    Thing.MACHINE,
    *("lubricant.kind", "lubricant.iso_vg", "lubricant.viscosity_40", "lubricant.viscosity_100"),
    *("lubricant.proven_ep", "required.life", "required.shock"),
)
KIND = _group("Kind", Thing.MACHINE, "machine.kind")
MACHINE = (KIND, PLATES, RUNNING, SITE, LUBRICANT, STOPPED, STOPS, WORK, LOCATES)
SHAFT = _group("shaft", Thing.SHAFT_LINE, "shaft.material", "shaft.inclination")
SHAFT_LINE = (SHAFT,)
CONDITION = _group(
    "What the machine does",
    Thing.CONDITION,
    *("name", "share", "speed", "load_factor", "shaft_temperature", "housing_temperature"),
)
SEGMENT = _group("Steps of the shaft", Thing.SEGMENT, "length", "diameter", "bore")
SEAT = _group(
    "The bearing that is there and its seat",
    Thing.POSITION,
    *("old_mounting", "old_is_seized", "trapped_between", "role", "convert", "in_service_since"),
    *("seat.nominal", "seat.form_error", "seat.note", "seal_left.shaft_ends", "seal_right.shaft_ends"),
    *("room.left_is", "room.right_is", "shaft_temperature"),
)
BASE = _group(
    "Base, way in, and who measured",
    Thing.POSITION,
    *(
        "base.fixing",
        "base.turned",
        "base.holds_down",
        "base.height_error",
        "base.tilt_error",
        "base.drive_can_follow",
    ),
    *("room.entry_side", "room.hoist", "lift.limited_by", "lift.jack_x", "surveyed_by"),
)
FAILURE = _group("Bearings taken out", Thing.FAILURE, "on", "why", "failed", "stop", "note")
POSITION = (SEAT, BASE)
DESK = {
    *(Ask(Thing.POSITION, path) for path in ("convert", "shaft_temperature", "base.tilt_error")),
    Ask(Thing.SHAFT_LINE, "shaft.material"),
    *(
        Ask(Thing.MACHINE, path)
        for path in ("required.life", "order.ports", "order.sensors", "machine.name_plate.arrangement")
    ),
}
"""Asked in the workbook alone: decided or computed at the desk, or written into the free room of the last page."""

_ENGINEERS = ("name", "friction", "service_factor", "digging", "one_sided")
"""Fields of parts that are no survey: names stand in the form, factors are chosen at the desk."""


MONEY = Ask(Thing.PLANT, "value.currency")


def part_asks(kind: str) -> tuple[Ask, ...]:
    """Return what the survey asks about a part of a kind, in the order of its record."""
    return tuple(Ask(Thing.PART, f.name) for f in fields_of(PARTS[kind]) if f.name not in _ENGINEERS)


DRIVEN = tuple(kind for kind in SheetKind if kind not in (SheetKind.TAIL_DRUM, SheetKind.ELEVATOR_BOOT))
"""Kinds whose shaft has a motor of its own."""
_SPEED, _POWER = Ask(Thing.CONDITION, "speed"), Ask(Thing.MACHINE, "machine.name_plate.power")
_TAKE_UP = Ask(Thing.PART, "take_up")
_DECIDE = (
    *(
        Ask(Thing.POSITION, "x"),
        Ask(Thing.PART, "x"),
        Ask(Thing.PART, "mass"),
        Ask(Thing.SEGMENT, "diameter"),
    ),
    *(
        Ask(Thing.POSITION, path)
        for path in (
            *("seat.diameter", "seat.form_error", "old_mounting", "trapped_between", "lift.allowed"),
            *("room.plain_left", "room.plain_right", "room.beside", "room.entry_side"),
        )
    ),
    *(Ask(Thing.CONDITION, path) for path in ("shaft_temperature", "housing_temperature")),
    *(Ask(Thing.MACHINE, path) for path in ("lubricant.kind", "lubricant.iso_vg")),
    Ask(Thing.MACHINE, "value.stopped_production[0].rate"),
)


def deciding(kind: SheetKind) -> tuple[Ask, ...]:
    """Return the questions without which no verdict comes, or no worth; those about a part mean the main one."""
    return (_SPEED, _POWER if kind in DRIVEN else _TAKE_UP, *_DECIDE)


DECISIVE = frozenset((_SPEED, _POWER, _TAKE_UP, *_DECIDE))
"""All that decides for some kind."""

HOW_MANY = "twenty"
"""How many questions decide for each kind, in words."""


def decides(layout: Layout, ask: Ask, index: int = 0) -> bool:
    """Return whether a field is one of those that decide; index: of the part, where it is about one."""
    return ask in deciding(layout.kind) and (ask.thing is not Thing.PART or layout.parts[index].main)


TRAPS: dict[Ask, str] = {
    Ask(Thing.PART, "mass"): "Weighed or from a drawing; else a range: 500 to 700 kg.",
    Ask(Thing.PART, "direction"): "Where the pull goes, not where the belt runs to; see the compass.",
    Ask(Thing.PART, "arm_direction"): "Does the arm push the drive up or pull it down? See the compass.",
    Ask(Thing.CONDITION, "speed"): "Of this shaft, not of the motor.",
    Ask(Thing.CONDITION, "share"): "All shares add up to 100 %; 0 for starting, blocked or standing.",
    Ask(Thing.MACHINE, "machine.name_plate.power"): "From the plate, not from the ammeter.",
    Ask(
        Thing.MACHINE, "machine.name_plate.ratio"
    ): "Gear unit times belt; count the teeth or sheaves if in doubt.",
    Ask(
        Thing.MACHINE, "value.stopped_production[0].after"
    ): "0 only if product is lost at once; a full bin gives hours.",
    Ask(Thing.MACHINE, "value.stopped_production[0].rate"): "Margin, not revenue.",
    Ask(
        Thing.MACHINE, "machine.locates[0].name"
    ): "Gear unit, thrust block, motor, helical gears: two that locate fight each other.",
    Ask(Thing.MACHINE, "machine.rotation"): "Stand at the drive end and look along the shaft.",
    Ask(
        Thing.POSITION, "seat.diameter"
    ): "A size read off a sleeve-mounted bearing is not the shaft: measure the shaft.",
    Ask(Thing.POSITION, "seal_left.diameter"): "Under the seal itself: often another size than the seat.",
    Ask(
        Thing.POSITION, "room.plain_left"
    ): "To the nearest thing on the shaft or beside it: guard, key and wall count too.",
    Ask(
        Thing.POSITION, "base.centre_height"
    ): "To the base, packing and shims left out; note these at the end.",
    Ask(
        Thing.POSITION, "base.stud_stick_out"
    ): "Studs that stay stop a side entry; 0 only for bolts that come out.",
    Ask(
        Thing.POSITION, "lift.allowed"
    ): "The smallest of wheel gap, casing seals, coupling and the other bearing.",
    Ask(
        Thing.POSITION, "room.entry_side"
    ): "The support is ordered by this hand and cannot be turned round on site.",
    Ask(Thing.POSITION, "old_mounting"): "Look for a sleeve nut before any size is believed.",
    Ask(
        Thing.POSITION, "trapped_between"
    ): "What must come off before a one-piece bearing can: name both sides.",
    Ask(Thing.POSITION, "seat.note"): "Scars, rust, old repairs, taper seen.",
    Ask(Thing.POSITION, "base.height_error"): "Higher is positive, lower negative.",
    Ask(Thing.FAILURE, "why"): "What the parts showed, not what was guessed at the desk.",
}
"""What has stopped a job: common practice, no source."""
_PLACES: dict[Ask, str] = {
    Ask(Thing.PART, "x"): "from datum to its middle",
    Ask(Thing.POSITION, "x"): "from datum to its middle",
    Ask(Thing.SEGMENT, "length"): "from step to step",
    Ask(Thing.SEGMENT, "diameter"): "on the plain shaft",
    Ask(Thing.PART, "diameter"): "across the shaft",
    Ask(Thing.PART, "width"): "first edge to last edge",
    Ask(Thing.PART, "length"): "first edge to last edge",
    Ask(Thing.PART, "hub_spacing"): "middle to middle",
}


def place_of(ask: Ask) -> str:
    """Return where on the machine a numbered dimension is measured."""
    return _PLACES[ask]
