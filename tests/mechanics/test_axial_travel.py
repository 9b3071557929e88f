"""Axial travel against growth."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.mechanics import axial_travel as travel

growths = st.floats(-5.0, 5.0)


def test_the_first_part_that_touches_ends_the_travel():
    track, seal, housing = np.array([8.0, 8.0, 2.0, 8.0]), np.array([3.0, 9.0, 9.0, np.nan]), 5.0
    np.testing.assert_array_equal(travel.available_travel(track, seal, housing), [3.0, 5.0, 2.0, np.nan])
    np.testing.assert_array_equal(travel.governing_travel(track, seal, housing), [1, 2, 0, -1])
    assert travel.governing_travel(8.0, 3.0, 5.0) == 1


def test_growth_of_a_fan_shaft_with_a_cold_start():
    # Shaft 2.4 m, growth 2.0 mm hot, -0.4 mm when the base leads. In the middle: 2.0 + 0.5 = 2.5 mm needed;
    # set 0.8 mm towards the locating side: 1.2 + 0.5 = 1.7 mm each way.
    assert travel.travel_needed(-0.4, 2.0, 0.0, 0.5) == pytest.approx(2.5)
    offset = travel.best_offset(-0.4, 2.0)
    assert offset == pytest.approx(-0.8)
    assert travel.travel_needed(-0.4, 2.0, offset, 0.5) == pytest.approx(1.7)
    assert travel.travel_margin(3.0, 2.5) == pytest.approx(0.5)


@given(growths, growths, growths)
def test_no_offset_beats_the_best_one(a, b, offset):
    low, high = min(a, b), max(a, b)
    best = travel.travel_needed(low, high, travel.best_offset(low, high), 0.5)
    assert best <= travel.travel_needed(low, high, offset, 0.5) + 1e-12
    assert best == pytest.approx((high - low) / 2.0 + 0.5)


@given(growths, growths, growths)
def test_travel_does_not_mind_which_end_is_called_left(a, b, offset):
    low, high = min(a, b), max(a, b)
    assert travel.travel_needed(low, high, offset, 0.5) == travel.travel_needed(-high, -low, -offset, 0.5)
