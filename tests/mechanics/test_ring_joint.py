"""Ring joints against the load zone, and a roller at a joint."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from halfbore.mechanics import ring_joint as rj
from halfbore.mechanics.ring_joint import JointState

deg = np.radians
angles = st.floats(-10.0, 10.0)


@pytest.mark.parametrize(
    ("load", "joint", "distance"),
    [
        (180, 90, 90),
        (90, 90, 0),
        (-90, 90, 0),
        (200, 30, 10),
        (30, 200, 10),
        (135, 90, 45),
        (540, 270, 90),
        (1, 179, 2),
    ],
)
def test_distance_to_the_nearer_of_both_joints(load, joint, distance):
    # Joints at `joint` and half a turn on: 30° and 210°, so that a load at 200° is 10° from the nearer.
    assert rj.joint_distance(deg(load), deg(joint)) == pytest.approx(deg(distance), abs=1e-12)


@given(angles, angles)
def test_distance_stays_in_a_quarter_turn_and_does_not_mind_half_turns(load, joint):
    distance = rj.joint_distance(load, joint)
    assert 0.0 <= distance <= pi / 2.0
    assert rj.joint_distance(load + pi, joint) == pytest.approx(distance, abs=1e-9)
    assert rj.joint_distance(joint, load) == pytest.approx(distance, abs=1e-9)


def _force(zone: float, s: float, Z: float, K: float) -> float:
    """Radial load that makes this half zone, by quadrature of the roller loads from their definition."""
    delta = s / 2.0 / np.cos(zone)
    load = lambda psi: (delta * np.cos(psi) - s / 2.0) ** (10.0 / 9.0) * np.cos(psi)  # noqa: E731
    return Z * K / pi * quad(load, 0.0, zone * (1 - 1e-12), epsabs=0.0, epsrel=1e-10, limit=200)[0]


@pytest.mark.parametrize("degrees", [3.0, 20.0, 50.0, 80.0, 89.0, 91.0, 120.0, 170.0])
def test_half_zone_gives_back_the_zone_whose_load_was_integrated(degrees):
    s = 0.05 if degrees < 90 else -0.05
    F_r = _force(deg(degrees), s, 14, 280e3)
    assert np.degrees(rj.half_load_zone(F_r, s, 14, 280e3)) == pytest.approx(degrees, abs=0.01)


def test_half_zone_of_a_loose_bearing_of_series_209():
    # Z 14, K 278 604, clearance 0.041 mm, 4450 N. Computed by solving the integral: ε 0.17853, ψ_l 49.989°.
    zone = rj.half_load_zone(4450.0, 0.041, 14, 278603.93991763686)
    assert np.degrees(zone) == pytest.approx(49.98895, abs=1e-3)
    assert (1.0 - np.cos(zone)) / 2.0 == pytest.approx(0.178532, abs=1e-5)


def test_half_zone_at_its_ends():
    assert rj.half_load_zone(1000.0, 0.0, 14, 280e3) == pytest.approx(rj.ZONE_BOUND)
    assert rj.half_load_zone(0.0, 0.05, 14, 280e3) == 0.0
    assert rj.half_load_zone(0.0, 0.0, 14, 280e3) == 0.0
    assert rj.half_load_zone(0.0, -0.05, 14, 280e3) == pytest.approx(pi)
    assert np.isnan(rj.half_load_zone(1000.0, np.nan, 14, 280e3))
    assert np.isnan(rj.half_load_zone(np.nan, 0.0, 14, 280e3))


@given(st.floats(1.0, 1e6), st.floats(1.0, 1e6), st.floats(1e-4, 1.0))
def test_more_load_never_shortens_the_zone_and_more_clearance_never_lengthens_it(a, b, s):
    low, high = min(a, b), max(a, b)
    zone = rj.half_load_zone(np.array([low, high]), s, 20, 400e3)
    assert zone[0] <= zone[1] <= rj.ZONE_BOUND
    assert rj.half_load_zone(low, 2.0 * s, 20, 400e3) <= zone[0]


def test_the_rule_of_three():
    # 20 rollers: half a pitch is 9°. Zone 60° each way.
    distance = deg([90.0, 61.0, 59.0, 9.1, 9.0, 0.0, np.nan])
    clear, reached, peak = JointState.CLEAR, JointState.ZONE_REACHES, JointState.PEAK_ON_JOINT
    expected = [clear, clear, reached, reached, peak, peak, JointState.UNKNOWN]
    np.testing.assert_array_equal(rj.joint_state(distance, deg(60.0), 20), expected)
    assert [rj.joint_state(d, deg(60.0), 20) for d in distance] == expected
    assert rj.joint_state(distance[0], np.nan, 20) == JointState.UNKNOWN


def test_a_pull_turned_from_upright_to_level_moves_onto_a_level_joint():
    # A drum with half a turn of wrap pulls level, straight at a level joint (90°).
    states = rj.joint_state(rj.joint_distance(deg([180.0, 90.0]), deg(90.0)), deg(70.0), 24)
    np.testing.assert_array_equal(states, [JointState.CLEAR, JointState.PEAK_ON_JOINT])


def test_margin_is_what_is_left_between_zone_and_joint():
    assert rj.joint_margin(deg(90.0), deg(70.0)) == pytest.approx(deg(20.0))


def test_a_roller_bridges_a_sharp_gap():
    # 0.3 mm under a 25 mm roller: 0.09/100 = 0.9 µm. Exactly R - sqrt(R² - (g/2)²).
    assert rj.bridging_drop(0.3, 25.0) == pytest.approx(0.0009)
    assert rj.bridging_drop(0.3, 25.0) == pytest.approx(12.5 - np.sqrt(12.5**2 - 0.15**2), rel=1e-4)


def test_a_skewed_joint_takes_a_roller_bit_by_bit():
    # gap 0.4 mm, skew 5.71° (tan 0.1), roller 24 mm: 4 mm hangs free, over 2.8 mm of travel.
    skew = np.arctan(0.1)
    assert rj.unsupported_length(0.4, skew, 24.0) == pytest.approx(4.0)
    assert rj.joint_travel(0.4, skew, 24.0) == pytest.approx(2.8)
    assert rj.unsupported_length(0.4, 0.0, 24.0) == 24.0
