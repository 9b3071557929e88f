"""Room for the shaft to grow through a non-locating unit: the smallest of track, seal and housing."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, State
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import axial_travel
from halfbore.phrases import mm, phrase
from halfbore.selection.check import Check, Outcome, column, everywhere, exactly, given, spread, worst
from halfbore.selection.missing import SHAFT_TEMPERATURE
from halfbore.selection.need import Floats, Need, settled
from halfbore.sources import Source, Status, practice
from halfbore.units import Kind

SETTING = 1.0
"""Accuracy to which a ring is set along the shaft [mm]."""

_SETTING = practice(phrase("a ring is set along the shaft to {}", mm(SETTING)))
_SUPPLIER = Source("supplier's unit table", "axial travel", Status.GIVEN)
AXIAL_DATUM = "what holds the shaft in each axial direction"
_PARTS = ("roller track", "seal gap", "housing")


@settled
def needed(need: Need) -> tuple[float, float, float]:
    """Return the travel needed each way with the best offset and with none, and that offset [mm].

    The ring is at rest where it was set when cold, so no growth at all belongs to the range. NaN when not known.
    """
    low = np.minimum(need.duty.growth_low[need.warm].min(), 0.0)
    high = np.maximum(need.duty.growth_high[need.warm].max(), 0.0)
    offset = axial_travel.best_offset(low, high)
    return (
        float(axial_travel.travel_needed(low, high, offset, SETTING)),
        float(axial_travel.travel_needed(low, high, 0.0, SETTING)),
        float(offset),
    )


def _travel(units: UnitTable) -> Floats:
    """Return the travel each way by roller track, seal gap and housing (3, n) [mm]."""
    return np.stack([units.track_travel, units.seal_travel, units.housing_travel])


def _column(need: Need, units: UnitTable) -> Column:
    n = len(units)
    if need.duty.locating:
        return everywhere(State.NOT_APPLICABLE, n)
    with_offset, without, _ = needed(need)
    with np.errstate(divide="ignore"):
        good, bad = worst(with_offset / _travel(units)), worst(without / _travel(units))
    return column(np.where(units.locating, np.inf, good), np.where(units.locating, np.inf, bad), n)


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (axial_travel.available_travel.source, _SUPPLIER, _SETTING)
    if need.duty.locating:
        return Outcome("growth starts here", sources, kind=Kind.LENGTH)
    if unit.locating[0]:
        return Outcome(
            "a locating unit lets nothing grow and the position does not locate", sources, kind=Kind.LENGTH
        )
    travel = _travel(unit)[:, 0]
    with_offset, without, offset = needed(need)
    details = tuple((part, _each_way(float(t))) for part, t in zip(_PARTS, travel, strict=True))
    if np.isnan(without):
        return Outcome(
            "growth is not known",
            sources,
            kind=Kind.LENGTH,
            datum="; ".join(_unknown(need)),
            details=details,
        )
    asked = phrase("{} needed each way", mm((with_offset, without), 1))
    smallest = int(np.nan_to_num(travel, nan=np.inf).argmin())
    available = float(travel[smallest])
    if np.isnan(travel).any() and not with_offset > available:
        missing = " and ".join(part for part, t in zip(_PARTS, travel, strict=True) if np.isnan(t))
        return Outcome(
            phrase("{}; what {} gives is not known", asked, missing),
            sources,
            kind=Kind.LENGTH,
            datum="axial travel, from the supplier",
            details=details,
        )
    return Outcome(
        phrase("{}, {} gives {}{}", asked, _PARTS[smallest], mm(available, 1), _set_at(offset)),
        sources,
        spread(with_offset, without),
        exactly(available),
        Kind.LENGTH,
        details=details,
    )


def _each_way(travel: float) -> str:
    return phrase("{} each way", mm(travel, digits=3)) if np.isfinite(travel) else given(mm(travel, digits=3))


def _unknown(need: Need) -> list[str]:
    """Return what keeps the growth from being known."""
    warmth = np.isnan(need.shaft_temperature).any()
    place = "where along the shaft it is held" if need.duty.axial_known else AXIAL_DATUM
    return [
        *([SHAFT_TEMPERATURE] if warmth else []),
        *([] if warmth and need.duty.axial_known else [f"{place}, from the site"]),
    ]


def _set_at(offset: float) -> str:
    if abs(offset) < 0.5:
        return ""
    end = "drive" if offset < 0 else "free"
    return phrase("; set the cold ring {} towards the {} end", mm(abs(offset), 1), end)


CHECK = Check("axial travel", "Axial travel", _column, _outcome, decisive=True)
