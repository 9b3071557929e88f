"""Speed of the bearing and of what moves inside it."""

from __future__ import annotations

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import positive
from halfbore.sources import Source, Status
from halfbore.working import Number, clause

_HANDBOOK = Source("handbooks on rolling bearings", "n·d_m", Status.FROM_MEMORY, "order of magnitude only")
_KINEMATICS = Source("kinematics of rolling without slip", "outer ring stationary", Status.DERIVED)

SPEED_FACTOR_LIMIT = {
    "grease": Band(300_000, 500_000, "mm/min", _HANDBOOK),
    "oil bath": Band(500_000, 500_000, "mm/min", _HANDBOOK),
    "circulating oil": Band(500_000, 1_000_000, "mm/min", _HANDBOOK),
    "grease, full complement": Band(100_000, 150_000, "mm/min", _HANDBOOK),
}
"""Fallback where a supplier gives no speed limit, for one-piece cylindrical roller bearings."""


@clause(_HANDBOOK, "n*d_m")
def speed_factor(n: Number, d_m: Number) -> Number:
    """Return the speed factor n·d_m [mm/min].

    handbooks on rolling bearings, n·d_m
    n: speed [r/min]. d_m: mean of bore and outside diameter, or pitch diameter [mm].
    """
    return n * d_m


@clause(_HANDBOOK, "factor_limit/d_m")
def speed_limit_fallback(d_m: Number, factor_limit: Number) -> Number:
    """Return a speed limit for a unit whose supplier gives none [r/min].

    handbooks on rolling bearings, n·d_m
    d_m: mean of bore and outside diameter [mm]. factor_limit: see SPEED_FACTOR_LIMIT [mm/min].
    """
    positive(d_m=d_m)
    return factor_limit / d_m


@clause(_KINEMATICS, "n/2*(1 - gamma)")
def cage_speed(n: Number, gamma: Number) -> Number:
    """Return the speed of the cage [r/min].

    kinematics of rolling without slip, outer ring stationary
    n: speed of the inner ring [r/min]. gamma: D_we·cos α/D_pw.
    """
    return n / 2.0 * (1.0 - gamma)


@clause(_KINEMATICS, "n/(2*gamma)*(1 - gamma**2)")
def roller_spin(n: Number, gamma: Number) -> Number:
    """Return the speed of a roller about its own axis, against the cage [r/min].

    kinematics of rolling without slip, outer ring stationary
    n: speed of the inner ring [r/min]. gamma: D_we·cos α/D_pw, above zero.
    """
    positive(gamma=gamma)
    return n / (2.0 * gamma) * (1.0 - gamma**2)


@clause(_KINEMATICS, "Z/2*(1 + gamma)*n/60")
def inner_joint_frequency(n: Number, Z: Number, gamma: Number) -> Number:
    """Return how often rollers pass each joint of the inner ring [Hz].

    kinematics of rolling without slip, outer ring stationary
    n: speed of the inner ring [r/min]. Z: rollers in a row. gamma: D_we·cos α/D_pw.
    """
    return Z / 2.0 * (1.0 + gamma) * n / 60.0


@clause(_KINEMATICS, "Z/2*(1 - gamma)*n/60")
def outer_joint_frequency(n: Number, Z: Number, gamma: Number) -> Number:
    """Return how often rollers pass each joint of the outer ring [Hz].

    kinematics of rolling without slip, outer ring stationary
    n: speed of the inner ring [r/min]. Z: rollers in a row. gamma: D_we·cos α/D_pw.
    """
    return Z / 2.0 * (1.0 - gamma) * n / 60.0
