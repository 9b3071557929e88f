from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from halfbore.errors import InputError
from halfbore.mechanics import rotating

components = st.floats(-1e5, 1e5)
sizes = st.floats(1, 1e5)


def circle(size):
    start = np.array([size, 0.0])
    return start, rotating.quarter_turn(*start)


@given(components, components)
def test_purely_stationary_load_is_exact(y, z):
    loads = rotating.over_one_turn([y, z], [0, 0], [0, 0])
    size = np.hypot(y, z)
    for value in (rotating.equivalent(loads), rotating.peak(loads), rotating.least(loads)):
        assert value == pytest.approx(size, rel=1e-12, abs=1e-9)
    low, high = rotating.directions_swept(loads)
    # A load of −0 N points nowhere: the sum over the turn makes it +0.
    assert low == high == np.arctan2(z + 0.0, y + 0.0)


@given(sizes)
def test_purely_rotating_load_is_exact_and_goes_all_round(size):
    loads = rotating.over_one_turn([0, 0], *circle(size))
    for value in (rotating.equivalent(loads), rotating.peak(loads), rotating.least(loads)):
        assert value == pytest.approx(size, rel=1e-12)
    low, high = rotating.directions_swept(loads)
    assert high - low == pytest.approx(2 * pi)


@pytest.mark.parametrize("share", [0.05, 0.5, 0.95, 1.0, 1.3, 5.0])
def test_mean_agrees_with_the_integral(share):
    loads = rotating.over_one_turn([0.6, -0.8], *circle(share))
    whole, _ = quad(
        lambda t: np.hypot(0.6 + share * np.cos(t), -0.8 + share * np.sin(t)) ** (10 / 3),
        0,
        2 * pi,
        limit=200,
    )
    assert rotating.equivalent(loads) == pytest.approx((whole / (2 * pi)) ** 0.3, rel=1e-5)


@given(components, components, sizes)
def test_circling_load_adds_and_takes_away_its_whole_size(y, z, size):
    still = np.hypot(y, z)
    loads = rotating.over_one_turn([y, z], *circle(size))
    assert rotating.peak(loads) == pytest.approx(still + size, rel=1e-5)
    assert rotating.least(loads) == pytest.approx(abs(still - size), rel=1e-5, abs=5e-3 * (still + size))
    assert rotating.least(loads) <= rotating.equivalent(loads) <= rotating.peak(loads) * (1 + 1e-12)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_directions_swept_by_a_smaller_circle(share):
    low, high = rotating.directions_swept(rotating.over_one_turn([-1.0, 0.0], *circle(share)))
    assert (low + high) / 2 == pytest.approx(pi)
    assert (high - low) / 2 == pytest.approx(np.arcsin(share), rel=3e-3)


def test_load_that_only_swings_in_one_plane():
    loads = rotating.over_one_turn([1000.0, 0.0], [300.0, 0.0], [0.0, 0.0])
    assert rotating.peak(loads) == pytest.approx(1300)
    assert rotating.least(loads) == pytest.approx(700)
    low, high = rotating.directions_swept(loads)
    assert (low, high) == (0, 0)


def test_ellipse_has_its_own_peak_between_the_steps():
    """Steps of 5°: the parabola through three of them is good to some millionths."""
    angle = np.radians(47.3)
    turned = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    start, quarter = (turned @ np.diag([500.0, 200.0])).T
    start, quarter = (
        start * np.cos(0.04) + quarter * np.sin(0.04),
        quarter * np.cos(0.04) - start * np.sin(0.04),
    )
    assert rotating.peak(rotating.over_one_turn([0, 0], start, quarter)) == pytest.approx(500, rel=1e-5)
    assert rotating.least(rotating.over_one_turn([0, 0], start, quarter)) == pytest.approx(200, rel=1e-4)


def test_columns_equal_rows():
    still = np.array([[0.0, 500.0, -300.0], [1000.0, 0.0, 40.0]])
    size = np.array([0.0, 100.0, 900.0])
    start = np.stack([size, 0 * size])
    quarter = rotating.quarter_turn(*start)
    loads = rotating.over_one_turn(still, start, quarter)
    for function in (rotating.equivalent, rotating.peak, rotating.least, rotating.directions_swept):
        whole = function(loads)
        for k in range(3):
            row = function(rotating.over_one_turn(still[:, k], start[:, k], quarter[:, k]))
            np.testing.assert_allclose(whole[..., k], row, rtol=1e-12, atol=1e-12)


def test_one_stationary_load_serves_a_column_of_rotating_ones():
    start = np.array([[10.0, 20.0], [0.0, 0.0]])
    loads = rotating.over_one_turn([100.0, 0.0], start, rotating.quarter_turn(*start))
    np.testing.assert_allclose(rotating.peak(loads), [110, 120])


def test_more_rotating_load_never_means_less_damage():
    start = np.stack([np.linspace(0, 3000, 31), np.zeros(31)])
    loads = rotating.over_one_turn([1000.0, 0.0], start, rotating.quarter_turn(*start))
    assert (np.diff(rotating.equivalent(loads)) > 0).all()


def test_no_load_is_no_load():
    loads = rotating.over_one_turn([0, 0], [0, 0], [0, 0])
    assert rotating.equivalent(loads) == rotating.peak(loads) == rotating.least(loads) == 0


def test_too_few_steps_are_refused():
    with pytest.raises(InputError):
        rotating.over_one_turn([1, 0], [0, 0], [0, 0], 4)


def test_no_load_has_one_direction_whatever_the_sign_of_its_zero():
    for y, z in ((-0.0, 0.0), (0.0, -0.0), (-0.0, -0.0)):
        low, high = rotating.directions_swept(rotating.over_one_turn([y, z], [0, 0], [0, 0]))
        assert low == high == 0.0


@pytest.mark.parametrize("across", [0.0, 600.0])
def test_what_turns_swings_the_load_by_the_tangent_to_its_circle(across: float) -> None:
    low, turning = 1000.0, 500.0
    swing = float(rotating.swing(low, across, turning))
    around = np.linspace(0.0, 2 * np.pi, 20001)
    corners = np.array([[x, y] for x in (low, 3 * low) for y in (-across, 0.0, across)])
    sums = corners[:, None, :] + turning * np.stack([np.cos(around), np.sin(around)], axis=1)
    assert swing == pytest.approx(np.abs(np.arctan2(sums[..., 1], sums[..., 0])).max(), rel=1e-6)


def test_what_turns_past_the_steady_load_points_anywhere() -> None:
    assert rotating.swing(499.0, 0.0, 500.0) == np.pi
