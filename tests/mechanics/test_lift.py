"""Lift for side entry and the sign of a new centre height."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.mechanics import lift

heights = st.floats(50.0, 500.0)


def test_studs_of_sixty_millimetres_decide():
    # lip 12 mm, 3 mm to work with: 75 mm with the studs, 15 mm once they are out.
    assert lift.lift_needed(60.0, 12.0, 3.0) == pytest.approx(75.0)
    assert lift.lift_margin(20.0, lift.lift_needed(60.0, 12.0, 3.0)) == pytest.approx(-55.0)
    assert lift.lift_margin(20.0, lift.lift_needed(0.0, 12.0, 3.0)) == pytest.approx(5.0)


def test_a_line_that_goes_up_for_good_is_lifted_by_as_much_more():
    # New centre 20 mm above the old one and the base is left as it is: 20 mm more.
    rise = lift.height_to_remove(250.0, 270.0)
    assert rise == pytest.approx(20.0)
    assert lift.lift_needed(0.0, 12.0, 3.0, rise) == pytest.approx(35.0)


def test_a_lower_unit_goes_in_before_its_packing():
    # New centre 53 mm lower: without its packing it passes 53 mm lower under the shaft; 15 mm need no lift at all.
    drop = lift.packing_thickness(250.0, 197.0)
    assert lift.lift_needed(60.0, 12.0, 3.0, drop=drop) == pytest.approx(22.0)
    assert lift.lift_needed(0.0, 12.0, 3.0, drop=drop) == 0.0


@given(heights, heights)
def test_it_is_packing_or_milling_and_never_both(old, new):
    packing, removed = lift.packing_thickness(old, new), lift.height_to_remove(old, new)
    assert packing >= 0.0
    assert removed >= 0.0
    assert packing * removed == 0.0
    assert new + packing - removed == pytest.approx(old)
