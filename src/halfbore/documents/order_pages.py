"""The order in words and in code, its parts, its spares, each question of the supplier answered or open."""

from __future__ import annotations

from collections.abc import Iterator

from halfbore.documents.blocks import Beside, Block, Cell, Heading, Para, Run, Table, columns, text
from halfbore.documents.subject import Subject
from halfbore.domain.order import Answer, AnswerState, Item, Order
from halfbore.numbers import write
from halfbore.present.wording import sentence
from halfbore.units import Kind


def order_pages(subject: Subject, compact: bool) -> Iterator[Block]:
    """Yield the order of each position told in full; compact: all in one table, with the open questions only."""
    orders = [p.order for p in subject.full if p.order is not None]
    if compact and orders:
        yield Heading("Orders", level=1)
        yield _all_orders(orders, subject)
        for order in orders:
            open_ = [a for a in order.answers if a.state is AnswerState.OPEN]
            if open_:
                yield _open_questions(order, open_)
    for order in orders if not compact else ():
        yield from _order(order, subject)


def _all_orders(orders: list[Order], subject: Subject) -> Table:
    rows = []
    for order in orders:
        listed = [(i, "") for i in order.items if i.code] + [(i, "spare") for i in order.spares]
        for n, (item, note) in enumerate(listed):
            head = subject.named(order.position) if n == 0 else text("")
            rows.append((head, *_item(order, item, note, subject, words=False)))
    return Table((*columns("Position"), *_ITEM_HEADS), tuple(rows))


def _open_questions(order: Order, open_: list[Answer]) -> Para:
    told = "; ".join(f"{a.question.lower()} ({a.answer})" if a.answer else a.question.lower() for a in open_)
    head = Run(f"Open at {order.position}: ", bold=True, colour="past")
    return Para((head, *_runs(text(told)), Run(".")))


def _order(order: Order, subject: Subject) -> Iterator[Block]:
    open_ = [a for a in order.answers if a.state is AnswerState.OPEN]
    yield Heading(f"Order for {order.position}", level=1, note=order.standing)
    yield Para((Run("Code: ", colour="ink2"), *text(order.code, bold=True), Run(f". {_words(order)}")))
    yield items_table(order, subject)
    if open_:
        yield Heading("Open questions")
        yield questions_table(open_)
    settled = [a for a in order.answers if a.state is not AnswerState.OPEN]
    half = (len(settled) + 1) // 2
    yield Heading("Questions answered")
    yield Beside(((questions_table(settled[:half]),), (questions_table(settled[half:]),)), ("1fr", "1fr"))


def _words(order: Order) -> str:
    words = text(sentence(order.words))[0]
    return words.text if isinstance(words, Run) else ""


def _runs(cell: Cell) -> tuple[Run, ...]:
    return tuple(r for r in cell if isinstance(r, Run))


_ITEM_HEADS = columns(
    ("", "auto", "right"),
    "Part",
    ("Code and words", "1fr"),
    ("Mass", "auto", "right"),
    ("Price each", "auto", "right"),
    ("Lead time", "auto", "right"),
)


def items_table(order: Order, subject: Subject) -> Table:
    """Return what is delivered and the spares, with code, mass, price and lead time."""
    rows = [_item(order, item, "", subject) for item in order.items]
    rows += [_item(order, item, "spare", subject) for item in order.spares]
    return Table(_ITEM_HEADS, tuple(rows))


def _item(order: Order, item: Item, note: str, subject: Subject, words: bool = True) -> tuple[Cell, ...]:
    style = subject.style
    told = item.words.partition("; ")[0]
    silent = not words or told == item.part or told.startswith(order.specification.supplier)
    return (
        text(f"{item.quantity} ×"),
        text(f"{item.part}, {note}" if note else item.part, colour="ink2" if note else "ink"),
        (*text(item.code, bold=True), *text("" if silent else f"  {told}")),
        text(write(item.mass, Kind.MASS, style)),
        text(write(item.price, Kind.MONEY, style, resolution=1.0, currency=item.currency)),
        text(write(item.lead_time, Kind.DURATION, style, unit="weeks")),
    )


def questions_table(answers: list[Answer]) -> Table:
    """Return questions of the supplier with their answers."""
    rows = tuple((text(a.question, colour="ink2"), _answer(a)) for a in answers)
    return Table(columns(("", "0.8fr"), ("", "1fr")), rows, headed=False)


def _answer(answer: Answer) -> Cell:
    if answer.state in (AnswerState.ANSWERED, AnswerState.ASSUMED):
        return text(answer.answer)
    if answer.state is AnswerState.OPEN:
        return text(f"open: {answer.answer}" if answer.answer else "open", bold=True, colour="past")
    return text(f"does not apply: {answer.answer}" if answer.answer else "does not apply", colour="ink3")
