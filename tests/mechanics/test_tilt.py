"""Tilt between shaft and housing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.mechanics import tilt

slopes = st.floats(-0.02, 0.02)


@pytest.mark.parametrize(
    ("error", "span", "degrees", "minutes"),
    [(1, 1000, 0.0573, 3.438), (2, 1500, 0.0764, 4.584), (5, 2400, 0.1194, 7.162)],
)
def test_slope_of_a_height_error(error, span, degrees, minutes):
    # atan(1/1000) = 0.0573° = 3.438'
    slope = tilt.height_slope(error, span)
    assert np.degrees(slope) == pytest.approx(degrees, abs=5e-5)
    assert np.degrees(slope) * 60.0 == pytest.approx(minutes, abs=5e-4)


def test_the_setting_range_is_many_times_what_rollers_bear():
    # ±1.5° is 26 mrad; rollers bear at most about 1 mrad.
    assert tilt.STATIC_ALIGNMENT.high == pytest.approx(0.026, abs=3e-4)
    assert tilt.STATIC_ALIGNMENT.high > 20.0 * tilt.ROLLER_TILT.high


def test_demand_with_known_signs_and_its_bound():
    # Shaft 0.8 mrad upright and 0.3 level, base 0.2 and -0.1: sqrt(0.6² + 0.4²) = 0.7211 mrad.
    assert tilt.tilt_demand(0.8e-3, 0.3e-3, 0.2e-3, -0.1e-3) == pytest.approx(0.7211e-3, rel=1e-4)
    assert tilt.tilt_bound(-0.8e-3, 0.5e-3, -0.2e-3) == pytest.approx(1.5e-3)


@given(slopes, slopes)
def test_the_bound_bounds_what_signs_can_do(shaft, base):
    assert tilt.tilt_demand(shaft, 0.0, base, 0.0) <= tilt.tilt_bound(shaft, 0.0, base) + 1e-15


def test_the_free_seat_takes_up_base_error_only():
    # Base error and rest slope 3 mrad in a seat of ±21 mrad: nothing left; in one of ±2 mrad: 1 mrad.
    np.testing.assert_allclose(tilt.tilt_not_set(3e-3, np.array([21e-3, 2e-3])), [0.0, 1e-3])
    assert tilt.roller_tilt_left(0.3e-3, 0.1e-3, 1e-3) == pytest.approx(1.4e-3)


def test_break_loose_moment_is_the_friction_summed_over_a_narrow_seat():
    # Radius 120 mm, µ 0.15; 20 kN pressed into the lower half, the cap presses 5 kN on the upper half and so
    # on the lower one too. Each element rubs against its own movement when the ring tilts about z.
    def friction_moment(force: float, middle: float) -> float:
        theta = middle + (np.arange(2000) + 0.5) / 2000 * np.pi - np.pi / 2.0
        outward = np.stack([np.zeros_like(theta), np.cos(theta), np.sin(theta)], axis=1)
        pressure = np.cos(theta - middle)
        normal = force * pressure / abs((pressure * outward[:, 1]).sum())
        moved = np.cross([0.0, 0.0, 1.0], 120.0 * outward)
        rub = -0.15 * normal[:, np.newaxis] * moved / np.linalg.norm(moved, axis=1)[:, np.newaxis]
        return float(-np.cross(120.0 * outward, rub)[:, 2].sum())

    lower, upper = friction_moment(20e3 + 5e3, np.pi), friction_moment(5e3, 0.0)
    assert lower == pytest.approx(450e3)
    assert tilt.break_loose_moment(20e3, 5e3, 120.0, 0.15) == pytest.approx(lower + upper)


def test_both_bounds_of_the_break_loose_moment():
    # 20 kN, no cap, R 120: 0.1·1.0·120·20 000 = 240 N·m to 0.3·1.3·120·20 000 = 936 N·m
    least = tilt.break_loose_moment(20e3, 0.0, 120.0, tilt.SEAT_FRICTION.low, tilt.SEAT_WIDTH.low)
    greatest = tilt.break_loose_moment(20e3, 0.0, 120.0, tilt.SEAT_FRICTION.high, tilt.SEAT_WIDTH.high)
    assert (least, greatest) == pytest.approx((240e3, 936e3))
