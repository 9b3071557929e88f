"""Tilt: the aligning seat covers base error while it is free, the rollers bear what changes afterwards."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import tilt
from halfbore.selection.check import Check, Outcome, column, one, spread
from halfbore.selection.need import Need
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

_SUPPLIER = Source("supplier's unit table", "alignment", Status.GIVEN)


def _demands(need: Need) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return what the seat must set, least and most, and what stays in the rollers, least and most [rad].

    A tightened seat may follow a slow change or stand still: the first is the least, the second the most.
    """
    base = need.position.base.tilt_error
    low, high = float(need.duty.slope_low.min()), float(need.duty.slope_high.max())
    change = float(tilt.roller_tilt_left(max(high - low, 0.0), 0.0, 0.0))
    return (low + base.low, high + base.high), (0.0, change)


def _column(need: Need, units: UnitTable) -> Column:
    setting, left = _demands(need)
    good = np.maximum(setting[0] / units.static_alignment, left[0] / units.roller_tilt)
    bad = np.maximum(setting[1] / units.static_alignment, left[1] / units.roller_tilt)
    return column(good, bad, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (tilt.roller_tilt_left.source, _SUPPLIER)
    setting, left = _demands(need)
    seat, rollers = one(unit.static_alignment), one(unit.roller_tilt)
    if np.isnan(seat + rollers):
        return Outcome(
            "alignment range is not given",
            sources,
            kind=Kind.ANGLE,
            datum="setting range and roller tilt, from the supplier",
        )
    by_rollers = left[1] / rollers > setting[1] / seat
    told = (
        f"shaft and base {setting[1] * 1000:.2g} mrad of {seat * 1000:.2g} the free seat sets; "
        f"{left[1] * 1000:.2g} mrad of change in service, rollers bear {rollers * 1000:.2g}"
    )
    value, limit = (left, rollers) if by_rollers else (setting, seat)
    return Outcome(
        told,
        sources,
        spread(*value),
        Span(limit, limit, limit),
        Kind.ANGLE,
        details=(
            ("governs", "rollers in service" if by_rollers else "setting range of the free seat"),
            (
                "surveyed base height",
                f"{need.position.base.height_error.likely:+.2g} mm off the line of the others",
            ),
        ),
    )


CHECK = Check("alignment", "Tilt and base error", _column, _outcome)
