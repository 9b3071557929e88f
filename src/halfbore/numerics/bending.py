"""Bending of a stepped shaft: its elements, and the exact double integral of M/EI along them.

Euler-Bernoulli bending: no shear deformation, small slopes, no axial force. x runs along the shaft,
y up; forces are positive up, couples positive when they turn x towards y, the slope is dy/dx, the
moment is EI·y'' (positive when the shaft sags) and the shear is its derivative, the sum of all forces
to the left.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.errors import InputError, Problem

Array = NDArray[np.float64]

MERGE = 1e-6
"""Points closer than this are one point (mm)."""


@dataclass(frozen=True, eq=False)
class Beam:
    """A shaft cut into elements of constant bending stiffness: nodes x (mm), EI of each element (N·mm²)."""

    x: Array
    EI: Array

    def __post_init__(self) -> None:
        x, EI = self.x, self.EI
        if x.ndim != 1 or x.size < 2 or EI.shape != (x.size - 1,):
            raise InputError(
                Problem(
                    "nodes and stiffnesses do not fit together",
                    value=f"{x.shape} nodes, {EI.shape} stiffnesses",
                    accepted="n nodes in a row, at least two, and n − 1 stiffnesses",
                )
            )
        if not (np.isfinite(x).all() and (np.diff(x) > 0.0).all()):
            raise InputError(Problem("the nodes of the shaft do not increase", accepted="x increasing, mm"))
        if not (np.isfinite(EI).all() and (EI > 0.0).all()):
            raise InputError(
                Problem(
                    "a bending stiffness is not positive", accepted="EI above zero in every element, N·mm²"
                )
            )

    @cached_property
    def length(self) -> Array:
        """Length of each element (mm)."""
        return np.diff(self.x)

    @cached_property
    def span(self) -> float:
        """Length of the whole shaft (mm)."""
        return float(self.x[-1] - self.x[0])

    def node(self, points: ArrayLike) -> NDArray[np.intp]:
        """Return the node number of each point (mm); InputError where there is no node."""
        wanted = np.atleast_1d(np.asarray(points, dtype=np.float64))
        above = np.clip(np.searchsorted(self.x, wanted), 1, self.x.size - 1)
        nearest = above - (wanted - self.x[above - 1] < self.x[above] - wanted)
        off = ~(np.abs(self.x[nearest] - wanted) <= MERGE)
        if off.any():
            raise InputError(
                Problem(
                    "no node of the shaft here",
                    where=f"x = {wanted[off][0]:g} mm",
                    accepted=f"a node; the shaft runs from {self.x[0]:g} to {self.x[-1]:g} mm",
                    next_step="give the place as an extra point when the shaft is built",
                )
            )
        return nearest

    def per_element(self, edges: ArrayLike, values: ArrayLike) -> Array:
        """Return a quantity that is constant between edges as one value per element, zero outside them.

        edges: (k + 1,) increasing, each a node (mm); values: (…, k), such as weight per length (N/mm).
        Returns (…, elements).
        """
        at = self.node(edges)
        values = np.asarray(values, dtype=np.float64)
        if values.ndim == 0 or values.shape[-1] != at.size - 1 or not (np.diff(at) > 0).all():
            raise InputError(
                Problem("values and edges do not fit", accepted="increasing edges, one more than the values")
            )
        element = np.arange(self.EI.size)
        part = np.searchsorted(at, element, side="right") - 1
        inside = (part >= 0) & (part < at.size - 1)
        return np.where(inside, values[..., np.clip(part, 0, at.size - 2)], 0.0)


def stepped(lengths: ArrayLike, EI: ArrayLike, extra_points: ArrayLike = (), start: float = 0.0) -> Beam:
    """Return the beam of a stepped shaft with a node at every step and every extra point.

    lengths: of the segments from the drive end (mm); EI: of each segment (N·mm²).
    extra_points: loads, supports, ends of distributed loads, output points (mm).
    start: x of the drive end (mm).
    Points closer than 1e-6 mm are one. InputError for a segment without length or a point off the shaft.
    """
    lengths = np.atleast_1d(np.asarray(lengths, dtype=np.float64))
    EI = np.atleast_1d(np.asarray(EI, dtype=np.float64))
    if lengths.ndim != 1 or lengths.shape != EI.shape:
        raise InputError(Problem("lengths and stiffnesses differ in number", accepted="one EI per segment"))
    good = np.isfinite(lengths) & (lengths > MERGE)
    if not good.all():
        bad = int(good.argmin())
        raise InputError(
            Problem(
                "a segment without length",
                where=f"segment {bad + 1}",
                value=f"{lengths[bad]:g}",
                accepted="a length above zero, mm",
                next_step="leave the segment out or give its length",
            )
        )
    ends = start + np.concatenate([[0.0], np.cumsum(lengths)])
    extra = np.atleast_1d(np.asarray(extra_points, dtype=np.float64))
    _on_shaft(extra, ends)
    x = _merged(np.concatenate([ends, extra]))
    segment = np.searchsorted(ends, (x[1:] + x[:-1]) / 2) - 1
    return Beam(x, EI[segment.clip(0, EI.size - 1)])


def _merged(points: Array) -> Array:
    """Return the points in order, without those that lie within MERGE of one already kept."""
    kept: list[float] = []
    for point in np.sort(points).tolist():
        if not kept or point - kept[-1] > MERGE:
            kept.append(point)
    return np.array(kept)


@dataclass(frozen=True, eq=False)
class Stations:
    """The state of the shaft at k places in c load cases, each (c, k): mm, rad, N·mm, N."""

    deflection: Array
    slope: Array
    moment: Array
    shear: Array


@dataclass(frozen=True, eq=False)
class Bending:
    """A bent shaft in c load cases.

    deflection, slope: (c, nodes), mm and rad. moment, shear: (c, elements, 2) at the left and right end
    of each element, N·mm and N.
    """

    beam: Beam
    deflection: Array
    slope: Array
    moment: Array
    shear: Array

    def at(self, points: ArrayLike) -> Stations:
        """Return the state at any places on the shaft (mm), exact between nodes, just right of a load.

        InputError off the shaft.
        """
        beam, points = self.beam, np.atleast_1d(np.asarray(points, dtype=np.float64))
        _on_shaft(points, beam.x)
        e = np.clip(np.searchsorted(beam.x, points, side="right") - 1, 0, beam.EI.size - 1)
        s, EI = points - beam.x[e], beam.EI[e]
        M, V = self.moment[:, e, 0], self.shear[:, e, 0]
        w = (self.shear[:, e, 1] - V) / beam.length[e]
        slope, sag = _integrated(M, V, w, s)
        return Stations(
            self.deflection[:, e] + self.slope[:, e] * s + sag / EI,
            self.slope[:, e] + slope / EI,
            M + V * s + w * s**2 / 2,
            V + w * s,
        )


def clamped(beam: Beam, force: Array, couple: Array, line: Array) -> Bending:
    """Return the shaft clamped at its drive end and free beyond it.

    force, couple: (c, nodes) at the nodes (N, N·mm); line: (c, elements) distributed (N/mm).
    """
    length = beam.length
    weight = line * length
    total, turn = resultant(beam, force, couple, line, beam.x[0])
    left = np.cumsum(force[:, :-1], axis=1) - total[:, None]
    V = left + _running(weight)[:, :-1]
    M = turn[:, None] - np.cumsum(couple[:, :-1], axis=1) + _running(V * length + weight * length / 2)[:, :-1]
    slope, sag = _integrated(M, V, line, length)
    theta = _running(slope / beam.EI)
    y = _running(theta[:, :-1] * length + sag / beam.EI)
    shear = np.stack([V, V + weight], axis=2)
    moment = np.stack([M, M + V * length + weight * length / 2], axis=2)
    return Bending(beam, y, theta, moment, shear)


def resultant(beam: Beam, force: Array, couple: Array, line: Array, about: float) -> tuple[Array, Array]:
    """Return the sum of the loads (N) and their moment about a place (N·mm), each (c,)."""
    weight = line * beam.length
    middle = (beam.x[1:] + beam.x[:-1]) / 2 - about
    return force.sum(1) + weight.sum(1), force @ (beam.x - about) + weight @ middle + couple.sum(1)


def _integrated(M: Array, V: Array, w: Array, s: Array) -> tuple[Array, Array]:
    """Return the first and second integral of the moment over a length s of an element."""
    return M * s + V * s**2 / 2 + w * s**3 / 6, M * s**2 / 2 + V * s**3 / 6 + w * s**4 / 24


def _running(steps: Array) -> Array:
    """Return the running sum along the shaft, from zero at the drive end."""
    return np.concatenate([np.zeros((len(steps), 1)), np.cumsum(steps, axis=1)], axis=1)


def _on_shaft(points: Array, x: Array) -> None:
    """Refuse points beyond the ends of the shaft."""
    off = ~((points >= x[0] - MERGE) & (points <= x[-1] + MERGE))
    if off.any():
        raise InputError(
            Problem(
                "a point off the shaft",
                where=f"x = {points[off][0]:g} mm",
                accepted=f"from {x[0]:g} to {x[-1]:g} mm",
            )
        )
