"""Ranges of validity as data, and look-ups that answer nan outside them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.sources import Source
from halfbore.working import Number

CONFIRMED = "confirmed by an independent check"
_ROUNDING = 1e-12
"""A limit that comes out of a conversion may miss its own value by the last digit."""


@dataclass(frozen=True)
class Range:
    """The span of a quantity over which a clause holds; both ends belong to it."""

    low: float
    high: float
    unit: str
    source: Source

    def holds(self, value: ArrayLike) -> NDArray[np.bool_]:
        """Return whether each value lies inside the span."""
        x = np.asarray(value, dtype=float)
        slack = _ROUNDING * np.where(np.isfinite(x), np.abs(x), 0.0)
        return np.asarray((x >= self.low - slack) & (x <= self.high + slack))

    def keep(self, value: ArrayLike) -> Number:
        """Return each value inside the span, and nan for the others."""
        return number(np.where(self.holds(value), value, np.nan))


def number(value: ArrayLike) -> Number:
    """Return a float for a single value and a column of floats for many."""
    plain: Number = np.asarray(value, dtype=float)[()]
    return plain


def ratio(above: ArrayLike, below: ArrayLike) -> Number:
    """Return the quotient; inf where a number is divided by zero, nan for zero by zero."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return number(np.divide(above, below))


def positive(value: ArrayLike) -> Number:
    """Return each value above zero, and nan for the others."""
    return number(np.where(np.asarray(value) > 0, value, np.nan))


def not_negative(value: ArrayLike) -> Number:
    """Return each value that is zero or above, and nan for the others."""
    return number(np.where(np.asarray(value) >= 0, value, np.nan))


def step_of(value: ArrayLike, edges: NDArray[np.float64]) -> NDArray[np.intp]:
    """Return the row of a table whose rows run "over a up to and including b".

    value: the size that is looked up.
    edges: the first lower end, then the upper end of every row.
    Returns the row number; below the table -1, above it the number of rows (nan counts as above).
    """
    return np.asarray(np.searchsorted(edges, value, side="left") - 1)


def cell(table: NDArray[np.float64], row: ArrayLike, column: ArrayLike) -> Number:
    """Return the cells of a table by row and column number; nan where there is none."""
    i, j = np.broadcast_arrays(np.asarray(row), np.asarray(column))
    inside = (i >= 0) & (i < table.shape[0]) & (j >= 0) & (j < table.shape[1])
    return number(np.where(inside, table[np.where(inside, i, 0), np.where(inside, j, 0)], np.nan))
