"""Axial load on a locating unit: flange contacts, couple on the rollers, the chain."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from halfbore.mechanics import axial
from halfbore.mechanics.speed import cage_speed, roller_spin

positive = st.floats(0.1, 100.0)


@given(st.floats(0.02, 0.4), st.floats(10.0, 3000.0))
def test_sliding_speeds_follow_from_the_turning_of_roller_and_rings(gamma, n):
    # v = h·|relative turning speed of roller and ring| about the line where the roller touches the raceway:
    # inner h(ω_r + ω_i - ω_c), outer h|ω_r - ω_c|, with ω_r the spin against the cage.
    omega = lambda speed: speed * pi / 30.0  # noqa: E731
    spin, cage = omega(roller_spin(n, gamma)), omega(cage_speed(n, gamma))
    assert axial.inner_flange_speed(2.0, n, gamma) == pytest.approx(2.0e-3 * (spin + omega(n) - cage))
    assert axial.outer_flange_speed(2.0, n, gamma) == pytest.approx(2.0e-3 * abs(spin - cage))


def test_flange_heat_by_hand():
    # h 2 mm, 990 r/min, γ 0.125: ω = 103.67 rad/s; v_i = 2·103.67·1.125/0.25 = 0.9331 m/s,
    # v_e = 2·103.67·0.875/0.25 = 0.7257 m/s; 1500 N and µ 0.04: 0.04·1500·1.6588 = 99.5 W.
    v_i, v_e = axial.inner_flange_speed(2.0, 990.0, 0.125), axial.outer_flange_speed(2.0, 990.0, 0.125)
    assert (v_i, v_e) == pytest.approx((0.9331, 0.7257), rel=1e-4)
    assert axial.flange_heat(1500.0, v_i, v_e, 0.04) == pytest.approx(99.53, rel=1e-3)


def test_loaded_rollers_are_the_share_of_the_zone_and_at_least_one():
    np.testing.assert_allclose(axial.loaded_rollers(20.0, np.array([pi / 2, pi, 0.0])), [10.0, 20.0, 1.0])


@pytest.mark.parametrize("overlap", [0.5, 4.0, 10.0, 20.0])
def test_overlap_area_is_the_segment_of_the_roller_end(overlap):
    # Width of the circle of 20 mm at depth t is 2 sqrt(t(20 - t)); integrated over the overlap.
    area = quad(lambda t: 2.0 * np.sqrt(t * (20.0 - t)), 0.0, overlap)[0]
    assert axial.flange_overlap_area(20.0, overlap) == pytest.approx(area)
    assert np.isnan(axial.flange_overlap_area(20.0, 21.0))


def test_pressure_times_speed_and_the_load_that_reaches_its_limit():
    # 6000 N on 8 rollers of 30 mm²: 25 MPa; at 0.8 m/s 20 MPa·m/s. Limit 10: half the load, 3000 N.
    p = axial.flange_pressure(6000.0, 8.0, 30.0)
    assert p == pytest.approx(25.0)
    assert axial.pressure_speed(p, 0.8) == pytest.approx(20.0)
    assert axial.flange_capacity(10.0, 0.8, 8.0, 30.0) == pytest.approx(3000.0)
    assert axial.flange_capacity(10.0, 0.0, 8.0, 30.0) == np.inf
    assert np.isnan(axial.flange_capacity(np.nan, 0.8, 8.0, 30.0))


def test_line_loads_balance_the_couple():
    # M = 2400/8·(20 - 2 - 2) = 4800 N·mm on a 20 mm roller. Difference of both raceways 12 M x/L³:
    # at the end 12·4800·10/8000 = 72 N/mm, half of it, 36, on each; ∫ q x dx over the roller gives M back.
    M = axial.roller_couple(2400.0, 8.0, 20.0, 2.0, 2.0)
    assert pytest.approx(4800.0) == M
    assert axial.raceway_load_difference(M, 10.0, 20.0) == pytest.approx(72.0)
    assert axial.end_load_change(M, 20.0) == pytest.approx(36.0)
    moment = quad(lambda x: axial.raceway_load_difference(M, x, 20.0) * x, -10.0, 10.0)[0]
    assert moment == pytest.approx(M)


def test_both_raceways_take_half_of_the_couple_when_the_rings_stay_parallel():
    # A roller between two equal beds of k per mm: tilt ψ adds k ψ x on the one and takes it off the other.
    # Moment 2 k ψ L³/12 = M, so that each raceway changes by 6 M x/L³: 3 M/L² at the end.
    k, L, M = 5e4, 20.0, 4800.0
    psi = M / (2.0 * k * L**3 / 12.0)
    assert axial.end_load_change(M, L) == pytest.approx(k * psi * L / 2.0)


def test_full_contact_needs_a_mean_line_load_as_large_as_the_change_at_the_end():
    # arm 20 - 2 - 2 = 16 mm, L 20 mm, F_a 2400 N: F_r = 3·2400·16/20 = 5760 N. One roller with the share
    # 1/8 of both then bears 720 N on 20 mm: 36 N/mm, just what the couple of 4800 N·mm takes off its end.
    F_r = axial.radial_load_for_full_contact(2400.0, 20.0, 2.0, 2.0, 20.0)
    assert F_r == pytest.approx(5760.0)
    M = axial.roller_couple(2400.0, 8.0, 20.0, 2.0, 2.0)
    assert F_r / 8.0 / 20.0 == pytest.approx(axial.end_load_change(M, 20.0))
    assert axial.radial_load_by_custom(2400.0) == pytest.approx(6000.0)


def test_the_weakest_known_link_governs():
    links = np.array(
        [
            [30e3, 30e3, np.nan, np.nan],
            [50e3, 20e3, 20e3, np.nan],
            [40e3, 40e3, 40e3, np.nan],
        ]
    )
    np.testing.assert_array_equal(axial.chain_capacity(links), [30e3, 20e3, 20e3, np.nan])
    np.testing.assert_array_equal(axial.weakest_link(links), [0, 1, 1, -1])
    np.testing.assert_array_equal(axial.unknown_links(links), [0, 0, 1, 3])
    for i in range(4):
        assert axial.weakest_link(links[:, i]) == axial.weakest_link(links)[i]
        np.testing.assert_array_equal(axial.chain_capacity(links[:, i]), axial.chain_capacity(links)[i])


@given(positive, positive, positive)
def test_a_further_link_never_strengthens_the_chain(a, b, c):
    assert axial.chain_capacity(np.array([a, b, c])) <= axial.chain_capacity(np.array([a, b]))
    assert axial.chain_capacity(np.array([a, b, c])) == min(a, b, c)
