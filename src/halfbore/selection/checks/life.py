"""Rating life and modified rating life over the duty, ISO 281:2007."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, Sense, State
from halfbore.domain.unit import UnitTable
from halfbore.selection.check import Check, Outcome, Wish, column, everywhere, one, rounded, spread
from halfbore.selection.need import Floats, Need
from halfbore.sources import Source
from halfbore.standards import iso281_2007 as iso281
from halfbore.standards import iso281_2007_annex_a as annex_a
from halfbore.standards.iso281_2007_annex_a import ContaminationLevel
from halfbore.units import Kind, Span

EASED = 0.90
"""A requirement that is eased leaves the reserve of a check that holds."""


def _hours(lives: Floats, need: Need) -> Floats:
    """Return the life of the duty in running hours from lives per running condition (conditions, n) [10^6 rev]."""
    share, speed = need.duty.share[need.running], need.duty.speed[need.running]
    turns_an_hour = 60.0 * float(share @ speed) / float(share.sum())
    return np.asarray(iso281.life_over_duty(lives, speed, share)) * 1e6 / turns_an_hour


def basic_hours(need: Need, units: UnitTable, loads: Floats) -> Floats:
    """Return the basic rating life over the duty (n) [h] for loads per running condition [N]."""
    return _hours(np.asarray(iso281.basic_rating_life(units.dynamic_rating[None, :], loads[:, None])), need)


def modified_hours(
    need: Need, units: UnitTable, loads: Floats, viscosity: Floats, level: ContaminationLevel
) -> Floats:
    """Return the modified rating life over the duty (n) [h].

    loads [N] and viscosity [mm²/s]: per running condition; level: contamination.
    NaN where κ is below 0.1 in a condition.
    """
    P, n = loads[:, None], need.duty.speed[need.running][:, None]
    kappa = np.asarray(iso281.kappa(viscosity[:, None], iso281.nu_1(n, units.pitch_diameter[None, :])))
    a_iso = life_factor(need, units, P, kappa, level)
    basic = np.asarray(iso281.basic_rating_life(units.dynamic_rating[None, :], P))
    a_1 = iso281.a_1(need.job.required.reliability)
    return _hours(np.asarray(iso281.modified_rating_life(a_1, a_iso, basic)), need)


def life_factor(need: Need, units: UnitTable, P: Floats, kappa: Floats, level: ContaminationLevel) -> Floats:
    """Return a_ISO per running condition and unit, with additives of proven effect where there are any."""
    C_u, D_pw = units.fatigue_limit[None, :], units.pitch_diameter[None, :]
    e_C = np.asarray(annex_a.contamination_factor(kappa, D_pw, level))
    plain = np.asarray(iso281.a_iso(kappa, e_C, C_u, P))
    if need.job.lubricant is None or not need.job.lubricant.proven_ep:
        return plain
    helped = np.asarray(iso281.kappa_with_ep(kappa, e_C, True))
    raised = np.asarray(iso281.a_iso(helped, annex_a.contamination_factor(helped, D_pw, level), C_u, P))
    return np.asarray(iso281.a_iso_with_ep(plain, raised))


def _states(need: Need, units: UnitTable) -> Floats:
    heaviest = need.duty.equivalent_low[need.running].max()
    past = heaviest > iso281.LOAD_RANGE.high * units.dynamic_rating
    return np.where(past, State.OUTSIDE, State.NUMBER)


def _unloaded(need: Need) -> bool:
    return not need.running.any() or float(need.duty.equivalent_high[need.running].max()) == 0.0


def _loads(need: Need) -> tuple[Floats, Floats]:
    return need.duty.equivalent_low[need.running], need.duty.equivalent_high[need.running]


def _basic_ends(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    low, high = _loads(need)
    a_1 = float(iso281.a_1(need.job.required.reliability))
    return a_1 * basic_hours(need, units, high), a_1 * basic_hours(need, units, low)


def _basic_column(need: Need, units: UnitTable) -> Column:
    if _unloaded(need):
        return everywhere(State.NOT_APPLICABLE, len(units))
    if np.isnan(float(iso281.a_1(need.job.required.reliability))):
        return everywhere(State.OUTSIDE, len(units))
    bad, good = _basic_ends(need, units)
    wanted = need.job.required.life
    return column(wanted / good, wanted / bad, len(units), _states(need, units))


def _basic_outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (iso281.basic_rating_life.source, iso281.a_1.source)
    if outside := _outside(need, unit):
        return Outcome(outside, sources, kind=Kind.DURATION, sense=Sense.AT_LEAST)
    bad, good = _basic_ends(need, unit)
    return _told(need, one(bad), one(good), sources)


def _told(
    need: Need,
    bad: float,
    good: float,
    sources: tuple[Source, ...],
    details: tuple[tuple[str, str], ...] = (),
) -> Outcome:
    wanted = need.job.required.life
    return Outcome(
        f"lasts {_thousands(bad, good)} thousand hours, {rounded(wanted / 1000)} wanted",
        sources,
        spread(bad, good),
        Span(wanted, wanted, wanted),
        Kind.DURATION,
        Sense.AT_LEAST,
        details=details,
    )


def _thousands(bad: float, good: float) -> str:
    low, high = rounded(bad / 1000), rounded(good / 1000)
    return low if low == high else f"{low} to {high}"


def _outside(need: Need, unit: UnitTable) -> str:
    if _unloaded(need):
        return "no load while running: life is unlimited"
    if np.isnan(float(iso281.a_1(need.job.required.reliability))):
        return f"reliability {need.job.required.reliability:.4g} is outside the table, which runs from 0.90 to 0.9995"
    heaviest = need.duty.equivalent_low[need.running].max()
    if heaviest > iso281.LOAD_RANGE.high * one(unit.dynamic_rating):
        return f"load {heaviest / one(unit.dynamic_rating):.2f} of C_r is over 0.5: ask the supplier"
    return ""


def modified_ends(need: Need, units: UnitTable) -> tuple[Floats, Floats] | None:
    """Return the modified rating life at the bad and at the good end (n) [h]; None without lubricant data."""
    found = need.viscosity
    if found is None:
        return None
    thin, thick = found
    low, high = _loads(need)
    clean, dirty = need.levels
    return modified_hours(need, units, high, thin, dirty), modified_hours(need, units, low, thick, clean)


def _modified_column(need: Need, units: UnitTable) -> Column:
    n = len(units)
    if _unloaded(need):
        return everywhere(State.NOT_APPLICABLE, n)
    if np.isnan(float(iso281.a_1(need.job.required.reliability))):
        return everywhere(State.OUTSIDE, n)
    ends = modified_ends(need, units)
    if ends is None or np.isnan(need.viscosity[0]).any():  # type: ignore[index]
        return everywhere(State.NO_DATA, n)
    bad, good = ends
    state = np.where(np.isnan(bad), State.OUTSIDE, _states(need, units))
    wanted = need.job.required.life
    with np.errstate(divide="ignore"):
        return column(wanted / good, wanted / bad, n, state)


def _modified_outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (iso281.modified_rating_life.source, iso281.a_iso.source, annex_a.E_C_SOURCE)
    if outside := _outside(need, unit):
        return Outcome(outside, sources, kind=Kind.DURATION, sense=Sense.AT_LEAST)
    ends = modified_ends(need, unit)
    if ends is None or np.isnan(need.viscosity[0]).any():  # type: ignore[index]
        return Outcome(
            "viscosity in operation is not known",
            sources,
            kind=Kind.DURATION,
            sense=Sense.AT_LEAST,
            datum="lubricant with its viscosity, shaft and housing temperature, from the site",
        )
    kappa = _kappa(need, unit)
    if np.isnan(one(ends[0])):
        return Outcome(
            f"viscosity ratio {kappa[0]:.2f} is below 0.1, where the method ends: a thicker oil brings it in",
            sources,
            kind=Kind.DURATION,
            sense=Sense.AT_LEAST,
        )
    details = (
        ("viscosity ratio κ", f"{kappa[0]:.2f} to {kappa[1]:.2f}"),
        ("contamination", " to ".join(dict.fromkeys(str(level) for level in need.levels))),
    )
    return _told(need, one(ends[0]), one(ends[1]), sources, details)


def _kappa(need: Need, unit: UnitTable) -> tuple[float, float]:
    assert need.viscosity is not None
    speed = need.duty.speed[need.running]
    reference = np.asarray(iso281.nu_1(speed, unit.pitch_diameter[0]))
    thin, thick = need.viscosity
    return float((thin / reference).min()), float((thick / reference).max())


def _relax_basic(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    return _ease(one(_basic_ends(need, unit)[0])) if not _outside(need, unit) else ()


def _relax_modified(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    ends = modified_ends(need, unit)
    if ends is None or _outside(need, unit) or np.isnan(one(ends[0])):
        return ()
    return _ease(one(ends[0]))


def _ease(hours: float) -> tuple[Wish, ...]:
    eased = np.floor(EASED * hours / 1000.0) * 1000.0
    return (Wish("required.life", eased, "required life"),) if eased >= 1000 else ()


RATING = Check("rating life", "Rating life", _basic_column, _basic_outcome, relax=_relax_basic)
MODIFIED = Check("modified life", "Modified life", _modified_column, _modified_outcome, relax=_relax_modified)
