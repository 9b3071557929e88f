"""What a survey says twice must agree: torques and powers, and strands against the grip of their drum."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.job import Job
from halfbore.domain.machine import (
    Coupling,
    Drum,
    ElevatorDrum,
    ElevatorPlace,
    Paddles,
    ScrewFlight,
    ShaftDrive,
    Sheave,
)
from halfbore.mechanics import belt, power, shaft_drive
from halfbore.phrases import Amount, kilonewton, phrase
from halfbore.shaftline.acting import ends, rated_speed
from halfbore.shaftline.drums import elevator_strands, strands
from halfbore.shaftline.loads import arm_force
from halfbore.units import Kind

Floats = NDArray[np.float64]


def disagreements(job: Job) -> tuple[str, ...]:
    """Return a sentence for everything that a job says twice and in two ways."""
    return (
        *_slips(job),
        *_driven_and_drives(job),
        *_power_and_arm(job),
        *_two_drives(job),
        *_sheaves(job),
        *_weak_pulls(job),
    )


def _slips(job: Job) -> Iterator[str]:
    """Yield the drums on which the given strands slip by wrap and friction, likely or at an end of their ranges."""
    for part in job.loads:
        if not isinstance(part, Drum) or part.tight_strand is None or part.slack_strand is None:
            continue
        tight, slack, _ = strands(part, job)
        needed = tight[::-1] / np.asarray(belt.tension_ratio(ends(part.friction), part.wrap))
        short = slack < needed
        if short[0]:
            end, state = (1, "slips") if short[1] else (0, "may slip at the ends of the given ranges")
            yield phrase(
                "On {} the belt {}: a tight strand of {} needs a slack one of {} or more, {} is given.",
                part.name,
                state,
                *(kilonewton(float(force)) for force in (tight[2 - end], needed[end], slack[end])),
            )


def _driven_and_drives(job: Job) -> Iterator[str]:
    parts = [x for x in job.loads if isinstance(x, _DRIVEN)]
    torques, drives = [t for x in parts if (t := _torque_of(x, job)) is not None], _drives(job)
    if not torques or len(torques) < len(parts) or not drives:
        return
    driven = np.sum(torques, axis=0)
    driving = np.sum([_arm_torque(d, job) for d in drives], axis=0)
    asks = (
        "The belt asks" if all(isinstance(x, (Drum, ElevatorDrum)) for x in parts) else "What is driven asks"
    )
    if _apart(driven, driving):
        yield phrase(
            "{} for {} and the torque arm shows {}: measure one of them again.",
            asks,
            _torque(driven),
            _torque(driving),
        )


def _power_and_arm(job: Job) -> Iterator[str]:
    for part in _drives(job):
        if part.power is None or part.arm_force is None:
            continue
        by_power = np.asarray(shaft_drive.output_torque(ends(part.power), rated_speed(job)))
        by_arm = _arm_torque(part, job)
        if _apart(by_power, by_arm):
            yield phrase(
                "The power of {} gives {} and its torque arm shows {}: measure one of them again.",
                part.name,
                _torque(by_power),
                _torque(by_arm),
            )


def _two_drives(job: Job) -> Iterator[str]:
    drives = _drives(job)
    torques = [_arm_torque(d, job) for d in drives]
    for i in range(1, len(drives)):
        if _apart(torques[0], torques[i]):
            yield phrase(
                "{} gives {} and {} {}: the drives do not share the torque alike.",
                drives[0].name,
                _torque(torques[0]),
                drives[i].name,
                _torque(torques[i]),
            )


def _sheaves(job: Job) -> Iterator[str]:
    """Yield a sentence where sheaves alone drive and are driven, and the powers do not add up."""
    powers = {s.name: ends(s.power) for s in job.loads if isinstance(s, Sheave) and s.power is not None}
    others = [x for x in job.loads if isinstance(x, (Coupling, ShaftDrive, *_DRIVEN))]
    if len(powers) < 2 or others or len(powers) < sum(isinstance(s, Sheave) for s in job.loads):
        return
    largest = max(powers, key=lambda name: float(powers[name][1]))
    rest = np.sum([p for name, p in powers.items() if name != largest], axis=0)
    if _apart(powers[largest], rest):
        yield phrase(
            "{} transmits {} and the other sheaves together {}: what drives and what is driven do not agree.",
            largest,
            _power(powers[largest]),
            _power(rest),
        )


def _weak_pulls(job: Job) -> Iterator[str]:
    """Yield the sheaves whose pull is less than the power that they carry needs: two strands pull no less together
    than one pulls more than the other."""
    for part in job.loads:
        if not isinstance(part, Sheave) or part.pull is None or part.power is None:
            continue
        rim = power.surface_speed(part.diameter, rated_speed(job))
        least = np.asarray(belt.effective_pull(ends(part.power), rim))
        if part.pull.high < least[0]:
            yield phrase(
                "The belt of {} needs an effective pull of {} for its power, and {} is given for both strands: "
                "measure one of them again.",
                part.name,
                kilonewton(_range(least)),
                kilonewton(_range(ends(part.pull))),
            )


def _drives(job: Job) -> list[ShaftDrive]:
    return [d for d in job.loads if isinstance(d, ShaftDrive) and d.arm_reach is not None]


_DRIVEN = (Drum, ElevatorDrum, Paddles, ScrewFlight)
_Driven = Drum | ElevatorDrum | Paddles | ScrewFlight


def _torque_of(part: _Driven, job: Job) -> Floats | None:
    """Return the torque that a driven part asks for [N·mm]; None where its survey does not say."""
    if isinstance(part, (Paddles, ScrewFlight)):
        return None if part.power is None else np.asarray(power.torque(ends(part.power), rated_speed(job)))
    if isinstance(part, Drum):
        if part.take_up is not None:
            return np.zeros(3)
        tight, slack, _ = strands(part, job)
    elif part.place is ElevatorPlace.BOOT:
        return np.zeros(3)
    elif part.tight_strand is None:
        return _by_parts(part, job)
    else:
        tight, slack = elevator_strands(part, job)
    return np.asarray(np.maximum(tight - slack[::-1], 0.0) * part.diameter / 2)


def _by_parts(part: ElevatorDrum, job: Job) -> Floats:
    """Return the torque of strands built up from one belt: end by end, its own weight is on both sides."""
    rising, falling = elevator_strands(part, job)
    return (rising - falling) * part.diameter / 2


def _arm_torque(part: ShaftDrive, job: Job) -> Floats:
    """Return the torque that the arm holds about the shaft: its force times its reach [N·mm]."""
    force, _ = arm_force(part, job)
    assert part.arm_reach is not None
    return force * part.arm_reach


def _apart(a: Floats, b: Floats) -> bool:
    """Whether two ranges have nothing in common."""
    return bool(max(a[0], b[0]) > min(a[2], b[2]) * (1 + 1e-9))


def _range(values: Floats) -> tuple[float, float]:
    return float(values[0]), float(values[2])


def _torque(values: Floats) -> Amount:
    return Amount(_range(values), Kind.TORQUE, "kN·m", digits=3)


def _power(values: Floats) -> Amount:
    return Amount(_range(values), Kind.POWER, "kW", digits=3)
