"""ISO 15312:2018: no worked example was published, so the balance is solved a second way.

The speeds below are regression values of our own.
"""

from __future__ import annotations

import math

import pytest
from scipy.optimize import brentq

from halfbore.standards.iso15312_2018 import (
    RollerSet,
    friction_factors,
    reference_area,
    reference_heat_flow_density,
    thermal_speed_rating,
)

CASES = [  # d, D, B [mm], C_0r [N], dimension series, speed [r/min]
    (50, 90, 20, 88_000, "02", 6263.488),
    (100, 180, 34, 305_000, "02", 3504.005),
    (100, 215, 47, 440_000, "03", 3339.718),
    (200, 360, 58, 1_060_000, "02", 1607.498),
    (200, 420, 80, 1_320_000, "03", 1449.395),
]


def by_bisection(d: float, D: float, B: float, C_0r: float, f_0r: float, f_1r: float) -> float:
    area, d_m = math.pi * B * (D + d), (D + d) / 2
    density = 0.016 if area <= 50_000 else 0.016 * (area / 50_000) ** -0.34

    def excess(n: float) -> float:
        moment = 1e-7 * f_0r * (12 * n) ** (2 / 3) * d_m**3 + f_1r * 0.05 * C_0r * d_m
        return math.pi * n / 30_000 * moment - density * area

    return float(brentq(excess, 1, 1e6))


@pytest.mark.parametrize(("d", "D", "B", "C_0r", "series", "speed"), CASES)
def test_thermal_speed_rating(d: float, D: float, B: float, C_0r: float, series: str, speed: float) -> None:
    f_0r, f_1r = friction_factors(RollerSet.CAGED, series)
    n = thermal_speed_rating(d, D, B, C_0r, f_0r, f_1r)
    assert n == pytest.approx(by_bisection(d, D, B, C_0r, f_0r, f_1r), rel=1e-9)
    assert n == pytest.approx(speed, rel=1e-6)


def test_heat_flow_density_is_continuous_where_it_begins_to_fall() -> None:
    assert reference_heat_flow_density(50_000.0) == pytest.approx(0.016)
    assert reference_heat_flow_density(50_000.001) == pytest.approx(0.016, rel=1e-6)
    assert reference_heat_flow_density(reference_area(50.0, 90.0, 20.0)) == pytest.approx(0.016)
