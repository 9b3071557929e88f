"""Fan rotors: a constructed case from the definition of the balance grade."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from halfbore.mechanics import fan

CASE = "constructed from the definition of the balance grade, ISO 21940-11"


def test_residual_unbalance_and_thrust(compare: Callable[..., None]) -> None:
    """200 kg, 1480 r/min, G 6.3; 4000 Pa over an eye of 0.8 m."""
    given = {"source": CASE, "status": "computed", "rtol": 1e-9}
    compare("e_per in µm", fan.eccentricity(6.3, 1480.0) * 1000, 40.64903276265976, **given)
    compare("U_per in g·mm", fan.unbalance(200.0, 6.3, 1480.0), 8129.806552531952, **given)
    compare("force in N", fan.unbalance_force(200.0, 6.3, 1480.0), 195.28139934714153, **given)
    compare("axial thrust in N", fan.inlet_thrust(0.004, 800.0), 2010.6192982974678, **given)


def test_trade_form_of_the_permissible_unbalance(compare: Callable[..., None]) -> None:
    compare(
        "U_per = 9549 G m/n in g·mm",
        fan.unbalance(200.0, 6.3, 1480.0),
        9549 * 6.3 * 200 / 1480,
        source="ISO 21940-11, read in a secondary text",
        status="read",
        rtol=5e-5,
        why="9549 stands for 30 000/π = 9549.3",
    )


@pytest.mark.parametrize(
    ("category", "grade"), [("BV-1", 16), ("BV-2", 16), ("BV-3", 6.3), ("BV-4", 2.5), ("BV-5", 1.0)]
)
def test_grade_of_each_category(compare: Callable[..., None], category: str, grade: float) -> None:
    compare(
        f"grade of {category}", fan.category_grade(category), grade, source="ISO 14694", status="from memory"
    )
