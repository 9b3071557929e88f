"""Tilt: the aligning seat covers base error while it is free, the rollers bear what changes afterwards."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import tilt
from halfbore.numbers import number
from halfbore.phrases import mm, phrase
from halfbore.selection.check import EXACT, Check, Outcome, column, exactly, one, spread, worst
from halfbore.selection.need import Floats, Need, settled
from halfbore.sources import Source, Status
from halfbore.units import Kind

_SUPPLIER = Source("supplier's unit table", "alignment", Status.GIVEN)


def change_in_service(need: Need) -> float:
    """Return by how much the slope of the shaft changes from one condition to another [rad].

    What is uncertain in a load is the same in every condition, so the ends of its range are compared with like
    ends; a slope that turns into another plane changes as well.
    """
    d = need.duty
    turned = np.hypot(d.slope_y[:, None] - d.slope_y, d.slope_z[:, None] - d.slope_z)
    return float(max(turned.max(), np.ptp(d.slope_low), np.ptp(d.slope_high)))


@settled
def _demands(need: Need) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return what the seat must set, least and most, and what stays in the rollers, least and most [rad].

    A tightened seat may follow a slow change or stand still: the first is the least, the second the most.
    """
    base = need.position.base.tilt_error
    low, high = float(need.duty.slope_low.min()), float(need.duty.slope_high.max())
    left = float(tilt.roller_tilt_left(change_in_service(need), 0.0, 0.0))
    return (low + base.low, high + base.high), (0.0, left)


def _use(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the parts used by seat and rollers, at the good and at the bad end (2, n)."""
    setting, left = _demands(need)
    ranges = np.stack([units.static_alignment, units.roller_tilt])
    with np.errstate(divide="ignore", invalid="ignore"):
        good, bad = (np.array([[setting[end]], [left[end]]]) / ranges for end in (0, 1))
    return good, bad


def _column(need: Need, units: UnitTable) -> Column:
    good, bad = _use(need, units)
    return column(worst(good), worst(bad), len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (tilt.roller_tilt_left.source, _SUPPLIER)
    setting, left = _demands(need)
    seat, rollers = one(unit.static_alignment), one(unit.roller_tilt)
    good, bad = (ends[:, 0] for ends in _use(need, unit))
    by_rollers = int(np.nan_to_num(bad).argmax()) == 1
    value, limit = (left, rollers) if by_rollers else (setting, seat)
    unknown = [
        n for n, v in (("setting range", seat), ("tilt that the rollers bear", rollers)) if np.isnan(v)
    ]
    return Outcome(
        f"shaft and base {_mrad(*setting)} mrad, {_bears('the free seat sets', seat)}; "
        f"up to {_mrad(left[1])} mrad of change in service, {_bears('the rollers bear', rollers)}",
        sources,
        spread(*value),
        exactly(limit),
        Kind.ANGLE,
        datum=f"{' and '.join(unknown)}, from the supplier" if unknown and not good.max() > 1 + EXACT else "",
        details=(
            ("governs", "rollers in service" if by_rollers else "setting range of the free seat"),
            (
                "surveyed base height",
                phrase(
                    "{} off the line of the others",
                    mm(need.position.base.height_error.likely, 2, signed=True),
                ),
            ),
        ),
        asks=_asks(left[1], rollers) if by_rollers else "",
    )


def _asks(change: float, bears: float) -> str:
    """Return what the supplier is asked where a tightened seat that stands still leaves too much to the rollers."""
    return (
        f"whether the tightened seat follows {_mrad(change)} mrad of change in service, "
        f"or under which conditions the rollers bear more than {_mrad(bears)} mrad"
    )


def _bears(who: str, limit: float) -> str:
    return f"what {who} is not given" if np.isnan(limit) else f"{who} {_mrad(limit)} mrad"


def _mrad(*angles: float) -> str:
    return number([1000.0 * angle for angle in angles], 2)


CHECK = Check("alignment", "Tilt and base error", _column, _outcome)
