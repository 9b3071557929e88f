"""Changeover plans and value as text."""

from __future__ import annotations

import math

from halfbore.cli import show
from halfbore.cli.style import shown, written
from halfbore.domain.plan import ChangeoverPair, Clock, Plan
from halfbore.domain.study import PositionStudy
from halfbore.domain.value import Estimate, Value
from halfbore.numbers import number, percent
from halfbore.present.plans import NEVER
from halfbore.present.wording import sentence
from halfbore.units import Kind

YEAR = 8760.0
LOCKOUT = (
    "Cautions: {}. The site's lockout procedure, local codes and the supplier's instructions come first."
)


def changeover(position: PositionStudy) -> None:
    """Show both plans on the three clocks, task by task, with what people are exposed to."""
    pair = position.plans
    if pair is None:
        show.heading(f"{position.position}: no plan, {position.because}")
        return
    show.heading(f"{position.position}: P50 (P10 to P90) of what each way takes")
    clocks(pair)
    for plan in (pair.one_piece, pair.split_first, pair.split_repeat):
        _tasks(plan)
    show.line(pair.claim)
    for part in pair.shortening:
        first, repeat = _shares(part.first), _shares(part.repeat)
        show.line(
            f"Here the {part.clock} is shorter by {first} at the first conversion, {repeat} at a repeat."
        )
    for note in pair.notes:
        show.line(sentence(note))


def clocks(pair: ChangeoverPair) -> None:
    """Show the three clocks and the crew-hours of each plan."""
    shown = {
        "one-piece": pair.one_piece,
        "split 1st": pair.split_first,
        "repeat": pair.split_repeat,
        "seized": pair.one_piece_seized,
    }
    rows = [
        (name, *(_hours(clock) for clock in (plan.exchange, plan.mechanical, plan.outage, plan.crew_hours)))
        for name, plan in shown.items()
    ]
    show.table(("hours", "exchange", "mechanical", "outage", "crew"), rows, right=(1, 2, 3, 4))


def _hours(clock: Clock) -> str:
    low, middle, high = (
        written(v, Kind.DURATION, unit="h", bare=True) for v in (clock.p10, clock.p50, clock.p90)
    )
    return f"{middle} ({low} to {high})"


def _shares(clock: Clock) -> str:
    return f"{written(clock.p50, Kind.FRACTION)} ({written((clock.p10, clock.p90), Kind.FRACTION)})"


def _tasks(plan: Plan) -> None:
    show.line(f"{sentence(plan.way)} Tasks at likely hours; * decides the end:")
    rows = [
        (
            "*" if t.task.name in plan.critical_path else "",
            t.task.name,
            f"{t.start:.1f} to {t.finish:.1f}",
            str(t.task.persons),
            ", ".join(t.task.hazards),
        )
        for t in plan.tasks
    ]
    show.table(("", "task", "hours", "people", "exposed to"), rows, right=(2, 3))
    hazards = ", ".join(
        f"{e.hazard} {written(e.person_hours, Kind.DURATION, unit='h')}" for e in plan.exposure
    )
    show.line(
        LOCKOUT.format(f"person-hours exposed to {hazards}" if hazards else "none of the listed hazards")
    )


def value(position: PositionStudy) -> None:
    """Show what a conversion saves with its ranges, and when the answer is no."""
    found = position.value
    if found is None:
        show.heading(f"{position.position}: no value, {position.because}")
        return
    show.heading(f"{position.position}: {found.sentence}")
    show.line(found.no_when)
    for text in found.caveats:
        show.line(sentence(text))
    show.pairs(_figures(found))
    rows = [(c.name, _money(c.one_piece, found), _money(c.split, found)) for c in found.costs]
    show.table(("cost over the horizon, mean", "one-piece", "split"), rows, right=(1, 2))
    swings = [(s.name, _money(s.at_low, found), _money(s.at_high, found)) for s in found.swings]
    show.table(("mean saving when this is at", "its P10", "its P90"), swings, right=(1, 2))
    for text in found.assumptions:
        show.line(sentence(text))


def _figures(found: Value) -> list[tuple[str, str]]:
    exposed = " against ".join(written(hours, Kind.DURATION) for hours in found.exposed_hours)
    draws = written(found.draws, Kind.COUNT)
    return [
        ("saving, present value", _range(found.saving, Kind.MONEY, found.currency)),
        ("saving were nothing cured", _range(found.saving_without_cure, Kind.MONEY, found.currency)),
        ("replacements after the next change, mean", _replaced(found)),
        ("outage saved at the next change", _range(found.hours_saved_next, Kind.DURATION)),
        ("outage saved at a later planned change", _range(found.hours_saved_later, Kind.DURATION)),
        ("outage saved over the horizon", _range(found.hours_saved, Kind.DURATION)),
        ("person-hours exposed", f"P50 {exposed} (one-piece against split)"),
        ("chance that it pays", f"{percent(found.chance, shown())} ({draws} draws, seed {found.seed})"),
        ("payback", _payback(found)),
        ("break-even downtime cost", _break_even(found)),
    ]


def _replaced(found: Value) -> str:
    old, new = (number(each.mean, 2) for each in found.replacements)
    return f"{old} one-piece, {new} split"


def _payback(found: Value) -> str:
    if math.isnan(found.payback):
        return f"not within {written(found.horizon, Kind.DURATION, unit='years')}"
    if found.payback == 0.0:
        return "P50 at once"
    return f"P50 {written(found.payback * YEAR, Kind.DURATION, unit='years')}"


def _break_even(found: Value) -> str:
    if math.isnan(found.breakeven):
        return f"none: {NEVER}"
    rate = written(found.breakeven, Kind.MONEY_RATE, currency=found.currency)
    return f"it pays from {rate} on" if found.breakeven else "it pays at any"


def _range(estimate: Estimate, kind: Kind, currency: str = "") -> str:
    ends = (estimate.p10, estimate.p90)
    middle = written(estimate.p50, kind, beside=ends, currency=currency)
    return f"P50 {middle} (P10 to P90: {written(ends, kind, beside=estimate.p50, currency=currency)})"


def _money(amount: float, found: Value) -> str:
    return written(amount, Kind.MONEY, currency=found.currency)
