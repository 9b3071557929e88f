"""A chosen unit as the shaft feels it: how far it gives, how much clearance it has."""

from __future__ import annotations

import numpy as np

from halfbore.domain.shaftline import Bearing
from halfbore.domain.unit import UnitTable
from halfbore.mechanics.stiffness import secant_stiffness
from halfbore.selection.checks import clearance
from halfbore.selection.need import Need


def bearing_of(need: Need, unit: UnitTable) -> Bearing:
    """Return give and clearance of one unit at the largest load of the running conditions.

    unit: a one-row table. The clearance is the middle of its band in operation, or its least value where the
    supplier gives no largest one; none where nothing is known. Rigid where the roller geometry is not given.
    """
    load = float(need.duty.equivalent_high[need.running].max(initial=1.0))
    band = np.array([ends[0] for ends in clearance.band(need, unit)])
    known = band[np.isfinite(band)]
    spring = secant_stiffness(load, unit.rollers[0], unit.rows[0], unit.roller_length[0])
    give = float(spring) if np.isfinite(spring) else float("inf")
    return Bearing(give, max(float(known.mean()), 0.0) if known.size else 0.0)
