"""Draws: repeatable, in their ranges, of the distribution they claim; a range out of order is refused."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from halfbore.errors import InputError
from halfbore.numerics.network import critical_path, forward, network
from halfbore.numerics.sampling import beta_pert, lognormal, quantiles, streams, triangular, weibull

RANGES = st.lists(st.floats(0.0, 1e6), min_size=3, max_size=3).map(sorted)
THREE_POINT = [triangular, beta_pert]


def rng(seed: int = 7) -> np.random.Generator:
    return streams(seed, ["test"])["test"]


def test_streams_repeat_differ_and_stay_when_one_is_added_at_the_end() -> None:
    first, second = streams(3, ["plan", "lives"]), streams(3, ["plan", "lives", "prices"])
    assert first["plan"].random() == second["plan"].random()
    assert first["lives"].random() == second["lives"].random()
    assert len({stream.random() for stream in streams(3, ["a", "b", "c"]).values()}) == 3
    assert rng(1).random() != rng(2).random()


@pytest.mark.parametrize(("seed", "names"), [(-1, ["a"]), (1, ["a", "b", "a"])])
def test_a_bad_seed_or_a_name_given_twice_is_refused(seed: int, names: list[str]) -> None:
    with pytest.raises(InputError):
        streams(seed, names)


@pytest.mark.parametrize("draw", THREE_POINT)
@given(RANGES)
def test_draws_stay_inside_their_range(draw: Callable[..., np.ndarray], ends: list[float]) -> None:
    values = draw(rng(), *ends, 200)
    assert values.shape == (200, 1)
    assert values.min() >= ends[0] * (1.0 - 1e-12)
    assert values.max() <= ends[2] * (1.0 + 1e-12)


@pytest.mark.parametrize("draw", THREE_POINT)
def test_a_range_of_no_width_is_a_constant(draw: Callable[..., np.ndarray]) -> None:
    assert np.all(draw(rng(), 4.2, 4.2, 4.2, 50) == 4.2)


@pytest.mark.parametrize("draw", THREE_POINT)
def test_a_column_added_at_the_end_leaves_the_others_as_they_were(draw: Callable[..., np.ndarray]) -> None:
    low, likely, high = np.array([1.0, 2.0, 3.0]), np.array([2.0, 2.0, 4.0]), np.array([4.0, 5.0, 4.0])
    two, three = draw(rng(), low[:2], likely[:2], high[:2], 30), draw(rng(), low, likely, high, 30)
    assert np.array_equal(two, three[:, :2])


@pytest.mark.parametrize("peak", [0.0, 0.3, 1.0])
def test_draws_follow_the_distribution_they_claim(peak: float) -> None:
    a, m, b = 2.0, 2.0 + 10.0 * peak, 12.0
    checks = {
        stats.triang(peak, a, b - a): triangular(rng(), a, m, b, 20_000),
        stats.beta(1.0 + 4.0 * peak, 5.0 - 4.0 * peak, a, b - a): beta_pert(rng(), a, m, b, 20_000),
        stats.weibull_min(1.7, scale=5.0): weibull(rng(), 1.7, 5.0, 20_000),
        stats.lognorm(0.4, scale=5.0): lognormal(rng(), 5.0, 0.4, 20_000),
    }
    for law, values in checks.items():
        assert stats.kstest(values[:, 0], law.cdf).pvalue > 0.001


@pytest.mark.parametrize("draw", THREE_POINT)
@pytest.mark.parametrize(
    ("ends", "place"),
    [
        (([1.0, 3.0], 2.0, 4.0), "column 2: a range out of order"),
        ((1.0, 5.0, [9.0, 4.0]), "column 2: a range out of order"),
        ((np.nan, 2.0, 4.0), "column 1: low is not a number"),
        ((1.0, 2.0, np.inf), "column 1: high is not a number"),
    ],
)
def test_a_bad_range_is_refused_by_column(
    draw: Callable[..., np.ndarray], ends: tuple[object, ...], place: str
) -> None:
    with pytest.raises(InputError, match=place):
        draw(rng(), *ends, 10)


@pytest.mark.parametrize(
    ("draw", "first", "second"),
    [(weibull, 0.0, 1.0), (weibull, 1.0, -1.0), (lognormal, 0.0, 0.1), (lognormal, 1.0, -0.1)],
)
def test_parameters_out_of_range_are_refused(
    draw: Callable[..., np.ndarray], first: float, second: float
) -> None:
    with pytest.raises(InputError, match="column 1"):
        draw(rng(), first, second, 10)


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=60))
def test_p10_is_what_a_tenth_of_the_draws_stays_below(values: list[float]) -> None:
    for share, value in zip((0.1, 0.5, 0.9), quantiles(values), strict=True):
        assert np.mean(np.array(values) < value) <= share + 1e-12
        assert np.mean(np.array(values) <= value) >= share - 1e-12


def test_quantiles_are_taken_by_column_and_may_be_infinite() -> None:
    result = quantiles(np.column_stack([np.arange(1.0, 101.0), [1.0] * 80 + [np.inf] * 20]))
    assert [list(q) for q in result] == [[10.0, 1.0], [50.0, 1.0], [90.0, np.inf]]


@pytest.mark.parametrize("values", [[], [1.0, np.nan]])
def test_quantiles_of_nothing_or_of_no_number_are_refused(values: list[float]) -> None:
    with pytest.raises(InputError):
        quantiles(values)


@given(st.lists(RANGES, min_size=3, max_size=3))
def test_the_project_lies_between_its_shortest_and_longest(ranges: list[list[float]]) -> None:
    net = network({"a": [], "b": ["a"], "c": ["a"]})
    low, likely, high = np.array(ranges).T
    total = forward(net, triangular(rng(), low, likely, high, 200))[1].max(axis=1)
    assert np.all(total <= critical_path(net, high).total * (1.0 + 1e-12))
    assert np.all(total >= critical_path(net, low).total * (1.0 - 1e-12))
