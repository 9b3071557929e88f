"""The seal on each side: surface speed, heat, dirt and water, each on its own diameter."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Column, State
from halfbore.domain.machine import Dust, Water
from halfbore.domain.position import SealSide
from halfbore.domain.unit import SealKind, UnitTable
from halfbore.mechanics import seals
from halfbore.phrases import Amount, celsius, joined, mm, phrase
from halfbore.selection.check import JUST_TIGHT, RESERVE, Check, Outcome, column, exactly, one, worst
from halfbore.selection.missing import SHAFT_TEMPERATURE
from halfbore.selection.need import Floats, Need, settled, shared
from halfbore.sources import Source, Status
from halfbore.units import Kind

NONE = -1
WORDS = {SealKind.PACKING: "packing", SealKind.LABYRINTH: "labyrinth", SealKind.CLOSED_END: "closed end"}
SIDES = ("drive end side", "free end side")

_SUPPLIER = Source("supplier's unit table", "seals", Status.GIVEN)
_KINDS = np.array([int(k) for k in SealKind])
_DUST = {Dust.NONE: seals.Dust.NONE, Dust.DUST: seals.Dust.DUST, Dust.HEAVY: seals.Dust.HEAVY}
_WATER = {
    Water.NONE: seals.Water.NONE,
    Water.SPLASH: seals.Water.SPLASH,
    Water.JET: seals.Water.JET,
    Water.STANDING: seals.Water.STANDING,
}
_TIER = 1e9
"""More than any price and any use that is told apart."""


@dataclass(frozen=True)
class Fitted:
    """The seal of one side of each unit (n): its kind, the part of its limit used, and whether water alone rules it out.

    used: infinite where none serves, NaN where a limit or the temperature is not known.
    """

    kind: NDArray[np.int64]
    used: Floats
    for_water: NDArray[np.bool_]


@dataclass(frozen=True)
class Side:
    """One side of the position: what was surveyed, and which kinds of seal suit it.

    suits, dry: kinds that suit the end and keep dust and water out, as it is and without its water (kinds).
    stands_out: shaft past the middle of the unit where it ends inside the unit, else nothing [mm].
    """

    surveyed: SealSide
    suits: NDArray[np.bool_]
    dry: NDArray[np.bool_]
    stands_out: float


def uses(need: Need, units: UnitTable, side: Side) -> Floats:
    """Return the part of its limit that each kind of seal would use on one side (n, kinds).

    Infinite for a kind that is not offered, does not suit the end, or does not keep this dirt and water out,
    and where the shaft stands out of the unit although it ends on this side; NaN where a limit or the
    temperature is not known.
    """
    with np.errstate(divide="ignore"):
        by_speed = surface_speed(need, side.surveyed) / units.seal_speed
    by_heat = max(need.shaft_temperature[1], 0.0) / units.seal_temperature
    used = np.maximum(by_speed, by_heat)
    if need.job.machine.site.water is Water.STANDING:
        used = np.where(purged(need), np.maximum(used, JUST_TIGHT), used)
    taken_in = ~(side.stands_out > units.length / 2.0)
    return np.where(units.seal_offered & side.suits & taken_in[:, None], used, np.inf)


def surface_speed(need: Need, side: SealSide) -> float:
    """Return the speed of the shaft under the seal of one side [m/s]."""
    return float(seals.surface_speed(side.diameter or need.duty.shaft_diameter, need.fastest))


def purged(need: Need) -> NDArray[np.bool_]:
    """Return which kinds of seal hold only with grease pressed through them (kinds): standing water at a packing."""
    standing = need.job.machine.site.water is Water.STANDING
    return np.array([standing and seals.SEALS[k].purge for k in SealKind])


def suitable(need: Need, side: SealSide, water: Water) -> NDArray[np.bool_]:
    """Return which kinds of seal suit the end and keep the dust and this water out (kinds)."""
    site = need.job.machine.site
    keeps = np.asarray(seals.keeps_out(_KINDS, _DUST[site.dust], _WATER[water], site.pressure_across_seal))
    closed = _KINDS == SealKind.CLOSED_END
    suits: NDArray[np.bool_] = keeps & (closed if side.shaft_ends else ~closed)
    return suits


@settled
def sides(need: Need) -> tuple[Side, Side]:
    """Return the side towards the drive end and the one towards the free end."""
    position, water = need.position, need.job.machine.site.water
    total = need.job.shaft.length
    past = (position.x, total - position.x)
    left, right = (
        Side(s, suitable(need, s, water), suitable(need, s, Water.NONE), out if s.shaft_ends else 0.0)
        for s, out in zip((position.seal_left, position.seal_right), past, strict=True)
    )
    return left, right


def chosen(need: Need, units: UnitTable, side: Side) -> Fitted:
    """Return the cheapest seal of one side that holds, else the one that comes nearest."""
    used = uses(need, units, side)
    priced = np.where(np.isnan(units.seal_price), _TIER / 2 + used, units.seal_price)
    near = np.minimum(used, _TIER / 2)
    # In this order: holds, tight, not known, fails, does not serve.
    rank = np.select(
        [used <= 1.0 - RESERVE, used <= 1.0, np.isnan(used), np.isfinite(used)],
        [priced, _TIER + near, 2 * _TIER, 3 * _TIER + near],
        4 * _TIER,
    )
    kind = rank.argmin(1)
    best = used[np.arange(len(units)), kind]
    none = np.isinf(best)
    standing = need.job.machine.site.water is Water.STANDING
    for_water = none & (units.seal_offered & side.dry).any(1) if standing else np.zeros_like(none)
    return Fitted(np.where(none, NONE, kind), best, for_water)


@shared
def fitted(need: Need, units: UnitTable) -> tuple[Fitted, Fitted]:
    """Return the seals towards the drive end and towards the free end."""
    left, right = sides(need)
    first = chosen(need, units, left)
    alike = left.surveyed == right.surveyed and left.stands_out == right.stands_out
    return first, first if alike else chosen(need, units, right)


def build(need: Need, units: UnitTable) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the seal kinds towards the drive end and towards the free end (n); −1 where none serves."""
    left, right = fitted(need, units)
    return left.kind, right.kind


def _column(need: Need, units: UnitTable) -> Column:
    """A gap does not keep standing water out at rest: without a contact seal the method ends."""
    ends = fitted(need, units)
    outside = ends[0].for_water | ends[1].for_water
    used = worst(np.stack([np.where(end.for_water, np.nan, end.used) for end in ends]))
    return column(used, used, len(units), np.where(outside & np.isnan(used), State.OUTSIDE, State.NUMBER))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (_SUPPLIER, seals.keeps_out.source)
    if np.isnan(need.shaft_temperature[1]):
        return Outcome("shaft temperature is not known", sources, datum=SHAFT_TEMPERATURE)
    ends = list(zip(SIDES, sides(need), fitted(need, unit), strict=True))
    used = max(one(end.used) for _, _, end in ends)
    site = need.job.machine.site
    return Outcome(
        joined("; ", (phrase("{} {}", word, _told(need, unit, side, end)) for word, side, end in ends)),
        sources,
        exactly(used),
        exactly(1.0),
        Kind.FRACTION,
        datum=_datum(ends),
        details=(("outside the seals", f"dust {site.dust.value}, water {site.water.value}"),),
    )


def _datum(ends: list[tuple[str, Side, Fitted]]) -> str:
    if any(end.for_water[0] for _, _, end in ends):
        return "a contact seal for standing water, from the supplier; or keep the water away"
    if any(np.isnan(end.used[0]) for _, _, end in ends):
        return "speed and temperature limit of the seal, from the supplier"
    return ""


def _told(need: Need, unit: UnitTable, side: Side, end: Fitted) -> str:
    if end.for_water[0]:
        return "no contact seal offered, and a gap does not keep standing water out at rest"
    if end.kind[0] == NONE:
        if side.surveyed.shaft_ends and not unit.seal_offered[0, SealKind.CLOSED_END]:
            return "no closed end offered"
        if side.stands_out > one(unit.length) / 2.0:
            out = side.stands_out - one(unit.length) / 2.0
            return phrase(
                "the shaft stands {} out of a closed end: cut it back, or let it go through", mm(out)
            )
        return "no seal offered keeps this dirt or water out"
    kind = SealKind(int(end.kind[0]))
    name = WORDS[kind] + (" with purge grease" if purged(need)[kind] else "")
    rubbing, hot = surface_speed(need, side.surveyed), need.shaft_temperature[1]
    fast, heat = float(unit.seal_speed[0, kind]), float(unit.seal_temperature[0, kind])
    if np.isnan(fast + heat):
        return phrase("{} at {}, its limits are not given", name, _rubbing(rubbing, 2))
    if hot / heat > rubbing / fast:
        return phrase("{} at {} of {}", name, celsius(hot)._replace(bare=True), celsius(heat))
    if not np.isfinite(fast):
        return phrase("{} at {}", name, _rubbing(rubbing, 2))
    return phrase("{} at {} of {}", name, _rubbing(rubbing, 2)._replace(bare=True), _rubbing(fast, 3))


def _rubbing(speed: float, digits: int) -> Amount:
    return Amount(speed, Kind.SURFACE_SPEED, "m/s", digits)


CHECK = Check("seals", "Seals", _column, _outcome, decisive=True)
