"""Load direction against cap and support, and the support against what carries it."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.position import Fixing
from halfbore.domain.unit import Support, UnitTable
from halfbore.mechanics import supports
from halfbore.selection.check import Check, Outcome, column, one
from halfbore.selection.need import Floats, Need
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

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


def limits(units: UnitTable) -> Floats:
    """Return the limits by sector: sideways, down, sideways, up (n, 4) [N]."""
    return np.stack([units.limit_side, units.limit_down, units.limit_side, units.limit_up], axis=1)


def _use(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the part used at the likely direction and at the worst direction of its range (n)."""
    likely, worst = np.zeros(len(units)), np.zeros(len(units))
    table = limits(units)
    for peak, angle, half in zip(need.duty.peak_high, need.duty.angle, need.duty.angle_spread, strict=True):
        at = [
            peak / supports.sector_limit(a, supports.QUADRANTS, table)
            for a in (angle - half, angle, angle + half)
        ]
        likely = np.maximum(likely, at[1])
        worst = np.maximum(worst, np.max(at, axis=0))
    return likely, worst


def _stands(need: Need, units: UnitTable) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    return np.isin(units.support, [int(s) for s in ON[need.position.base.fixing]])


def _column(need: Need, units: UnitTable) -> Column:
    likely, worst = _use(need, units)
    stands = _stands(need, units)
    return column(np.where(stands, likely, np.inf), np.where(stands, worst, np.inf), len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    support = Support(int(unit.support[0]))
    if not _stands(need, unit)[0]:
        return Outcome(
            f"a {WORDS[support]} does not go on a {need.position.base.fixing.value}",
            (_SUPPLIER,),
            kind=Kind.FORCE,
        )
    uses = np.array(
        [
            peak / one(np.asarray(supports.sector_limit(angle, supports.QUADRANTS, limits(unit))))
            for peak, angle in zip(need.duty.peak_high, need.duty.angle, strict=True)
        ]
    )
    if np.isnan(uses).any():
        return Outcome(
            "limits by direction are not given",
            (_SUPPLIER,),
            kind=Kind.FORCE,
            datum="load limits by direction, from the supplier",
        )
    c = int(uses.argmax())
    peak, limit = float(need.duty.peak_high[c]), float(need.duty.peak_high[c] / uses[c]) if uses[c] else 0.0
    return Outcome(
        f"{peak / 1000:.3g} kN {sector(float(need.duty.angle[c]))}, the {WORDS[support]} bears {limit / 1000:.3g} kN that way",
        (_SUPPLIER, supports.sector_limit.source),
        Span(peak, peak, peak),
        Span(limit, limit, limit),
        Kind.FORCE,
        details=(
            ("limit downwards", f"{one(unit.limit_down) / 1000:.3g} kN"),
            ("limit sideways", f"{one(unit.limit_side) / 1000:.3g} kN"),
            ("limit upwards", f"{one(unit.limit_up) / 1000:.3g} kN"),
        ),
    )


def sector(angle: float) -> str:
    """Return the sector of a load direction in words; angle from straight up [rad]."""
    degrees = np.degrees(angle) % 360.0
    if 135.0 <= degrees <= 225.0:
        return "downwards"
    if degrees <= 45.0 or degrees >= 315.0:
        return "upwards, on the cap"
    return "sideways"


CHECK = Check("support direction", "Support and load direction", _column, _outcome)
