"""Weibull fit: against scipy's fit and likelihood, and a plain answer where no fit exists."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from halfbore.errors import InputError
from halfbore.numerics.life_data import WeibullFit, fit, weibull_life, weibull_mean

ITEMS = st.lists(st.tuples(st.integers(1, 1000), st.booleans()), min_size=3, max_size=15)


def log_likelihood(lives: np.ndarray, failed: np.ndarray, shape: float, scale: float) -> float:
    law = stats.weibull_min(shape, scale=scale)
    return float(law.logpdf(lives[failed]).sum() + law.logsf(lives[~failed]).sum())


def fitted(items: list[tuple[int, bool]]) -> tuple[np.ndarray, np.ndarray, WeibullFit]:
    lives, failed = np.array([t for t, _ in items], dtype=float), np.array([f for _, f in items])
    assume(failed.sum() >= 2 and lives[failed].min() < lives.max())
    return lives, failed, fit(lives, failed)


@given(ITEMS)
def test_the_fit_solves_the_likelihood_equations(items: list[tuple[int, bool]]) -> None:
    lives, failed, found = fitted(items)
    z = (lives / found.scale) ** found.shape
    slope = failed.sum() + np.log(z[failed]).sum() - (z * np.log(z)).sum()
    assert z.sum() == pytest.approx(failed.sum(), rel=1e-9)
    assert slope == pytest.approx(0.0, abs=1e-9 * failed.sum() * max(1.0, np.abs(np.log(z)).max()))
    assert found.log_likelihood == pytest.approx(
        log_likelihood(lives, failed, found.shape, found.scale), rel=1e-9, abs=1e-7
    )


@pytest.mark.parametrize("seed", range(6))
def test_the_fit_is_the_one_of_scipy(seed: int) -> None:
    rng = np.random.default_rng(seed)
    lives = 1000.0 * rng.weibull(rng.uniform(0.7, 4.0), 25)
    failed = lives < np.quantile(lives, 0.4 + 0.1 * seed)
    seen = stats.CensoredData.right_censored(lives, ~failed)
    shape, _, scale = stats.weibull_min.fit(seen, floc=0.0)
    found = fit(lives, failed)
    assert (found.shape, found.scale) == pytest.approx((shape, scale), rel=2e-5)


@given(ITEMS)
def test_bounds_are_where_the_best_likelihood_has_fallen_by_half_of_chi_squared(
    items: list[tuple[int, bool]],
) -> None:
    lives, failed, found = fitted(items)
    fall = stats.chi2(1).ppf(0.9) / 2.0
    assert found.shape_bounds is not None
    for shape in found.shape_bounds:
        scale = lives.max() * (((lives / lives.max()) ** shape).sum() / failed.sum()) ** (1.0 / shape)
        assert found.log_likelihood - log_likelihood(lives, failed, shape, scale) == pytest.approx(
            fall, rel=1e-5
        )
    assert found.shape_bounds[0] < found.shape < found.shape_bounds[1]
    assert found.scale_bounds[0] < found.scale < found.scale_bounds[1]


@given(ITEMS, st.floats(0.5, 2.0), st.floats(0.5, 2.0))
def test_no_other_parameters_are_likelier_and_none_outside_a_bound_is_inside_the_region(
    items: list[tuple[int, bool]], shapely: float, scaly: float
) -> None:
    lives, failed, found = fitted(items)
    shape, scale = found.shape * shapely, found.scale * scaly
    fallen = found.log_likelihood - log_likelihood(lives, failed, shape, scale)
    assert fallen >= -1e-7
    outside = not found.scale_bounds[0] * 0.999999 <= scale <= found.scale_bounds[1] * 1.000001
    assert not outside or fallen >= stats.chi2(1).ppf(0.9) / 2.0 - 1e-5


@given(ITEMS, st.sampled_from([1e-6, 3600.0, 1e9]))
def test_another_unit_of_time_changes_only_the_scale(items: list[tuple[int, bool]], unit: float) -> None:
    lives, failed, found = fitted(items)
    other = fit(lives * unit, failed)
    assert other.shape == pytest.approx(found.shape, rel=1e-8)
    assert np.array(other.scale_bounds) / unit == pytest.approx(np.array(found.scale_bounds), rel=1e-6)
    assert other.scale / unit == pytest.approx(found.scale, rel=1e-8)


def test_with_an_assumed_shape_one_failure_is_enough() -> None:
    lives, failed, shape = np.array([5.0, 7.0, 9.0]), np.array([True, False, False]), 2.0
    found = fit(lives, failed, shape=shape)
    assert found.scale == pytest.approx(np.sqrt((lives**2).sum()))
    assert found.shape_bounds is None
    assert (found.failures, found.suspended, found.method) == (1, 2, "maximum likelihood, shape assumed")
    fall = stats.chi2(1).ppf(0.9) / 2.0
    for scale in found.scale_bounds:
        x = (lives**shape).sum() / scale**shape
        assert -np.log(x) + x - 1.0 == pytest.approx(fall)


def test_assuming_the_fitted_shape_gives_the_fitted_scale() -> None:
    lives, failed = [120.0, 300.0, 410.0, 500.0, 500.0], [True, True, True, False, False]
    free = fit(lives, failed)
    assert fit(lives, failed, shape=free.shape).scale == pytest.approx(free.scale, rel=1e-8)


def test_more_confidence_is_a_wider_range() -> None:
    lives, failed = [120.0, 300.0, 410.0, 500.0], [True, True, True, False]
    narrow, wide = fit(lives, failed, confidence=0.5), fit(lives, failed, confidence=0.99)
    assert wide.scale_bounds[0] < narrow.scale_bounds[0] < narrow.scale_bounds[1] < wide.scale_bounds[1]


def test_many_drawn_lives_give_back_their_parameters() -> None:
    lives = stats.weibull_min(1.8, scale=4000.0).rvs(5000, random_state=np.random.default_rng(4))
    found = fit(np.minimum(lives, 5000.0), lives < 5000.0, confidence=0.9999)
    assert found.shape_bounds is not None
    assert found.shape_bounds[0] < 1.8 < found.shape_bounds[1]
    assert found.scale_bounds[0] < 4000.0 < found.scale_bounds[1]


def test_a_bound_past_every_number_is_infinite() -> None:
    lives = np.concatenate([[1.0, 900.0], np.full(5000, 1000.0)])
    found = fit(lives, np.arange(5002) < 2, confidence=0.999)
    assert found.scale_bounds[0] > 1000.0
    assert found.scale_bounds[1] == np.inf


@pytest.mark.parametrize(
    ("lives", "failed", "shape", "says"),
    [
        ([5.0, 7.0], [False, False], None, "no failure.*give at least one failure"),
        ([5.0, 7.0], [False, False], 2.0, "no failure"),
        ([], [], None, "no failure"),
        ([5.0, 7.0], [True, False], None, "one failure does not tell the shape.*assumed shape"),
        ([7.0, 7.0, 5.0], [True, True, False], None, "no finite shape"),
        ([5.0, -7.0], [True, True], None, "life 2: not a life; read '-7'"),
        ([5.0, 0.0], [True, True], None, "life 2: not a life"),
        ([5.0, np.nan], [True, True], None, "life 2: not a life"),
        ([5.0, np.inf], [True, False], 2.0, "life 2: not a life"),
        ([5.0, 7.0], [True], None, "for each life"),
        ([5.0, 7.0], [True, True], -1.0, "not a Weibull shape"),
        ([5.0, 7.0], [True, True], np.nan, "not a Weibull shape"),
        ([5.0, 7.0], [True, True], 1e-5, "not a Weibull shape.*0.05 to 1000"),
    ],
)
def test_what_cannot_be_fitted_is_refused(
    lives: list[float], failed: list[bool], shape: float | None, says: str
) -> None:
    with pytest.raises(InputError, match=says):
        fit(lives, failed, shape=shape)


@pytest.mark.parametrize("confidence", [0.0, 1.0, np.nan])
def test_a_confidence_outside_0_to_1_is_refused(confidence: float) -> None:
    with pytest.raises(InputError, match="confidence"):
        fit([5.0, 7.0], [True, True], confidence=confidence)


def test_life_and_mean_serve_a_column() -> None:
    assert weibull_mean(np.array([1.0, 2.0]), 10.0) == pytest.approx([10.0, 5.0 * np.sqrt(np.pi)])
    assert weibull_life(np.array([0.1, 0.5]), 1.0, 10.0) == pytest.approx(
        [1.0536051565782627, 10 * np.log(2.0)]
    )
