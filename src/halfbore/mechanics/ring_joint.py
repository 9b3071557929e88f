"""The joints of the stationary outer ring against the load zone, and what a roller does at a joint.

Directions are angles from straight up, positive from y to z [rad]; the load direction is that of the force
which the shaft puts on the bearing, so that the load zone lies round it.
"""

from __future__ import annotations

from enum import IntEnum
from functools import cache
from math import pi

import numpy as np
from numpy.typing import NDArray

from halfbore.mechanics.given import not_negative, positive
from halfbore.sources import Source, Status, derived
from halfbore.working import Number, clause

_SJOVALL = Source(
    "Harris, Rolling Bearing Analysis", "radial load distribution (Sjövall)", Status.FROM_MEMORY
)
_ANGLES = derived("two joints half a turn apart")
_SKEW = derived("a straight roller over a skewed slot", "gap measured round the raceway")
_SAG = derived("a cylinder on two edges")

LINE_CONTACT = 10.0 / 9.0
ZONE_BOUND = pi / 2.0
"""Half load zone that no bearing with clearance exceeds [rad]."""


class JointState(IntEnum):
    """How the load zone stands to the nearer joint."""

    UNKNOWN = -1
    CLEAR = 0
    ZONE_REACHES = 1
    PEAK_ON_JOINT = 2


@clause(_ANGLES, "Abs(Mod(load - joint + pi/2, pi) - pi/2)")
def joint_distance(load: Number, joint: Number) -> Number:
    """Return the angle between load direction and the nearer of the two joints, 0 to π/2 [rad].

    two joints half a turn apart
    load: direction of the force on the bearing [rad]. joint: direction of either joint [rad].
    """
    distance: Number = np.abs(np.mod(np.asarray(load - joint + pi / 2.0), pi) - pi / 2.0)
    return distance


@cache
def _zones() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return relative clearance, rising and on an arsinh scale, with the half load zone that belongs to it.

    With u = cos ψ_l = s/(2 δ_r) the balance is F/(Z K) = δ_r^n I(u). So s/2·(Z K/F)^(1/n) = u·I(u)^(-1/n)
    depends on the zone alone, and one table serves every bearing.
    """
    zone = np.radians(np.arange(720, 0, -1) * 0.25)
    nodes, weights = np.polynomial.legendre.leggauss(48)
    psi = zone[:, np.newaxis] * (nodes + 1.0) / 2.0
    u = np.cos(zone)
    depth = np.maximum(np.cos(psi) - u[:, np.newaxis], 0.0)
    integral = (depth**LINE_CONTACT * np.cos(psi)) @ weights * zone / (2.0 * pi)
    return np.arcsinh(u * integral ** (-1.0 / LINE_CONTACT)), zone


@clause(_SJOVALL)
def half_load_zone(F_r: Number, s: Number, Z: Number, stiffness: Number) -> Number:
    """Return half the angle over which rollers carry load [rad].

    Harris, radial load distribution (Sjövall)
    F_r: radial load [N]. s: diametral clearance in operation, below zero for preload [mm].
    Z: rollers in a row. stiffness: of a roller between both raceways, Q = K·δ^(10/9) [N/mm^(10/9)].
    π/2 without clearance, less with it, up to π with preload; zero without load or preload. Rings stay
    round; rollers are taken as spread evenly: a zone under one roller pitch means one or two of them.
    """
    not_negative(F_r=F_r)
    positive(Z=Z, stiffness=stiffness)
    clearance, zone = _zones()
    with np.errstate(divide="ignore", invalid="ignore"):
        scale = (Z * stiffness / np.asarray(F_r, dtype=np.float64)) ** (1.0 / LINE_CONTACT)
        relative = np.where(np.asarray(s) == 0.0, 0.0 * F_r, np.asarray(s) / 2.0 * scale)
    found = np.interp(np.arcsinh(relative), clearance, zone)
    idle = (np.asarray(F_r) == 0.0) & (np.asarray(s) >= 0.0)
    return np.where(idle, 0.0, np.where(np.isnan(relative), np.nan, found))[()]


@clause(_ANGLES, "distance - half_zone")
def joint_margin(distance: Number, half_zone: Number) -> Number:
    """Return the angle between the end of the load zone and the joint; below zero the zone reaches it [rad].

    two joints half a turn apart
    distance: see joint_distance [rad]. half_zone: see half_load_zone [rad].
    """
    return distance - half_zone


@clause(_ANGLES)
def joint_state(distance: Number, half_zone: Number, Z: Number) -> NDArray[np.int64] | int:
    """Return how the load zone stands to the nearer joint, see JointState.

    two joints half a turn apart
    distance: see joint_distance [rad]. half_zone: see half_load_zone [rad].
    Z: rollers in a row; the peak is on the joint when it is within half a roller pitch of it.
    """
    positive(Z=Z)
    known = ~np.isnan(distance + half_zone + Z)
    on_joint = np.asarray(distance) <= pi / Z
    reached = np.asarray(distance) < half_zone
    states = [JointState.UNKNOWN, JointState.PEAK_ON_JOINT, JointState.ZONE_REACHES]
    return np.select([~known, on_joint, reached], [int(s) for s in states], int(JointState.CLEAR))[()]


@clause(_SAG, "gap**2/(4*D_we)")
def bridging_drop(gap: Number, D_we: Number) -> Number:
    """Return how far a roller sinks into a straight joint with sharp edges [mm].

    a cylinder on two edges
    gap: of the joint, much smaller than the roller [mm]. D_we: roller diameter, above zero [mm].
    """
    positive(D_we=D_we)
    return gap**2 / (4.0 * D_we)


@clause(_SKEW, "Min(gap/tan(skew), L_we)")
def unsupported_length(gap: Number, skew: Number, L_we: Number) -> Number:
    """Return the length of a roller that hangs over a skewed joint at once [mm].

    a straight roller over a skewed slot
    gap: of the joint, measured round the raceway [mm]. skew: angle of the joint against the axis [rad].
    L_we: effective roller length [mm]; a joint without skew leaves all of it unsupported.
    """
    with np.errstate(divide="ignore"):
        return np.minimum(np.divide(gap, np.tan(skew)), L_we)


@clause(_SKEW, "L_we*tan(skew) + gap")
def joint_travel(gap: Number, skew: Number, L_we: Number) -> Number:
    """Return the way round the raceway over which a roller is on the joint [mm].

    a straight roller over a skewed slot
    gap: of the joint, measured round the raceway [mm]. skew: angle of the joint against the axis [rad].
    L_we: effective roller length [mm].
    """
    return L_we * np.tan(skew) + gap
