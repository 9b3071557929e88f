"""The choice of a unit and its order as text."""

from __future__ import annotations

from halfbore.cli import show
from halfbore.cli.show_machine import check_table, without_unit
from halfbore.cli.style import shown, written
from halfbore.domain.order import AnswerState, Item, Order
from halfbore.domain.selection import Candidate, Choice
from halfbore.domain.study import PositionStudy
from halfbore.phrases import in_style
from halfbore.present.wording import sentence
from halfbore.units import Kind

MOST_SHOWN = 12
"""Candidates that are listed; how many there are in all is said."""


STANDARD_BUILD = (
    "Codes here name the unit in its standard build; halfbore order writes the code with the seals and the "
    "clearance of this position."
)


def choice(position: PositionStudy) -> None:
    """Show the chosen unit, the next one, what turned the others away and what would let one more in."""
    found = position.choice
    if found is None:
        show.heading(f"{position.position} {position.decision}: {position.because}")
        return
    show.heading(f"{position.position}: {found.sentence}")
    if found.chosen is not None:
        show.pairs([("chosen", _named(found.chosen)), *_next(found)])
        show.line(STANDARD_BUILD)
        check_table(found.findings)
    else:
        without_unit(found)
    _turned_away(found)
    _candidates(found)
    _relaxations(found)


def _named(unit: Candidate) -> str:
    price = written(unit.price, Kind.MONEY, currency=unit.currency)
    wait = written(unit.lead_time, Kind.DURATION, unit="weeks")
    return f"{unit.code}  {unit.name}, {price}, {wait}"


def _next(found: Choice) -> list[tuple[str, str]]:
    if found.next is None:
        return []
    return [("next", _named(found.next)), ("", found.next_because)]


def _turned_away(found: Choice) -> None:
    counts = ", ".join(f"{check} {n}" for check, n in found.counts)
    show.line(
        f"{found.total} units: {found.holding} hold, {found.open} open. Turned away first by: {counts}."
    )


def _candidates(found: Choice) -> None:
    rows = [
        (
            c.code,
            "holds" if c.holds else c.first_check,
            written(c.price, Kind.MONEY, currency=c.currency),
            c.reason,
        )
        for c in found.candidates[:MOST_SHOWN]
    ]
    show.table(("unit", "stands or falls by", "price", "because"), rows, right=(2,))


def _relaxations(found: Choice) -> None:
    if not found.relaxations:
        return
    show.line("What would let one more unit in:")
    rows = [
        (
            r.unit,
            " and ".join(r.checks),
            in_style(r.text, shown()),
            written(r.price, Kind.MONEY, currency=_currency(found)),
        )
        for r in found.relaxations
    ]
    show.table(("unit", "fails", "holds with", "price"), rows, right=(3,))


def _currency(found: Choice) -> str:
    return found.candidates[0].currency if found.candidates else ""


def order(position: PositionStudy) -> None:
    """Show the order of a position: code, words, parts, spares, and every question answered or open."""
    found = position.order
    if found is None:
        _no_order(position)
        return
    show.heading(f"{position.position}: {found.code}, {found.standing}")
    show.line(sentence(found.words))
    _items("Order", found.items)
    _items("Spares", found.spares)
    _answers(found)


def _no_order(position: PositionStudy) -> None:
    found = position.choice
    if found is None or found.chosen is not None:
        show.heading(f"{position.position}: no order, {position.because}")
        return
    show.heading(f"{position.position}: no order, {position.decision}")
    show.line(found.sentence)
    without_unit(found)


def _items(title: str, items: tuple[Item, ...]) -> None:
    rows = [
        (
            str(item.quantity),
            item.part,
            item.code or "in the code of the unit",
            written(item.mass, Kind.MASS),
            written(item.price, Kind.MONEY, currency=item.currency),
            written(item.lead_time, Kind.DURATION, unit="weeks"),
        )
        for item in items
    ]
    show.line(title)
    show.table(("", "part", "code", "mass", "price", "lead time"), rows, right=(0, 3, 4, 5))


def _answers(found: Order) -> None:
    show.line("What the supplier asks")
    by_state = sorted(found.answers, key=lambda a: a.state is not AnswerState.OPEN)
    rows = [(a.question, "OPEN" if a.state is AnswerState.OPEN else "", a.answer) for a in by_state]
    show.table(("question", "", "answer"), rows)
