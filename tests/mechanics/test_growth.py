from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.mechanics import growth

temperatures = st.floats(-40, 300)


def test_growth_turns_round_with_the_side_of_the_locating_unit():
    ahead = growth.growth_against_base(3400.0, 11.7, 90.0, 11.2, 40.0)
    assert ahead == pytest.approx(3400 * (11.7 * 70 - 11.2 * 20) / 1e6)
    assert growth.growth_against_base(-3400.0, 11.7, 90.0, 11.2, 40.0) == pytest.approx(-ahead)


def test_cold_start_moves_the_shaft_further_than_running_warm():
    warm = growth.growth_against_base(3400.0, 11.7, 90.0, 10.8, 40.0)
    start = growth.cold_start_growth(3400.0, 11.7, 90.0, 10.8, -15.0)
    assert start - warm == pytest.approx(3400 * 10.8 * 55 / 1e6)


def test_everything_as_cold_as_at_mounting_has_not_moved():
    assert growth.growth_against_base(3400.0, 11.7, 12.0, 10.8, 12.0, 12.0) == 0


@given(
    st.floats(-5000, 5000),
    st.tuples(temperatures, temperatures).map(sorted),
    st.tuples(temperatures, temperatures).map(sorted),
    st.floats(0, 1),
    st.floats(0, 1),
)
def test_no_case_inside_the_ranges_leaves_the_range(distance, shaft, base, one, other):
    low, high = growth.growth_range(distance, 11.7, *shaft, 10.8, *base)
    hot = shaft[0] + one * (shaft[1] - shaft[0])
    warm = base[0] + other * (base[1] - base[0])
    inside = growth.growth_against_base(distance, 11.7, hot, 10.8, warm)
    assert low - 1e-9 <= inside <= high + 1e-9


def test_range_of_a_column():
    found = growth.growth_range(np.array([1000.0, -1000.0]), 12.0, 20.0, 70.0, 12.0, 20.0, 20.0)
    np.testing.assert_allclose(found, [[0, -0.6], [0.6, 0]])


def test_unknown_temperature_gives_unknown_growth():
    assert np.isnan(growth.growth_range(1000.0, 12.0, np.nan, np.nan, 12.0, 20.0, 20.0)).all()


@pytest.mark.parametrize("material", growth.EXPANSION)
def test_each_material_expands_like_a_metal(material):
    assert 10 <= growth.expansion(material) <= 18


@pytest.mark.parametrize(
    "call",
    [
        lambda: growth.expansion("oak"),
        lambda: growth.growth_range(1000.0, 12.0, 70.0, 20.0, 12.0, 20.0, 20.0),
        lambda: growth.growth_range(1000.0, 12.0, 20.0, 70.0, 12.0, 30.0, 20.0),
    ],
)
def test_exchanged_ends_and_unknown_materials_are_refused(call):
    with pytest.raises(InputError):
        call()
