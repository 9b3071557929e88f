"""The three figures at the head of page one: hours, money, the next change both ways."""

from __future__ import annotations

from collections.abc import Iterator

from halfbore.documents.blocks import Figure
from halfbore.documents.subject import Subject, nearest
from halfbore.domain.check import Finding, Verdict
from halfbore.domain.plan import ChangeoverPair
from halfbore.domain.study import PositionStudy
from halfbore.domain.value import Value
from halfbore.numbers import runs, write
from halfbore.present.bars import used_words
from halfbore.present.plans import hours_saved
from halfbore.units import Kind


def figures(subject: Subject) -> Iterator[Figure]:
    """Yield what a manager needs: hours and money of the horizon, the next change; without them the tightest check."""
    lead = subject.lead
    if lead is None or lead.choice is None:
        yield Figure(
            "Positions",
            str(len(subject.study.reading.job.positions)),
            "none gets a split unit as things stand",
        )
        return
    if lead.value is not None:
        yield from _money(lead.position, lead.value, subject)
    if lead.plans is not None:
        yield _next(lead.position, lead.plans, lead.value, subject)
    if lead.value is None:
        yield from _tightest(lead, subject)


def _money(name: str, value: Value, subject: Subject) -> Iterator[Figure]:
    style = subject.style
    years = write(value.horizon, Kind.DURATION, style, unit="years")
    hours = write((value.hours_saved.p10, value.hours_saved.p90), Kind.DURATION, style)
    yield Figure(
        f"{name}, outage saved over {years}", hours, f"next change {next_change(value, subject, brief=True)}"
    )
    money = write((value.saving.p10, value.saving.p90), Kind.MONEY, style, currency=value.currency)
    middle = write(value.saving.p50, Kind.MONEY, style, beside=value.saving.p90, currency=value.currency)
    yield Figure(f"Money saved over {years}", money, f"P50 {middle}; pays in {runs(value.chance)}")


def next_change(value: Value, subject: Subject, brief: bool = False) -> str:
    """Return the hours that the next change saves, more hours as such; brief: for the cell of a table."""
    return hours_saved(value.hours_saved_next, subject.style, brief)


def _next(name: str, pair: ChangeoverPair, counted: Value | None, subject: Subject) -> Figure:
    """Return the next outage both ways; that of the one-piece bearing as the money counts it, where there is money."""
    style = subject.style
    split, old = pair.split_first.outage, counted.one_piece_outage if counted else pair.one_piece.outage
    value = f"{write(split.p50, Kind.DURATION, style)}, not {write(old.p50, Kind.DURATION, style)}"
    if write(split.p50, Kind.DURATION, style) == write(old.p50, Kind.DURATION, style):
        value = write(split.p50, Kind.DURATION, style)
    ranges = (write((o.p10, o.p90), Kind.DURATION, style) for o in (split, old))
    note = "split {}, one-piece {}".format(*ranges)
    return Figure(f"{name}, outage of the first conversion, P50", value, note)


def _tightest(lead: PositionStudy, subject: Subject) -> Iterator[Figure]:
    for finding in nearest(lead, 1):
        yield Figure("Nearest to its limit", finding.title, share(finding, subject))


def share(finding: Finding, subject: Subject) -> str:
    """Return how near a check is to its limit: the part used where it holds, else its verdict."""
    used = used_words(finding, subject.style)
    return f"{used} used" if finding.verdict is Verdict.HOLDS and used else finding.verdict.word
