"""One call from the job to the solved shaft line: loads, reactions, duty of each position, balance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.job import Job
from halfbore.domain.machine import Paddles, ScrewFlight
from halfbore.domain.position import Position, Role
from halfbore.domain.shaftline import AppliedLoad, Bearing, PositionDuty, Reaction, ShaftCurve, ShaftResponse
from halfbore.mechanics import forces, rotating, shaft_section
from halfbore.numbers import number
from halfbore.numerics import beam, critical_speed
from halfbore.shaftline import agreement, axial, balance, solve, warmth
from halfbore.shaftline.loads import applied_loads
from halfbore.shaftline.solve import Held, Known, Response

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Solved:
    """A solved shaft before it is told.

    upright, level: the likely case in both planes, a case a condition; thrust: axial force on the shaft (conditions,
    low likely high) [N]; reactions, slopes: with their ranges, one a condition; growth: low and high at each position.
    """

    loads: tuple[AppliedLoad, ...]
    line: beam.Beam
    held: Held
    upright: beam.BeamSolution
    level: beam.BeamSolution
    thrust: Floats
    reactions: list[Response]
    slopes: list[Response]
    growth: list[tuple[Floats, Floats]]


def respond(job: Job, bearings: tuple[Bearing, ...] = ()) -> ShaftResponse:
    """Solve the shaft line of a machine.

    job: the machine with its loads and conditions; bearings: give and clearance at each position, rigid and
    without clearance when left out.
    Returns loads, reactions, the duty of each position, bent shape, axial paths and balance.
    Raises InputError for two axial paths in one direction or a shaft that its bearings do not hold.
    """
    return told(job, solved(job, bearings))


def solved(job: Job, bearings: tuple[Bearing, ...] = (), known: Known | None = None) -> Solved:
    """Solve the shaft line of a machine, as `respond` does, without telling it.

    known: kept by who asks often for the same places, and filled here.
    """
    axial.axial_paths(job)
    loads = applied_loads(job)
    line = solve.line_of(job, loads)
    held = solve.rigidly(job)
    upright, level = solve.likely_case(job, loads, line, held)
    if bearings:
        held = _lying(bearings, upright, level)
        upright, level = solve.likely_case(job, loads, line, held)
    reactions, slopes = _both(job, loads, held, upright, {} if known is None else known)
    growth = [axial.growth_at(job, p.x) for p in job.positions]
    return Solved(loads, line, held, upright, level, thrust_of(job, loads), reactions, slopes, growth)


def thrust_of(job: Job, loads: tuple[AppliedLoad, ...]) -> Floats:
    """Return the axial force on the shaft (conditions, low likely high) [N], positive towards the free end."""
    lean = -forces.GRAVITY * solve.shaft_mass(job) * np.sin(job.shaft.inclination)
    return axial.axial_force(loads, float(lean), len(job.duty))


def told(job: Job, found: Solved) -> ShaftResponse:
    """Return a solved shaft with all that is read off it."""
    paths = axial.axial_paths(job)
    curves = _curves(job, found.upright, found.level)
    worst = max(curves, key=lambda c: float(c.stress.max()))
    critical = _critical(job, found.line)
    notes = (
        *_critical_notes(job, critical),
        *axial.axial_notes(job, paths, _carried(job, found.reactions)),
        *_lift_off_notes(job, found.upright),
        *warmth.notes(job),
        *agreement.disagreements(job),
    )
    return ShaftResponse(
        found.loads,
        _printed(job, found.reactions, found.thrust),
        duties(job, found),
        curves,
        balance.balances(job, found.loads, found.upright, found.level),
        paths,
        critical,
        float(worst.stress.max()),
        float(worst.x[worst.stress.argmax()]),
        notes,
    )


def duties(job: Job, found: Solved) -> tuple[PositionDuty, ...]:
    """Return the duty of each position."""
    return tuple(_duty(job, i, found) for i in range(len(job.positions)))


def _lying(bearings: tuple[Bearing, ...], upright: beam.BeamSolution, level: beam.BeamSolution) -> Held:
    """Return where the shaft lies in its bearings: against the reaction, half the clearance from the middle."""
    both = np.stack([upright.reaction, level.reaction], axis=2)
    size = np.linalg.norm(both, axis=2, keepdims=True)
    towards = np.divide(both, size, out=np.zeros_like(both), where=size > 0)
    clearance = np.array([b.clearance for b in bearings])
    return Held(np.array([b.stiffness for b in bearings]), -towards * clearance[None, :, None] / 2)


def _both(
    job: Job, loads: tuple[AppliedLoad, ...], held: Held, upright: beam.BeamSolution, known: Known
) -> tuple[list[Response], list[Response]]:
    """Return reactions and slopes with their ranges, a response a condition."""
    reactions, slopes = [], []
    for c in range(len(job.duty)):
        of_reaction, of_slope = solve.influence_of(job, loads, held, upright.in_contact[c], known)
        reactions.append(solve.ranged(job, loads, c, of_reaction, held).without_rounding())
        slopes.append(solve.ranged(job, loads, c, of_slope, held))
    return reactions, slopes


def _carried(job: Job, reactions: list[Response]) -> Floats:
    """Return the largest likely radial reaction of each position in the running conditions [N]."""
    running = [r for c, r in zip(job.duty, reactions, strict=True) if c.share > 0]
    return np.asarray(np.max([np.hypot(*r.likely.T) for r in running], axis=0))


def _printed(job: Job, reactions: list[Response], thrust: Floats) -> tuple[Reaction, ...]:
    return tuple(
        _reaction(p, c.name, i, r, thrust[k])
        for k, (c, r) in enumerate(zip(job.duty, reactions, strict=True))
        for i, p in enumerate(job.positions)
    )


def _reaction(position: Position, condition: str, i: int, found: Response, thrust: Floats) -> Reaction:
    held = 0.0 - thrust[::-1] if position.role is Role.LOCATING else np.zeros(3)
    turning = found.amplitude_high[i]
    return Reaction(
        position.name,
        condition,
        float(found.likely[i, 0]),
        float(found.likely[i, 1]),
        low=max(float(found.low[i] - turning), 0.0),
        high=float(found.high[i] + turning),
        spread=float(rotating.swing(found.low[i], found.across[i], turning)),
        axial_low=float(held[0]),
        axial=float(held[1]),
        axial_high=float(held[2]),
    )


def _duty(job: Job, i: int, found: Solved) -> PositionDuty:
    position, reactions, slopes = job.positions[i], found.reactions, found.slopes
    low, high = np.array([r.low[i] for r in reactions]), np.array([r.high[i] for r in reactions])
    turn_low = np.array([r.amplitude_low[i] for r in reactions])
    turn_high = np.array([r.amplitude_high[i] for r in reactions])
    towards = np.array([np.arctan2(-r.likely[i, 1], -r.likely[i, 0]) for r in reactions])
    across = np.array([r.across[i] for r in reactions])
    locating = position.role is Role.LOCATING
    carried = found.thrust if locating else np.zeros_like(found.thrust)
    growth_low, growth_high = found.growth[i]
    shaft = warmth.at_positions(job)[i]
    housing = [_temperature(c.housing_temperature) for c in job.duty]
    return PositionDuty(
        name=position.name,
        x=position.x,
        locating=locating,
        shaft_diameter=job.shaft.segment_at(position.x).diameter,
        share=np.array([c.share for c in job.duty]),
        speed=np.array([c.speed for c in job.duty]),
        equivalent_low=_mean(low, turn_low),
        equivalent_high=_mean(high, turn_high),
        peak_high=high + turn_high,
        radial_low=low,
        axial_low=np.where((carried[:, 0] <= 0) & (carried[:, 2] >= 0), 0.0, np.abs(carried).min(1)),
        axial_high=np.abs(carried).max(1),
        axial_known=locating or all(len(path.holders) for path in axial.axial_paths(job)),
        angle=towards,
        angle_spread=rotating.swing(low, across, turn_high),
        slope_low=np.array([s.low[i] for s in slopes]),
        slope_high=np.array([s.high[i] for s in slopes]),
        slope_y=np.array([s.likely[i, 0] for s in slopes]),
        slope_z=np.array([s.likely[i, 1] for s in slopes]),
        growth_low=growth_low,
        growth_high=growth_high,
        shaft_temperature_low=shaft[:, 0],
        shaft_temperature_high=shaft[:, 1],
        housing_temperature_low=np.array([t[0] for t in housing]),
        housing_temperature_high=np.array([t[1] for t in housing]),
        warmed_by=warmth.origins(job)[i],
    )


def _temperature(span: object) -> tuple[float, float]:
    return (np.nan, np.nan) if span is None else (span.low, span.high)  # type: ignore[attr-defined]


def _mean(steady: Floats, turning: Floats) -> Floats:
    """Return the equivalent of a steady load and one that turns with the shaft [N]."""
    zero = np.zeros_like(steady)
    around = rotating.over_one_turn([steady, zero], [turning, zero], [zero, turning])
    return np.asarray(rotating.equivalent(around))


def _stress(job: Job, places: Floats, moment: Floats) -> Floats:
    """Return the bending stress of the segments at these places (conditions, places) [MPa]."""
    segments = [job.shaft.segment_at(x) for x in places]
    diameters, bores = np.array([s.diameter for s in segments]), np.array([s.bore for s in segments])
    return np.asarray(shaft_section.bending_stress(moment, diameters, bores))


def _curves(job: Job, upright: beam.BeamSolution, level: beam.BeamSolution) -> tuple[ShaftCurve, ...]:
    grid = np.unique(np.concatenate([np.linspace(0.0, job.shaft.length, solve.GRID), upright.beam.x]))
    v, h = upright.at(grid), level.at(grid)
    moment = np.hypot(v.moment, h.moment)
    # At a step the weaker side counts.
    stress = np.maximum(_stress(job, grid, moment), _stress(job, grid + 1e-6, moment))
    return tuple(
        ShaftCurve(
            c.name,
            grid,
            v.deflection[k],
            h.deflection[k],
            np.hypot(v.slope[k], h.slope[k]),
            moment[k],
            stress[k],
        )
        for k, c in enumerate(job.duty)
    )


NEAR_CRITICAL = 0.75
"""Part of the first critical speed from which running is cautioned against: common practice, no source."""


def _critical_notes(job: Job, critical: float) -> tuple[str, ...]:
    """Return a caution for every running condition near or above the first critical speed."""
    return tuple(
        f"Caution: {number(c.speed)} r/min ({c.name}) is {number(100.0 * c.speed / critical)}\xa0% of the first critical speed "
        f"of {number(critical)} r/min, on rigid supports: unbalance is magnified, which these loads leave out."
        for c in job.duty
        if c.share > 0 and c.speed > NEAR_CRITICAL * critical
    )


def _lift_off_notes(job: Job, upright: beam.BeamSolution) -> tuple[str, ...]:
    return tuple(
        f"The shaft lifts off {p.name} in {c.name}: nothing holds it down there."
        for k, c in enumerate(job.duty)
        for i, p in enumerate(job.positions)
        if not upright.in_contact[k, i]
    )


def _critical(job: Job, line: beam.Beam) -> float:
    spread = [x for x in job.loads if isinstance(x, (Paddles, ScrewFlight))]
    masses = [(x.x, x.mass.likely) for x in job.loads if x not in spread]
    edges = np.concatenate([[0.0], np.cumsum([s.length for s in job.shaft.segments])])
    per_length = [
        float(shaft_section.mass_per_length(s.diameter, s.bore, job.shaft.density))
        for s in job.shaft.segments
    ]
    along = line.per_element(edges, per_length)
    for part in spread:
        ends = (part.x - part.length / 2, part.x + part.length / 2)
        along = along + line.per_element(ends, [part.mass.likely / part.length])
    found = critical_speed.critical_speed(
        line,
        [beam.Support(p.x) for p in job.positions],
        along,
        [x for x, _ in masses],
        [m for _, m in masses],
    )
    return found.exact
