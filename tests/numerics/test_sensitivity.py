"""Sensitivity measures on functions whose answers are known."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from halfbore.errors import InputError
from halfbore.numerics.sensitivity import first_order_share, rank_correlation, swing

WEIGHTS = {"much": 3.0, "less": -2.0, "little": 0.5, "none": 0.0}


def linear(draws: int = 50_000) -> tuple[dict[str, np.ndarray], np.ndarray]:
    rng = np.random.default_rng(5)
    inputs = {name: rng.random(draws) for name in WEIGHTS}
    return inputs, np.sum([w * inputs[n] for n, w in WEIGHTS.items()], axis=0)


def test_the_share_of_a_linear_sum_is_its_part_of_the_variance() -> None:
    squares = {name: w**2 for name, w in WEIGHTS.items()}
    share = first_order_share(*linear())
    assert share == pytest.approx({n: s / sum(squares.values()) for n, s in squares.items()}, abs=0.01)


def test_the_swing_of_a_uniform_input_spans_nine_tenths_of_its_effect() -> None:
    bars = swing(*linear())
    assert {n: bar.high - bar.low for n, bar in bars.items()} == pytest.approx(
        {n: 0.9 * w for n, w in WEIGHTS.items()}, abs=0.06
    )


def test_rank_correlation_sees_direction_and_any_monotone_curve() -> None:
    inputs, output = linear()
    link = rank_correlation(inputs, output)
    assert link["much"] > 0.7 > 0.0 > link["less"] > -0.7
    assert abs(link["none"]) < 0.02
    assert rank_correlation({"x": inputs["much"]}, np.exp(9.0 * inputs["much"]))["x"] == pytest.approx(1.0)


def test_a_constant_input_moves_nothing() -> None:
    inputs, output = linear(1000)
    inputs = {"fixed": np.full(1000, 4.0), **inputs}
    assert swing(inputs, output)["fixed"] == pytest.approx((output.mean(), output.mean()))
    assert rank_correlation(inputs, output)["fixed"] == 0.0
    assert first_order_share(inputs, output)["fixed"] == pytest.approx(0.0, abs=1e-12)


def test_a_constant_output_is_moved_by_nothing() -> None:
    inputs, _ = linear(100)
    still = np.full(100, 4.0)
    assert set(first_order_share(inputs, still).values()) == {0.0}
    assert set(rank_correlation(inputs, still).values()) == {0.0}


def test_an_input_that_explains_all_has_the_whole_share() -> None:
    coin = np.repeat([0.0, 1.0], 500)
    assert first_order_share({"coin": coin}, 7.0 * coin)["coin"] == pytest.approx(1.0)
    assert swing({"coin": coin}, 7.0 * coin)["coin"] == (0.0, 7.0)


@pytest.mark.parametrize("measure", [swing, rank_correlation, first_order_share])
@pytest.mark.parametrize(
    ("x", "y", "says"),
    [
        (np.ones(30), np.ones(31), "x: draws that do not match"),
        (np.ones((30, 1)), np.ones(30), "x: draws that do not match"),
        (np.ones(19), np.ones(19), "at least 20"),
        (np.append(np.ones(29), np.nan), np.ones(30), "x: a draw that is not"),
        (np.ones(30), np.append(np.ones(29), np.inf), "output: a draw that is not"),
    ],
)
def test_draws_that_cannot_be_compared_are_refused(
    measure: Callable[..., object], x: np.ndarray, y: np.ndarray, says: str
) -> None:
    with pytest.raises(InputError, match=says):
        measure({"x": x}, y)
