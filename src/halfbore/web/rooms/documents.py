"""The documents room: what was issued and is kept whole, and new ones made beside the page."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from halfbore.documents.files import file_name
from halfbore.domain.workspace import KeptDocument, named
from halfbore.errors import InputError, Problem, shown
from halfbore.web.desk import Desk, UnknownError
from halfbore.web.page import AtDesk, Form, Place, back, show, style_of
from halfbore.workspace.issuing import Paper, wanted_of

router = APIRouter(include_in_schema=False)
ROWS = 50
TYPES = {
    "pdf": "application/pdf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "toml": "application/toml",
}
"""Ending of a file → what it is called on the way to a browser."""


@router.get("/documents")
def look(
    request: Request,
    desk: AtDesk,
    q: Annotated[str, Query(max_length=200)] = "",
    page: Annotated[int, Query(ge=1, le=100_000)] = 1,
) -> Response:
    """Show the issued documents, the newest first, of all or of what holds a text."""
    return _page(request, desk, q, page)


def _page(
    request: Request,
    desk: Desk,
    q: str = "",
    at: int = 1,
    form: Form | None = None,
    error: InputError | None = None,
) -> Response:
    every = tuple(reversed(desk.workspace.documents()))
    found = picked(every, q)
    pages = max(1, -(-len(found) // ROWS))
    at = min(at, pages)
    record: dict[str, Any] = {
        "rows": found[(at - 1) * ROWS : at * ROWS],
        "found": len(found),
        "total": len(every),
        "last_one": every[0] if every else None,
        "page": at,
        "pages": pages,
        "q": q,
        "papers": list(Paper),
        "given": form or {"tag": q},
        "problems": error.problems if error else (),
        "issue": desk.issues.last,
        "named": named,
    }
    return show(request, "documents.html", Place("documents"), record, 422 if error else 200)


@router.post("/documents")
def issue(request: Request, desk: AtDesk, form: Form) -> Response:
    """Begin to make documents of a kind, of what a tag means."""
    try:
        style = style_of(request).style
        wanted = wanted_of(desk.workspace, form.get("paper", ""), form.get("tag", ""), desk.who, style)
    except InputError as error:
        return _page(request, desk, form=form, error=error)
    desk.issues.start(wanted)
    return back(form, "/documents")


@router.get("/documents/progress")
def progress(request: Request, desk: AtDesk) -> Response:
    """Show how far the making of documents is."""
    return show(request, "issue.html", Place("documents"), {"issue": desk.issues.last})


@router.post("/documents/cancel")
def cancel(desk: AtDesk, form: Form) -> Response:
    """Stop after the document that is being made."""
    desk.issues.cancel()
    return back(form, "/documents")


@router.get("/documents/{number}")
def download(desk: AtDesk, number: str) -> Response:
    """Give out a document, byte by byte as it was issued."""
    return as_file(desk, number)


def as_file(desk: Desk, number: str) -> Response:
    """Return an issued document as a file. Raises UnknownError where there is none of this number."""
    digits = number.isascii() and number.isdecimal() and len(number) < 10
    found = next((d for d in desk.workspace.documents() if digits and d.id == int(number)), None)
    if found is None:
        raise UnknownError(Problem("there is no such document", "address", shown(number)))
    name = file_name(found.file_name)
    safe = name.encode("ascii", "replace").decode().replace("?", "-")
    headers = {"Content-Disposition": f'attachment; filename="{safe}"'}
    kind = TYPES.get(name.rpartition(".")[2], "application/octet-stream")
    return Response(desk.workspace.document_bytes(found.id), media_type=kind, headers=headers)


def picked(every: tuple[KeptDocument, ...], text: str) -> list[KeptDocument]:
    """Return the documents that hold all words of a text in tag, kind, title, number, name or who issued them."""
    asked = text.casefold().split()
    return [d for d in every if all(word in _text(d) for word in asked)]


def _text(d: KeptDocument) -> str:
    return f"{named(d.address)} {d.kind} {d.title} {d.number} {d.file_name} {d.who}".casefold()
