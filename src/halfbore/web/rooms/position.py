"""The position room: the answer, every check against its limit, chosen beside next, what turned the others away."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter, Request
from markupsafe import Markup
from starlette.responses import RedirectResponse, Response

from halfbore.calc.clauses import Legible, legible
from halfbore.calc.why import to_hours
from halfbore.domain.check import Finding, Verdict
from halfbore.domain.selection import Candidate, Choice
from halfbore.domain.study import PositionStudy, Study
from halfbore.domain.unit import UnitTable
from halfbore.domain.workspace import Address
from halfbore.errors import InputError, Problem
from halfbore.numbers import Style
from halfbore.present.formula import number, readable
from halfbore.present.ranges import ranged_checks, ranged_reactions, ranges_drawn
from halfbore.present.roller_drawing import pressure_along, rollers_round
from halfbore.present.shaft_strip import shaft_strip
from halfbore.present.styled import styled
from halfbore.present.wording import cited, counted, mark_of, tags
from halfbore.study import rollers, why
from halfbore.units import Span
from halfbore.web import editing
from halfbore.web.addresses import position_page, tag_of
from halfbore.web.desk import Desk
from halfbore.web.editing import Editing
from halfbore.web.fields import Value, address_of, values_of
from halfbore.web.page import AtDesk, Form, Place, show, style_of
from halfbore.web.rooms.machine import (
    Versions,
    before_it_is_bought,
    field_of,
    line_state,
    machine_lines,
    solved,
    title_of,
    worst,
)
from halfbore.web.words import THEMED, svg

router = APIRouter(include_in_schema=False)
COLUMNS = (
    ("modified life", "Life"),
    ("static safety", "Static"),
    ("speed", "Speed"),
    ("temperature", "Heat"),
    ("alignment", "Tilt"),
    ("room", "Room"),
    ("seals", "Seals"),
)
"""Checks that have a column of bars among the candidates, and its head."""
GROUPS = {
    "": "Position",
    "seat": "Seat",
    "room": "Room",
    "base": "Base",
    "lift": "Lift",
    "seal_left": "Seal towards the drive end",
    "seal_right": "Seal towards the free end",
}
WIDTHS = {"wide": 652.0, "middle": 570.0, "slim": 446.0}
"""Widths of a drawing, of which two stand side by side [px], one for each class of page widths."""
RANGES, FORCES = (
    "Results from low to high against their limits",
    "Force of the bearing on the shaft from low to high",
)
SORTS: dict[str, tuple[str, Callable[[Candidate], Any]]] = {
    "rank": ("rank", lambda _: 0),
    "price": ("price", lambda c: math.inf if math.isnan(c.price) else c.price),
    "lead": ("lead time", lambda c: math.inf if math.isnan(c.lead_time) else c.lead_time),
    "unit": ("unit", lambda c: c.name),
    "life": ("life", lambda c: dict(c.used).get("modified life", math.inf)),
    "room": ("room", lambda c: dict(c.used).get("room", math.inf)),
}

Likely = dict[str, Span]
"""What each check finds with every input at its likely value."""


@dataclass(frozen=True)
class Clause:
    """One step of a working as it is read: what it gives, by which formula, with which numbers, from where."""

    name: str
    result: str
    formula: str
    put_in: str
    given: str
    source: str
    mark: str
    standing: str
    note: str


@router.get("/positions/{tag}")
def look(request: Request, desk: AtDesk, tag: str) -> Response:
    """Show a position; `why` names the check whose working is shown."""
    address = desk.position(tag_of(tag))
    query = request.query_params
    edited = Editing(address_of(query.get("at", "")), query["edit"]) if query.get("edit") else None
    return page(request, desk, address, edited)


@router.post("/positions/{tag}")
def change(request: Request, desk: AtDesk, form: Form, tag: str) -> Response:
    """Keep a value of a position."""
    address = desk.position(tag_of(tag))
    if form.get("do") != "keep":
        raise InputError(Problem("is nothing that can be done here", "do", form.get("do", "")[:64], "keep"))
    edited = editing.keep(desk.workspace, form, desk.who)
    if edited is not None:
        return page(request, desk, address, edited)
    return RedirectResponse(position_page(address[2]), 303)


def page(request: Request, desk: Desk, address: Address, edited: Editing | None) -> Response:
    """Return the page of a position."""
    words, line, tag = style_of(request), address[:2], address[2]
    query = request.query_params
    state = line_state(desk, line)
    study, problems = solved(desk, line)
    document = desk.workspace.document(address)
    record: dict[str, Any] = {
        "line": line,
        "at": address,
        "tag": tag,
        "tags": [one for state in machine_lines(desk, line[0]) for one in state.positions],
        "letters": tags(state.positions),
        "title": title_of(desk, line),
        "state": state,
        "worth": next((row for row in state.rows if row.position == tag), None),
        "problems": problems,
        "groups": grouped(list(values_of(address, document, words.style))),
        "failures": document.get("history") or [],
        "edited": edited,
        "field": field_of(desk, edited, words.style),
        "versions": Versions(desk),
        "study": study,
        "found": None,
        "first": "",
    }
    if study is not None and study.positions:
        found = styled(next(p for p in study.positions if p.position == tag), words.style)
        record |= {"found": found, "first": before_it_is_bought(found), "drawing_strip": strip(study, tag)}
        if found.choice is not None:
            likely = desk.studies.likely(study, tag)
            record |= _choice(study, found, found.choice, likely, query.get("why", ""), words.style)
            record |= candidates(
                found.choice, query.get("q", ""), query.get("sort", ""), query.get("which", "")
            )
    return show(
        request, "position.html", Place("position", line, tag), record, edited.status if edited else 200
    )


def _choice(
    study: Study, found: PositionStudy, choice: Choice, likely: Likely, check: str, style: Style
) -> dict[str, Any]:
    findings = ordered(choice.shown_findings)
    beside = {f.check: f for f in choice.next_findings}
    known = next((f for f in findings if f.check == check), None)
    view = rollers(study, found.position)
    return {
        "rollers": view,
        "rollers_round": svg(rollers_round(view, style, THEMED)) if view else "",
        "pressure_along": svg(pressure_along(view, style, THEMED)) if view else "",
        "ranges": ranges(study, found, findings, likely, style),
        "choice": choice,
        "shown": choice.chosen or choice.nearest,
        "verdict": worst(choice.shown_findings),
        "findings": findings,
        "beside": beside,
        "figures": [
            f
            for name in ("modified life", "static safety", "temperature")
            for f in findings
            if f.check == name
        ],
        "why": known,
        "working": working(study, found.position, known.check) if known else [],
    }


def ranges(
    study: Study, found: PositionStudy, findings: Sequence[Finding], likely: Likely, style: Style
) -> dict[str, Any]:
    """Return what is drawn as ranges, once for each class of widths: results against their limits, and the forces."""
    checks = ranged_checks(findings, likely, style)
    forces = ranged_reactions((r for r in study.response.reactions if r.position == found.position), style)
    return {
        "checks": {n: svg(ranges_drawn(checks, RANGES, w, THEMED)) for n, w in WIDTHS.items()}
        if checks
        else {},
        "forces": {n: svg(ranges_drawn(forces, FORCES, w, THEMED, shared=True)) for n, w in WIDTHS.items()},
    }


def strip(study: Study, tag: str) -> Markup:
    """Return the shaft line as a small map in which this position is marked."""
    units = {p.position: p.choice.chosen_unit for p in study.positions if p.choice and p.choice.chosen_unit}
    return svg(shaft_strip(study.reading.job, units, tag, look=THEMED))


def ordered(findings: Sequence[Finding]) -> list[Finding]:
    """Return findings so that what does not simply hold comes first, then what is nearest to its limit."""
    rank = {
        Verdict.FAILS: 0,
        Verdict.OUTSIDE: 1,
        Verdict.NO_DATA: 1,
        Verdict.TIGHT: 2,
        Verdict.HOLDS: 3,
        Verdict.NOT_APPLICABLE: 4,
    }
    return sorted(findings, key=lambda f: (rank[f.verdict], -(f.used.high if f.used else 0.0)))


def working(study: Study, position: str, check: str, unit: UnitTable | None = None) -> list[Clause]:
    """Return the working of a check of a unit, when not given of the one that is shown."""
    heard = why(study, position, check, unit)
    return [_clause(one) for one in legible((*heard, *to_hours(heard)) if check.endswith("life") else heard)]


def _clause(one: Legible) -> Clause:
    step = one.step
    name = step.name.replace("_", " ")
    given = {key: number(value) for key, value in step.given.items()}
    same = not one.symbol or one.symbol.replace("_", " ").casefold() == name.casefold()
    result = number(step.result)
    return Clause(
        name if same else f"{name} {one.symbol}",
        result if not one.unit or result == "not given" else f"{result} {one.unit}",
        readable(step.formula) if step.formula else "",
        readable(step.formula, given) if step.formula else "",
        "; ".join(f"{key} = {text} {one.units.get(key, '')}".strip() for key, text in given.items()),
        cited(step.source),
        mark_of(step.source).value,
        step.source.status.value,
        step.source.note,
    )


def candidates(choice: Choice, text: str, sort: str, which: str) -> dict[str, Any]:
    """Return the candidates that are asked for, in the order that is asked for; chosen and next stay on top."""
    name = sort if sort in SORTS else "rank"
    kept = which if which in ("holds", "rejected") else ""
    asked = text.casefold().split()
    pinned = [c for c in (choice.chosen, choice.next) if c is not None]
    tops = {c.row for c in pinned}
    rest = [
        c
        for c in choice.candidates
        if c.row not in tops
        and (not kept or c.holds == (kept == "holds"))
        and all(word in f"{c.name} {c.code} {c.reason} {c.first_check}".casefold() for word in asked)
    ]
    return {
        "pinned": pinned,
        "candidates": sorted(rest, key=SORTS[name][1]),
        "columns": COLUMNS,
        "sort": name,
        "sorts": {key: told for key, (told, _) in SORTS.items()},
        "q": text[:200],
        "which": kept,
        "turned_away": ", ".join(f"{check} {times}" for check, times in choice.counts),
        "counted": counted(choice.total, "unit"),
    }


def grouped(values: Sequence[Value]) -> list[tuple[str, list[Value]]]:
    """Return the values of a position under the heads of its parts."""
    groups: dict[str, list[Value]] = {head: [] for head in GROUPS.values()}
    for value in values:
        group = value.path.partition(".")[0] if "." in value.path else ""
        if value.path != "name":
            groups[GROUPS[group]].append(value)
    return [(head, those) for head, those in groups.items() if those]
