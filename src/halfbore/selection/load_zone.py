"""How far round the ring rollers carry load, at the clearance that the seat and the heat leave."""

from __future__ import annotations

import numpy as np

from halfbore.domain.unit import UnitTable
from halfbore.mechanics import ring_joint
from halfbore.mechanics.stiffness import roller_stiffness
from halfbore.selection.need import Floats


def half_zone(units: UnitTable, loads: Floats, clearance: Floats) -> Floats:
    """Return half the load zone per load and unit (loads, n) [rad].

    loads: radial load [N]. clearance: diametral, in operation (n) [mm]; preload is taken as no clearance.
    NaN where the clearance is not known.
    """
    stiffness = np.asarray(roller_stiffness(units.roller_length))
    zone = ring_joint.half_load_zone(
        loads[:, None], np.maximum(clearance, 0.0)[None, :], units.rollers[None, :], stiffness[None, :]
    )
    return np.asarray(zone)
