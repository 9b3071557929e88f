"""What a unit costs over the horizon: bought once, bearing and seals renewed as they wear."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.unit import SealKind, UnitTable
from halfbore.selection.need import Floats, Need
from halfbore.sources import practice

BEARING_YEARS = 10.0
SEAL_YEARS = {SealKind.PACKING: 3.5, SealKind.LABYRINTH: 8.0, SealKind.CLOSED_END: 10.0}
_LIVES = np.array([SEAL_YEARS[k] for k in SealKind])
SOURCE = practice("a unit serves 8 to 12 years, a packing 2 to 5: the middle of both")


def over_horizon(need: Need, units: UnitTable, left: NDArray[np.int64], right: NDArray[np.int64]) -> Floats:
    """Return the cost of each unit over the horizon (n), in its catalogue's currency.

    left, right: seal kinds as built, −1 where none serves. NaN without a price, and in another currency than the
    job's money or, where it names none, than most units: without a dated rate the two do not compare.
    Fatigue life does not enter: what ends these bearings is dirt, water and grease. Not discounted: it only ranks.
    """
    years = need.job.required.horizon / 8760.0
    bearing = np.where(np.isnan(units.bearing_price), units.price, units.bearing_price)
    first = units.price + _seals(units, left, years) + _seals(units, right, years)
    cost = np.asarray(first + bearing * max(years / BEARING_YEARS - 1.0, 0.0))
    return np.where(units.currency == _currency(need, units), cost, np.nan)


def _currency(need: Need, units: UnitTable) -> str:
    if need.job.value is not None:
        return need.job.value.currency
    names, counts = np.unique(units.currency, return_counts=True)
    return str(names[counts.argmax()]) if len(names) else ""


def _seals(units: UnitTable, kind: NDArray[np.int64], years: float) -> Floats:
    at = np.maximum(kind, 0)
    price = units.seal_price[np.arange(len(units)), at]
    return np.where((kind < 0) | np.isnan(price), 0.0, price * np.maximum(years / _LIVES[at], 1.0))
