"""A clamped split inner ring on a real shaft: clearance, joint gap, grip.

A split ring carries no hoop stress, so its halves go where the shaft's surface is.
"""

from __future__ import annotations

from math import pi

import numpy as np

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import not_negative
from halfbore.sources import derived, practice
from halfbore.working import Number, clause

_FOLLOWS = derived("a split ring follows its shaft", "both halves move with the surface: no hoop stress")
_THERMAL = derived("free expansion of rings and rollers", "rollers at the mean of both ring temperatures")
_WRAP = derived("half rings that keep their length", "the circumference shrinks by π·Δd at two joints")
_RIGID = derived("rigid half rings", "each half moves towards the other by Δd/2")
_STATICS = derived("statics of a half clamping ring", "two screws pull each half against the shaft")
_FRICTION = derived("Coulomb friction of a clamp")

CLAMP_FRICTION = Band(0.10, 0.15, "", practice("friction of a clamped ring on a shaft"))
RETORQUE_LOSS = Band(0.10, 0.20, "", practice("preload lost by settling before the second tightening"))
RING_EXPANSION = 12.0e-6
"""Expansion of through-hardened bearing steel [1/K], from memory (11.5 to 12.5)."""


@clause(_FOLLOWS, "measured - nominal")
def shaft_deviation(measured: Number, nominal: Number) -> Number:
    """Return the deviation of the shaft's diameter, negative for an undersize shaft [mm].

    a split ring follows its shaft
    measured, nominal: diameter [mm], both at 20 °C.
    """
    return measured - nominal


@clause(_FOLLOWS, "deviation + d*(alpha_shaft*(t_shaft - 20) - alpha_ring*(t_ring - 20))")
def hot_deviation(
    deviation: Number,
    d: Number,
    t_shaft: Number,
    t_ring: Number,
    alpha_shaft: Number,
    alpha_ring: Number = RING_EXPANSION,
) -> Number:
    """Return the deviation of a hot shaft from the bore of a hot ring [mm].

    a split ring follows its shaft
    deviation: at 20 °C [mm]. d: bore [mm]. t_shaft, t_ring: temperature [°C].
    alpha_shaft, alpha_ring: expansion coefficient [1/K]; a hot austenitic shaft acts like an oversize one.
    """
    return deviation + d * (alpha_shaft * (t_shaft - 20.0) - alpha_ring * (t_ring - 20.0))


@clause(_THERMAL, "alpha*D_pw*(t_i - t_o)")
def thermal_clearance_loss(D_pw: Number, t_i: Number, t_o: Number, alpha: Number = RING_EXPANSION) -> Number:
    """Return the diametral clearance lost because the inner ring runs hotter than the outer [mm].

    free expansion of rings and rollers
    D_pw: pitch diameter [mm]; with the inner raceway diameter instead, rollers are as cool as the outer ring
    and the loss is least; with the outer raceway diameter, they are as hot as the inner ring, and it is
    greatest.
    t_i, t_o: temperature of inner and outer ring [°C]. alpha: expansion coefficient of the rings [1/K].
    """
    return alpha * D_pw * (t_i - t_o)


@clause(_FOLLOWS, "s - deviation - 2*form - thermal_loss + housing_change")
def mounted_clearance(
    s: Number,
    deviation: Number,
    form: Number = 0.0,
    thermal_loss: Number = 0.0,
    housing_change: Number = 0.0,
) -> Number:
    """Return the diametral clearance on the real shaft [mm].

    a split ring follows its shaft
    s: clearance on a nominal shaft by the catalogue [mm]. deviation: of the shaft's diameter [mm].
    form: local radial deviation of the shaft from its mean circle, positive outwards [mm]; counted twice,
    as for a shaft that is out of round by the same amount on the other side.
    thermal_loss: see thermal_clearance_loss [mm]. housing_change: by the housing, positive opens [mm].
    """
    return s - deviation - 2.0 * form - thermal_loss + housing_change


@clause(_WRAP, "gap + pi/2*deviation")
def joint_gap(gap: Number, deviation: Number) -> Number:
    """Return the gap at each joint when the halves wrap round the shaft, least for an undersize one [mm].

    half rings that keep their length
    gap: at each joint on a nominal shaft [mm]. deviation: of the shaft's diameter [mm].
    Exact at the middle of the ring's wall; zero or less means that the faces have met.
    """
    return gap + pi / 2.0 * deviation


@clause(_RIGID, "gap + deviation")
def joint_gap_rigid(gap: Number, deviation: Number) -> Number:
    """Return the gap at each joint when the halves do not bend, greatest for an undersize shaft [mm].

    rigid half rings
    gap: at each joint on a nominal shaft [mm]. deviation: of the shaft's diameter [mm].
    """
    return gap + deviation


@clause(_STATICS, "4*F_v")
def clamp_force_least(F_v: Number) -> Number:
    """Return the least sum of normal forces of one clamping ring [N].

    statics of a half clamping ring
    F_v: preload of each of its two screws [N]. Each half presses only at its middle, with 2 F_v.
    """
    not_negative(F_v=F_v)
    return 4.0 * F_v


@clause(_STATICS, "2*pi*F_v")
def clamp_force_greatest(F_v: Number) -> Number:
    """Return the sum of normal forces of one clamping ring that presses evenly all round [N].

    statics of a half clamping ring
    F_v: preload of each of its two screws [N]. Pressure p = 2 F_v/(d b), summed over π d b.
    """
    not_negative(F_v=F_v)
    return 2.0 * pi * F_v


@clause(_FRICTION, "friction*normal_force*(1 - loss)")
def axial_slip_force(normal_force: Number, friction: Number, loss: Number = 0.0) -> Number:
    """Return the axial load at which the clamped ring slips along the shaft [N].

    Coulomb friction of a clamp
    normal_force: sum over all clamping rings [N]. friction: see CLAMP_FRICTION.
    loss: share of the preload that is lost by settling, see RETORQUE_LOSS.
    """
    not_negative(normal_force=normal_force, friction=friction, loss=loss)
    return friction * normal_force * (1.0 - loss)


@clause(_FRICTION, "slip_force*d/2")
def slip_torque(slip_force: Number, d: Number) -> Number:
    """Return the torque at which the clamped ring creeps round the shaft [N·mm].

    Coulomb friction of a clamp
    slip_force: see axial_slip_force [N]. d: shaft diameter [mm].
    """
    return slip_force * d / 2.0


@clause(_STATICS, "Piecewise((slip_force, gap > 0), (0, True))")
def remaining_grip(slip_force: Number, gap: Number) -> Number:
    """Return the axial grip that is left, nothing once the faces of a joint have met [N].

    statics of a half clamping ring
    slip_force: grip with open joints [N]. gap: smallest gap of inner ring and clamping rings [mm].
    Faces that meet take the preload past the shaft, so that no share of it can be counted on.
    """
    return np.where(np.isnan(gap), np.nan, np.where(np.asarray(gap) > 0.0, slip_force, 0.0))[()]
