"""ISO 286-1:2010, standard tolerance grades and the limits of shafts h."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from halfbore.sources import Source, Status
from halfbore.standards.validity import CONFIRMED, Range, cell, number, step_of
from halfbore.working import Number, clause


def _source(place: str, note: str = "") -> Source:
    return Source("ISO 286-1:2010", place, Status.FROM_MEMORY, note)


RANGES = {
    "nominal": Range(
        10, 800, "mm", _source("standard tolerance grades", "over 10 mm; the rows that are held here")
    ),
    "grade": Range(5, 11, "", _source("standard tolerance grades", "the columns that are held here")),
}

_EDGES = np.array([10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500, 630, 800], dtype=float)
_IT = np.array(
    [
        [8, 11, 18, 27, 43, 70, 110],
        [9, 13, 21, 33, 52, 84, 130],
        [11, 16, 25, 39, 62, 100, 160],
        [13, 19, 30, 46, 74, 120, 190],
        [15, 22, 35, 54, 87, 140, 220],
        [18, 25, 40, 63, 100, 160, 250],
        [20, 29, 46, 72, 115, 185, 290],
        [23, 32, 52, 81, 130, 210, 320],
        [25, 36, 57, 89, 140, 230, 360],
        [27, 40, 63, 97, 155, 250, 400],
        [32, 44, 70, 110, 175, 280, 440],
        [36, 50, 80, 125, 200, 320, 500],
    ],
    dtype=float,
)
"""Micrometres; rows by nominal size, columns IT5 to IT11."""


@clause(
    _source(
        "standard tolerance grades",
        f"{CONFIRMED}: the tolerance unit, but IT5 over 500 mm is printed 4 to 5 % above 7 units;"
        " two public tables agree up to 630 mm",
    )
)
def it(nominal: ArrayLike, grade: ArrayLike) -> Number:
    """Return the standard tolerance of a nominal size.

    ISO 286-1:2010, standard tolerance grades (from memory, confirmed by the tolerance unit).
    nominal: nominal size [mm]; grade: number of the grade, 5 to 11.
    Returns IT [mm]; nan for a size of 10 or less or over 800 mm, and for another grade.
    """
    column = np.where(np.mod(grade, 1) == 0, grade, np.nan) - 5.0
    known = np.nan_to_num(column, nan=-1).astype(int)
    return number(cell(_IT, step_of(nominal, _EDGES), known) / 1000)


@clause(_source("fundamental deviations of shafts, h"))
def h_limits(nominal: ArrayLike, grade: ArrayLike) -> tuple[Number, Number]:
    """Return the limit deviations of a shaft h.

    ISO 286-1:2010, fundamental deviation h (from memory).
    nominal: nominal size [mm]; grade: number of the grade, 5 to 11.
    Returns upper and lower limit deviation es = 0 and ei = -IT [mm]; nan outside the table.
    """
    tolerance = it(nominal, grade)
    return number(np.multiply(tolerance, 0.0)), number(np.negative(tolerance))


@clause(
    _source("tolerance factors i and I", "the formula up to 500 mm was read in a public note"),
    "Piecewise((0.45*D**(1/3) + 0.001*D, D <= 500), (0.004*D + 2.1, True))/1000",
)
def tolerance_unit(D: Number) -> Number:
    """Return the tolerance unit, of which IT5 to IT11 take 7, 10, 16, 25, 40, 64 and 100.

    ISO 286-1:2010, tolerance factors i and I (from memory).
    D: geometric mean of the ends of the row [mm].
    Returns the unit [mm].
    """
    size = np.asarray(D, dtype=float)
    return number(np.where(size <= 500, 0.45 * np.cbrt(size) + 0.001 * size, 0.004 * size + 2.1) / 1000)
