"""The value room: whether it pays and when not, what moves it, where it turns, and all that it rests on."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfbore.domain.value import Value
from halfbore.numbers import Style
from halfbore.present.plans import before_after, breakeven_words, payback_words
from halfbore.present.value_charts import histogram, swing_words, tornado, turning_point
from halfbore.present.wording import cited, life, mark_of
from halfbore.present.workings_of_money import largest_cost
from halfbore.units import Span
from halfbore.web.desk import Desk
from halfbore.web.editing import Editing
from halfbore.web.fields import Value as Assumption
from halfbore.web.page import AtDesk, Form
from halfbore.web.rooms import of_position as room
from halfbore.web.rooms.of_position import Seen
from halfbore.web.told import all_told, entries
from halfbore.web.words import THEMED, svg

router = APIRouter(include_in_schema=False)
WIDTHS = {"wide": 652.0, "middle": 570.0, "slim": 446.0}
"""Widths of a chart, of which two stand side by side [px], one for each class of page widths."""
STEPS = "value.stopped_production"
MONEY = (
    *("value.currency", "value.one_piece_price", "value.labour", "value.overtime", "value.crane_call"),
    *("value.unplanned_extra", "value.discount_rate"),
)
RECORD = (
    *("value.hours_a_year", "value.planned_share", "value.hidden_share", "value.stop_length"),
    *(
        "value.seized_share",
        "value.one_piece_life.eta",
        "value.one_piece_life.beta",
        "value.one_piece_life.source",
    ),
    *("value.draws", "value.seed"),
)


@router.get("/positions/{tag}/value")
def look(request: Request, desk: AtDesk, tag: str) -> Response:
    """Show what a conversion is worth; `edit` with `at` names the value that is being edited."""
    return _page(request, desk, tag, room.asked(request))


@router.post("/positions/{tag}/value")
def change(request: Request, desk: AtDesk, form: Form, tag: str) -> Response:
    """Keep an assumption."""
    done = room.kept(desk, form, "value", tag)
    return _page(request, desk, tag, done) if isinstance(done, Editing) else done


def _page(request: Request, desk: Desk, tag: str, edited: Editing | None) -> Response:
    seen = room.seen(desk, desk.whole, tag, room.style(request))
    return room.page(request, "value", seen, edited, _record)


def _record(seen: Seen) -> dict[str, Any]:
    workspace, line = seen.desk.workspace, seen.line
    steps = [
        f"{entry}.{name}" for entry in entries(workspace, line, STEPS) for name in ("after", "rate", "once")
    ]
    given = {
        "money_facts": all_told(workspace, line, MONEY, seen.style),
        "steps": all_told(workspace, line, steps, seen.style),
        "recorded": [replace(v, label=_label(v)) for v in all_told(workspace, line, RECORD, seen.style)],
        "failures": workspace.document(seen.at).get("history") or [],
    }
    value = seen.found.value if seen.found else None
    if value is None:
        return {**given, "worth": None}
    return {
        **given,
        "worth": value,
        "charts": charts(value, seen.style),
        "pays_back": payback_words(value, seen.style),
        "turns": breakeven_words(value, seen.style),
        "swing_words": swing_words,
        "lives": [
            (b, life(Span(b.eta.p10, b.eta.p50, b.eta.p90), seen.style), mark_of(b.source), cited(b.source))
            for b in value.lives
        ],
        "largest": largest_cost(value),
        "before_after": before_after,
        "parts": list(
            zip(value.edges[:-1].tolist(), value.edges[1:].tolist(), value.counts.tolist(), strict=True)
        ),
    }


def _label(value: Assumption) -> str:
    """Return a label that says whose life is meant."""
    return f"one-piece life, {value.label}" if ".one_piece_life." in value.path else value.label


def charts(value: Value, style: Style) -> dict[str, dict[str, Any]]:
    """Return each chart once for each class of widths."""
    made: dict[str, dict[str, Any]] = {"saves": {}, "moves": {}, "turns": {}}
    for name, width in WIDTHS.items():
        turn = turning_point(value, width, style, THEMED)
        made["saves"][name] = svg(histogram(value, width, style, THEMED))
        made["moves"][name] = svg(tornado(value, 12, width, style, THEMED))
        if turn is not None:
            made["turns"][name] = svg(turn)
    return made
