"""ISO 15312:2018, thermal speed rating of radial cylindrical roller bearings in an oil bath."""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from halfbore.sources import Source, Status
from halfbore.standards.validity import number, positive
from halfbore.working import Number, clause


def _source(place: str, note: str = "") -> Source:
    return Source("ISO 15312:2018", place, Status.FROM_MEMORY, note)


REFERENCE_AMBIENT_TEMPERATURE = 20.0
REFERENCE_BEARING_TEMPERATURE = 70.0
REFERENCE_VISCOSITY = 12.0
"""Ambient air and stationary ring [°C]; oil at 70 °C [mm²/s]: the reference conditions, from memory."""


class RollerSet(StrEnum):
    """How the rollers of a cylindrical roller bearing are kept apart."""

    CAGED = "caged"
    FULL_COMPLEMENT = "full complement"


_FACTORS = {
    (RollerSet.CAGED, "10"): (2.0, 0.00020),
    (RollerSet.CAGED, "02"): (2.0, 0.00030),
    (RollerSet.CAGED, "22"): (3.0, 0.00040),
    (RollerSet.CAGED, "03"): (2.0, 0.00035),
    (RollerSet.CAGED, "23"): (4.0, 0.00040),
    (RollerSet.CAGED, "04"): (2.0, 0.00040),
    (RollerSet.FULL_COMPLEMENT, "18"): (5.0, 0.00055),
    (RollerSet.FULL_COMPLEMENT, "29"): (6.0, 0.00055),
    (RollerSet.FULL_COMPLEMENT, "30"): (7.0, 0.00055),
    (RollerSet.FULL_COMPLEMENT, "22"): (8.0, 0.00055),
    (RollerSet.FULL_COMPLEMENT, "23"): (12.0, 0.00055),
}


@clause(_source("Annex A", "medium confidence"))
def friction_factors(rollers: RollerSet, dimension_series: str) -> tuple[float, float]:
    """Return the factors of the load-independent and load-dependent friction at reference conditions.

    ISO 15312:2018, Annex A (from memory, medium confidence).
    rollers: caged or full complement; dimension_series: two digits of ISO 15, such as "03".
    Returns f_0r and f_1r [-]; nan for a series that is not in the table.
    """
    return _FACTORS.get((rollers, dimension_series), (np.nan, np.nan))


@clause(_source("reference load"), "0.05*C_0r")
def reference_load(C_0r: Number) -> Number:
    """Return the reference load of a radial bearing.

    ISO 15312:2018, reference conditions (from memory).
    C_0r: basic static radial load rating [N].
    Returns P_1r [N].
    """
    return number(np.multiply(C_0r, 0.05))


@clause(_source("heat emitting reference surface area"), "pi*B*(D + d)")
def reference_area(d: Number, D: Number, B: Number) -> Number:
    """Return the heat emitting reference surface area of a radial bearing that is not tapered.

    ISO 15312:2018, reference surface area (from memory).
    d: bore [mm]; D: outside diameter [mm]; B: width [mm].
    Returns A_r [mm²].
    """
    return number(np.pi * B * (D + d))


@clause(_source("reference heat flow density"), "0.016*Min(1, (A_r/50000)**(-0.34))")
def reference_heat_flow_density(A_r: Number) -> Number:
    """Return the reference heat flow density of a radial bearing.

    ISO 15312:2018, reference heat flow density (from memory).
    A_r: heat emitting reference surface area [mm²].
    Returns q_r [W/mm²].
    """
    return number(0.016 * np.minimum(1.0, np.power(np.divide(A_r, 50_000), -0.34)))


@clause(
    _source("power loss at reference conditions"),
    "pi*n/30000*(10**(-7)*f_0r*(nu_r*n)**(2/3)*d_m**3 + f_1r*P_1r*d_m)",
)
def power_loss(
    n: Number, f_0r: Number, f_1r: Number, P_1r: Number, d_m: Number, nu_r: Number = REFERENCE_VISCOSITY
) -> Number:
    """Return the frictional power at reference conditions.

    ISO 15312:2018, thermal balance (from memory).
    n: speed [r/min]; f_0r, f_1r: friction factors [-]; P_1r: reference load [N]; d_m: mean diameter [mm];
    nu_r: viscosity at the reference temperature [mm²/s].
    Returns N_r [W].
    """
    moment = 1e-7 * f_0r * (nu_r * n) ** (2 / 3) * d_m**3 + f_1r * P_1r * d_m
    return number(np.pi * n / 30_000 * moment)


@clause(_source("thermal speed rating"))
def thermal_speed_rating(d: Number, D: Number, B: Number, C_0r: Number, f_0r: Number, f_1r: Number) -> Number:
    """Return the speed at which frictional power equals the heat that the reference conditions carry off.

    ISO 15312:2018 (from memory).
    d: bore [mm]; D: outside diameter [mm]; B: width [mm]; C_0r: basic static radial load rating [N];
    f_0r, f_1r: friction factors [-].
    Returns n_θr [r/min]; nan where an input is not above zero.
    """
    area = positive(reference_area(positive(d), positive(D), positive(B)))
    heat = number(reference_heat_flow_density(area) * area)
    d_m, load = (D + d) / 2, positive(reference_load(C_0r))
    # The balance is a n^(5/3) + b n = heat, convex in n, so Newton's steps come down from the right
    # without overshoot and settle in a few.
    a = number(np.pi / 30_000 * 1e-7 * positive(f_0r) * REFERENCE_VISCOSITY ** (2 / 3) * d_m**3)
    b = number(np.pi / 30_000 * positive(f_1r) * load * d_m)
    n = np.minimum((heat / a) ** (3 / 5), heat / b)
    for _ in range(8):
        n = n - (a * n ** (5 / 3) + b * n - heat) / (5 / 3 * a * n ** (2 / 3) + b)
    return number(n)
