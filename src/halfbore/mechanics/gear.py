"""Tooth forces of spur, helical and straight bevel gears, and what they do to the shaft."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.mechanics.forces import sum_of
from halfbore.mechanics.given import a_sense, positive, refuse
from halfbore.sources import Source, derived
from halfbore.working import Number, clause

_SPUR = Source("Wentzell, Machine Design", "chapter 12")
_HELICAL = Source("Wentzell, Machine Design", "chapter 13")
_BEVEL = derived("tooth normal of a straight bevel gear at its mean cone")
_STATICS = derived("statics of a force at the mesh")


@clause(_SPUR, "2*torque/pitch_diameter")
def tangential_force(torque: Number, pitch_diameter: Number) -> Number:
    """Tooth force along the pitch circle.

    Wentzell, Machine Design, chapter 12
    torque: torque of the gear [N·mm]; pitch_diameter: of a bevel gear the mean one [mm].
    Returns the force F_t [N]. Raises InputError for a diameter that is not above zero.
    """
    positive(pitch_diameter=pitch_diameter)
    return 2 * torque / pitch_diameter


@clause(_SPUR, "tangential*tan(pressure_angle)")
def spur_radial(tangential: Number, pressure_angle: Number) -> Number:
    """Separating force of a spur gear, towards its own centre.

    Wentzell, Machine Design, chapter 12
    tangential: F_t [N]; pressure_angle: [rad].
    Returns the force F_r [N].
    """
    _acute(pressure_angle=pressure_angle)
    return tangential * np.tan(pressure_angle)


@clause(_SPUR, "tangential/cos(pressure_angle)")
def spur_resultant(tangential: Number, pressure_angle: Number) -> Number:
    """Whole tooth force of a spur gear.

    Wentzell, Machine Design, chapter 12
    tangential: F_t [N]; pressure_angle: [rad].
    Returns the force [N].
    """
    _acute(pressure_angle=pressure_angle)
    return tangential / np.cos(pressure_angle)


@clause(_HELICAL, "tangential*tan(normal_pressure_angle)/cos(helix_angle)")
def helical_radial(tangential: Number, normal_pressure_angle: Number, helix_angle: Number) -> Number:
    """Separating force of a helical gear, towards its own centre.

    Wentzell, Machine Design, chapter 13
    tangential: F_t [N]; normal_pressure_angle, helix_angle: [rad].
    Returns the force F_r [N].
    """
    _acute(normal_pressure_angle=normal_pressure_angle, helix_angle=helix_angle)
    return tangential * np.tan(normal_pressure_angle) / np.cos(helix_angle)


@clause(_HELICAL, "tangential*tan(helix_angle)")
def helical_axial(tangential: Number, helix_angle: Number) -> Number:
    """Axial force of a helical gear.

    Wentzell, Machine Design, chapter 13
    tangential: F_t [N]; helix_angle: [rad].
    Returns the force F_a [N]; its sense follows hand and rotation.
    """
    _acute(helix_angle=helix_angle)
    return tangential * np.tan(helix_angle)


@clause(_BEVEL, "tangential*tan(pressure_angle)*cos(cone_angle)")
def bevel_radial(tangential: Number, pressure_angle: Number, cone_angle: Number) -> Number:
    """Radial force of a straight bevel gear, towards its own centre.

    Derived: tooth normal of a straight bevel gear at its mean cone
    tangential: F_t at the mean diameter [N]; pressure_angle: [rad]; cone_angle: own pitch cone [rad].
    Returns the force F_r [N].
    """
    _acute(pressure_angle=pressure_angle)
    return tangential * np.tan(pressure_angle) * np.cos(cone_angle)


@clause(_BEVEL, "tangential*tan(pressure_angle)*sin(cone_angle)")
def bevel_axial(tangential: Number, pressure_angle: Number, cone_angle: Number) -> Number:
    """Axial force of a straight bevel gear, away from the apex of its cone.

    Derived: tooth normal of a straight bevel gear at its mean cone
    tangential: F_t at the mean diameter [N]; pressure_angle: [rad]; cone_angle: own pitch cone [rad].
    Returns the force F_a [N].
    """
    _acute(pressure_angle=pressure_angle)
    return tangential * np.tan(pressure_angle) * np.sin(cone_angle)


@clause(
    _STATICS,
    "(-radial*cos(mesh_angle) - torque_sense*tangential*sin(mesh_angle),"
    " torque_sense*tangential*cos(mesh_angle) - radial*sin(mesh_angle))",
)
def mesh_force(
    tangential: Number, radial: Number, mesh_angle: Number, torque_sense: Number
) -> NDArray[np.float64]:
    """Force of the mating gear on this shaft.

    Derived: statics of a force at the mesh
    tangential, radial: F_t and F_r [N]; mesh_angle: from this shaft to the mesh, from +y to z [rad].
    torque_sense: 1 when the mating gear turns this shaft from y to z, -1 the other way.
    Returns (y, z) [N].
    """
    a_sense(torque_sense=torque_sense)
    return sum_of((-radial, mesh_angle), (torque_sense * tangential, mesh_angle + np.pi / 2))


@clause(_STATICS, "(axial*radius*sin(mesh_angle), -axial*radius*cos(mesh_angle))")
def axial_couple(axial: Number, radius: Number, mesh_angle: Number) -> NDArray[np.float64]:
    """Couple that an axial tooth force puts on the shaft.

    Derived: statics of a force at the mesh
    axial: force along +x [N]; radius: pitch radius [mm]; mesh_angle: place of the mesh, +y to z [rad].
    Returns the moments about (+y, +z) [N·mm].
    """
    return sum_of((axial * radius, mesh_angle - np.pi / 2))


def _acute(**angles: Number) -> None:
    for name, angle in angles.items():
        bad = np.less(angle, 0) | np.greater_equal(angle, np.pi / 2)
        refuse(bad, "0 up to below pi/2", **{name: angle})
