"""Lifting and holding: the shaft at standstill with one bearing away and a jack beside it."""

from __future__ import annotations

import numpy as np

from halfbore.domain.job import Job
from halfbore.domain.shaftline import AppliedLoad, LiftResult, Nature, Neighbour
from halfbore.numerics import beam
from halfbore.shaftline import solve

JACK_BESIDE = 2.0
"""Where a jack stands when the survey does not say: this many diameters towards the middle, or halfway to the next
bearing where that is nearer (common practice, no source)."""

MOST_STEPS = 12
"""Steps to the height of the jack; each neighbour that lifts off costs one."""
EXACT = 1e-9
"""A step that no longer matters [mm]."""


def lifts(job: Job, loads: tuple[AppliedLoad, ...]) -> tuple[LiftResult, ...]:
    """Return, for each position, what holds the shaft in its place while the bearing is away."""
    return tuple(lift_at(job, loads, p.name, 0.0) for p in job.positions)


def lift_at(job: Job, loads: tuple[AppliedLoad, ...], position: str, lift: float) -> LiftResult:
    """Return the jack's force and what it does to the neighbours when the shaft is lifted at a position.

    job: the machine; loads: on its shaft, of which only the weights act at standstill.
    position: its name; lift: of the shaft at the position above its running place [mm].
    """
    index = next(i for i, p in enumerate(job.positions) if p.name == position)
    jack_x, assumed = jack_place(job, index)
    line = solve.shaft_beam(job, (*(x for load in loads for x in solve.places_of(load)), jack_x))
    standing = _solved(job, loads, line, index, None, np.zeros(1))
    running = float(standing.at(job.positions[index].x).deflection[0, 0])
    before = float(standing.at(jack_x).deflection[0, 0])
    height = before
    for _ in range(MOST_STEPS):
        # Linear between two contacts of a neighbour: two heights give the next, and a few steps the one wanted.
        two = _solved(job, loads, line, index, jack_x, height + np.array([0.0, 1.0]))
        seen = two.at(job.positions[index].x).deflection[:, 0] - running
        step = float((lift - seen[0]) / (seen[1] - seen[0]))
        height += step
        if abs(step) < EXACT:
            break
    at_height = _solved(job, loads, line, index, jack_x, np.array([height]))
    force = float(at_height.reaction[0, -1])
    return LiftResult(
        position,
        jack_x,
        assumed,
        lift,
        float(height - before),
        force,
        _holding(force),
        _neighbours(job, index, standing, at_height),
    )


def jack_place(job: Job, index: int) -> tuple[float, bool]:
    """Return where the jack stands [mm], and whether that is assumed."""
    position = job.positions[index]
    if position.lift.jack_x is not None:
        return position.lift.jack_x, False
    total = job.shaft.length
    diameter = job.shaft.segments[0].diameter
    inward = 1.0 if position.x < total / 2 else -1.0
    ahead = [inward * (p.x - position.x) for p in job.positions]
    beside = min([JACK_BESIDE * diameter, *(a / 2 for a in ahead if a > 0)])
    return float(np.clip(position.x + inward * beside, 0.0, total)), True


def _solved(
    job: Job,
    loads: tuple[AppliedLoad, ...],
    line: beam.Beam,
    index: int,
    jack_x: float | None,
    heights: np.ndarray[tuple[int], np.dtype[np.float64]],
) -> beam.BeamSolution:
    """Solve the standing shaft: all bearings, or the jack instead of the one at index."""
    weights = [load for load in loads if load.nature is Nature.STATIONARY and not load.process]
    size = np.array([load.force_y[0, 1] for load in weights])
    acting = beam.Loads(
        np.array([load.x for load in weights]),
        (size * solve.at_place(weights))[None, :],
        np.array([[load.couple[0, 1, 0] for load in weights]]),
        (solve.own_weight(job, line) + size @ solve.spread(line, weights))[None, :],
    )
    held = [
        beam.Support(p.x, height=p.base.height_error.likely, holds="both" if p.base.holds_down else "up")
        for i, p in enumerate(job.positions)
        if jack_x is None or i != index
    ]
    if jack_x is not None:
        held.append(beam.Support(jack_x, height=heights))
    return beam.solve(line, acting, held)


def _holding(force: float) -> str:
    if force >= 0:
        return "a jack or sling from below carries the shaft here"
    return "the shaft pulls upwards here: a hold-down, not a jack"


def _neighbours(
    job: Job, index: int, standing: beam.BeamSolution, lifted: beam.BeamSolution
) -> tuple[Neighbour, ...]:
    others = [i for i in range(len(job.positions)) if i != index]
    places = np.array([job.positions[i].x for i in others])
    slope = lifted.at(places).slope[0]
    return tuple(
        Neighbour(
            job.positions[i].name, float(lifted.reaction[0, k] - standing.reaction[0, i]), float(slope[k])
        )
        for k, i in enumerate(others)
    )
