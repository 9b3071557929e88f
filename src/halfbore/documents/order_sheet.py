"""The order of one position as a document of its own: what a supplier needs to make it without a phone call."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import asdict
from datetime import date
from typing import Any

from halfbore.documents.blocks import (
    Answer,
    Beside,
    Block,
    Figure,
    Figures,
    Heading,
    Items,
    Para,
    Run,
    Signatures,
    Table,
    columns,
    plain,
    text,
)
from halfbore.documents.order_pages import items_table, questions_table
from halfbore.documents.subject import Subject
from halfbore.documents.typeset import typeset
from halfbore.documents.workbook import book_of
from halfbore.documents.workbook_rows import Number, Row, Sheet
from halfbore.domain.order import AnswerState, Item, Order
from halfbore.domain.study import Study
from halfbore.errors import InputError, Problem
from halfbore.numbers import METRIC, Style, write
from halfbore.present.labels import cut
from halfbore.present.palette import LIGHT
from halfbore.present.styled import styled
from halfbore.present.wording import CALCULATION_AID, Mark, day, features, prose, sentence
from halfbore.units import Kind

PAGES = 3
"""Pages at most."""


def order_of(study: Study, position: str) -> Order:
    """Return the order of a position. Raises InputError where it has none, with why."""
    found = next((p for p in study.positions if p.position == position), None)
    if found is None or found.order is None:
        why = found.because if found is not None else "the shaft line has no such position"
        raise InputError(Problem(f"there is no order: {why}", position))
    return found.order


def order_sheet_pdf(study: Study, position: str, when: date, style: Style = METRIC) -> bytes:
    """Return the order of a position as PDF; the same study and date give the same bytes.

    when: the date that it bears; style: units and decimal sign. Raises InputError where there is no order.
    """
    subject = Subject(styled(study, style), style)
    order = order_of(subject.study, position)
    job = study.reading.job
    data = {
        "title": cut(f"Order {order.code}, {position}", 300.0, 1.0),
        "date": [when.year, when.month, when.day],
        "colours": asdict(LIGHT),
        "marks": [{"mark": m.value, "word": m.word} for m in Mark],
        "head": {
            "name": cut(prose(f"Order for {position}, {day(when)}"), 190.0, 9.0),
            "demo": "Demo data, invented" if subject.invented else "",
            "inputs": f"inputs {study.provenance.inputs_hash[:12]}",
        },
        "front": None,
        "parts": {"order": plain(list(_blocks(order, subject, job.customer)))},
        "rest": [["order"]],
    }
    return typeset(data, when, PAGES)


def order_sheet_xlsx(study: Study, position: str, when: date) -> bytes:
    """Return the order of a position as a workbook; when: the date that it bears.

    Raises InputError where there is no order.
    """
    order = order_of(study, position)
    return book_of(_sheets(order, Subject(study), when), "Order", when)


def _blocks(order: Order, subject: Subject, customer: str) -> Iterator[Block]:
    job = subject.study.reading.job
    told = (customer, job.machine.plant, job.machine.name, order.position)
    place = ", ".join(dict.fromkeys(filter(None, told)))
    yield Answer(prose(place), prose(f"Order for {order.position}: {order.standing}"), 17.0)
    yield Figures((*_figures(order, subject.style),))
    yield Para((Run("Code: ", colour="ink2"), *_runs(order.code, True), *_runs(f". {sentence(order.words)}")))
    yield Heading("The code, part by part", level=1, small=True)
    pieces = code_rows(order)
    half = (len(pieces) + 1) // 2
    yield Beside(((_pieces(pieces[:half]),), (_pieces(pieces[half:]),)), ("1fr", "1fr"))
    yield Heading("What is delivered, and its spares", level=1, small=True)
    yield items_table(order, subject)
    open_ = [a for a in order.answers if a.state is AnswerState.OPEN]
    assumed = [a for a in order.answers if a.state is AnswerState.ASSUMED]
    rest = [a for a in order.answers if a not in (*open_, *assumed)]
    for title, answers in (
        ("Open: to be answered before it is sent", open_),
        ("Assumed: please confirm", assumed),
        ("Answered", rest),
    ):
        if answers:
            yield Heading(title, level=1, small=True)
            yield questions_table(answers)
    notes = [f"The code alone counts; the words beside it say the same. {CALCULATION_AID}", subject.invented]
    yield Items(tuple(text(note) for note in notes if note), small=True)
    yield Signatures(("Ordered by", "Checked by", "Confirmed by the supplier"))


def _figures(order: Order, style: Style) -> Iterator[Figure]:
    unit = order.items[0]
    price = write(total(order), Kind.MONEY, style, resolution=1.0, currency=unit.currency)
    yield Figure("Price of what is delivered", price, "as the catalogue names it")
    yield Figure("Lead time", write(unit.lead_time, Kind.DURATION, style, unit="weeks"), "of the unit")
    yield Figure("Mass", write(unit.mass, Kind.MASS, style), "of the unit")


def total(order: Order) -> float:
    """Return the price of all that is delivered, NaN where one of it has none or another currency."""
    currencies = {item.currency for item in order.items}
    return sum(i.quantity * i.price for i in order.items) if len(currencies) == 1 else math.nan


def code_rows(order: Order) -> list[tuple[str, str]]:
    """Return each piece of a code that says something, with what it says in words."""
    return [(part.text, features(part.says)) for part in order.code_parts if part.says]


def _pieces(rows: list[tuple[str, str]]) -> Table:
    return Table(columns(("", "auto"), ("", "1fr")), tuple(map(_piece, rows)), headed=False)


def _piece(row: tuple[str, str]) -> tuple[tuple[Run, ...], ...]:
    return (_runs(row[0], True), _runs(row[1]))


def _runs(words: str, bold: bool = False) -> tuple[Run, ...]:
    return tuple(r for r in text(words, bold) if isinstance(r, Run))


def _sheets(order: Order, subject: Subject, when: date) -> Iterator[Sheet]:
    study = subject.study
    rows: list[Row] = [
        ("Position", order.position),
        ("Standing", order.standing),
        ("Code", order.code),
        ("In words", order.words),
        ("Date", day(when)),
        ("Standing of the calculation", CALCULATION_AID),
        *([("Data", subject.invented)] if subject.invented else []),
        ("Program", f"halfbore {study.provenance.version}"),
        ("Inputs", study.provenance.inputs_hash),
    ]
    yield Sheet("order", ("what", "answer"), tuple(rows))
    heads = ("quantity", "part", "code", "words", "mass, kg", "price each", "currency", "lead time, weeks")
    items = [(*_item(i), "") for i in order.items] + [(*_item(i), "spare") for i in order.spares]
    yield Sheet("items", (*heads, "note"), tuple(items))
    yield Sheet("questions", ("question", "answer", "standing"), tuple(map(_asked, order.answers)))
    yield Sheet("code", ("piece", "says"), tuple(code_rows(order)))


def _asked(answer: Any) -> Row:
    return (answer.question, answer.answer, answer.state.value)


def _item(item: Item) -> tuple[Number | str, ...]:
    return (
        Number(float(item.quantity), Kind.COUNT),
        item.part,
        item.code,
        item.words,
        Number(item.mass, Kind.MASS),
        Number(item.price, Kind.MONEY),
        item.currency,
        Number(item.lead_time / 168.0, Kind.NUMBER),
    )
