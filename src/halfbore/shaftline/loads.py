"""What acts on the shaft: every part of the machine as loads with source and direction."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

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
from halfbore.domain.shaftline import AppliedLoad, Nature
from halfbore.mechanics import belt, fan, power, shaft_drive
from halfbore.numbers import number
from halfbore.shaftline.acting import (
    GIVEN,
    Floats,
    ends,
    factors,
    load_of,
    ordered,
    pull,
    rated_speed,
    thrust,
    weight,
)
from halfbore.shaftline.bed import paddle_loads, screw_loads
from halfbore.shaftline.drums import drum_loads, elevator_loads
from halfbore.sources import Source


def applied_loads(job: Job) -> tuple[AppliedLoad, ...]:
    """Return every load of the machine on its shaft, without the shaft's own weight.

    job: the machine. Axis 0 of each array runs over its conditions, axis 1 over low, likely and high.
    """
    return tuple(found for load in job.loads for found in _BY_PART[type(load)](load, job))


def _fan_wheel(wheel: FanWheel, job: Job) -> Iterator[AppliedLoad]:
    yield from weight(job, wheel.name, wheel.x, wheel.mass)
    speeds = np.array([c.speed for c in job.duty])
    grades = np.array(
        [
            wheel.balance_grade,
            0.5 * (wheel.balance_grade + wheel.balance_in_service),
            wheel.balance_in_service,
        ]
    )
    off_centre = fan.eccentricity(np.sort(grades), speeds.max())
    amplitude = np.asarray(fan.eccentric_force(ends(wheel.mass), off_centre, speeds[:, None]))
    yield load_of(
        job,
        f"unbalance of {wheel.name}",
        wheel.name,
        wheel.x,
        nature=Nature.ROTATING,
        force_y=amplitude * factors(job),
        process=True,
        source=fan.eccentricity.source,
        direction=f"turning, G {number(wheel.balance_grade, 6)} new to G {number(wheel.balance_in_service, 6)} in service",
    )
    if wheel.axial_thrust is not None:
        sizes = ends(wheel.axial_thrust) * factors(job) * (speeds > 0)[:, None]
        yield thrust(job, wheel.name, wheel.x, sizes, wheel.thrust_towards)


def _coupling(part: Coupling, job: Job) -> Iterator[AppliedLoad]:
    yield from weight(job, part.name, part.x, part.mass)
    if part.reaction.high > 0:
        yield load_of(
            job,
            f"reaction of {part.name}",
            part.name,
            part.x,
            nature=Nature.ANY_DIRECTION,
            force_y=ends(part.reaction) * factors(job),
            process=True,
            direction="any: misalignment decides",
        )


def _sheave(part: Sheave, job: Job) -> Iterator[AppliedLoad]:
    yield from weight(job, part.name, part.x, part.mass)
    yield from _unbalance(job, part)
    sizes, source = _sheave_pull(part, job)
    yield pull(
        job,
        f"pull at {part.name}",
        part.name,
        part.x,
        sizes * factors(job, part.service_factor),
        part.direction,
        source=source,
    )


def _unbalance(job: Job, part: Sheave) -> Iterator[AppliedLoad]:
    speeds = np.array([c.speed for c in job.duty])
    off_centre = fan.eccentricity(part.balance_grade, speeds.max())
    amplitude = np.asarray(fan.eccentric_force(part.mass.high, off_centre, speeds))
    spread = amplitude[:, None] * np.array([0.0, 0.5, 1.0])
    yield load_of(
        job,
        f"unbalance of {part.name}",
        part.name,
        part.x,
        nature=Nature.ROTATING,
        force_y=spread,
        source=fan.eccentricity.source,
        direction=f"turning, up to G {number(part.balance_grade, 6)}",
    )


def _sheave_pull(part: Sheave, job: Job) -> tuple[Floats, Source]:
    if part.pull is not None:
        return ends(part.pull), GIVEN
    if part.power is None:
        return np.zeros(3), GIVEN
    rim = power.surface_speed(part.diameter, rated_speed(job))
    pull = np.asarray(belt.effective_pull(ends(part.power), rim))
    factor = belt.pull_factor(part.belt.value)
    return pull * np.array([factor.low, 0.5 * (factor.low + factor.high), factor.high]), factor.source


def _shaft_drive(part: ShaftDrive, job: Job) -> Iterator[AppliedLoad]:
    yield from weight(job, part.name, part.x, part.mass, part.centre_of_gravity)
    sizes, source = arm_force(part, job)
    sizes = sizes * factors(job)
    couple = np.zeros((*sizes.shape, 2))
    couple[..., 0] = sizes * np.cos(part.arm_direction) * part.arm_offset
    couple[..., 1] = sizes * np.sin(part.arm_direction) * part.arm_offset
    yield pull(
        job,
        f"torque arm of {part.name}",
        part.name,
        part.x,
        sizes,
        part.arm_direction,
        couple=couple,
        source=source,
    )


def arm_force(part: ShaftDrive, job: Job) -> tuple[Floats, Source]:
    """Return the force in the torque arm [N] as low, likely, high, and its source."""
    if part.arm_force is not None:
        return ends(part.arm_force), GIVEN
    if part.power is None or part.arm_reach is None:
        return np.zeros(3), GIVEN
    torque = shaft_drive.output_torque(ends(part.power), rated_speed(job))
    return np.asarray(shaft_drive.arm_force(torque, part.arm_reach)), shaft_drive.arm_force.source


def _point(part: PointLoad, job: Job) -> Iterator[AppliedLoad]:
    yield from weight(job, part.name, part.x, part.mass)
    sizes = ends(part.force) * factors(job, part.service_factor)
    axial = ordered(ends(part.axial_force) * factors(job, part.service_factor))
    if part.force.high > 0 or np.any(axial):
        yield pull(job, f"force at {part.name}", part.name, part.x, sizes, part.direction, axial=axial)


_BY_PART: dict[type[Load], Callable[[Any, Job], Iterator[AppliedLoad]]] = {
    FanWheel: _fan_wheel,
    Coupling: _coupling,
    Sheave: _sheave,
    Drum: drum_loads,
    ElevatorDrum: elevator_loads,
    Paddles: paddle_loads,
    ScrewFlight: screw_loads,
    ShaftDrive: _shaft_drive,
    PointLoad: _point,
}
