"""Seals: what each kind bears when the supplier's table says nothing.

A contact seal rubs and has a limit of surface speed; a gap does not rub, nor keep standing water out.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from math import inf, nan, pi

import numpy as np
from numpy.typing import NDArray

from halfbore.mechanics.given import not_negative
from halfbore.sources import Source, Status, derived, practice
from halfbore.working import Number, clause

_CUSTOM = practice("seals of split plummer blocks")
_ELASTOMER = Source("handbooks on seals", "elastomers", Status.FROM_MEMORY)


class Dust(IntEnum):
    """Dust and dirt outside a seal, rising."""

    NONE = 0
    DUST = 1
    HEAVY = 2


class Water(IntEnum):
    """Water outside a seal, rising."""

    NONE = 0
    SPLASH = 1
    JET = 2
    STANDING = 3


@dataclass(frozen=True)
class SealKind:
    """What one kind of seal bears by custom.

    contact: it rubs on the shaft. shaft_through: a shaft can pass. speed_limit: surface speed [m/s].
    temperature_limit: of the seal itself, not of its grease or rings [°C].
    dust, water: the worst that it keeps out. pressure: keeps dust out against gas pressure across a casing.
    purge: needs grease through it to do so at the worst of dust or water.
    """

    name: str
    contact: bool
    shaft_through: bool
    speed_limit: float
    temperature_limit: float
    dust: Dust
    water: Water
    pressure: bool
    purge: bool
    source: Source = _CUSTOM


SEALS = (
    SealKind("packing (aramid)", True, True, 5.0, 200.0, Dust.HEAVY, Water.STANDING, True, True),
    SealKind("labyrinth, grease-packed", False, True, inf, inf, Dust.DUST, Water.SPLASH, False, True),
    SealKind("closed end cover", False, False, inf, inf, Dust.HEAVY, Water.STANDING, True, False),
    SealKind("felt", True, True, 4.0, 100.0, Dust.DUST, Water.NONE, False, False),
)
"""Packing, labyrinth and closed end stand in the order of a catalogue's seal columns."""


@dataclass(frozen=True)
class RingMaterial:
    """What an O-ring bears that holds a labyrinth ring on the shaft [°C]."""

    name: str
    least: float
    greatest: float
    source: Source = _ELASTOMER


RING_MATERIALS = (
    RingMaterial("nitrile", -30.0, 100.0),
    RingMaterial("fluoro", -20.0, 200.0),
)


def limits_of(field: str) -> NDArray[np.float64]:
    """Return one field of all seal kinds as numbers, for look-up by kind."""
    return np.array([float(getattr(kind, field)) for kind in SEALS])


@clause(derived("surface speed of a turning shaft"), "pi*d*n/60000")
def surface_speed(d: Number, n: Number) -> Number:
    """Return the speed of the shaft's surface under a seal [m/s].

    surface speed of a turning shaft
    d: shaft diameter under that seal [mm]. n: speed [r/min].
    """
    not_negative(d=d, n=n)
    return pi * d * n / 60000.0


@clause(_CUSTOM)
def speed_limit_fallback(kind: NDArray[np.int64] | int) -> Number:
    """Return the surface speed that a kind of seal bears by custom, without limit for a gap [m/s].

    seals of split plummer blocks, common practice
    kind: row of SEALS; NaN for a kind that is not there.
    """
    return _looked_up("speed_limit", kind)


@clause(_CUSTOM)
def temperature_limit_fallback(kind: NDArray[np.int64] | int) -> Number:
    """Return the temperature that a kind of seal bears by custom [°C].

    seals of split plummer blocks, common practice
    kind: row of SEALS; NaN for a kind that is not there. Rings and grease have limits of their own.
    """
    return _looked_up("temperature_limit", kind)


def _looked_up(field: str, kind: NDArray[np.int64] | int) -> Number:
    row = np.asarray(kind)
    there = (row >= 0) & (row < len(SEALS))
    return np.where(there, limits_of(field)[np.where(there, row, 0)], nan)[()]


@clause(_CUSTOM)
def keeps_out(
    kind: NDArray[np.int64] | int, dust: int, water: int, pressure: bool = False
) -> NDArray[np.bool_] | bool:
    """Return whether a kind of seal keeps out this dust and this water by custom.

    seals of split plummer blocks, common practice
    kind: row of SEALS; a kind that is not there keeps nothing out. dust, water: see Dust, Water.
    pressure: gas pressure differs across a casing wall at the seal.
    """
    enough = (_looked_up("dust", kind) >= dust) & (_looked_up("water", kind) >= water)
    return enough & ((_looked_up("pressure", kind) > 0.0) | (not pressure))
