"""The working of the hours of two plans: one draw of a plan, and the hours of every task."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator

from halfbore.domain.plan import ChangeoverPair, Plan, TaskTime
from halfbore.domain.worked import Taken
from halfbore.numbers import Style, percent, write
from halfbore.present.gantt import plan_title
from halfbore.present.plans import CLOCKS, before_after, exposures, part_words
from halfbore.present.wording import counted
from halfbore.present.workings import LAW, PERT, Row, Worked, row_of
from halfbore.units import Kind

PATH = (
    ("start = max(finish of the tasks it waits for)", "of each task; finish = start + hours"),
    ("clock = last finish − first start", "of the tasks that the clock counts, draw by draw"),
    LAW,
    (
        "u = u(site) with chance 0.7, else its own",
        "the luck of a task: it follows the pace of the site or its own; common practice, no source",
    ),
)
"""One draw of a plan."""


def plan_workings(pair: ChangeoverPair, seed: int, draws: int, style: Style) -> dict[str, Worked]:
    """Return the working of every number of two plans, by its name in an address."""
    plans = (pair.one_piece, pair.split_first, pair.split_repeat)
    rows = tuple(_task_rows(pair, style))
    luck = (
        f"{write(draws, Kind.COUNT, style)} draws, seed {seed}; both plans draw a task that they share once"
    )

    def of(title: str, result: str, came: Iterable[tuple[str, str]], *formulas: tuple[str, str]) -> Worked:
        return Worked(title, result, (*formulas, *PATH), rows, luck, tuple(came))

    def each(name: str) -> str:
        clocks = ((plan.way.value, getattr(plan, name)) for plan in plans)
        return "; ".join(f"{way} {write((c.p10, c.p90), Kind.DURATION, style)}" for way, c in clocks)

    came = _outcomes(pair, style)
    found = {name: of(words, each(name), came[name]) for name, words in CLOCKS.items()}
    shorter = ("1 − H(split)/H(one-piece)", "draw by draw, on each clock; P10 to P90")
    return found | {
        "crew-hours": of(
            "Crew-hours",
            each("crew_hours"),
            came["crew-hours"],
            ("Σ persons·hours", "of all tasks, draw by draw"),
        ),
        "shorter": of(
            "Shorter by", "; ".join(CLOCKS[s.clock] for s in pair.shortening), came["shorter"], shorter
        ),
        "exposure": of(
            "Exposure",
            "; ".join(dict.fromkeys(e.hazard.value for plan in plans for e in plan.exposure)),
            came["exposure"],
            (
                "P50 of Σ persons·hours",
                "of the tasks that expose to one hazard; hours in which two do count once",
            ),
        ),
    }


def task_working(pair: ChangeoverPair, name: str, style: Style) -> Worked | None:
    """Return the working of the hours of one task, None where no plan has it."""
    rows = tuple(row for row in _task_rows(pair, style) if row.name.partition(" (")[0] == name)
    if not rows:
        return None
    plans = (pair.one_piece, pair.split_first, pair.split_repeat)
    each = [(plan, time.task) for plan in plans for time in plan.tasks if time.task.name == name]
    came = [(plan.way.value, write(task.hours, Kind.DURATION, style)) for plan, task in each]
    hands = " / ".join(
        dict.fromkeys(str(task.persons) for plan, task in each if plan is not pair.split_repeat)
    )
    result = "; ".join(dict.fromkeys(row.value for row in rows))
    return Worked(name, result, (LAW, PATH[-1]), rows, came=(*came, ("persons", hands)))


def _outcomes(pair: ChangeoverPair, style: Style) -> dict[str, tuple[tuple[str, str], ...]]:
    """Return what the page prints of plans, by the name of the number."""
    every = dict.fromkeys((pair.one_piece, pair.split_first, pair.split_repeat, pair.one_piece_seized))
    old, new, later = (
        pair.one_piece.crew_hours.p50,
        pair.split_first.crew_hours.p50,
        pair.split_repeat.crew_hours.p50,
    )

    def clocks(name: str) -> tuple[tuple[str, str], ...]:
        found = ((plan_title(plan), getattr(plan, name)) for plan in every)
        return tuple((title, write((c.p10, c.p90), Kind.DURATION, style)) for title, c in found)

    return {name: clocks(name) for name in CLOCKS} | {
        "crew-hours": (
            *clocks("crew_hours"),
            ("at the next change, P50, one-piece → split unit", before_after(old, new, style)),
            ("at a later change, P50, split unit", write(later, Kind.DURATION, style)),
        ),
        "shorter": tuple(
            (CLOCKS[s.clock], f"first {part_words(s.first, style)}, later {part_words(s.repeat, style)}")
            for s in pair.shortening
        ),
        "exposure": tuple((h.value, _exposed(persons, style)) for h, _, persons in exposures(pair)),
    }


def _exposed(hours: Iterable[float], style: Style) -> str:
    ways = zip(("one-piece", "split, first", "split, later"), hours, strict=True)
    return "; ".join(f"{way} {write(h, Kind.DURATION, style) if h else 'none'}" for way, h in ways)


def _task_rows(pair: ChangeoverPair, style: Style) -> Iterator[Row]:
    for plan in (pair.one_piece, pair.split_first, pair.split_repeat):
        for time in plan.tasks:
            yield from _task(plan, time, style)


def _task(plan: Plan, time: TaskTime, style: Style) -> Iterator[Row]:
    task, way = time.task, plan.way.value
    persons = f", {counted(task.persons, 'person')}" if task.persons else ""
    yield dataclasses.replace(
        row_of(Taken(task.name, task.hours, Kind.DURATION, task.source, PERT), style),
        name=f"{task.name} ({way}{persons})",
    )
    for branch in task.branches:
        chance = percent(branch.chance, style)
        taken = Taken(task.name, branch.hours, Kind.DURATION, task.source, PERT)
        row = row_of(taken, style)
        yield dataclasses.replace(
            row, name=f"{task.name} ({way}): {branch.name}", law=f"{row.law}, chance {chance}"
        )
