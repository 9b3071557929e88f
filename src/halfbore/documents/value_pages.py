"""What it saves in hours, exposure and money, what moves it, where it turns, on which field lives it rests."""

from __future__ import annotations

import math
from collections.abc import Iterator

from halfbore.documents.blocks import (
    Beside,
    Block,
    Cell,
    Heading,
    Items,
    Para,
    Run,
    Square,
    Table,
    Together,
    columns,
    picture,
    text,
)
from halfbore.documents.front_figures import next_change
from halfbore.documents.subject import Subject
from halfbore.domain.value import Estimate, LifeBasis, Value
from halfbore.domain.worth import NO_PLAIN_SUM
from halfbore.numbers import percent, write
from halfbore.present.plans import breakeven_words, payback_words
from halfbore.present.value_charts import histogram, tornado, turning_point
from halfbore.present.wording import cited, life, mark_of, sentence
from halfbore.units import Kind, Span

FEW, MANY = 5, 8
"""Inputs shown of those that move a saving."""


def value_pages(subject: Subject, brief: bool) -> Iterator[Block]:
    """Yield the value of every position in one table, then charts and costs of the one that leads.

    brief: what moves it most, and assumptions that run on in one paragraph.
    """
    valued = [p.value for p in subject.study.positions if p.value is not None]
    if not valued:
        return
    yield Heading("Value", level=1, note=_how(valued[0], subject))
    yield _table(valued, subject)
    if beside := tuple(_beside(valued, brief)):
        yield Items(beside, small=True)
    lead = subject.lead.value if subject.lead is not None else None
    if lead is not None:
        yield from _lead(lead, subject, brief)


def _how(value: Value, subject: Subject) -> str:
    draws = write(value.draws, Kind.COUNT, subject.style)
    years = write(value.horizon, Kind.DURATION, subject.style, unit="years")
    return f"{draws} runs, seed {value.seed}; {years}, present value; what both ways share is drawn once"


def _table(values: list[Value], subject: Subject) -> Table:
    style = subject.style
    rows = tuple(
        (
            subject.named(v.position),
            text(_range(v.saving, Kind.MONEY, subject, v.currency), bold=True),
            text(write(v.saving.p50, Kind.MONEY, style, beside=v.saving.p90, currency=v.currency)),
            text(percent(v.chance, style)),
            text(payback_words(v, style)),
            text(breakeven_words(v, style, brief=True)),
            text(_range(v.hours_saved, Kind.DURATION, subject)),
            text(next_change(v, subject, brief=True)),
            text(_exposed(v, subject)),
        )
        for v in values
    )
    return Table(
        columns(
            "Position",
            ("Saved, P10 to P90", "62pt", "right"),
            ("P50", "40pt", "right"),
            ("Pays in", "30pt", "right"),
            ("Pays back", "50pt", "right"),
            ("Turns at", "54pt", "right"),
            ("Outage saved", "58pt", "right"),
            ("Next change", "1fr", "right"),
            ("Person-h exposed", "52pt", "right"),
        ),
        rows,
    )


def _beside(values: list[Value], brief: bool) -> Iterator[Cell]:
    """Yield what must stand beside the savings, position by position, and that they are no plain sum.

    brief: that only where stops were shared.
    """
    for v in values:
        for words in v.caveats:
            yield (Run(f"{v.position}: ", bold=True), *text(sentence(words)))
    if len(values) > 1 and (not brief or any(v.shared_with for v in values)):
        yield text(NO_PLAIN_SUM)


def _range(e: Estimate, kind: Kind, subject: Subject, currency: str = "") -> str:
    return write((e.p10, e.p90), kind, subject.style, currency=currency)


def _exposed(value: Value, subject: Subject) -> str:
    was, will = value.exposed_hours
    hours = (write(h, Kind.DURATION, subject.style, bare=True) for h in (was, will))
    return " → ".join(hours)


def _lead(value: Value, subject: Subject, brief: bool) -> Iterator[Block]:
    style = subject.style
    yield Para(text(f"{sentence(value.sentence)} {sentence(value.no_when)}"))
    turn = turning_point(value, style=style)
    beside: list[Block] = [Heading("What it costs"), _costs(value, subject)]
    if turn is not None:
        beside += [Heading("Where it turns"), picture(turn)]
    saves: tuple[Block, ...] = (
        Heading(f"What it saves at {value.position}"),
        picture(histogram(value, style=style)),
    )
    beside.append(Para(text(_replaced(value, subject)), small=True))
    yield Beside((saves, tuple(beside)), ("1fr", "1fr"))
    moves = Together(
        (Heading("What moves it"), picture(tornado(value, FEW if brief else MANY, 680.0, style)))
    )
    lives = (Heading("Field lives that the replacements were drawn from"), _lives(value, subject))
    yield from (*lives, moves) if brief else (moves, *lives)  # a table fills the page that it stands on
    assumed = [sentence(words) for words in value.assumptions]
    yield Para(text(" ".join(assumed)), small=True) if brief else Items(tuple(map(text, assumed)), small=True)


def _replaced(value: Value, subject: Subject) -> str:
    """Return how often bearings are replaced both ways, and what is saved were nothing cured."""
    style, without = subject.style, value.saving_without_cure
    old, new = (write(each.mean, Kind.NUMBER, style, digits=2) for each in value.replacements)
    years = write(value.horizon, Kind.DURATION, style, unit="years")
    mean, uncured = (
        write(e.mean, Kind.MONEY, style, beside=value.saving.p90, currency=value.currency)
        for e in (value.saving, without)
    )
    return (
        f"Replacements after the next change in {years}, mean: {old} one-piece, {new} split, if the unit holds and "
        f"lives as estimated. Mean saving {mean}; were nothing cured {uncured}."
    )


def _costs(value: Value, subject: Subject) -> Table:
    def money(amount: float) -> Cell:
        largest = max(max(abs(c.one_piece), abs(c.split)) for c in value.costs)
        return text(write(amount, Kind.MONEY, subject.style, beside=largest, currency=value.currency))

    rows = [
        (text(c.name), money(c.one_piece), money(c.split), money(c.one_piece - c.split)) for c in value.costs
    ]
    return Table(
        columns(
            ("Mean cost over the horizon", "1fr"),
            ("One-piece", "auto", "right"),
            ("Split", "auto", "right"),
            ("Saved", "auto", "right"),
        ),
        tuple(rows),
    )


def _lives(value: Value, subject: Subject) -> Table:
    return Table(
        columns(
            "Way",
            ("Cause", "1fr"),
            ("63 % gone by", "auto", "right"),
            ("Shape", "auto", "right"),
            ("Source", "1.6fr"),
        ),
        tuple(_life(basis, subject) for basis in value.lives),
    )


def _life(basis: LifeBasis, subject: Subject) -> tuple[Cell, ...]:
    style = subject.style
    eta = life(Span(basis.eta.p10, basis.eta.p50, basis.eta.p90), style)
    shape = "–" if math.isnan(basis.beta) else write(basis.beta, Kind.NUMBER, style)
    note = f"; {basis.source.note}" if basis.source.note else ""
    source = (Square(mark_of(basis.source)), *text(f"{cited(basis.source)}{note}"))
    return (text(basis.way), text(basis.cause), text(eta), text(shape), source)
