"""Enough load to keep the rollers turning; at worst tight, and the remedy is a lighter series."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, Sense, State
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import minimum_load
from halfbore.selection.check import Check, Outcome, column, everywhere, one, spread
from halfbore.selection.need import Floats, Need
from halfbore.units import Kind, Span


def _required(need: Need, units: UnitTable) -> Floats:
    """Return the least load per running condition and unit (conditions, n) [N]."""
    known = np.where(units.speed_limit > 0, units.speed_limit, 1.0)
    speeds = need.duty.speed[need.running][:, None]
    load = np.asarray(minimum_load.minimum_load(units.dynamic_rating[None, :], speeds, known[None, :]))
    return np.where(units.speed_limit > 0, load, np.nan)


def _column(need: Need, units: UnitTable) -> Column:
    if not need.running.any():
        return everywhere(State.NOT_APPLICABLE, len(units))
    wanted = _required(need, units)
    low, high = need.duty.radial_low[need.running][:, None], need.duty.equivalent_high[need.running][:, None]
    with np.errstate(divide="ignore"):
        return column((wanted / high).max(0), (wanted / low).max(0), len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (minimum_load.minimum_load.source,)
    if not need.running.any():
        return Outcome("the shaft does not turn", sources, kind=Kind.FORCE, sense=Sense.AT_LEAST)
    wanted = _required(need, unit)[:, 0]
    if np.isnan(wanted).any():
        return Outcome(
            "no speed limit is given", sources, kind=Kind.FORCE, datum="speed limit, from the supplier"
        )
    low, high = need.duty.radial_low[need.running], need.duty.equivalent_high[need.running]
    with np.errstate(divide="ignore"):
        worst = int((wanted / low).argmax())
    enough = low[worst] >= wanted[worst]
    told = (
        "enough to keep the rollers turning"
        if enough
        else "rollers may skid: a lighter series or less clearance, not a heavier one"
    )
    return Outcome(
        f"{low[worst] / 1000:.2g} kN against {wanted[worst] / 1000:.2g} kN wanted: {told}",
        sources,
        spread(float(low[worst]), float(high[worst])),
        Span(float(wanted[worst]), float(wanted[worst]), float(wanted[worst])),
        Kind.FORCE,
        Sense.AT_LEAST,
        details=(("C over P", f"{one(unit.dynamic_rating) / max(float(high.max()), 1e-9):.0f}"),),
    )


CHECK = Check("minimum load", "Minimum load", _column, _outcome, decisive=True, never_fails=True)
