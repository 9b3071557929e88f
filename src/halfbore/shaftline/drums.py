"""Drums of belt conveyors and bucket elevators: weight and strands, shared by the hubs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from halfbore.domain.job import Job
from halfbore.domain.machine import Drum, ElevatorDrum, ElevatorPlace, Rotation
from halfbore.domain.shaftline import AppliedLoad
from halfbore.mechanics import belt, conveyor, drum, elevator, power
from halfbore.mechanics.forces import GRAVITY
from halfbore.shaftline.acting import (
    DOWN,
    GIVEN,
    UP,
    Floats,
    ends,
    factors,
    pull,
    rated_speed,
    steady,
    weight,
)
from halfbore.sources import Source
from halfbore.units import Span


def drum_loads(part: Drum, job: Job) -> Iterator[AppliedLoad]:
    """Yield weight and strands of a conveyor's drum; a drum with a take-up does not drive."""
    tight, slack, source = strands(part, job)
    names = ("tight strand", "slack strand") if part.take_up is None else ("one strand", "other strand")
    angles = (part.tight_direction, slack_direction(part, job))
    yield from _on_hubs(
        part.hub_spacing,
        [
            *weight(job, part.name, part.x, part.mass),
            *weight(job, part.name, part.x, part.belt_mass, what=f"belt on {part.name}"),
            *(
                pull(
                    job,
                    f"{name} at {part.name}",
                    part.name,
                    part.x,
                    tension * factors(job),
                    angle,
                    source=source,
                )
                for name, tension, angle in zip(names, (tight, slack), angles, strict=True)
            ),
        ],
    )


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
    if part.take_up is not None:
        both = np.asarray(drum.take_up_strand(ends(part.take_up)))
        return both, both, GIVEN
    if part.tight_strand is not None and part.slack_strand is not None:
        return ends(part.tight_strand), ends(part.slack_strand), GIVEN
    assert part.power is not None
    rim = power.surface_speed(part.diameter, rated_speed(job))
    effective = np.asarray(belt.effective_pull(ends(part.power), rim))
    grip = ends(part.friction)[::-1]
    slack = np.asarray(drum.slack_minimum(effective, grip, part.wrap, np.array([1.0, 1.3, 1.6])))
    return np.asarray(drum.tight_from_slack(slack, effective)), slack, drum.slack_minimum.source


def elevator_loads(part: ElevatorDrum, job: Job) -> Iterator[AppliedLoad]:
    """Yield weight and strands of an elevator's drum: down at the head, up at the boot."""
    at_boot = part.place is ElevatorPlace.BOOT
    pulls = _boot_pulls(part) if at_boot else _head_pulls(part, job)
    yield from _on_hubs(
        part.hub_spacing,
        [
            *weight(job, part.name, part.x, part.mass),
            *weight(job, part.name, part.x, _hanging(part), what=f"belt on {part.name}"),
            *(
                pull(
                    job,
                    f"{name} at {part.name}",
                    part.name,
                    part.x,
                    size * factors(job),
                    UP if at_boot else DOWN,
                    source=source,
                )
                for name, size, source in pulls
                if size[2] > 0
            ),
        ],
    )


def _boot_pulls(part: ElevatorDrum) -> Iterator[tuple[str, Floats, Source]]:
    strand = np.asarray(drum.take_up_strand(ends(part.take_up)))
    yield "rising strand", strand, GIVEN
    yield "falling strand", strand, GIVEN


def _head_pulls(part: ElevatorDrum, job: Job) -> Iterator[tuple[str, Floats, Source]]:
    """Yield the strands as given, or what pulls at them beside their own weight, which hangs there at rest too."""
    if part.tight_strand is not None and part.slack_strand is not None:
        yield "rising strand", ends(part.tight_strand), GIVEN
        yield "falling strand", ends(part.slack_strand), GIVEN
        return
    assert part.lift is not None
    lifted = elevator.lifted_pull(_load_per_metre(part, job), ends(part.lift), _digging(part))
    yield "load lifted", np.asarray(lifted), elevator.lifted_pull.source
    yield "take-up", ends(part.take_up), GIVEN


def elevator_strands(part: ElevatorDrum, job: Job) -> tuple[Floats, Floats]:
    """Return the tensions of rising and falling strand at an elevator's drum [N] as low, likely, high."""
    if part.place is ElevatorPlace.BOOT:
        both = np.asarray(drum.take_up_strand(ends(part.take_up)))
        return both, both
    if part.tight_strand is not None and part.slack_strand is not None:
        return ends(part.tight_strand), ends(part.slack_strand)
    assert part.lift is not None and part.belt_and_buckets is not None
    run, lift, take_up = ends(part.belt_and_buckets), ends(part.lift), ends(part.take_up)
    rising = elevator.tight_strand(run, _load_per_metre(part, job), lift, _digging(part), take_up)
    return np.asarray(rising), np.asarray(elevator.slack_strand(run, lift, take_up))


def _load_per_metre(part: ElevatorDrum, job: Job) -> Floats:
    """Return what each metre of the rising strand carries [kg/m]."""
    if part.capacity is None:
        return np.zeros(3)
    speed = power.surface_speed(part.diameter, rated_speed(job))
    return np.asarray(conveyor.load_per_metre(ends(part.capacity), speed))


def _digging(part: ElevatorDrum) -> Floats:
    return np.asarray(elevator.digging_lift(part.boot_diameter or part.diameter, ends(part.digging)))


def _hanging(part: ElevatorDrum) -> Span:
    """Return the mass of belt and buckets on both sides of a head whose strands are not given [kg]."""
    if part.place is ElevatorPlace.BOOT or part.tight_strand is not None:
        return Span(0.0, 0.0, 0.0)
    assert part.lift is not None and part.belt_and_buckets is not None
    low, likely, high = 2 * ends(part.belt_and_buckets) * ends(part.lift) / 1000
    return Span(float(low), float(likely), float(high))


def belts_at_rest(job: Job) -> Iterator[AppliedLoad]:
    """Yield what hangs at standstill on a head whose strands are given: twice the falling strand less its take-up.

    The falling strand carries belt and empty buckets of one side and half of the take-up; where no take-up is named,
    it stands in what hangs.
    """
    for part in job.loads:
        if (
            not isinstance(part, ElevatorDrum)
            or part.place is ElevatorPlace.BOOT
            or part.slack_strand is None
        ):
            continue
        low, likely, high = np.maximum(2 * ends(part.slack_strand) - ends(part.take_up)[::-1], 0.0) / GRAVITY
        mass = Span(float(low), float(likely), float(high))
        yield from _on_hubs(
            part.hub_spacing, weight(job, part.name, part.x, mass, what=f"belt on {part.name}")
        )


def take_ups(job: Job) -> Iterator[AppliedLoad]:
    """Yield what a take-up pulls at standstill until it is slackened: up at a boot, down at a head."""
    for part in job.loads:
        match part:
            case ElevatorDrum():
                angles = (UP,) * 2 if part.place is ElevatorPlace.BOOT else (DOWN,) * 2
            case Drum(take_up=Span()):
                angles = (part.tight_direction, slack_direction(part, job))
            case _:
                continue
        assert part.take_up is not None
        strand = steady(job, np.asarray(drum.take_up_strand(ends(part.take_up))))
        what = f"take-up at {part.name}"
        if part.take_up.high > 0:
            yield from _on_hubs(
                part.hub_spacing, [pull(job, what, part.name, part.x, strand, angle) for angle in angles]
            )


def _on_hubs(spacing: float, loads: Iterable[AppliedLoad]) -> Iterator[AppliedLoad]:
    """Share each load of a drum between its two hubs."""
    for load in loads:
        if spacing <= 0:
            yield load
            continue
        for side, sign in (("drive side", -0.5), ("free side", 0.5)):
            yield replace(
                load,
                name=f"{load.name}, {side}",
                x=load.x + sign * spacing,
                force_y=load.force_y / 2,
                force_z=load.force_z / 2,
                couple=load.couple / 2,
                axial=load.axial / 2,
            )
