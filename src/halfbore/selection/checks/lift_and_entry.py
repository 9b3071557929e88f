"""Lift needed to bring the unit under the shaft against lift allowed; at worst the drive is opened."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import lift
from halfbore.selection.check import Check, Outcome, both, column, one, spread
from halfbore.selection.need import Floats, Need
from halfbore.sources import Source, Status, practice
from halfbore.units import Kind, Span

WORKING_CLEARANCE = 2.0
"""Clearance to work with under the lifted shaft [mm]; common practice, no source."""

SAME_HEIGHT = 0.05
"""Centre heights that differ by less are the same [mm]: thinner than any packing."""

_CLEARANCE = practice("2 mm to work with under a lifted shaft")
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
    asked = f"{both(low, high)} mm of lift needed" if high > 0.0 else "no lift needed"
    details = (
        ("studs above the base", f"{both(*_studs(need))} mm"),
        ("lip of the cradle", f"{one(unit.lip_depth):.0f} mm"),
        ("clearance to work with", f"{WORKING_CLEARANCE:.0f} mm"),
        ("base bolts", _bolts(need, unit)),
    )
    if allowed is None:
        return Outcome(
            f"{asked}; what is allowed was not surveyed{_step(need, unit)}",
            sources,
            kind=Kind.LENGTH,
            datum="lift that coupling, wheel gap, seals and the other bearings allow, from the site",
            details=details,
        )
    limited = f" ({need.position.lift.limited_by})" if need.position.lift.limited_by else ""
    opened = "" if high <= allowed.low else ": the drive must be opened at the first conversion"
    return Outcome(
        f"{asked}, {both(allowed.low, allowed.high)} mm allowed{limited}{opened}{_step(need, unit)}",
        sources,
        spread(low, high),
        Span(allowed.low, allowed.likely, allowed.high),
        Kind.LENGTH,
        details=details,
    )


def _bolts(need: Need, unit: UnitTable) -> str:
    """Return whether the unit's bolts meet those of the base."""
    base, made_for = need.position.base.bolt_spacing, one(unit.bolt_spacing)
    if base is None or np.isnan(made_for):
        return "spacing not known"
    slot = float(np.nan_to_num(one(unit.bolt_slot)))
    fits = "within its slots" if abs(made_for - base) <= slot else "new holes or a plate between"
    return f"{base:.0f} mm apart, the unit is made for {made_for:.0f} mm: {fits}"


def _studs(need: Need) -> tuple[float, float]:
    return need.position.base.stud_stick_out.low, need.position.base.stud_stick_out.high


def _step(need: Need, unit: UnitTable) -> str:
    step = one(base_step(need, unit))
    if np.isnan(step) or abs(step) <= SAME_HEIGHT:
        return ""
    if step > 0:
        return f"; centre {step:.0f} mm higher than now: mill the base, or the line and its drive follow"
    studs = need.position.base.stud_stick_out.high
    longer = f", and studs of {studs:.0f} mm are too short for it" if 0.0 < studs < -step else ""
    return f"; centre {-step:.0f} mm lower than now: pack the base last{longer}"


CHECK = Check("lift and entry", "Lift and entry", _column, _outcome)
