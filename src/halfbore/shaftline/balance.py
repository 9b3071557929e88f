"""Does it add up: forces and moments of the shaft alone, and of shaft, drive and arm as one body."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.job import Job
from halfbore.domain.machine import ShaftDrive
from halfbore.domain.shaftline import AppliedLoad, BodyBalance, Nature
from halfbore.numerics import beam
from halfbore.shaftline import solve

Floats = NDArray[np.float64]


def balances(
    job: Job, loads: tuple[AppliedLoad, ...], upright: beam.BeamSolution, level: beam.BeamSolution
) -> tuple[BodyBalance, ...]:
    """Return what is left over of forces and moments, worst of all conditions, per body.

    job: the machine; loads: on its shaft; upright, level: the two solutions, a case a condition.
    """
    alone = _alone(upright, level)
    if not any(isinstance(load, ShaftDrive) for load in job.loads):
        return (alone,)
    return (alone, _as_one(job, loads, upright, level))


def _alone(upright: beam.BeamSolution, level: beam.BeamSolution) -> BodyBalance:
    force = np.hypot(upright.residual_force, level.residual_force).max()
    moment = np.hypot(upright.residual_moment, level.residual_moment).max()
    return BodyBalance("shaft alone", float(force), float(moment))


def _as_one(
    job: Job, loads: tuple[AppliedLoad, ...], upright: beam.BeamSolution, level: beam.BeamSolution
) -> BodyBalance:
    """Sum over shaft, drive and arm: weight and arm act where they really are, not at the hollow shaft."""
    at = np.array([p.x for p in job.positions])
    force = np.stack([upright.reaction.sum(1), level.reaction.sum(1)])
    moment = np.stack([upright.reaction @ at, level.reaction @ at])
    for load, x in zip(loads, _real_places(job, loads), strict=True):
        if load.nature is Nature.STATIONARY:
            both = np.stack([load.force_y[:, 1], load.force_z[:, 1]])
            force, moment = force + both, moment + both * x
    line = upright.beam
    weight = solve.own_weight(job, line) * line.length
    force[0] += weight.sum()
    moment[0] += weight @ ((line.x[1:] + line.x[:-1]) / 2)
    return BodyBalance(
        "shaft, drive and torque arm as one body",
        float(np.hypot(force[0], force[1]).max()),
        float(np.hypot(moment[0], moment[1]).max()),
    )


def _real_places(job: Job, loads: tuple[AppliedLoad, ...]) -> list[float]:
    drives = {d.name: d for d in job.loads if isinstance(d, ShaftDrive)}
    places = []
    for load in loads:
        drive = drives.get(load.part)
        if drive is None:
            places.append(load.x)
        else:
            arm = load.name.startswith("torque arm")
            places.append(drive.x + (drive.arm_offset if arm else drive.centre_of_gravity))
    return places
