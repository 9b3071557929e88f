"""Text that keeps its amounts, so that a sentence made once can be written in either unit system.

A phrase is its metric text: equal to it, hashed and stored as it. What makes sentences makes phrases; what shows them
says the style. Joining by `+`, `join` or an f-string keeps only the metric text: `phrase` and `joined` keep the amounts.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from halfbore.numbers import METRIC, PLAIN, Style, Value, write
from halfbore.units import Kind, Span


class Amount(NamedTuple):
    """A quantity in a sentence: its value in the internal unit of its kind, and how it is written, as `write` says it."""

    value: Value
    kind: Kind
    unit: str = ""
    digits: int = 0
    resolution: float = 0.0
    signed: bool = False
    bare: bool = False
    currency: str = ""

    def written(self, style: Style) -> str:
        """Return the amount as it stands in a sentence of a style."""
        return write(
            self.value,
            self.kind,
            style,
            unit=self.unit,
            digits=self.digits,
            resolution=self.resolution,
            signed=self.signed,
            bare=self.bare,
            currency=self.currency,
        )


def mm(value: Value, places: int = 0, *, digits: int = 0, signed: bool = False, bare: bool = False) -> Amount:
    """Return a length [mm] with so many places, or digits that count, in millimetres."""
    step = 0.0 if digits else 10.0**-places
    return Amount(value, Kind.LENGTH, "mm", digits, step, signed, bare)


def size(value: Value) -> Amount:
    """Return a nominal size [mm] as it is, a sixteenth of an inch to its last place."""
    return Amount(value, Kind.LENGTH, "mm", digits=9, resolution=0.0001)


def reading(value: Value) -> Amount:
    """Return a measured size [mm] to the micrometre, without zeros at its end."""
    return Amount(value, Kind.LENGTH, "mm", digits=9, resolution=0.001)


def micron(value: Value, *, digits: int = 0, signed: bool = False) -> Amount:
    """Return a small length [mm] in whole micrometres, or with digits that count."""
    return Amount(value, Kind.LENGTH, "µm", digits, 0.0001 if digits else 0.001, signed)


def kilonewton(value: Value, digits: int = 3) -> Amount:
    """Return a force [N] in kilonewtons."""
    return Amount(value, Kind.FORCE, "kN", digits)


def celsius(value: Value) -> Amount:
    """Return a temperature [°C] in whole degrees."""
    return Amount(value, Kind.TEMPERATURE, "°C", resolution=1.0)


Part = str | Amount


class Phrase(str):
    """A text and the parts that it is made of."""

    parts: tuple[Part, ...]

    def __new__(cls, *parts: Part) -> Phrase:
        """Make a phrase of texts, phrases and amounts in their order."""
        made = super().__new__(
            cls, "".join([p.written(PLAIN) if isinstance(p, Amount) else p for p in parts])
        )
        flat: list[Part] = []
        for part in parts:
            flat += part.parts if isinstance(part, Phrase) else (part,)
        made.parts = tuple(flat)
        return made

    def __getnewargs__(self) -> tuple[Part, ...]:  # type: ignore[override]
        """Return what a copy is made of."""
        return self.parts


def phrase(template: str, *parts: Part) -> Phrase:
    """Return a template in which each {} gives way to the next part; there are as many as there are parts."""
    between = template.split("{}")
    if len(between) != len(parts) + 1:
        raise ValueError(f"{len(between) - 1} places for {len(parts)} parts: {template}")
    return Phrase(between[0], *(p for pair in zip(parts, between[1:], strict=True) for p in pair))


def listed(words: Sequence[str]) -> str:
    """Return words as a list in a sentence: a, b and c."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def joined(separator: str, parts: Iterable[Part]) -> Phrase:
    """Return parts with a text between them."""
    first, *rest = tuple(parts) or ("",)
    return Phrase(first, *(p for part in rest for p in (separator, part)))


def in_style(text: str, style: Style) -> str:
    """Return a text as it is written in a style; a text that keeps no amounts, and any in the metric style, as it is."""
    if style == METRIC or not isinstance(text, Phrase):
        return str(text)
    return "".join(p if isinstance(p, str) else p.written(style) for p in text.parts)


def as_parts(text: Phrase) -> list[Any]:
    """Return a phrase as plain data that `of_parts` makes the same phrase of."""
    return [part if isinstance(part, str) else _plain(part) for part in text.parts]


def of_parts(parts: Sequence[Any]) -> Phrase:
    """Return the phrase that `as_parts` gave these parts of."""
    return Phrase(*(part if isinstance(part, str) else _amount(part) for part in parts))


def _plain(amount: Amount) -> Any:
    """Return an amount as plain data; one without end as it is written, since no plain number says it."""
    value, shape = amount.value, "one"
    if isinstance(value, Span):
        numbers, shape = [value.low, value.likely, value.high], "span"
    elif isinstance(value, Sequence):
        numbers, shape = list(value), "several"
    else:
        numbers = [] if value is None else [value]
    if not all(map(math.isfinite, numbers)):
        return amount.written(PLAIN)
    numbers = [float(number) for number in numbers]
    return {**amount._asdict(), "value": numbers, "kind": amount.kind.value, "shape": shape}


def _amount(plain: Mapping[str, Any]) -> Amount:
    how = dict(plain)
    numbers, kind, shape = how.pop("value"), Kind(how.pop("kind")), how.pop("shape")
    value: Value = Span(*numbers) if shape == "span" else tuple(numbers)
    if shape == "one":
        value = numbers[0] if numbers else None
    return Amount(value, kind, **how)
