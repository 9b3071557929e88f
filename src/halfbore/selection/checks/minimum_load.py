"""Enough load to keep the rollers turning; by a rule of thumb at worst tight, and the remedy is a lighter series."""

from __future__ import annotations

import sys

import numpy as np

from halfbore.domain.check import Column, Sense, State
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import minimum_load
from halfbore.numbers import number
from halfbore.phrases import kilonewton, phrase
from halfbore.selection.check import Check, Outcome, column, everywhere, exactly, one, spread
from halfbore.selection.need import Floats, Need
from halfbore.units import Kind

NO_LOAD = sys.float_info.max
"""Only a unit on which nothing presses in some running condition is past this part of the limit."""


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
        missing = _missing(unit)
        return Outcome(
            f"{missing} not given",
            sources,
            kind=Kind.FORCE,
            sense=Sense.AT_LEAST,
            datum=f"{missing}, from the supplier",
        )
    low, high = need.duty.radial_low[need.running], need.duty.equivalent_high[need.running]
    with np.errstate(divide="ignore"):
        worst = int((wanted / low).argmax())
        lightest = one(unit.dynamic_rating) / np.float64(high.max())
    return Outcome(
        phrase(
            "as little as {}, {} wanted: {}",
            kilonewton(low[worst], 2),
            kilonewton(wanted[worst], 2),
            _told(float(low[worst]), float(high.min()), float(wanted[worst])),
        ),
        sources,
        spread(float(low[worst]), float(high[worst])),
        exactly(float(wanted[worst])),
        Kind.FORCE,
        Sense.AT_LEAST,
        details=(("C over P at the heaviest", number(lightest, 2)),),
    )


def _missing(unit: UnitTable) -> str:
    given = {"C_r": one(unit.dynamic_rating) > 0, "speed limit": one(unit.speed_limit) > 0}
    return " and ".join(name for name, known in given.items() if not known)


def _told(low: float, lightest: float, wanted: float) -> str:
    if lightest == 0.0:
        return "nothing presses on the bearing while it turns: load it, or leave it out"
    if low >= wanted:
        return "enough to keep the rollers turning"
    return "rollers may skid: a lighter series or less clearance, not a heavier one"


CHECK = Check("minimum load", "Minimum load", _column, _outcome, decisive=True, fails_past=NO_LOAD)
