"""The working of one number: formula, what went in with its unit, source and standing; an address for each."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from halfbore.domain.check import Finding
from halfbore.domain.selection import Choice
from halfbore.domain.study import Decision, Study
from halfbore.domain.worth import NO_PLAIN_SUM
from halfbore.errors import Problem, shown
from halfbore.numbers import Style, write
from halfbore.present.bars import PAST_TELLING, part_words, used_words
from halfbore.present.styled import styled
from halfbore.present.wording import limit_of, value_of
from halfbore.present.workings import TOLD, Row, Worked, order_working
from halfbore.present.workings_of_money import value_workings
from halfbore.present.workings_of_plans import plan_workings, task_working
from halfbore.present.workings_of_shaft import reaction_working, shaft_workings
from halfbore.sources import Source, Status
from halfbore.study import weighed
from halfbore.units import Kind
from halfbore.web.addresses import machine_page, position_page, room_page, tag_of
from halfbore.web.desk import Desk, UnknownError
from halfbore.web.page import AtDesk, Place, show, style_of
from halfbore.web.rooms import of_position as room
from halfbore.web.rooms.machine import line_state
from halfbore.web.rooms.of_position import Seen
from halfbore.web.rooms.plant import rows_of
from halfbore.web.rooms.position import Clause, working
from halfbore.worked import plan_luck, prices_taken, reaction_parts

router = APIRouter(include_in_schema=False)
KEPT = ("saving", "chance", "hours-saved")
"""Numbers that the plant page shows from the last run."""
Named = Annotated[str, Query(max_length=200)]


@router.get("/positions/{tag}/working/{name}")
def of_position(
    request: Request, desk: AtDesk, tag: str, name: str, of: Named = "", unit: Named = ""
) -> Response:
    """Show the working of a number of a position.

    of: the task, where one is meant; unit: supplier and code of a unit whose check is meant, else that which is shown.
    """
    style = style_of(request).style
    for found, back, clauses in (
        _of_unit(desk, tag, name, unit, style) if unit else _found(desk, tag, name, of, style)
    ):
        at = desk.position(tag_of(tag))
        rows = line_state(desk, at[:2]).rows if name in KEPT else ()
        record = {
            "worked": found,
            "clauses": clauses,
            "tag": at[2],
            "advised": next((row for row in rows if row.position == at[2]), None),
            "back_to": back,
        }
        return show(request, "working.html", Place("working", at[:2], at[2]), record)
    raise _unknown(name)


@router.get("/lines/{machine}/{line}/working/{name}")
def of_line(request: Request, desk: AtDesk, machine: str, line: str, name: str) -> Response:
    """Show the working of a number of a shaft line."""
    address = desk.line(tag_of(machine), tag_of(line))
    study = desk.studies.of(address)
    found = shaft_workings(study.reading, study.response, style_of(request).style).get(name)
    if found is None:
        raise _unknown(name)
    record = _alone(found, machine_page(address))
    return show(request, "working.html", Place("working", address), record)


@router.get("/working/worth")
def of_plant(request: Request, desk: AtDesk) -> Response:
    """Show the sum of what the positions to convert are worth."""
    found = _worth(desk, style_of(request).style)
    return show(request, "working.html", Place("working"), _alone(found, "/"))


def _alone(found: Worked, back: str) -> dict[str, Any]:
    return {"worked": found, "clauses": [], "tag": "", "advised": None, "back_to": back}


def _unknown(name: str) -> UnknownError:
    return UnknownError(Problem("there is no such number here", "address", shown(name)))


def _found(
    desk: Desk, tag: str, name: str, task: str, style: Style
) -> Iterator[tuple[Worked, str, list[Clause]]]:
    """Yield the working of a number of a position with the page that prints it; nothing where it is not there."""
    seen = room.seen(desk, desk.studies, tag, style)
    if seen.study is not None and name == "reaction":
        reactions = [r for r in seen.study.response.reactions if r.position == seen.tag]
        parts = reaction_parts(seen.study, seen.tag)
        yield reaction_working(parts, reactions, style), machine_page(seen.line), []
    choice = seen.found.choice if seen.found else None
    if choice is not None and seen.study is not None:
        yield from _of_checks(seen.study, seen, choice, name)
    if name == "order-total":
        seen = room.seen(desk, desk.orders, tag, style)
        if seen.found and seen.found.order:
            yield order_working(seen.found.order, style), room_page(seen.tag, "order"), []
        return
    yield from _of_draws(room.seen(desk, desk.whole, tag, style), name, task)


def _of_unit(
    desk: Desk, tag: str, name: str, unit: str, style: Style
) -> Iterator[tuple[Worked, str, list[Clause]]]:
    """Yield the working of a check of any unit of the catalogues; nothing where position or unit has none."""
    seen, known = room.seen(desk, desk.studies, tag, style), desk.studies.unit(unit)
    if (
        seen.study is not None
        and seen.found is not None
        and seen.found.choice is not None
        and known is not None
    ):
        stands = styled(weighed(seen.study, seen.tag, known), style)
        yield from _of_checks(seen.study, seen, stands, name)


def _of_checks(
    study: Study, seen: Seen, choice: Choice, name: str
) -> Iterator[tuple[Worked, str, list[Clause]]]:
    for finding in choice.shown_findings:
        if finding.check.replace(" ", "-") == name:
            yield _of_check(study, seen, choice, finding)


def _of_check(study: Study, seen: Seen, choice: Choice, finding: Finding) -> tuple[Worked, str, list[Clause]]:
    unit, style = choice.chosen or choice.nearest, seen.style
    own = seen.found is not None and choice is seen.found.choice
    used = ("part used = need/limit", "for a least value limit/found; the bad end of the ranges decides")
    found, limit = value_of(finding, style), limit_of(finding, style)
    result = f"{found}, {finding.verdict.word}" if found else finding.verdict.word
    came = (
        ("unit", unit.name if unit else ""),
        ("code", unit.code if unit else ""),
        ("found", found),
        ("part of the limit used", used_words(finding, style)),
        ("among the candidates", _among(finding, style)),
        ("because", finding.reason),
    )
    worked = Worked(
        f"{finding.title} of {unit.code}" if unit and not own else finding.title,
        result,
        (used,),
        (),
        came=tuple((name, text) for name, text in came if text),
        told=(*finding.details, ("limit", limit or "none")),
        sources=finding.sources or (TOLD,),
    )
    return worked, position_page(seen.tag), working(study, seen.tag, finding.check, choice.shown_unit)


def _among(finding: Finding, style: Style) -> str:
    """Return how the table of candidates writes a part that is too long for it."""
    used = finding.used.high if finding.used else 0.0
    return part_words(used, style) if PAST_TELLING <= used < math.inf else ""


def _of_draws(seen: Seen, name: str, task: str) -> Iterator[tuple[Worked, str, list[Clause]]]:
    found, study = seen.found, seen.study
    if found is None or study is None or found.plans is None:
        return
    plans = plan_workings(found.plans, *plan_luck(study), seen.style)
    one = task_working(found.plans, task, seen.style) if name == "task" else plans.get(name)
    if one is not None:
        yield one, room_page(seen.tag, "changeover"), []
    elif found.value is not None:
        taken = prices_taken(study, seen.tag)
        money = value_workings(found.value, study.reading, found.plans, taken, seen.style)
        if name in money:
            yield money[name], room_page(seen.tag, "value"), []


def _worth(desk: Desk, style: Style) -> Worked:
    kept = [row.worth for row in rows_of(desk.overview.machines()) if row.worth]
    converted = [w for w in kept if w.saving and w.decision is Decision.CONVERT]
    rows = tuple(
        Row(
            w.position,
            write(w.saving.mean, Kind.MONEY, style, currency=w.currency),
            "mean of its draws",
            Source("its last run", ", ".join(w.stale), Status.ESTIMATE),
        )
        for w in converted
        if w.saving
    )
    sums: dict[str, float] = {}
    for w in converted:
        sums[w.currency] = sums.get(w.currency, 0.0) + (w.saving.mean if w.saving else 0.0)
    result = ", ".join(write(s, Kind.MONEY, style, currency=c) for c, s in sums.items()) or "nothing yet"
    return Worked("Worth of those to convert", result, (("Σ mean saving", NO_PLAIN_SUM),), rows)
