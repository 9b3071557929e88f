"""Clearance in operation: the smallest offered group that keeps the hot bearing free."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Column, Sense
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import clearance_choice, shaft_seat
from halfbore.phrases import Phrase, micron, phrase
from halfbore.selection.check import RESERVE, Check, Outcome, column, exactly, given, one, spread
from halfbore.selection.checks.bore_and_seat import deviations
from halfbore.selection.missing import temperatures
from halfbore.selection.need import Floats, Need, shared
from halfbore.units import Kind

NONE = -1


@shared
def losses(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the least and greatest clearance lost to heat over the running conditions [mm]; NaN when not known.

    The shaft is never taken cooler than the housing: at rest both are alike.
    """
    d, on = need.duty, need.warm
    cool = np.maximum((d.shaft_temperature_low[on] - d.housing_temperature_high[on]).min(), 0.0)
    hot = np.maximum((d.shaft_temperature_high[on] - d.housing_temperature_low[on]).max(), 0.0)
    least = shaft_seat.thermal_clearance_loss(units.pitch_diameter, cool, 0.0)
    return np.asarray(least), np.asarray(shaft_seat.thermal_clearance_loss(units.pitch_diameter, hot, 0.0))


@shared
def least_by_group(need: Need, units: UnitTable) -> Floats:
    """Return the least clearance in operation of each offered group (n, groups) [mm]."""
    _, high = deviations(need, units)
    form = need.position.seat.form_error
    out_of_round = 0.0 if form is None else form.high / 2
    _, hot = losses(need, units)
    least = clearance_choice.least_clearance(units.clearance_min, high[:, None], out_of_round, hot[:, None])
    return np.asarray(least)


@shared
def group(need: Need, units: UnitTable) -> NDArray[np.int64]:
    """Return the smallest group that keeps a reserve, else the largest offered; −1 when none is known."""
    least = least_by_group(need, units)
    kept = least >= RESERVE * units.clearance_min
    last = np.where(np.isnan(least), NONE, np.arange(least.shape[1])).max(1)
    return np.asarray(np.where(kept.any(1), kept.argmax(1), last), dtype=np.int64)


def _of_group(need: Need, units: UnitTable, values: Floats) -> Floats:
    """Return values per group (n, groups) at the chosen group (n)."""
    return np.asarray(values[np.arange(len(units)), np.maximum(group(need, units), 0)])


@shared
def band(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the least and the greatest clearance in operation of the chosen group (n) [mm].

    The greatest is NaN where the supplier gives no largest clearance.
    """
    low, _ = deviations(need, units)
    cool, _ = losses(need, units)
    largest = _of_group(need, units, units.clearance_max)
    greatest = clearance_choice.greatest_clearance(largest, low, cool)
    return _of_group(need, units, least_by_group(need, units)), np.asarray(greatest)


@shared
def greatest_known(need: Need, units: UnitTable) -> Floats:
    """Return the greatest clearance in operation (n) [mm]; where the supplier gives no largest, of the least new one."""
    low, _ = deviations(need, units)
    cool, _ = losses(need, units)
    _, most = band(need, units)
    smallest = _of_group(need, units, units.clearance_min)
    return np.where(np.isnan(most), clearance_choice.greatest_clearance(smallest, low, cool), most)


def _column(need: Need, units: UnitTable) -> Column:
    """Use is the part of the group's least clearance that is lost; a group without any may lose nothing."""
    smallest = _of_group(need, units, units.clearance_min)
    least, _ = band(need, units)
    low, _ = deviations(need, units)
    cool, _ = losses(need, units)
    return column(_lost(low + cool, smallest), _lost(smallest - least, smallest), len(units))


def _lost(lost: Floats, smallest: Floats) -> Floats:
    with np.errstate(divide="ignore", invalid="ignore"):
        used = np.maximum(lost, 0.0) / smallest
    none = np.where(smallest - lost >= 0, 0.0, np.inf)
    return np.where(np.isnan(smallest + lost), np.nan, np.where(smallest > 0, used, none))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (clearance_choice.least_clearance.source, shaft_seat.thermal_clearance_loss.source)
    least, most = (one(end) for end in band(need, unit))
    _, hot = losses(need, unit)
    if np.isnan(least):
        return Outcome(
            "clearance in operation cannot be told",
            sources,
            kind=Kind.LENGTH,
            datum=_datum(need, unit),
        )
    chosen = int(group(need, unit)[0]) + 1
    told = phrase("keeps {}", micron(least)) if least >= 0 else phrase("is {} short", micron(-least))
    assumed = (
        "" if need.position.seat.diameter is not None else "; seat taken anywhere in the supplier's tolerance"
    )
    return Outcome(
        phrase("group {} {} when the shaft is hot{}", str(chosen), told, assumed),
        sources,
        spread(least, least if np.isnan(most) else max(most, least)),
        exactly(0.0),
        Kind.LENGTH,
        Sense.AT_LEAST,
        details=(
            ("clearance group", str(chosen)),
            ("lost to heat at most", Phrase(micron(one(hot)))),
            ("greatest in operation", given(micron(most, digits=3))),
        ),
    )


def _datum(need: Need, unit: UnitTable) -> str:
    asked = {
        "clearance by group and pitch diameter, from the supplier": np.isnan(unit.clearance_min).all()
        | np.isnan(one(unit.pitch_diameter)),
        "seat tolerance, from the supplier": np.isnan(one(deviations(need, unit)[1])),
    }
    return "; ".join([*(datum for datum, missing in asked.items() if missing), *temperatures(need)])


CHECK = Check("clearance", "Clearance in operation", _column, _outcome)
