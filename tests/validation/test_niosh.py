"""The revised lifting equation against the worked examples of its manual (U.S. customary column)."""

from __future__ import annotations

import numpy as np
import pytest

from halfbore.standards import niosh_1991 as niosh

INCH, LB = 25.4, 0.45359237
TITLE = "NIOSH 94-110"
ROUNDED = "the worksheet rounds each multiplier to two decimals"

# Example: load lb, lifts a minute, H, V, D in, A deg, grip, printed multipliers, printed RWL lb, printed LI.
POINTS = {
    "example 1, origin": (44, 0.2, 23, 15, 49, 0, "fair", (0.44, 0.89, 0.86, 1.0, 1.0, 0.95), 16.3, 2.7),
    "example 1, destination": (44, 0.2, 23, 64, 49, 0, "fair", (0.44, 0.75, 0.86, 1.0, 1.0, 1.0), 14.5, 3.0),
    "example 3": (40, 0.2, 18, 15, 21, 45, "fair", (0.56, 0.89, 0.91, 0.86, 1.0, 0.95), 18.9, 2.1),
    "example 4, origin": (26, 3, 10, 22, 37, 0, "fair", (1.0, 0.94, 0.87, 1.0, 0.88, 0.95), 34.9, 0.7),
    "example 4, destination": (26, 3, 20, 59, 37, 0, "fair", (0.5, 0.78, 0.87, 1.0, 0.88, 1.0), 15.2, 1.7),
}
MULTIPLIERS_READ = ("example 4, origin",)
LIMITS_READ = ("example 4, origin", "example 4, destination")


def _status(name: str, read: tuple[str, ...] = LIMITS_READ) -> str:
    return "read" if name in read else "from memory"


def _multipliers(name: str) -> tuple[float, ...]:
    _, lifts, H, V, D, A_deg, grip, *_ = POINTS[name]
    return (
        niosh.horizontal_multiplier(H * INCH, 254.0, 635.0),
        niosh.vertical_multiplier(V * INCH, 762.0, 0.0075 / INCH, 1778.0),
        niosh.distance_multiplier(D * INCH, 1.8 * INCH, 254.0, 1778.0),
        niosh.asymmetric_multiplier(A_deg),
        niosh.frequency_multiplier(lifts, 1.0, V * INCH),
        niosh.coupling_multiplier(grip, V * INCH),
    )


@pytest.mark.parametrize("name", POINTS)
def test_multipliers_of_the_worked_examples(compare, name):
    for letter, computed, published in zip("HVDAFC", _multipliers(name), POINTS[name][7], strict=True):
        compare(
            f"{letter}M of {name}",
            computed,
            published,
            atol=0.0055,
            source=f"{TITLE}, {name}",
            status=_status(name, MULTIPLIERS_READ),
            why="printed to two decimals; HM 0.44 at 23 in stands for 10/23 = 0.4348",
        )


@pytest.mark.parametrize("name", POINTS)
def test_weight_limit_from_the_rounded_multipliers_of_the_worksheet(compare, name):
    load, *_, rounded, limit, index = POINTS[name]
    RWL = niosh.recommended_weight_limit(*rounded, LC=51.0 * LB)
    compare(
        f"RWL of {name} [lb]", RWL / LB, limit, atol=0.051, source=f"{TITLE}, {name}", status=_status(name),
        why="one printed decimal",
    )  # fmt: skip
    compare(
        f"LI of {name}", niosh.lifting_index(load * LB, RWL), index, atol=0.051, source=f"{TITLE}, {name}",
        status="from memory", why="one printed decimal",
    )  # fmt: skip


@pytest.mark.parametrize("name", POINTS)
def test_weight_limit_at_full_precision(compare, name):
    limit = POINTS[name][8]
    RWL = niosh.recommended_weight_limit(*_multipliers(name), LC=51.0 * LB)
    compare(
        f"RWL of {name}, nothing rounded [lb]", RWL / LB, limit, rtol=0.025, source=f"{TITLE}, {name}",
        status=_status(name), why=ROUNDED,
    )  # fmt: skip


@pytest.mark.parametrize(("name", "limit"), [("example 4, origin", 34.8), ("example 4, destination", 15.3)])
def test_published_full_precision_of_example_4(compare, name, limit):
    RWL = niosh.recommended_weight_limit(*_multipliers(name), LC=51.0 * LB)
    compare(
        f"RWL of {name}, full precision [lb]", RWL / LB, limit, atol=0.051, source=f"{TITLE}, {name}",
        status="read", why="one printed decimal",
    )  # fmt: skip


def test_composite_index_of_three_tasks(compare):
    load, FIRWL, lifts = np.array([30, 20, 10]) * LB, np.array([20, 20, 15]) * LB, np.array([1.0, 2.0, 4.0])
    for i, (FM, STRWL, STLI) in enumerate([(0.94, 18.8, 1.6), (0.91, 18.2, 1.1), (0.84, 12.6, 0.8)]):
        computed = niosh.frequency_multiplier(lifts[i], 1.0, 800.0)
        given = {"source": f"{TITLE}, section 2.4.5", "status": "from memory"}
        compare(f"FM of task {i + 1}", computed, FM, atol=1e-12, why="exact row of the table", **given)
        RWL = computed * FIRWL[i]
        compare(f"STRWL of task {i + 1} [lb]", RWL / LB, STRWL, atol=0.051, why="one decimal", **given)
        index = niosh.lifting_index(load[i], RWL)
        compare(f"STLI of task {i + 1}", index, STLI, atol=0.051, why="one decimal", **given)
    compare(
        "CLI of three tasks",
        niosh.composite_lifting_index(load, FIRWL, lifts, 1.0, 800.0),
        1.9,
        atol=0.051,
        source=f"{TITLE}, section 2.4.5",
        status="from memory",
        why="one printed decimal",
    )


TABLE_5 = [
    # lifts a minute, then up to 1 h, 2 h, 8 h, each below and from 30 in
    (0.2, 1.00, 1.00, 0.95, 0.95, 0.85, 0.85),
    (0.5, 0.97, 0.97, 0.92, 0.92, 0.81, 0.81),
    (1, 0.94, 0.94, 0.88, 0.88, 0.75, 0.75),
    (4, 0.84, 0.84, 0.72, 0.72, 0.45, 0.45),
    (8, 0.60, 0.60, 0.35, 0.35, 0.18, 0.18),
    (9, 0.52, 0.52, 0.30, 0.30, 0.00, 0.15),
    (10, 0.45, 0.45, 0.26, 0.26, 0.00, 0.13),
    (11, 0.41, 0.41, 0.00, 0.23, 0.00, 0.00),
    (12, 0.37, 0.37, 0.00, 0.21, 0.00, 0.00),
    (13, 0.00, 0.34, 0.00, 0.00, 0.00, 0.00),
    (15, 0.00, 0.28, 0.00, 0.00, 0.00, 0.00),
    (16, 0.00, 0.00, 0.00, 0.00, 0.00, 0.00),
]


@pytest.mark.parametrize("row", TABLE_5, ids=lambda row: f"{row[0]:g} a minute")
def test_frequency_table(compare, row):
    lifts, *published = row
    cases = [(hours, V) for hours in (1.0, 2.0, 8.0) for V in (500.0, 762.0)]
    for (hours, V), value in zip(cases, published, strict=True):
        compare(
            f"FM at {lifts:g} a minute, {hours:g} h, V {V:g} mm",
            niosh.frequency_multiplier(lifts, hours, V),
            value,
            atol=1e-12,
            source=f"{TITLE}, Table 5",
            status="read",
            why="a table is copied or it is not",
        )


def test_outside_the_equation_there_is_no_limit_or_no_number():
    assert niosh.horizontal_multiplier(631.0) == 0.0
    assert niosh.vertical_multiplier(1751.0) == 0.0
    assert niosh.distance_multiplier(1751.0) == 0.0
    assert niosh.asymmetric_multiplier(136.0) == 0.0
    assert np.isnan(niosh.frequency_multiplier(1.0, 8.1, 500.0))
    assert np.isnan(niosh.horizontal_multiplier(-1.0))
    assert np.isnan(niosh.coupling_multiplier("fair", np.nan))
    assert np.isnan(niosh.frequency_multiplier(1.0, 1.0, np.nan))
    assert niosh.lifting_index(20.0, 0.0) == np.inf
    too_many = niosh.composite_lifting_index(
        np.array([9.0, 9.0]), np.array([9.0, 9.0]), np.array([9.0, 9.0]), 1.0, 800.0
    )
    assert too_many == np.inf


def test_metric_column_at_its_reference_posture():
    # H 250, V 750, D 250 mm, no twist, seldom, good grip: 23 kg.
    limit = niosh.recommended_weight_limit(
        niosh.horizontal_multiplier(250.0),
        niosh.vertical_multiplier(750.0),
        niosh.distance_multiplier(250.0),
        niosh.asymmetric_multiplier(0.0),
        niosh.frequency_multiplier(0.1, 0.5, 750.0),
        niosh.coupling_multiplier("good", 750.0),
    )
    assert limit == pytest.approx(23.0)
    assert niosh.horizontal_distance(400.0, 300.0) == 400.0
    assert niosh.horizontal_distance(400.0, 100.0) == 450.0


def test_a_column_of_lifts():
    lifts, hours, V = np.array([0.1, 4.0, 12.5]), np.array([0.5, 2.0, 9.0]), np.array([800.0, 500.0, 500.0])
    column = niosh.frequency_multiplier(lifts, hours, V)
    np.testing.assert_array_equal(column, [1.0, 0.72, np.nan])
    for i in range(3):
        np.testing.assert_array_equal(niosh.frequency_multiplier(lifts[i], hours[i], V[i]), column[i])
