"""The quantile function of beta-PERT distributions, for draws whose luck is given or shared."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

SLICES = 4096
"""Slices of equal chance; each draw takes the middle of its slice, so no draw is off by more than the slice's width."""
_ANGLE = np.linspace(0.0, np.pi / 2.0, 2049)


def beta_pert_at(share: ArrayLike, low: float, likely: float, high: float) -> Floats:
    """Return what a share of the draws of a beta-PERT distribution stays below.

    share: 0 to below 1, any shape. low, likely, high: ends and peak, in order; all equal is a constant.
    Returns the values in the unit of the ends, in the shape of the shares.
    The same shares give values that rise and fall together, whatever the ends: common random numbers.
    """
    slot = (np.asarray(share, dtype=np.float64) * SLICES).astype(np.intp)
    if high == low:
        return np.full(slot.shape, float(low))
    return np.asarray(low + (high - low) * _middles((likely - low) / (high - low))[slot])


def _middles(peak: float) -> Floats:
    """Return the middle of each slice of equal chance of the beta distribution with this peak.

    With x = sin² of an angle the density of both shapes of one or more is smooth, and trapezoids serve.
    """
    sine, cosine = np.sin(_ANGLE), np.cos(_ANGLE)
    density = sine ** (1.0 + 8.0 * peak) * cosine ** (9.0 - 8.0 * peak)
    below = np.concatenate([[0.0], np.cumsum(density[1:] + density[:-1])])
    angle = np.interp((np.arange(SLICES) + 0.5) / SLICES, below / below[-1], _ANGLE)
    return np.asarray(np.sin(angle) ** 2)
