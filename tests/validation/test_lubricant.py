"""Viscosity: ASTM D341, ASTM D2270 and ISO 3448 against printed examples and typical oils."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from halfbore.standards import astm_d341, astm_d2270, iso3448_1992

Compare = Callable[..., None]
CONFIRMED = "from memory, confirmed"


def test_viscosity_from_two_points(compare: Compare) -> None:
    source, status = "ASTM D341, two-point form, a published calculation sheet", "read"
    # That sheet counts 0 °C as 273 K, so its line is followed in kelvins here.
    slope = astm_d341.slope(32.0, 313.0, 5.4, 373.0)
    intercept = astm_d341.intercept(32.0, 313.0, slope)
    compare("A of VG 32", intercept, 9.5259, atol=1e-4, source=source, status=status, why="printed digits")
    compare("B of VG 32", slope, 3.7449, atol=1e-4, source=source, status=status, why="printed digits")
    compare(
        "ν at 80 °C from 32 at 40 °C and 5.4 at 100 °C",
        astm_d341.viscosity(80.0, 32.0, 5.4),
        8.5,
        atol=0.06,
        source=source,
        status=status,
        why="printed to one decimal, with 0 °C as 273 K",
    )


@pytest.mark.parametrize(("Y", "L", "H"), [(8.86, 119.94, 69.48), (5.05, None, 28.97), (7.80, None, 57.31)])
def test_reference_oils_of_the_printed_examples(
    compare: Compare, Y: float, L: float | None, H: float
) -> None:
    computed = dict(zip("LH", astm_d2270.reference_viscosities(Y), strict=True))
    for letter, printed in (("L", L), ("H", H)):
        if printed is not None:
            compare(
                f"{letter} at Y = {Y}",
                computed[letter],
                printed,
                rtol=4e-4,
                source="ASTM D2270, worked examples",
                status=CONFIRMED,
                why="printed values are interpolated in a table, ours come from its quadratics",
            )


@pytest.mark.parametrize(
    ("U", "Y", "H", "printed"),
    [(73.3, 8.86, 69.48, 92.43), (22.83, 5.05, 28.97, 156.37), (53.47, 7.80, 57.31, 111.30)],
)
def test_viscosity_index_of_the_printed_examples(
    compare: Compare, U: float, Y: float, H: float, printed: float
) -> None:
    L = 119.94  # of the first example; procedure B has no use for it
    compare(
        f"VI of {U} at 40 °C and {Y} at 100 °C",
        astm_d2270.viscosity_index(U, L, H, Y),
        printed,
        atol=0.015,
        source="ASTM D2270, procedure A" if printed < 100 else "ASTM D2270, procedure B",
        status=CONFIRMED,
        why="rounding of the printed steps",
    )


@pytest.mark.parametrize("joint", [3.8, 4.4, 5.0, 6.4, 7.0, 7.7, 9, 12, 15, 18, 22, 28, 40, 55, 70])
def test_neighbouring_quadratics_meet(compare: Compare, joint: float) -> None:
    below, above = (astm_d2270.reference_viscosities(joint + step) for step in (0.0, 1e-9))
    for letter, one, other in zip("LH", below, above, strict=True):
        compare(
            f"{letter} at the joint Y = {joint}",
            one,
            other,
            rtol=0.002,
            source="ASTM D2270, quadratic equations",
            status=CONFIRMED,
            why="each quadratic is fitted to its own stretch of a rounded table",
        )


@pytest.mark.parametrize(
    ("grade", "typical"), [(32, 5.4), (68, 8.7), (100, 11.1), (150, 14.7), (220, 18.95), (460, 30.6)]
)
def test_mineral_oils_of_index_95(compare: Compare, grade: float, typical: float) -> None:
    compare(
        f"ν at 100 °C of VG {grade}, VI 95",
        astm_d2270.viscosity_at_100(iso3448_1992.midpoint_viscosity(grade), 95.0),
        typical,
        rtol=0.025,
        source="typical mineral oils; common practice, no source",
        status="from memory",
        why="typical oils of these grades have an index of 93 to 100",
    )


@pytest.mark.parametrize("grade", [22, 32, 46, 68, 100, 150, 220, 320, 460])
def test_grade_limits(compare: Compare, grade: float) -> None:
    low, high = iso3448_1992.viscosity_limits(grade)
    for what, computed, share in (("lower", low, 0.9), ("upper", high, 1.1)):
        compare(
            f"{what} limit of VG {grade}",
            computed,
            share * grade,
            rtol=1e-12,
            source="ISO 3448:1992, limits of 10 % about the midpoint",
            status="read",
        )


def test_there_are_twenty_grades_in_steps_of_about_a_half() -> None:
    middle = np.asarray(iso3448_1992.midpoint_viscosity(iso3448_1992.GRADES))
    steps = middle[1:] / middle[:-1]
    assert middle.size == 20
    assert ((steps > 1.4) & (steps < 1.57)).all()
