"""How the rollers of a unit share the load, for showing: round the bearing and along the heaviest roller."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class RollerPattern:
    """The rollers of one row at one clearance.

    clearance: in operation [mm]; load: of each roller, the first in the load's direction (Z) [N]; zone: half the
    angle over which rollers carry load [rad]; pressure: at the inner raceway along the heaviest roller, without and
    with the tilt (n_s) [MPa].
    """

    clearance: float
    load: Floats
    zone: float
    pressure: Floats
    tilted: Floats


@dataclass(frozen=True)
class RollerView:
    """The rollers of a unit in the heaviest running condition, at both ends of the clearance in operation.

    load: on the unit [N]; angle: of the force on the bearing from the unit's own upright [rad]; joints: of the outer
    ring (2) [rad], NaN where not given; tilt: that may stay in the rollers [rad]; place: along the roller from its
    middle (n_s) [mm]; rows: that share the load.
    """

    condition: str
    load: float
    angle: float
    rows: int
    joints: tuple[float, float]
    tilt: float
    place: Floats
    tight: RollerPattern
    loose: RollerPattern
