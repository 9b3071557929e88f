"""The list of keys, and the switch for those that are single letters."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfbore.web.keys import KEYS
from halfbore.web.page import Place, ours, show

router = APIRouter(include_in_schema=False)


@router.get("/keys")
def listed(request: Request, next: str = "/") -> Response:
    """Show what each key does."""
    return show(request, "keys.html", Place("keys"), {"groups": KEYS, "back": ours(next)})
