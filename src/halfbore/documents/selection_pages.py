"""All checks with their sources, the choice and the next one, why others were turned away, what would let more in."""

from __future__ import annotations

import math
from collections.abc import Iterator

from halfbore.documents.blocks import (
    Block,
    Cell,
    Heading,
    Items,
    Para,
    Run,
    Table,
    Together,
    columns,
    picture,
    text,
)
from halfbore.documents.front import checks_table, source_cell, unit_words, weeks_of
from halfbore.documents.front_notes import no_cost, ordered_price
from halfbore.documents.subject import Subject, counted_findings, nearest
from halfbore.domain.check import Change, Finding, Relaxation, Verdict
from halfbore.domain.order import Order
from halfbore.domain.selection import Candidate, Choice
from halfbore.domain.study import PositionStudy
from halfbore.numbers import write
from halfbore.phrases import in_style, listed
from halfbore.present.bars import check_bar, used_words
from halfbore.present.wording import sentence, verdict_note
from halfbore.units import Kind, Span


def checks_pages(subject: Subject, compact: bool) -> Iterator[Block]:
    """Yield the positions that keep their bearing, a row each, then every check of each unit that goes in.

    compact: all positions in one table of used parts; numbers of the nearest, of the one that leads all.
    """
    if subject.long_names:
        yield Heading("Positions", level=1)
        yield Items(tuple(subject.in_full(name) for name in subject.tags))
    if subject.short:
        yield Heading("Positions that keep their bearing as things stand", level=1)
        yield Table(
            columns("Position", ("Why", "92pt"), ("", "1fr")),
            tuple(
                (subject.named(p.position), text(p.decision.value), text(sentence(p.because)))
                for p in subject.short
            ),
        )
    if compact:
        yield from _all_checks(subject)
    else:
        for p in subject.full:
            yield from _checks_of(p, subject)
    yield _verdict_key()


def _all_checks(subject: Subject) -> Iterator[Block]:
    """Yield one table of all checks with the part used at each position, then numbers: the nearest, of the leader all."""
    yield Heading("All checks", level=1, note="part of the limit that is used")
    found = {p.position: {f.check: f for f in counted_findings(p)} for p in subject.full}
    names = dict.fromkeys(name for checks in found.values() for name in checks)
    rows = []
    for name in names:
        here = [checks.get(name) for checks in found.values()]
        first = next(f for f in here if f is not None)
        rows.append(
            (text(first.title), *(_used(f, subject) for f in here), source_cell(first, one_line=True))
        )
    heads = [(subject.tags[p.position], f"{min(330 // len(found), 110)}pt") for p in subject.full]
    yield Table(columns(("Check", "92pt"), *heads, ("Source", "1fr")), tuple(rows))
    for p in subject.full:
        whole = p is subject.lead and len(subject.full) <= FEW
        head = f"All checks at {p.position}" if whole else f"Nearest to their limits at {p.position}"
        shown = counted_findings(p) if whole else nearest(p)
        yield Together((Heading(head), checks_table(shown, subject, one_line=True)))


def _used(finding: Finding | None, subject: Subject) -> Cell:
    if finding is None:
        return text("does not apply", colour="ink3")
    told = used_words(finding, subject.style)
    bar = picture(check_bar(finding, 44.0, subject.style))
    return (
        bar,
        Run(told or finding.verdict.word, finding.verdict is not Verdict.HOLDS),
    )


def _checks_of(p: PositionStudy, subject: Subject) -> Iterator[Block]:
    if p.choice is None or p.choice.chosen is None:
        return
    yield Heading(f"All checks at {p.position}", level=1, note=p.choice.chosen.name)
    yield checks_table(counted_findings(p), subject)
    told = [f for f in p.choice.findings if f.verdict not in (Verdict.HOLDS, Verdict.NOT_APPLICABLE)]
    silent = [f for f in p.choice.findings if f.verdict is Verdict.NOT_APPLICABLE]
    rows = [_reason(f) for f in told]
    if silent:
        words = "; ".join(f"{f.title.lower()} ({f.reason})" for f in silent)
        rows.append((Run("Does not apply: ", bold=True), *_runs(text(words))))
    if rows:
        yield Items(tuple(rows))


def _reason(finding: Finding) -> Cell:
    ask = f" {sentence('asked for: ' + finding.datum)}" if finding.datum else ""
    head = f"{finding.title}, {finding.verdict.word}: "
    return (Run(head, bold=True), *_runs(text(sentence(finding.reason) + ask)))


def _runs(cell: Cell) -> tuple[Run, ...]:
    return tuple(r for r in cell if isinstance(r, Run))


FEWEST = 3
"""Candidates that are shown in any case where no unit holds."""


FEW = 2
"""Positions up to which the one that leads has the numbers of all its checks beside the table of all positions."""


def choice_pages(subject: Subject, candidates: int, relaxations: int, compact: bool) -> Iterator[Block]:
    """Yield the choice of each position told in full, then what stands against a unit where none holds.

    candidates, relaxations: rows of each table at most; compact: chosen and next of all positions in one table.
    """
    if compact:
        yield Heading("Choice", level=1)
        yield _chosen_and_next(subject)
    for p in subject.full if not compact else ():
        if p.choice is not None:
            yield from _choice(p.choice, p.order, subject, candidates, relaxations)
    for p in subject.short:
        if p.choice is not None and p.choice.chosen is None:
            yield from _choice(p.choice, None, subject, max(candidates, FEWEST), relaxations)


def _chosen_and_next(subject: Subject) -> Table:
    rows = []
    for p in subject.full:
        if p.choice is not None and p.choice.chosen is not None:
            because = f"{p.choice.holding} hold of {write(p.choice.total, Kind.COUNT, subject.style)}"
            because = f"{because}; {ordered_price(p.choice.chosen, p.order, subject)}"
            row = _unit_row("chosen", p.choice.chosen, because, subject, p.order)
            rows.append((subject.named(p.position), *row))
        if p.choice is not None and p.choice.next is not None:
            rows.append((text(""), *_unit_row("next", p.choice.next, p.choice.next_because, subject)))
    head = columns("Position", "", (_CODES, "1.2fr"), ("Because", "1fr"))
    return Table((*head, *columns((f"Cost over {_horizon(subject)}", "64pt", "right"), _LEAD)), tuple(rows))


_CODES = "Unit, code of its standard build"


def _coded(unit: Candidate, order: Order | None = None) -> str:
    """Return a unit with its code: the order's where it is ordered, else the one of its standard build."""
    return f"{unit_words(unit)}, {f'{order.code} as ordered' if order is not None else unit.code}"


def _unit_row(
    badge: str, unit: Candidate, because: str, subject: Subject, order: Order | None = None
) -> tuple[Cell, ...]:
    return (
        text(badge, bold=True, colour="answers"),
        text(_coded(unit, order)),
        text(because),
        text(_cost(unit, subject)),
        text(weeks_of(unit, subject)),
    )


_LEAD = ("Lead time", "auto", "right")


def _choice(
    choice: Choice, order: Order | None, subject: Subject, candidates: int, relaxations: int
) -> Iterator[Block]:
    yield Heading(f"Choice at {choice.position}", level=1, note=_swept(choice, subject))
    if choice.chosen is not None:
        following = f" Next: {choice.next.name}, {choice.next_because}." if choice.next else ""
        price = f" Price: {ordered_price(choice.chosen, order, subject)}." if order is not None else ""
        yield Para(text(f"{sentence(choice.sentence)}{price}{following}"))
    if choice.candidates:
        yield _candidates(choice, order, subject, candidates)
    turned = [f"{check} {write(n, Kind.COUNT, subject.style)}" for check, n in choice.counts]
    if turned:
        yield Para(text(f"Units turned away first by: {listed(turned)}."), small=True)
    if choice.chosen is None:
        yield from _against(choice, subject)
    if choice.relaxations and relaxations:
        waits = any(r.open for r in choice.relaxations)
        then = "and then nothing fails" if waits else "and then held"
        yield Heading("What would let more units in", note=f"each was set and run again, {then}")
        yield _relaxations(choice.relaxations[:relaxations], subject)


def _against(choice: Choice, subject: Subject) -> Iterator[Block]:
    """Yield, where nothing holds, what to ask for and every check of the unit that is nearest."""
    if choice.questions:
        yield Heading("What to ask for", note="units that wait for the answer")
        asked = ((what, write(n, Kind.COUNT, subject.style)) for what, n in choice.questions)
        yield Items(tuple((*text(sentence(what)), Run(f" {n}", bold=True)) for what, n in asked))
    if choice.nearest is not None:
        near = choice.nearest
        yield Heading(f"The nearest unit at {choice.position}", note=f"{unit_words(near)}, {near.code}")
        told = tuple(f for f in choice.nearest_findings if f.verdict is not Verdict.NOT_APPLICABLE)
        yield checks_table(told, subject)
        rows = tuple(_reason(f) for f in told if f.verdict is not Verdict.HOLDS)
        if rows:
            yield Items(rows)


def _swept(choice: Choice, subject: Subject) -> str:
    total = write(choice.total, Kind.COUNT, subject.style)
    return f"{total} units checked, {choice.holding} hold, {choice.open} open until a question is settled"


def _candidates(choice: Choice, order: Order | None, subject: Subject, most: int) -> Table:
    """Return the candidates with what turned each away; the chosen and the next one first."""
    badges = {choice.chosen.row: "chosen"} if choice.chosen else {}
    if choice.next:
        badges[choice.next.row] = "next"
    ordered = sorted(choice.candidates, key=lambda c: (c.row not in badges, badges.get(c.row) == "next"))
    rows = tuple(
        (
            text(badges.get(c.row, ""), bold=True, colour="answers"),
            text(_coded(c, order if badges.get(c.row) == "chosen" else None), bold=c.row in badges),
            _why(c),
            text(_cost(c, subject)),
            text(weeks_of(c, subject)),
        )
        for c in ordered[:most]
    )
    return Table(
        columns(
            "",
            (_CODES, "1.1fr"),
            ("What turned it away, and by how much", "1fr"),
            (f"Cost over {_horizon(subject)}", "62pt", "right"),
            _LEAD,
        ),
        rows,
    )


def _horizon(subject: Subject) -> str:
    return write(subject.study.reading.job.required.horizon, Kind.DURATION, subject.style, unit="years")


def _why(unit: Candidate) -> Cell:
    if unit.holds:
        return text(unit.reason)
    head = unit.first_check[0].upper() + unit.first_check[1:]
    return (Run(f"{head}: ", bold=True, colour="past"), *_runs(text(unit.reason)))


def _cost(unit: Candidate, subject: Subject) -> str:
    if not math.isfinite(unit.cost):
        return no_cost(unit, subject)
    return write(unit.cost, Kind.MONEY, subject.style, resolution=1.0, currency=unit.currency)


def _relaxations(found: tuple[Relaxation, ...], subject: Subject) -> Table:
    money = subject.study.reading.job.value
    code = money.currency if money is not None else ""
    rows = tuple(
        (
            text("; ".join((*(_change(c, subject) for c in r.changes), *r.still_open))),
            text(listed(r.checks)),
            text(f"{r.supplier}, {r.unit}", bold=True),
            text(write(r.price, Kind.MONEY, subject.style, resolution=1.0, currency=code)),
        )
        for r in found
    )
    return Table(
        columns(
            ("If the job allowed", "1.2fr"),
            "Check that turned it away",
            ("Unit", "1fr"),
            ("Price", "auto", "right"),
        ),
        rows,
    )


def _change(change: Change, subject: Subject) -> str:
    """Return one change of the job: what it is, what it would be, what stands there now."""
    if isinstance(change.value, tuple):
        return change.words
    if change.kind is None or not isinstance(change.value, (float, int, Span)):
        return f"{change.words} {change.value}"
    would = in_style(change.would_be, subject.style)
    if not isinstance(change.now, (float, int, Span)):
        return would
    return f"{would} instead of {in_style(change.was, subject.style)}"


def _verdict_key() -> Para:
    """Return what the verdicts mean."""
    told = "; ".join(f"{v.word}: {verdict_note(v)}" for v in Verdict)
    return Para(text(f"{told}. The bar is the need, the upright stroke the limit."), small=True)
