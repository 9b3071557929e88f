"""The temperature of the shaft, as given or as hot gas makes it, against rings and cage."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.unit import UnitTable
from halfbore.phrases import celsius, phrase
from halfbore.selection.check import Check, Outcome, column, exactly, one, spread
from halfbore.selection.missing import SHAFT_TEMPERATURE
from halfbore.selection.need import Need
from halfbore.sources import Source, Status
from halfbore.units import Kind

_SUPPLIER = Source("supplier's unit table", "temperature limit", Status.GIVEN)


def _column(need: Need, units: UnitTable) -> Column:
    low, high = need.shaft_temperature
    limit = units.ring_temperature_limit
    return column(max(low, 0.0) / limit, max(high, 0.0) / limit, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    limit = one(unit.ring_temperature_limit)
    low, high = need.shaft_temperature
    if np.isnan(low + high):
        return Outcome(
            "shaft temperature is not known",
            (_SUPPLIER,),
            kind=Kind.TEMPERATURE,
            datum=SHAFT_TEMPERATURE,
        )
    if np.isnan(limit):
        return Outcome(
            "no limit is given",
            (_SUPPLIER,),
            kind=Kind.TEMPERATURE,
            datum="temperature limit, from the supplier",
        )
    return Outcome(
        phrase(
            "shaft {} {}, rings and cage bear {}", celsius((low, high)), need.duty.warmed_by, celsius(limit)
        ),
        (_SUPPLIER,),
        spread(low, high),
        exactly(limit),
        Kind.TEMPERATURE,
    )


CHECK = Check("temperature", "Temperature of the shaft", _column, _outcome)
