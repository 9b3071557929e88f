"""The ranges that stand in for what was not measured: a law from similarity, and how far practice strays from it.

The laws are derived: a coupling, a gear unit or a drum that carries its torque at like stress grows in all dimensions
with the cube root of the torque, so its mass grows with the torque; like fan wheels at like air take power with
n³·D⁵ and weigh with D³, so their mass goes with (power/n³)^(3/5); a shaft at like stress grows with the cube root of
its torque. The factors in them and all other ranges are common practice, no source, and wide on purpose.
"""

from __future__ import annotations

from halfbore.domain.machine import MachineKind
from halfbore.sources import Source, derived, practice
from halfbore.units import Span


def on_law(law: str) -> Source:
    """Return the source of a derived law whose inputs are taken from practice: as sure as these."""
    return practice(law, "the law is derived")


LIKE_TORQUE = practice(
    "mass over rated torque of like parts", "grows with the torque at like stress: derived"
)
LIKE_FANS = practice("mass of fan wheels over (power/speed³)^(3/5)", "exponent from the fan laws: derived")
LIKE_SHAFTS = practice(
    "nominal torsional stress of shafts", "grows with the cube root of the torque: derived"
)
LIKE_SIZES = practice("dimensions of parts in diameters of their shaft")
LIKE_SPEEDS = practice("belt speeds")
LIKE_STRANDS = practice("slack over tight strand of a belt")
LAID_OUT = practice("distances along a shaft in diameters of it")
WORDS = practice("the usual arrangement of the machine kind")
FROM_PLATE = derived("shaft speed = motor speed over ratio")
MOTOR_USE = practice("part of its rated power that a motor gives in running")

USE = Span(0.4, 0.75, 1.0)
"""Part of its rated power that a motor gives."""

BED_USE = Span(0.4, 0.75, 1.6)
"""The same of a motor that starts paddles in a full bed."""
OVERLOAD = Span(1.0, 1.0, 1.15)
"""Torque on an arm over that of the power in running: the overload that a motor's plate allows."""
TENSION = Span(1.5, 2.2, 5.0)
"""Pull of both strands of V-belts over the effective pull: crushers and other shock drives are set for 2 to 3 times
the effective pull, old belts are often set tighter still, and the motor may be smaller than what they were set for."""

MASS_PER_TORQUE = {
    "coupling": Span(0.01, 0.04, 0.15),
    "sheave": Span(0.03, 0.12, 0.4),
    "shaft-mounted drive": Span(0.03, 0.08, 0.2),
    "drum": Span(0.03, 0.09, 0.3),
    "elevator drum": Span(0.03, 0.08, 0.25),
    "paddles": Span(0.1, 0.35, 1.2),
    "screw flight": Span(0.04, 0.15, 0.5),
}
"""Mass of a part over the rated torque of its shaft [kg/(N·m)]; a drum that does not drive as if it did."""

WHEEL = Span(0.5e7, 1.4e7, 3.5e7)
"""Mass of a fan wheel over (power/speed³)^(3/5), power in kW, speed in r/min [kg]."""
WHEEL_BY_SIZE = Span(60.0, 200.0, 500.0)
"""Mass of a fan wheel over the cube of its diameter [kg/m³]."""
SHEAVE_BY_SIZE = Span(200.0, 450.0, 1200.0)
"""Mass of a sheave over the square of its diameter [kg/m²]; the high end is a flywheel."""

STRESS = {
    MachineKind.FAN: Span(0.7, 2.2, 6.0),
    MachineKind.JACKSHAFT: Span(2.0, 5.0, 15.0),
    MachineKind.LINE_SHAFT: Span(2.0, 5.0, 15.0),
    MachineKind.TAIL_DRUM: Span(10.0, 30.0, 90.0),
    MachineKind.ELEVATOR_BOOT: Span(10.0, 30.0, 90.0),
}
"""Nominal torsional stress of a shaft at rated torque [MPa]; where nothing drives, as if the torque went through."""
DRIVEN = Span(5.0, 12.0, 30.0)
"""The same of a slow driven shaft, which bends and starts under load."""

SIZES = (*range(30, 100, 5), *range(100, 200, 10), *range(200, 520, 20))
"""Shaft sizes from which the likely one is taken [mm]: the steps of bearing bores."""

EYE_SPEED = Span(12.0, 22.0, 32.0)
"""Gas speed in the eye of a fan [m/s]."""
FAN_EFFICIENCY = Span(0.5, 0.7, 0.85)
RIM_SPEED = Span(5.0, 14.0, 35.0)
"""Speed of a belt on its sheave [m/s]."""
BELT_SPEED = Span(0.8, 2.0, 4.5)
"""Speed of a conveyor's belt [m/s]."""
ELEVATOR_SPEED = Span(0.8, 1.6, 2.8)
"""Speed of a bucket elevator's belt or chain [m/s]."""
DRUM_SIZE = Span(3.0, 5.5, 9.0)
"""Diameter of a drum in diameters of its shaft."""
SMALLEST_SHEAVE = 2.0
"""Diameter of the smallest sheave that takes its shaft, in diameters of it."""
REACH = Span(3.0, 6.0, 10.0)
"""Reach of a torque arm in diameters of the shaft."""
TIP_SIZE = Span(4.0, 7.0, 11.0)
"""Diameter over paddle tips in diameters of the shaft."""
PITCH = Span(2.0, 4.0, 7.0)
"""Pitch of a screw flight in diameters of the shaft."""
SPREAD = Span(0.5, 0.75, 0.9)
"""Length of paddles or of a screw flight as a part of the distance of the bearings."""
TAIL_PULL = Span(1.0, 1.8, 3.2)
"""Both strands at a tail drum over the pull of the drive: what keeps the head drum from slipping."""
BOOT_TAKE_UP = Span(0.1, 0.3, 1.0)
"""Take-up force at the boot over the pull of the drive."""
HANGING = Span(0.5, 1.0, 2.0)
"""Falling strand at an elevator's head over the pull of the drive: the weight of belt and buckets."""
SHARE = Span(0.1, 0.5, 1.0)
"""Part of the power that goes through one of three or more sheaves."""
SLIP = Span(0.3, 0.6, 0.95)
"""Slack over tight strand where one alone was measured."""
LEVEL = 0.35
"""A conveyor's belt leaves its end drums within this of level [rad]: 20°."""


OVERHANG = Span(1.5, 2.5, 4.0)
"""From a coupling, sheave or gear unit to its bearing."""
OVERHUNG_WHEEL = Span(2.0, 3.2, 5.0)
"""From the bearing to an overhung wheel."""
SIDE_BY_SIDE = Span(5.0, 9.0, 14.0)
"""From bearing to bearing with nothing between them."""
BETWEEN = {
    "fan wheel": Span(5.0, 9.0, 14.0),
    "paddles": Span(5.0, 8.5, 14.0),
    "screw flight": Span(8.0, 14.0, 20.0),
    "sheave": Span(3.0, 7.0, 11.0),
}
"""From a bearing to the middle of what it carries beside another bearing."""
DRUM_BETWEEN = Span(3.0, 5.5, 10.0)
"""The same of a drum and of anything else."""
END = Span(0.3, 1.0, 2.0)
"""From an end of the shaft to the first or last part."""


def stress_of(kind: MachineKind | None) -> Span:
    """Return the nominal torsional stress of a machine kind's shaft [MPa]."""
    return DRIVEN if kind is None else STRESS.get(kind, DRIVEN)
