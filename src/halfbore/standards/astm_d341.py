"""ASTM D341, viscosity and temperature of liquid petroleum products, in the form with 0.7."""

from __future__ import annotations

import numpy as np

from halfbore.sources import Source, Status
from halfbore.standards.validity import Range, number, ratio
from halfbore.working import Number, clause

ZERO_CELSIUS = 273.15
"""Kelvins at 0 °C."""


def _source(place: str, note: str = "", status: Status = Status.PUBLISHED) -> Source:
    return Source("ASTM D341", place, status, note)


RANGES = {
    "nu": Range(
        2.0, 2e7, "mm²/s", _source("form with 0.7", "below about 2 mm²/s the constant 0.7 does not hold")
    ),
    "t": Range(-70.0, 370.0, "°C", _source("scope of the charts", status=Status.FROM_MEMORY)),
}


@clause(_source("two points"), "log(log(nu + 0.7, 10), 10)")
def double_logarithm(nu: Number) -> Number:
    """Return the double logarithm of a viscosity, which falls in a line over the logarithm of temperature.

    ASTM D341.
    nu: kinematic viscosity [mm²/s].
    Returns log10(log10(ν + 0.7)) [-]; nan below 2 mm²/s.
    """
    return number(np.log10(np.log10(np.add(RANGES["nu"].keep(nu), 0.7))))


@clause(
    _source("two points"),
    "(log(log(nu_1 + 0.7, 10), 10) - log(log(nu_2 + 0.7, 10), 10))/(log(T_2, 10) - log(T_1, 10))",
)
def slope(nu_1: Number, T_1: Number, nu_2: Number, T_2: Number) -> Number:
    """Return the slope of the line through two points.

    ASTM D341.
    nu_1, nu_2: kinematic viscosities [mm²/s]; T_1, T_2: their absolute temperatures [K].
    Returns B [-]; nan below 2 mm²/s and where viscosity does not fall with temperature.
    """
    fall = np.subtract(double_logarithm(nu_1), double_logarithm(nu_2))
    b = np.asarray(ratio(fall, np.log10(T_2) - np.log10(T_1)))
    return number(np.where(b > 0, b, np.nan))


@clause(_source("two points"), "log(log(nu_1 + 0.7, 10), 10) + B*log(T_1, 10)")
def intercept(nu_1: Number, T_1: Number, B: Number) -> Number:
    """Return the intercept of the line through one point.

    ASTM D341.
    nu_1: kinematic viscosity [mm²/s]; T_1: its absolute temperature [K]; B: slope [-].
    Returns A [-]; nan below 2 mm²/s.
    """
    return number(double_logarithm(nu_1) + B * np.log10(T_1))


@clause(_source("form with 0.7"), "10**(10**(A - B*log(T, 10))) - 0.7")
def viscosity_on_line(A: Number, B: Number, T: Number) -> Number:
    """Return the viscosity on a line.

    ASTM D341.
    A: intercept [-]; B: slope [-]; T: absolute temperature [K].
    Returns ν [mm²/s]; nan where it comes out below 2 or above 2e7 mm²/s.
    """
    with np.errstate(over="ignore"):
        nu = np.power(10.0, np.power(10.0, A - B * np.log10(T))) - 0.7
    return RANGES["nu"].keep(nu)


def viscosity(t: Number, nu_40: Number, nu_100: Number) -> Number:
    """Return the viscosity at a temperature from those at 40 °C and 100 °C.

    ASTM D341.
    t: temperature [°C]; nu_40, nu_100: kinematic viscosities at 40 °C and 100 °C [mm²/s].
    Returns ν [mm²/s]; nan outside -70 to 370 °C, for a viscosity below 2 mm²/s or above 2e7 mm²/s, and where
    viscosity does not fall with temperature.
    """
    cool, hot = ZERO_CELSIUS + 40, ZERO_CELSIUS + 100
    b = slope(nu_40, cool, nu_100, hot)
    return viscosity_on_line(intercept(nu_40, cool, b), b, RANGES["t"].keep(t) + ZERO_CELSIUS)
