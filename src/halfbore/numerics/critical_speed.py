"""First bending critical speed of a shaft on its supports, exact and by the two classical estimates.

The mass of each piece of shaft is put at its two Gauss points, the discs at their places; the exact value
is that of these point masses on the exact flexibility of the shaft, and the error of the lumping falls
with the fourth power of the length of a piece. Masses have no inertia of rotation: the gyroscopic effect
of a wide or overhung disc, which raises the speed of forward whirl, and its diametral inertia, which
lowers it, are left out. Supports are taken as in contact, holding both ways.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.errors import InputError, Problem
from halfbore.numerics.beam import Beam, Support, deflection_by_force

Array = NDArray[np.float64]

PIECES = 40
"""Pieces in the whole shaft, at least: the lumping then costs less than one part in 10^6."""

GAUSS = 0.5 / np.sqrt(3.0)
"""The two Gauss points lie this part of the length of a piece on each side of its middle."""

MM_PER_M = 1000.0
"""A newton is 1000 kg·mm/s²."""


@dataclass(frozen=True)
class CriticalSpeed:
    """First critical speed of bending in r/min; the estimates lie on both sides of the exact value."""

    exact: float
    rayleigh: float
    dunkerley: float


def critical_speed(
    beam: Beam,
    supports: Sequence[Support],
    line_mass: ArrayLike = 0.0,
    disc_x: ArrayLike = (),
    disc_mass: ArrayLike = (),
) -> CriticalSpeed:
    """Return the first critical speed of bending.

    line_mass: of the shaft, per element or one for all (kg/mm). disc_x: nodes that carry discs (mm);
    disc_mass: of each (kg). InputError when no mass can move, or as for `beam.solve`.
    """
    fine, points, mass = _point_masses(beam, line_mass, disc_x, disc_mass)
    bend = deflection_by_force(fine, supports, points)
    root = np.sqrt(mass)
    values, modes = np.linalg.eigh(root[:, None] * bend * root)
    if not values[-1] > 0.0:
        raise InputError(
            Problem("no mass of the shaft can move", next_step="give the masses of shaft and discs")
        )
    side = np.where(modes[:, -1] < 0.0, -1.0, 1.0)
    y = bend @ (mass * side)
    rayleigh = float((mass * side) @ y / (mass @ y**2))
    return CriticalSpeed(
        exact=_rpm(1.0 / float(values[-1])),
        rayleigh=_rpm(rayleigh),
        dunkerley=_rpm(1.0 / float(mass @ np.diag(bend))),
    )


def _rpm(stiffness_to_mass: float) -> float:
    """Return the speed (r/min) at which a mass on a spring resonates, from N/mm per kg."""
    return float(np.sqrt(MM_PER_M * stiffness_to_mass) * 30.0 / np.pi)


def _point_masses(
    beam: Beam, line_mass: ArrayLike, disc_x: ArrayLike, disc_mass: ArrayLike
) -> tuple[Beam, Array, Array]:
    """Return the beam with a node at every point mass, the places (mm) and the masses (kg)."""
    discs = np.atleast_1d(np.asarray(disc_mass, dtype=np.float64))
    line = np.asarray(line_mass, dtype=np.float64)
    at = beam.x[beam.node(disc_x)]
    if discs.shape != at.shape or not (np.isfinite(discs) & (discs >= 0.0)).all():
        raise InputError(
            Problem("a disc without a usable mass", accepted="one mass per disc, zero or more, kg")
        )
    if line.shape not in ((), beam.EI.shape) or not (np.isfinite(line) & (line >= 0.0)).all():
        accepted = f"one value or one for each of {beam.EI.size} elements, zero or more, kg/mm"
        raise InputError(Problem("a mass per length cannot be used", accepted=accepted))
    line = np.broadcast_to(line, beam.EI.shape)
    count = np.ceil(beam.length * PIECES / beam.span).astype(int)
    piece = np.repeat(beam.length / count, count)
    element = np.repeat(np.arange(count.size), count)
    number = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
    middle = beam.x[element] + (number + 0.5) * piece
    points = np.concatenate([middle - GAUSS * piece, middle + GAUSS * piece, at])
    mass = np.concatenate([np.tile(line[element] * piece / 2, 2), discs])
    x = np.unique(np.concatenate([beam.x, points]))
    inside = np.searchsorted(beam.x, (x[1:] + x[:-1]) / 2) - 1
    return Beam(x, beam.EI[inside]), points, mass
