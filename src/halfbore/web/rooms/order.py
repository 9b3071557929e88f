"""The order room: is it ready, what is open or assumed, each answer edited in place, the code part by part."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfbore.documents.order_sheet import code_rows, total
from halfbore.domain.order import Answer, AnswerState
from halfbore.web.desk import Desk
from halfbore.web.editing import Editing
from halfbore.web.fields import Value, value_at
from halfbore.web.page import AtDesk, Form
from halfbore.web.rooms import of_position as room
from halfbore.web.rooms.of_position import Seen
from halfbore.web.told import told

router = APIRouter(include_in_schema=False)
RANK = (AnswerState.OPEN, AnswerState.ASSUMED, AnswerState.ANSWERED, AnswerState.NOT_APPLICABLE)
"""The order in which questions stand: what somebody must do comes first."""
OF_POSITION = re.compile(r"position(s\[(?P<tag>[^\]]+)\])?\.")
WHOSE = {"seal_left": "drive end", "seal_right": "free end", "seat": "seat", "lubricant": "lubricant"}
"""What a label needs before it where the name of the value alone does not tell."""


@router.get("/positions/{tag}/order")
def look(request: Request, desk: AtDesk, tag: str) -> Response:
    """Show the order of a position; `edit` with `at` names the value that is being edited."""
    return _page(request, desk, tag, room.asked(request))


@router.post("/positions/{tag}/order")
def change(request: Request, desk: AtDesk, form: Form, tag: str) -> Response:
    """Keep a value that an answer rests on."""
    done = room.kept(desk, form, "order", tag)
    return _page(request, desk, tag, done) if isinstance(done, Editing) else done


def _page(request: Request, desk: Desk, tag: str, edited: Editing | None) -> Response:
    seen = room.seen(desk, desk.orders, tag, room.style(request))
    return room.page(request, "order", seen, edited, _record)


def _record(seen: Seen) -> dict[str, Any]:
    order = seen.found.order if seen.found else None
    if order is None:
        return {"order": None}
    return {
        "order": order,
        "questions": questions(seen, order.answers),
        "counts": {state: sum(a.state is state for a in order.answers) for state in AnswerState},
        "pieces": code_rows(order),
        "total": total(order),
        "unit": order.items[0],
        "AnswerState": AnswerState,
    }


def questions(seen: Seen, answers: tuple[Answer, ...]) -> list[tuple[Answer, list[Value]]]:
    """Return the questions, those that somebody must answer first, each with the values that say it."""
    order = sorted(answers, key=lambda a: RANK.index(a.state))
    return [(answer, [_value(seen, path) for path in answer.told_by]) for answer in order]


def _value(seen: Seen, path: str) -> Value:
    workspace = seen.desk.workspace
    if own := OF_POSITION.match(path):
        at = (*seen.line, own["tag"]) if own["tag"] else seen.at
        value = value_at(at, workspace.document(at), path[own.end() :], seen.style)
    else:
        value = told(workspace, seen.line, path, seen.style)
    whose = WHOSE.get(path.split(".")[-2], "")
    return replace(value, label=f"{whose} {value.label}".strip())
