from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.mechanics import hot_shaft, shaft_section


def test_solid_shaft_by_hand():
    """100 mm: I = 4.9087e6 mm⁴, W = 98 175 mm³, 61.65 kg/m."""
    assert shaft_section.second_moment(100.0) == pytest.approx(4.90874e6, rel=1e-5)
    assert shaft_section.section_modulus(100.0) == pytest.approx(98_175, rel=1e-5)
    assert shaft_section.mass_per_length(100.0) == pytest.approx(0.0616538, rel=1e-5)
    assert shaft_section.bending_stress(5e6, 100.0) == pytest.approx(50.93, abs=0.005)
    assert shaft_section.torsional_stress(5e6, 100.0) == pytest.approx(25.46, abs=0.005)


@given(st.floats(30, 600), st.floats(0, 0.95))
def test_hollow_is_outside_less_inside(diameter, part):
    bore = part * diameter
    left = shaft_section.second_moment(diameter, bore)
    assert left == pytest.approx(shaft_section.second_moment(diameter) - (pi * bore**4 / 64), rel=1e-9)
    assert shaft_section.area(diameter, bore) > 0


@given(st.floats(30, 600), st.floats(0.1, 10))
def test_stress_of_a_scaled_shaft(diameter, factor):
    """Lengths times k and moments times k³ leave the stress as it is."""
    small = shaft_section.bending_stress(1e6, diameter)
    assert shaft_section.bending_stress(1e6 * factor**3, factor * diameter) == pytest.approx(small)


def test_equivalent_stress_of_shear_alone():
    assert shaft_section.equivalent_stress(0.0, 10.0) == pytest.approx(10 * 3**0.5)


@pytest.mark.parametrize(("length", "per_cent"), [(400.0, 54), (600.0, 31), (1000.0, 9)])
def test_excess_at_the_end_of_a_hot_shaft(length, per_cent):
    """140 mm shaft, 15 W/(m²·K), steel at 45 W/(m·K): 1/cosh(mL)."""
    fin = hot_shaft.fin_parameter(140.0, 15.0)
    assert hot_shaft.excess_temperature(100.0, fin, length, length) == pytest.approx(per_cent, abs=0.5)


@given(st.floats(1e-4, 0.01), st.floats(0, 1), st.floats(10, 2000))
def test_fin_is_the_ratio_of_cosh(fin, part, length):
    expected = np.cosh(fin * length * (1 - part)) / np.cosh(fin * length)
    assert hot_shaft.excess_temperature(1.0, fin, part * length, length) == pytest.approx(expected, rel=1e-9)


def test_a_very_long_shaft_ends_cold():
    assert hot_shaft.excess_temperature(300.0, 0.01, 1e6, 1e6) == 0
    assert hot_shaft.excess_temperature(300.0, 0.01, 0.0, 1e6) == 300


def test_bored_shaft_loses_its_heat_faster():
    assert hot_shaft.fin_parameter(140.0, 15.0, bore=100.0) > hot_shaft.fin_parameter(140.0, 15.0)


@pytest.mark.parametrize(
    "call",
    [
        lambda: shaft_section.area(100.0, 100.0),
        lambda: shaft_section.second_moment(np.array([100.0, 50.0]), 60.0),
        lambda: shaft_section.section_modulus(100.0, -1.0),
        lambda: hot_shaft.fin_parameter(140.0, 0.0),
        lambda: hot_shaft.excess_temperature(100.0, 0.003, 500.0, 400.0),
    ],
)
def test_what_no_shaft_can_be_is_refused(call):
    with pytest.raises(InputError):
        call()
