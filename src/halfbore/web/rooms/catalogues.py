"""The room of catalogues: what they cover, what a version changed and whom it concerns, and how one comes in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Query, Request
from starlette.responses import RedirectResponse, Response

from halfbore import limits
from halfbore.domain.workspace import KeptCatalogue
from halfbore.errors import HalfboreError, InputError, Problem
from halfbore.present.catalogues import change_text, concern_text, field_words
from halfbore.web.desk import KEPT, Desk, UnknownError
from halfbore.web.drafts import CATALOGUE, CatalogueDraft, MeanwhileError
from halfbore.web.page import AtDesk, Form, Place, Upload, Uploads, show
from halfbore.workspace import catalogue_joins as joins
from halfbore.workspace import catalogue_mapping as mapping
from halfbore.workspace.catalogues import changes_between, keep_catalogue

router = APIRouter(prefix="/catalogues", include_in_schema=False)
HERE = Place("catalogues")
MAPPING = ".toml"
LISTED, MOST_LETTERS = 40, 60


@router.get("")
def look(request: Request, desk: AtDesk) -> Response:
    """Show the catalogues of the workspace."""
    return _list(request, desk, None)


def _list(request: Request, desk: Desk, error: HalfboreError | None) -> Response:
    kept = desk.workspace.catalogues(current_only=False)
    record = {
        "current": [(one, desk.coverage(one)) for one in kept if one.current],
        "kept": kept,
        "drafts": desk.drafts.open(CATALOGUE),
        "kept_uploads": KEPT,
        "error": error,
        "most": limits.FILE_SIZE,
        "field_words": field_words,
    }
    return show(request, "catalogues.html", HERE, record, 422 if error else 200)


@router.post("")
def upload(request: Request, desk: AtDesk, uploads: Uploads) -> Response:
    """Take the tables of a supplier, with their mapping or without one."""
    try:
        draft = taken(desk, uploads)
    except InputError as error:
        return _list(request, desk, error)
    return RedirectResponse(f"/catalogues/new/{draft.key}", 303)


def taken(desk: Desk, uploads: list[Upload]) -> CatalogueDraft:
    """Keep what was uploaded as a catalogue that comes in. Raises InputError, LimitError."""
    mappings = [one for one in uploads if one.name.lower().endswith(MAPPING)]
    tables = [one for one in uploads if one not in mappings]
    names = mapping.file_names([one.name for one in tables])
    files = {name: one.data for name, one in zip(names, tables, strict=True)}
    mapping.refuse_large(files)
    text = _text(mappings[0].data) if mappings else mapping.proposed(files)
    mapping.data_of(text)
    return desk.drafts.catalogue(", ".join(files), files, text)


def _text(data: bytes) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(Problem("cannot be read", "mapping", accepted="TOML in UTF-8")) from None


@router.get("/new/{key}")
def draft(request: Request, desk: AtDesk, key: str) -> Response:
    """Show the mapping of a catalogue that comes in."""
    return _draft(request, desk.catalogue(key), None)


def _draft(
    request: Request, draft: CatalogueDraft, error: HalfboreError | None, text: str | None = None
) -> Response:
    data = mapping.data_of(draft.text)
    record = {
        "draft": draft,
        "text": draft.text if text is None else text,
        "opened": mapping.open_in(draft.text),
        "top": mapping.top_of(data),
        "top_words": mapping.TOP,
        "fields": mapping.fields_of(data, draft.columns, draft.hints),
        "tables": draft.columns,
        "joins": joins.joins_of(data, draft.columns),
        "matches": joins.MATCHES,
        "missing": joins.MISSING,
        "several": isinstance(data.get("tables"), dict),
        "error": error,
        "OPEN": mapping.OPEN,
        "field_words": field_words,
    }
    status = 409 if isinstance(error, MeanwhileError) else 422 if error else 200
    return show(request, "catalogue_new.html", HERE, record, status)


@router.post("/new/{key}")
def change(request: Request, desk: AtDesk, form: Form, uploads: Uploads, key: str) -> Response:
    """Change the mapping of a catalogue that comes in, or bring it in."""
    draft = desk.catalogue(key)
    texts: dict[str, Callable[[], str]] = {
        "fields": lambda: _with_fields(draft, form),
        "joins": lambda: joins.with_joins(mapping.data_of(draft.text), joins.given_of(form)),
        "text": lambda: form.get("text", "").replace("\r\n", "\n"),
        "mapping": lambda: _text(uploads[0].data if uploads else b""),
        "bring": lambda: draft.text,
    }
    asked = form.get("do", "")
    try:
        if asked not in texts:
            raise InputError(Problem("is nothing that can be done here", "do", asked[:64], ", ".join(texts)))
        with draft.lock:
            if form.get("version", str(draft.version)) != str(draft.version):
                raise MeanwhileError(Problem("the mapping was changed meanwhile", draft.name))
            text = texts[asked]()
            mapping.data_of(text)
            draft.change(text)
        if asked == "bring":
            done = keep_catalogue(desk.workspace, draft.text, draft.files)
            desk.drafts.drop(draft.key)
            return RedirectResponse(f"/catalogues/{done.kept.id}", 303)
    except InputError as error:
        return _draft(request, draft, error, form.get("text"))
    return RedirectResponse(f"/catalogues/new/{draft.key}", 303)


def _with_fields(draft: CatalogueDraft, form: Mapping[str, str]) -> str:
    given = []
    number = 0
    while (path := form.get(f"f{number}")) is not None:
        letters = {
            form[f"f{number}.t{i}"]: form.get(f"f{number}.m{i}", "").strip()
            for i in range(MOST_LETTERS)
            if form.get(f"f{number}.t{i}")
        }
        names = ("heading", "constant", "unit", "table")
        texts = {name: form.get(f"f{number}.{name}", "").strip() for name in names}
        given.append(mapping.FieldGiven(path, **texts, letters=letters))
        number += 1
    top = {key: form[f"top.{key}"].strip() for key in mapping.TOP if f"top.{key}" in form}
    return mapping.with_fields(mapping.data_of(draft.text), top, given)


@router.get("/new/{key}/mapping.toml")
def download(desk: AtDesk, key: str) -> Response:
    """Return the mapping as a file."""
    draft = desk.catalogue(key)
    name = quote(f"{draft.name}{MAPPING}", safe="")
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{name}"}
    return Response(draft.text.encode(), media_type="application/toml", headers=headers)


@router.post("/new/{key}/close")
def close(desk: AtDesk, key: str) -> Response:
    """Forget an upload."""
    desk.drafts.drop(desk.catalogue(key).key)
    return RedirectResponse("/catalogues", 303)


@router.get("/{number}")
def one(
    request: Request, desk: AtDesk, number: str, against: Annotated[str, Query(max_length=20)] = ""
) -> Response:
    """Show what a version of a catalogue covers, and what it changed against another one."""
    kept = _kept(desk, number)
    same = [c for c in desk.workspace.catalogues(current_only=False) if c.supplier == kept.supplier]
    others = [c for c in same if c.id != kept.id]
    older = [c for c in others if c.id < kept.id]
    other = _kept(desk, against) if against else max(older, key=lambda c: c.id, default=None)
    if other is not None and other not in others:
        raise InputError(Problem("is no other version of this catalogue", "against", against))
    found = changes_between(desk.workspace, other, kept) if other else None
    record = {
        "kept": kept,
        "found": desk.coverage(kept),
        "others": others,
        "other": other,
        "changes": found[0] if found else None,
        "concerned": found[1] if found else (),
        "change_text": change_text,
        "concern_text": concern_text,
        "field_words": field_words,
        "listed": LISTED,
    }
    return show(request, "catalogue.html", HERE, record)


def _kept(desk: Desk, number: str) -> KeptCatalogue:
    for kept in desk.workspace.catalogues(current_only=False):
        if str(kept.id) == number:
            return kept
    raise UnknownError(Problem("there is no such catalogue", "address", number[:20]))
