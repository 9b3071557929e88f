"""Shaft speed against the supplier's limit."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import speed
from halfbore.selection.check import Check, Outcome, Wish, column, one
from halfbore.selection.need import Need
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

_SUPPLIER = Source("supplier's unit table", "speed limit", Status.GIVEN)


def _column(need: Need, units: UnitTable) -> Column:
    used = need.fastest / units.speed_limit
    return column(used, used, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    limit = one(unit.speed_limit)
    factor = float(speed.speed_factor(need.fastest, one(unit.pitch_diameter)))
    if np.isnan(limit):
        return Outcome(
            "no speed limit is given", (_SUPPLIER,), kind=Kind.SPEED, datum="speed limit, from the supplier"
        )
    return Outcome(
        f"{need.fastest:.0f} of {limit:.0f} r/min",
        (_SUPPLIER,),
        Span(need.fastest, need.fastest, need.fastest),
        Span(limit, limit, limit),
        Kind.SPEED,
        details=(("n·d_m", f"{factor / 1000:.0f} 000 mm/min"),),
    )


def _relax(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    running = np.flatnonzero(need.duty.speed > 0.9 * one(unit.speed_limit))
    eased = float(np.floor(0.9 * one(unit.speed_limit)))
    return (Wish(f"duty[{running[0]}].speed", eased, "speed"),) if len(running) == 1 and eased > 0 else ()


CHECK = Check("speed", "Speed", _column, _outcome, relax=_relax)
