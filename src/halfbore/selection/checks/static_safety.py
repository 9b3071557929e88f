"""Static safety at the largest load of the whole duty, ISO 76:2006."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, Sense, State
from halfbore.domain.duty import Shock
from halfbore.domain.unit import UnitTable
from halfbore.numbers import number
from halfbore.phrases import kilonewton, phrase
from halfbore.selection.check import (
    EXACT,
    RESERVE,
    Check,
    Outcome,
    Wish,
    column,
    everywhere,
    exactly,
    one,
    spread,
)
from halfbore.selection.need import Floats, Need, settled
from halfbore.standards import iso76_2006 as iso76
from halfbore.units import Kind


def least(shock: Shock) -> float:
    """Return the least static safety factor for how rough the duty is [-]."""
    return iso76.least_static_safety_factor(iso76.Running(shock.value))


@settled
def peaks(need: Need) -> tuple[float, float]:
    """Return the largest load of the duty at the light and at the heavy end of the ranges [N].

    At the light end the mean over one turn stands for the peak, which is a little more.
    """
    return float(need.duty.equivalent_low.max()), float(need.duty.peak_high.max())


def _safety(units: UnitTable, peak: float) -> Floats:
    load = iso76.static_equivalent_radial_load(peak)
    return np.asarray(iso76.static_safety_factor(units.static_rating, load))


def _column(need: Need, units: UnitTable) -> Column:
    light, heavy = peaks(need)
    if heavy == 0.0:
        return everywhere(State.NOT_APPLICABLE, len(units))
    wanted = least(need.job.required.shock)
    return column(wanted / _safety(units, light), wanted / _safety(units, heavy), len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (iso76.static_safety_factor.source, iso76.least_static_safety_factor.source)
    (light, heavy), shock = peaks(need), need.job.required.shock
    if heavy == 0.0:
        return Outcome("no load", sources, sense=Sense.AT_LEAST)
    if np.isnan(one(unit.static_rating)):
        return Outcome(
            "no static rating is given", sources, sense=Sense.AT_LEAST, datum="C_0r, from the supplier"
        )
    safety, wanted = one(_safety(unit, heavy)), least(shock)
    where = need.job.duty[int(need.duty.peak_high.argmax())].name
    return Outcome(
        phrase(
            "safety {} at {} ({}), {} wanted: {} running",
            number(safety, places=1),
            kilonewton(heavy),
            where,
            number(wanted, 3),
            shock.value,
        ),
        sources,
        spread(safety, one(_safety(unit, light))),
        exactly(wanted),
        Kind.NUMBER,
        Sense.AT_LEAST,
    )


def _relax(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    """Take the duty as normal running, where that is enough."""
    mild = least(Shock.NORMAL)
    used = mild / one(_safety(unit, peaks(need)[1]))
    if mild >= least(need.job.required.shock) or used > 1.0 - RESERVE + EXACT:
        return ()
    return (Wish("required.shock", Shock.NORMAL, "running"),)


CHECK = Check("static safety", "Static safety", _column, _outcome, relax=_relax)
