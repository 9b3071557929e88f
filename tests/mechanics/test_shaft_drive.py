"""Shaft-mounted drives: three invented machines reckoned by hand, and both balances closed."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.mechanics import shaft_drive as drive
from halfbore.mechanics.forces import moment_about_shaft, weight
from halfbore.mechanics.free_body import Wrench, resultant

DOWN, UP, RIGHT = pi, 0.0, pi / 2
angles = st.floats(-pi, pi)
forces = st.floats(-5e4, 5e4)
places = st.floats(-800, 800)


def reactions(span, loads):
    """Reactions at x = 0 and x = span to loads (x, (y, z)) by the lever rule, worked per plane."""
    far = -sum(x * np.asarray(load) for x, load in loads) / span
    return -far - sum(np.asarray(load) for _, load in loads), far


def test_conveyor_head_shaft_by_hand():
    """Bearings at 0 and 1800; drum 900 kg with 58 kN level at 700; gear unit 780 kg at -430, arm 9 kN up.

    Level: 58·700/1800 = 22.556 at B, 35.444 at A. Upright: the drum gives 3.432 and 5.394; the drive's
    9.000 - 7.649 = 1.351 up gives 1.351·430/1800 = 0.323 at B and -1.351·2230/1800 = -1.674 at A.
    """
    hung = drive.force_on_shaft(weight(780.0), 9000.0, UP)
    np.testing.assert_allclose(hung, [1350.8, 0.0], atol=0.1)
    near, far = reactions(1800, [(700, (-weight(900.0), 58_000)), (-430, hung)])
    np.testing.assert_allclose(near, [3720, -35_444], atol=1)
    np.testing.assert_allclose(far, [3755, -22_556], atol=1)
    assert np.hypot(*near) == pytest.approx(35_600, abs=50)
    assert np.hypot(*far) == pytest.approx(22_900, abs=50)


def test_no_other_direction_of_that_arm_gives_those_reactions():
    """The pair 35.6 and 22.9 kN, to 50 N, belongs to an arm within a few degrees of straight up."""
    arm = np.radians(np.arange(-180, 180))
    hung = drive.force_on_shaft(weight(780.0), 9000.0, arm)
    drum = np.array([[-weight(900.0)], [58_000.0]])
    near, far = reactions(1800, [(700, drum), (-430, hung)])
    fits = (np.abs(np.hypot(*near) - 35_600) < 50) & (np.abs(np.hypot(*far) - 22_900) < 50)
    assert fits[180]
    assert np.abs(np.degrees(arm[fits])).max() < 3


@pytest.mark.parametrize(
    ("span", "at", "load", "hung_at", "mass", "arm", "arm_angle", "near", "far"),
    [
        (1300, 650, 86_000 + weight(1100.0), -480, 950.0, 12_500, DOWN, 78_300, 40_300),
        (3000, 1500, 30_000 + weight(3200.0), -500, 650.0, 8_000, UP, 28_800, 31_000),
    ],
)
def test_elevator_and_paddle_shaft_by_hand(span, at, load, hung_at, mass, arm, arm_angle, near, far):
    """Two more invented head shafts, all loads upright, reactions known to 100 N."""
    hung = drive.force_on_shaft(weight(mass), arm, arm_angle)
    found = reactions(span, [(at, (-load, 0)), (hung_at, hung)])
    np.testing.assert_allclose([found[0][0], found[1][0]], [near, far], atol=60)


@given(angles, st.sampled_from([-1, 1]), places, places, places)
def test_both_balances_close_from_the_same_numbers(arm_angle, sense, gravity_x, arm_x, about):
    """A belt drum turned by a hung drive: torque, level pull, weights and couples, about any point."""
    x, drum_x, span, radius = -430.0, 700.0, 1800.0, 315.0
    torque = sense * drive.output_torque(55_000.0, 62.0, 0.96)
    reach = 900.0
    arm = drive.arm_force(abs(torque), reach)
    arm_at = drive.arm_point(reach, arm_angle, sense)
    mass_force = weight(780.0)

    effective = -torque / radius
    rim = [[drum_x, radius, 0], [drum_x, -radius, 0], [drum_x, 0, 0]]
    strands = [[0, 0, 29_000 + effective / 2], [0, 0, 29_000 - effective / 2], [0, -weight(900.0), 0]]

    force = drive.force_on_shaft(mass_force, arm, arm_angle)
    couple = drive.couple_on_shaft(mass_force, gravity_x, arm, arm_angle, arm_x)
    hung = Wrench(np.array([0.0, *force]), np.array([torque, *couple]))

    known = resultant([*rim, [x, 0, 0]], [*strands, hung.force], couples=hung.moment)
    far = np.array([0, -known.moment[2], known.moment[1]]) / span
    near = -known.force - far
    points, acting = [*rim, [0, 0, 0], [span, 0, 0]], [*strands, near, far]

    on_drive_at = [[x + gravity_x, 0, 0], [x + arm_x, *arm_at]]
    on_drive = [[0, -mass_force, 0], [0, arm * np.cos(arm_angle), arm * np.sin(arm_angle)]]
    somewhere = (about, 0.5 * about, -about)
    for left_over in (
        drive.balance_of_shaft(points, acting, x, hung, somewhere),
        drive.balance_of_all(points, acting, on_drive_at, on_drive, somewhere),
    ):
        np.testing.assert_allclose(left_over.force, 0, atol=1e-6)
        np.testing.assert_allclose(left_over.moment, 0, atol=1e-2)


def test_a_wrong_reaction_shows_in_both_balances():
    points, acting = [[0, 0, 0], [1000, 0, 0]], [[0, 500, 0], [0, 450, 0]]
    hung = Wrench(np.array([0.0, -1000, 0]), np.zeros(3))
    shaft = drive.balance_of_shaft(points, acting, 500.0, hung)
    whole = drive.balance_of_all(points, acting, [[500, 0, 0]], [[0, -1000, 0]])
    for left_over in (shaft, whole):
        np.testing.assert_allclose(left_over.force, [0, -50, 0])
        np.testing.assert_allclose(left_over.moment, [0, 0, -50_000])


def test_an_arm_on_the_wrong_side_shows_in_the_balance_of_all():
    """The shaft alone cannot see where the arm holds the drive; the whole body can."""
    at = drive.arm_point(900.0, UP, 1)
    np.testing.assert_allclose(at, [0, -900], atol=1e-9)
    right = resultant([[0, *at]], [[0, 9000, 0]]).moment[0]
    wrong = resultant([[0, *-at]], [[0, 9000, 0]]).moment[0]
    assert (right, wrong) == (pytest.approx(8.1e6), pytest.approx(-8.1e6))


@given(places, places, forces, places, places, forces, angles, st.floats(-5e6, 5e6))
def test_arm_reaction_leaves_the_drive_in_balance_about_the_shaft(
    y, z, load, arm_y, arm_z, pull, angle, torque
):
    """Weight beside the shaft and a belt on the input sheave shift the arm's force; the torque stays."""
    lever = drive.arm_lever(arm_y, arm_z, angle)
    if abs(lever) < 10:
        return
    input_at = (120.0, -300.0)
    others = moment_about_shaft(y, z, -load, 0.0) + moment_about_shaft(*input_at, 0.0, pull)
    arm = drive.arm_reaction(torque, others, lever)
    acting = [[0, -load, 0], [0, 0, pull], [0, arm * np.cos(angle), arm * np.sin(angle)]]
    held = resultant([[0, y, z], [0, *input_at], [0, arm_y, arm_z]], acting)
    assert held.moment[0] == pytest.approx(torque, abs=1e-2, rel=1e-6)
    np.testing.assert_allclose(held.force[1:], drive.force_on_shaft(load, arm, angle, pull, RIGHT), atol=1e-4)


@given(forces, places, forces, angles, places, forces, angles, places)
def test_couple_is_the_moment_of_the_forces_beside_the_middle(
    load, at, arm, arm_angle, arm_at, pull, angle, pull_at
):
    acting = [
        [0, -load, 0],
        [0, arm * np.cos(arm_angle), arm * np.sin(arm_angle)],
        [0, pull * np.cos(angle), pull * np.sin(angle)],
    ]
    moment = resultant([[at, 0, 0], [arm_at, 0, 0], [pull_at, 0, 0]], acting).moment
    found = drive.couple_on_shaft(load, at, arm, arm_angle, arm_at, pull, angle, pull_at)
    np.testing.assert_allclose(found, moment[1:], atol=1e-3)


def test_columns_mix_with_numbers():
    assert drive.force_on_shaft(7649.0, np.array([9000.0, 9500.0, 9900.0]), UP).shape == (2, 3)


@pytest.mark.parametrize(
    "call",
    [
        lambda: drive.output_torque(55_000.0, 0.0),
        lambda: drive.output_torque(55_000.0, 62.0, 1.2),
        lambda: drive.arm_force(8.5e6, 0.0),
        lambda: drive.arm_reaction(8.5e6, 0.0, drive.arm_lever(500.0, 0.0, 0.0)),
        lambda: drive.arm_point(900.0, 0.0, 0),
    ],
)
def test_what_no_drive_can_be_is_refused(call):
    with pytest.raises(InputError):
        call()
