from __future__ import annotations

import numpy as np
import pytest

from halfbore.errors import InputError
from halfbore.mechanics import fan


def test_one_and_two_grades_worse():
    np.testing.assert_allclose(
        fan.grade_in_service(np.array([2.5, 6.3, 6.3]), np.array([1, 1, 2])), [6.3, 16, 40]
    )


def test_a_grade_between_two_counts_as_the_worse_one():
    assert fan.grade_in_service(5.0, 0) == 6.3
    assert fan.grade_in_service(5.0) == 16


def test_unbalance_grows_with_the_square_of_speed_when_the_grade_was_set_at_one():
    at_grade = fan.unbalance_force(2600.0, 16.0, 990.0)
    fixed = fan.eccentricity(16.0, 990.0)
    assert fan.eccentric_force(2600.0, fixed, 990.0) == pytest.approx(at_grade)
    assert fan.eccentric_force(2600.0, fixed, 1980.0) == pytest.approx(4 * at_grade)


def test_categories_step_down_in_grade():
    grades = [fan.category_grade(f"BV-{k}") for k in range(1, 6)]
    assert grades == sorted(grades, reverse=True)
    assert set(grades) <= set(fan.GRADES)


@pytest.mark.parametrize(
    "call",
    [
        lambda: fan.category_grade("BV-9"),
        lambda: fan.grade_in_service(4000.0),
        lambda: fan.grade_in_service(0.0),
        lambda: fan.eccentricity(6.3, 0.0),
        lambda: fan.unbalance_force(-1.0, 6.3, 1480.0),
    ],
)
def test_what_no_fan_can_be_is_refused(call):
    with pytest.raises(InputError):
        call()
