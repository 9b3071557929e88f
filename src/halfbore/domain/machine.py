"""The machine as surveyed: site, shaft, what acts on it, what else locates it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, ClassVar

from halfbore.domain.fields import Note, Quantity
from halfbore.units import Kind, Span


class MachineKind(StrEnum):
    """Machine kinds whose loads and changeover are known."""

    FAN = "fan"
    HEAD_SHAFT = "head shaft"
    TAIL_DRUM = "tail drum"
    ELEVATOR_HEAD = "elevator head"
    ELEVATOR_BOOT = "elevator boot"
    PADDLE_SHAFT = "paddle shaft"
    SCREW = "screw"
    JACKSHAFT = "jackshaft"
    LINE_SHAFT = "line shaft"
    PLAIN_SHAFT = "plain shaft"


class End(StrEnum):
    """An end of the shaft."""

    DRIVE = "drive end"
    FREE = "free end"


class Rotation(StrEnum):
    """Sense of rotation seen from the drive end."""

    CLOCKWISE = "clockwise"
    COUNTER_CLOCKWISE = "counter-clockwise"
    BOTH = "both"


class Contamination(StrEnum):
    """Contamination of the lubricant in the words of ISO 281:2007, Annex A."""

    HIGH_CLEANLINESS = "high cleanliness"
    NORMAL_CLEANLINESS = "normal cleanliness"
    SLIGHT_TO_TYPICAL = "slight to typical"
    SEVERE = "severe"
    VERY_SEVERE = "very severe"


class Dust(StrEnum):
    """Dust and dirt outside the seals."""

    NONE = "none"
    DUST = "dust"
    HEAVY = "heavy or abrasive"


class Water(StrEnum):
    """Water outside the seals."""

    NONE = "none"
    SPLASH = "splash"
    JET = "jet"
    STANDING = "standing"


class BeltKind(StrEnum):
    """How a belt grips its sheave."""

    V = "V-belt"
    FLAT = "flat belt"


class ElevatorPlace(StrEnum):
    """Which drum of a bucket elevator."""

    HEAD = "head"
    BOOT = "boot"


class Arrangement(StrEnum):
    """How a machine is driven and, of a fan, where the wheel stands: for what was not measured."""

    CENTRE_HUNG_DIRECT = "centre-hung, direct"
    CENTRE_HUNG_BELT = "centre-hung, belt"
    OVERHUNG_DIRECT = "overhung, direct"
    OVERHUNG_BELT = "overhung, belt"
    SHAFT_MOUNTED = "shaft-mounted drive"
    COUPLED = "coupling"
    BELT = "belt"
    NOT_DRIVEN = "not driven"


class AxialReach(StrEnum):
    """Which way an element other than a bearing unit holds the shaft axially."""

    BOTH = "both ways"
    DRIVE = "towards the drive end"
    FREE = "towards the free end"
    UNKNOWN = "not known"


NO_ZONE_NAMED = "none named"
"""Explosive-atmosphere zone where nobody has said that there is none."""


@dataclass(frozen=True)
class Site:
    """What surrounds the bearings."""

    ambient: Annotated[Span, Quantity(Kind.TEMPERATURE, "air at the bearings", (-30, 60), (-60, 200), assumed="indoor plant")] = Span(10.0, 20.0, 30.0)
    contamination: Annotated[Contamination, Note("cleanliness of the lubricant", assumed="typical of a plant without special sealing")] = Contamination.SLIGHT_TO_TYPICAL
    dust: Annotated[Dust, Note("dust and dirt outside the seals", assumed="an industrial site has dust")] = Dust.DUST
    water: Annotated[Water, Note("water outside the seals", assumed="no water was named")] = Water.NONE
    pressure_across_seal: Annotated[bool, Note("gas pressure differs across a casing wall at the seal", assumed="none was named")] = False
    explosive_zone: Annotated[str, Note("explosive-atmosphere zone, or none", assumed="none was named")] = NO_ZONE_NAMED
    special: Annotated[tuple[str, ...], Note("food, marine, sub-zero or other special rules", assumed="none was named")] = ()


@dataclass(frozen=True)
class Segment:
    """A stretch of shaft of one diameter."""

    length: Annotated[float, Quantity(Kind.LENGTH, "length along the shaft", (5, 6000), (0.1, 20000))]
    diameter: Annotated[float, Quantity(Kind.LENGTH, "outside diameter", (30, 650), (5, 1500))]
    bore: Annotated[float, Quantity(Kind.LENGTH, "inside diameter of a hollow shaft", (0, 600), (0, 1400), assumed="solid shaft")] = 0.0


@dataclass(frozen=True)
class Shaft:
    """The shaft from its drive end, segment by segment."""

    segments: Annotated[tuple[Segment, ...], Note("stretches of one diameter, in order from the drive end")]
    name: Annotated[str, Note("name of the shaft line where the machine has several, such as head and boot")] = ""
    material: Annotated[str, Note("shaft material", assumed="carbon steel")] = "carbon steel"
    elastic_modulus: Annotated[float, Quantity(Kind.STRESS, "Young's modulus", (190e3, 215e3), (1e3, 500e3), "E", assumed="carbon steel")] = 206_000.0
    density: Annotated[float, Quantity(Kind.DENSITY, "density", (7000, 8100), (500, 20000), "ρ", assumed="carbon steel")] = 7850.0
    expansion: Annotated[float, Quantity(Kind.NUMBER, "thermal expansion coefficient in 1e-6/K", (10, 18), (1, 30), "α", assumed="carbon steel 11.7e-6/K")] = 11.7
    inclination: Annotated[float, Quantity(Kind.ANGLE, "rise of the free end above the horizontal", (-0.8, 0.8), (-1.6, 1.6), assumed="horizontal shaft")] = 0.0
    permissible_stress: Annotated[float | None, Quantity(Kind.STRESS, "permissible bending stress", (20, 400), (1, 2000))] = None

    @property
    def length(self) -> float:
        """Length of the whole shaft [mm]."""
        return sum(s.length for s in self.segments)

    def segment_at(self, x: float) -> Segment:
        """Return the segment at a place [mm]; at a step the one towards the drive end, past the end the last."""
        end = 0.0
        for segment in self.segments:
            end += segment.length
            if x <= end:
                return segment
        return self.segments[-1]


@dataclass(frozen=True)
class FanWheel:
    """A fan wheel: weight, unbalance new and in service, axial thrust."""

    KIND: ClassVar[str] = "fan wheel"
    name: Annotated[str, Note("name on the drawing")]
    x: Annotated[float, Quantity(Kind.LENGTH, "place along the shaft", limits=(0, 20000))]
    mass: Annotated[Span, Quantity(Kind.MASS, "mass with hub", (5, 20000), (0, 200000))]
    balance_grade: Annotated[float, Quantity(Kind.NUMBER, "balance grade when new, ISO 21940-11", (1, 16), (0, 4000), "G", assumed="G 6.3 is usual for fans", prefix="G")] = 6.3
    balance_in_service: Annotated[float, Quantity(Kind.NUMBER, "balance grade that service leaves", (1, 40), (0, 4000), "G", assumed="one grade worse than new", prefix="G")] = 16.0
    axial_thrust: Annotated[Span | None, Quantity(Kind.FORCE, "axial thrust", (0, 50e3), (0, 1e6))] = None
    thrust_towards: Annotated[End | None, Note("end towards which the thrust pushes the shaft")] = None
    diameter: Annotated[float | None, Quantity(Kind.LENGTH, "outside diameter, for the drawing", (200, 5000), (10, 10000))] = None
    width: Annotated[float | None, Quantity(Kind.LENGTH, "width along the shaft, for the drawing and the room", (20, 2000), (1, 5000))] = None
    gas_temperature: Annotated[Span | None, Quantity(Kind.TEMPERATURE, "hot gas that the shaft stands in at the wheel", (20, 450), (-60, 1000))] = None
    hot_length: Annotated[float | None, Quantity(Kind.LENGTH, "length of shaft inside the hot casing, its middle at the wheel; casing walls up to one shaft diameter outside the wheel where not given", (50, 5000), (0, 20000))] = None


@dataclass(frozen=True)
class Coupling:
    """A coupling half with the reaction that misalignment gives, in a direction that nobody knows."""

    KIND: ClassVar[str] = "coupling"
    name: Annotated[str, Note("name on the drawing")]
    x: Annotated[float, Quantity(Kind.LENGTH, "place along the shaft", limits=(0, 20000))]
    mass: Annotated[Span, Quantity(Kind.MASS, "mass carried by this shaft", (1, 2000), (0, 50000))]
    reaction: Annotated[Span, Quantity(Kind.FORCE, "radial reaction from misalignment, direction not known", (0, 20e3), (0, 1e6), assumed="none was named; ask the coupling's maker")] = Span(0.0, 0.0, 0.0)
    diameter: Annotated[float | None, Quantity(Kind.LENGTH, "outside diameter, for the drawing", (50, 1500), (10, 5000))] = None
    width: Annotated[float | None, Quantity(Kind.LENGTH, "width along the shaft", (20, 600), (1, 5000))] = None


@dataclass(frozen=True)
class Sheave:
    """A belt sheave or chain wheel: the pull as given, or from power and speed."""

    KIND: ClassVar[str] = "sheave"
    name: Annotated[str, Note("name on the drawing")]
    x: Annotated[float, Quantity(Kind.LENGTH, "place along the shaft", limits=(0, 20000))]
    mass: Annotated[Span, Quantity(Kind.MASS, "mass", (1, 5000), (0, 50000))]
    diameter: Annotated[float, Quantity(Kind.LENGTH, "pitch diameter", (50, 3000), (10, 10000))]
    direction: Annotated[float, Quantity(Kind.ANGLE, "direction of the pull on this shaft, from straight up, positive to the right seen from the drive end", limits=(-6.3, 6.3))]
    pull: Annotated[Span | None, Quantity(Kind.FORCE, "resultant pull of all strands", (10, 200e3), (0, 5e6))] = None
    power: Annotated[Span | None, Quantity(Kind.POWER, "power that the belt transmits", (100, 2e6), (0, 2e7))] = None
    belt: Annotated[BeltKind, Note("belt kind", assumed="V-belt")] = BeltKind.V
    service_factor: Annotated[float, Quantity(Kind.NUMBER, "service factor on this pull alone", (1, 2.5), (0.1, 10), assumed="none")] = 1.0
    balance_grade: Annotated[float, Quantity(Kind.NUMBER, "balance grade in service", (1, 40), (0, 4000), "G", assumed="G 16 is usual for drive parts", prefix="G")] = 16.0
    width: Annotated[float | None, Quantity(Kind.LENGTH, "width along the shaft", (20, 1000), (1, 5000))] = None


@dataclass(frozen=True)
class Drum:
    """A conveyor or elevator drum: both strands as given, or from power, wrap and friction."""

    KIND: ClassVar[str] = "drum"
    name: Annotated[str, Note("name on the drawing")]
    x: Annotated[float, Quantity(Kind.LENGTH, "middle of the drum along the shaft", limits=(0, 20000))]
    mass: Annotated[Span, Quantity(Kind.MASS, "mass of the drum", (10, 20000), (0, 200000))]
    diameter: Annotated[float, Quantity(Kind.LENGTH, "diameter over the lagging", (100, 3000), (50, 10000))]
    tight_direction: Annotated[float, Quantity(Kind.ANGLE, "direction in which the tight strand pulls, from straight up, positive to the right seen from the drive end", limits=(-6.3, 6.3))]
    wrap: Annotated[float, Quantity(Kind.ANGLE, "wrap of the belt", (2.0, 4.3), (0.1, 13), assumed="half a turn")] = 3.141592653589793
    tight_strand: Annotated[Span | None, Quantity(Kind.FORCE, "tension of the tight strand", (100, 500e3), (0, 5e6), "T_1")] = None
    slack_strand: Annotated[Span | None, Quantity(Kind.FORCE, "tension of the slack strand", (0, 500e3), (0, 5e6), "T_2")] = None
    take_up: Annotated[Span | None, Quantity(Kind.FORCE, "force of the take-up on a drum that does not drive, shared by both strands", (100, 500e3), (0, 5e6))] = None
    power: Annotated[Span | None, Quantity(Kind.POWER, "power at the drum", (100, 2e6), (0, 2e7))] = None
    friction: Annotated[Span, Quantity(Kind.NUMBER, "friction of belt on drum", (0.1, 0.5), (0.01, 1.5), "µ", assumed="rubber lagging, wet to dry")] = Span(0.25, 0.30, 0.35)
    slack_direction: Annotated[float | None, Quantity(Kind.ANGLE, "direction in which the slack strand pulls; from the tight strand and the wrap when not given", limits=(-6.3, 6.3))] = None
    belt_mass: Annotated[Span, Quantity(Kind.MASS, "belt and buckets that hang on the drum and are in no strand tension", (0, 5000), (0, 100000), assumed="included in the strand tensions")] = Span(0.0, 0.0, 0.0)
    hub_spacing: Annotated[float, Quantity(Kind.LENGTH, "distance between the two hubs", (50, 3000), (0, 10000), assumed="the load acts at the middle")] = 0.0
    face: Annotated[float | None, Quantity(Kind.LENGTH, "face width, for the drawing", (100, 3000), (10, 10000))] = None


@dataclass(frozen=True)
class ElevatorDrum:
    """A drum of a bucket elevator, head or boot: strands as given, or from what hangs on them and the take-up."""

    KIND: ClassVar[str] = "elevator drum"
    name: Annotated[str, Note("name on the drawing")]
    x: Annotated[float, Quantity(Kind.LENGTH, "middle of the drum along the shaft", limits=(0, 20000))]
    mass: Annotated[Span, Quantity(Kind.MASS, "mass of the drum", (10, 10000), (0, 200000))]
    diameter: Annotated[float, Quantity(Kind.LENGTH, "diameter over the lagging", (200, 2000), (50, 10000))]
    place: Annotated[ElevatorPlace, Note("head or boot")] = ElevatorPlace.HEAD
    tight_strand: Annotated[Span | None, Quantity(Kind.FORCE, "tension of the rising strand at the head", (100, 500e3), (0, 5e6), "T_1")] = None
    slack_strand: Annotated[Span | None, Quantity(Kind.FORCE, "tension of the falling strand at the head", (0, 500e3), (0, 5e6), "T_2")] = None
    lift: Annotated[Span | None, Quantity(Kind.LENGTH, "height of the head shaft above the boot shaft", (2e3, 80e3), (100, 200e3))] = None
    belt_and_buckets: Annotated[Span | None, Quantity(Kind.MASS_PER_LENGTH, "belt or chain with its empty buckets", (5, 400), (0.1, 5000))] = None
    capacity: Annotated[Span | None, Quantity(Kind.MASS_FLOW, "mass lifted", (1, 2000), (0, 20000))] = None
    digging: Annotated[Span, Quantity(Kind.NUMBER, "boot diameters of lift that stand for digging", (3, 20), (0, 50), assumed="5 free-flowing to 15 lumpy, common practice")] = Span(5.0, 10.0, 15.0)
    boot_diameter: Annotated[float | None, Quantity(Kind.LENGTH, "diameter of the boot drum; this drum's where not given", (200, 2000), (50, 10000))] = None
    take_up: Annotated[Span, Quantity(Kind.FORCE, "force of the take-up at the boot, shared by both strands", (0, 100e3), (0, 2e6), assumed="none was named")] = Span(0.0, 0.0, 0.0)
    hub_spacing: Annotated[float, Quantity(Kind.LENGTH, "distance between the two hubs", (50, 3000), (0, 10000), assumed="the load acts at the middle")] = 0.0
    face: Annotated[float | None, Quantity(Kind.LENGTH, "face width, for the drawing", (100, 3000), (10, 10000))] = None


@dataclass(frozen=True)
class Paddles:
    """Paddles or arms that work a bed over a length of the shaft: weight, and the push of the bed."""

    KIND: ClassVar[str] = "paddles"
    name: Annotated[str, Note("name on the drawing")]
    x: Annotated[float, Quantity(Kind.LENGTH, "middle of the paddles along the shaft", limits=(0, 20000))]
    length: Annotated[float, Quantity(Kind.LENGTH, "length of shaft that carries them", (200, 10000), (1, 20000))]
    mass: Annotated[Span, Quantity(Kind.MASS, "mass of paddles and what sticks to them", (10, 20000), (0, 200000))]
    push: Annotated[Span | None, Quantity(Kind.FORCE, "resultant radial push of the bed", (0, 300e3), (0, 5e6))] = None
    push_direction: Annotated[float, Quantity(Kind.ANGLE, "direction of the push on this shaft, from straight up, positive to the right seen from the drive end", limits=(-6.3, 6.3), assumed="straight down")] = 3.141592653589793
    power: Annotated[Span | None, Quantity(Kind.POWER, "power that the paddles take", (100, 1e6), (0, 2e7))] = None
    diameter: Annotated[float | None, Quantity(Kind.LENGTH, "diameter over the paddle tips", (200, 4000), (10, 10000))] = None
    one_sided: Annotated[Span, Quantity(Kind.FRACTION, "part of the paddles' force that nothing on the other side balances", (0, 1), (0, 1), assumed="a bed below the shaft pushes one side only: estimate")] = Span(0.5, 0.75, 1.0)


@dataclass(frozen=True)
class ScrewFlight:
    """The flight of a screw conveyor: weight over its length, and the thrust of what it pushes."""

    KIND: ClassVar[str] = "screw flight"
    name: Annotated[str, Note("name on the drawing")]
    x: Annotated[float, Quantity(Kind.LENGTH, "middle of the flight along the shaft", limits=(0, 20000))]
    length: Annotated[float, Quantity(Kind.LENGTH, "length of the flight", (500, 12000), (1, 20000))]
    mass: Annotated[Span, Quantity(Kind.MASS, "mass of flight and of what it carries", (10, 10000), (0, 200000))]
    thrust: Annotated[Span | None, Quantity(Kind.FORCE, "axial thrust on the shaft", (0, 200e3), (0, 5e6))] = None
    thrust_towards: Annotated[End | None, Note("end towards which the thrust pushes the shaft: against the flow")] = None
    power: Annotated[Span | None, Quantity(Kind.POWER, "power that the screw takes", (100, 1e6), (0, 2e7))] = None
    pitch: Annotated[float | None, Quantity(Kind.LENGTH, "pitch of the flight", (50, 1500), (5, 5000))] = None
    diameter: Annotated[float | None, Quantity(Kind.LENGTH, "outside diameter of the flight", (80, 1500), (10, 5000))] = None


@dataclass(frozen=True)
class ShaftDrive:
    """A gear unit hung on the shaft and held by a torque arm."""

    KIND: ClassVar[str] = "shaft-mounted drive"
    name: Annotated[str, Note("name on the drawing")]
    x: Annotated[float, Quantity(Kind.LENGTH, "middle of its hollow shaft along the shaft", limits=(0, 20000))]
    mass: Annotated[Span, Quantity(Kind.MASS, "mass of gear unit, motor and bracket on the shaft", (20, 10000), (0, 100000))]
    arm_direction: Annotated[float, Quantity(Kind.ANGLE, "direction of the force that the arm puts on the drive, from straight up, positive to the right seen from the drive end", limits=(-6.3, 6.3))]
    arm_force: Annotated[Span | None, Quantity(Kind.FORCE, "force in the torque arm", (0, 200e3), (0, 5e6))] = None
    power: Annotated[Span | None, Quantity(Kind.POWER, "output power", (100, 2e6), (0, 2e7))] = None
    arm_reach: Annotated[float | None, Quantity(Kind.LENGTH, "distance of the arm's line from the shaft centre", (100, 3000), (10, 10000))] = None
    centre_of_gravity: Annotated[float, Quantity(Kind.LENGTH, "its centre of gravity along the shaft, from x, positive towards the free end", (-500, 500), (-2000, 2000), assumed="above x")] = 0.0
    arm_offset: Annotated[float, Quantity(Kind.LENGTH, "plane of the arm along the shaft, from x, positive towards the free end", (-500, 500), (-2000, 2000), assumed="in the plane of x")] = 0.0
    diameter: Annotated[float | None, Quantity(Kind.LENGTH, "height of its case, for the drawing", (100, 2000), (10, 5000))] = None
    width: Annotated[float | None, Quantity(Kind.LENGTH, "width along the shaft, for the drawing", (50, 1500), (10, 5000))] = None


@dataclass(frozen=True)
class PointLoad:
    """A named mass or force at one place."""

    KIND: ClassVar[str] = "point load"
    name: Annotated[str, Note("name on the drawing")]
    x: Annotated[float, Quantity(Kind.LENGTH, "place along the shaft", limits=(0, 20000))]
    mass: Annotated[Span, Quantity(Kind.MASS, "mass", (0, 20000), (0, 200000), assumed="no mass")] = Span(0.0, 0.0, 0.0)
    force: Annotated[Span, Quantity(Kind.FORCE, "force on the shaft", (0, 500e3), (0, 5e6), assumed="no force")] = Span(0.0, 0.0, 0.0)
    direction: Annotated[float, Quantity(Kind.ANGLE, "direction of the force, from straight up, positive to the right seen from the drive end", limits=(-6.3, 6.3), assumed="straight down")] = 3.141592653589793
    axial_force: Annotated[Span, Quantity(Kind.FORCE, "axial force on the shaft, positive towards the free end", (-100e3, 100e3), (-5e6, 5e6), assumed="none")] = Span(0.0, 0.0, 0.0)
    service_factor: Annotated[float, Quantity(Kind.NUMBER, "service factor on this force alone", (1, 2.5), (0.1, 10), assumed="none")] = 1.0
    diameter: Annotated[float | None, Quantity(Kind.LENGTH, "outside diameter, for the drawing", (50, 3000), (10, 10000))] = None
    width: Annotated[float | None, Quantity(Kind.LENGTH, "width along the shaft, for the drawing", (20, 3000), (1, 10000))] = None


Load = FanWheel | Coupling | Sheave | Drum | ElevatorDrum | Paddles | ScrewFlight | ShaftDrive | PointLoad


@dataclass(frozen=True)
class AxialElement:
    """Something other than a bearing unit that may hold the shaft axially."""

    name: Annotated[str, Note("name, such as gear unit or thrust block")]
    holds: Annotated[AxialReach, Note("which way it holds the shaft")]
    x: Annotated[float | None, Quantity(Kind.LENGTH, "place along the shaft", limits=(0, 20000))] = None


@dataclass(frozen=True)
class NamePlate:
    """What the plates of motor and gear unit say."""

    power: Annotated[Span | None, Quantity(Kind.POWER, "rated power of the motor", (500, 2e6), (10, 2e7))] = None
    motor_speed: Annotated[float | None, Quantity(Kind.SPEED, "rated speed of the motor", (300, 3600), (1, 20000))] = None
    ratio: Annotated[float | None, Quantity(Kind.NUMBER, "motor speed over shaft speed, all stages", (0.3, 200), (0.01, 10000))] = None
    arrangement: Annotated[Arrangement | None, Note("how the shaft is driven and, of a fan, where the wheel stands: for what was not measured")] = None


@dataclass(frozen=True)
class Machine:
    """One machine and its place in the plant."""

    name: Annotated[str, Note("tag or name")]
    kind: Annotated[MachineKind, Note("machine kind")]
    plant: Annotated[str, Note("plant", assumed="not named")] = ""
    rotation: Annotated[Rotation, Note("sense of rotation seen from the drive end", assumed="either way")] = Rotation.BOTH
    site: Annotated[Site, Note("what surrounds the bearings")] = Site()
    locates: Annotated[tuple[AxialElement, ...], Note("what else holds the shaft axially", assumed="nothing but the bearing units")] = ()
    name_plate: Annotated[NamePlate | None, Note("what the plates of motor and gear unit say")] = None
    variable_speed: Annotated[bool, Note("a converter feeds the motor: shaft currents are possible", assumed="none was named")] = False
