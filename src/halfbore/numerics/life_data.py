"""Weibull analysis of lives, some of which had not ended when they were last seen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.errors import InputError, Problem
from halfbore.numerics.roots import root
from halfbore.sources import Source, Status
from halfbore.working import Number, clause

WEIBULL = Source(
    "NIST/SEMATECH e-Handbook of Statistical Methods",
    "8.1.6.2, Weibull",
    Status.FROM_MEMORY,
    "mean and standard deviation confirmed by the example of 8.4.1.3",
)
Logs = NDArray[np.float64]
Flags = NDArray[np.bool_]
LARGEST_EXPONENT = 600.0


@dataclass(frozen=True)
class WeibullFit:
    """A fitted Weibull distribution with likelihood-ratio bounds; scale in the unit of the times."""

    shape: float
    scale: float
    log_likelihood: float
    shape_bounds: tuple[float, float] | None
    """None when the shape was given, not fitted."""
    scale_bounds: tuple[float, float]
    confidence: float
    failures: int
    suspended: int
    method: str


def fit(
    times: ArrayLike, failed: ArrayLike, shape: float | None = None, confidence: float = 0.9
) -> WeibullFit:
    """Fit a two-parameter Weibull distribution to lives by maximum likelihood.

    times: life of each item, or its age when last seen [any unit], above zero.
    failed: true where the life ended in failure, false where the item was still good (suspended).
    shape: an assumed shape, 0.05 to 1000; then only the scale is fitted, and one failure is enough.
    confidence: of the two-sided likelihood-ratio bounds, between 0 and 1.
    Returns the fit. InputError without a failure, with one failure and no shape, when all failures are at
    the largest time (no finite shape fits best), and on times that are no lives.
    """
    logs, flags, unit = _lives(times, failed)
    if not 0.0 < confidence < 1.0:
        raise InputError(Problem("not a confidence", value=f"{confidence:g}", accepted="between 0 and 1"))
    if shape is None:
        _can_fit_shape(logs, flags)
        best, method = _most_likely(logs, flags), "maximum likelihood"
    else:
        if not 0.05 <= shape <= 1000.0:
            raise InputError(Problem("not a Weibull shape", value=f"{shape:g}", accepted="0.05 to 1000"))
        best, method = (float(shape), _log_scale(logs, flags, shape)), "maximum likelihood, shape assumed"
    shape_bounds, scale_bounds = _bounds(logs, flags, best, shape is None, confidence)
    return WeibullFit(
        best[0],
        float(unit * np.exp(best[1])),
        _log_likelihood(logs, flags, *best) - int(flags.sum()) * float(np.log(unit)),
        shape_bounds,
        (unit * scale_bounds[0], unit * scale_bounds[1]),
        confidence,
        int(flags.sum()),
        int((~flags).sum()),
        method,
    )


@clause(WEIBULL, "scale*gamma(1 + 1/shape)")
def weibull_mean(shape: Number, scale: Number) -> Number:
    """Return the mean life of a Weibull distribution.

    NIST/SEMATECH e-Handbook of Statistical Methods, 8.1.6.2
    shape, scale: above zero; scale in any unit.
    Returns the mean in the unit of the scale.
    """
    from scipy.special import gamma  # half a second to load

    return scale * gamma(1.0 + 1.0 / shape)


@clause(WEIBULL, "scale*sqrt(gamma(1 + 2/shape) - gamma(1 + 1/shape)**2)")
def weibull_deviation(shape: Number, scale: Number) -> Number:
    """Return the standard deviation of a Weibull life.

    NIST/SEMATECH e-Handbook of Statistical Methods, 8.1.6.2
    shape, scale: above zero; scale in any unit.
    Returns the standard deviation in the unit of the scale.
    """
    from scipy.special import gamma  # half a second to load

    return scale * np.sqrt(gamma(1.0 + 2.0 / shape) - gamma(1.0 + 1.0 / shape) ** 2)


@clause(WEIBULL, "scale*(-log(1 - share))**(1/shape)")
def weibull_life(share: Number, shape: Number, scale: Number) -> Number:
    """Return the life that a share of the items does not reach, B10 for 0.1.

    NIST/SEMATECH e-Handbook of Statistical Methods, 8.1.6.2
    share: failed by then, 0 to below 1.
    shape, scale: above zero; scale in any unit.
    Returns the life in the unit of the scale.
    """
    return scale * (-np.log1p(-share)) ** (1.0 / shape)


def _lives(times: ArrayLike, failed: ArrayLike) -> tuple[Logs, Flags, float]:
    """Return logarithms of the lives in units of their geometric mean, the failures, and that unit."""
    lives = np.atleast_1d(np.asarray(times, dtype=np.float64))
    flags = np.atleast_1d(np.asarray(failed, dtype=np.bool_))
    if lives.ndim != 1 or lives.shape != flags.shape:
        raise InputError(
            Problem("one mark, failed or not, for each life", value=f"{lives.shape}, {flags.shape}")
        )
    wrong = ~((lives > 0.0) & (lives < np.inf))
    if wrong.any():
        i = int(wrong.argmax())
        raise InputError(Problem("not a life", f"life {i + 1}", f"{lives[i]:g}", "above zero, finite"))
    if not flags.any():
        raise InputError(
            Problem(
                "no failure among the lives, so nothing bounds the life from above",
                value=f"{len(lives)} suspended",
                next_step="give at least one failure, or a shape and scale of stated origin",
            )
        )
    logs = np.log(lives)
    return logs - logs.mean(), flags, float(np.exp(logs.mean()))


def _can_fit_shape(logs: Logs, flags: Flags) -> None:
    if flags.sum() == 1:
        raise InputError(
            Problem(
                "one failure does not tell the shape", next_step="give an assumed shape, or more failures"
            )
        )
    if logs[flags].min() >= logs.max():
        raise InputError(
            Problem(
                "all failures at the same, largest time: no finite shape fits best",
                next_step="give an assumed shape, or times to a finer unit",
            )
        )


def _most_likely(logs: Logs, flags: Flags) -> tuple[float, float]:
    """Return the shape and the logarithm of the scale of the greatest likelihood."""

    def slope(shape: float) -> float:
        share = np.exp(shape * logs - np.logaddexp.reduce(shape * logs))
        return float(1.0 / shape + logs[flags].mean() - share @ logs)

    shape = _root_of_falling(slope)
    return shape, _log_scale(logs, flags, shape)


def _log_likelihood(logs: Logs, flags: Flags, shape: float, log_scale: float) -> float:
    z = np.minimum(shape * (logs - log_scale), LARGEST_EXPONENT)
    return float((np.log(shape) - logs + z)[flags].sum() - np.exp(z).sum())


def _log_scale(logs: Logs, flags: Flags, shape: float) -> float:
    """Return the logarithm of the most likely scale for a shape: (Σ t^shape / failures)^(1/shape)."""
    return float((np.logaddexp.reduce(shape * logs) - np.log(flags.sum())) / shape)


def _best_shape(logs: Logs, flags: Flags, log_scale: float) -> float:
    """Return the most likely shape for a scale."""
    y = logs - log_scale

    def slope(shape: float) -> float:
        hazard = np.exp(np.minimum(shape * y, LARGEST_EXPONENT))
        return float(flags.sum() / shape + y[flags].sum() - hazard @ y)

    return _root_of_falling(slope)


def _root_of_falling(slope: Callable[[float], float]) -> float:
    """Return where a slope that falls all the way, as both likelihood slopes do, is zero."""
    low, high = 1.0, 1.0
    while slope(low) < 0.0:
        low /= 2.0
    while slope(high) > 0.0:
        high *= 2.0
    return root(slope, low, high, 1e-300, 1e-12)


def _bounds(
    logs: Logs, flags: Flags, best: tuple[float, float], free_shape: bool, confidence: float
) -> tuple[tuple[float, float] | None, tuple[float, float]]:
    """Return the likelihood-ratio bounds of shape and scale, each with the other at its most likely value."""
    shape, log_scale = best
    chi_square = NormalDist().inv_cdf((1.0 + confidence) / 2.0) ** 2  # of one degree of freedom
    least = _log_likelihood(logs, flags, shape, log_scale) - chi_square / 2.0

    def at_scale(x: float) -> float:
        of = _best_shape(logs, flags, x) if free_shape else shape
        return _log_likelihood(logs, flags, of, x) - least

    def at_shape(x: float) -> float:
        of = float(np.exp(x))
        return _log_likelihood(logs, flags, of, _log_scale(logs, flags, of)) - least

    return (_ends(at_shape, float(np.log(shape))) if free_shape else None), _ends(at_scale, log_scale)


def _ends(excess: Callable[[float], float], best: float) -> tuple[float, float]:
    """Return where the likelihood falls to its bound on both sides; zero or infinity when it never does."""
    ends = []
    for side in (-1.0, 1.0):
        step = 0.125
        while excess(best + side * step) > 0.0 and step < LARGEST_EXPONENT:
            step *= 2.0
        inside = step < LARGEST_EXPONENT
        ends.append(root(excess, best, best + side * step) if inside else side * np.inf)
    return float(np.exp(ends[0])), float(np.exp(ends[1]))
