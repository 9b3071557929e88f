"""Words about plans and their worth: hours saved, shares, chances, cautions, where the answer turns."""

from __future__ import annotations

import math

from halfbore.domain.plan import ChangeoverPair, Clock, Hazard
from halfbore.domain.unit import LIFT_BY_HAND, UnitTable, heaviest_part
from halfbore.domain.value import Estimate, Value
from halfbore.numbers import METRIC, Style, write
from halfbore.units import Kind

CLOCKS = {
    "exchange": "Exchange: old one loose, new one closed",
    "mechanical": "Mechanical: guards off, guards on",
    "outage": "Outage: product off, product on",
}
"""The clocks of a plan, and what each one counts."""
CAUTIONS = {
    Hazard.STORED_ENERGY: "lock out, prove dead, hold the shaft against turning",
    Hazard.SUSPENDED_LOAD: "nobody under it; hold the shaft by two means, gear rated",
    Hazard.CONFINED: "permit, air tested, a watch outside",
    Hazard.RUN_BACK: "clamp belt and drum; a holdback is no lock",
    Hazard.EXPLOSION: "no torch or spark unless the site releases it",
    Hazard.TAKE_UP: "lock-out does not unload it: block its weight or spring, or let it down first",
    Hazard.HOT_WORK: "permit, no dust, fire watch",
    Hazard.CAUSTIC: "cover skin, eyes and lungs; water for the eyes at hand",
    Hazard.HOT_SURFACE: "cool down, then measure",
    Hazard.HANDLING: "lifting gear",
    Hazard.ROTATING: "guards on before it turns",
    Hazard.HEIGHT: "a safe place to stand, a harness",
}
"""What to do about each hazard, those that kill first (common practice, no source)."""

NEVER = "no cost of lost production brings half of the runs to pay"
"""Where the answer turns at no cost of lost production."""


def precaution(hazard: Hazard, unit: UnitTable | None, style: Style = METRIC) -> str:
    """Return what to do about a hazard; unit: the one that goes in, whose heaviest part stands beside its lifting gear."""
    part = heaviest_part(unit) if unit is not None else math.nan
    if hazard is not Hazard.HANDLING or math.isnan(part):
        return CAUTIONS[hazard]
    mass = write(part, Kind.MASS, style)
    if part > LIFT_BY_HAND:
        return f"{CAUTIONS[hazard]} for up to {mass}"
    return f"up to {mass} of the new unit: by hand where the site allows it; {CAUTIONS[hazard]} for what is heavier"


def hours_saved(saved: Estimate, style: Style = METRIC, brief: bool = False) -> str:
    """Return hours that are saved, more hours as such; brief: for the cell of a table."""
    low, high = saved.p10, saved.p90
    if low == high == 0.0:
        return "saves none" if brief else "saves no outage"
    if high <= 0.0:
        return f"takes {write((-high, -low), Kind.DURATION, style)} more"
    if low >= 0.0:
        return f"saves {write((low, high), Kind.DURATION, style)}"
    more, less = write(-low, Kind.DURATION, style), write(high, Kind.DURATION, style)
    none = write(0.0, Kind.DURATION, style)
    if less == none:
        return f"takes {write((0.0, -low), Kind.DURATION, style)} more"
    if more == none:
        return f"saves {write((0.0, high), Kind.DURATION, style)}"
    return f"{more} more to {less} less" if brief else f"between {more} more and {less} less"


def part_words(clock: Clock, style: Style = METRIC) -> str:
    """Return how much shorter a plan is, longer as such."""
    if clock.p90 <= 0.0:
        return f"{write((-clock.p90, -clock.p10), Kind.FRACTION, style)} longer"
    return write((clock.p10, clock.p90), Kind.FRACTION, style)


def payback_words(value: Value, style: Style = METRIC) -> str:
    """Return after how many years the saving has repaid what the conversion cost more."""
    if math.isnan(value.payback):
        return "not within"
    if value.payback == 0.0:
        return "at once"
    return write(value.payback * 8760.0, Kind.DURATION, style, unit="years")


def breakeven_words(value: Value, style: Style = METRIC, brief: bool = False) -> str:
    """Return the cost of lost production at which the answer turns; brief: for the cell of a table."""
    if math.isnan(value.breakeven):
        return "at no cost" if brief else NEVER
    if value.breakeven <= 0.0:
        return "pays at any"
    return write(value.breakeven, Kind.MONEY_RATE, style, currency=value.currency)


def before_after(before: float, after: float, style: Style = METRIC, persons: bool = False) -> str:
    """Return hours each way, one-piece → split unit; persons: person-hours."""
    first = write(before, Kind.DURATION, style, bare=True)
    if persons:
        return f"{first} → {write(after, Kind.DURATION, style, bare=True)} person-h"
    return f"{first} → {write(after, Kind.DURATION, style)}"


def exposures(pair: ChangeoverPair) -> list[tuple[Hazard, list[float], list[float]]]:
    """Return the hours and person-hours of each hazard: one-piece, split unit first, split unit later."""
    plans = [{e.hazard: e for e in p.exposure} for p in (pair.one_piece, pair.split_first, pair.split_repeat)]
    found = [h for h in Hazard if any(h in plan for plan in plans)]
    return [
        (
            h,
            [p[h].hours if h in p else 0.0 for p in plans],
            [p[h].person_hours if h in p else 0.0 for p in plans],
        )
        for h in found
    ]
