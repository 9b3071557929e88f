from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.mechanics import minimum_load

speeds = st.floats(0, 5000)


@given(st.floats(1e4, 1e7), speeds, speeds, st.floats(50, 5000))
def test_faster_never_needs_less_and_the_rule_of_thumb_is_never_passed(capacity, one, other, limit):
    slow, fast = (minimum_load.minimum_load(capacity, n, limit) for n in sorted((one, other)))
    assert (
        0.005 * capacity * (1 - 1e-12) <= slow <= fast <= minimum_load.rule_of_thumb(capacity) * (1 + 1e-12)
    )


@given(st.floats(1e4, 1e6), st.floats(1.01, 5), speeds, st.floats(50, 5000))
def test_a_heavier_series_needs_more(capacity, heavier, speed, limit):
    light = minimum_load.minimum_load(capacity, speed, limit)
    assert minimum_load.minimum_load(heavier * capacity, speed, limit) > light


def test_at_the_speed_limit_it_is_the_rule_of_thumb():
    assert minimum_load.minimum_load(500e3, 1800.0, 1800.0) == minimum_load.rule_of_thumb(500e3) == 10_000


def test_half_speed_by_hand():
    """0.005 + 0.015/2 = 0.0125 of 400 kN."""
    assert minimum_load.minimum_load(400e3, 750.0, 1500.0) == pytest.approx(5000)


def test_traction_of_a_light_load_by_hand():
    """1.2 N·m of drag, d_m 180 mm, traction 0.02: 667 N."""
    assert minimum_load.traction_load(1200.0, 180.0, 0.02) == pytest.approx(666.7, abs=0.05)


def test_a_unit_without_a_rating_stays_unknown_in_its_column():
    found = minimum_load.minimum_load(np.array([4e5, np.nan, 4e5]), 750.0, np.array([1500.0, 1500.0, np.nan]))
    assert np.isnan(found).tolist() == [False, True, True]


@pytest.mark.parametrize(
    "call",
    [
        lambda: minimum_load.rule_of_thumb(0.0),
        lambda: minimum_load.minimum_load(4e5, 750.0, 0.0),
        lambda: minimum_load.minimum_load(4e5, -1.0, 1500.0),
        lambda: minimum_load.traction_load(1200.0, 180.0, 0.0),
    ],
)
def test_what_no_bearing_can_be_is_refused(call):
    with pytest.raises(InputError):
        call()
