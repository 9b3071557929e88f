"""The band of clearance in operation and the smallest group that suffices."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.mechanics.clearance_choice import NO_GROUP, greatest_clearance, least_clearance, smallest_group

S_MIN = np.array([0.050, 0.090, 0.140])
S_MAX = np.array([0.090, 0.140, 0.200])


def test_band_of_three_groups_on_a_warm_undersize_shaft():
    # Shaft -0.06 to -0.03 mm, form 0.010 mm, thermal loss 0.020 to 0.050 mm, housing -0.005 to 0:
    # least 0.050 + 0.030 - 0.020 - 0.050 - 0.005 = 0.005; greatest 0.090 + 0.060 - 0.020 = 0.130, and so on.
    least = least_clearance(S_MIN, -0.03, 0.010, 0.050, -0.005)
    greatest = greatest_clearance(S_MAX, -0.06, 0.020)
    np.testing.assert_allclose(least, [0.005, 0.045, 0.095])
    np.testing.assert_allclose(greatest, [0.130, 0.180, 0.240])


@pytest.mark.parametrize(
    ("wanted", "group"), [(0.0, 0), (0.005, 0), (0.006, 1), (0.045, 1), (0.09, 2), (0.1, NO_GROUP)]
)
def test_the_smallest_group_that_suffices(wanted, group):
    assert smallest_group(np.array([0.005, 0.045, 0.095]), wanted) == group


def test_units_choose_for_themselves_and_an_unknown_group_is_passed_over():
    least = np.array([[0.01, 0.05, 0.09], [np.nan, 0.05, 0.09], [np.nan, np.nan, np.nan], [0.0, 0.01, 0.02]])
    np.testing.assert_array_equal(smallest_group(least, 0.04), [1, 1, NO_GROUP, NO_GROUP])
    np.testing.assert_array_equal(
        smallest_group(least, np.array([0.0, 0.06, 0.0, 0.02])), [0, 2, NO_GROUP, 2]
    )
    for row in range(4):
        assert smallest_group(least[row], 0.04) == smallest_group(least, 0.04)[row]


@given(st.floats(-0.2, 0.0), st.floats(0.0, 0.1), st.floats(0.0, 0.1))
def test_the_band_is_never_upside_down(deviation, width, loss):
    least = least_clearance(S_MIN, deviation + width, 0.005, loss + 0.01)
    assert (least < greatest_clearance(S_MAX, deviation, loss)).all()


@given(st.floats(0.0, 0.1), st.floats(0.0, 0.1))
def test_a_hotter_shaft_never_needs_a_smaller_group(a, b):
    group = lambda loss: int(smallest_group(least_clearance(S_MIN, 0.0, 0.0, loss), 0.02)) % 4  # noqa: E731
    assert group(min(a, b)) <= group(max(a, b))
