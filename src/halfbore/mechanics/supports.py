"""What carries the housing: limits by load direction, and what the base bolts must hold.

Directions are angles from straight up, positive from y to z [rad], of the force of the shaft on the housing.
"""

from __future__ import annotations

from math import pi

import numpy as np
from numpy.typing import NDArray

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import not_negative, positive
from halfbore.sources import derived, practice
from halfbore.working import Number, clause

_SECTORS = derived("table of sectors", "where two sectors meet, the smaller value counts")
_BASE = derived("statics of a stiff base on preloaded bolts", "weight of the unit left out, on the safe side")
_SLIP = derived("Coulomb friction under preloaded bolts")

BASE_FRICTION = Band(0.10, 0.20, "", practice("friction of a housing on its base, painted or packed"))
QUADRANTS = np.array([pi / 4.0, 3.0 * pi / 4.0, 5.0 * pi / 4.0, 7.0 * pi / 4.0])
"""Edges of the sectors sideways, down, sideways, up [rad]."""


@clause(_SECTORS)
def sector_limit(
    direction: Number, edges: NDArray[np.float64], values: NDArray[np.float64]
) -> NDArray[np.float64] | float:
    """Return the limit of the sector in which a load points, in the unit of the values.

    table of sectors
    direction: of the load, any number of turns [rad].
    edges: where each sector begins, rising within one turn, one row or one row a unit [rad].
    values: limit of each sector; the last one goes on to the first edge of the next turn.
    """
    just = 1e-9
    before = _at(np.asarray(direction) - just, edges, values)
    return np.minimum(before, _at(np.asarray(direction) + just, edges, values))[()]


def _at(direction: NDArray[np.float64], edges: NDArray[np.float64], values: NDArray[np.float64]) -> Number:
    angle = np.mod(direction, 2.0 * pi)[..., np.newaxis]
    row = (np.asarray(edges) <= angle).sum(axis=-1, keepdims=True) - 1
    table = np.broadcast_to(values, np.broadcast_shapes(np.shape(values), (*row.shape[:-1], 1)))
    row = np.broadcast_to(row % np.shape(values)[-1], (*table.shape[:-1], 1))
    found = np.take_along_axis(table, row, axis=-1)[..., 0]
    return np.where(np.isnan(angle[..., 0]), np.nan, found)


@clause(_BASE, "Max(F*cos(direction)/2 + Abs(F*sin(direction))*height/spacing, 0)/per_side")
def bolt_tension(
    F: Number, direction: Number, height: Number, spacing: Number, per_side: Number = 1.0
) -> Number:
    """Return the load that one bolt of the more loaded side must hold [N].

    statics of a stiff base on preloaded bolts
    F: radial load [N]. direction: of F on the housing [rad]. height: of the shaft centre above the base [mm].
    spacing: of the bolts across the shaft [mm]. per_side: bolts on each side, 1 for two bolts, 2 for four.
    """
    not_negative(F=F)
    positive(spacing=spacing, per_side=per_side)
    lift = F * np.cos(direction) / 2.0
    turn = np.abs(F * np.sin(direction)) * height / spacing
    return np.maximum(lift + turn, 0.0) / per_side


@clause(_BASE, "F_a*height/(lever*bolts)")
def axial_bolt_tension(F_a: Number, height: Number, lever: Number, bolts: Number = 2.0) -> Number:
    """Return the further load on each holding bolt from an axial load on the housing [N].

    statics of a stiff base on preloaded bolts
    F_a: axial load [N]. height: of the shaft centre above the base [mm]. bolts: that hold.
    lever: from the edge about which the base would tip to the bolts, along the shaft [mm];
    with two bolts half the length of the base, with four the distance of the far pair from the edge.
    """
    positive(lever=lever, bolts=bolts)
    return F_a * height / (lever * bolts)


@clause(_BASE, "F_v - tension")
def clamping_left(F_v: Number, tension: Number) -> Number:
    """Return the force that still presses the base down at a bolt; below zero the base lifts [N].

    statics of a stiff base on preloaded bolts
    F_v: preload of the bolt [N]. tension: load on it, see bolt_tension [N].
    """
    return F_v - tension


@clause(_SLIP, "friction*Max(bolts*F_v - F*cos(direction), 0)")
def slip_capacity(F: Number, direction: Number, F_v: Number, bolts: Number, friction: Number) -> Number:
    """Return the force along the base at which the housing slips [N].

    Coulomb friction under preloaded bolts
    F: radial load [N]. direction: of F on the housing [rad]. F_v: preload of each bolt [N].
    bolts: number of base bolts. friction: see BASE_FRICTION.
    """
    not_negative(F=F, F_v=F_v, bolts=bolts, friction=friction)
    return friction * np.maximum(bolts * F_v - F * np.cos(direction), 0.0)


@clause(_SLIP, "sqrt(Max(slip**2 - (F*sin(direction))**2, 0))")
def axial_slip_capacity(F: Number, direction: Number, slip: Number) -> Number:
    """Return the axial load that the base holds beside the sideways part of the radial load [N].

    Coulomb friction under preloaded bolts
    F: radial load [N]. direction: of F on the housing [rad]. slip: see slip_capacity [N].
    """
    return np.maximum(slip**2 - (F * np.sin(direction)) ** 2, 0.0) ** 0.5
