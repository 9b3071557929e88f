"""A shaft whose places, dimensions and directions are estimates: the range over all that is possible.

Every load is a stretch or an arc in the plane at each corner of what the places may be; all together make a convex
body, and its reach in a direction is the largest sum of the reaches of the loads at any corner. With two bearings the
reactions are a projective map of the places, which takes a polytope to the body of its corners' images: nothing lies
outside it. (The shaft's own weight alone goes with the square of a length.) Its farthest and its nearest point are the
range. A body that holds another reaches at least as far in every direction, so a measured value never widens a range.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import product

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.estimate import Layout, Widening
from halfbore.domain.job import Job
from halfbore.domain.machine import Load, Paddles, ScrewFlight
from halfbore.domain.shaftline import AppliedLoad, Bearing, Nature, PositionDuty, ShaftResponse
from halfbore.numbers import number
from halfbore.shaftline import axial, solve
from halfbore.shaftline.acting import direction_words
from halfbore.shaftline.loads import applied_loads
from halfbore.shaftline.respond import Solved, duties, respond, solved, thrust_of, told
from halfbore.shaftline.solve import Known, Response, Shares
from halfbore.sources import Source, Status

Floats = NDArray[np.float64]
SPREAD = (Paddles, ScrewFlight)
Arcs = dict[str, tuple[tuple[float, float], ...]]

DIRECTIONS = 120
"""Directions in which the reach is taken; the farthest point is missed by no more than 0.04 %."""
ESTIMATED = Source("estimated from the name plate", status=Status.ESTIMATE)
_ANGLES = np.arange(DIRECTIONS) * 2 * np.pi / DIRECTIONS
_AROUND = np.stack([np.cos(_ANGLES), np.sin(_ANGLES)], axis=1)


def respond_over(
    job: Job, bearings: tuple[Bearing, ...] = (), widening: Widening | None = None
) -> ShaftResponse:
    """Solve the shaft line of a machine as `respond` does, over all that its estimates leave possible.

    widening: how far places, dimensions and directions may be off; None for a job without estimates.
    Returns the likely shaft with the range of its reactions, slopes, thrust and growth. Raises as `respond`.
    """
    if widening is None:
        return respond(job, bearings)
    return told(job, _widened(job, bearings, widening, {}))


def duties_over(
    job: Job,
    bearings: tuple[Bearing, ...] = (),
    widening: Widening | None = None,
    known: Known | None = None,
) -> tuple[PositionDuty, ...]:
    """Return the duty of each position alone, as `respond_over` gives it.

    known: kept by who asks often for the same places, and filled here.
    """
    memory: Known = {} if known is None else known
    found = solved(job, bearings, memory) if widening is None else _widened(job, bearings, widening, memory)
    return duties(job, found)


def _widened(job: Job, bearings: tuple[Bearing, ...], widening: Widening, known: Known) -> Solved:
    likely = solved(job, bearings, known)
    loads = _marked(_over_dimensions(job, likely.loads, widening), widening)
    arcs: Arcs = dict(widening.directions)
    jobs = [job, *(placed(job, layout) for layout in widening.layouts)]
    both = [_shares(each, _moved(job, each, loads), likely, known) for each in jobs]
    reactions = [
        _range(r.likely, [at[0][c] for at in both], loads, arcs).without_rounding()
        for c, r in enumerate(likely.reactions)
    ]
    slopes = [_range(s.likely, [at[1][c] for at in both], loads, arcs) for c, s in enumerate(likely.slopes)]
    thrusts = [thrust_of(each, loads) for each in jobs]
    thrust = np.stack(
        [np.min(thrusts, axis=0)[:, 0], likely.thrust[:, 1], np.max(thrusts, axis=0)[:, 2]], axis=1
    )
    growth = [
        _hull([axial.growth_at(each, each.positions[i].x) for each in jobs])
        for i in range(len(job.positions))
    ]
    return replace(likely, loads=loads, thrust=thrust, reactions=reactions, slopes=slopes, growth=growth)


def placed(job: Job, layout: Layout) -> Job:
    """Return the job with its parts where a layout has them."""
    loads = tuple(
        replace(load, x=x, length=length) if isinstance(load, SPREAD) and length > 0 else replace(load, x=x)
        for load, x, length in zip(job.loads, layout.loads, layout.lengths, strict=True)
    )
    positions = tuple(replace(p, x=x) for p, x in zip(job.positions, layout.positions, strict=True))
    segments = tuple(
        replace(s, length=length, diameter=diameter)
        for s, (length, diameter) in zip(job.shaft.segments, layout.segments, strict=True)
    )
    return replace(job, loads=loads, positions=positions, shaft=replace(job.shaft, segments=segments))


def _marked(loads: tuple[AppliedLoad, ...], widening: Widening) -> tuple[AppliedLoad, ...]:
    """Return the loads with the standing of an estimate where they rest on one: the status follows the number."""
    arcs = dict(widening.directions)
    rests = (load.part in (widening.weights if _by_mass(load) else widening.forces) for load in loads)
    marked = (replace(load, source=ESTIMATED) if on else load for load, on in zip(loads, rests, strict=True))
    return tuple(
        replace(load, turned=_turned(load, arcs[load.part])) if load.process and load.part in arcs else load
        for load in marked
    )


def _turned(load: AppliedLoad, arcs: Iterable[tuple[float, float]]) -> str:
    """Return in which directions a load may act that may be turned by any angle of some arcs, in words."""
    sizes = np.hypot(load.force_y[:, 1], load.force_z[:, 1])
    likely = np.arctan2(load.force_z[sizes.argmax(), 1], load.force_y[sizes.argmax(), 1])
    if any(b - a >= 2 * np.pi for a, b in arcs):
        return "any direction"
    return " or ".join(
        f"{direction_words(likely + (a + b) / 2)} ± {number(float(np.degrees(b - a)) / 2, 2)}°"
        for a, b in arcs
    )


def _by_mass(load: AppliedLoad) -> bool:
    """Whether a load goes with the mass of its part: its weight, or its unbalance."""
    return not load.process or load.nature is Nature.ROTATING


def _over_dimensions(
    job: Job, likely: tuple[AppliedLoad, ...], widening: Widening
) -> tuple[AppliedLoad, ...]:
    """Return the loads with their ranges over all corners of the dimensions of their parts.

    Parts do not share dimensions, so all of them may stand at a corner at once.
    """
    by_load: dict[int, list[tuple[str, float, float]]] = {}
    for d in widening.dimensions:
        by_load.setdefault(d.load, []).append((d.field, d.low, d.high))
    most = max(map(len, by_load.values()), default=0)
    found = list(likely)
    for corner in product((1, 2), repeat=most) if most else ():
        ends = {
            k: {name: pair[end - 1] for (name, *pair), end in zip(fields, corner, strict=False)}
            for k, fields in by_load.items()
        }
        parts = tuple(_sized(load, ends.get(k, {})) for k, load in enumerate(job.loads))
        found = [_wider(a, b) for a, b in zip(found, applied_loads(replace(job, loads=parts)), strict=True)]
    return tuple(found)


def _sized(load: Load, dimensions: dict[str, float]) -> Load:
    return replace(load, **dimensions)  # type: ignore[arg-type]


def _wider(one: AppliedLoad, other: AppliedLoad) -> AppliedLoad:
    """Return a load whose low end is the smaller and whose high end is the larger of two."""
    a, b = (np.hypot(x.force_y, x.force_z) for x in (one, other))
    pick = np.stack([b[:, 0] < a[:, 0], np.zeros(len(a), dtype=bool), b[:, 2] > a[:, 2]], axis=1)
    axial_force = one.axial.copy()
    axial_force[:, 0] = np.minimum(one.axial[:, 0], other.axial[:, 0])
    axial_force[:, 2] = np.maximum(one.axial[:, 2], other.axial[:, 2])
    return replace(
        one,
        force_y=np.where(pick, other.force_y, one.force_y),
        force_z=np.where(pick, other.force_z, one.force_z),
        couple=np.where(pick[..., None], other.couple, one.couple),
        axial=axial_force,
    )


def _moved(job: Job, other: Job, loads: tuple[AppliedLoad, ...]) -> tuple[AppliedLoad, ...]:
    """Return the loads where the parts of another layout stand."""
    if other is job:
        return loads
    moves = {
        a.name: (b.x - a.x, getattr(b, "length", 0.0)) for a, b in zip(job.loads, other.loads, strict=True)
    }
    return tuple(
        replace(load, x=load.x + moves[load.part][0], length=moves[load.part][1] if load.length else 0.0)
        for load in loads
    )


def _shares(
    job: Job, loads: tuple[AppliedLoad, ...], likely: Solved, known: Known
) -> tuple[list[Shares], list[Shares]]:
    """Return what each load does to reactions and slopes in one layout, in every condition."""
    reactions, slopes = [], []
    for c in range(len(job.duty)):
        of_reaction, of_slope = solve.influence_of(
            job, loads, likely.held, likely.upright.in_contact[c], known
        )
        reactions.append(solve.shares(job, loads, c, of_reaction, likely.held))
        slopes.append(solve.shares(job, loads, c, of_slope, likely.held))
    return reactions, slopes


def _range(likely: Floats, layouts: Sequence[Shares], loads: tuple[AppliedLoad, ...], arcs: Arcs) -> Response:
    """Return a response with the farthest and the nearest point of the body of all layouts."""
    size = np.hypot(likely[:, 0], likely[:, 1])
    along = np.divide(likely, size[:, None], out=np.tile([1.0, 0.0], (len(size), 1)), where=size[:, None] > 0)
    beside = np.stack([-along[:, 1], along[:, 0]], axis=1)
    around = np.concatenate(
        [np.broadcast_to(_AROUND, (len(size), DIRECTIONS, 2)), beside[:, None], -beside[:, None]], axis=1
    )
    reach = _reach(layouts, around, loads, arcs).max(axis=0)
    every = reach[:, :DIRECTIONS]
    nearest = -np.roll(every, DIRECTIONS // 2, axis=1)
    return Response(
        likely,
        np.maximum(nearest.max(axis=1), 0.0),
        every.max(axis=1),
        np.maximum(reach[:, -2:].max(axis=1), 0.0),
        np.min([s.low_turn for s in layouts], axis=0),
        np.max([s.high_turn for s in layouts], axis=0),
    )


def _reach(layouts: Sequence[Shares], around: Floats, loads: tuple[AppliedLoad, ...], arcs: Arcs) -> Floats:
    """Return how far the sum of all shares reaches (layouts, positions, directions) in each direction around."""
    ends = np.stack([s.parts for s in layouts])[..., [0, 2]]
    steady = np.stack([s.steady for s in layouts])
    any_way = np.stack([s.any_way for s in layouts])
    turned = np.array([k >= 0 and loads[k].process and loads[k].part in arcs for k in layouts[0].of])
    total: Floats = np.einsum("lpj,pnj->lpn", steady, around) + any_way[..., None]
    along = np.matmul(ends[:, ~turned].swapaxes(-1, -2), around.swapaxes(-1, -2))
    total = total + along.max(axis=-2).sum(axis=1)
    for i in np.flatnonzero(turned):
        total = total + _arc_reach(ends[:, i], around, arcs[loads[layouts[0].of[i]].part])
    return total


def _arc_reach(ends: Floats, around: Floats, turns: Iterable[tuple[float, float]]) -> Floats:
    """Return how far a share of any size in its range reaches when its force may be turned by any angle of some arcs.

    ends: (layouts, positions, planes, low and high), with the force in its likely direction.
    """
    towards = np.arctan2(around[..., 1], around[..., 0])
    size, angle = np.hypot(ends[:, :, 0], ends[:, :, 1]), np.arctan2(ends[:, :, 1], ends[:, :, 0])
    off = towards[None, :, None] - angle[..., None]
    cosines = [
        np.where((off - a) % (2 * np.pi) <= b - a, 1.0, np.maximum(np.cos(off - a), np.cos(off - b)))
        for a, b in turns
    ]
    reach: Floats = (size[..., None] * np.max(cosines, axis=0)).max(axis=2)
    return reach


def _hull(ranges: Sequence[tuple[Floats, Floats]]) -> tuple[Floats, Floats]:
    low: Floats = np.min([r[0] for r in ranges], axis=0)
    high: Floats = np.max([r[1] for r in ranges], axis=0)
    return low, high
