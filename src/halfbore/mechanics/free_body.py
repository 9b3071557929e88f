"""Forces in space: their resultant, and what is left over when a body should be in balance.

Points and forces are arrays whose last axis is (x, y, z) and whose last but one is the list.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.sources import derived
from halfbore.working import clause

_STATICS = derived("statics of forces in space")

ORIGIN = (0.0, 0.0, 0.0)


class Wrench(NamedTuple):
    """A force and the moment that goes with it, each (x, y, z)."""

    force: NDArray[np.float64]
    moment: NDArray[np.float64]


@clause(_STATICS)
def resultant(
    points: ArrayLike, forces: ArrayLike, about: ArrayLike = ORIGIN, couples: ArrayLike = ORIGIN
) -> Wrench:
    """Resultant of forces and free couples about a point.

    Statics of forces in space
    points: points of attack [mm]; forces: forces [N]; about: point of reference [mm].
    couples: sum of the free couples [N·mm].
    Returns force [N] and moment [N·mm]; both are zero for a body in balance, whatever the point.
    """
    force = np.asarray(forces, np.float64)
    arm = np.asarray(points, np.float64) - np.asarray(about, np.float64)
    moment = np.cross(arm, force).sum(axis=-2) + np.asarray(couples, np.float64)
    return Wrench(force.sum(axis=-2), moment)
