"""The style in which the terminal shows amounts: one for a whole command."""

from __future__ import annotations

from contextvars import ContextVar
from typing import TypedDict, Unpack

from halfbore.numbers import INCH, METRIC, Style, Value, write
from halfbore.units import Kind

_SHOWN: ContextVar[Style] = ContextVar("shown", default=METRIC)


class How(TypedDict, total=False):
    """What `write` takes beside the value, its kind and the style."""

    beside: Value
    unit: str
    currency: str
    bare: bool


def show_in(inch: bool) -> None:
    """Show from here on in inches and pounds, or in metric units."""
    _SHOWN.set(INCH if inch else METRIC)


def shown() -> Style:
    """Return the style that is shown."""
    return _SHOWN.get()


def written(value: Value, kind: Kind, **how: Unpack[How]) -> str:
    """Return an amount as the terminal shows it."""
    return write(value, kind, shown(), **how)
