"""The temperature that is given, against rings and cage."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.unit import UnitTable
from halfbore.selection.check import Check, Outcome, column, one, spread
from halfbore.selection.need import Need
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

_SUPPLIER = Source("supplier's unit table", "temperature limit", Status.GIVEN)


def _ends(need: Need) -> tuple[float, float]:
    on = need.running
    return float(need.duty.shaft_temperature_low[on].max()), float(need.duty.shaft_temperature_high[on].max())


def _column(need: Need, units: UnitTable) -> Column:
    if not need.running.any():
        return column(np.nan, np.nan, len(units))
    low, high = _ends(need)
    return column(
        max(low, 0.0) / units.ring_temperature_limit,
        max(high, 0.0) / units.ring_temperature_limit,
        len(units),
    )


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    limit = one(unit.ring_temperature_limit)
    if not need.running.any() or np.isnan(_ends(need)[1]):
        return Outcome(
            "shaft temperature is not known",
            (_SUPPLIER,),
            kind=Kind.TEMPERATURE,
            datum="shaft temperature at the bearing, from the site",
        )
    if np.isnan(limit):
        return Outcome(
            "no limit is given",
            (_SUPPLIER,),
            kind=Kind.TEMPERATURE,
            datum="temperature limit, from the supplier",
        )
    low, high = _ends(need)
    return Outcome(
        f"shaft {low:.0f} to {high:.0f} °C as given, rings and cage bear {limit:.0f} °C",
        (_SUPPLIER,),
        spread(low, high),
        Span(limit, limit, limit),
        Kind.TEMPERATURE,
    )


CHECK = Check("temperature", "Temperature as given", _column, _outcome)
