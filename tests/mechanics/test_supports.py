"""Limits by load direction, and base bolts."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.mechanics import supports
from halfbore.mechanics.bolts import STRENGTH_CLASSES, strength_class

deg = np.radians
SIDE, DOWN, UP = 0.5, 1.0, 0.2
VALUES = np.array([SIDE, DOWN, SIDE, UP])


@pytest.mark.parametrize(
    ("direction", "limit"),
    [(0, UP), (44, UP), (46, SIDE), (90, SIDE), (180, DOWN), (-90, SIDE), (316, UP), (-44, UP), (540, DOWN)],
)
def test_sector_of_a_direction(direction, limit):
    assert supports.sector_limit(deg(direction), supports.QUADRANTS, VALUES) == limit


@pytest.mark.parametrize(("direction", "limit"), [(45, UP), (135, SIDE), (225, SIDE), (315, UP), (-45, UP)])
def test_where_sectors_meet_the_smaller_value_counts(direction, limit):
    assert supports.sector_limit(deg(direction), supports.QUADRANTS, VALUES) == limit


def test_units_have_their_own_sectors():
    edges = np.array([[0.0, pi], [pi / 2, pi], [0.0, pi]])
    values = np.array([[1.0, 2.0], [3.0, 4.0], [5.0, np.nan]])
    directions = deg([90.0, 45.0, 270.0])
    found = supports.sector_limit(directions, edges, values)
    np.testing.assert_array_equal(found, [1.0, 4.0, np.nan])
    for i in range(3):
        np.testing.assert_array_equal(supports.sector_limit(directions[i], edges[i], values[i]), found[i])
    np.testing.assert_array_equal(supports.sector_limit(deg(90.0), edges[0], values), [1.0, 3.0, 5.0])
    assert np.isnan(supports.sector_limit(np.nan, supports.QUADRANTS, VALUES))


def test_a_column_of_directions_on_one_support():
    found = supports.sector_limit(deg([0.0, 90.0, 180.0]), supports.QUADRANTS, VALUES)
    np.testing.assert_array_equal(found, [UP, SIDE, DOWN])


def test_bolt_tension_of_a_slanting_pull_by_hand():
    # 20 kN at 60° from straight up, centre 150 mm high, bolts 400 mm apart: lift 20·cos 60°/2 = 5 kN a side,
    # turning 20·sin 60°·150/400 = 6.495 kN: 11.495 kN on the bolt of the near side, half with four bolts.
    assert supports.bolt_tension(20e3, deg(60.0), 150.0, 400.0) == pytest.approx(11495.2, rel=1e-5)
    assert supports.bolt_tension(20e3, deg(60.0), 150.0, 400.0, 2.0) == pytest.approx(5747.6, rel=1e-5)
    assert supports.bolt_tension(20e3, pi, 150.0, 400.0) == 0.0


@given(st.floats(0.0, pi / 2.0), st.floats(10.0, 300.0))
def test_bolt_loads_of_both_sides_balance_the_pull(direction, height):
    # Both sides together hold F cos θ; about the middle of the base they hold F sin θ·h.
    near = supports.bolt_tension(1000.0, direction, height, 400.0)
    far = 1000.0 * np.cos(direction) - near
    assert (near - far) * 200.0 == pytest.approx(1000.0 * np.sin(direction) * height, abs=1e-6)


def test_axial_bolt_tension_clamping_and_slip_by_hand():
    # Thrust 8 kN at 150 mm, two bolts at half of a 120 mm base: 8000·150/(60·2) = 10 kN each.
    assert supports.axial_bolt_tension(8e3, 150.0, 60.0) == pytest.approx(10e3)
    assert supports.clamping_left(36e3, 11e3) == pytest.approx(25e3)
    # Two bolts of 36 kN, level pull 6 kN, µ 0.15: slip at 10.8 kN, axial left sqrt(10.8² - 6²) = 8.98 kN.
    slip = supports.slip_capacity(6e3, pi / 2.0, 36e3, 2, 0.15)
    assert slip == pytest.approx(10.8e3)
    assert supports.axial_slip_capacity(6e3, pi / 2.0, slip) == pytest.approx(8980.0, rel=1e-4)
    assert supports.axial_slip_capacity(12e3, pi / 2.0, slip) == 0.0
    # An upward pull of 80 kN takes all clamping away.
    assert supports.slip_capacity(80e3, 0.0, 36e3, 2, 0.15) == 0.0


@given(st.floats(0.0, pi / 2.0), st.floats(0.0, pi / 2.0))
def test_the_more_upright_the_pull_the_less_holds_the_base(a, b):
    low, high = min(a, b), max(a, b)
    assert (
        supports.slip_capacity(1e4, low, 2e4, 2, 0.15)
        <= supports.slip_capacity(1e4, high, 2e4, 2, 0.15) + 1e-9
    )


def test_classes_of_bolts():
    assert strength_class("8.8", 16.0).proof == 580
    assert strength_class("8.8", 20.0).proof == 600
    assert strength_class("7.7", 20.0) is None
    # The first figure times 100 is the nominal tensile strength, the product times 10 the yield point.
    for row in STRENGTH_CLASSES:
        first, second = (int(part) for part in row.name.split("."))
        assert row.tensile == pytest.approx(100.0 * first, rel=0.05)
        assert row.yield_stress == pytest.approx(10.0 * first * second, rel=0.07)
        assert row.proof < row.yield_stress
