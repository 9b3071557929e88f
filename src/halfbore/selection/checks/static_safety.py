"""Static safety at the largest load of the whole duty, ISO 76:2006."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, Sense, State
from halfbore.domain.duty import Shock
from halfbore.domain.unit import UnitTable
from halfbore.selection.check import EXACT, Check, Outcome, Wish, column, everywhere, one
from halfbore.selection.need import Need
from halfbore.standards import iso76_2006 as iso76
from halfbore.units import Kind, Span


def least(shock: Shock) -> float:
    """Return the least static safety factor for how rough the duty is [-]."""
    return iso76.least_static_safety_factor(iso76.Running(shock.value))


def _peak(need: Need) -> float:
    return float(need.duty.peak_high.max())


def _column(need: Need, units: UnitTable) -> Column:
    if _peak(need) == 0.0:
        return everywhere(State.NOT_APPLICABLE, len(units))
    safety = np.asarray(
        iso76.static_safety_factor(units.static_rating, iso76.static_equivalent_radial_load(_peak(need)))
    )
    used = least(need.job.required.shock) / safety
    return column(used, used, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (iso76.static_safety_factor.source, iso76.least_static_safety_factor.source)
    peak, wanted = _peak(need), least(need.job.required.shock)
    if peak == 0.0:
        return Outcome("no load", sources, sense=Sense.AT_LEAST)
    safety = one(unit.static_rating) / peak
    where = need.job.duty[int(need.duty.peak_high.argmax())].name
    return Outcome(
        f"safety {safety:.1f} at {peak / 1000:.3g} kN ({where}), {wanted:g} wanted: {need.job.required.shock.value} running",
        sources,
        Span(safety, safety, safety),
        Span(wanted, wanted, wanted),
        Kind.NUMBER,
        Sense.AT_LEAST,
    )


def _relax(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    milder = [s for s in (Shock.NORMAL,) if least(s) < least(need.job.required.shock)]
    safe = one(unit.static_rating) / _peak(need)
    return tuple(
        Wish("required.shock", s, "how rough the duty is") for s in milder if least(s) / safe <= 0.9 + EXACT
    )


CHECK = Check("static safety", "Static safety", _column, _outcome, relax=_relax)
