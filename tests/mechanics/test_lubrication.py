"""Grease: amount, interval, fill."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.mechanics import lubrication as grease
from halfbore.mechanics.lubrication import Fill


def test_amount_by_hand():
    # 0.005·180·34 = 30.6 g
    assert grease.relubrication_amount(180.0, 34.0) == pytest.approx(30.6)


def test_interval_by_hand():
    # 5·(14e6/(1500·10) - 400) = 5·533.33 = 2666.7 h
    assert grease.relubrication_interval(1500.0, 100.0) == pytest.approx(2666.67, rel=1e-5)


def test_past_its_range_the_formula_gives_no_number():
    # n·d^1.5 = 3500·1000 = 3.5e6: the bracket is zero.
    interval = grease.relubrication_interval(np.array([3499.0, 3500.0, 3600.0]), 100.0)
    assert interval[0] > 0.0
    assert np.isnan(interval[1:]).all()


@pytest.mark.parametrize(
    ("t", "factor"), [(20.0, 1.0), (70.0, 1.0), (85.0, 0.5), (100.0, 0.25), (77.5, 0.7071)]
)
def test_half_for_every_fifteen_kelvin_above_seventy(t, factor):
    assert grease.temperature_factor(t) == pytest.approx(factor, rel=1e-4)


@given(st.floats(10.0, 1000.0), st.floats(10.0, 1000.0))
def test_faster_is_never_longer(a, b):
    assert grease.relubrication_interval(max(a, b), 100.0) <= grease.relubrication_interval(min(a, b), 100.0)


def test_fans_are_kept_a_third_full_and_slow_dirty_drives_filled_up():
    # 140 mm fan at 1480: n·d_m about 266 000; conveyor 151 mm at 62: about 12 000.
    speeds, dirty = np.array([266e3, 100e3, 12e3, 12e3, np.nan]), np.array([True, True, True, False, False])
    rows = grease.housing_fill(speeds, dirty)
    np.testing.assert_array_equal(
        rows, [Fill.FAST, Fill.MEDIUM, Fill.SLOW_DIRTY, Fill.SLOW_CLEAN, Fill.UNKNOWN]
    )
    assert [grease.housing_fill(s, d) for s, d in zip(speeds, dirty, strict=True)] == list(rows)
    assert grease.HOUSING_FILL[Fill.FAST].high == pytest.approx(1.0 / 3.0)
    assert grease.HOUSING_FILL[Fill.SLOW_DIRTY].low == 0.70


def test_mass_of_a_fill():
    # one litre of room, a third full, 0.9 g/cm³: 300 g
    assert grease.grease_mass(1e6, 1.0 / 3.0) == pytest.approx(300.0)
