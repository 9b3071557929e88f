"""Both changeovers on one time axis, three clocks beside the often quoted claim, what the plans rest on."""

from __future__ import annotations

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
from halfbore.documents.precautions import precautions
from halfbore.documents.subject import Subject
from halfbore.domain.plan import ChangeoverPair, Clock, Plan
from halfbore.numbers import percent, write
from halfbore.present.gantt import gantt, plan_title
from halfbore.present.plans import CLOCKS, part_words
from halfbore.present.wording import sentence
from halfbore.units import Kind

CHART = 770.0
"""Height that both plans together may take on a page [px]."""


def changeover_pages(subject: Subject, charts: int) -> Iterator[Block]:
    """Yield both plans of so many positions, the leading one first, then the clocks of the others in one table."""
    planned = sorted((p for p in subject.full if p.plans is not None), key=lambda p: p is not subject.lead)
    pairs = [p.plans for p in planned if p.plans is not None]
    yield from precautions(subject)
    for pair in pairs[:charts]:
        yield from _drawn(pair, subject)
    if pairs[charts:]:
        yield Together(
            (Heading("Changeover at the other positions", level=1), _clocks(pairs[charts:], subject))
        )
    if pairs:
        yield Para((Run("The often quoted claim. ", bold=True), *_runs(text(pairs[0].claim))))


def _drawn(pair: ChangeoverPair, subject: Subject) -> Iterator[Block]:
    chart = gantt((pair.one_piece, pair.split_first), style=subject.style, height=CHART)
    note = "durations are estimates until the site replaces them"
    yield Together(
        (
            Heading(f"Changeover at {pair.position}", level=1, note=note),
            Para(text(_legend()), small=True),
            picture(chart),
        )
    )
    # A block of its own: below a chart of very many tasks it has no room on the same page.
    yield Together((_clocks([pair], subject),))
    yield _other_plans(pair, subject)
    # the last note of a plan only names the hold points that are told here with their outcomes
    notes = [n for n in (*pair.notes, *pair.split_first.notes) if not n.startswith("Hold points")]
    yield Items(
        (*_hold_points(pair.split_first, subject), *(text(sentence(note)) for note in dict.fromkeys(notes)))
    )


def _legend() -> str:
    return (
        "Tasks at their likely durations. Number after a bar: persons. Striped: people are exposed. Dashed: waiting. "
        "Pale, with a line: may start later. Band: product on, P10 to P90, with P50."
    )


def _clocks(pairs: list[ChangeoverPair], subject: Subject) -> Table:
    """Return the three clocks of the plans and how much shorter the split unit's are, draw by draw."""
    rows = []
    for pair in pairs:
        shorter = {s.clock: s for s in pair.shortening}
        for n, (name, words) in enumerate((n, w) for n, w in CLOCKS.items() if n in shorter):
            rows.append(
                (
                    subject.named(pair.position) if n == 0 else text(""),
                    text(words),
                    text(_hours(getattr(pair.one_piece, name), subject)),
                    text(_hours(getattr(pair.split_first, name), subject)),
                    text(part_words(shorter[name].first, subject.style), bold=True),
                    text(_hours(getattr(pair.split_repeat, name), subject)),
                    text(part_words(shorter[name].repeat, subject.style), bold=True),
                )
            )
    return Table(
        columns(
            "Position",
            ("Clock, P10 to P90", "1fr"),
            ("One-piece", "auto", "right"),
            ("Split, first", "auto", "right"),
            ("Shorter by", "auto", "right"),
            ("Split, repeat", "auto", "right"),
            ("Shorter than one-piece planned", "70pt", "right"),
        ),
        tuple(rows),
    )


def _hours(clock: Clock, subject: Subject) -> str:
    return write((clock.p10, clock.p90), Kind.DURATION, subject.style)


def _other_plans(pair: ChangeoverPair, subject: Subject) -> Table:
    plans = (pair.one_piece, pair.split_first, pair.split_repeat, pair.one_piece_seized)
    return Table(
        columns(
            ("Plan", "1fr"),
            ("Outage", "auto", "right"),
            ("Crew-hours", "auto", "right"),
            ("Person-hours exposed", "1.3fr"),
            ("Equipment", "1.5fr"),
        ),
        tuple(_plan_row(plan, subject) for plan in dict.fromkeys(plans)),
    )


def _plan_row(plan: Plan, subject: Subject) -> tuple[Cell, ...]:
    style = subject.style
    exposed = "; ".join(
        f"{e.hazard.value} {write(e.person_hours, Kind.DURATION, style, bare=True)}" for e in plan.exposure
    )
    title = plan_title(plan)
    return (
        text(title[0].upper() + title[1:]),
        text(_hours(plan.outage, subject)),
        text(_hours(plan.crew_hours, subject)),
        text(exposed),
        text(", ".join(plan.equipment), colour="ink2"),
    )


def _hold_points(plan: Plan, subject: Subject) -> Iterator[Cell]:
    """Yield each task whose outcome is open, with the chance of each outcome and the hours that it adds."""
    for time in plan.tasks:
        told = [
            f"{b.name} {percent(b.chance, subject.style)}"
            + (f" (adds {write(b.hours, Kind.DURATION, subject.style)})" if b.hours.high > 0.0 else "")
            for b in time.task.branches
        ]
        if told:
            yield (Run(f"{time.task.name}: ", bold=True), *_runs(text("; ".join(told))), Run("."))


def _runs(cell: Cell) -> tuple[Run, ...]:
    return tuple(r for r in cell if isinstance(r, Run))
