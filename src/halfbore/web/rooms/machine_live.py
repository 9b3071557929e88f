"""The answer of a shaft line while a value is typed, and once a kept value is searched for."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfbore.domain.workspace import Address
from halfbore.errors import InputError
from halfbore.web.addresses import tag_of
from halfbore.web.desk import Desk
from halfbore.web.fields import address_of, value_at
from halfbore.web.page import AtDesk, Form, part, style_of
from halfbore.web.rooms.machine import WIDTHS, answer_of
from halfbore.workspace.edits import edits_of

router = APIRouter(include_in_schema=False)
UNTOUCHED = 204
"""The status that leaves a page as it is."""


@router.get("/lines/{machine}/{line}/answer")
def answer(request: Request, desk: AtDesk, machine: str, line: str) -> Response:
    """Show the answer and the drawing of a shaft line after a search of all units."""
    address = desk.line(tag_of(machine), tag_of(line))
    record = answer_of(desk, address, style_of(request).style)
    return part(request, "machine_live.html", record | {"refused": (), "path": ""})


@router.post("/lines/{machine}/{line}/typed")
def typed(request: Request, desk: AtDesk, form: Form, machine: str, line: str) -> Response:
    """Show how the units stand with a value that is typed; it is not kept."""
    address = desk.line(tag_of(machine), tag_of(line))
    record = _typed(desk, address, form, request)
    return Response(status_code=UNTOUCHED) if record is None else part(request, "machine_live.html", record)


def _typed(desk: Desk, line: Address, form: Form, request: Request) -> dict[str, Any] | None:
    style = style_of(request).style
    at, path, text = address_of(form.get("at", "")), form.get("path", ""), form.get("value", "").strip()
    try:
        document = desk.workspace.document(at)
        edits, _ = edits_of(document, at, [(path, text or None)])
        glanced = desk.studies.glance(line, edits)
    except InputError as error:
        return answer_of(desk, line, style, at_once=True) | {"refused": error.problems, "path": path}
    if glanced is None:
        return None
    label = value_at(at, document, path, style).label
    width = WIDTHS.get(form.get("drawing", ""))
    shown = answer_of(desk, line, style, glanced=glanced, widths={"alone": width} if width else WIDTHS)
    words = f"{label} {text}" if text else f"no {label}"
    return shown | {"typed": words, "refused": (), "path": path}
