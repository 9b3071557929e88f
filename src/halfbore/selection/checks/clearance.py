"""Clearance in operation: the smallest offered group that keeps the hot bearing free."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Column, Sense
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import clearance_choice, shaft_seat
from halfbore.selection.check import Check, Outcome, column, one, spread
from halfbore.selection.checks.bore_and_seat import deviations
from halfbore.selection.need import Floats, Need
from halfbore.units import Kind, Span

NONE = -1


def losses(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the least and greatest clearance lost to heat over the running conditions [mm]; NaN when not known."""
    d, on = need.duty, need.running
    cool = d.shaft_temperature_low[on] - d.housing_temperature_high[on]
    hot = d.shaft_temperature_high[on] - d.housing_temperature_low[on]
    least = np.asarray(shaft_seat.thermal_clearance_loss(units.pitch_diameter, max(cool.min(), 0.0), 0.0))
    return least, np.asarray(shaft_seat.thermal_clearance_loss(units.pitch_diameter, hot.max(), 0.0))


def least_by_group(need: Need, units: UnitTable) -> Floats:
    """Return the least clearance in operation of each offered group (n, groups) [mm]."""
    _, high = deviations(need, units)
    form = need.position.seat.form_error
    out_of_round = 0.0 if form is None else form.high / 2
    _, hot = losses(need, units)
    worst = clearance_choice.least_clearance(units.clearance_min, high[:, None], out_of_round, hot[:, None])
    return np.asarray(worst)


def group(need: Need, units: UnitTable) -> NDArray[np.int64]:
    """Return the smallest group that keeps a reserve, else the largest offered; −1 when none is known."""
    least = least_by_group(need, units)
    kept = least >= 0.10 * units.clearance_min
    last = np.where(np.isnan(least), NONE, np.arange(least.shape[1])).max(1)
    return np.asarray(np.where(kept.any(1), kept.argmax(1), last), dtype=np.int64)


def band(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the least and the greatest clearance in operation of the chosen group (n) [mm].

    The greatest is NaN where the supplier gives no largest clearance.
    """
    chosen = np.maximum(group(need, units), 0)[:, None]
    least = np.take_along_axis(least_by_group(need, units), chosen, 1)[:, 0]
    low, _ = deviations(need, units)
    cool, _ = losses(need, units)
    largest = np.take_along_axis(units.clearance_max, chosen, 1)[:, 0]
    return least, np.asarray(clearance_choice.greatest_clearance(largest, low, cool))


def _column(need: Need, units: UnitTable) -> Column:
    chosen = np.maximum(group(need, units), 0)[:, None]
    smallest = np.take_along_axis(units.clearance_min, chosen, 1)[:, 0]
    least, _ = band(need, units)
    low, _ = deviations(need, units)
    cool, _ = losses(need, units)
    with np.errstate(divide="ignore", invalid="ignore"):
        bad = (smallest - least) / smallest
        good = np.maximum((low + cool) / smallest, 0.0)
    return column(good, bad, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    chosen = int(group(need, unit)[0])
    least, most = band(need, unit)
    _, hot = losses(need, unit)
    if np.isnan(one(least)):
        return Outcome(
            "clearance in operation cannot be told",
            (clearance_choice.least_clearance.source,),
            kind=Kind.LENGTH,
            datum="clearance by group from the supplier; shaft and housing temperature from the site",
        )
    upper = one(least) if np.isnan(one(most)) else one(most)
    told = "not given by the supplier" if np.isnan(one(most)) else f"{one(most) * 1000:.0f} µm"
    return Outcome(
        f"group {chosen + 1} keeps {one(least) * 1000:.0f} µm when the shaft is hot",
        (clearance_choice.least_clearance.source,),
        spread(one(least), max(upper, one(least))),
        Span(0.0, 0.0, 0.0),
        Kind.LENGTH,
        Sense.AT_LEAST,
        details=(
            ("clearance group", str(chosen + 1)),
            ("lost to heat at most", f"{one(hot) * 1000:.0f} µm"),
            ("greatest in operation", told),
        ),
    )


CHECK = Check("clearance", "Clearance in operation", _column, _outcome)
