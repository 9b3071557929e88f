"""One page: who asks, in which units and light, what the frame around every room shows; and how it is written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Annotated, Any

from fastapi import Depends, Request
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.datastructures import UploadFile
from starlette.responses import HTMLResponse, RedirectResponse, Response

from halfbore.domain.check import Verdict
from halfbore.domain.user import Role, User
from halfbore.domain.workspace import Address, Batch
from halfbore.numbers import System
from halfbore.units import Kind
from halfbore.web import addresses, fields
from halfbore.web.desk import Desk
from halfbore.web.guard import Guard, read_form
from halfbore.web.keys import ROOM_KEYS, rooms_at
from halfbore.web.words import FILTERS, UNITS, Words, range_bar, svg

TEMPLATES = Path(__file__).parent / "templates"
THEMES = ("auto", "light", "dark")
COOKIES = {"units": tuple(UNITS), "theme": THEMES, "keys": ("on", "off")}
OF_LATE = 200
"""Changes among which one is looked for that can be taken back."""
A_YEAR = 31_536_000


def desk_of(request: Request) -> Desk:
    """Return the desk of the application that is asked, as the user sits at it."""
    desk: Desk = request.app.state.desk
    user = user_of(request)
    return desk if user is None else desk.of(user)


def user_of(request: Request) -> User | None:
    """Return who is logged in; None where the workspace has no users."""
    user: User | None = getattr(request.state, "user", None)
    return user


async def form_of(request: Request) -> dict[str, str]:
    """Return the texts of a form."""
    return {name: value for name, value in (await read_form(request)).items() if isinstance(value, str)}


@dataclass(frozen=True)
class Upload:
    """A file that a form brings, with the name that it had there."""

    name: str
    data: bytes


async def uploads_of(request: Request) -> list[Upload]:
    """Return the files of a form, those that were left empty not among them."""
    if "multipart" not in request.headers.get("content-type", ""):
        return []
    given = [one for _, one in (await read_form(request)).multi_items() if isinstance(one, UploadFile)]
    return [Upload(one.filename or "", await one.read()) for one in given if one.filename or one.size]


AtDesk = Annotated[Desk, Depends(desk_of)]
Form = Annotated[dict[str, str], Depends(form_of)]
Uploads = Annotated[list[Upload], Depends(uploads_of)]


@cache
def environment() -> Environment:
    """Return the templates; everything that is put into one is escaped."""
    made = Environment(
        loader=FileSystemLoader(TEMPLATES),
        auto_reload=False,  # a page of a later version would not fit the program that runs
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters.update(FILTERS)
    made.globals.update(
        Kind=Kind,
        System=System,
        Verdict=Verdict,
        svg=svg,
        range_bar=range_bar,
        at_text=fields.at_text,
        machine_page=addresses.machine_page,
        position_page=addresses.position_page,
        room_page=addresses.room_page,
        working_page=addresses.working_page,
    )
    return made


def choice(request: Request, name: str) -> str:
    """Return what a cookie chooses, the usual where there is none."""
    known = COOKIES[name]
    given = request.cookies.get(name, "")
    return given if given in known else known[0]


def chosen(request: Request) -> Response | None:
    """Return the answer to an address that chooses units, light or keys: a cookie, and the same address without it."""
    given = {n: v for n, v in request.query_params.items() if v in COOKIES.get(n, ())}
    if request.method != "GET" or not given:
        return None
    answer = RedirectResponse(request.url.remove_query_params(list(given)).replace(scheme="", netloc=""), 303)
    for name, value in given.items():
        answer.set_cookie(name, value, max_age=A_YEAR, httponly=True, samesite="lax", path="/")
    return answer


@dataclass(frozen=True)
class Place:
    """Where in the plant a page is: room, shaft line, position."""

    room: str
    line: Address = ()
    position: str = ""


def show(
    request: Request,
    template: str,
    place: Place,
    record: Mapping[str, Any],
    status: int = 200,
) -> HTMLResponse:
    """Return a page: the record of a room in its template, inside the frame of all pages."""
    desk = desk_of(request)
    frame = _words(request) | {
        "place": place,
        "here": request.url.path,
        "query": dict(request.query_params),
        "address": request.url.path + (f"?{request.url.query}" if request.url.query else ""),
        "theme": choice(request, "theme"),
        "keys": choice(request, "keys"),
        "keys_of": ROOM_KEYS,
        "rooms": rooms_at(place.line, place.position),
        "plant": desk.workspace.plant,
        "invented": desk.workspace.document(()).get("invented") is True,
        "user": user_of(request),
        "last": (last := _last(desk)),
        "taken_back": taken_back(last) if last else "",
        "undoable": undoable(desk, user_of(request)),
    }
    text = environment().get_template(template).render(**frame, **record)
    return HTMLResponse(text, status, headers={"Cache-Control": "no-store"})


def part(request: Request, template: str, record: Mapping[str, Any]) -> HTMLResponse:
    """Return a part of a page, without the frame of all pages."""
    text = environment().get_template(template).render(**_words(request), **record)
    return HTMLResponse(text, headers={"Cache-Control": "no-store"})


def _words(request: Request) -> dict[str, Any]:
    words = Words(choice(request, "units"))
    return {"words": words, "style": words.style, "csrf": guard_of(request).csrf_of(request)}


def style_of(request: Request) -> Words:
    """Return the words of the page that is asked for."""
    return Words(choice(request, "units"))


def guard_of(request: Request) -> Guard:
    guard: Guard = request.app.state.guard
    return guard


def _last(desk: Desk) -> Batch | None:
    return next(iter(desk.workspace.batches(1)), None)


def undoable(desk: Desk, user: User | None) -> Batch | None:
    """Return what an undo would take back: where there are users, the last change of one's own."""
    if user and not user.role.may(Role.EDIT):
        return None
    mine = (b for b in desk.workspace.batches(OF_LATE) if user is None or b.who == user.name)
    return next((b for b in mine if b.undoes is None and not b.undone), None)


def taken_back(batch: Batch) -> str:
    """Return what a batch took back and who did, nothing for one that is no undo."""
    if batch.undoes is None:
        return ""
    return f"taken back: {batch.what.partition(': ')[2] or batch.what}, by {batch.who}"


def back(form: Mapping[str, str], other: str = "/") -> Response:
    """Return the way back to the page that a form names; only to one of ours."""
    return RedirectResponse(ours(form.get("next", ""), other), 303)


def ours(target: str, other: str = "/") -> str:
    """Return an address where it is one of our pages, else another."""
    inside = target.startswith("/") and not target.startswith("//")
    return target if inside and "\\" not in target and target.isprintable() else other
