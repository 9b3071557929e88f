"""Speeds inside a bearing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.mechanics import speed


def test_speeds_by_hand():
    # n 1000 r/min, D_we 20, D_pw 160: γ 0.125. Cage 437.5; roller 1000·160/40·(1 - 1/64) = 3937.5 r/min.
    assert speed.cage_speed(1000.0, 0.125) == pytest.approx(437.5)
    assert speed.roller_spin(1000.0, 0.125) == pytest.approx(3937.5)


def test_joint_frequencies_by_hand():
    # 20 rollers, 600 r/min, γ 0.125: inner 10·1.125·10 = 112.5 Hz, outer 10·0.875·10 = 87.5 Hz
    assert speed.inner_joint_frequency(600.0, 20, 0.125) == pytest.approx(112.5)
    assert speed.outer_joint_frequency(600.0, 20, 0.125) == pytest.approx(87.5)


@given(st.floats(1.0, 3000.0), st.integers(8, 60), st.floats(0.02, 0.4))
def test_frequencies_count_the_rollers_that_the_cage_carries_past(n, Z, gamma):
    # A joint of the standing ring sees Z rollers each turn of the cage, one of the turning ring those that
    # the shaft gains on the cage; together Z a turn of the shaft.
    cage = speed.cage_speed(n, gamma)
    assert speed.outer_joint_frequency(n, Z, gamma) == pytest.approx(Z * cage / 60.0)
    assert speed.inner_joint_frequency(n, Z, gamma) == pytest.approx(Z * (n - cage) / 60.0)


@given(st.floats(1.0, 3000.0), st.floats(0.02, 0.4))
def test_no_slip_at_both_raceways(n, gamma):
    # With D_pw = 1: raceways 1 - γ and 1 + γ, roller γ. Speeds of the surfaces in the frame of the cage.
    cage, spin = speed.cage_speed(n, gamma), speed.roller_spin(n, gamma)
    assert (n - cage) * (1.0 - gamma) == pytest.approx(spin * gamma)
    assert cage * (1.0 + gamma) == pytest.approx(spin * gamma)


def test_fallback_limit_of_a_grease_bearing():
    # 300 000 mm/min over 160 mm: 1875 r/min
    limit = speed.speed_limit_fallback(160.0, speed.SPEED_FACTOR_LIMIT["grease"].low)
    assert limit == pytest.approx(1875.0)
    assert speed.speed_factor(limit, 160.0) == pytest.approx(300_000.0)
