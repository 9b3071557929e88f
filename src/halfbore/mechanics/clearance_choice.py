"""Which clearance group a position needs: the band of each in operation, the smallest that suffices."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.mechanics.shaft_seat import mounted_clearance
from halfbore.sources import derived
from halfbore.working import Number, clause

_EXTREMES = derived("extremes of a sum", "each term at the end that makes the clearance least or greatest")
NO_GROUP = -1


@clause(_EXTREMES, "s_min - deviation_high - 2*form - loss_high + housing_low")
def least_clearance(
    s_min: Number, deviation_high: Number, form: Number, loss_high: Number, housing_low: Number = 0.0
) -> Number:
    """Return the least diametral clearance in operation [mm].

    extremes of a sum
    s_min: least clearance of the group [mm]. deviation_high: greatest deviation of the shaft's diameter [mm].
    form: greatest radial form deviation of the shaft [mm]. loss_high: greatest thermal loss [mm].
    housing_low: least change by the housing [mm]. Values below zero are preload.
    """
    return mounted_clearance(s_min, deviation_high, form, loss_high, housing_low)


@clause(_EXTREMES, "s_max - deviation_low - loss_low + housing_high")
def greatest_clearance(
    s_max: Number, deviation_low: Number, loss_low: Number, housing_high: Number = 0.0
) -> Number:
    """Return the greatest diametral clearance in operation [mm].

    extremes of a sum
    s_max: greatest clearance of the group [mm]. deviation_low: least deviation of the shaft's diameter [mm].
    loss_low: least thermal loss [mm]. housing_high: greatest change by the housing [mm].
    """
    return mounted_clearance(s_max, deviation_low, 0.0, loss_low, housing_high)


@clause(derived("first group in order that suffices"))
def smallest_group(least: NDArray[np.float64], wanted: Number) -> NDArray[np.intp]:
    """Return the index of the smallest group that suffices, NO_GROUP where none does.

    first group in order that suffices
    least: least clearance in operation, groups small to large on the last axis, NaN where not known [mm].
    wanted: least clearance that is wanted, one value or one for each unit [mm].
    """
    enough = np.asarray(least) >= np.asarray(wanted)[..., np.newaxis]
    return np.where(enough.any(axis=-1), enough.argmax(axis=-1), NO_GROUP)
