"""A specification, and the amounts in an order, in words."""

from __future__ import annotations

import math

from halfbore.domain.catalogue import Part
from halfbore.domain.order import Specification
from halfbore.domain.unit import Hand, SealKind, Support
from halfbore.units import Span

SUPPORTS = {
    Support.PLAIN.word: "plain pedestal",
    Support.SIDE_ENTRY.word: "side-entry pedestal",
    Support.FLANGE.word: "flange",
    Support.TAKE_UP.word: "take-up",
}
SEALS = {
    SealKind.PACKING.word: "packing seal",
    SealKind.LABYRINTH.word: "labyrinth seal",
    SealKind.CLOSED_END.word: "closed end",
}


def describe(s: Specification) -> str:
    """Return a specification in words that hold all that its code holds."""
    whole = f"{s.supplier}, {s.part}"
    if s.part is not Part.UNIT:
        whole += " for the unit"
    role = "locating" if s.locating else "non-locating"
    return (
        f"{whole}: bore {s.size}, row size {s.row_size}, {role}, {support_of(s)}, "
        f"{SEALS[s.seal_left]} at the drive end side, {SEALS[s.seal_right]} at the free end side, "
        f"clearance group {s.clearance}"
    )


def support_of(s: Specification) -> str:
    """Return support and hand in words."""
    side = "" if s.hand == Hand.NONE.word else f", entering from the {s.hand} seen from the drive end"
    return SUPPORTS[s.support] + side


def amount(value: float | Span, unit: str, digits: int = 3, per: float = 1.0) -> str:
    """Return a value or a range with its unit, to so many significant digits.

    per: size of the unit in the value's own, such as 1000 for N in kN.
    """
    low, high = (value.low, value.high) if isinstance(value, Span) else (value, value)
    ends = dict.fromkeys(_digits(end / per, digits) for end in (low, high))
    return f"{' to '.join(ends)} {unit}"


def _digits(value: float, digits: int) -> str:
    """Return a number to so many significant digits, without an exponent and without zeros at its end."""
    if value == 0 or not math.isfinite(value):
        return f"{value:g}"
    places = digits - 1 - math.floor(math.log10(abs(value)))
    text = f"{round(value, places):.{max(places, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
