"""What a stop costs the plant: asked once, for all machines that say nothing else, since no survey tells it."""

from __future__ import annotations

import json

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfbore.errors import HalfboreError, InputError
from halfbore.store import paths
from halfbore.web.desk import Desk
from halfbore.web.page import AtDesk, Form, Place, show
from halfbore.workspace.edits import exact_edits

router = APIRouter(include_in_schema=False)
CURRENCY, CURVE = "value.currency", "value.stopped_production"
AT_ONCE = "0 h"


@router.get("/stop-cost")
def ask(request: Request, desk: AtDesk) -> Response:
    """Show what the plant says of it now."""
    document = desk.workspace.document(())
    curve = paths.get(document, CURVE) or [{}]
    said = {"currency": str(paths.get(document, CURRENCY) or "")}
    said |= {name: str(curve[0].get(name, "")) for name in ("after", "rate")}
    return _page(request, desk, said, None)


def _page(request: Request, desk: Desk, said: Form, error: HalfboreError | None) -> Response:
    steps = len(paths.get(desk.workspace.document(()), CURVE) or ())
    record = {"said": said, "error": error, "steps": steps}
    return show(request, "stop_cost.html", Place("plant"), record, 422 if error else 200)


@router.post("/stop-cost")
def keep(request: Request, desk: AtDesk, form: Form) -> Response:
    """Keep what a stop costs."""
    texts = {name: form.get(name, "").strip() for name in ("currency", "after", "rate")}
    rate = f"after = {json.dumps(texts['after'] or AT_ONCE)}, rate = {json.dumps(texts['rate'])}"
    try:
        edits, _ = exact_edits(desk.workspace, (), [(CURRENCY, texts["currency"]), (CURVE, f"[{{{rate}}}]")])
        desk.workspace.apply(edits, desk.who, "what a stop costs")
    except InputError as error:
        return _page(request, desk, texts, error)
    return RedirectResponse("/", 303)
