"""The shaft on its bearings: what each load does to each position, in both planes, over all ranges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.job import Job
from halfbore.domain.shaftline import AppliedLoad, Nature
from halfbore.mechanics import forces, shaft_section
from halfbore.numerics import beam
from halfbore.shaftline.acting import ends

Floats = NDArray[np.float64]

GRID = 120
"""Places along the shaft at which the bent shape is drawn."""


NO_FORCE = 1e-6
"""A force on a bearing below this is the rounding of a shaft that bears nothing there [N]."""


@dataclass(frozen=True)
class Held:
    """How the bearings hold the shaft.

    stiffness: of each bearing (positions) [N/mm], infinite for a rigid one; sink: where the shaft lies in each
    bearing's clearance per condition and plane (conditions, positions, 2) [mm].
    """

    stiffness: Floats
    sink: Floats


def rigidly(job: Job) -> Held:
    """Return bearings that neither give nor have clearance."""
    count = len(job.positions)
    return Held(np.full(count, np.inf), np.zeros((len(job.duty), count, 2)))


@dataclass(frozen=True)
class Coefficients:
    """What a unit of each load does to one thing at each position: the reactions [N], or the slopes [rad].

    by_force [per N], by_couple [per N·mm]: (loads, positions); weight: of the shaft's own weight (positions);
    height: of a unit height error at each position [per mm] (positions, positions).
    """

    by_force: Floats
    by_couple: Floats
    weight: Floats
    height: Floats


def shaft_beam(job: Job, extra: tuple[float, ...] = ()) -> beam.Beam:
    """Return the stepped shaft with a node at every part, position and extra place."""
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
    return shaft_beam(job, tuple(x for load in loads for x in places_of(load)))


def places_of(load: AppliedLoad) -> tuple[float, ...]:
    """Return where a load needs nodes: at its place, and at both ends where it is spread."""
    half = load.length / 2
    return (load.x, load.x - half, load.x + half) if load.length > 0 else (load.x,)


def spread(line: beam.Beam, loads: Sequence[AppliedLoad]) -> Floats:
    """Return what each load puts on each element for a newton of it [1/mm], nothing for one at a place."""
    rows = [
        line.per_element(places_of(load)[1:], [1.0 / load.length])
        if load.length > 0
        else np.zeros(line.EI.size)
        for load in loads
    ]
    return np.array(rows).reshape(len(rows), line.EI.size)


def at_place(loads: Sequence[AppliedLoad]) -> Floats:
    """Return 1 for each load at one place, 0 for one that is spread."""
    return np.array([float(load.length == 0) for load in loads])


def likely_case(
    job: Job, loads: tuple[AppliedLoad, ...], line: beam.Beam, held: Held
) -> tuple[beam.BeamSolution, beam.BeamSolution]:
    """Solve every condition with likely loads in the upright and in the level plane.

    Returns the two solutions, a case a condition. Bearings that do not hold the shaft down may lift off.
    """
    still = [load for load in loads if load.nature is Nature.STATIONARY]
    places = np.array([load.x for load in still])
    here, along = at_place(still), spread(line, still)
    y, z = _stack(job, still, "force_y"), _stack(job, still, "force_z")
    upright = beam.Loads(places, y * here, _couples(job, still, 0), own_weight(job, line) + y @ along)
    level = beam.Loads(places, z * here, _couples(job, still, 1), z @ along)
    return beam.solve(line, upright, _supports(job, held, 0)), beam.solve(
        line, level, _supports(job, held, 1)
    )


def _supports(job: Job, held: Held, plane: int) -> list[beam.Support]:
    return [
        beam.Support(
            p.x,
            height=held.sink[:, j, plane] + (p.base.height_error.likely if plane == 0 else 0.0),
            stiffness=float(held.stiffness[j]),
            holds="both" if p.base.holds_down or plane == 1 else "up",
        )
        for j, p in enumerate(job.positions)
    ]


def _stack(job: Job, loads: list[AppliedLoad], name: str) -> Floats:
    """Return the likely values of all loads (conditions, loads); a shaft may have none but its own weight."""
    columns = [getattr(load, name)[:, 1] for load in loads]
    return np.stack(columns, axis=1) if columns else np.zeros((len(job.duty), 0))


def _couples(job: Job, loads: list[AppliedLoad], plane: int) -> Floats:
    columns = [load.couple[:, 1, plane] for load in loads]
    return np.stack(columns, axis=1) if columns else np.zeros((len(job.duty), 0))


def influence(
    job: Job, loads: tuple[AppliedLoad, ...], line: beam.Beam, held: Held, touching: NDArray[np.bool_]
) -> tuple[Coefficients, Coefficients]:
    """Return what a unit of each load does to the reactions and to the slopes at each position.

    touching: bearings that are in contact (positions).
    """
    count, on = len(loads), np.flatnonzero(touching)
    cases = 2 * count + 1 + len(on)
    unit, couple, along = np.zeros((cases, count)), np.zeros((cases, count)), np.zeros((cases, line.EI.size))
    unit[:count], couple[count : 2 * count] = np.diag(at_place(loads)), np.eye(count)
    along[:count], along[2 * count] = spread(line, loads), own_weight(job, line)
    raised = np.zeros((cases, len(on)))
    raised[2 * count + 1 :] = np.eye(len(on))
    at = np.array([p.x for p in job.positions])
    supports = [
        beam.Support(at[j], height=raised[:, i], stiffness=float(held.stiffness[j])) for i, j in enumerate(on)
    ]
    places = np.array([load.x for load in loads])
    bent = beam.solve(line, beam.Loads(places, unit, couple, along), supports)
    reaction = np.zeros((cases, len(at)))
    reaction[:, on] = bent.reaction
    return _coefficients(reaction, count, on), _coefficients(bent.at(at).slope, count, on)


Known = dict[tuple[object, ...], tuple[Coefficients, Coefficients]]
"""What a unit of each load does, by where everything stands: the same for loads of any size."""


def influence_of(
    job: Job, loads: tuple[AppliedLoad, ...], held: Held, touching: NDArray[np.bool_], known: Known
) -> tuple[Coefficients, Coefficients]:
    """Return what `influence` does, worked out once for loads in the same places; known is filled."""
    shaft = (job.shaft, tuple(p.x for p in job.positions), tuple(x.x for x in job.loads))
    key = (*shaft, tuple((x.x, x.length) for x in loads), held.stiffness.tobytes(), touching.tobytes())
    if key not in known:
        known[key] = influence(job, loads, line_of(job, loads), held, touching)
    return known[key]


def _coefficients(answer: Floats, count: int, on: NDArray[np.intp]) -> Coefficients:
    height = np.zeros((answer.shape[1], answer.shape[1]))
    height[on] = answer[2 * count + 1 :]
    return Coefficients(answer[:count], answer[count : 2 * count], answer[2 * count], height)


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

    def without_rounding(self) -> Response:
        """Return the response with forces that are only rounding set to zero, so that no load is no load."""
        return Response(*(np.where(np.abs(v) < NO_FORCE, 0.0, v) for v in vars(self).values()))


def ranged(
    job: Job, loads: tuple[AppliedLoad, ...], condition: int, given: Coefficients, held: Held
) -> Response:
    """Return reactions or slopes of one condition with their ranges over all uncertain loads.

    given: coefficients of the one or the other; held: the bearings that these belong to.
    Each uncertain load is taken at that end of its range which makes the size least or greatest.
    """
    found = shares(job, loads, condition, given, held)
    return _extremes(found.likely, found.parts, found.any_way, found.low_turn, found.high_turn)


@dataclass(frozen=True)
class Shares:
    """What each load does at each position in one condition.

    steady: of the shaft's own weight (positions, 2); parts: of each load in one direction, then of each height
    error (parts, positions, planes, low likely high); of: number of the load behind each part, −1 for a height error.
    any_way: of loads in any direction (positions); low_turn, high_turn: of those that turn with the shaft.
    """

    steady: Floats
    parts: Floats
    of: tuple[int, ...]
    any_way: Floats
    low_turn: Floats
    high_turn: Floats

    @property
    def likely(self) -> Floats:
        """The likely sum at each position (positions, 2)."""
        total: Floats = self.steady + self.parts[..., 1].sum(0)
        return total


def shares(
    job: Job, loads: tuple[AppliedLoad, ...], condition: int, given: Coefficients, held: Held
) -> Shares:
    """Return what each load does to the reactions or slopes of one condition; the arguments are those of `ranged`."""
    parts, of = [], []
    steady = np.zeros((len(job.positions), 2))
    steady[:, 0] = given.weight
    low_turn, high_turn = np.zeros(len(job.positions)), np.zeros(len(job.positions))
    any_way = np.zeros(len(job.positions))
    for k, load in enumerate(loads):
        size = np.abs(given.by_force[k])
        if load.nature is Nature.ROTATING:
            low_turn += size * load.force_y[condition, 0]
            high_turn += size * load.force_y[condition, 2]
        elif load.nature is Nature.ANY_DIRECTION:
            any_way += size * load.force_y[condition, 2]
        else:
            parts.append(_part(load, condition, given.by_force[k], given.by_couple[k]))
            of.append(k)
    for j, p in enumerate(job.positions):
        upright = given.height[j][:, None] * (ends(p.base.height_error) + held.sink[condition, j, 0])
        level = given.height[j][:, None] * np.full(3, held.sink[condition, j, 1])
        parts.append(np.stack([upright, level], axis=1))
        of.append(-1)
    return Shares(steady, np.stack(parts), tuple(of), any_way, low_turn, high_turn)


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
