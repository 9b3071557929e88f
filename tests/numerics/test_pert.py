"""The quantile function of beta-PERT draws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta

from halfbore.numerics.pert import SLICES, beta_pert_at

MIDDLES = (np.arange(SLICES) + 0.5) / SLICES


@given(st.floats(0.0, 1.0), st.floats(-50.0, 50.0), st.floats(0.1, 100.0))
def test_quantiles_are_those_of_the_beta_distribution(peak: float, low: float, width: float) -> None:
    expected = low + width * beta.ppf(MIDDLES, 1.0 + 4.0 * peak, 5.0 - 4.0 * peak)
    values = beta_pert_at(MIDDLES, low, low + peak * width, low + width)
    # Half of a slice at the very ends, where the density of a shape of one is not rounded off.
    np.testing.assert_allclose(values, expected, atol=2e-4 * width)


def test_mean_and_variance_of_a_skewed_estimate() -> None:
    """Beta-PERT of 2, 5, 12: mean (a + 4m + b)/6 = 5.6667, variance (µ − a)(b − µ)/7 = 3.31746 (from memory)."""
    values = beta_pert_at(MIDDLES, 2.0, 5.0, 12.0)
    assert values.mean() == pytest.approx(17.0 / 3.0, rel=1e-5)
    assert values.var() == pytest.approx(3.317460317, rel=1e-3)


def test_one_value_is_a_constant() -> None:
    assert np.all(beta_pert_at(np.array([[0.0, 0.5], [0.2, 0.999999]]), 4.0, 4.0, 4.0) == 4.0)


def test_equal_shares_rise_together() -> None:
    share = np.random.default_rng(1).random(500)
    order = np.argsort(share)
    for likely in (0.0, 2.0, 9.0, 10.0):
        assert np.all(np.diff(beta_pert_at(share, 0.0, likely, 10.0)[order]) >= 0.0)
