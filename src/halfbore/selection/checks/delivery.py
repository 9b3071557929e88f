"""Lead time against the latest delivery that helps."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, State
from halfbore.domain.unit import UnitTable
from halfbore.numbers import number
from halfbore.selection.check import Check, Outcome, Wish, column, everywhere, exactly, one
from halfbore.selection.need import Need
from halfbore.sources import Source, Status
from halfbore.units import Kind

_SUPPLIER = Source("supplier's unit table", "lead time", Status.GIVEN)
WEEK = 168.0
"""Hours of a week."""


def _column(need: Need, units: UnitTable) -> Column:
    latest = need.job.required.latest_delivery
    if latest is None:
        return everywhere(State.NOT_APPLICABLE, len(units))
    with np.errstate(divide="ignore"):
        used = units.lead_time / np.float64(latest)
    return column(used, used, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    latest, lead = need.job.required.latest_delivery, one(unit.lead_time)
    if latest is None:
        return Outcome("no latest delivery was named", (_SUPPLIER,), kind=Kind.DURATION)
    if np.isnan(lead):
        return Outcome(
            "no lead time is given", (_SUPPLIER,), kind=Kind.DURATION, datum="lead time, from the supplier"
        )
    late = f", {number((lead - latest) / WEEK, 2)} too late" if lead > latest else ""
    return Outcome(
        f"{number(lead / WEEK, 2)} of {number(latest / WEEK, 2)} weeks{late}",
        (_SUPPLIER,),
        exactly(lead),
        exactly(latest),
        Kind.DURATION,
    )


def _relax(_need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    return (Wish("required.latest_delivery", one(unit.lead_time), "latest delivery", Kind.DURATION),)


CHECK = Check("delivery", "Delivery", _column, _outcome, reserve=0.0, relax=_relax)
