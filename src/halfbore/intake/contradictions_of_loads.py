"""What a load must not say of itself: what is missing to find its force, and what is said twice."""

from __future__ import annotations

import math
from collections.abc import Iterable

from halfbore.domain.job import Job
from halfbore.domain.machine import (
    Drum,
    ElevatorDrum,
    ElevatorPlace,
    FanWheel,
    Load,
    MachineKind,
    Paddles,
    ScrewFlight,
    ShaftDrive,
    Sheave,
)
from halfbore.errors import Problem
from halfbore.units import Span

HALF_A_TURN = 0.02
"""A wrap that is off by less is half a turn: both strands pull alike within a degree [rad]."""

_PLACE_OF = {MachineKind.ELEVATOR_HEAD: ElevatorPlace.HEAD, MachineKind.ELEVATOR_BOOT: ElevatorPlace.BOOT}


def contradictions_of(job: Job, load: Load, where: str) -> Iterable[Problem]:
    """Yield everything in one load that contradicts itself or leaves its force open.

    where: its path in the job.
    """
    match load:
        case FanWheel():
            yield from _thrust(load.axial_thrust is not None, load, where)
        case Sheave() if load.pull is None and load.power is None:
            yield Problem("neither pull nor power is given", where, accepted="pull, or power")
        case ShaftDrive():
            yield from _drive(load, where)
        case Drum() if load.take_up is not None:
            yield from _idle_drum(load, where)
        case Drum():
            yield from _drum(load, where)
        case ElevatorDrum():
            yield from _elevator(job, load, where)
        case Paddles():
            yield from _paddles(load, where)
        case ScrewFlight():
            yield from _screw(load, where)
        case _:
            pass
    speed = max((c.speed for c in job.duty), default=0.0)
    if getattr(load, "power", None) is not None and speed <= 0:
        yield Problem("power without a speed gives no torque", f"{where}.power")
    if getattr(load, "capacity", None) is not None and speed <= 0:
        yield Problem("a capacity without a speed gives no load on the belt", f"{where}.capacity")


def _thrust(pushes: bool, load: FanWheel | ScrewFlight, where: str) -> Iterable[Problem]:
    if pushes and load.thrust_towards is None:
        yield Problem(
            "the thrust has no direction", f"{where}.thrust_towards", accepted="drive end, free end"
        )


def _drive(drive: ShaftDrive, where: str) -> Iterable[Problem]:
    if drive.arm_force is not None:
        return
    if drive.power is None:
        yield Problem(
            "neither arm force nor power is given", where, accepted="arm_force, or power and arm_reach"
        )
    elif drive.arm_reach is None:
        yield Problem(
            "power without the reach of the torque arm gives no arm force",
            f"{where}.arm_reach",
            accepted="distance of the arm's line from the shaft centre",
        )


def _drum(drum: Drum, where: str) -> Iterable[Problem]:
    yield from _one_strand(drum, where, "both strands, power, or take_up")
    if drum.tight_strand is None and drum.slack_strand is None and drum.power is None:
        yield Problem(
            "neither strands nor power nor a take-up are given",
            where,
            accepted="tight_strand and slack_strand, or power; take_up of a drum that does not drive",
        )


def _one_strand(drum: Drum | ElevatorDrum, where: str, accepted: str) -> Iterable[Problem]:
    tight, slack = drum.tight_strand, drum.slack_strand
    if (tight is None) != (slack is None):
        yield Problem("one strand is given and the other is not", where, accepted=accepted)
    elif tight is not None and slack is not None and tight.high < slack.low:
        yield Problem(
            "the slack strand pulls more than the tight one",
            f"{where}.slack_strand",
            _forces(slack),
            f"up to the tight strand, {_forces(tight)}",
        )


def _idle_drum(drum: Drum, where: str) -> Iterable[Problem]:
    """Yield what does not go with a take-up: such a drum does not drive, and both strands pull alike."""
    given = [n for n in ("tight_strand", "slack_strand", "power") if getattr(drum, n) is not None]
    if given:
        yield Problem(
            "a take-up and strands or power are given for one drum",
            f"{where}.take_up",
            f"take_up and {', '.join(given)}",
            "take_up for a drum that does not drive; strands or power for one that does",
            "leave one of them out",
        )
    if drum.slack_direction is None and abs(drum.wrap - math.pi) > HALF_A_TURN:
        yield Problem(
            "on which side the second strand leaves a drum that does not drive cannot be told from its wrap",
            f"{where}.slack_direction",
            f"wrap of {math.degrees(drum.wrap):.4g}°",
            "the direction of the other strand, or a wrap of 180 deg",
        )


def _elevator(job: Job, drum: ElevatorDrum, where: str) -> Iterable[Problem]:
    wanted = _PLACE_OF.get(job.machine.kind, drum.place)
    if wanted is not drum.place:
        yield Problem(
            "the drum is not that of the machine kind",
            f"{where}.place",
            drum.place.value,
            f"{wanted.value}, as the machine is an {job.machine.kind}",
        )
    if drum.place is ElevatorPlace.BOOT:
        yield from _boot(drum, where)
        return
    yield from _one_strand(drum, where, "both strands, or lift and belt_and_buckets")
    parts = [n for n in ("lift", "belt_and_buckets", "capacity") if getattr(drum, n) is not None]
    if drum.tight_strand is not None:
        if parts:
            yield Problem(
                "strands and what they are built up from are both given",
                where,
                ", ".join(parts),
                "tight_strand and slack_strand, or lift, belt_and_buckets and capacity",
                "leave one of the two out",
            )
    elif drum.slack_strand is None and not {"lift", "belt_and_buckets"} <= set(parts):
        yield Problem(
            "neither strands nor what hangs on the head is given",
            where,
            accepted="lift, belt_and_buckets and capacity, or tight_strand and slack_strand",
        )


def _boot(drum: ElevatorDrum, where: str) -> Iterable[Problem]:
    given = [n for n in ("tight_strand", "slack_strand") if getattr(drum, n) is not None]
    if given:
        yield Problem(
            "the strands at the head say nothing of the boot",
            where,
            ", ".join(given),
            "take_up: both strands share it at the boot",
        )


def _paddles(part: Paddles, where: str) -> Iterable[Problem]:
    if part.push is not None:
        return
    if part.power is None:
        yield Problem("neither push nor power is given", where, accepted="push, or power and diameter")
    elif part.diameter is None:
        yield Problem(
            "power without the diameter gives no push",
            f"{where}.diameter",
            accepted="diameter over the paddle tips",
        )


def _screw(part: ScrewFlight, where: str) -> Iterable[Problem]:
    if part.thrust is None and part.power is None:
        yield Problem("neither thrust nor power is given", where, accepted="thrust, or power and pitch")
    elif part.thrust is None and part.pitch is None:
        yield Problem(
            "power without the pitch gives no thrust", f"{where}.pitch", accepted="pitch of the flight"
        )
    else:
        yield from _thrust(part.thrust is None or part.thrust.high > 0, part, where)


def _forces(span: Span) -> str:
    ends = dict.fromkeys((f"{span.low:g}", f"{span.high:g}"))
    return f"{' to '.join(ends)} N"
