"""Shaft speed against the supplier's limit."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import speed
from halfbore.numbers import number
from halfbore.selection.check import EXACT, Check, Outcome, Wish, column, exactly, one
from halfbore.selection.need import Need
from halfbore.sources import Source, Status
from halfbore.units import Kind

_SUPPLIER = Source("supplier's unit table", "speed limit", Status.GIVEN)
EASED = 0.90
"""A speed that is eased leaves the reserve of a check that holds."""


def _column(need: Need, units: UnitTable) -> Column:
    used = need.fastest / units.speed_limit
    return column(used, used, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    limit, pitch = one(unit.speed_limit), one(unit.pitch_diameter)
    factor = "not known" if np.isnan(pitch) else number(float(speed.speed_factor(need.fastest, pitch)), 2)
    return Outcome(
        "no speed limit is given" if np.isnan(limit) else f"{number(need.fastest)} of {number(limit)} r/min",
        (_SUPPLIER,),
        exactly(need.fastest),
        exactly(limit),
        Kind.SPEED,
        datum="speed limit, from the supplier" if np.isnan(limit) else "",
        details=(
            ("n·d_m in mm/min", factor),
            ("speed limit", "not given" if np.isnan(limit) else f"{number(limit, 3)} r/min"),
        ),
    )


def _relax(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    """Slow down every condition that is past the limit."""
    limit = one(unit.speed_limit)
    eased = float(np.floor(EASED * limit))
    past = np.flatnonzero(need.duty.speed > limit * (1.0 + EXACT))
    return tuple(Wish(f"duty[{c}].speed", eased, "speed", Kind.SPEED) for c in past) if eased > 0 else ()


CHECK = Check("speed", "Speed", _column, _outcome, relax=_relax)
