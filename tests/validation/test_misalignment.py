"""Angle from a height difference, against the workshop rule of a millimetre in a metre."""

from __future__ import annotations

from collections.abc import Callable
from math import degrees, tan

import pytest

from halfbore.mechanics.tilt import height_slope, tilt_bound


def test_a_millimetre_in_a_metre(compare: Callable[..., None]) -> None:
    angle = degrees(height_slope(1.0, 1000.0))
    given = {"source": "workshop rule", "status": "from memory", "why": "last figure printed"}
    compare("1 mm in 1 m, in degrees", angle, 0.0573, atol=5e-5, **given)
    compare("1 mm in 1 m, in minutes", 60 * angle, 3.438, atol=5e-4, **given)


@pytest.mark.parametrize(
    ("height", "distance", "milliradians", "minutes"),
    [
        (1, 1000, 0.9999996666668668, 3.437745624870037),
        (2, 1500, 1.3333325432107193, 4.58365964480512),
        (5, 2400, 2.0833303192593924, 7.161962077512333),
        (0.5, 800, 0.6249999186198107, 2.1485914519761042),
    ],
)
def test_angle_of_a_height_difference(
    compare: Callable[..., None], height: float, distance: float, milliradians: float, minutes: float
) -> None:
    angle = height_slope(height, distance)
    given = {"source": "θ = atan(Δh/L)", "status": "computed", "rtol": 1e-9}
    compare(f"{height} mm in {distance} mm, in mrad", 1000 * angle, milliradians, **given)
    compare(f"{height} mm in {distance} mm, in minutes", 60 * degrees(angle), minutes, **given)
    compare(f"offset at {distance} mm, in mm", distance * tan(angle), height, **given)


def test_angles_at_a_support_add_up() -> None:
    assert tilt_bound(-0.0002, height_slope(0.5, 800.0), 0.001) == pytest.approx(0.0018250, abs=1e-7)
