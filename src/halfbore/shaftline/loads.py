"""What acts on the shaft: every part of the machine as loads with source and direction."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.job import Job
from halfbore.domain.machine import (
    Coupling,
    Drum,
    End,
    FanWheel,
    Load,
    PointLoad,
    Rotation,
    ShaftDrive,
    Sheave,
)
from halfbore.domain.shaftline import AppliedLoad, Nature
from halfbore.mechanics import belt, drum, fan, forces, power, shaft_drive
from halfbore.sources import Source, Status, derived
from halfbore.units import Span

Floats = NDArray[np.float64]

DOWN = np.pi
_GIVEN = Source("job file", status=Status.GIVEN)
_WEIGHT = derived("weight = mass times 9.80665 m/s²")


def applied_loads(job: Job) -> tuple[AppliedLoad, ...]:
    """Return every load of the machine on its shaft, without the shaft's own weight.

    job: the machine. Axis 0 of each array runs over its conditions, axis 1 over low, likely and high.
    """
    return tuple(found for load in job.loads for found in _BY_PART[type(load)](load, job))


def rated_speed(job: Job) -> float:
    """Return the speed of the condition with the largest share [r/min], at which power is named."""
    return max(job.duty, key=lambda c: c.share).speed


def ends(span: Span) -> Floats:
    """Return a range as an array of low, likely, high."""
    return np.array([span.low, span.likely, span.high])


def _factors(job: Job, own: float = 1.0) -> Floats:
    return own * np.array([ends(c.load_factor) for c in job.duty])


def _steady(job: Job, values: Floats) -> Floats:
    return np.broadcast_to(values, (len(job.duty), 3)).copy()


def _load(job: Job, name: str, part: str, x: float, **given: Any) -> AppliedLoad:
    zero = np.zeros((len(job.duty), 3))
    filled: dict[str, Any] = {
        "nature": Nature.STATIONARY,
        "force_y": zero,
        "force_z": zero,
        "couple": np.zeros((len(job.duty), 3, 2)),
        "axial": zero,
        "process": False,
        "source": _GIVEN,
        "direction": "",
    }
    return AppliedLoad(name, part, x, **(filled | given))


def _weight(job: Job, part: str, x: float, mass: Span, offset: float = 0.0) -> Iterator[AppliedLoad]:
    if mass.high <= 0:
        return
    size = np.asarray(forces.weight(ends(mass)))
    lean = job.shaft.inclination
    across = _steady(job, -size * np.cos(lean))
    couple = np.zeros((*across.shape, 2))
    couple[..., 0] = across * offset
    yield _load(
        job,
        f"weight of {part}",
        part,
        x,
        force_y=across,
        couple=couple,
        axial=_steady(job, -size * np.sin(lean)),
        source=_WEIGHT,
        direction="down",
    )


def _pull(job: Job, name: str, part: str, x: float, sizes: Floats, angle: float, **given: Any) -> AppliedLoad:
    """A process force of sizes (c, 3) in one direction."""
    return _load(
        job,
        name,
        part,
        x,
        force_y=sizes * np.cos(angle),
        force_z=sizes * np.sin(angle),
        process=True,
        direction=direction_words(angle),
        **given,
    )


def direction_words(angle: float) -> str:
    """Return a direction as people say it, seen from the drive end.

    angle: from straight up, positive to the right [rad].
    """
    degrees = np.degrees(angle) % 360.0
    words = {0: "up", 90: "right", 180: "down", 270: "left", 360: "up"}
    near = min(words, key=lambda w: abs(w - degrees))
    return words[near] if abs(near - degrees) < 0.5 else f"{degrees:.0f}° from up, to the right"


def _fan_wheel(wheel: FanWheel, job: Job) -> Iterator[AppliedLoad]:
    yield from _weight(job, wheel.name, wheel.x, wheel.mass)
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
    yield _load(
        job,
        f"unbalance of {wheel.name}",
        wheel.name,
        wheel.x,
        nature=Nature.ROTATING,
        force_y=amplitude * _factors(job),
        process=True,
        source=fan.eccentricity.source,
        direction=f"turning, G {wheel.balance_grade:g} new to G {wheel.balance_in_service:g} in service",
    )
    if wheel.axial_thrust is not None:
        sense = -1.0 if wheel.thrust_towards is End.DRIVE else 1.0
        yield _load(
            job,
            f"thrust of {wheel.name}",
            wheel.name,
            wheel.x,
            axial=_ordered(sense * ends(wheel.axial_thrust) * _factors(job) * (speeds > 0)[:, None]),
            process=True,
            direction=f"along the shaft, towards the {wheel.thrust_towards}",
        )


def _ordered(values: Floats) -> Floats:
    return np.sort(values, axis=1)


def _coupling(part: Coupling, job: Job) -> Iterator[AppliedLoad]:
    yield from _weight(job, part.name, part.x, part.mass)
    if part.reaction.high > 0:
        yield _load(
            job,
            f"reaction of {part.name}",
            part.name,
            part.x,
            nature=Nature.ANY_DIRECTION,
            force_y=ends(part.reaction) * _factors(job),
            process=True,
            direction="any: misalignment decides",
        )


def _sheave(part: Sheave, job: Job) -> Iterator[AppliedLoad]:
    yield from _weight(job, part.name, part.x, part.mass)
    yield from _unbalance(job, part)
    sizes, source = _sheave_pull(part, job)
    yield _pull(
        job,
        f"pull at {part.name}",
        part.name,
        part.x,
        sizes * _factors(job, part.service_factor),
        part.direction,
        source=source,
    )


def _unbalance(job: Job, part: Sheave) -> Iterator[AppliedLoad]:
    speeds = np.array([c.speed for c in job.duty])
    off_centre = fan.eccentricity(part.balance_grade, speeds.max())
    amplitude = np.asarray(fan.eccentric_force(part.mass.high, off_centre, speeds))
    spread = amplitude[:, None] * np.array([0.0, 0.5, 1.0])
    yield _load(
        job,
        f"unbalance of {part.name}",
        part.name,
        part.x,
        nature=Nature.ROTATING,
        force_y=spread,
        source=fan.eccentricity.source,
        direction=f"turning, up to G {part.balance_grade:g}",
    )


def _sheave_pull(part: Sheave, job: Job) -> tuple[Floats, Source]:
    if part.pull is not None:
        return ends(part.pull), _GIVEN
    if part.power is None:
        return np.zeros(3), _GIVEN
    rim = power.surface_speed(part.diameter, rated_speed(job))
    pull = np.asarray(belt.effective_pull(ends(part.power), rim))
    factor = belt.pull_factor(part.belt.value)
    return pull * np.array([factor.low, 0.5 * (factor.low + factor.high), factor.high]), factor.source


def _drum(part: Drum, job: Job) -> Iterator[AppliedLoad]:
    yield from _on_hubs(part, _weight(job, part.name, part.x, part.mass))
    yield from _on_hubs(part, _weight(job, f"belt on {part.name}", part.x, part.belt_mass))
    tight, slack, source = strands(part, job)
    slack_angle = slack_direction(part, job)
    both = [
        _pull(
            job,
            f"tight strand at {part.name}",
            part.name,
            part.x,
            tight * _factors(job),
            part.tight_direction,
            source=source,
        ),
        _pull(
            job,
            f"slack strand at {part.name}",
            part.name,
            part.x,
            slack * _factors(job),
            slack_angle,
            source=source,
        ),
    ]
    yield from _on_hubs(part, iter(both))


def slack_direction(part: Drum, job: Job) -> float:
    """Return the direction in which the slack strand pulls [rad].

    With half a turn of wrap both strands pull alike. With more or less, the belt's torque on a driving drum
    is against the rotation; where either rotation is possible, clockwise is taken.
    """
    if part.slack_direction is not None:
        return part.slack_direction
    rotation = -1.0 if job.machine.rotation is Rotation.COUNTER_CLOCKWISE else 1.0
    return float(belt.slack_direction(part.tight_direction, part.wrap, -rotation))


def strands(part: Drum, job: Job) -> tuple[Floats, Floats, Source]:
    """Return both strand tensions [N] as low, likely, high, and their source."""
    if part.tight_strand is not None and part.slack_strand is not None:
        return ends(part.tight_strand), ends(part.slack_strand), _GIVEN
    assert part.power is not None
    rim = power.surface_speed(part.diameter, rated_speed(job))
    pull = np.asarray(belt.effective_pull(ends(part.power), rim))
    grip = ends(part.friction)[::-1]
    slack = np.asarray(drum.slack_minimum(pull, grip, part.wrap, np.array([1.0, 1.3, 1.6])))
    return slack + pull, slack, drum.slack_minimum.source


def _on_hubs(part: Drum, loads: Iterator[AppliedLoad]) -> Iterator[AppliedLoad]:
    """Share each load of a drum between its two hubs."""
    for load in loads:
        if part.hub_spacing <= 0:
            yield load
            continue
        for side, sign in (("drive side", -0.5), ("free side", 0.5)):
            yield AppliedLoad(
                f"{load.name}, {side}",
                load.part,
                load.x + sign * part.hub_spacing,
                load.nature,
                load.force_y / 2,
                load.force_z / 2,
                load.couple / 2,
                load.axial / 2,
                load.process,
                load.source,
                load.direction,
            )


def _shaft_drive(part: ShaftDrive, job: Job) -> Iterator[AppliedLoad]:
    yield from _weight(job, part.name, part.x, part.mass, part.centre_of_gravity)
    sizes, source = arm_force(part, job)
    sizes = sizes * _factors(job)
    couple = np.zeros((*sizes.shape, 2))
    couple[..., 0] = sizes * np.cos(part.arm_direction) * part.arm_offset
    couple[..., 1] = sizes * np.sin(part.arm_direction) * part.arm_offset
    yield _pull(
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
        return ends(part.arm_force), _GIVEN
    if part.power is None or part.arm_reach is None:
        return np.zeros(3), _GIVEN
    torque = shaft_drive.output_torque(ends(part.power), rated_speed(job))
    return np.asarray(shaft_drive.arm_force(torque, part.arm_reach)), shaft_drive.arm_force.source


def _point(part: PointLoad, job: Job) -> Iterator[AppliedLoad]:
    yield from _weight(job, part.name, part.x, part.mass)
    sizes = ends(part.force) * _factors(job, part.service_factor)
    axial = _ordered(ends(part.axial_force) * _factors(job, part.service_factor))
    if part.force.high > 0 or np.any(axial):
        yield _pull(job, f"force at {part.name}", part.name, part.x, sizes, part.direction, axial=axial)


_BY_PART: dict[type[Load], Callable[[Any, Job], Iterator[AppliedLoad]]] = {
    FanWheel: _fan_wheel,
    Coupling: _coupling,
    Sheave: _sheave,
    Drum: _drum,
    ShaftDrive: _shaft_drive,
    PointLoad: _point,
}
