"""Lifting by hand: the revised lifting equation of NIOSH (1991), publication 94-110.

For two-handed lifts of stable loads on sure footing; not for one-handed, seated or kneeling work, for work
in tight room, for pushing and pulling, or for more than 8 hours. A measure below zero gives NaN.
Defaults are the metric column; the constants of the U.S. customary column, a little different, can be given.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from halfbore.sources import Source, Status
from halfbore.standards.validity import not_negative, positive, ratio
from halfbore.working import Number, clause

TITLE = "NIOSH 94-110, Applications Manual for the Revised NIOSH Lifting Equation"


def _place(place: str) -> Source:
    return Source(TITLE, place, Status.PUBLISHED, "read in a written-out copy of the 2021 revision")


LOAD_CONSTANT = 23.0
"""Load that most people may lift in the best posture [kg]."""

Grip = Literal["good", "fair", "poor"]

_FREQUENCY = np.array([0.2, 0.5, *range(1, 16)], dtype=np.float64)
_SHORT = [1, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45, 0.41, 0.37]
_MODERATE = [0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26]
_LONG = [0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18]


def _row(values: list[float], more: list[float]) -> NDArray[np.float64]:
    both = [*values, *more]
    return np.array([*both, *[0.0] * (len(_FREQUENCY) - len(both))])


_TABLE_5 = (
    (1.0, _row(_SHORT, []), _row(_SHORT, [0.34, 0.31, 0.28])),
    (2.0, _row(_MODERATE, []), _row(_MODERATE, [0.23, 0.21])),
    (8.0, _row(_LONG, []), _row(_LONG, [0.15, 0.13])),
)
"""Longest duration in hours, multipliers for V < 750 mm, multipliers for V ≥ 750 mm."""

_TABLE_7 = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.90, 0.90)}


def _by_height(V: Number, limit: float, below: Number, above: Number) -> Number:
    return np.where(np.isnan(V), np.nan, np.where(np.asarray(V) < limit, below, above))[()]


@clause(_place("Table 1"), "Piecewise((0, H > H_max), (H_0/Max(H, H_0), True))")
def horizontal_multiplier(H: Number, H_0: Number = 250.0, H_max: Number = 630.0) -> Number:
    """Return the horizontal multiplier HM, 0 beyond reach.

    NIOSH 94-110, Table 1
    H: distance of the hands from between the ankles [mm].
    H_0, H_max: 250 and 630 mm (254 and 635, inch column).
    """
    H = not_negative(H)
    return np.where(np.asarray(H) > H_max, 0.0, H_0 / np.maximum(H, H_0))[()]


@clause(_place("Table 2"), "Piecewise((0, V > V_max), (1 - slope*Abs(V - V_0), True))")
def vertical_multiplier(
    V: Number, V_0: Number = 750.0, slope: Number = 0.0003, V_max: Number = 1750.0
) -> Number:
    """Return the vertical multiplier VM, 0 above reach.

    NIOSH 94-110, Table 2
    V: height of the hands above the floor [mm].
    V_0, slope, V_max: 750 mm, 0.0003 and 1750 mm (762, 0.0075/25.4 and 1778, inch column).
    """
    V = not_negative(V)
    return np.where(np.asarray(V) > V_max, 0.0, 1.0 - slope * np.abs(V - V_0))[()]


@clause(_place("Table 3"), "Piecewise((0, D > D_max), (0.82 + D_0/Max(D, D_min), True))")
def distance_multiplier(
    D: Number, D_0: Number = 45.0, D_min: Number = 250.0, D_max: Number = 1750.0
) -> Number:
    """Return the distance multiplier DM, 0 beyond reach.

    NIOSH 94-110, Table 3
    D: height through which the load is lifted or lowered [mm].
    D_0, D_min, D_max: 45, 250 and 1750 mm (45.72, 254 and 1778, inch column).
    """
    D = not_negative(D)
    return np.where(np.asarray(D) > D_max, 0.0, 0.82 + D_0 / np.maximum(D, D_min))[()]


@clause(_place("Table 4"), "Piecewise((0, A_deg > 135), (1 - 0.0032*A_deg, True))")
def asymmetric_multiplier(A_deg: Number) -> Number:
    """Return the asymmetric multiplier AM, 0 beyond 135°.

    NIOSH 94-110, Table 4
    A_deg: twist away from straight ahead [°].
    """
    A_deg = not_negative(A_deg)
    return np.where(np.asarray(A_deg) > 135.0, 0.0, 1.0 - 0.0032 * A_deg)[()]


@clause(_place("Table 5"))
def frequency_multiplier(lifts: Number, hours: Number, V: Number) -> Number:
    """Return the frequency multiplier FM, by straight lines between the rows; 0 above 15 lifts a minute.

    NIOSH 94-110, Table 5
    lifts: a minute; 0.2 stands for fewer. hours: of lifting without a long break, NaN beyond 8 [h].
    V: height of the hands [mm].
    """
    lifts, hours = np.asarray(not_negative(lifts)), np.asarray(positive(hours))
    columns = [
        _by_height(V, 750.0, np.interp(lifts, _FREQUENCY, below), np.interp(lifts, _FREQUENCY, above))
        for _, below, above in _TABLE_5
    ]
    found = np.select([hours <= longest for longest, _, _ in _TABLE_5], columns, np.nan)
    return np.where(lifts > 15.0, 0.0 * found, found)[()]


@clause(_place("Table 7"))
def coupling_multiplier(grip: Grip, V: Number) -> Number:
    """Return the coupling multiplier CM.

    NIOSH 94-110, Table 7
    grip: good, fair or poor. V: height of the hands [mm].
    """
    below, above = _TABLE_7[grip]
    return _by_height(V, 750.0, below, above)


@clause(_place("equation for RWL"), "LC*HM*VM*DM*AM*FM*CM")
def recommended_weight_limit(
    HM: Number, VM: Number, DM: Number, AM: Number, FM: Number, CM: Number, LC: Number = LOAD_CONSTANT
) -> Number:
    """Return the recommended weight limit RWL [kg].

    NIOSH 94-110, equation for RWL
    HM, VM, DM, AM, FM, CM: the six multipliers. LC: load constant [kg].
    """
    return LC * HM * VM * DM * AM * FM * CM


@clause(_place("equation for LI"), "load/RWL")
def lifting_index(load: Number, RWL: Number) -> Number:
    """Return the lifting index LI; above 1 some, above 3 many people are at raised risk.

    NIOSH 94-110, equation for LI
    load: that is lifted [kg]. RWL: recommended weight limit [kg]; infinite where it is zero.
    """
    return ratio(load, RWL)


@clause(_place("section 2.4"))
def composite_lifting_index(
    load: NDArray[np.float64], FIRWL: NDArray[np.float64], lifts: NDArray[np.float64], hours: float, V: float
) -> float:
    """Return the composite lifting index CLI of several tasks in turn, infinite when they are too many.

    NIOSH 94-110, section 2.4
    load: of each task [kg]. FIRWL: weight limit of each task with FM = 1 [kg]. lifts: of each task a minute.
    hours: of the whole [h]. V: height of the hands [mm].
    """
    FILI = np.asarray(ratio(load, FIRWL))
    STLI = np.asarray(ratio(FILI, frequency_multiplier(lifts, hours, V)))
    order = np.argsort(-STLI, kind="stable")
    rising = np.asarray(ratio(1.0, frequency_multiplier(np.cumsum(np.asarray(lifts)[order]), hours, V)))
    if not np.isfinite(rising).all():
        return float(np.nan if np.isnan(rising).any() else np.inf)
    return float(STLI[order][0] + (FILI[order][1:] * np.diff(rising)).sum())


@clause(_place("section 1.3.1"), "Piecewise((200 + W/2, V >= 250), (250 + W/2, True))")
def horizontal_distance(W: Number, V: Number) -> Number:
    """Return an estimate of H where it cannot be measured [mm].

    NIOSH 94-110, section 1.3.1
    W: width of the load away from the body [mm]. V: height of the hands [mm].
    """
    return W / 2.0 + _by_height(V, 250.0, 250.0, 200.0)
