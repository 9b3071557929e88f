"""Bore against shaft: nominal size, size tolerance and form of the seat."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import shaft_seat
from halfbore.selection.check import Check, Outcome, column, one, spread
from halfbore.selection.need import Floats, Need
from halfbore.sources import Source, Status, derived
from halfbore.units import Kind

SAME_SIZE = 0.012
"""Sizes of two unit systems that differ by less are the same size [mm]; half the tightest seat tolerance."""

_SUPPLIER = Source("supplier's unit table", "seat tolerance", Status.GIVEN)
_FORM = derived("a clamped split ring copies the shaft", "form of the seat, whatever the size class")


def deviations(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the least and the greatest deviation of the shaft from the bore [mm].

    Without a measured diameter the shaft is taken anywhere in the supplier's tolerance.
    """
    measured = need.position.seat.diameter
    if measured is None:
        return units.seat_lower + need.nominal - units.bore, units.seat_upper + need.nominal - units.bore
    low = np.asarray(shaft_seat.shaft_deviation(measured.low, units.bore))
    return low, np.asarray(shaft_seat.shaft_deviation(measured.high, units.bore))


def part_of_tolerance(deviation: Floats, units: UnitTable) -> Floats:
    """Return the part of the minus tolerance used; over one for an oversize shaft as well."""
    room = units.seat_upper - units.seat_lower
    with np.errstate(divide="ignore", invalid="ignore"):
        under = (units.seat_upper - deviation) / room
        over = 1.0 + (deviation - units.seat_upper) / room
    return np.where(deviation > units.seat_upper, over, under)


def _column(need: Need, units: UnitTable) -> Column:
    seat, n = need.position.seat, len(units)
    wrong = np.abs(need.nominal - units.bore) > SAME_SIZE
    if seat.diameter is None:
        far = 1.0 + np.abs(need.nominal - units.bore)
        return column(np.where(wrong, far, np.nan), np.where(wrong, far, np.nan), n)
    low, high = deviations(need, units)
    size = np.maximum(part_of_tolerance(low, units), part_of_tolerance(high, units))
    # The method gives the bad end at the smaller reading; the larger one is the good end unless it is oversize.
    easier = np.minimum(part_of_tolerance(low, units), part_of_tolerance(high, units))
    if seat.form_error is not None:
        size = np.maximum(size, seat.form_error.high / units.seat_form)
        easier = np.maximum(easier, seat.form_error.low / units.seat_form)
    return column(easier, size, n)


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    measured = need.position.seat.diameter
    limit = spread(one(unit.bore + unit.seat_lower), one(unit.bore + unit.seat_upper))
    if measured is None:
        return Outcome(
            f"bore {one(unit.bore):.2f} mm for a shaft of {need.nominal:.2f} mm; the seat was not measured",
            (_SUPPLIER,),
            limit=limit,
            kind=Kind.LENGTH,
            datum="seat diameter at both ends and three angles, by micrometer, from the site",
        )
    low, high = deviations(need, unit)
    gap = one(np.asarray(shaft_seat.joint_gap(unit.joint_gap, low)))
    return Outcome(
        _reason(one(low), one(high), one(unit.seat_lower), one(unit.seat_upper), one(unit.bore)),
        (_SUPPLIER, _FORM),
        spread(measured.low, measured.high),
        limit,
        Kind.LENGTH,
        details=(
            ("deviation of the shaft", f"{one(low) * 1000:+.0f} to {one(high) * 1000:+.0f} µm"),
            (
                "allowed by the supplier",
                f"{one(unit.seat_lower) * 1000:+.0f} to {one(unit.seat_upper) * 1000:+.0f} µm",
            ),
            ("joint gap that is left", "not given" if np.isnan(gap) else f"{gap:.2f} mm"),
        ),
    )


def _reason(low: float, high: float, lower: float, upper: float, bore: float) -> str:
    if high > upper:
        return (
            f"shaft {(high - upper) * 1000:.0f} µm over the largest size allowed for a bore of {bore:.2f} mm"
            if high < 1
            else (f"bore {bore:.2f} mm is {high:.1f} mm under the shaft")
        )
    if low < -1:
        return f"bore {bore:.2f} mm is {-low:.1f} mm over the shaft"
    if low < lower:
        return f"shaft {-low * 1000:.0f} µm under nominal, {(lower - low) * 1000:.0f} µm more than the supplier allows"
    return f"shaft {-low * 1000:.0f} µm under nominal at most, {-lower * 1000:.0f} µm allowed"


CHECK = Check("bore and seat", "Bore and seat", _column, _outcome, decisive=True)
