"""Axial travel of a non-locating unit: what it has each way, and what growth asks of it."""

from __future__ import annotations

import numpy as np

from halfbore.sources import derived
from halfbore.working import Number, clause

_SMALLEST = derived("the first part that touches ends the travel")
_RANGE = derived("place of the ring over all temperatures")


@clause(_SMALLEST, "Min(track, seal, housing)")
def available_travel(track: Number, seal: Number, housing: Number) -> Number:
    """Return the travel each way from the middle; NaN when one of the three is not known [mm].

    the first part that touches ends the travel
    track: roller track beyond the rollers [mm]. seal: gap beside a labyrinth ring [mm].
    housing: gap between clamping ring and housing [mm].
    """
    return np.minimum(np.minimum(track, seal), housing)


@clause(_SMALLEST)
def governing_travel(track: Number, seal: Number, housing: Number) -> Number:
    """Return which of the three is smallest: 0 track, 1 seal, 2 housing; -1 when one is not known.

    the first part that touches ends the travel
    track, seal, housing: see available_travel [mm].
    """
    parts = np.stack(np.broadcast_arrays(track, seal, housing))
    known = ~np.isnan(parts).any(axis=0)
    return np.where(known, np.where(np.isnan(parts), np.inf, parts).argmin(axis=0), -1)[()]


@clause(_RANGE, "-(growth_low + growth_high)/2")
def best_offset(growth_low: Number, growth_high: Number) -> Number:
    """Return where to set the cold ring from the middle so that it travels the same way to both sides [mm].

    place of the ring over all temperatures
    growth_low, growth_high: least and greatest movement of shaft against housing, signed along x;
    below zero where the base runs ahead of the shaft, as after a cold start [mm].
    """
    return -(growth_low + growth_high) / 2.0


@clause(_RANGE, "Max(Abs(offset + growth_low), Abs(offset + growth_high)) + tolerance")
def travel_needed(growth_low: Number, growth_high: Number, offset: Number, tolerance: Number) -> Number:
    """Return the travel each way that growth asks for [mm].

    place of the ring over all temperatures
    growth_low, growth_high: see best_offset [mm].
    offset: of the cold ring from the middle, signed along x [mm]. tolerance: of setting the ring [mm].
    """
    low, high = np.asarray(offset + growth_low), np.asarray(offset + growth_high)
    needed: Number = np.maximum(np.abs(low), np.abs(high)) + tolerance
    return needed


@clause(_RANGE, "available - needed")
def travel_margin(available: Number, needed: Number) -> Number:
    """Return the travel that is left over; below zero, something touches [mm].

    place of the ring over all temperatures
    available: see available_travel [mm]. needed: see travel_needed [mm].
    """
    return available - needed
