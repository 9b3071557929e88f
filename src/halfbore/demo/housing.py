"""Invented housings and supports by rule: dimensions, masses, what they bear, and prices."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.demo.sizing import Bearings, clamp_width
from halfbore.domain.unit import Support

Floats = NDArray[np.float64]

IRON = 7.2e-6
"""Density of cast iron [kg/mm³]."""


@dataclass(frozen=True)
class Form:
    """What one support does to the rules: factors on mass and price, load limits over its strength.

    lip: depth of the cradle's lip over the housing's outside diameter.
    """

    mass: float
    price: float
    down: float
    side: float
    up: float
    housing_axial: float
    lip: float


FORMS = {
    Support.PLAIN: Form(1.00, 1.00, 0.90, 0.45, 0.35, 0.12, 0.15),
    Support.SIDE_ENTRY: Form(1.15, 1.12, 0.80, 0.32, 0.30, 0.10, 0.01),
    Support.FLANGE: Form(0.55, 0.86, 0.40, 0.40, 0.40, 0.15, 0.12),
    Support.TAKE_UP: Form(0.80, 1.05, 0.30, 0.50, 0.30, 0.08, 0.12),
}


def housing_outside(b: Bearings) -> Floats:
    """Return the outside diameter of the housing [mm]."""
    return b.outside + 12 + 0.12 * b.bore


def length(b: Bearings) -> Floats:
    """Return the length along the shaft over clamping rings and seals [mm]."""
    return b.ring_width + 2 * clamp_width(b.bore) + 52 + 0.4 * b.bore


def bolt_spacing(bore: Floats) -> Floats:
    """Return the distance of the base bolts across the shaft [mm]."""
    return 5 * np.rint((2.8 * bore + 55) / 5)


def bolt_size(bore: Floats) -> Floats:
    """Return the diameter of the base bolts [mm]."""
    made = np.array([10, 12, 16, 20, 24, 30, 36, 42, 48, 56], dtype=float)
    return np.asarray(made[np.searchsorted(made, 0.16 * bore + 3).clip(0, len(made) - 1)])


def centre_height(bore: Floats) -> Floats:
    """Return the height of the shaft centre above the base [mm]."""
    return 5 * np.rint((bore + 37) / 5)


def width(bore: Floats) -> Floats:
    """Return the width over the feet [mm]."""
    return bolt_spacing(bore) + 2.4 * bolt_size(bore) + 20


def cartridge_mass(b: Bearings) -> Floats:
    """Return the mass of the housing around the bearing with its seal covers [kg]."""
    ring = np.pi / 4 * (housing_outside(b) ** 2 - b.outside**2)
    return IRON * 1.5 * ring * 0.62 * length(b)


def support_mass(b: Bearings, form: Form) -> Floats:
    """Return the mass of the support alone [kg]."""
    block = width(b.bore) * centre_height(b.bore) * 0.62 * length(b)
    return IRON * 0.42 * block * form.mass


def strength(bore: Floats) -> Floats:
    """Return the load that the castings of a bore are made for [N]."""
    return 380e3 * (bore / 100) ** 1.65


def grip(bore: Floats) -> Floats:
    """Return the axial load at which two clamping rings slip on a dry shaft [N].

    Two screws a ring press with four times their preload at least; friction 0.12.
    """
    preload = 0.85 * 38e3 * (bore / 100) ** 1.1
    return 0.12 * 2 * 4 * preload


def price(mass: Floats, form: Form) -> Floats:
    """Return the price of a unit without seals, before the supplier's factor."""
    return form.price * (200 + 95 * mass**0.8)
