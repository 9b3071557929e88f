"""Draws from given ranges: repeatable streams, a column per quantity, P10, P50 and P90 of a result."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.random import Generator
from numpy.typing import ArrayLike, NDArray

from halfbore.errors import InputError, Problem
from halfbore.working import Number

Column = NDArray[np.float64]


class Quantiles(NamedTuple):
    """What 10 %, 50 % and 90 % of the draws stay below."""

    p10: Number
    p50: Number
    p90: Number


def streams(seed: int, names: Sequence[str]) -> dict[str, Generator]:
    """Give each stage a stream of random numbers of its own, all from one seed.

    seed: a whole number, zero or more.
    names: one name a stream; a name added at the end leaves the streams before it as they were.
    Returns name → generator. InputError on a negative seed and on a name that stands twice.
    """
    if seed < 0:
        raise InputError(Problem("not a seed", value=str(seed), accepted="a whole number, zero or more"))
    if len(set(names)) < len(names):
        raise InputError(Problem("two streams of one name", value=", ".join(names)))
    children = np.random.SeedSequence(seed).spawn(len(names))
    return {name: np.random.default_rng(child) for name, child in zip(names, children, strict=True)}


def triangular(rng: Generator, low: ArrayLike, likely: ArrayLike, high: ArrayLike, draws: int) -> Column:
    """Draw from triangular distributions.

    low, likely, high: ends and peak, one each or (columns,), low ≤ likely ≤ high; all equal is a constant.
    Returns (draws, columns) in the same unit.
    InputError where a range is not in order.
    """
    low, likely, high = _ranges(low, likely, high)
    share = rng.random((len(low), draws)).T
    below = share * (high - low) < likely - low
    root = np.sqrt(np.where(below, share * (likely - low), (1.0 - share) * (high - likely)) * (high - low))
    return np.asarray(np.where(below, low + root, high - root))


def beta_pert(rng: Generator, low: ArrayLike, likely: ArrayLike, high: ArrayLike, draws: int) -> Column:
    """Draw from beta-PERT distributions: mean (low + 4 likely + high)/6, less weight at the ends.

    low, likely, high: ends and peak, one each or (columns,), low ≤ likely ≤ high; all equal is a constant.
    Returns (draws, columns) in the same unit.
    InputError where a range is not in order.
    """
    low, likely, high = _ranges(low, likely, high)
    width = high - low
    peak = (likely - low) / np.where(width > 0.0, width, 1.0)
    share = rng.beta((1.0 + 4.0 * peak)[:, None], (5.0 - 4.0 * peak)[:, None], (len(low), draws)).T
    return np.asarray(low + width * share)


def lognormal(rng: Generator, median: ArrayLike, spread: ArrayLike, draws: int) -> Column:
    """Draw from lognormal distributions.

    median: one or (columns,), above zero.
    spread: standard deviation of the natural logarithm, one or (columns,), zero or more.
    Returns (draws, columns) in the unit of the median. InputError on values outside these.
    """
    median, spread = _columns(median=median, spread=spread)
    _refuse(median <= 0.0, "a median that is not above zero", median)
    _refuse(spread < 0.0, "a negative spread", spread)
    return np.asarray(median * np.exp(spread * rng.standard_normal((len(median), draws)).T))


def weibull(rng: Generator, shape: ArrayLike, scale: ArrayLike, draws: int) -> Column:
    """Draw lives from two-parameter Weibull distributions.

    shape, scale: one each or (columns,), above zero.
    Returns (draws, columns) in the unit of the scale. InputError on values outside these.
    """
    shape, scale = _columns(shape=shape, scale=scale)
    _refuse(shape <= 0.0, "a shape that is not above zero", shape)
    _refuse(scale <= 0.0, "a scale that is not above zero", scale)
    return np.asarray(scale * rng.standard_exponential((len(scale), draws)).T ** (1.0 / shape))


def quantiles(draws: ArrayLike) -> Quantiles:
    """Find what 10 %, 50 % and 90 % of the draws stay below.

    draws: (draws,) or (draws, columns); each answer is one of the draws, so infinite ones are allowed.
    Returns P10, P50 and P90 of each column, in the unit of the draws.
    InputError without draws and when one is not a number.
    """
    values = np.asarray(draws, dtype=np.float64)
    if values.size == 0 or np.isnan(values).any():
        raise InputError(Problem("no range without draws that are numbers", value=f"{values.size} draws"))
    return Quantiles(*np.quantile(values, (0.1, 0.5, 0.9), axis=0, method="inverted_cdf"))


def _columns(**values: ArrayLike) -> list[Column]:
    """Return one finite column for each value; columns lie one behind the other in memory ever after."""
    columns = np.broadcast_arrays(*(np.atleast_1d(np.asarray(v, dtype=np.float64)) for v in values.values()))
    for name, column in zip(values, columns, strict=True):
        _refuse(~np.isfinite(column), f"{name} is not a number", column)
    return list(columns)


def _ranges(low: ArrayLike, likely: ArrayLike, high: ArrayLike) -> list[Column]:
    columns = _columns(low=low, likely=likely, high=high)
    wrong = (columns[0] > columns[1]) | (columns[1] > columns[2])
    if wrong.any():
        i = int(wrong.argmax())
        value = ", ".join(f"{column[i]:g}" for column in columns)
        raise InputError(Problem("a range out of order", f"column {i + 1}", value, "low ≤ likely ≤ high"))
    return columns


def _refuse(wrong: NDArray[np.bool_], what: str, column: Column) -> None:
    if wrong.any():
        i = int(wrong.argmax())
        raise InputError(Problem(what, f"column {i + 1}", f"{column[i]:g}"))
