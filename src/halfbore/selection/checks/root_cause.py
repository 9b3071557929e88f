"""Why the last bearing died, and whether this unit cures that."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, State
from halfbore.domain.position import DamageMode, Failure
from halfbore.domain.unit import UnitTable
from halfbore.phrases import mm, phrase
from halfbore.selection.check import EXACT, Check, Outcome, column, everywhere, found, worst
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
from halfbore.selection.need import Need, settled
from halfbore.sources import Source, Status, practice

OUT_OF_LINE = 0.1
"""A base that was surveyed further off the line of the others is low or high [mm]; common practice, no source."""

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


@settled
def last_failure(need: Need) -> Failure | None:
    """Return the latest failure that is on record, not counting bearings taken out as a precaution."""
    failed = [f for f in need.position.history if f.failed]
    return max(failed, key=lambda f: f.on) if failed else None


def low_base(need: Need) -> bool:
    """Whether the base was surveyed out of line while the bearing died of fatigue or edge wear."""
    died, error = last_failure(need), need.position.base.height_error
    by_fatigue = died is not None and died.why in (DamageMode.SURFACE_FATIGUE, DamageMode.SUBSURFACE_FATIGUE)
    return by_fatigue and max(abs(error.low), abs(error.high)) > OUT_OF_LINE


def _column(need: Need, units: UnitTable) -> Column:
    """A cure that is past its limit cures nothing; one that is not known leaves it open; the unit fails by neither."""
    died, n = last_failure(need), len(units)
    if died is None or died.why is DamageMode.NOT_KNOWN:
        return everywhere(State.NOT_APPLICABLE, n)
    if low_base(need) or died.why not in CURES:
        return column(np.inf, np.inf, n)
    parts = [found(check, need, units) for check in CURES[died.why]]
    states = np.stack([p.state for p in parts])
    idle = states == State.NOT_APPLICABLE
    good = worst(np.where(idle, 0.0, np.stack([p.good for p in parts])))
    bad = worst(np.where(idle, 0.0, np.stack([p.bad for p in parts])))
    outside = np.isnan(bad) & (states == State.OUTSIDE).any(0)
    return column(
        good, bad, n, np.select([idle.all(0), outside], [State.NOT_APPLICABLE, State.OUTSIDE], State.NUMBER)
    )


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (_TERMS, _CURES)
    died = last_failure(need)
    if died is None:
        return Outcome("no failure is on record here", sources)
    if died.why is DamageMode.NOT_KNOWN:
        return Outcome(
            "how the last bearing died is not known", sources, datum="the damage mode, from the site"
        )
    if low_base(need):
        return Outcome(
            phrase(
                "not cured by this conversion: {} on a base {} out of line; mend the height first",
                died.why.value,
                mm(need.position.base.height_error.likely, 1, signed=True),
            ),
            sources,
        )
    if died.why not in CURES:
        return Outcome(f"not cured by this conversion: {died.why.value}", sources)
    against = " and ".join(check.title.lower() for check in CURES[died.why])
    answer = _column(need, unit)
    if answer.state[0] != State.NUMBER:
        unknown = [c.title.lower() for c in CURES[died.why] if found(c, need, unit).state[0] != State.NUMBER]
        return Outcome(
            f"whether {died.why.value} is cured cannot be told without {' and '.join(unknown)}",
            sources,
            datum=f"what {' and '.join(unknown)} asks for",
        )
    if answer.bad[0] > 1.0 + EXACT:
        past = [c.title.lower() for c in CURES[died.why] if found(c, need, unit).bad[0] > 1.0 + EXACT]
        return Outcome(
            f"not cured by this conversion: {died.why.value}; past its limit, at the bad end: {' and '.join(past)}",
            sources,
        )
    return Outcome(
        f"the last bearing died of {died.why.value} on {died.on:%Y-%m-%d}; against that stands: {against}",
        sources,
    )


CHECK = Check("root cause", "Root cause", _column, _outcome, fails_past=np.inf)
