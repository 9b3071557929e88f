"""Load direction against cap and support, and the support against what carries it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Column
from halfbore.domain.position import Fixing
from halfbore.domain.unit import Support, UnitTable
from halfbore.mechanics import supports
from halfbore.numbers import number
from halfbore.phrases import kilonewton, phrase
from halfbore.selection.check import Check, Outcome, column, exactly, given, one, spread, worst
from halfbore.selection.need import Floats, Need, settled
from halfbore.sources import Source, Status
from halfbore.units import Kind

_SUPPLIER = Source("supplier's unit table", "load directions of the support", Status.GIVEN)

ON = {
    Fixing.BASE: (Support.PLAIN, Support.SIDE_ENTRY),
    Fixing.SIDE_ENTRY: (Support.SIDE_ENTRY,),
    Fixing.WALL: (Support.FLANGE,),
    Fixing.TAKE_UP: (Support.TAKE_UP,),
}
WORDS = {
    Support.PLAIN: "plain pedestal",
    Support.SIDE_ENTRY: "side-entry pedestal",
    Support.FLANGE: "flange",
    Support.TAKE_UP: "take-up",
}
SECTORS = ("sideways to the right", "downwards", "sideways to the left", "upwards, on the cap")
_MIDDLES = supports.QUADRANTS + np.pi / 4.0
_JUST = 1e-9


def sectors(angle: Floats, half: Floats | float = 0.0) -> NDArray[np.bool_]:
    """Return which sectors directions reach (conditions, 4); where two meet, both count.

    angle: direction of the load from straight up [rad]; half: half the range of that direction [rad].
    """
    off = np.abs(np.mod(angle[:, None] - _MIDDLES + np.pi, 2.0 * np.pi) - np.pi)
    return np.asarray(off <= np.pi / 4.0 + np.asarray(half).reshape(-1, 1) + _JUST)


def sector(angle: float) -> str:
    """Return the sector of a load direction in words; angle from straight up [rad]."""
    return SECTORS[int(sectors(np.array([angle]))[0].argmax())]


def limits(units: UnitTable, reached: NDArray[np.bool_]) -> Floats:
    """Return the limits in the sectors that are reached, in the order of SECTORS (sectors, n) [N]."""
    table = np.stack([units.limit_side, units.limit_down, units.limit_side, units.limit_up], axis=1)
    found = [supports.sector_limit(middle, supports.QUADRANTS, table) for middle in _MIDDLES[reached]]
    return np.array(found).reshape(len(found), len(units))


@settled
def loads_by_sector(need: Need) -> tuple[Floats, Floats]:
    """Return the load that each sector must bear (4) [N]: in the likely direction at the light end of the loads,
    and anywhere in the range of the direction at the largest peak."""
    d = need.duty
    light = np.where(sectors(need.angle), d.equivalent_low[:, None], 0.0).max(0)
    return light, np.where(sectors(need.angle, need.angle_spread), d.peak_high[:, None], 0.0).max(0)


def _stands(need: Need, units: UnitTable) -> NDArray[np.bool_]:
    there = np.zeros(len(Support), dtype=np.bool_)
    there[list(ON[need.position.base.fixing])] = True
    return np.asarray(there[units.support])


def _column(need: Need, units: UnitTable) -> Column:
    light, heavy = loads_by_sector(need)
    reached, n = heavy > 0, len(units)
    stands = _stands(need, units)
    if not reached.any():
        idle = np.where(stands, 0.0, np.inf)
        return column(idle, idle, n)
    limit = limits(units, reached)
    with np.errstate(divide="ignore", invalid="ignore"):
        good = np.where(light[reached, None] > 0, light[reached, None] / limit, 0.0)
        bad = heavy[reached, None] / limit
    return column(np.where(stands, worst(good), np.inf), np.where(stands, worst(bad), np.inf), n)


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    support = Support(int(unit.support[0]))
    if not _stands(need, unit)[0]:
        return Outcome(
            f"a {WORDS[support]} does not go on a {need.position.base.fixing.value}",
            (_SUPPLIER,),
            kind=Kind.FORCE,
        )
    light, heavy = loads_by_sector(need)
    reached = heavy > 0
    if not reached.any():
        return Outcome("no load", (_SUPPLIER,), kind=Kind.FORCE)
    limit = np.full(len(SECTORS), np.inf)
    limit[reached] = limits(unit, reached)[:, 0]
    with np.errstate(divide="ignore"):
        used = heavy / limit
    missing = [name for name, u in zip(SECTORS, used, strict=True) if np.isnan(u)]
    s = int(np.nan_to_num(used, nan=-1.0).argmax())
    peak, bears = float(heavy[s]), float(limit[s])
    where = SECTORS[s] if light[s] > 0 else f"{SECTORS[s]}, at the end of its range"
    told = phrase(
        "{} {}; the {} bears {} that way", kilonewton(peak), where, WORDS[support], given(kilonewton(bears))
    )
    return Outcome(
        f"limit not given for loads {' and '.join(missing)}" if missing and used[s] <= 1 else told,
        (_SUPPLIER, supports.sector_limit.source),
        spread(float(light[s]) or peak, peak),
        exactly(bears),
        Kind.FORCE,
        datum="load limits by direction, from the supplier" if missing else "",
        details=(
            ("direction", _direction(need)),
            ("limit downwards", given(kilonewton(one(unit.limit_down)))),
            ("limit sideways", given(kilonewton(one(unit.limit_side)))),
            ("limit upwards", given(kilonewton(one(unit.limit_up)))),
        ),
    )


def turned(need: Need) -> str:
    """Return by how much the base is turned, in words; nothing for one that is level."""
    angle = np.degrees(need.position.base.turned)
    return f" of a base turned by {number(angle, signed=True)}°" if angle else ""


def _direction(need: Need) -> str:
    """Return the direction of the largest load in words, with its range."""
    c = int(need.duty.peak_high.argmax())
    angle, half = float(need.duty.angle[c]), float(need.angle_spread[c])
    return (
        f"{number(np.degrees(angle) % 360)}° ± {number(np.degrees(half))}° from straight up, "
        f"{sector(float(need.angle[c]))}{turned(need)}"
    )


CHECK = Check("support direction", "Support and load direction", _column, _outcome)
