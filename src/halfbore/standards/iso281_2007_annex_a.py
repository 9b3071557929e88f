"""ISO 281:2007, Annex A: the contamination factor.

Its constants are remembered and unconfirmed; read them in the standard before they decide an order.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from halfbore.sources import Source, Status
from halfbore.standards.iso281_2007 import kappa_used
from halfbore.standards.validity import number
from halfbore.working import Number, clause


class ContaminationLevel(StrEnum):
    """Contamination of the lubricant as Annex A names it: grease in words, oil by ISO 4406 code."""

    GREASE_HIGH_CLEANLINESS = "grease, high cleanliness"
    GREASE_NORMAL_CLEANLINESS = "grease, normal cleanliness"
    GREASE_SLIGHT_TO_TYPICAL = "grease, slight to typical"
    GREASE_SEVERE = "grease, severe"
    GREASE_VERY_SEVERE = "grease, very severe"
    OIL_BATH_13_10 = "oil bath, -/13/10"
    OIL_BATH_15_12 = "oil bath, -/15/12"
    OIL_BATH_17_14 = "oil bath, -/17/14"
    OIL_BATH_19_16 = "oil bath, -/19/16"
    OIL_BATH_21_18 = "oil bath, -/21/18"
    OIL_FILTERED_13_10 = "oil with on-line filter, -/13/10"
    OIL_FILTERED_15_12 = "oil with on-line filter, -/15/12"
    OIL_FILTERED_17_14 = "oil with on-line filter, -/17/14"
    OIL_FILTERED_19_16 = "oil with on-line filter, -/19/16"


E_C_SOURCE = Source(
    "ISO 281:2007",
    "Annex A",
    Status.FROM_MEMORY,
    "unconfirmed: only the order of the levels could be checked, a wrong digit of c_1 or c_2 would not show",
)
_C_1_C_2 = {
    ContaminationLevel.GREASE_HIGH_CLEANLINESS: (0.0864, 0.6796),
    ContaminationLevel.GREASE_NORMAL_CLEANLINESS: (0.0432, 1.141),
    ContaminationLevel.GREASE_SLIGHT_TO_TYPICAL: (0.0177, 1.887),
    ContaminationLevel.GREASE_SEVERE: (0.0115, 2.662),
    ContaminationLevel.GREASE_VERY_SEVERE: (0.00617, 4.06),
    ContaminationLevel.OIL_BATH_13_10: (0.0864, 0.5796),
    ContaminationLevel.OIL_BATH_15_12: (0.0288, 1.141),
    ContaminationLevel.OIL_BATH_17_14: (0.0133, 1.67),
    ContaminationLevel.OIL_BATH_19_16: (0.00864, 2.5164),
    ContaminationLevel.OIL_BATH_21_18: (0.00411, 3.8974),
    ContaminationLevel.OIL_FILTERED_13_10: (0.0864, 0.5663),
    ContaminationLevel.OIL_FILTERED_15_12: (0.0432, 0.9987),
    ContaminationLevel.OIL_FILTERED_17_14: (0.0288, 1.6329),
    ContaminationLevel.OIL_FILTERED_19_16: (0.0216, 2.3362),
}
_SLIGHT_TO_TYPICAL_LARGE = 1.677
"""c_2 of grease, slight to typical, from a pitch diameter of 500 mm on."""


@clause(E_C_SOURCE)
def contamination_constants(level: ContaminationLevel, D_pw: Number) -> tuple[float, Number]:
    """Return the constants of the contamination factor.

    ISO 281:2007, Annex A (from memory, unconfirmed).
    level: contamination of the lubricant; D_pw: pitch diameter of the roller set [mm].
    Returns c_1 and c_2.
    """
    c_1, c_2 = _C_1_C_2[level]
    large = c_2 if level is not ContaminationLevel.GREASE_SLIGHT_TO_TYPICAL else _SLIGHT_TO_TYPICAL_LARGE
    return c_1, number(np.where(np.asarray(D_pw) >= 500, large, c_2))


@clause(E_C_SOURCE, "Max(Min(c_1*Min(kappa, 4)**0.68*D_pw**0.55, 1)*(1 - c_2/D_pw**(1/3)), 0)")
def e_c(kappa: Number, D_pw: Number, c_1: Number, c_2: Number) -> Number:
    """Return the contamination factor.

    ISO 281:2007, Annex A (from memory, unconfirmed); below 0, as small bearings in dirt come out, it is 0.
    kappa: viscosity ratio [-]; D_pw: pitch diameter of the roller set [mm]; c_1, c_2: constants of the level.
    Returns e_C [-]; nan for κ below 0.1, κ above 4 counts as 4.
    """
    film = np.minimum(c_1 * kappa_used(kappa) ** 0.68 * D_pw**0.55, 1.0)
    return number(np.maximum(film * (1 - c_2 / D_pw ** (1 / 3)), 0.0))


def contamination_factor(kappa: Number, D_pw: Number, level: ContaminationLevel) -> Number:
    """Return the contamination factor of a level.

    ISO 281:2007, Annex A (from memory, unconfirmed).
    kappa: viscosity ratio [-]; D_pw: pitch diameter of the roller set [mm]; level: contamination.
    Returns e_C [-]; nan for κ below 0.1.
    """
    c_1, c_2 = contamination_constants(level, D_pw)
    return e_c(kappa, D_pw, c_1, c_2)
