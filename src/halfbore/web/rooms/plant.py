"""The plant room: all positions by worth, the machines and how their answers stand, what to measure next."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from halfbore.domain.study import Decision
from halfbore.domain.worth import NO_PLAIN_SUM, Worth, notes
from halfbore.phrases import listed
from halfbore.present.wording import counted
from halfbore.web.page import AtDesk, Place, show
from halfbore.workspace.overview import MachineState
from halfbore.workspace.ranking import ranked

router = APIRouter(include_in_schema=False)
ROWS, MACHINES, STEPS = 50, 20, 6
"""Rows of a page: positions, machines, and of what to measure next."""

DECISION_KEYS = {decision.name.lower().replace("_", "-"): decision for decision in Decision}
NOT_RUN = "not-run"


@dataclass(frozen=True)
class Row:
    """One position: its worth, None where its line was never run; state of the answer of its line."""

    machine: str
    line: str
    position: str
    kind: str
    state: str
    worth: Worth | None


SORTS: dict[str, tuple[str, Callable[[Row], Any]]] = {
    "worth": ("worth", lambda r: -r.worth.saving.mean if r.worth and r.worth.saving else math.inf),
    "chance": (
        "chance that it pays",
        lambda r: -r.worth.chance if r.worth and r.worth.chance is not None else 1.0,
    ),
    "hours": (
        "hours a stop",
        lambda r: -r.worth.hours_per_stop.p50 if r.worth and r.worth.hours_per_stop else math.inf,
    ),
    "decision": ("advice", lambda r: list(Decision).index(r.worth.decision) if r.worth else 99),
    "place": ("place in the plant", lambda _: 0),
}
"""Keys by which rows are sorted, with their name and what is compared; a stable sort by worth comes before."""


def rows_of(machines: Sequence[MachineState]) -> list[Row]:
    """Return one row a position in the order of the plant."""
    return [
        Row(line.address[0], line.address[1], position, state.kind, line.word, found.get(position))
        for state in machines
        for line in state.lines
        for found in [{worth.position: worth for worth in line.rows}]
        for position in line.positions
    ]


def picked(rows: Sequence[Row], text: str, decision: str) -> list[Row]:
    """Return the rows that hold all words of a text, and have a decision where one is asked for."""
    asked = text.casefold().split()
    wanted = DECISION_KEYS.get(decision)
    return [
        row
        for row in rows
        if (not decision or (row.worth is None if decision == NOT_RUN else _decided(row) is wanted))
        and (not asked or all(word in _text(row) for word in asked))
    ]


def _decided(row: Row) -> Decision | None:
    return row.worth.decision if row.worth else None


def _text(row: Row) -> str:
    unit = row.worth.unit if row.worth else ""
    return f"{row.position} {row.machine} {row.line} {row.kind} {unit}".casefold()


@router.get("/")
def plant(
    request: Request,
    desk: AtDesk,
    q: Annotated[str, Query(max_length=200)] = "",
    decision: str = "",
    sort: str = "worth",
    page: Annotated[int, Query(ge=1, le=100_000)] = 1,
    machines: Annotated[int, Query(ge=1, le=100_000)] = 1,
) -> Response:
    """Show the plant."""
    states = desk.overview.machines()
    rows = rows_of(states)
    if not states:
        return show(request, "empty.html", Place("plant"), {"run": None})
    name = sort if sort in SORTS else "worth"
    decided = decision if decision in (*DECISION_KEYS, NOT_RUN) else ""
    found = picked(rows, q, decided)
    if name != "place":
        found = sorted(sorted(found, key=SORTS["worth"][1]), key=SORTS[name][1])
    pages = max(1, -(-len(found) // ROWS))
    at = min(page, pages)
    lines = [(state, line) for state in states for line in state.lines]
    record = {
        "headline": headline(rows),
        "subline": subline(rows),
        "rows": found[(at - 1) * ROWS : at * ROWS],
        "found": len(found),
        "total": len(rows),
        "first": (at - 1) * ROWS,
        "page": at,
        "pages": pages,
        "q": q,
        "decision": decided,
        "decisions": _counts(rows),
        "sort": name,
        "sorts": {key: told for key, (told, _) in SORTS.items()},
        "money": money(rows),
        "no_plain_sum": NO_PLAIN_SUM,
        "notes": tuple(notes(tuple(row.worth for row in rows if row.worth))),
        "largest": _largest(found),
        "steps": next_steps(rows),
        "lines": lines[(machines - 1) * MACHINES : machines * MACHINES],
        "machine_page_at": machines,
        "machine_pages": max(1, -(-len(lines) // MACHINES)),
        "line_count": len(lines),
        "machine_count": len(states),
        "open": sum(line.word != "current" and bool(line.positions) for _, line in lines),
        "run": desk.runs.last,
    }
    return show(request, "plant.html", Place("plant"), record)


def headline(rows: Sequence[Row]) -> str:
    """Return the answer for the plant in one sentence."""
    counts = Counter(row.worth.decision for row in rows if row.worth)
    if not counts:
        return f"{counted(len(rows), 'position')} surveyed; none is worked out yet."
    convert = [row.worth for row in rows if row.worth and row.worth.decision is Decision.CONVERT]
    once = counts[Decision.CONVERT_IF]
    every = counted(len(rows), "position")
    if not convert:
        return f"Of {every} none is to be converted as things stand{f', {once} if the unit holds' if once else ''}."
    best = [w.position for w in ranked(convert)[:2]]
    verb = "is" if len(best) == 1 else "are"
    more = f", {once} more if {'its unit holds' if once == 1 else 'their units hold'}" if once else ""
    return f"Convert {len(convert)} of {every}{more}; {listed(best)} {verb} worth most."


def subline(rows: Sequence[Row]) -> str:
    """Return what holds for the positions that are not converted."""
    counts = Counter(row.worth.decision if row.worth else None for row in rows)
    said = {
        Decision.WAITS: "at {} a question is open",
        Decision.NO_UNIT: "at {} no unit holds as it stands",
        Decision.SETTLE_FIRST: "at {} the root cause comes first",
        Decision.NO_CLEAR_CASE: "at {} money alone makes no clear case",
        Decision.DOES_NOT_PAY: "at {} it does not pay",
        Decision.HOLDS_IF: "at {} a unit holds if that is shown, its worth is not known",
        Decision.HOLDS: "at {} a unit holds, its worth is not known",
        None: "{} not run yet",
    }
    parts = [words.format(counts[decision]) for decision, words in said.items() if counts[decision]]
    text = listed(parts)
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def money(rows: Sequence[Row]) -> dict[str, float]:
    """Return the mean saving of all positions to convert, by currency."""
    sums: dict[str, float] = {}
    for row in rows:
        worth = row.worth
        if worth and worth.saving and worth.decision is Decision.CONVERT:
            sums[worth.currency] = sums.get(worth.currency, 0.0) + worth.saving.mean
    return sums


def _largest(rows: Sequence[Row]) -> float:
    ends = [abs(e) for row in rows if row.worth and (s := row.worth.saving) for e in (s.p10, s.p90)]
    return max(ends, default=1.0) or 1.0


def _counts(rows: Sequence[Row]) -> list[tuple[str, str, int]]:
    counts = Counter(row.worth.decision if row.worth else None for row in rows)
    found = [(key, one.short, counts[one]) for key, one in DECISION_KEYS.items() if counts[one]]
    return [*found, (NOT_RUN, "not run", counts[None])] if counts[None] else found


def next_steps(rows: Sequence[Row]) -> list[Worth]:
    """Return the positions where something is to be measured or settled, those with most at stake first."""
    return [w for w in ranked([row.worth for row in rows if row.worth]) if w.next_step][:STEPS]
