"""Why the last bearing died, and whether this unit cures that."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, State
from halfbore.domain.position import DamageMode, Failure
from halfbore.domain.unit import UnitTable
from halfbore.selection.check import Check, Outcome, column, everywhere
from halfbore.selection.checks import (
    alignment,
    bore_and_seat,
    clearance,
    life,
    minimum_load,
    seals,
    static_safety,
    temperature,
)
from halfbore.selection.need import Need
from halfbore.sources import Source, Status, practice

_TERMS = Source("ISO 15243:2017", "damage modes", Status.FROM_MEMORY)
_CURES = practice("which check of the new unit stands against which damage mode")

CURES: dict[DamageMode, tuple[Check, ...]] = {
    DamageMode.SUBSURFACE_FATIGUE: (life.RATING,),
    DamageMode.SURFACE_FATIGUE: (life.MODIFIED, alignment.CHECK),
    DamageMode.ABRASIVE_WEAR: (seals.CHECK,),
    DamageMode.ADHESIVE_WEAR: (minimum_load.CHECK, clearance.CHECK, temperature.CHECK),
    DamageMode.MOISTURE_CORROSION: (seals.CHECK,),
    DamageMode.FRETTING: (bore_and_seat.CHECK,),
    DamageMode.OVERLOAD: (static_safety.CHECK,),
    DamageMode.INDENTATION: (seals.CHECK,),
    DamageMode.THERMAL_CRACKING: (temperature.CHECK, clearance.CHECK),
}
"""Damage modes that are not here are cured by nothing in the unit."""


def last_failure(need: Need) -> Failure | None:
    """Return the latest failure that is on record, not counting bearings taken out as a precaution."""
    failed = [f for f in need.position.history if f.failed]
    return max(failed, key=lambda f: f.on) if failed else None


def low_base(need: Need) -> bool:
    """Whether the base was surveyed out of line while the bearing died of fatigue or edge wear."""
    died = last_failure(need)
    by_fatigue = died is not None and died.why in (DamageMode.SURFACE_FATIGUE, DamageMode.SUBSURFACE_FATIGUE)
    return (
        by_fatigue
        and max(abs(need.position.base.height_error.low), abs(need.position.base.height_error.high)) > 0.1
    )


def _column(need: Need, units: UnitTable) -> Column:
    died, n = last_failure(need), len(units)
    if died is None or died.why is DamageMode.NOT_KNOWN:
        return everywhere(State.NOT_APPLICABLE, n)
    if low_base(need) or died.why not in CURES:
        return column(np.inf, np.inf, n)
    parts = [check.column(need, units) for check in CURES[died.why]]
    applies = np.stack([p.state != State.NOT_APPLICABLE for p in parts])
    known = np.stack([p.state == State.NUMBER for p in parts])
    good = np.where(known, np.stack([p.good for p in parts]), 0.0).max(0)
    bad = np.where(known, np.stack([p.bad for p in parts]), 0.0).max(0)
    open_ = (applies & ~known).any(0)
    return column(np.where(open_, np.inf, good), np.where(open_, np.inf, bad), n)


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    died = last_failure(need)
    if died is None:
        return Outcome("no failure is on record here", (_TERMS,))
    if died.why is DamageMode.NOT_KNOWN:
        return Outcome(
            "how the last bearing died is not known", (_TERMS,), datum="the damage mode, from the site"
        )
    if low_base(need):
        return Outcome(
            f"not cured by this conversion: {died.why.value} on a base "
            f"{need.position.base.height_error.likely:+.1f} mm out of line; mend the height first",
            (_TERMS, _CURES),
        )
    if died.why not in CURES:
        return Outcome(f"not cured by this conversion: {died.why.value}", (_TERMS, _CURES))
    against = " and ".join(check.title.lower() for check in CURES[died.why])
    found = _column(need, unit)
    if found.bad[0] > 1.0:
        return Outcome(
            f"not cured by this conversion: {died.why.value}; {against} does not hold with a reserve",
            (_TERMS, _CURES),
        )
    return Outcome(
        f"the last bearing died of {died.why.value} on {died.on:%Y-%m-%d}; against that stands: {against}",
        (_TERMS, _CURES),
    )


CHECK = Check("root cause", "Root cause", _column, _outcome, never_fails=True)
