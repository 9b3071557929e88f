"""ISO 76:2006, static load ratings of radial roller bearings."""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from halfbore.sources import Source, Status
from halfbore.standards.validity import CONFIRMED, number, ratio
from halfbore.working import Number, clause


def _source(place: str, note: str = "", status: Status = Status.FROM_MEMORY) -> Source:
    return Source("ISO 76:2006", place, status, note)


class Running(StrEnum):
    """How roughly the bearing runs, as the guidance on static safety tells it apart."""

    QUIET = "quiet"
    NORMAL = "normal"
    SHOCK = "pronounced shock"


_LEAST_S_0 = {Running.QUIET: 3.0, Running.NORMAL: 1.5, Running.SHOCK: 3.0}


@clause(
    _source(
        "radial roller bearings", f"{CONFIRMED}: 4000 MPa Hertzian stress under a roller load 5F/Z gives 44.2"
    ),
    "44*(1 - D_we*cos(alpha)/D_pw)*i*Z*L_we*D_we*cos(alpha)",
)
def basic_static_radial_load_rating(
    i: Number, Z: Number, L_we: Number, D_we: Number, alpha: Number, D_pw: Number
) -> Number:
    """Return the basic static radial load rating of a radial roller bearing.

    ISO 76:2006, radial roller bearings (from memory, confirmed by the contact stress).
    i: rows of rollers; Z: rollers per row; L_we: effective roller length [mm]; D_we: roller diameter [mm];
    alpha: contact angle [rad]; D_pw: pitch diameter of the roller set [mm].
    Returns C_0r [N].
    """
    inner = 1 - D_we * np.cos(alpha) / D_pw
    return number(44 * inner * i * Z * L_we * D_we * np.cos(alpha))


@clause(_source("radial roller bearings, contact angle 0"), "F_r")
def static_equivalent_radial_load(F_r: Number) -> Number:
    """Return the static equivalent radial load of a bearing of contact angle 0.

    ISO 76:2006, radial roller bearings (from memory).
    F_r: radial load [N].
    Returns P_0r [N].
    """
    return number(F_r)


@clause(_source("static safety factor", status=Status.PUBLISHED), "C_0r/P_0r")
def static_safety_factor(C_0r: Number, P_0r: Number) -> Number:
    """Return the static safety factor.

    ISO 76:2006, static safety factor.
    C_0r: basic static radial load rating [N]; P_0r: static equivalent radial load [N].
    Returns S_0 [-]; inf without load.
    """
    return ratio(C_0r, P_0r)


@clause(
    _source("guidance, roller bearings", "where the size of a shock is not known, 1.5 and 3 are the least")
)
def least_static_safety_factor(running: Running) -> float:
    """Return the least static safety factor that the guidance asks of a roller bearing.

    ISO 76:2006, guidance for roller bearings (from memory).
    running: how roughly the bearing runs.
    Returns S_0 [-].
    """
    return _LEAST_S_0[running]
