"""What page one says beside the numbers: what the conversion brings with it, what it costs, why no value is told."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator

from halfbore.documents.blocks import Cell, Run, text
from halfbore.documents.subject import Subject
from halfbore.domain.check import Finding, Verdict
from halfbore.domain.order import Item, Order
from halfbore.domain.selection import Candidate
from halfbore.domain.study import PositionStudy
from halfbore.numbers import write
from halfbore.phrases import listed
from halfbore.present.wording import counted, sentence
from halfbore.units import Kind

CAUTION = "Caution:"
"""How a note on the shaft begins that belongs on page one."""
WORK = "lift and entry"
"""Check that tells of work on the machine: it is told for every position that gets a unit."""


def consequences(subject: Subject, every: bool) -> tuple[Cell, ...]:
    """Return a sentence for each check that does not plainly hold, and each caution on the shaft.

    What is said of the position that leads, under whose head it stands, does not name it.
    every: all such checks of the position that leads and the work at the others; else the leader's work alone.
    """
    told: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for p in subject.full if every else (subject.lead,):
        for f in _open(p) if p is not None else ():
            if f.check == WORK or (every and p is subject.lead):
                told[f.title, f.verdict.word, f.reason].append(p.position if p is not None else "")
    lead = [subject.lead.position] if subject.lead is not None else []
    checks = tuple(_told(key, [] if names == lead else names) for key, names in told.items())
    return (*checks, *cautions(subject))


def _open(p: PositionStudy) -> Iterator[Finding]:
    """Yield the checks of the chosen unit that do not plainly hold, the work on the machine first."""
    found = p.choice.findings if p.choice is not None and p.choice.chosen is not None else ()
    plain = (Verdict.HOLDS, Verdict.NOT_APPLICABLE)
    yield from sorted((f for f in found if f.verdict not in plain), key=lambda f: f.check != WORK)


def _told(key: tuple[str, str, str], names: list[str]) -> Cell:
    title, verdict, reason = key
    where = f" at {listed(names)}" if names else ""
    return (Run(f"{title}{where}, {verdict}: ", bold=True), *_runs(sentence(reason)))


def cautions(subject: Subject) -> Iterator[Cell]:
    """Yield the notes on the shaft that are cautions, and what must be held down in the work."""
    for note in subject.study.response.notes:
        if note.startswith(CAUTION):
            words = sentence(note.removeprefix(CAUTION))
            yield (Run(f"{CAUTION} ", bold=True, colour="past"), *_runs(words))
    if held := [f"{listed(names)} while {away} is away" for away, names in _held_down(subject)]:
        words = f"Set a hold-down first, and keep closed what holds the shaft down: {'; '.join(held)}."
        yield (Run(f"{CAUTION} ", bold=True, colour="past"), *_runs(words))


def _held_down(subject: Subject) -> Iterator[tuple[str, list[str]]]:
    """Yield each position told in full with the other that alone holds the shaft down while its bearing is away.

    On more than two bearings others still carry the shaft; the changeover pages say what each holds.
    """
    if len(subject.study.positions) > 2:
        return
    for p in subject.full:
        names = [n.position for n in p.lift.neighbours if n.holds_down] if p.lift is not None else []
        if names:
            yield p.position, names


def _runs(words: str) -> tuple[Run, ...]:
    return tuple(r for r in text(words) if isinstance(r, Run))


def price_of(unit: Candidate, subject: Subject) -> str:
    """Return a unit's price as its supplier names it, without the seals."""
    return write(unit.price, Kind.MONEY, subject.style, resolution=1.0, currency=unit.currency)


def ordered_price(unit: Candidate, order: Order | None, subject: Subject) -> str:
    """Return the price of a unit and of what comes with it in its order: 3180 € and 2 seals at 210 €."""
    beside = _alike(order.items if order is not None else ())
    return listed([price_of(unit, subject), *(f"{what} at {_price(i, subject)}" for what, i in beside)])


def _alike(items: Iterable[Item]) -> Iterator[tuple[str, Item]]:
    """Yield the parts beside the unit itself that have a price, those of one kind and price counted up."""
    counts: dict[tuple[str, float, str], tuple[int, Item]] = {}
    for item in items:
        if not item.code and not math.isnan(item.price):
            key = item.part, item.price, item.currency
            counts[key] = counts.get(key, (0, item))[0] + item.quantity, item
    for number, item in counts.values():
        yield counted(number, item.part), item


def _price(item: Item, subject: Subject) -> str:
    return write(item.price, Kind.MONEY, subject.style, resolution=1.0, currency=item.currency)


def no_value(p: PositionStudy, subject: Subject) -> str:
    """Return in a few words why a position has no value: it was not asked for, or its unit's price does not allow one."""
    money = subject.study.reading.job.value
    unit = p.choice.chosen if p.choice is not None else None
    if money is None:
        return "not asked"
    if unit is not None and math.isnan(unit.price):
        return "no price"
    if unit is not None and unit.currency != money.currency:
        return f"price in {unit.currency}"
    return "not worked out"


def no_cost(unit: Candidate, subject: Subject) -> str:
    """Return why the cost of a unit over the horizon is not known."""
    money = subject.study.reading.job.value
    if math.isnan(unit.price):
        return "no cost: no price"
    if money is not None and unit.currency != money.currency:
        return f"no cost: price in {unit.currency}, job in {money.currency}"
    return f"no cost: price in {unit.currency}, most in another currency"
