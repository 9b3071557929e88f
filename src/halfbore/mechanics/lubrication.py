"""Grease: how much, how often, how full. The viscosity of a grease is that of its base oil."""

from __future__ import annotations

from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import positive
from halfbore.sources import Source, Status, practice
from halfbore.working import Number, clause

_AMOUNT = Source("maintenance guides on grease", "G = 0.005 D B", Status.PUBLISHED, "read in two guides")
_INTERVAL = Source(
    "maintenance guides on grease", "relubrication interval", Status.PUBLISHED, "empirical; read in one guide"
)
_WARM = Source("handbooks on grease", "15 K rule", Status.FROM_MEMORY)
_FILL = practice("fill of bearing, seals and housing by speed and dirt")

BEARING_FACTOR = {"ball": 10.0, "cylindrical roller": 5.0, "spherical or tapered roller": 1.0}
"""k_f of the relubrication interval."""

INTERVAL_CAP = 32_000.0
"""Longest interval that plants allow whatever the formula says [h]."""

FAST, SLOW = 150_000.0, 50_000.0
"""n·d_m from which a housing is kept a third full, and up to which a dirty one is filled up [mm/min]."""


class Fill(IntEnum):
    """How full the housing is kept; bearing and seals are always filled."""

    UNKNOWN = -1
    FAST = 0
    MEDIUM = 1
    SLOW_CLEAN = 2
    SLOW_DIRTY = 3


HOUSING_FILL = (
    Band(0.20, 1.0 / 3.0, "share of free room", _FILL),
    Band(1.0 / 3.0, 0.50, "share of free room", _FILL),
    Band(0.40, 0.60, "share of free room", _FILL),
    Band(0.70, 1.00, "share of free room", _FILL),
)


@clause(_AMOUNT, "0.005*D*B")
def relubrication_amount(D: Number, B: Number) -> Number:
    """Return the grease for one relubrication [g].

    maintenance guides on grease, G = 0.005 D B
    D: outside diameter [mm]. B: width [mm].
    """
    return 0.005 * D * B


@clause(
    _INTERVAL,
    "Piecewise((k_f*(14000000/(n*sqrt(d)) - 4*d)*f_T*f_L*f_U, 14000000/(n*sqrt(d)) - 4*d > 0), (nan, True))",
)
def relubrication_interval(
    n: Number, d: Number, k_f: Number = 5.0, f_T: Number = 1.0, f_L: Number = 1.0, f_U: Number = 1.0
) -> Number:
    """Return the hours between relubrications [h]; NaN at rest and past the range, n·d^1.5 ≥ 3.5e6.

    maintenance guides on grease, relubrication interval
    n: speed [r/min]. d: bore, above zero [mm]. k_f: see BEARING_FACTOR.
    f_T, f_L, f_U: temperature, load and surroundings, each 1 or less. Plants cap it, see INTERVAL_CAP.
    """
    positive(d=d)
    turning = np.where(np.asarray(n) > 0.0, n, np.nan)
    base = 14.0e6 / (turning * d**0.5) - 4.0 * d
    return np.where(base > 0.0, k_f * base * f_T * f_L * f_U, np.nan)[()]


@clause(_WARM, "Min(2**((70 - t)/15), 1)")
def temperature_factor(t: Number) -> Number:
    """Return the factor on the interval: half for every 15 K above 70 °C.

    handbooks on grease, 15 K rule
    t: temperature of the bearing [°C]. For mineral oil greases, up to their upper limit.
    """
    return np.minimum(2.0 ** ((70.0 - t) / 15.0), 1.0)


@clause(_FILL)
def housing_fill(speed_factor: Number, dirty: NDArray[np.bool_] | bool) -> NDArray[np.int64] | int:
    """Return the row of HOUSING_FILL for this speed and dirt, see Fill.

    fill of bearing, seals and housing by speed and dirt, common practice
    speed_factor: n·d_m [mm/min]. dirty: wet, dusty or dirty surroundings.
    """
    speed = np.asarray(speed_factor)
    cases = [np.isnan(speed), speed >= FAST, speed > SLOW, np.asarray(dirty)]
    rows = [Fill.UNKNOWN, Fill.FAST, Fill.MEDIUM, Fill.SLOW_DIRTY]
    return np.select(cases, [int(row) for row in rows], int(Fill.SLOW_CLEAN))[()]


@clause(_FILL, "room*share*density/1000")
def grease_mass(room: Number, share: Number, density: Number = 0.9) -> Number:
    """Return the mass of a fill [g].

    fill of bearing, seals and housing by speed and dirt, common practice
    room: free room [mm³]. share: of it that is filled. density: of the grease [g/cm³].
    """
    return room * share * density / 1000.0
