"""Ranges of positive quantities: products, quotients, limits, and their text, rounded outwards.

Every rule here is monotone by inclusion: of a narrower range it makes a narrower one. So a measured value inside an
estimate never widens what is estimated from it.
"""

from __future__ import annotations

import math

from halfbore.units import INTERNAL, Kind, Span

DIGITS = 3
_SHOWN = {Kind.FORCE: ("kN", 1e3), Kind.POWER: ("kW", 1e3)}


def times(*factors: Span | float) -> Span:
    """Return the product of ranges of positive quantities."""
    spans = [f if isinstance(f, Span) else Span.of(f) for f in factors]
    return Span(*(math.prod(getattr(s, end) for s in spans) for end in ("low", "likely", "high")))


def over(above: Span | float, below: Span) -> Span:
    """Return the quotient of two ranges of positive quantities."""
    top = above if isinstance(above, Span) else Span.of(above)
    return Span(top.low / below.high, top.likely / below.likely, top.high / below.low)


def power(base: Span, exponent: float) -> Span:
    """Return a range of a positive quantity to a positive exponent."""
    return Span(base.low**exponent, base.likely**exponent, base.high**exponent)


def within(span: Span, limits: Span) -> Span:
    """Return what two rules for one quantity have in common; the first alone where they have nothing."""
    low, high = max(span.low, limits.low), min(span.high, limits.high)
    if low > high:
        return span
    return Span(low, min(max(span.likely, low), high), high)


def at_least(span: Span, floor: float) -> Span:
    """Return a range none of which lies below a floor."""
    return Span(max(span.low, floor), max(span.likely, floor), max(span.high, floor))


def rounded(span: Span, kind: Kind) -> Span:
    """Return a range with three digits, its ends rounded outwards, as it is written."""
    scale = _SHOWN.get(kind, ("", 1.0))[1]
    low, high = _down(span.low / scale), -_down(-span.high / scale)
    likely = min(max(_near(span.likely / scale), low), high)
    return Span(low * scale, likely * scale, high * scale)


def text_of(span: Span, kind: Kind) -> str:
    """Return a range as a job file writes it."""
    unit, scale = _SHOWN.get(kind, (INTERNAL[kind], 1.0))
    ends = (span.low,) if span.exact else (span.low, span.likely, span.high)
    return " to ".join(f"{value / scale:.10g} {unit}".strip() for value in ends)


def _step(value: float) -> float:
    return 10.0 ** (math.floor(math.log10(abs(value))) - DIGITS + 1) if value else 1.0


def _down(value: float) -> float:
    return float(f"{math.floor(value / _step(value) + 1e-9) * _step(value):.10g}")


def _near(value: float) -> float:
    return float(f"{value:.{DIGITS}g}")
