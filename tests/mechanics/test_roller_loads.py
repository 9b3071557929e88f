"""Rollers that share a load: preload, no load, what is no bearing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.mechanics.roller_loads import roller_loads
from halfbore.standards.iso16281_2008 import profile


def test_preload_without_load_presses_all_rollers_alike() -> None:
    found = roller_loads(0.0, -0.02, 0.0, 16, 20.0, 30.0)
    assert found.load.min() == pytest.approx(found.load.max())
    assert found.load.min() > 0.0


def test_no_load_with_clearance_presses_none() -> None:
    assert roller_loads(0.0, 0.05, 0.0, 16, 20.0, 30.0).load.max() == 0.0


@given(
    st.floats(10.0, 1e6),
    st.floats(-0.02, 0.4),
    st.floats(0.0, 1e-3),
    st.integers(8, 60),
    st.floats(6.0, 60.0),
    st.floats(0.8, 3.0),
)
def test_the_rollers_balance_the_load(
    F_r: float, s: float, tilt: float, Z: int, D: float, ratio: float
) -> None:
    found = roller_loads(F_r, s, tilt, Z, D, ratio * D)
    assert np.cos(found.angle) @ found.load == pytest.approx(F_r, rel=1e-7)
    assert (found.load >= 0.0).all()
    assert found.load.argmax() in (0, 1, Z - 1), "the heaviest lies in the load's direction"


def test_more_clearance_loads_fewer_rollers_more() -> None:
    found = [roller_loads(20e3, s, 0.0, 20, 22.0, 30.0) for s in (0.0, 0.05, 0.1, 0.2)]
    assert np.all(np.diff([f.load.max() for f in found]) > 0)
    assert np.all(np.diff([(f.load > 0).sum() for f in found]) <= 0)


@pytest.mark.parametrize(
    "how",
    [(-1.0, 0.0, 0.0, 16, 20.0, 30.0), (1e3, np.nan, 0.0, 16, 20.0, 30.0), (1e3, 0.0, 0.0, 2, 20.0, 30.0)],
)
def test_what_is_no_bearing_is_refused(how: tuple[float, float, float, int, float, float]) -> None:
    with pytest.raises(InputError, match="cannot be loaded"):
        roller_loads(*how)


def test_the_profile_is_flat_in_the_middle_of_a_long_roller_and_meets_the_short_form() -> None:
    assert profile(5.0, 100.0, 20.0) == 0.0
    assert profile(30.0, 100.0, 20.0) > 0.0
    assert profile(0.0, 20.0, 20.0) == 0.0
    assert profile(9.0, 20.0, 20.0) == pytest.approx(0.00035 * 20.0 * np.log(1.0 / (1.0 - 0.9**2)))
