"""Look-ups at their edges, answers outside the method, and what must hold for every input."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.sources import Source, Status
from halfbore.standards import (
    astm_d341,
    astm_d2270,
    iso76_2006,
    iso281_2007,
    iso281_2007_annex_a,
    iso286_1_2010,
    iso3448_1992,
    iso5753_1991,
    iso15243_2017,
    iso15312_2018,
)
from halfbore.standards.iso281_2007_annex_a import ContaminationLevel
from halfbore.standards.iso5753_1991 import ClearanceGroup
from halfbore.standards.iso15243_2017 import DamageGroup, DamageMode
from halfbore.standards.validity import Range, not_negative, positive, ratio

loads = st.floats(0.0, 1e6)
kappas = st.floats(0.1, 10.0)
diameters = st.floats(40.0, 900.0)
shares_of_one = st.floats(0.0, 1.0)
levels = st.sampled_from(ContaminationLevel)

LAST_DIGITS = 1e-14
"""NumPy's powers of a column and of a number differ in the last binary digit."""


# Ranges and look-ups


def test_a_range_holds_both_ends_and_what_a_conversion_leaves_of_them() -> None:
    span = Range(0.90, 0.9995, "", Source("any"))
    assert span.holds([0.9, 0.9995, 0.3 * 3, 0.1 + 0.8, np.nextafter(0.9, 0), np.nextafter(0.9995, 1)]).all()
    assert not span.holds([0.8999, 0.9996, np.nan, np.inf, -np.inf]).any()
    assert np.isnan(span.keep(0.5))


def test_a_quotient_never_warns() -> None:
    np.testing.assert_equal(
        ratio([1.0, 0.0, -1.0, 6.0], [0.0, 0.0, 0.0, 3.0]), [np.inf, np.nan, -np.inf, 2.0]
    )
    assert isinstance(ratio(1, 4), float)


def test_signs_are_kept_or_dropped() -> None:
    np.testing.assert_equal(positive([-1.0, 0.0, 1.0]), [np.nan, np.nan, 1.0])
    np.testing.assert_equal(not_negative([-1.0, 0.0, 1.0]), [np.nan, 0.0, 1.0])


@pytest.mark.parametrize(
    ("look_up", "columns"),
    [
        (iso281_2007.f_c, [[0.005, 0.01, 0.015, 0.123, 0.30, 0.31, np.nan]]),
        (iso281_2007.a_1, [[0.5, 0.90, 0.93, 0.95, 0.9993, 0.9995, 0.99951, np.nan]]),
        (
            iso281_2007.kappa_with_ep,
            [[0.05, 0.1, 0.5, 0.5, 1.0, 3.0], 0.3, [True, True, True, False, True, True]],
        ),
        (iso286_1_2010.it, [[10.0, 10.1, 18.0, 120.0, 800.0, 800.1, np.nan], [5, 6, 7, 11, 12, 4, 7]]),
        (iso3448_1992.midpoint_viscosity, [[2.0, 7.0, 220.0, 221.0, np.nan]]),
        (astm_d2270.viscosity_at_100, [[5.0, 32.0, 220.0, 3200.0, np.nan], [95.0, 95.0, 160.0, 0.0, 95.0]]),
        (astm_d341.viscosity, [[-80.0, 20.0, 70.0, 371.0, np.nan], 220.0, 19.0]),
        (
            iso15312_2018.thermal_speed_rating,
            [[50.0, 100.0, -1.0], 215.0, 40.0, [9e4, 3e5, 3e5], 2.0, 0.0003],
        ),
    ],
)
def test_a_column_is_its_elements_one_by_one(look_up: Any, columns: list[Any]) -> None:
    rows = np.broadcast_arrays(*columns)
    one_by_one = [look_up(*(c[k] for c in rows)) for k in range(rows[0].size)]
    np.testing.assert_allclose(look_up(*rows), one_by_one, rtol=LAST_DIGITS)


@pytest.mark.parametrize(
    ("nominal", "grade", "micrometres"),
    [(10.0001, 7, 18), (18, 7, 18), (18.0001, 7, 21), (120, 7, 35), (120.0001, 7, 40), (800, 11, 500)],
)
def test_a_tolerance_row_is_over_a_up_to_and_including_b(
    nominal: float, grade: int, micrometres: float
) -> None:
    assert iso286_1_2010.it(nominal, grade) == pytest.approx(micrometres / 1000)
    np.testing.assert_allclose(iso286_1_2010.h_limits(nominal, grade), (0, -micrometres / 1000))


@pytest.mark.parametrize(
    ("nominal", "grade"), [(10, 7), (800.1, 7), (-5, 7), (100, 4), (100, 12), (100, 7.5)]
)
def test_a_tolerance_outside_the_table_is_nan(nominal: float, grade: float) -> None:
    assert np.isnan(iso286_1_2010.it(nominal, grade))
    assert np.isnan(iso286_1_2010.h_limits(nominal, grade)).all()


@pytest.mark.parametrize(
    ("d", "group", "micrometres"),
    [
        (10, "C2", (0, 25)),
        (24, "CN", (20, 45)),
        (30.1, "CN", (25, 50)),
        (100, "C3", (75, 110)),
        (630, "C4", (500, 620)),
    ],
)
def test_clearance_of_a_bore(d: float, group: str, micrometres: tuple[float, float]) -> None:
    np.testing.assert_allclose(iso5753_1991.radial_clearance(d, group), np.divide(micrometres, 1000))


def test_clearance_outside_the_table_is_nan() -> None:
    assert np.isnan(iso5753_1991.radial_clearance([9.9, 630.1, np.nan], "C3")).all()
    assert np.isnan(iso5753_1991.radial_clearance(100, "C5")).all()


BORES = [
    24,
    30,
    40,
    50,
    65,
    80,
    100,
    120,
    140,
    160,
    180,
    200,
    225,
    250,
    280,
    315,
    355,
    400,
    450,
    500,
    560,
    630,
]


@pytest.mark.parametrize("d", BORES)
def test_clearance_groups_are_ordered_and_of_one_width(d: float) -> None:
    low, high = iso5753_1991.radial_clearance(d, list(ClearanceGroup))
    assert (np.diff(low) > 0).all()
    np.testing.assert_allclose(high - low, high[0] - low[0], rtol=1e-12)


def test_clearance_never_falls_with_the_bore() -> None:
    for group in ClearanceGroup:
        low, high = iso5753_1991.radial_clearance(BORES, group)
        assert (np.diff(low) >= 0).all()
        assert (np.diff(high) >= 0).all()


@pytest.mark.parametrize(
    ("d", "least"),
    [(60, (10, 40, 60, 80)), (100, (15, 50, 75, 105)), (150, (20, 70, 115, 165)), (240, (45, 110, 170, 235))],
)
def test_least_clearance_of_a_row(d: float, least: tuple[float, ...]) -> None:
    np.testing.assert_allclose(
        iso5753_1991.radial_clearance(d, list(ClearanceGroup))[0], np.divide(least, 1000)
    )


def test_the_roughest_and_the_quietest_running_ask_most() -> None:
    asked = {r.value: iso76_2006.least_static_safety_factor(r) for r in iso76_2006.Running}
    assert asked == {"quiet": 3.0, "normal": 1.5, "pronounced shock": 3.0}


def test_material_factor() -> None:
    kinds = iso281_2007.RollerBearingKind
    assert [iso281_2007.b_m(k) for k in kinds] == [1.1, 1.1, 1.1, 1.0, 1.15]


def test_damage_modes_have_distinct_terms_in_six_groups() -> None:
    assert len({m.term for m in DamageMode}) == len(DamageMode) == 14
    assert {m.group for m in DamageMode} == set(DamageGroup)
    assert all(m.looks_like for m in DamageMode)


def test_what_could_not_be_confirmed_says_so() -> None:
    for source in (iso281_2007_annex_a.E_C_SOURCE, iso5753_1991.SOURCE):
        assert source.status is Status.FROM_MEMORY
        assert source.note.startswith("unconfirmed")
    assert iso15243_2017.SOURCE.status is Status.FROM_MEMORY


# Life


def test_half_the_rating_is_the_limit_of_the_load() -> None:
    assert iso281_2007.RANGES["P/C"].holds([0, 0.5]).all()
    assert not iso281_2007.RANGES["P/C"].holds([0.51, -0.1]).any()


def test_life_without_load_or_turns() -> None:
    np.testing.assert_equal(iso281_2007.basic_rating_life(1e5, np.array([0.0, -1.0])), [np.inf, np.nan])
    assert iso281_2007.life_in_hours(1.0, 0) == np.inf


@given(loads, loads, kappas, shares_of_one, st.floats(0.9, 0.9995), diameters)
def test_more_load_never_gives_more_life(
    load: float, other: float, kappa: float, e_C: float, reliability: float, D_pw: float
) -> None:
    C_r, C_0r = 4e5, 6e5
    C_u = iso281_2007.fatigue_load_limit(C_0r, D_pw)
    a_1 = iso281_2007.a_1(reliability)

    def life(P: float) -> float:
        a_iso = iso281_2007.a_iso(kappa, e_C, C_u, P)
        return float(iso281_2007.modified_rating_life(a_1, a_iso, iso281_2007.basic_rating_life(C_r, P)))

    light, heavy = sorted((max(load, 1.0), max(other, 1.0)))
    assert life(heavy) <= life(light) * (1 + 1e-12)


@given(kappas, kappas, shares_of_one, st.floats(1e-3, 5))
def test_a_thicker_film_never_lowers_the_factor(kappa: float, other: float, e_C: float, load: float) -> None:
    thin, thick = sorted((kappa, other))
    assert iso281_2007.a_iso(thin, e_C, 1.0, load) <= iso281_2007.a_iso(thick, e_C, 1.0, load)


@given(kappas, shares_of_one, loads)
def test_the_factor_stays_between_its_limits(kappa: float, e_C: float, load: float) -> None:
    assert 0.1 <= iso281_2007.a_iso(kappa, e_C, 1e4, max(load, 1.0)) <= 50


@pytest.mark.parametrize("kappa", [0.0999, 0.0, -1.0, np.nan])
def test_too_thin_a_film_is_outside_the_method(kappa: float) -> None:
    assert np.isnan(iso281_2007.a_iso(kappa, 0.5, 1e4, 1e4))
    assert np.isnan(iso281_2007_annex_a.contamination_factor(kappa, 200.0, ContaminationLevel.GREASE_SEVERE))
    assert np.isnan(iso281_2007.kappa_with_ep(kappa, 0.5, True))
    assert np.isnan(iso281_2007.a_iso_with_ep(iso281_2007.a_iso(kappa, 0.5, 1e4, 1e4), 2.0))


def test_above_4_the_viscosity_ratio_counts_as_4() -> None:
    assert iso281_2007.a_iso(9.0, 0.5, 1e4, 2e4) == iso281_2007.a_iso(4.0, 0.5, 1e4, 2e4)
    assert iso281_2007.RANGES["kappa"].holds(9.0)


def test_a_standing_shaft_has_no_reference_viscosity() -> None:
    assert np.isnan(iso281_2007.nu_1(0.0, 100.0))
    assert np.isnan(iso281_2007.kappa(50.0, iso281_2007.nu_1(0, 100.0)))


@given(kappas, levels, diameters)
def test_contamination_of_a_column_is_that_of_its_elements(
    kappa: float, level: ContaminationLevel, D_pw: float
) -> None:
    sizes = np.array([D_pw, 499.9, 500.0, 60.0])
    column = iso281_2007_annex_a.contamination_factor(kappa, sizes, level)
    one_by_one = [iso281_2007_annex_a.contamination_factor(kappa, float(s), level) for s in sizes]
    np.testing.assert_allclose(column, one_by_one, rtol=LAST_DIGITS)


def test_dirt_in_a_small_bearing_gives_zero_not_less() -> None:
    assert iso281_2007_annex_a.contamination_factor(1.0, 60.0, ContaminationLevel.GREASE_VERY_SEVERE) == 0
    assert iso281_2007.a_iso(1.0, -0.3, 1e4, 1e4) == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("kappa", "e_C", "proven", "used"),
    [
        (0.5, 0.2, True, 1.0),
        (0.5, 0.2, False, 0.5),
        (0.5, 0.19, True, 0.5),
        (1.2, 0.5, True, 1.2),
        (0.1, 0.5, True, 1.0),
    ],
)
def test_an_additive_helps_a_thin_film_in_a_clean_bearing(
    kappa: float, e_C: float, proven: bool, used: float
) -> None:
    assert iso281_2007.kappa_with_ep(kappa, e_C, proven) == used


def test_an_additive_gives_3_at_most_and_takes_nothing() -> None:
    np.testing.assert_array_equal(
        iso281_2007.a_iso_with_ep(np.array([0.5, 0.5, 5.0]), np.array([2.0, 8.0, 8.0])), [2.0, 3.0, 5.0]
    )


# Duty


@given(st.lists(st.tuples(st.floats(1, 1e5), st.floats(1, 3000), st.floats(0.01, 1)), min_size=1, max_size=6))
def test_mean_load_and_linear_damage_tell_the_same_life(duty: list[tuple[float, float, float]]) -> None:
    load, speed, share = np.array(duty).T
    mean = iso281_2007.mean_load(load, speed, share)
    by_damage = iso281_2007.life_over_duty(iso281_2007.basic_rating_life(1e5, load), speed, share)
    assert min(load) * (1 - 1e-9) <= mean <= max(load) * (1 + 1e-9)
    np.testing.assert_allclose(by_damage, iso281_2007.basic_rating_life(1e5, mean), rtol=1e-9)


def test_a_condition_without_a_turn_does_not_count() -> None:
    speeds, shares = [100.0, 0.0, 50.0], [0.5, 0.5, 0.0]
    assert iso281_2007.mean_load([10.0, 99.0, 99.0], speeds, shares) == pytest.approx(10.0)
    assert iso281_2007.life_over_duty([7.0, np.nan, np.nan], speeds, shares) == pytest.approx(7.0)


def test_a_duty_without_a_turn_has_no_mean_load() -> None:
    assert np.isnan(iso281_2007.mean_load([10.0, 20.0], [0.0, 0.0], [0.5, 0.5]))
    assert np.isnan(iso281_2007.life_over_duty([10.0, 20.0], [0.0, 0.0], [0.5, 0.5]))


def test_a_duty_of_many_units_is_the_duty_of_each() -> None:
    table = np.array([[1000.0, 5000.0], [2000.0, 100.0], [1500.0, -1.0]])
    speeds, shares = [1000.0, 500.0, 10.0], [0.2, 0.3, 0.5]
    each = [iso281_2007.mean_load(column, speeds, shares) for column in table.T]
    np.testing.assert_allclose(iso281_2007.mean_load(table, speeds, shares), each, rtol=LAST_DIGITS)
    assert np.isnan(each[1])
    each = [iso281_2007.life_over_duty(column, speeds, shares) for column in np.abs(table).T]
    lives = iso281_2007.life_over_duty(np.abs(table), speeds, shares)
    np.testing.assert_allclose(lives, each, rtol=LAST_DIGITS)


# Reliability


@given(st.floats(0.90, 0.9995))
def test_survival_is_the_inverse_of_the_reliability_factor(reliability: float) -> None:
    life = iso281_2007.a_1_formula(reliability)
    assert iso281_2007.survival_probability(life, 1.0) == pytest.approx(reliability, rel=1e-12)


@given(st.floats(0.90, 0.9995), st.floats(0.90, 0.9995))
def test_more_reliability_never_gives_more_life(reliability: float, other: float) -> None:
    low, high = sorted((reliability, other))
    assert iso281_2007.a_1(high) <= iso281_2007.a_1(low)


def test_nothing_fails_before_the_least_life() -> None:
    np.testing.assert_array_equal(iso281_2007.survival_probability(np.array([0.0, 0.05]), 1.0), 1.0)
    assert iso281_2007.survival_probability(20.0, 20.0) == pytest.approx(0.9)


@pytest.mark.parametrize("reliability", [0.899, 0.99951, 1.0, 0.0, np.nan])
def test_reliability_outside_the_table_is_outside_the_method(reliability: float) -> None:
    assert np.isnan(iso281_2007.a_1(reliability))


# Lubricant and speed


@given(st.floats(20, 2000), st.floats(0, 300))
def test_viscosity_at_100_has_the_index_it_was_read_from(nu_40: float, index: float) -> None:
    Y = float(astm_d2270.viscosity_at_100(nu_40, index))
    L, H = astm_d2270.reference_viscosities(Y)
    # Neighbouring quadratics part by up to 0.2 %, so just there no viscosity has exactly that index.
    assert astm_d2270.viscosity_index(nu_40, L, H, Y) == pytest.approx(index, abs=0.8)


def test_an_index_or_a_viscosity_outside_the_method_is_nan() -> None:
    assert np.isnan(astm_d2270.viscosity_at_100(220.0, np.array([-1.0, 401.0, np.nan]))).all()
    assert np.isnan(astm_d2270.viscosity_at_100(np.array([0.0, -5.0, 4.0]), 95.0)).all()
    assert np.isnan(astm_d2270.reference_viscosities(np.array([1.9, 2001.0]))).all()


@given(st.floats(10, 1000), st.floats(-20, 120), st.floats(-20, 120))
def test_oil_thins_with_heat(nu_40: float, t: float, other: float) -> None:
    cool, hot = sorted((t, other))
    nu_100 = astm_d2270.viscosity_at_100(nu_40, 95.0)
    thick, thin = astm_d341.viscosity(np.array([cool, hot]), nu_40, nu_100)
    assert thin <= thick or np.isnan(thin) or np.isnan(thick)


def test_the_line_passes_through_its_points() -> None:
    np.testing.assert_allclose(astm_d341.viscosity(np.array([40.0, 100.0]), 220.0, 19.0), [220.0, 19.0])


@pytest.mark.parametrize(
    ("t", "nu_40", "nu_100"),
    [
        (-71, 220, 19),
        (371, 220, 19),
        (80, 220, 1.9),
        (80, 19, 220),
        (80, 50, 50),
        (-70, 460, 10),
        (80, -1, 5),
    ],
)
def test_viscosity_outside_the_method_is_nan(t: float, nu_40: float, nu_100: float) -> None:
    assert np.isnan(astm_d341.viscosity(t, nu_40, nu_100))


def test_grades_and_their_limits() -> None:
    np.testing.assert_allclose(iso3448_1992.midpoint_viscosity([3, 7, 220]), [3.2, 6.8, 220])
    np.testing.assert_allclose(iso3448_1992.viscosity_limits(220), (198, 242))
    assert np.isnan(iso3448_1992.viscosity_limits(221)).all()


@given(st.floats(35, 600), st.floats(1.2, 2.5), st.floats(0.1, 0.8), st.floats(1e4, 1e7))
def test_the_heat_balance_closes_at_the_thermal_speed_rating(
    d: float, wide: float, slim: float, C_0r: float
) -> None:
    D = d * wide
    B = slim * (D - d)
    n = iso15312_2018.thermal_speed_rating(d, D, B, C_0r, 3.0, 0.0004)
    area = iso15312_2018.reference_area(d, D, B)
    loss = iso15312_2018.power_loss(n, 3.0, 0.0004, iso15312_2018.reference_load(C_0r), (D + d) / 2)
    np.testing.assert_allclose(loss, area * iso15312_2018.reference_heat_flow_density(area), rtol=1e-9)


def test_a_series_without_factors_has_no_speed() -> None:
    f_0r, f_1r = iso15312_2018.friction_factors(iso15312_2018.RollerSet.CAGED, "99")
    assert np.isnan(iso15312_2018.thermal_speed_rating(100, 180, 34, 3e5, f_0r, f_1r))
    assert iso15312_2018.friction_factors(iso15312_2018.RollerSet.FULL_COMPLEMENT, "23") == (12.0, 0.00055)
