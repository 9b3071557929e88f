"""Lead time against the latest delivery that helps."""

from __future__ import annotations

from halfbore.domain.check import Column, State
from halfbore.domain.unit import UnitTable
from halfbore.selection.check import Check, Outcome, Wish, column, everywhere, one
from halfbore.selection.need import Need
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

_SUPPLIER = Source("supplier's unit table", "lead time", Status.GIVEN)
WEEK = 168.0
"""Hours of a week."""


def _column(need: Need, units: UnitTable) -> Column:
    latest = need.job.required.latest_delivery
    if latest is None:
        return everywhere(State.NOT_APPLICABLE, len(units))
    return column(units.lead_time / latest, units.lead_time / latest, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    latest, lead = need.job.required.latest_delivery, one(unit.lead_time)
    if latest is None:
        return Outcome("no latest delivery was named", (_SUPPLIER,), kind=Kind.DURATION)
    return Outcome(
        f"{lead / WEEK:.0f} of {latest / WEEK:.0f} weeks",
        (_SUPPLIER,),
        Span(lead, lead, lead),
        Span(latest, latest, latest),
        Kind.DURATION,
    )


def _relax(_need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    return (Wish("required.latest_delivery", one(unit.lead_time) / 0.9, "latest delivery"),)


CHECK = Check("delivery", "Delivery", _column, _outcome, reserve=0.0, relax=_relax)
