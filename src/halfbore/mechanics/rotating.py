"""A stationary and a rotating load together, over one turn of the shaft.

Vectors have (y, z) on their first axis; further axes are positions, conditions or units. The rotating
load is known by two solutions a quarter turn apart, so that it may sweep a circle or an ellipse.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.mechanics.forces import vector
from halfbore.mechanics.given import positive, refuse
from halfbore.sources import derived
from halfbore.working import Number, clause

Vectors = NDArray[np.float64]

POINTS = 72
"""Places in one turn, 5° apart; the trapezoid rule on a whole turn is their plain mean."""

ROLLER_EXPONENT = 10 / 3

LEAST = 1e-9
"""Below this a load is none [N]."""

_SUM = derived("vector sum of a stationary and a rotating load")
_MEAN = derived("equal damage over one turn by the life equation of ISO 281:2007")


@clause(_SUM, "(-z, y)")
def quarter_turn(y: Number, z: Number) -> Vectors:
    """Vector that a load of constant size has become after a quarter turn from y to z.

    Derived: rotation in the plane
    y, z: components before [N].
    Returns (y, z) after [N].
    """
    return vector(-np.asarray(z, np.float64), y)


@clause(_SUM)
def over_one_turn(
    stationary: ArrayLike, at_start: ArrayLike, at_quarter: ArrayLike, points: int = POINTS
) -> Vectors:
    """Load at equal steps of one turn.

    Derived: vector sum of a stationary and a rotating load
    stationary: load that keeps its direction, (y, z) [N]; at_start, at_quarter: rotating load at
    the start and after a quarter turn, (y, z) [N]; points: steps, 8 or more.
    Returns an array (step, y or z, ...) [N]. Raises InputError for fewer steps.
    """
    refuse(points < 8, "8 or more", points=points)
    given = [np.asarray(v, np.float64) for v in (stationary, at_start, at_quarter)]
    axes = max(v.ndim for v in given)
    still, start, quarter = (v.reshape(v.shape + (1,) * (axes - v.ndim)) for v in given)
    angle = (np.arange(points) * (2 * np.pi / points)).reshape(-1, *(1,) * axes)
    loads: Vectors = still + start * np.cos(angle) + quarter * np.sin(angle)
    return loads


@clause(_MEAN)
def equivalent(loads: Vectors, exponent: float = ROLLER_EXPONENT) -> Vectors:
    """Load of constant size that does the damage of one turn.

    Derived: equal damage over one turn by the life equation of ISO 281:2007
    loads: from over_one_turn [N]; exponent: life exponent, 10/3 for rollers.
    Returns the mean with that exponent [N]; exact for a purely stationary or circling load.
    """
    positive(exponent=exponent)
    size = _size(loads)
    largest = size.max(axis=0)
    scale = np.where(largest > 0, largest, 1.0)
    mean: Vectors = np.mean((size / scale) ** exponent, axis=0) ** (1 / exponent) * scale
    return mean


@clause(_SUM)
def peak(loads: Vectors) -> Vectors:
    """Largest load of one turn, between the steps too.

    Derived: vector sum of a stationary and a rotating load
    loads: from over_one_turn [N].
    Returns the size [N].
    """
    return np.sqrt(_crest(_size(loads) ** 2))


@clause(_SUM)
def least(loads: Vectors) -> Vectors:
    """Smallest load of one turn, between the steps too.

    Derived: vector sum of a stationary and a rotating load
    loads: from over_one_turn [N].
    Returns the size [N]; zero when the load passes through nothing.
    """
    return np.sqrt(np.maximum(-_crest(-(_size(loads) ** 2)), 0.0))


@clause(_SUM)
def directions_swept(loads: Vectors) -> Vectors:
    """Range of directions that the load sweeps in one turn.

    Derived: vector sum of a stationary and a rotating load
    loads: from over_one_turn [N].
    Returns (first, last) angle from +y, positive from y to z [rad], last not below first; a full
    turn apart when the load goes all the way round. Sampled: a little narrower than the true range.
    """
    closed = np.concatenate([loads, loads[:1]]) + 0.0  # −0 N would point down, 0 N up
    angles = np.unwrap(np.arctan2(closed[:, 1], closed[:, 0]), axis=0)
    low, high = angles.min(axis=0), angles.max(axis=0)
    all_round = np.abs(angles[-1] - angles[0]) > np.pi
    return vector(low, np.where(all_round, low + 2 * np.pi, high))


@clause(_SUM)
def swing(low: Number, across: Number, turning: Number) -> Vectors:
    """Half width of the range of directions of a steady load in a range, with a rotating one on top.

    Derived: tangent to the circle of the rotating load about the steady one
    low: least steady load in its likely direction; across: most beside it; turning: largest rotating load [N].
    Returns the angle to either side [rad]; half a turn where the sum may be nothing.
    """
    least = np.maximum(low, LEAST)
    tangent = np.arcsin(np.minimum(turning / np.hypot(least, across), 1.0))
    return np.where(np.asarray(low) > turning, np.arctan2(across, least) + tangent, np.pi)


def _size(loads: Vectors) -> Vectors:
    return np.hypot(loads[:, 0], loads[:, 1])


def _crest(values: Vectors) -> Vectors:
    """Largest value of a smooth periodic row, by a parabola through the highest three."""
    top = values.argmax(axis=0)[np.newaxis]
    left, middle, right = (
        np.take_along_axis(values, (top + step) % len(values), axis=0)[0] for step in (-1, 0, 1)
    )
    bend = 2 * middle - left - right
    rise = (right - left) ** 2 / np.where(bend > 0, 8 * bend, 1.0)
    crest: Vectors = middle + np.where(bend > 0, rise, 0.0)
    return crest
