"""A shaft on its supports in one plane: reactions, deflection, slope, moment and shear for many load cases.

Signs and bending as in `halfbore.numerics.bending`; a reaction is the force of the support on the shaft.

Force method: the forces at the supports are the unknowns, a handful, and the deflections at them come
from the exact integral of M/EI. Statics then holds to the last digits however short an element is. In a
stiffness method the shear of an element is a difference of its end deflections times 12·EI/l³, and an
element of 0.01 mm, which a place converted from inches makes easily, costs ten digits of the reactions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.errors import InputError, Problem
from halfbore.numerics.bending import Beam, Bending, Stations, clamped, resultant, stepped
from halfbore.numerics.contact import ROUNDING, Restraints, Settled, settle
from halfbore.numerics.supports import VARIES, Rows, Support, rows_of

__all__ = [
    "Beam",
    "BeamSolution",
    "Flexibility",
    "Loads",
    "Stations",
    "Support",
    "deflection_by_force",
    "flexibility",
    "solve",
    "stepped",
]

Array = NDArray[np.float64]

CLOSED = 1e-9
"""Part of the loads that the balance of a solve may leave open, and of the deflections its fit."""

SHARE = 2e-11
"""Least bending by balanced reactions, as a part of the largest deflection: leaves five digits of the reactions."""


@dataclass(frozen=True, eq=False)
class Loads:
    """Loads on a beam in c load cases (axis 0); a single row or number serves every case.

    x: (k,) places of the point loads, each a node (mm). force: (c, k) up (N).
    couple: (c, k) turning x towards y (N·mm). distributed: (c, elements) up (N/mm).
    """

    x: ArrayLike = ()
    force: ArrayLike = 0.0
    couple: ArrayLike = 0.0
    distributed: ArrayLike = 0.0


@dataclass(frozen=True, eq=False)
class BeamSolution(Bending):
    """The shaft on its supports in c load cases, bent as `Bending` says.

    reaction: (c, supports) N and couple: (c, supports) N·mm, of the support on the shaft.
    in_contact: (c, supports). residual_force, residual_moment: (c,) sum of loads and reactions and their
    moment about x = 0, taken from these alone, N and N·mm. misfit: (c,) largest distance between the
    deflection and what the supports in contact allow, mm.
    """

    reaction: Array
    couple: Array
    in_contact: NDArray[np.bool_]
    residual_force: Array
    residual_moment: Array
    misfit: Array


@dataclass(frozen=True, eq=False)
class Flexibility:
    """What a unit force or couple at one of k points does at each of them: rows answer, columns load.

    deflection_by_force mm/N, slope_by_force rad/N, deflection_by_couple mm/(N·mm), slope_by_couple
    rad/(N·mm), each (k, k). By Maxwell the first and last are symmetric, the other two transposes.
    """

    deflection_by_force: Array
    slope_by_force: Array
    deflection_by_couple: Array
    slope_by_couple: Array


def solve(beam: Beam, loads: Loads, supports: Sequence[Support]) -> BeamSolution:
    """Return the shaft on its supports, for all load cases at once.

    beam: with a node at every load and support. loads: up positive (N, N·mm, N/mm). supports: any number.
    InputError when the supports leave the shaft free to move, when it lifts off them, when a load or a
    support is off the nodes or not a number, or when the numbers are too unlike for a sound answer.
    """
    cases = _cases(loads, supports)
    applied = _nodal(beam, loads, cases)
    try:
        with np.errstate(over="ignore", invalid="ignore"):
            rows = rows_of(beam, supports, cases)
            solution = _superposed(beam, applied, rows)
    except np.linalg.LinAlgError:
        raise _unlike() from None
    _refuse_unless_closed(solution, applied, rows)
    return solution


def flexibility(beam: Beam, supports: Sequence[Support], points: ArrayLike) -> Flexibility:
    """Return what unit forces and couples at the points do at the points.

    points: nodes of the beam (mm). Heights are left out and every support is taken as in contact and
    holding both ways, so that the answer is linear: pass those supports only that do carry.
    InputError as for `solve`.
    """
    at = np.atleast_1d(np.asarray(points, dtype=np.float64))
    k, nodes = at.size, beam.node(at)
    unit = np.eye(2 * k)
    bent = solve(beam, Loads(x=at, force=unit[:, :k], couple=unit[:, k:]), _linear(supports))
    y, slope = bent.deflection[:, nodes].T, bent.slope[:, nodes].T
    return Flexibility(y[:, :k], slope[:, :k], y[:, k:], slope[:, k:])


def deflection_by_force(beam: Beam, supports: Sequence[Support], points: ArrayLike) -> Array:
    """Return what unit forces at the points move them by, as `flexibility` does, without the couples: half the work.

    points: nodes of the beam (mm). Returns (k, k) mm/N. InputError as for `solve`.
    """
    at = np.atleast_1d(np.asarray(points, dtype=np.float64))
    bent = solve(beam, Loads(x=at, force=np.eye(at.size)), _linear(supports))
    return bent.deflection[:, beam.node(at)].T


def _linear(supports: Sequence[Support]) -> list[Support]:
    """Return supports that hold both ways from where the shaft lies."""
    return [replace(s, height=0.0, slope=0.0, gap=0.0, holds="both") for s in supports]


class _Applied(NamedTuple):
    """Loads brought to the nodes (c, n), (c, n) and the elements (c, n − 1)."""

    force: Array
    couple: Array
    line: Array


def _superposed(beam: Beam, applied: _Applied, rows: Rows) -> BeamSolution:
    """Return the solution: the clamped shaft under loads and under reactions, and a rigid motion."""
    arm, span, soft = beam.x - beam.x[0], beam.span, _softness(beam)
    unit = clamped(beam, rows.push, rows.turn, np.zeros((1, beam.EI.size)))
    free = clamped(beam, *applied)
    held = Restraints(
        influence=rows.read(unit) / soft,
        rigid=np.stack([rows.push.sum(1), (rows.push @ arm + rows.turn.sum(1)) / span], axis=1),
        sense=rows.sense,
        across=rows.across,
        compliance=rows.compliance / soft,
        target=(rows.wanted - rows.read(free)) / soft,
        touching=rows.touching,
        gap=rows.gap / soft,
    )
    _refuse_undetermined(held)
    total, moment = resultant(beam, *applied, about=beam.x[0])
    settled = settle(held, np.stack([total, moment / span], axis=1), _acting(beam, applied))
    lift, tilt = settled.motion[:, :1] * soft, settled.motion[:, 1:] * soft / span
    bent = Bending(
        beam,
        free.deflection + settled.force @ unit.deflection + lift + tilt * arm,
        free.slope + settled.force @ unit.slope + tilt,
        free.moment + np.tensordot(settled.force, unit.moment, 1),
        free.shear + np.tensordot(settled.force, unit.shear, 1),
    )
    return _reported(bent, applied, rows, settled)


def _reported(bent: Bending, applied: _Applied, rows: Rows, settled: Settled) -> BeamSolution:
    """Return the bent shaft with its reactions, and with the balance and the fit that they leave open."""
    reaction = (settled.force * rows.push.sum(1)) @ rows.owner
    couple = (settled.force * rows.turn.sum(1)) @ rows.owner
    total, moment = resultant(bent.beam, *applied, about=0.0)
    apart = rows.read(bent) + rows.compliance * settled.force - rows.wanted
    return BeamSolution(
        **vars(bent),
        reaction=reaction,
        couple=couple,
        in_contact=settled.touching @ rows.owner > 0.0,
        residual_force=total + reaction.sum(1),
        residual_moment=moment + reaction @ rows.x + couple.sum(1),
        misfit=np.abs(np.where(settled.touching, apart, 0.0)).max(1),
    )


def _softness(beam: Beam) -> float:
    """Return the deflection by which a unit force bends the shaft, in order of magnitude (mm/N)."""
    return float(beam.span**2 * (beam.length / beam.EI).sum())


def _acting(beam: Beam, applied: _Applied) -> Array:
    """Return the sum of the sizes of all loads, couples over the length of the shaft (N), (c,)."""
    couples = np.abs(applied.couple).sum(1) / beam.span
    acting: Array = np.abs(applied.force).sum(1) + np.abs(applied.line) @ beam.length + couples
    return acting


def _refuse_undetermined(held: Restraints) -> None:
    """Refuse supports among which the load cannot be shared out, such as three within a tenth of a millimetre.

    The share rests on the bending by reactions that balance each other; where that is lost in the rounding
    of the largest deflection, balance and fit would still close on any share.
    """
    on = held.touching[0]
    bend = held.influence[np.ix_(on, on)] + np.diag(held.compliance[:, on].min(0))
    balanced = np.linalg.qr(held.rigid[on], mode="complete")[0][:, 2:]
    least = np.linalg.eigvalsh(balanced.T @ bend @ balanced)
    if not (least > SHARE * np.abs(held.influence).max()).all():
        raise _unlike()


def _refuse_unless_closed(found: BeamSolution, applied: _Applied, rows: Rows) -> None:
    """Refuse a solve whose balance or fit is lost in rounding; what is not a number is lost as well.

    One newton is added to what acts, so that rounding on a shaft without load is no loss.
    """
    beam = found.beam
    acting = _acting(beam, applied) + np.abs(found.reaction).sum(1) + 1.0
    turning = np.abs(found.couple).sum(1) + acting * (np.abs(beam.x).max() + beam.span)
    moving = np.abs(found.deflection).max(1) + np.abs(rows.wanted).max(1)
    rounding = ROUNDING * _softness(beam) * (acting + turning / beam.span)
    closed = (
        (np.abs(found.residual_force) <= CLOSED * acting)
        & (np.abs(found.residual_moment) <= CLOSED * turning)
        & (found.misfit <= CLOSED * moving + rounding)
    )
    if not closed.all():
        raise _unlike()


def _unlike() -> InputError:
    return InputError(
        Problem(
            "the numbers of the shaft and its supports are too large or too unlike to be solved together",
            accepted="reactions that come out to five digits and balance the loads to one part in 10^9",
            next_step="check loads, diameters and stiffnesses, and whether three supports are at one place",
        )
    )


def _cases(loads: Loads, supports: Sequence[Support]) -> int:
    """Return the number of load cases that loads and supports speak of."""
    tables = (loads.force, loads.couple, loads.distributed)
    sizes = [int(np.shape(table)[0]) for table in tables if np.ndim(table) == 2]
    return max([1, *sizes, *(np.size(getattr(s, name)) for s in supports for name in VARIES)])


def _nodal(beam: Beam, loads: Loads, cases: int) -> _Applied:
    """Return the loads at the nodes and along the elements."""
    at = beam.node(loads.x)
    onto = np.equal.outer(at, np.arange(beam.x.size)).astype(np.float64)
    force = _table("force", loads.force, cases, at.size)
    couple = _table("couple", loads.couple, cases, at.size)
    return _Applied(
        force @ onto, couple @ onto, _table("distributed", loads.distributed, cases, beam.EI.size)
    )


def _table(name: str, value: ArrayLike, cases: int, width: int) -> Array:
    """Return a load as a (cases, width) table of finite numbers."""
    given = np.atleast_2d(np.asarray(value, dtype=np.float64))
    fits = given.ndim == 2 and given.shape[0] in (1, cases) and given.shape[1] in (1, width)
    if not fits or not np.isfinite(given).all():
        raise InputError(
            Problem(
                "a load does not fit the load cases" if not fits else "a load is not a number",
                where=name,
                value=f"a table of shape {given.shape}",
                accepted=f"finite numbers, {cases} load cases by {width} places, or one row for all cases",
            )
        )
    return np.broadcast_to(given, (cases, width))
