"""Forces in the plane across the shaft: weight, components, size and direction.

A vector is an array whose first axis is (y, z); further axes are columns. Angles run from +y (up),
positive from y to z, which is to the right and clockwise seen from the drive end.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.sources import Source, derived
from halfbore.working import Number, clause

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s²]."""

_STATICS = derived("statics of forces in a plane")


def vector(y: Number, z: Number) -> NDArray[np.float64]:
    """Return the array (y, z) of two components of any equal or broadcast shape."""
    return np.stack(np.broadcast_arrays(np.asarray(y, np.float64), np.asarray(z, np.float64)))


@clause(Source("Standard acceleration of free fall", "CGPM 1901"), "mass*gravity")
def weight(mass: Number, gravity: Number = GRAVITY) -> Number:
    """Weight of a mass.

    Standard acceleration of free fall, CGPM 1901
    mass: mass [kg]; gravity: acceleration of free fall [m/s²].
    Returns the weight [N].
    """
    return mass * gravity


@clause(_STATICS, "force*cos(angle)")
def along_y(force: Number, angle: Number) -> Number:
    """Upward component of a force of given size and direction.

    Derived: statics of forces in a plane
    force: size [N]; angle: direction from +y, positive from y to z [rad].
    Returns the component along +y [N].
    """
    component: Number = force * np.cos(angle)
    return component


@clause(_STATICS, "force*sin(angle)")
def along_z(force: Number, angle: Number) -> Number:
    """Level component of a force of given size and direction.

    Derived: statics of forces in a plane
    force: size [N]; angle: direction from +y, positive from y to z [rad].
    Returns the component along +z [N].
    """
    component: Number = force * np.sin(angle)
    return component


def sum_of(*forces: tuple[Number, Number]) -> NDArray[np.float64]:
    """Return the vector (y, z) [N] of forces given as pairs of size [N] and direction [rad]."""
    y = sum(along_y(force, angle) for force, angle in forces)
    return vector(y, sum(along_z(force, angle) for force, angle in forces))


@clause(_STATICS, "sqrt(y**2 + z**2)")
def magnitude(y: Number, z: Number) -> Number:
    """Size of a vector from its components.

    Derived: statics of forces in a plane
    y, z: components [N].
    Returns the size [N].
    """
    return np.hypot(y, z)


@clause(_STATICS, "atan2(z, y)")
def direction(y: Number, z: Number) -> Number:
    """Direction of a vector from its components.

    Derived: statics of forces in a plane
    y, z: components [N].
    Returns the angle from +y, positive from y to z [rad], in (-pi, pi]; 0 for no force.
    """
    return np.arctan2(z, y)


@clause(_STATICS, "y*force_z - z*force_y")
def moment_about_shaft(y: Number, z: Number, force_y: Number, force_z: Number) -> Number:
    """Moment of a force about the shaft's centre line.

    Derived: statics of forces in a plane
    y, z: point of attack from the centre line [mm]; force_y, force_z: components [N].
    Returns the moment about +x, positive from y to z [N·mm].
    """
    return y * force_z - z * force_y
