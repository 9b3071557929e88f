"""The shaft on its bearings: what each load does to each position, in both planes, over all ranges."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.job import Job
from halfbore.domain.shaftline import AppliedLoad, Nature
from halfbore.mechanics import forces, shaft_section
from halfbore.numerics import beam
from halfbore.shaftline.loads import ends

Floats = NDArray[np.float64]

GRID = 120
"""Places along the shaft at which the bent shape is drawn."""


@dataclass(frozen=True)
class Influence:
    """What a unit of each load does at each position, with the bearings that are in contact.

    reaction_by_force [-], reaction_by_couple [1/mm]: (loads, positions); slope_* [rad/N, rad/(N·mm)] alike.
    weight_reaction [N], weight_slope [rad]: of the shaft's own weight (positions).
    height_reaction [N/mm], height_slope [rad/mm]: of a unit height error at each position (positions, positions).
    """

    reaction_by_force: Floats
    reaction_by_couple: Floats
    slope_by_force: Floats
    slope_by_couple: Floats
    weight_reaction: Floats
    weight_slope: Floats
    height_reaction: Floats
    height_slope: Floats


def shaft_beam(job: Job, extra: tuple[float, ...] = ()) -> beam.Beam:
    """Return the stepped shaft with a node at every load and position."""
    stiffness = [
        job.shaft.elastic_modulus * float(shaft_section.second_moment(s.diameter, s.bore))
        for s in job.shaft.segments
    ]
    places = [load.x for load in job.loads] + [p.x for p in job.positions] + list(extra)
    return beam.stepped([s.length for s in job.shaft.segments], stiffness, places)


def own_weight(job: Job, line: beam.Beam) -> Floats:
    """Return the shaft's own weight across its axis per element [N/mm], negative for down."""
    edges = np.concatenate([[0.0], np.cumsum([s.length for s in job.shaft.segments])])
    per_length = [
        -float(shaft_section.mass_per_length(s.diameter, s.bore, job.shaft.density))
        * forces.GRAVITY
        * np.cos(job.shaft.inclination)
        for s in job.shaft.segments
    ]
    return line.per_element(edges, per_length)


def shaft_mass(job: Job) -> float:
    """Return the mass of the bare shaft [kg]."""
    return sum(
        float(shaft_section.mass_per_length(s.diameter, s.bore, job.shaft.density)) * s.length
        for s in job.shaft.segments
    )


def line_of(job: Job, loads: tuple[AppliedLoad, ...]) -> beam.Beam:
    """Return the shaft with nodes for these loads."""
    return shaft_beam(job, tuple(load.x for load in loads))


def likely_case(
    job: Job, loads: tuple[AppliedLoad, ...], line: beam.Beam
) -> tuple[beam.BeamSolution, beam.BeamSolution]:
    """Solve every condition with likely loads in the upright and in the level plane.

    Returns the two solutions, a case a condition. Bearings that do not hold the shaft down may lift off.
    """
    still = [load for load in loads if load.nature is Nature.STATIONARY]
    places = np.array([load.x for load in still])
    upright = beam.Loads(places, _stack(still, "force_y"), _couples(still, 0), own_weight(job, line))
    level = beam.Loads(places, _stack(still, "force_z"), _couples(still, 1))
    heights = [
        beam.Support(p.x, height=p.base.height_error.likely, holds="both" if p.base.holds_down else "up")
        for p in job.positions
    ]
    first = beam.solve(line, upright, heights)
    second = beam.solve(line, level, [beam.Support(p.x) for p in job.positions])
    return first, second


def _stack(loads: list[AppliedLoad], name: str) -> Floats:
    return np.stack([getattr(load, name)[:, 1] for load in loads], axis=1)


def _couples(loads: list[AppliedLoad], plane: int) -> Floats:
    return np.stack([load.couple[:, 1, plane] for load in loads], axis=1)


def influence(
    job: Job, loads: tuple[AppliedLoad, ...], line: beam.Beam, touching: NDArray[np.bool_]
) -> Influence:
    """Return what a unit of each load does at each position.

    touching: bearings that are in contact (positions).
    """
    count, held = len(loads), [p for p, on in zip(job.positions, touching, strict=True) if on]
    cases = 2 * count + 1 + len(held)
    unit = np.zeros((cases, count))
    couple = np.zeros((cases, count))
    unit[:count], couple[count : 2 * count] = np.eye(count), np.eye(count)
    spread = np.zeros((cases, line.EI.size))
    spread[2 * count] = own_weight(job, line)
    supports = []
    for i, p in enumerate(held):
        raised = np.zeros(cases)
        raised[2 * count + 1 + i] = 1.0
        supports.append(beam.Support(p.x, height=raised))
    bent = beam.solve(line, beam.Loads(np.array([load.x for load in loads]), unit, couple, spread), supports)
    at = np.array([p.x for p in job.positions])
    slope = bent.at(at).slope
    reaction = np.zeros((cases, len(job.positions)))
    reaction[:, np.flatnonzero(touching)] = bent.reaction
    heights_r, heights_s = np.zeros((len(at), len(at))), np.zeros((len(at), len(at)))
    heights_r[np.flatnonzero(touching)] = reaction[2 * count + 1 :]
    heights_s[np.flatnonzero(touching)] = slope[2 * count + 1 :]
    return Influence(
        reaction[:count],
        reaction[count : 2 * count],
        slope[:count],
        slope[count : 2 * count],
        reaction[2 * count],
        slope[2 * count],
        heights_r,
        heights_s,
    )


@dataclass(frozen=True)
class Response:
    """A plane vector per position with its range: likely (positions, 2), low and high size, spread across it.

    amplitude_*: size of the part that turns with the shaft.
    """

    likely: Floats
    low: Floats
    high: Floats
    across: Floats
    amplitude_low: Floats
    amplitude_high: Floats


def ranged(
    job: Job,
    loads: tuple[AppliedLoad, ...],
    condition: int,
    by_force: Floats,
    by_couple: Floats,
    weight: Floats,
    heights: Floats,
) -> Response:
    """Return reactions or slopes of one condition with their ranges over all uncertain loads.

    by_force, by_couple, weight, heights: one kind of coefficient of `Influence`.
    Each uncertain load is taken at that end of its range which makes the size least or greatest.
    """
    parts = []
    steady = np.zeros((len(job.positions), 2))
    steady[:, 0] = weight
    low_turn, high_turn = np.zeros(len(job.positions)), np.zeros(len(job.positions))
    any_way = np.zeros(len(job.positions))
    for k, load in enumerate(loads):
        if load.nature is Nature.ROTATING:
            low_turn += np.abs(by_force[k]) * load.force_y[condition, 0]
            high_turn += np.abs(by_force[k]) * load.force_y[condition, 2]
        elif load.nature is Nature.ANY_DIRECTION:
            any_way += np.abs(by_force[k]) * load.force_y[condition, 2]
        else:
            parts.append(_part(load, condition, by_force[k], by_couple[k]))
    for j, p in enumerate(job.positions):
        error = ends(p.base.height_error)
        upright = heights[j][:, None] * error[None, :]
        parts.append(np.stack([upright, np.zeros_like(upright)], axis=1))
    all_parts = np.stack(parts)
    likely = steady + all_parts[..., 1].sum(0)
    return _extremes(likely, all_parts, any_way, low_turn, high_turn)


def _part(load: AppliedLoad, condition: int, by_force: Floats, by_couple: Floats) -> Floats:
    """Return one load's share at each position: (positions, planes, low likely high)."""
    force = np.stack([load.force_y[condition], load.force_z[condition]])
    couple = load.couple[condition].T
    return np.asarray(by_force[:, None, None] * force[None] + by_couple[:, None, None] * couple[None])


def _extremes(
    likely: Floats, parts: Floats, any_way: Floats, low_turn: Floats, high_turn: Floats
) -> Response:
    size = np.hypot(likely[:, 0], likely[:, 1])
    along = np.divide(likely, size[:, None], out=np.tile([1.0, 0.0], (len(size), 1)), where=size[:, None] > 0)
    beside = np.stack([-along[:, 1], along[:, 0]], axis=1)
    change = parts - parts[..., 1:2]
    on = np.einsum("kpje,pj->kpe", change, along)
    off = np.einsum("kpje,pj->kpe", change, beside)
    high = size + on.max(2).sum(0) + any_way
    low = np.maximum(size + on.min(2).sum(0) - any_way, 0.0)
    return Response(likely, low, high, np.abs(off).max(2).sum(0) + any_way, low_turn, high_turn)
