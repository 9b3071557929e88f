"""Renewal: closed forms, and the simulation against the renewal function."""

from __future__ import annotations

from math import gamma

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError, LimitError
from halfbore.numerics.life_data import weibull_deviation, weibull_mean
from halfbore.numerics.renewal import (
    NOTHING,
    PLANNED,
    mean_life,
    renewal_function,
    renewals,
    renewals_in_the_long_run,
    survival,
)

SHAPES, SCALES = [1.2, 2.0, 3.5], [4.0, 6.0, 5.0]


def rng(seed: int = 11) -> np.random.Generator:
    return np.random.default_rng(seed)


@given(st.floats(0.0, 20.0))
def test_survival_of_competing_risks_is_the_product(time: float) -> None:
    alone = [survival(time, a, b) for a, b in zip(SHAPES, SCALES, strict=True)]
    assert survival(time, SHAPES, SCALES) == pytest.approx(np.prod(alone), rel=1e-12)


@given(st.floats(0.3, 50.0), st.floats(1e-3, 1e6))
def test_mean_life_of_one_risk_is_the_weibull_mean(shape: float, scale: float) -> None:
    assert mean_life(shape, scale) == pytest.approx(scale * gamma(1.0 + 1.0 / shape), rel=1e-8)


def test_mean_life_of_equal_shapes_is_a_weibull_mean_again() -> None:
    together = (3.0**-2 + 4.0**-2) ** -0.5
    assert mean_life([2.0, 2.0], [3.0, 4.0]) == pytest.approx(together * gamma(1.5), rel=1e-10)


@pytest.mark.parametrize("cap", [0.001, 1.0, 5.0])
def test_mean_life_up_to_a_cap(cap: float) -> None:
    assert mean_life(1.0, 2.0, cap) == pytest.approx(2.0 * (1.0 - np.exp(-cap / 2.0)), rel=1e-9)


def test_a_risk_of_infinite_scale_never_strikes() -> None:
    assert mean_life([2.0, 3.0], [np.inf, 1.0]) == pytest.approx(gamma(4.0 / 3.0))
    assert mean_life(2.0, np.inf, cap=3.0) == pytest.approx(3.0)
    assert mean_life(2.0, np.inf) == np.inf


def test_without_wear_the_renewal_function_is_time_over_mean() -> None:
    expected = renewal_function(lambda t: survival(t, 1.0, 2.0), 8.0)
    assert expected == pytest.approx(np.linspace(0.0, 4.0, 1201), abs=1e-6)


@pytest.mark.parametrize("shape", [1.5, 2.0, 3.0])
def test_in_the_long_run_the_renewal_function_is_its_asymptote(shape: float) -> None:
    expected = renewal_function(lambda t: survival(t, shape, 1.0), 12.0, steps=4800)[-1]
    asymptote = renewals_in_the_long_run(12.0, weibull_mean(shape, 1.0), weibull_deviation(shape, 1.0))
    assert expected == pytest.approx(asymptote, abs=2e-5)


def test_steps_longer_than_the_lives_are_refused() -> None:
    with pytest.raises(InputError, match="steps are longer than the lives"):
        renewal_function(lambda t: survival(t, 2.0, 0.01), 100.0, steps=100)


def test_the_simulation_agrees_with_the_renewal_function() -> None:
    draws, horizon = 40_000, 12.0
    count = np.isfinite(renewals(rng(), horizon, SHAPES, SCALES, draws).times).sum(axis=1)
    expected = renewal_function(lambda t: survival(t, SHAPES, SCALES), horizon)[-1]
    assert abs(count.mean() - expected) < 4.0 * count.std() / np.sqrt(draws)


def test_with_equal_shapes_each_risk_strikes_in_proportion_to_its_hazard() -> None:
    causes = renewals(rng(), 20.0, 2.0, [3.0, 4.0], 20_000).causes
    struck = causes[causes != NOTHING]
    share = 3.0**-2 / (3.0**-2 + 4.0**-2)
    assert np.mean(struck == 0) == pytest.approx(share, abs=4.0 * np.sqrt(share * (1 - share) / len(struck)))


def test_renewals_are_in_order_inside_the_horizon_and_padded() -> None:
    times, causes = renewals(rng(), 10.0, SHAPES, SCALES, 500, cap=3.0)
    done = np.isfinite(times)
    assert np.all(times[done] < 10.0)
    life = np.diff(np.where(done, times, 10.0), axis=1, prepend=0.0)
    assert np.all(life >= 0.0)
    assert life.max() <= 3.0 + 1e-12
    assert np.array_equal(causes == NOTHING, ~done)
    assert np.array_equal(np.isclose(life, 3.0) & done, causes == PLANNED)
    assert set(np.unique(causes)) == {NOTHING, PLANNED, 0, 1, 2}


def test_with_the_cap_alone_renewals_are_planned_and_none_falls_on_the_horizon() -> None:
    times, causes = renewals(rng(), 6.0, 2.0, np.inf, 2, cap=2.0)
    assert times.tolist() == [[2.0, 4.0, np.inf]] * 2
    assert causes.tolist() == [[PLANNED, PLANNED, NOTHING]] * 2


def test_taking_a_risk_away_meets_the_same_luck_and_never_shortens_the_first_life() -> None:
    with_all = renewals(rng(), 30.0, SHAPES, SCALES, 300).times[:, 0]
    without = renewals(rng(), 30.0, SHAPES, [np.inf, *SCALES[1:]], 300).times[:, 0]
    assert np.all(without >= with_all)
    assert np.mean(without == with_all) > 0.3


def test_scales_may_differ_by_draw() -> None:
    scales = np.repeat([[1.0], [100.0]], 200, axis=0)
    count = np.isfinite(renewals(rng(), 20.0, 2.0, scales, 400).times).sum(axis=1)
    assert count[:200].min() > count[200:].max()


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"shapes": 0.0}, "not a shape"),
        ({"scales": [1.0, -1.0]}, "not a scale"),
        ({"scales": np.nan}, "not a scale"),
        ({"horizon": 0.0}, "not a horizon"),
        ({"horizon": np.inf}, "no end"),
        ({"cap": 0.0}, "not a cap"),
        ({"draws": 0}, "not a number of draws"),
    ],
)
def test_bad_input_is_refused(change: dict[str, object], says: str) -> None:
    given_: dict[str, object] = {"horizon": 10.0, "shapes": 2.0, "scales": 1.0, "draws": 5, **change}
    with pytest.raises(InputError, match=says):
        renewals(rng(), **given_)  # type: ignore[arg-type]


def test_lives_far_too_short_for_the_horizon_are_refused() -> None:
    with pytest.raises(LimitError, match="too short for the horizon"):
        renewals(rng(), 1e9, 2.0, 1.0, 1_000_000)
