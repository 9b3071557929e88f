"""ISO 281:2007 against its printed tables."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from halfbore.standards.iso281_2007 import (
    a_1,
    a_1_formula,
    a_iso,
    basic_dynamic_radial_load_rating,
    f_c,
    f_c_formula,
    fatigue_load_limit,
    nu_1,
)
from halfbore.standards.iso281_2007_annex_a import ContaminationLevel, contamination_factor

Compare = Callable[..., None]
CONFIRMED = "from memory, confirmed"

# fmt: off
TABLE_7 = [
    (0.01, 52.1), (0.02, 60.8), (0.03, 66.5), (0.04, 70.7), (0.05, 74.1), (0.06, 76.9), (0.07, 79.2),
    (0.08, 81.2), (0.09, 82.8), (0.10, 84.2), (0.11, 85.4), (0.12, 86.4), (0.13, 87.1), (0.14, 87.7),
    (0.15, 88.2), (0.16, 88.5), (0.17, 88.7), (0.18, 88.8), (0.19, 88.8), (0.20, 88.7), (0.21, 88.5),
    (0.22, 88.2), (0.23, 87.9), (0.24, 87.5), (0.25, 87.0), (0.26, 86.4), (0.27, 85.8), (0.28, 85.2),
    (0.29, 84.5), (0.30, 83.8),
]
# fmt: on
TABLE_12 = [  # reliability in per cent, a_1, half a unit of the last printed digit
    (90, 1.0, 0.005),
    (95, 0.64, 0.005),
    (96, 0.55, 0.005),
    (97, 0.47, 0.005),
    (98, 0.37, 0.005),
    (99, 0.25, 0.005),
    (99.2, 0.22, 0.005),
    (99.4, 0.19, 0.005),
    (99.6, 0.16, 0.005),
    (99.8, 0.12, 0.005),
    (99.9, 0.093, 0.0005),
    (99.92, 0.087, 0.0005),
    (99.94, 0.080, 0.0005),
    (99.95, 0.077, 0.0005),
]
ANNEX_A = [  # level, D_pw, c_1, c_2
    ("grease, high cleanliness", 150.0, 0.0864, 0.6796),
    ("grease, normal cleanliness", 150.0, 0.0432, 1.141),
    ("grease, slight to typical", 150.0, 0.0177, 1.887),
    ("grease, slight to typical", 499.9, 0.0177, 1.887),
    ("grease, slight to typical", 500.0, 0.0177, 1.677),
    ("grease, severe", 150.0, 0.0115, 2.662),
    ("grease, very severe", 150.0, 0.00617, 4.06),
    ("oil bath, -/13/10", 150.0, 0.0864, 0.5796),
    ("oil bath, -/15/12", 150.0, 0.0288, 1.141),
    ("oil bath, -/17/14", 150.0, 0.0133, 1.67),
    ("oil bath, -/19/16", 150.0, 0.00864, 2.5164),
    ("oil bath, -/21/18", 150.0, 0.00411, 3.8974),
    ("oil with on-line filter, -/13/10", 150.0, 0.0864, 0.5663),
    ("oil with on-line filter, -/15/12", 150.0, 0.0432, 0.9987),
    ("oil with on-line filter, -/17/14", 150.0, 0.0288, 1.6329),
    ("oil with on-line filter, -/19/16", 150.0, 0.0216, 2.3362),
]
A_ISO = [  # κ, e_C·C_u/P, a_ISO
    (0.2, 0.05, 0.11780644967620386),
    (0.2, 0.5, 0.15178852437911053),
    (0.4, 0.05, 0.13835544081935125),
    (0.4, 0.5, 0.2312614628731575),
    (0.6, 0.05, 0.19052696289200596),
    (0.6, 0.5, 0.5551993201776673),
    (1, 0.05, 0.2796742043045613),
    (1, 0.5, 1.7141090863912838),
    (2, 0.05, 0.33737266935866184),
    (2, 0.5, 3.081296385091669),
    (3, 0.05, 0.37554032258079645),
    (3, 0.5, 4.359496024989612),
    (4, 0.05, 0.40475425543739374),
    (4, 0.5, 5.586903538187967),
    (6, 0.05, 0.40475425543739374),
    (6, 0.5, 5.586903538187967),
]
EDITION_OF_1990 = [(95, 0.62), (96, 0.53), (97, 0.44), (98, 0.33), (99, 0.21)]


@pytest.mark.parametrize(("gamma", "printed"), TABLE_7)
def test_geometry_factor(compare: Compare, gamma: float, printed: float) -> None:
    compare(
        f"f_c at γ = {gamma:.2f}, by formula",
        f_c_formula(gamma),
        printed,
        atol=0.05,
        source="ISO 281:2007, Table 7; formula of ISO/TR 1281-1",
        status=CONFIRMED,
        why="rounding of the printed table",
    )
    assert f_c(gamma) == printed


def test_geometry_factor_is_linear_between_the_rows_and_ends_with_them() -> None:
    assert f_c(0.155) == pytest.approx(88.35)
    assert np.isnan([f_c(0.0099), f_c(0.301), f_c_formula(0.0099), f_c_formula(0.301)]).all()


@pytest.mark.parametrize(("percent", "printed", "half_digit"), TABLE_12)
def test_reliability_factor(compare: Compare, percent: float, printed: float, half_digit: float) -> None:
    compare(
        f"a_1 at {percent} %, by the three-parameter form",
        a_1_formula(percent / 100),
        printed,
        atol=half_digit,
        source="ISO 281:2007, Table 12",
        status="read" if percent == 95 else CONFIRMED,
        why="rounding of the printed table",
    )
    assert a_1(percent / 100) == pytest.approx(printed, rel=1e-12)


@pytest.mark.parametrize(("percent", "superseded"), EDITION_OF_1990)
def test_reliability_factor_is_not_that_of_1990(percent: float, superseded: float) -> None:
    assert a_1(percent / 100) > superseded + 0.01


@pytest.mark.parametrize("reliability", [0.92, 0.955, 0.985, 0.997, 0.9993])
def test_between_the_rows_the_reliability_factor_follows_the_form(reliability: float) -> None:
    # The rows are rounded by up to half a unit of their last digit, and so is what lies between them.
    assert a_1(reliability) == pytest.approx(a_1_formula(reliability), abs=0.005)


@pytest.mark.parametrize("load_ratio", [0.01, 0.05, 0.2, 0.5, 1.0, 1.5])
def test_life_modification_factor_is_continuous(compare: Compare, load_ratio: float) -> None:
    for kappa, rtol, why in (
        (0.4, 3e-3, "the remembered constants of the two branches meet within 0.3 %"),
        (1.0, 1e-9, "the branches meet exactly"),
    ):
        compare(
            f"a_ISO below and at κ = {kappa}, e_C·C_u/P = {load_ratio}",
            a_iso(kappa * (1 - 1e-12), load_ratio, 1.0, 1.0),
            a_iso(kappa, load_ratio, 1.0, 1.0),
            rtol=rtol,
            source="ISO 281:2007, 9.3",
            status="from memory",
            why=why,
        )


def test_life_modification_factor_runs_from_a_tenth_to_fifty() -> None:
    assert a_iso(1.0, 1e-9, 1.0, 1.0) == pytest.approx(0.1, rel=1e-3)
    assert a_iso(4.0, 1.0, 5.0, 1.0) == 50.0
    assert a_iso(4.0, 1.0, 1e9, 1.0) == 50.0  # the bracket is below zero here


@pytest.mark.parametrize("D_pw", [30.0, 60.0, 100.0, 300.0, 499.0, 500.0, 600.0])
@pytest.mark.parametrize("kappa", [0.2, 0.5, 1.0, 2.0, 4.0])
@pytest.mark.parametrize("family", ["grease", "oil bath", "oil with on-line filter"])
def test_the_dirtier_level_never_has_the_higher_contamination_factor(
    family: str, kappa: float, D_pw: float
) -> None:
    factors = [contamination_factor(kappa, D_pw, c) for c in ContaminationLevel if c.startswith(family)]
    assert len(factors) >= 4
    assert factors == sorted(factors, reverse=True)
    assert 0 <= min(factors) and max(factors) <= 1  # noqa: SIM300


@pytest.mark.parametrize(("level", "D_pw", "c_1", "c_2"), ANNEX_A)
def test_contamination_factor(compare: Compare, level: str, D_pw: float, c_1: float, c_2: float) -> None:
    kappa = 0.8
    compare(
        f"e_C of {level}, D_pw = {D_pw:g} mm, κ = {kappa}",
        contamination_factor(kappa, D_pw, ContaminationLevel(level)),
        max(min(c_1 * kappa**0.68 * D_pw**0.55, 1) * (1 - c_2 / D_pw ** (1 / 3)), 0),
        rtol=1e-12,
        source="ISO 281:2007, Annex A",
        status="from memory",
        why="the same remembered constants, put in by hand",
    )


def test_every_contamination_level_is_checked() -> None:
    assert {row[0] for row in ANNEX_A} == set(ContaminationLevel)


@pytest.mark.parametrize(
    ("kappa", "load_ratio", "factor"),
    A_ISO,
)
def test_life_modification_factor_as_computed_twice(kappa: float, load_ratio: float, factor: float) -> None:
    """Regression values of our own, from a second implementation of the remembered formula."""
    assert a_iso(kappa, load_ratio, 1000.0, 1000.0) == pytest.approx(factor, rel=1e-9)


def test_reference_viscosity_parts_by_2_3_per_cent_at_1000(compare: Compare) -> None:
    compare(
        "ν_1 just below over at 1000 r/min",
        nu_1(1000 * (1 - 1e-12), 100.0) / nu_1(1000.0, 100.0),
        1.023,
        atol=0.0005,
        source="ISO 281:2007, 9.3",
        status="from memory",
        why="145.6 over 142.3, rounded",
    )


def test_fatigue_load_limit_is_continuous_at_100_mm() -> None:
    assert fatigue_load_limit(8200.0, 100.0) == fatigue_load_limit(8200.0, 40.0) == pytest.approx(1000.0)
    assert fatigue_load_limit(8200.0, 200.0) == pytest.approx(1000 * 0.5**0.3)


def test_load_rating_of_a_known_geometry() -> None:
    """A regression value of our own: Z = 14, D_we = 10, L_we = 9.6, D_pw = 65 mm give 48 427 N."""
    rating = basic_dynamic_radial_load_rating(1.1, f_c(10 / 65), 1, 9.6, 0.0, 14, 10.0)
    assert rating == pytest.approx(48_427, abs=0.5)
