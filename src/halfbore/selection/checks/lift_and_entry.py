"""Lift needed to bring the unit under the shaft against lift allowed; at worst the drive is opened."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import lift
from halfbore.phrases import Phrase, mm, phrase
from halfbore.selection.check import Check, Outcome, column, one, spread
from halfbore.selection.need import Floats, Need
from halfbore.sources import Source, Status, practice
from halfbore.units import Kind, Span

WORKING_CLEARANCE = 2.0
"""Clearance to work with under the lifted shaft [mm]; common practice, no source."""

SAME_HEIGHT = 0.05
"""Centre heights that differ by less are the same [mm]: thinner than any packing."""

_CLEARANCE = practice(phrase("{} to work with under a lifted shaft", mm(WORKING_CLEARANCE)))
_SURVEY = Source("survey and supplier's unit table", "", Status.GIVEN)


def base_step(need: Need, units: UnitTable) -> Floats:
    """Return the new centre height less the old one (n) [mm]: below zero for packing, NaN when not surveyed."""
    old = need.position.base.centre_height
    return np.full(len(units), np.nan) if old is None else units.centre_height - old


def needed(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the lift that the unit needs to go in, least and most (n) [mm]."""
    studs, step = need.position.base.stud_stick_out, np.nan_to_num(base_step(need, units))
    rise = np.maximum(step, 0.0) if need.position.base.drive_can_follow else 0.0
    drop = np.maximum(-step, 0.0)
    low, high = (
        np.asarray(lift.lift_needed(s, units.lip_depth, WORKING_CLEARANCE, rise, drop))
        for s in (studs.low, studs.high)
    )
    return low, high


def _column(need: Need, units: UnitTable) -> Column:
    """The drive that must be opened and the base that must be milled are hours of the plan, no reason to turn away.

    Both count as the whole limit used.
    """
    allowed = need.position.lift.allowed
    if allowed is None:
        return column(np.nan, np.nan, len(units))
    low, high = needed(need, units)
    with np.errstate(divide="ignore", invalid="ignore"):
        good = np.where(low > 0.0, low / np.float64(allowed.high), 0.0 * low)
        bad = np.where(high > 0.0, high / np.float64(allowed.low), 0.0 * high)
    higher = ~np.isnan(low) & (np.nan_to_num(base_step(need, units)) > SAME_HEIGHT)
    low_use, high_use = (np.where(higher, 1.0, np.minimum(part, 1.0)) for part in (good, bad))
    return column(low_use, high_use, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (lift.lift_needed.source, _CLEARANCE, _SURVEY)
    allowed = need.position.lift.allowed
    low, high = (one(end) for end in needed(need, unit))
    if np.isnan(low):
        return Outcome(
            "the depth of the cradle's lip is not given",
            sources,
            kind=Kind.LENGTH,
            datum="depth of the cradle's lip, from the supplier",
        )
    asked = phrase("{} of lift needed", mm((low, high), digits=2)) if high > 0.0 else "no lift needed"
    details = (
        ("studs above the base", Phrase(mm(_studs(need), digits=2))),
        ("lip of the cradle", Phrase(mm(one(unit.lip_depth)))),
        ("clearance to work with", Phrase(mm(WORKING_CLEARANCE))),
        ("base bolts", _bolts(need, unit)),
    )
    if allowed is None:
        return Outcome(
            phrase("{}; what is allowed was not surveyed{}", asked, _step(need, unit)),
            sources,
            kind=Kind.LENGTH,
            datum="lift that coupling, wheel gap, seals and the other bearings allow, from the site",
            details=details,
        )
    limited = f" ({need.position.lift.limited_by})" if need.position.lift.limited_by else ""
    enough = high <= allowed.low
    opened = "" if enough else ": the drive must be opened at the first conversion"
    only_base = enough and one(base_step(need, unit)) > SAME_HEIGHT  # the base decides, not these lengths
    return Outcome(
        phrase("{}, {} allowed{}{}{}", asked, mm(allowed, digits=2), limited, opened, _step(need, unit)),
        sources,
        None if only_base else spread(low, high),
        None if only_base else Span(allowed.low, allowed.likely, allowed.high),
        Kind.LENGTH,
        details=details,
    )


def _bolts(need: Need, unit: UnitTable) -> str:
    """Return whether the unit's bolts meet those of the base."""
    base, made_for = need.position.base.bolt_spacing, one(unit.bolt_spacing)
    if base is None or np.isnan(made_for):
        return "spacing not known"
    fits = "within its slots" if unit.slots_reach(base)[0] else "new holes or a plate between"
    return phrase("{} apart, the unit is made for {}: {}", mm(base), mm(made_for), fits)


def _studs(need: Need) -> tuple[float, float]:
    return need.position.base.stud_stick_out.low, need.position.base.stud_stick_out.high


def _step(need: Need, unit: UnitTable) -> str:
    step = one(base_step(need, unit))
    if np.isnan(step) or abs(step) <= SAME_HEIGHT:
        return ""
    if step > 0:
        return phrase(
            "; centre {} higher than now: mill the base, or the line and its drive follow", mm(step)
        )
    studs = need.position.base.stud_stick_out.high
    longer = phrase(", and studs of {} are too short for it", mm(studs)) if 0.0 < studs < -step else ""
    return phrase("; centre {} lower than now: pack the base last{}", mm(-step), longer)


CHECK = Check("lift and entry", "Lift and entry", _column, _outcome)
