"""Zeros between two places, against Brent's method."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from halfbore.errors import InputError
from halfbore.numerics.roots import root

HARD: list[tuple[Callable[[float], float], float, float]] = [
    (lambda x: x**3 - 2 * x - 5, 2, 3),
    (lambda x: math.exp(x) - 1e6, -10, 100),
    (lambda x: math.tanh(50 * (x - 0.3)), -5, 5),
    (lambda x: 1 / (x - 3) - 6, 3.0001, 4),
    (lambda x: x - 1e-9, -1, 1e6),
    (lambda x: math.copysign(1.0, x - 0.1), 0, 1),
]


@pytest.mark.parametrize("case", range(len(HARD)))
def test_agrees_with_brent(case: int) -> None:
    f, low, high = HARD[case]
    ours, theirs = root(f, low, high, 1e-13, 1e-13), brentq(f, low, high, xtol=1e-13, rtol=1e-13)
    assert ours == pytest.approx(theirs, rel=1e-11, abs=1e-11)


def test_a_flat_zero_ends_as_well() -> None:
    """The value of a ninth power vanishes long before its root is met."""
    assert root(lambda x: x**9, -1, 4) == pytest.approx(0.0, abs=1e-2)


@given(st.floats(-1e3, 1e3), st.floats(0.01, 1e3), st.floats(0.1, 5))
def test_finds_the_zero_of_a_rising_curve(zero: float, width: float, power: float) -> None:
    def curve(x: float) -> float:
        return math.copysign(abs(x - zero) ** power, x - zero)

    assert root(curve, zero - width, zero + 0.7 * width, 1e-9, 0.0) == pytest.approx(zero, abs=1e-8)


def test_is_quick_on_smooth_curves() -> None:
    calls = 0

    def curve(x: float) -> float:
        nonlocal calls
        calls += 1
        return math.exp(x) - 20

    assert root(curve, 0, 10) == pytest.approx(math.log(20), rel=1e-12)
    assert calls < 20


def test_an_end_may_be_the_zero() -> None:
    assert root(lambda x: x, 0, 5) == 0
    assert root(lambda x: x - 5, 0, 5) == 5


@pytest.mark.parametrize("f", [lambda x: x + 10, lambda _x: math.nan])
def test_no_zero_is_refused(f: Callable[[float], float]) -> None:
    with pytest.raises(InputError, match="no zero"):
        root(f, 0, 1)
