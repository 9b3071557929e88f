"""Does it add up: forces and moments of the shaft alone, and of shaft, drive and arm as one body."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.job import Job
from halfbore.domain.machine import Drum, ShaftDrive
from halfbore.domain.shaftline import AppliedLoad, BodyBalance, Nature
from halfbore.numerics import beam
from halfbore.shaftline import solve
from halfbore.shaftline.loads import arm_force, strands

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


def torque_notes(job: Job) -> tuple[str, ...]:
    """Return a note where the torque of the drum and that of the drive do not agree."""
    drums = [d for d in job.loads if isinstance(d, Drum)]
    drives = [d for d in job.loads if isinstance(d, ShaftDrive) and d.arm_reach is not None]
    if not drums or not drives:
        return ()
    driven = np.sum([_drum_torque(d, job) for d in drums], axis=0)
    driving = np.sum([_drive_torque(d, job) for d in drives], axis=0)
    low, high = max(driven[0], driving[0]), min(driven[2], driving[2])
    if low <= high:
        return ()
    return (
        f"The belt asks for {driven[0] / 1e6:.1f} to {driven[2] / 1e6:.1f} kN·m and the torque arm shows "
        f"{driving[0] / 1e6:.1f} to {driving[2] / 1e6:.1f} kN·m: measure one of them again.",
    )


def _drum_torque(part: Drum, job: Job) -> Floats:
    tight, slack, _ = strands(part, job)
    pull = np.array([tight[0] - slack[2], tight[1] - slack[1], tight[2] - slack[0]])
    return np.asarray(np.maximum(pull, 0.0) * part.diameter / 2)


def _drive_torque(part: ShaftDrive, job: Job) -> Floats:
    """Return the torque that the arm holds about the shaft: its force times its reach [N·mm]."""
    force, _ = arm_force(part, job)
    assert part.arm_reach is not None
    return force * part.arm_reach
