"""Rating life and modified rating life over the duty, ISO 281:2007."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Column, Sense, State
from halfbore.domain.unit import UnitTable
from halfbore.numbers import number
from halfbore.selection.check import (
    EXACT,
    Check,
    Outcome,
    Wish,
    column,
    everywhere,
    exactly,
    one,
    spread,
)
from halfbore.selection.missing import temperatures
from halfbore.selection.need import Floats, Need, settled, shared
from halfbore.sources import Source
from halfbore.standards import iso281_2007 as iso281
from halfbore.standards import iso281_2007_annex_a as annex_a
from halfbore.standards.iso281_2007_annex_a import ContaminationLevel
from halfbore.units import Kind

EASED = 0.90
"""A requirement that is eased leaves the reserve of a check that holds."""


def _hours(lives: Floats, need: Need) -> Floats:
    """Return the life of the duty in running hours from lives per running condition (conditions, n) [10^6 rev]."""
    share, speed, turns_an_hour = _turning(need)
    return np.asarray(iso281.life_over_duty(lives, speed, share)) * (1e6 / turns_an_hour)


@settled
def _turning(need: Need) -> tuple[Floats, Floats, float]:
    """Return share and speed [r/min] of the running conditions, and the turns of a running hour."""
    share, speed = need.duty.share[need.running], need.duty.speed[need.running]
    return share, speed, 60.0 * float(share @ speed) / float(share.sum())


@settled
def _loads(need: Need) -> tuple[Floats, Floats]:
    return need.duty.equivalent_low[need.running], need.duty.equivalent_high[need.running]


@settled
def reliability_factor(need: Need) -> float:
    """Return a_1 at the required reliability [-]; NaN outside the table."""
    return float(iso281.a_1(need.job.required.reliability))


@shared
def basic_lives(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the basic rating life at heavy and at light load per running condition (c, n) [10^6 revolutions]."""
    low, high = _loads(need)
    rating = units.dynamic_rating[None, :]
    heavy = np.asarray(iso281.basic_rating_life(rating, high[:, None]))
    if np.array_equal(low, high):
        return heavy, heavy
    return heavy, np.asarray(iso281.basic_rating_life(rating, low[:, None]))


def basic_ends(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the rating life at the required reliability over the duty, bad and good end (n) [h]."""
    a_1 = reliability_factor(need)
    bad, good = basic_lives(need, units)
    return a_1 * _hours(bad, need), a_1 * _hours(good, need)


@shared
def reference_viscosity(need: Need, units: UnitTable) -> Floats:
    """Return ν_1 per running condition and unit (c, n) [mm²/s]."""
    _, speed, _ = _turning(need)
    return np.asarray(iso281.nu_1(speed[:, None], units.pitch_diameter[None, :]))


def modified_hours(
    need: Need, units: UnitTable, lives: Floats, loads: Floats, viscosity: Floats, level: ContaminationLevel
) -> Floats:
    """Return the modified rating life over the duty (n) [h].

    lives: basic rating life per running condition (c, n); loads [N] and viscosity [mm²/s]: per running condition;
    level: contamination. NaN where κ is below 0.1 in a condition.
    """
    kappa = np.asarray(iso281.kappa(viscosity[:, None], reference_viscosity(need, units)))
    a_iso = life_factor(need, units, loads[:, None], kappa, level)
    a_1 = reliability_factor(need)
    return _hours(np.asarray(iso281.modified_rating_life(a_1, a_iso, lives)), need)


def life_factor(need: Need, units: UnitTable, P: Floats, kappa: Floats, level: ContaminationLevel) -> Floats:
    """Return a_ISO per running condition and unit, with additives of proven effect where there are any."""
    C_u, D_pw = units.fatigue_limit[None, :], units.pitch_diameter[None, :]
    # Without load the life has no bound whatever the factor; 1 N keeps zero by zero out of it.
    P = np.maximum(P, 1.0)
    e_C = np.asarray(annex_a.contamination_factor(kappa, D_pw, level))
    plain = np.asarray(iso281.a_iso(kappa, e_C, C_u, P))
    if need.job.lubricant is None or not need.job.lubricant.proven_ep or not (kappa < 1).any():
        return plain
    helped = np.asarray(iso281.kappa_with_ep(kappa, e_C, True))
    raised = np.asarray(iso281.a_iso(helped, annex_a.contamination_factor(helped, D_pw, level), C_u, P))
    return np.asarray(iso281.a_iso_with_ep(plain, raised))


@shared
def modified_ends(need: Need, units: UnitTable) -> tuple[Floats, Floats] | None:
    """Return the modified rating life at the bad and at the good end (n) [h]; None without viscosity in operation."""
    found = need.viscosity
    if found is None or np.isnan(found).any():
        return None
    thin, thick = found
    low, high = _loads(need)
    bad, good = basic_lives(need, units)
    clean, dirty = need.levels
    return (
        modified_hours(need, units, bad, high, thin, dirty),
        modified_hours(need, units, good, low, thick, clean),
    )


@shared
def kappa_ends(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the least and the greatest viscosity ratio of the running conditions (n); only with a viscosity."""
    assert need.viscosity is not None
    thin, thick = need.viscosity
    reference = reference_viscosity(need, units)
    return (thin[:, None] / reference).min(0), (thick[:, None] / reference).max(0)


@settled
def _said(need: Need) -> str:
    """Return why no unit has a life here; nothing where there is one."""
    reliability = need.job.required.reliability
    if not need.running.any() or float(_loads(need)[1].max()) == 0.0:
        return "no load while running: life is unlimited"
    if np.isnan(reliability_factor(need)):
        return f"reliability {number(reliability, 4)} is outside the table, which runs from 0.90 to 0.9995"
    return ""


def _past_half(need: Need, units: UnitTable) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Return which units carry more than half their rating at the light and at the heavy end of the loads (n)."""
    low, high = _loads(need)
    most = iso281.LOAD_RANGE.high * units.dynamic_rating * (1.0 + EXACT)
    return low.max() > most, high.max() > most


def _column(need: Need, units: UnitTable, ends: tuple[Floats, Floats], outside: NDArray[np.bool_]) -> Column:
    """Return a column of lives; past half the rating at the heavy end only a unit that fails at the light end fails."""
    bad, good = ends
    wanted = need.job.required.life
    with np.errstate(divide="ignore"):
        eases, uses = wanted / good, wanted / bad
    light, heavy = _past_half(need, units)
    failed = (eases > 1.0 + EXACT) & ~light
    return column(eases, uses, len(units), np.where(outside | (heavy & ~failed), State.OUTSIDE, State.NUMBER))


def _nowhere(need: Need, n: int) -> Column:
    unloaded = _said(need).startswith("no load")
    return everywhere(State.NOT_APPLICABLE if unloaded else State.OUTSIDE, n)


def _basic_column(need: Need, units: UnitTable) -> Column:
    if _said(need):
        return _nowhere(need, len(units))
    return _column(need, units, basic_ends(need, units), np.zeros(len(units), np.bool_))


def _modified_column(need: Need, units: UnitTable) -> Column:
    if _said(need):
        return _nowhere(need, len(units))
    ends = modified_ends(need, units)
    if ends is None:
        return everywhere(State.NO_DATA, len(units))
    return _column(need, units, ends, kappa_ends(need, units)[0] < iso281.KAPPA_RANGE.low)


def _none(reason: str, sources: tuple[Source, ...], datum: str = "") -> Outcome:
    return Outcome(reason, sources, kind=Kind.DURATION, sense=Sense.AT_LEAST, datum=datum)


def _outside(need: Need, unit: UnitTable) -> str:
    """Return why one unit has no life by the method; nothing where it has one."""
    heaviest = float(_loads(need)[1].max())
    if bool(_past_half(need, unit)[1][0]):
        part = heaviest / one(unit.dynamic_rating)
        return f"load {number(part, places=2)} of C_r is over 0.5, where the method ends: ask the supplier"
    return ""


def _told(
    need: Need,
    unit: UnitTable,
    ends: tuple[Floats, Floats],
    sources: tuple[Source, ...],
    details: tuple[tuple[str, str], ...] = (),
) -> Outcome:
    bad, good, wanted = one(ends[0]), one(ends[1]), need.job.required.life
    past = _outside(need, unit)
    if past and not (good < wanted and not _past_half(need, unit)[0][0]):
        return _none(past, sources, "life past half the dynamic rating, from the supplier")
    return Outcome(
        f"lasts {_thousands(bad, good)}, {number(wanted / 1000, 2)} wanted",
        sources,
        spread(bad, good),
        exactly(wanted),
        Kind.DURATION,
        Sense.AT_LEAST,
        details=details,
    )


def _thousands(bad: float, good: float) -> str:
    if np.isfinite(good):
        return f"{number((bad / 1000, good / 1000), 2)} thousand hours"
    return f"{number(bad / 1000, 2)} thousand hours or more" if np.isfinite(bad) else "without bound"


def _basic_outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (iso281.basic_rating_life.source, iso281.a_1.source)
    if said := _said(need):
        return _none(said, sources)
    if np.isnan(one(unit.dynamic_rating)):
        return _none("no dynamic rating is given", sources, "C_r, from the supplier")
    return _told(need, unit, basic_ends(need, unit), sources)


def _modified_outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (iso281.modified_rating_life.source, iso281.a_iso.source, annex_a.E_C_SOURCE)
    if said := _said(need):
        return _none(said, sources)
    ends = modified_ends(need, unit)
    if ends is None:
        warmth = temperatures(need)
        oil = ["lubricant with its viscosity, from the site"] if need.viscosity is None or not warmth else []
        return _none("viscosity in operation is not known", sources, "; ".join([*oil, *warmth]))
    if np.isnan(one(unit.dynamic_rating + unit.fatigue_limit + unit.pitch_diameter)):
        return _none("ratings are not given", sources, "C_r, C_u and pitch diameter, from the supplier")
    least, most = (one(k) for k in kappa_ends(need, unit))
    if least < iso281.KAPPA_RANGE.low:
        return _none(
            f"viscosity ratio {number(least, 2)} is below 0.1, where the method ends: a thicker oil brings it in",
            sources,
            "use a thicker oil",
        )
    details = (
        ("viscosity ratio κ", number((least, most), 2)),
        ("contamination", " to ".join(dict.fromkeys(str(level) for level in need.levels))),
    )
    return _told(need, unit, ends, sources, details)


def _relax_basic(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    return _ease(one(basic_ends(need, unit)[0]))


def _relax_modified(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    ends = modified_ends(need, unit)
    return () if ends is None else _ease(one(ends[0]))


def _ease(hours: float) -> tuple[Wish, ...]:
    """Ask for the life that a unit has, with a reserve, in whole thousands of hours."""
    eased = float(np.floor(EASED * hours / 1000.0) * 1000.0)
    return (Wish("required.life", eased, "required life", Kind.DURATION),) if eased >= 1000 else ()


RATING = Check("rating life", "Rating life", _basic_column, _basic_outcome, relax=_relax_basic)
MODIFIED = Check("modified life", "Modified life", _modified_column, _modified_outcome, relax=_relax_modified)
