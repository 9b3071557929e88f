from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.mechanics import forces, power
from halfbore.mechanics.free_body import resultant

angles = st.floats(-3.1, 3.1)
numbers = st.floats(-1e4, 1e4)


def test_angles_run_from_up_to_the_right():
    np.testing.assert_allclose(forces.sum_of((100.0, 0.0)), [100, 0], atol=1e-9)
    np.testing.assert_allclose(forces.sum_of((100.0, pi / 2)), [0, 100], atol=1e-9)


@given(st.floats(1, 1e6), angles)
def test_size_and_direction_come_back(force, angle):
    y, z = forces.sum_of((force, angle))
    assert forces.magnitude(y, z) == pytest.approx(force)
    assert forces.direction(y, z) == pytest.approx(angle, abs=1e-9)


def test_weight_of_a_tonne():
    assert forces.weight(1000.0) == pytest.approx(9806.65)


@given(numbers, numbers, numbers, numbers)
def test_moment_about_the_shaft_is_that_of_space(y, z, force_y, force_z):
    moment = resultant([[0, y, z]], [[0, force_y, force_z]]).moment
    assert forces.moment_about_shaft(y, z, force_y, force_z) == pytest.approx(moment[0])
    assert moment[1:].tolist() == [0, 0]


def test_resultant_of_conditions_at_once():
    points = np.array([[0.0, 0, 0], [10, 0, 0]])
    loads = np.array([[[0.0, 1, 0], [0, 2, 0]], [[0, 0, 3], [0, 0, 4]]])
    found = resultant(points, loads)
    np.testing.assert_allclose(found.force, [[0, 3, 0], [0, 0, 7]])
    np.testing.assert_allclose(found.moment, [[0, 0, 20], [0, -40, 0]])


def test_one_kilowatt_at_one_turn_a_minute():
    assert power.torque(1000.0, 1.0) == pytest.approx(9_549_296.6)
    assert power.surface_speed(1000.0, 60.0) == pytest.approx(pi)


def test_torque_without_speed_is_refused():
    with pytest.raises(InputError, match="speed"):
        power.torque(np.array([1000.0, 1000.0]), np.array([62.0, 0.0]))
