"""How the rollers of one row share a radial load, round the bearing and along each roller.

Rings stay round, housing and seat are stiff, joints are bridged: what the outer ring gives at a joint is not in it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from halfbore.errors import InputError, Problem
from halfbore.mechanics.stiffness import roller_stiffness
from halfbore.numerics.roots import root
from halfbore.sources import Source, Status, derived
from halfbore.standards.iso16281_2008 import LAMINAE, lamina_load, profile
from halfbore.working import Number, clause

Floats = NDArray[np.float64]

_HERTZ = Source("Hertz", "line contact", Status.PUBLISHED, "read in an open text on contact mechanics")
_RADII = derived("curvature of two cylinders in contact")
STEEL = 206_000.0 / (2.0 * (1.0 - 0.3**2))
"""E* of steel on steel, both elastic, E = 206 000 MPa and a Poisson's ratio of 0.3 [MPa]."""


class RollerLoads(NamedTuple):
    """The rollers of one row under load.

    angle: of each roller from the load's direction (Z) [rad]; load: of each (Z) [N]; place: of the laminae from the
    middle (n_s) [mm]; per_length: load on each lamina over its length (Z, n_s) [N/mm];
    approach: how far the rings move towards each other under the load [mm]; moment: by the tilt [N·mm].
    """

    angle: Floats
    load: Floats
    place: Floats
    per_length: Floats
    approach: float
    moment: float


def roller_loads(
    F_r: float, s: float, tilt: float, Z: int, D_we: float, L_we: float, phase: float = 0.0
) -> RollerLoads:
    """Return how the rollers of one row share a load.

    ISO/TS 16281:2008, equilibrium of a roller bearing
    F_r: radial load on the row [N]; s: diametral clearance in operation, below zero for preload [mm].
    tilt: of the inner ring against the outer one, in the plane of the load [rad].
    Z: rollers in the row; D_we, L_we: roller diameter and effective length [mm].
    phase: of the first roller from the load's direction [rad].
    Raises InputError for what is no bearing. Good for tilts that leave the rollers in contact over some length.
    """
    if not (F_r >= 0.0 and Z >= 3 and D_we > 0.0 and L_we > 0.0 and np.isfinite([F_r, s, tilt]).all()):
        raise InputError(
            Problem(
                "these rollers cannot be loaded",
                "F_r, s, tilt, Z, D_we, L_we",
                f"{F_r:g}, {s:g}, {tilt:g}, {Z}, {D_we:g}, {L_we:g}",
                "a load from 0 N, finite clearance and tilt, three rollers or more, sizes above zero",
            )
        )
    angle: Floats = phase + 2.0 * np.pi * np.arange(Z, dtype=np.float64) / Z
    length = L_we / LAMINAE
    place: Floats = (np.arange(LAMINAE, dtype=np.float64) - (LAMINAE - 1) / 2.0) * length
    stiffness = float(roller_stiffness(L_we)) / LAMINAE
    along = place * np.cos(angle)[:, None] * np.tan(tilt) + 2.0 * np.asarray(profile(place, L_we, D_we))

    def carried(approach: float) -> Floats:
        around = approach * np.cos(angle) - s / 2.0
        return np.asarray(lamina_load(around[:, None] - along, stiffness))

    def excess(approach: float) -> float:
        return float(np.cos(angle) @ carried(approach).sum(1)) - F_r

    low, high = (0.0, max(s, 0.0) + 1e-3) if excess(0.0) <= 0.0 else (-1.0, 0.0)
    while excess(high) < 0.0:
        high *= 2.0
    approach = root(excess, low, high) if F_r > 0.0 else 0.0
    laminae = carried(approach)
    moment = float(np.cos(angle) @ (laminae @ place))
    return RollerLoads(angle, laminae.sum(1), place, laminae / length, approach, moment)


@clause(_RADII, "1/(2/D_we + 2/D_raceway)")
def contact_radius(D_we: Number, D_raceway: Number) -> Number:
    """Return the radius of the cylinder that touches a plane as a roller touches its raceway [mm].

    curvature of two cylinders in contact
    D_we: roller diameter [mm]. D_raceway: raceway diameter, below zero for an outer one [mm].
    """
    return 1.0 / (2.0 / np.asarray(D_we) + 2.0 / np.asarray(D_raceway))


@clause(_HERTZ, "sqrt(w*E/(pi*R))")
def line_pressure(w: Number, R: Number, E: Number = STEEL) -> Number:
    """Return the largest pressure of a line contact [MPa].

    Hertz, line contact
    w: load over length [N/mm]; R: see contact_radius [mm]; E: of both bodies, 1/E = Σ(1 − ν²)/E_i [MPa].
    """
    return np.sqrt(np.asarray(w) * E / (np.pi * np.asarray(R)))
