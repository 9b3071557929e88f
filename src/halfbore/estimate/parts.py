"""Masses, forces and dimensions of the parts on a shaft where they are not measured, one rule for each."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from halfbore.domain.estimate import Dimension
from halfbore.domain.machine import MachineKind
from halfbore.estimate import practice
from halfbore.estimate.plate import POWER, USED, Plate
from halfbore.estimate.spans import at_least, over, power, rounded, text_of, times, within
from halfbore.estimate.typed import Plain, Sheet, given, path_of, read_positive
from halfbore.mechanics import power as turning
from halfbore.sources import Source
from halfbore.units import Kind, Span

ANY_WAY = ((0.0, 2 * math.pi),)
LEVEL = tuple((a - practice.LEVEL, a + practice.LEVEL) for a in (math.pi / 2, 3 * math.pi / 2))
_TOWARDS = {"right": math.pi / 2, "down": math.pi, "left": 3 * math.pi / 2}
SHAFT = "shaft.segments[0].diameter"

HANGING = practice.HANGING
RISING = Span(1 + HANGING.low, 1 + HANGING.likely, 1 + HANGING.high)
"""Rising strand at an elevator's head over the pull of the drive."""

_PULL = practice.on_law("effective pull = power over belt speed")
_ARM = practice.on_law("arm force = torque over reach")
_THRUST = practice.on_law("thrust of a fan's inlet = efficiency times power over gas speed in its eye")


@dataclass
class Part:
    """One part while it is filled in.

    size: diameter of the shaft [mm]; count: parts of its kind on the shaft.
    """

    sheet: Sheet
    plate: Plate
    size: Span
    entry: Plain
    index: int
    count: int
    dimensions: list[Dimension] = field(default_factory=list)
    arcs: tuple[tuple[float, float], ...] = ()

    @property
    def name(self) -> str:
        """The part's name."""
        return str(self.entry.get("name"))

    @property
    def place(self) -> str:
        """The part's path in the job."""
        return path_of("loads", self.entry, self.index)

    def lacks(self, *names: str) -> bool:
        """Whether none of these fields is given."""
        return not any(given(self.entry, name) for name in names)

    def at(self, name: str) -> str:
        """Return the path of one of its fields."""
        return f"{self.place}.{name}"

    def fill(self, name: str, span: Span, kind: Kind, why: str, source: Source, *needs: str) -> None:
        """Fill a gap with a range."""
        self.sheet.fill(self.entry, self.place, name, span, kind, why, source, needs)

    def size_of(self, name: str, span: Span, why: str, source: Source, *needs: str) -> Span | None:
        """Return a dimension as typed [mm], filled in with its range where it is not given."""
        if given(self.entry, name):
            return read_positive(self.entry, name, Kind.LENGTH)
        span = rounded(span, Kind.LENGTH)
        self.sheet.fill_one(self.entry, self.place, name, span, Kind.LENGTH, why, source, needs)
        self.dimensions.append(Dimension(self.index, name, span.low, span.high))
        return span

    def turn(self, name: str, likely: str, arcs: tuple[tuple[float, float], ...], why: str) -> None:
        """Fill in a direction that may lie anywhere in some arcs."""
        if not given(self.entry, name):
            self.sheet.say(self.entry, self.place, name, likely, why, practice.WORDS, arcs)
            towards = _TOWARDS[likely]
            self.arcs = tuple((a - towards, b - towards) for a, b in arcs)


def filled(part: Part) -> None:
    """Fill in everything that loads and reactions need of one part."""
    rule = _RULES.get(str(part.entry.get("kind")))
    if rule is not None:
        rule(part)


def _mass_by_torque(part: Part, limit: Span | None = None, *needs: str) -> None:
    """Fill in the mass: by the rated torque, and no more than its size allows where that is known."""
    if not part.lacks("mass") or part.plate.torque is None:
        return
    factor = practice.MASS_PER_TORQUE[str(part.entry["kind"])]
    mass = times(part.plate.torque, factor)
    if limit is not None:
        mass = within(mass, limit)
    why = (
        f"rated torque {part.plate.torque.likely:.4g} N·m times {factor.low:g} to {factor.high:g} kg per N·m"
    )
    part.fill("mass", mass, Kind.MASS, why, practice.LIKE_TORQUE, POWER, *needs)


def _wheel(part: Part) -> None:
    if part.lacks("mass") and part.plate.rated is not None and part.plate.speed:
        base = times(part.plate.rated, 1e-3 / part.plate.speed**3)
        mass = times(power(base, 0.6), practice.WHEEL)
        across = read_positive(part.entry, "diameter", Kind.LENGTH)
        if across is not None:
            by_size = times(power(times(across, 1e-3), 3), practice.WHEEL_BY_SIZE)
            mass = within(mass, by_size)
        why = "rated power and speed by the fan laws"
        part.fill("mass", mass, Kind.MASS, why, practice.LIKE_FANS, POWER, part.at("diameter"))
    if part.lacks("axial_thrust") and part.plate.used is not None:
        most = over(times(part.plate.used, practice.FAN_EFFICIENCY), practice.EYE_SPEED)
        thrust = Span(0.0, most.likely, most.high)
        why = f"{USED}; nothing where the fan draws from both sides"
        part.fill("axial_thrust", thrust, Kind.FORCE, why, _THRUST, POWER)
    _towards(part, "axial_thrust", "the side of the inlet is not given")


def _towards(part: Part, name: str, why: str) -> None:
    """Say towards which end a thrust pushes: a range from nothing on holds for either."""
    if part.lacks("thrust_towards") and not part.lacks(name, "power"):
        part.sheet.say(part.entry, part.place, "thrust_towards", "drive end", why, practice.WORDS)


def _coupling(part: Part) -> None:
    _mass_by_torque(part)


def _sheave(part: Part) -> None:
    across = None
    if part.plate.speed is not None:
        by_speed = _across(practice.RIM_SPEED, part.plate.speed)
        smallest = at_least(by_speed, practice.SMALLEST_SHEAVE * part.size.low)
        why = f"belt speed {text_of(practice.RIM_SPEED, Kind.SURFACE_SPEED)}, no less than takes the shaft"
        across = part.size_of("diameter", smallest, why, practice.LIKE_SPEEDS, SHAFT)
    by_size = None if across is None else times(power(times(across, 1e-3), 2), practice.SHEAVE_BY_SIZE)
    _mass_by_torque(part, by_size, part.at("diameter"))
    if part.lacks("pull", "power") and part.plate.used is not None:
        _belt(part, across)
    part.turn("direction", "right", ANY_WAY, "where the belt leads is not given: any direction")


def _belt(part: Part, across: Span | None) -> None:
    """Fill in the pull of V-belts, set for more than they carry; of another belt the power that it carries."""
    assert part.plate.used is not None
    used, why = part.plate.used, USED
    if part.count > 2:
        used = times(used, practice.SHARE)
        why = f"{why}, {practice.SHARE.low:.0%} to all of it through this sheave"
    if part.entry.get("belt", "V-belt") != "V-belt":
        part.fill("power", used, Kind.POWER, why, practice.MOTOR_USE, POWER, part.at("pull"))
    elif across is not None and part.plate.speed is not None:
        rim = times(across, float(turning.surface_speed(1.0, part.plate.speed)))
        factor = practice.TENSION
        why = f"{why} over the belt speed, times {factor.low:g} to {factor.high:g}: how tight belts are set"
        pull = times(over(used, rim), factor)
        part.fill("pull", pull, Kind.FORCE, why, _PULL, POWER, part.at("diameter"))


def _across(speeds: Span, turns: float) -> Span:
    """Return the diameters whose rims run at these speeds [mm]."""
    return times(speeds, 1 / float(turning.surface_speed(1.0, turns)))


def _drum_size(part: Part, speeds: Span) -> Span | None:
    by_shaft = times(part.size, practice.DRUM_SIZE)
    if part.plate.speed is not None:
        by_shaft = within(by_shaft, _across(speeds, part.plate.speed))
    why = (
        f"{practice.DRUM_SIZE.low:g} to {practice.DRUM_SIZE.high:g} shaft diameters, and a belt speed of "
        f"{text_of(speeds, Kind.SURFACE_SPEED)}"
    )
    return part.size_of("diameter", by_shaft, why, practice.LIKE_SIZES, SHAFT)


def _pull(part: Part, across: Span | None) -> Span | None:
    """Return the effective pull of the drive at the rim [N]."""
    if across is None or part.plate.torque_used is None:
        return None
    return over(times(part.plate.torque_used, 2.0), across)


def _drum(part: Part) -> None:
    across = _drum_size(part, practice.BELT_SPEED)
    _mass_by_torque(part)
    part.turn("tight_direction", "left", LEVEL, "the belt leaves about level, to which side is not given")
    if part.lacks("tight_strand", "slack_strand", "power", "take_up"):
        _drum_pull(part, across)
    elif part.lacks("power", "take_up"):
        _by_the_other(part, None)


def _drum_pull(part: Part, across: Span | None) -> None:
    if part.sheet.kind is not MachineKind.TAIL_DRUM:
        if part.plate.used is not None:
            part.fill("power", part.plate.used, Kind.POWER, USED, practice.MOTOR_USE, POWER)
        return
    pull = _pull(part, across)
    if pull is not None:
        factor = practice.TAIL_PULL
        why = f"{factor.low:g} to {factor.high:g} times the pull of the drive, {text_of(rounded(pull, Kind.FORCE), Kind.FORCE)}"
        part.fill("take_up", times(pull, factor), Kind.FORCE, why, _PULL, POWER, part.at("diameter"))


def _by_the_other(part: Part, pull: Span | None) -> None:
    """Fill in one strand from the other, and from the pull of the drive where that is known."""
    tight, slack = (read_positive(part.entry, n, Kind.FORCE) for n in ("tight_strand", "slack_strand"))
    why = f"slack strand {practice.SLIP.low:g} to {practice.SLIP.high:g} of the tight one"
    if part.lacks("slack_strand") and tight is not None:
        name, other, rule, factor = "slack_strand", "tight_strand", times(tight, practice.SLIP), HANGING
    elif part.lacks("tight_strand") and slack is not None:
        name, other, rule, factor = "tight_strand", "slack_strand", over(slack, practice.SLIP), RISING
    else:
        return
    span = rule if pull is None else within(times(pull, factor), rule)
    part.fill(name, span, Kind.FORCE, why, practice.LIKE_STRANDS, part.at(other))


def _elevator(part: Part) -> None:
    across = _drum_size(part, practice.ELEVATOR_SPEED)
    _mass_by_torque(part)
    if part.entry.get("place") == "boot" or part.sheet.kind is MachineKind.ELEVATOR_BOOT:
        if part.lacks("place"):
            part.sheet.say(part.entry, part.place, "place", "boot", "the machine kind", practice.WORDS)
        if part.lacks("take_up"):
            _strand(part, "take_up", across, practice.BOOT_TAKE_UP, "the take-up")
        return
    if not part.lacks("lift", "belt_and_buckets", "capacity"):
        return
    if part.lacks("tight_strand", "slack_strand"):
        _strand(part, "slack_strand", across, HANGING, "belt and buckets hang with")
        _strand(part, "tight_strand", across, RISING, "the pull and the falling strand")
    elif part.lacks("tight_strand") or part.lacks("slack_strand"):
        _by_the_other(part, _pull(part, across))


def _strand(part: Part, name: str, across: Span | None, factor: Span, what: str) -> None:
    pull = _pull(part, across)
    if pull is None:
        return
    why = f"{what}: {factor.low:g} to {factor.high:g} times the pull, {text_of(rounded(pull, Kind.FORCE), Kind.FORCE)}"
    part.fill(name, times(pull, factor), Kind.FORCE, why, _PULL, POWER, part.at("diameter"))


def _paddles(part: Part) -> None:
    _mass_by_torque(part)
    if part.lacks("push", "power") and part.plate.rated is not None:
        use = practice.BED_USE
        why = f"{use.low:.0%} to {use.high:.0%} of the motor's rated power: a full bed is started with more than runs"
        part.fill("power", times(part.plate.rated, use), Kind.POWER, why, practice.MOTOR_USE, POWER)
    if part.lacks("push"):
        tips = practice.TIP_SIZE
        why = f"{tips.low:g} to {tips.high:g} shaft diameters over the tips"
        part.size_of("diameter", times(part.size, tips), why, practice.LIKE_SIZES, SHAFT)


def _screw(part: Part) -> None:
    _mass_by_torque(part)
    if part.lacks("thrust", "power") and part.plate.used is not None:
        part.fill("power", part.plate.used, Kind.POWER, USED, practice.MOTOR_USE, POWER)
    if part.lacks("thrust"):
        why = f"{practice.PITCH.low:g} to {practice.PITCH.high:g} shaft diameters from turn to turn"
        part.size_of("pitch", times(part.size, practice.PITCH), why, practice.LIKE_SIZES, SHAFT)
    _towards(part, "thrust", "a screw pushes away from its drive, and is pushed towards it")


def _shaft_drive(part: Part) -> None:
    _mass_by_torque(part)
    if part.lacks("arm_force", "power"):
        reach = practice.REACH
        why = f"{reach.low:g} to {reach.high:g} shaft diameters from the shaft"
        arm = part.size_of("arm_reach", times(part.size, reach), why, practice.LIKE_SIZES, SHAFT)
        if arm is not None and part.plate.torque_used is not None:
            _arm(part, over(times(part.plate.torque_used, practice.OVERLOAD), arm))
    elif part.lacks("arm_force"):
        why = "in shaft diameters from the shaft"
        part.size_of("arm_reach", times(part.size, practice.REACH), why, practice.LIKE_SIZES, SHAFT)
    part.turn("arm_direction", "down", ANY_WAY, "how the arm is held is not given: any direction")


def _arm(part: Part, force: Span) -> None:
    """Fill in the arm's force; a screw's gear unit is often flanged to the trough and has no arm."""
    why = f"{USED}, up to {practice.OVERLOAD.high:g} times in overload, over the reach of the arm"
    if part.sheet.kind is MachineKind.SCREW:
        force, why = Span(0.0, force.likely, force.high), f"{why}; nothing where it is flanged to the trough"
    part.fill("arm_force", force, Kind.FORCE, why, _ARM, POWER, part.at("arm_reach"))


_RULES: dict[str, Callable[[Part], None]] = {
    "fan wheel": _wheel,
    "coupling": _coupling,
    "sheave": _sheave,
    "drum": _drum,
    "elevator drum": _elevator,
    "paddles": _paddles,
    "screw flight": _screw,
    "shaft-mounted drive": _shaft_drive,
}
