"""Room for the shaft to grow through a non-locating unit: the smallest of track, seal and housing."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, State
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import axial_travel
from halfbore.selection.check import Check, Outcome, column, everywhere, one, spread
from halfbore.selection.need import Need
from halfbore.sources import Source, Status, practice
from halfbore.units import Kind, Span

SETTING = 1.0
"""Accuracy to which a ring is set along the shaft [mm]."""

_SETTING = practice("a ring is set along the shaft to 1 mm")
_SUPPLIER = Source("supplier's unit table", "axial travel", Status.GIVEN)
_PARTS = ("roller track", "seal gap", "housing")


def _needed(need: Need) -> tuple[float, float, float]:
    """Return the travel needed each way with the best offset and with none, and that offset [mm]."""
    low = min(float(need.duty.growth_low[need.running].min()), 0.0)
    high = max(float(need.duty.growth_high[need.running].max()), 0.0)
    offset = float(axial_travel.best_offset(low, high))
    with_offset = float(axial_travel.travel_needed(low, high, offset, SETTING))
    return with_offset, float(axial_travel.travel_needed(low, high, 0.0, SETTING)), offset


def _column(need: Need, units: UnitTable) -> Column:
    n = len(units)
    if need.duty.locating:
        return everywhere(State.NOT_APPLICABLE, n)
    if not need.running.any() or np.isnan(need.duty.growth_high[need.running]).any():
        return column(np.where(units.locating, np.inf, np.nan), np.where(units.locating, np.inf, np.nan), n)
    available = np.asarray(
        axial_travel.available_travel(units.track_travel, units.seal_travel, units.housing_travel)
    )
    with_offset, without, _ = _needed(need)
    with np.errstate(divide="ignore"):
        good, bad = with_offset / available, without / available
    return column(np.where(units.locating, np.inf, good), np.where(units.locating, np.inf, bad), n)


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (axial_travel.available_travel.source, _SUPPLIER, _SETTING)
    if need.duty.locating:
        return Outcome("growth starts here", sources, kind=Kind.LENGTH)
    if unit.locating[0]:
        return Outcome(
            "a locating unit lets nothing grow and the position does not locate", sources, kind=Kind.LENGTH
        )
    travel = (one(unit.track_travel), one(unit.seal_travel), one(unit.housing_travel))
    if np.isnan(travel).any() or np.isnan(need.duty.growth_high[need.running]).any():
        missing = (
            "axial travel, from the supplier"
            if np.isnan(travel).any()
            else "shaft temperature and what locates, from the site"
        )
        return Outcome("growth or travel is not known", sources, kind=Kind.LENGTH, datum=missing)
    with_offset, without, offset = _needed(need)
    smallest = int(np.argmin(travel))
    available = travel[smallest]
    set_at = (
        f"; set the cold ring {abs(offset):.1f} mm towards the {'drive' if offset < 0 else 'free'} end"
        if abs(offset) >= 0.5
        else ""
    )
    return Outcome(
        f"{with_offset:.1f} to {without:.1f} mm needed each way, {_PARTS[smallest]} gives {available:.1f} mm{set_at}",
        sources,
        spread(with_offset, without),
        Span(available, available, available),
        Kind.LENGTH,
        details=tuple((part, f"{t:.1f} mm each way") for part, t in zip(_PARTS, travel, strict=True)),
    )


CHECK = Check("axial travel", "Axial travel", _column, _outcome)
