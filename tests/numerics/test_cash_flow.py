"""Money over time: identities, a column as one number, and refusals."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.numerics.cash_flow import (
    adjusted_rate_of_return,
    annual_equivalent,
    annuity_factor,
    capital_recovery_factor,
    discount_factor,
    discounted_payback,
    internal_rate_of_return,
    net_present_value,
    present_worth,
    savings_to_investment,
    simple_payback,
)

RATES = st.floats(-0.2, 1.0)
MONEY = st.floats(1.0, 1e6)


@given(RATES, st.integers(1, 40))
def test_the_annuity_factor_is_the_sum_of_the_discount_factors(rate: float, periods: int) -> None:
    ends = np.arange(1.0, periods + 1.0)
    assert annuity_factor(rate, float(periods)) == pytest.approx(discount_factor(rate, ends).sum(), rel=1e-9)
    assert capital_recovery_factor(rate, float(periods)) * annuity_factor(
        rate, float(periods)
    ) == pytest.approx(1.0)


@given(MONEY, MONEY, MONEY, st.floats(0.0, 0.5), st.integers(1, 30))
def test_the_annual_equivalent_has_the_worth_of_the_flows(
    first: float, salvage: float, yearly: float, rate: float, years: int
) -> None:
    flows = np.array([first, *[yearly] * years])
    flows[-1] -= salvage
    equal = annual_equivalent(first, salvage, yearly, rate, float(years))
    assert equal * annuity_factor(rate, float(years)) == pytest.approx(
        net_present_value(flows, rate), rel=1e-9, abs=1e-6
    )


@pytest.mark.parametrize("rate", [0.0, 0.07, -0.03])
def test_what_never_happens_is_worth_nothing(rate: float) -> None:
    assert discount_factor(rate, np.inf) == 0.0
    worth = present_worth(100.0, [[1.0, 2.5, np.inf], [np.inf, np.inf, np.inf]], rate)
    assert worth == pytest.approx([100.0 * ((1 + rate) ** -1 + (1 + rate) ** -2.5), 0.0])


@given(st.floats(-0.5, 3.0), st.lists(MONEY, min_size=1, max_size=20))
def test_the_internal_rate_is_the_rate_at_which_nothing_is_gained(rate: float, gains: list[float]) -> None:
    first = net_present_value([0.0, *gains], rate)
    assert internal_rate_of_return([-float(first), *gains]) == pytest.approx(rate, abs=1e-9)


def test_the_internal_rate_of_twenty_years_of_months() -> None:
    rate = internal_rate_of_return([-100.0] + [1.0] * 240)
    assert annuity_factor(rate, 240.0) == pytest.approx(100.0, rel=1e-9)


@pytest.mark.parametrize(
    ("flows", "count"),
    [([100.0, 50.0], 0), ([-1.0, -2.0], 0), ([0.0, 0.0], 0), ([-100.0, 230.0, -132.0], 2), ([5.0], 0)],
)
def test_no_rate_or_more_than_one_is_refused(flows: list[float], count: int) -> None:
    with pytest.raises(InputError, match=f"{count} rates"):
        internal_rate_of_return(flows)


@given(MONEY, MONEY, st.floats(0.001, 0.3))
def test_the_discounted_payback_is_when_the_annuity_has_paid(
    investment: float, saving: float, rate: float
) -> None:
    time = float(discounted_payback(investment, saving, rate))
    if investment * rate >= saving:
        assert time == np.inf
    elif investment * rate < 0.999 * saving:
        assert saving * annuity_factor(rate, time) == pytest.approx(investment, rel=1e-6)
        assert time >= simple_payback(investment, saving)


def test_payback_at_its_edges() -> None:
    assert discounted_payback(1000.0, 250.0, 0.0) == 4.0
    assert discounted_payback(0.0, 250.0, 0.05) == 0.0
    assert simple_payback(1000.0, np.array([500.0, 0.0, -1.0])).tolist() == [2.0, np.inf, np.inf]
    assert discounted_payback(1000.0, np.array([0.0, 50.0]), 0.05).tolist() == [np.inf, np.inf]


def test_a_measure_that_has_no_meaning_is_no_number() -> None:
    assert np.isnan(savings_to_investment(np.array([5.0, 5.0]), np.array([0.0, -1.0]))).all()
    assert np.isnan(adjusted_rate_of_return(np.array([-0.5, np.nan]), 0.03, 10.0)).all()
    assert adjusted_rate_of_return(0.0, 0.03, 10.0) == -1.0


@pytest.mark.parametrize(
    ("function", "columns"),
    [
        (discount_factor, ([0.0, 0.05, -0.1], [1.0, 2.5, np.inf])),
        (annuity_factor, ([0.0, 0.05, -0.1], [1.0, 20.0, 5.0])),
        (capital_recovery_factor, ([0.0, 0.05, -0.1], [1.0, 20.0, 5.0])),
        (savings_to_investment, ([100.0, -5.0, 0.0], [50.0, 10.0, 3.0])),
        (adjusted_rate_of_return, ([2.0, 0.0, 5.0], [0.03, 0.0, 0.1], [10.0, 5.0, 1.0])),
        (simple_payback, ([100.0, 10.0, 0.0], [50.0, 0.0, 3.0])),
        (discounted_payback, ([100.0, 10.0, 0.0], [50.0, 0.0, 3.0], [0.0, 0.1, 0.1])),
    ],
)
def test_a_column_is_one_number_at_a_time(
    function: Callable[..., np.ndarray], columns: tuple[list[float], ...]
) -> None:
    rows = [function(*row) for row in zip(*columns, strict=True)]
    assert np.array_equal(function(*(np.array(c) for c in columns)), rows)
    assert all(np.ndim(row) == 0 and isinstance(row, float) for row in rows)
