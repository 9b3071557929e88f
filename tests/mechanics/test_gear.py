from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.mechanics import gear
from halfbore.mechanics.forces import moment_about_shaft
from halfbore.mechanics.free_body import resultant

angles = st.floats(-pi, pi)
senses = st.sampled_from([-1, 1])


@given(st.floats(1, 1e5), st.floats(0, 1e5), angles, senses)
def test_mesh_force_turns_the_gear_in_its_sense_and_parts_the_pair(tangential, radial, angle, sense):
    y, z = gear.mesh_force(tangential, radial, angle, sense)
    at = np.array([np.cos(angle), np.sin(angle)]) * 80.0
    assert moment_about_shaft(*at, y, z) == pytest.approx(sense * tangential * 80, abs=1e-3)
    assert at @ (y, z) == pytest.approx(-radial * 80, abs=1e-3)


@given(st.floats(1, 1e5), st.floats(0, 1e5), angles, senses)
def test_mating_gears_push_each_other_alike(tangential, radial, angle, sense):
    one = gear.mesh_force(tangential, radial, angle, sense)
    other = gear.mesh_force(tangential, radial, angle + pi, sense)
    np.testing.assert_allclose(one, -other, atol=1e-6)


@given(st.floats(-1e4, 1e4), angles)
def test_axial_force_beside_the_axis_is_a_couple(axial, angle):
    at = [0, 80 * np.cos(angle), 80 * np.sin(angle)]
    moment = resultant([at], [[axial, 0, 0]]).moment
    np.testing.assert_allclose(gear.axial_couple(axial, 80.0, angle), moment[1:], atol=1e-6)


def test_tooth_force_is_the_sum_of_its_parts():
    tangential, phi, psi = 1000.0, np.radians(20), np.radians(15)
    assert gear.spur_resultant(tangential, phi) == pytest.approx(
        np.hypot(tangential, gear.spur_radial(tangential, phi))
    )
    radial, axial = gear.helical_radial(tangential, phi, psi), gear.helical_axial(tangential, psi)
    whole = np.sqrt(tangential**2 + radial**2 + axial**2)
    assert whole == pytest.approx(tangential / (np.cos(phi) * np.cos(psi)))


def test_bevel_pair_at_right_angles_exchanges_radial_and_axial():
    phi, cone = np.radians(20), np.radians(25)
    pinion = gear.bevel_radial(1000.0, phi, cone), gear.bevel_axial(1000.0, phi, cone)
    wheel = gear.bevel_radial(1000.0, phi, pi / 2 - cone), gear.bevel_axial(1000.0, phi, pi / 2 - cone)
    assert pinion == pytest.approx(wheel[::-1])


@pytest.mark.parametrize(
    "call",
    [
        lambda: gear.tangential_force(1e5, 0.0),
        lambda: gear.spur_radial(1000.0, pi / 2),
        lambda: gear.helical_axial(1000.0, -0.2),
        lambda: gear.mesh_force(1000.0, 300.0, 0.0, 2),
    ],
)
def test_what_no_gear_can_be_is_refused(call):
    with pytest.raises(InputError):
        call()
