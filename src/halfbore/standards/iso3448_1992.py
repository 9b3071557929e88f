"""ISO 3448:1992, viscosity grades of industrial liquid lubricants."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from halfbore.sources import Source, Status
from halfbore.standards.validity import number
from halfbore.working import Number, clause

SOURCE = Source(
    "ISO 3448:1992",
    "viscosity grades",
    Status.FROM_MEMORY,
    "VG 22 to VG 460 and the limits of 10 % were read in a public chart",
)
GRADES = (2, 3, 5, 7, 10, 15, 22, 32, 46, 68, 100, 150, 220, 320, 460, 680, 1000, 1500, 2200, 3200)
_VG = np.array(GRADES, dtype=float)
_MIDPOINT = np.array([2.2, 3.2, 4.6, 6.8, *GRADES[4:]], dtype=float)


@clause(SOURCE)
def midpoint_viscosity(vg: ArrayLike) -> Number:
    """Return the midpoint kinematic viscosity of a grade at 40 °C.

    ISO 3448:1992 (from memory).
    vg: number of the grade.
    Returns ν [mm²/s]; nan for a number that is no grade.
    """
    match = np.asarray(vg, dtype=float)[..., np.newaxis] == _VG
    return number(np.where(match.any(axis=-1), _MIDPOINT[match.argmax(axis=-1)], np.nan))


@clause(SOURCE)
def viscosity_limits(vg: ArrayLike) -> tuple[Number, Number]:
    """Return the limits of kinematic viscosity of a grade at 40 °C, 10 % either side of the midpoint.

    ISO 3448:1992 (from memory).
    vg: number of the grade.
    Returns both limits [mm²/s]; nan for a number that is no grade.
    """
    middle = midpoint_viscosity(vg)
    return number(np.multiply(middle, 0.9)), number(np.multiply(middle, 1.1))
