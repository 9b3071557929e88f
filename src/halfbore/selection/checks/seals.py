"""The seal on each side: surface speed, heat, dirt and water, each on its own diameter."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Column, State
from halfbore.domain.machine import Dust, Water
from halfbore.domain.position import SealSide
from halfbore.domain.unit import SealKind, UnitTable
from halfbore.mechanics import seals
from halfbore.selection.check import RESERVE, Check, Outcome, column, one
from halfbore.selection.need import Floats, Need
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

NONE = -1
JUST_TIGHT = 1.0 - RESERVE + 0.001
"""A seal that holds only with purge grease is never better than tight."""
WORDS = {SealKind.PACKING: "packing", SealKind.LABYRINTH: "labyrinth", SealKind.CLOSED_END: "closed end"}

_SUPPLIER = Source("supplier's unit table", "seals", Status.GIVEN)
_DUST = {Dust.NONE: seals.Dust.NONE, Dust.DUST: seals.Dust.DUST, Dust.HEAVY: seals.Dust.HEAVY}
_WATER = {
    Water.NONE: seals.Water.NONE,
    Water.SPLASH: seals.Water.SPLASH,
    Water.JET: seals.Water.JET,
    Water.STANDING: seals.Water.STANDING,
}


def uses(need: Need, units: UnitTable, side: SealSide) -> Floats:
    """Return the part of its limit that each kind of seal would use on one side (n, kinds).

    Infinite for a kind that is not offered, does not suit the end, or does not keep this dirt and water out;
    NaN where a limit or the temperature is not known.
    """
    diameter = side.diameter or need.duty.shaft_diameter
    rubbing = np.asarray(seals.surface_speed(diameter, need.fastest))
    with np.errstate(divide="ignore"):
        by_speed = rubbing / units.seal_speed
    by_heat = max(need.hottest_shaft, 0.0) / units.seal_temperature
    fits = units.seal_offered & suitable(need, side)[None, :]
    used = np.maximum(by_speed, by_heat)
    return np.where(fits, np.where(purged(need)[None, :], np.maximum(used, JUST_TIGHT), used), np.inf)


def purged(need: Need) -> NDArray[np.bool_]:
    """Return which kinds of seal hold only with grease pressed through them (kinds): standing water at a packing."""
    standing = need.job.machine.site.water is Water.STANDING
    return np.array([standing and seals.SEALS[k].purge for k in SealKind])


def suitable(need: Need, side: SealSide) -> NDArray[np.bool_]:
    """Return which kinds of seal suit the end and keep this dust and water out (kinds)."""
    site = need.job.machine.site
    kinds = np.array([int(k) for k in SealKind])
    keeps = np.asarray(
        seals.keeps_out(kinds, _DUST[site.dust], _WATER[site.water], site.pressure_across_seal)
    )
    closed = kinds == SealKind.CLOSED_END
    suits: NDArray[np.bool_] = keeps & (closed if side.shaft_ends else ~closed)
    return suits


def chosen(need: Need, units: UnitTable, side: SealSide) -> tuple[NDArray[np.int64], Floats]:
    """Return the cheapest seal of one side that holds, else the one that comes nearest, and its use (n)."""
    used = uses(need, units, side)
    price = np.where(np.isnan(units.seal_price), np.inf, units.seal_price)
    holds = used <= 1.0 - RESERVE
    known = np.where(np.isnan(used), np.inf, used)
    cheapest = np.where(holds, price, np.inf).argmin(1)
    free_of_price = np.where(holds, known, np.inf).argmin(1)
    with_price = np.isfinite(np.where(holds, price, np.inf)).any(1)
    nearest = known.argmin(1)
    kind = np.where(holds.any(1), np.where(with_price, cheapest, free_of_price), nearest)
    return kind, np.take_along_axis(used, kind[:, None], 1)[:, 0]


def build(need: Need, units: UnitTable) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the seal kinds towards the drive end and towards the free end (n); −1 where none serves."""
    ends = []
    for side in (need.position.seal_left, need.position.seal_right):
        kind, used = chosen(need, units, side)
        ends.append(np.where(np.isinf(used), NONE, kind))
    return ends[0], ends[1]


def _column(need: Need, units: UnitTable) -> Column:
    sides = [chosen(need, units, side)[1] for side in (need.position.seal_left, need.position.seal_right)]
    worst = np.maximum(*sides)
    # A gap does not keep standing water out at rest: without a contact seal the method ends.
    standing = need.job.machine.site.water is Water.STANDING
    state = np.where(np.isinf(worst) & standing, State.OUTSIDE, State.NUMBER)
    return column(worst, worst, len(units), state)


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (_SUPPLIER, seals.keeps_out.source)
    site = need.job.machine.site
    told, worst = [], 0.0
    for word, side in (
        ("drive end side", need.position.seal_left),
        ("free end side", need.position.seal_right),
    ):
        kind, used = chosen(need, unit, side)
        worst = max(worst, one(used))
        told.append(f"{word} {_side(need, unit, side, int(kind[0]), one(used))}")
    if np.isnan(need.hottest_shaft):
        return Outcome("shaft temperature is not known", sources, datum="shaft temperature, from the site")
    surround = f"dust {site.dust.value}, water {site.water.value}"
    return Outcome(
        "; ".join(told),
        sources,
        Span(worst, worst, worst) if np.isfinite(worst) else None,
        Span(1.0, 1.0, 1.0),
        Kind.FRACTION,
        details=(("outside the seals", surround),),
    )


def _side(need: Need, unit: UnitTable, side: SealSide, kind: int, used: float) -> str:
    if np.isinf(used):
        if side.shaft_ends and not unit.seal_offered[0, SealKind.CLOSED_END]:
            return "no closed end offered"
        return "no seal offered keeps this dirt or water out"
    diameter = side.diameter or need.duty.shaft_diameter
    rubbing = float(np.asarray(seals.surface_speed(diameter, need.fastest)))
    limit = float(unit.seal_speed[0, kind])
    bound = f" of {limit:.3g}" if np.isfinite(limit) else ""
    purge = " with purge grease" if purged(need)[kind] else ""
    return f"{WORDS[SealKind(kind)]}{purge} at {rubbing:.2g}{bound} m/s"


CHECK = Check("seals", "Seals", _column, _outcome, decisive=True)
