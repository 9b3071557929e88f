"""Where a function of one number is zero between two places where it has opposite signs."""

from __future__ import annotations

from collections.abc import Callable

from halfbore.errors import InputError, Problem

STEPS = 500
"""Far more than the method takes: each step but the first two halves the bracket at the latest two steps on."""


def root(
    function: Callable[[float], float], low: float, high: float, xtol: float = 1e-12, rtol: float = 1e-12
) -> float:
    """Return where a function is zero.

    Chandrupatla (1997), Advances in Engineering Software 28(3): inverse quadratic steps where they are safe,
    else halves (from memory, confirmed against Brent's method).
    low, high: ends of a bracket; xtol, rtol: absolute and relative width of the bracket at the end.
    Returns the place. InputError where the function has one sign at both ends, or no number.
    """
    a, b = high, low
    fa, fb = function(a), function(b)
    if not (fa <= 0.0 <= fb or fb <= 0.0 <= fa):
        raise InputError(Problem("no zero between the ends", value=f"{fb:g} at {low:g}, {fa:g} at {high:g}"))
    if fa == 0.0 or fb == 0.0:
        return a if fa == 0.0 else b
    t = 0.5
    for _ in range(STEPS):
        x = a + t * (b - a)
        fx = function(x)
        same = (fx > 0.0) == (fa > 0.0)
        c, fc = (a, fa) if same else (b, fb)
        b, fb = (b, fb) if same else (a, fa)
        a, fa = x, fx
        best, fbest = (a, fa) if abs(fa) < abs(fb) else (b, fb)
        width = abs(b - a)
        tolerance = xtol + rtol * abs(best)
        if fbest == 0.0 or width <= tolerance:
            return best
        least = tolerance / (2.0 * width)
        t = min(max(_step(a, b, c, fa, fb, fc), least), 1.0 - least)
    return best


def _step(a: float, b: float, c: float, fa: float, fb: float, fc: float) -> float:
    """Return the next place as a part of the way from a to b."""
    xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
    if phi * phi < xi and (1.0 - phi) ** 2 < 1.0 - xi:  # inverse quadratic interpolation stays inside
        near = fa / (fb - fa) * fc / (fb - fc)
        far = (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        return near + far
    return 0.5
