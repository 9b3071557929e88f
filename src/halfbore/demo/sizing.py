"""Invented bearings by rule: rollers, rings, ratings, clearances and masses from bore and row size.

The rules are our own and smooth; no table of any maker was used. Ratings follow ISO 281:2007 and ISO 76:2006.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.standards import iso76_2006, iso281_2007

Floats = NDArray[np.float64]

STEEL = 7.85e-6
"""Density of steel [kg/mm³]."""
_ROLLER_STEPS = np.array([*range(7, 20), *range(20, 44, 2), *range(45, 100, 3)], dtype=float)
"""Roller diameters that are made [mm]; invented."""


@dataclass(frozen=True)
class Style:
    """How one supplier sizes its bearings; a list has an entry for each row size, light to heavy.

    roller: roller diameter at 100 mm bore [mm]; slender: roller length over diameter; gap: cage gap over roller
    diameter; ring: thickness of the rings over the rule; axial: axial load over Z D_we² [MPa];
    turning: speed limit times pitch diameter [mm/min]; tilt: tilt that rollers bear [rad].
    """

    roller: tuple[float, ...]
    slender: tuple[float, ...]
    gap: float
    ring: float
    axial: float
    turning: tuple[float, ...]
    tilt: float


@dataclass(frozen=True)
class Bearings:
    """Bearings of one supplier, a column a property (n)."""

    bore: Floats
    row: NDArray[np.intp]
    rollers: Floats
    diameter: Floats
    length: Floats
    raceway: Floats
    outside: Floats
    pitch: Floats
    dynamic: Floats
    static: Floats
    axial: Floats
    speed: Floats
    ring_width: Floats
    mass: Floats


def bearings(bore: Floats, row: NDArray[np.intp], style: Style) -> Bearings:
    """Return the bearings of these bores [mm] and row sizes (from 1) in a supplier's style."""
    wanted = np.array(style.roller)[row - 1] * (bore / 100) ** 0.6
    diameter = _ROLLER_STEPS[np.abs(_ROLLER_STEPS - wanted[:, None]).argmin(1)]
    whole = np.rint(np.array(style.slender)[row - 1] * diameter)
    length = np.round(whole - 0.06 * diameter - 0.6, 1)
    inner = style.ring * (3 + 0.05 * bore + 0.1 * diameter)
    raceway = bore + 2 * np.round(inner, 1)
    pitch = raceway + diameter
    rollers = _even_rollers(pitch, diameter, style.gap)
    outer = style.ring * (3 + 0.03 * bore + 0.12 * diameter)
    outside = pitch + diameter + 2 * np.round(outer, 1)
    ring_width = whole + 0.7 * diameter
    return Bearings(
        bore=bore,
        row=row,
        rollers=rollers,
        diameter=diameter,
        length=length,
        raceway=raceway,
        outside=outside,
        pitch=pitch,
        dynamic=rated(rollers, diameter, length, pitch),
        static=rated_static(rollers, diameter, length, pitch),
        axial=style.axial * rollers * diameter**2,
        speed=np.array(style.turning)[row - 1] / pitch,
        ring_width=ring_width,
        mass=_mass(bore, raceway, pitch + diameter, outside, ring_width, rollers, diameter, whole),
    )


def _even_rollers(pitch: Floats, diameter: Floats, gap: float) -> Floats:
    """Return how many rollers go round: the cage is in two halves, each with a bar more than pockets."""
    around = np.pi * pitch - 2 * gap * diameter
    return 2 * np.floor(around / (2 * (1 + gap) * diameter))


def rated(rollers: Floats, diameter: Floats, length: Floats, pitch: Floats) -> Floats:
    """Return the basic dynamic radial load rating by ISO 281:2007, 7.1, of one row of cylindrical rollers [N]."""
    gamma = iso281_2007.gamma(diameter, 0.0, pitch)
    factor = iso281_2007.b_m(iso281_2007.RollerBearingKind.CYLINDRICAL)
    f_c = iso281_2007.f_c(gamma)
    rating = iso281_2007.basic_dynamic_radial_load_rating(factor, f_c, 1, length, 0.0, rollers, diameter)
    return np.asarray(rating)


def rated_static(rollers: Floats, diameter: Floats, length: Floats, pitch: Floats) -> Floats:
    """Return the basic static radial load rating by ISO 76:2006 of one row of cylindrical rollers [N]."""
    return np.asarray(iso76_2006.basic_static_radial_load_rating(1, rollers, length, diameter, 0.0, pitch))


def _mass(
    bore: Floats,
    raceway: Floats,
    outer_raceway: Floats,
    outside: Floats,
    width: Floats,
    rollers: Floats,
    diameter: Floats,
    length: Floats,
) -> Floats:
    """Return the mass of a bearing set: two rings, rollers, cage, two clamping rings [kg]."""
    rings = _tube(bore, raceway, width) + _tube(outer_raceway, outside, 0.95 * width)
    elements = rollers * _tube(0 * diameter, diameter, length)
    clamps = 2 * _tube(bore, 1.25 * bore + 18, clamp_width(bore))
    return STEEL * (rings + 1.25 * elements + clamps)


def clamp_width(bore: Floats) -> Floats:
    """Return the width of a clamping ring [mm]."""
    return 8 + 0.09 * bore


def _tube(inside: Floats, outside: Floats, width: Floats) -> Floats:
    """Return the volume of a tube [mm³]."""
    return np.pi / 4 * (outside**2 - inside**2) * width


def significant(values: Floats, digits: int) -> Floats:
    """Return values rounded to so many significant digits, as catalogues print them."""
    with np.errstate(divide="ignore", invalid="ignore"):
        size = np.floor(np.log10(np.abs(values)))
    step = 10.0 ** (np.where(np.isfinite(size), size, 0) - digits + 1)
    return np.round(values / step) * step
