"""Clearance, joint gap and grip of a clamped split inner ring."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.mechanics import shaft_seat as seat
from halfbore.mechanics.bolts import preload, preload_from_torque, proof_load

small = st.floats(-0.5, 0.5)


def test_undersize_opens_clearance_one_to_one():
    # Shaft 139.90 mm on a nominal 140 mm: -0.10 mm, so that 0.12 mm of clearance becomes 0.22 mm.
    deviation = seat.shaft_deviation(139.9, 140.0)
    assert deviation == pytest.approx(-0.1)
    assert seat.mounted_clearance(0.12, deviation) == pytest.approx(0.22)


def test_every_term_of_the_mounted_clearance_has_its_sign():
    # 0.150 + 0.030 - 2·0.005 - 0.0288 + (-0.004) = 0.1372 mm
    loss = seat.thermal_clearance_loss(D_pw=160.0, t_i=75.0, t_o=60.0)
    assert loss == pytest.approx(0.0288)
    assert seat.mounted_clearance(0.150, -0.030, 0.005, loss, -0.004) == pytest.approx(0.1372)


@pytest.mark.parametrize(("rollers_at", "diameter"), [(50.0, 140.0), (60.0, 160.0), (70.0, 180.0)])
def test_thermal_loss_equals_free_expansion_of_every_part(rollers_at, diameter):
    # Inner raceway 140 mm at 70 °C, outer 180 mm at 50 °C, rollers 20 mm: clearance = E - F - 2 D_we, each
    # part grown by 12e-6 K^-1. Rollers as cool as the outer ring: loss on F; at the mean: on D_pw; hot: on E.
    grow = lambda size, t: size * 12e-6 * (t - 20.0)  # noqa: E731
    change = grow(180.0, 50.0) - grow(140.0, 70.0) - 2 * grow(20.0, rollers_at)
    lost_besides_gap = seat.thermal_clearance_loss(diameter, 70.0, 50.0)
    assert -change == pytest.approx(lost_besides_gap)


def test_minus_a_tenth_closes_each_joint_by_sixteen_hundredths():
    assert 0.5 - seat.joint_gap(0.5, -0.1) == pytest.approx(0.157, abs=5e-4)
    assert 0.5 - seat.joint_gap_rigid(0.5, -0.1) == pytest.approx(0.1)


def test_wrapped_halves_keep_their_length():
    # Two half rings, middle of the wall at radius 80 mm, joint gap 0.5 mm each: length of one half
    # π·80 - 0.5. On a shaft 0.1 mm smaller the middle is at 79.95 mm: 2π·79.95 less both halves is 2 gaps.
    half = np.pi * 80.0 - 0.5
    left = (2.0 * np.pi * 79.95 - 2.0 * half) / 2.0
    assert seat.joint_gap(0.5, -0.1) == pytest.approx(left)


def test_clamp_force_bounds_come_from_two_pressure_pictures():
    # F_v = 10 kN. Pressed at the two crowns only: 2·20 = 40 kN. Even pressure p on d = 140, b = 15 mm:
    # p·d·b = 2 F_v, so p = 9.524 MPa, and p·π·d·b = 62.83 kN. A cosine of pressure lies between: 16/π F_v.
    p = 2 * 10e3 / (140.0 * 15.0)
    assert seat.clamp_force_least(10e3) == 40e3
    assert seat.clamp_force_greatest(10e3) == pytest.approx(p * np.pi * 140.0 * 15.0)
    assert 40e3 < 16.0 / np.pi * 10e3 < seat.clamp_force_greatest(10e3)


def test_grip_of_two_rings_with_m12_screws():
    # M12 of class 8.8: 0.75·580·84.3 = 36 671 N; two rings, least 8 F_v = 293 364 N; µ 0.10, loss 20 %:
    # 23 469 N axial, and 23 469·140/2 = 1.643 kN·m against creeping. A thrust of 48 kN slips.
    F_v = preload(proof_load(580.0, 84.3))
    slip = seat.axial_slip_force(2 * seat.clamp_force_least(F_v), seat.CLAMP_FRICTION.low, 0.20)
    assert slip == pytest.approx(23469, rel=1e-4)
    assert seat.slip_torque(slip, 140.0) == pytest.approx(1.6428e6, rel=1e-4)
    assert slip < 48e3


def test_preload_from_a_torque_wrench():
    # 90 N·m on M12, K 0.20: 90 000/(0.20·12) = 37.5 kN
    assert preload_from_torque(90e3, 12.0) == pytest.approx(37.5e3)


def test_at_minus_four_tenths_the_faces_meet_and_grip_is_gone():
    # gap 0.5 mm: at -0.10 mm 0.343 mm is left, at -0.40 mm 0.5 - 0.628 = -0.128 mm.
    gap = seat.joint_gap(0.5, np.array([-0.10, -0.40, np.nan]))
    np.testing.assert_allclose(gap, [0.3429, -0.1283, np.nan], atol=1e-4)
    np.testing.assert_array_equal(seat.remaining_grip(20e3, gap), [20e3, 0.0, np.nan])
    assert seat.remaining_grip(20e3, 0.0) == 0.0


def test_a_hot_austenitic_shaft_acts_like_an_oversize_one():
    # 160 mm, shaft 17.2e-6 and ring 12e-6 K^-1, both at 120 °C: 160·5.2e-6·100 = 0.0832 mm
    assert seat.hot_deviation(-0.02, 160.0, 120.0, 120.0, 17.2e-6) == pytest.approx(0.0632)
    assert seat.hot_deviation(-0.02, 160.0, 120.0, 120.0, 12e-6) == pytest.approx(-0.02)


@given(small, small)
def test_a_smaller_shaft_gives_more_clearance_and_less_gap(a, b):
    low, high = min(a, b), max(a, b)
    assert seat.mounted_clearance(0.2, low) >= seat.mounted_clearance(0.2, high)
    assert seat.joint_gap(0.5, low) <= seat.joint_gap(0.5, high)
    assert seat.remaining_grip(1e4, seat.joint_gap(0.3, low)) <= seat.remaining_grip(
        1e4, seat.joint_gap(0.3, high)
    )
