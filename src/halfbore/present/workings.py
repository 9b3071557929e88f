"""The working of a number in words: what came out, by which formulas, what went in with its law, source and standing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from halfbore.domain.order import Order
from halfbore.domain.worked import Taken
from halfbore.numbers import Style, write
from halfbore.present.wording import cited, mark_of
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

PERT = "Beta-PERT"
TOLD = Source("told by the plant", status=Status.GIVEN)
CATALOGUE = Source("the supplier's catalogue", status=Status.GIVEN)
LAW = (
    "low + (high − low)·B",
    "a range is drawn as Beta-PERT: B from Beta(1 + 4·a, 5 − 4·a), a = (likely − low)/(high − low)",
)
"""How a range is drawn, wherever one is."""


@dataclass(frozen=True)
class Cite:
    """A source in words, how sure it is in words and as a mark."""

    words: str
    standing: str
    mark: str

    @classmethod
    def of(cls, source: Source) -> Cite:
        """Return a source as it is cited."""
        return cls(cited(source), source.status.value, mark_of(source).value)


@dataclass(frozen=True)
class Row:
    """One thing that went in, in words: its value with its unit, its law, its source with its standing and mark."""

    name: str
    value: str
    law: str
    source: Source

    @property
    def cite(self) -> Cite:
        """The source as it stands in a table."""
        return Cite.of(self.source)


@dataclass(frozen=True)
class Worked:
    """The working of a number: what came out, the formulas with what they say, what went in, how often it was drawn.

    came: what a page prints of it, name by name; told: what went in as words without a source of their own, and
    sources: those of all of it together.
    """

    title: str
    result: str
    formulas: tuple[tuple[str, str], ...]
    rows: tuple[Row, ...]
    luck: str = ""
    came: tuple[tuple[str, str], ...] = ()
    told: tuple[tuple[str, str], ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def cites(self) -> tuple[Cite, ...]:
        """The sources of all that went in, in words."""
        return tuple(map(Cite.of, self.sources))


def row_of(taken: Taken, style: Style) -> Row:
    """Return one thing that went in, in words."""
    if isinstance(taken.value, Span) and not taken.value.exact:
        how = {"unit": taken.unit, "currency": taken.currency}
        text, law = ends(taken.value, taken.kind, style, **how), taken.law if taken.law != "fixed" else PERT
    elif isinstance(taken.value, str):
        text, law = taken.value, taken.law
    else:
        number = taken.value.likely if isinstance(taken.value, Span) else taken.value
        text, law = _written(number, taken, style), "fixed"
    return Row(taken.name, text, law, taken.source)


def _written(value: float, taken: Taken, style: Style) -> str:
    return write(value, taken.kind, style, unit=taken.unit, currency=taken.currency)


def ends(span: Span, kind: Kind, style: Style, **how: Any) -> str:
    """Return low, likely and high in one unit, which stands at the last; one number where they are the same.

    how: as `numbers.write` has it.
    """
    if span.exact:
        return write(span.likely, kind, style, **how)
    whole = (span.low, span.likely, span.high)
    low, likely = (write(end, kind, style, beside=whole, bare=True, **how) for end in whole[:2])
    return f"{low} to {likely} to {write(span.high, kind, style, beside=whole, **how)}"


def order_working(order: Order, style: Style) -> Worked:
    """Return the working of what is delivered and of its price."""
    unit = order.items[0]
    rows = tuple(
        row_of(
            Taken(f"{i.quantity} × {i.part} {i.code}", i.price, Kind.MONEY, CATALOGUE, currency=i.currency),
            style,
        )
        for i in order.items
    )
    total = sum(i.quantity * i.price for i in order.items)
    result = write(total, Kind.MONEY, style, resolution=1.0, currency=unit.currency)
    return Worked(
        "What is delivered", result, (("Σ number·price each", "of every part that is delivered"),), rows
    )
