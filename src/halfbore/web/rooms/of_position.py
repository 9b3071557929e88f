"""What the rooms of one position have in common: its place on the shaft line, its study, the value that is edited."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from fastapi import Request
from starlette.responses import RedirectResponse, Response

from halfbore.domain.study import PositionStudy, Study
from halfbore.domain.workspace import Address
from halfbore.errors import InputError, Problem
from halfbore.numbers import Style
from halfbore.present.styled import styled
from halfbore.web import editing
from halfbore.web.addresses import room_page, tag_of
from halfbore.web.desk import Desk
from halfbore.web.editing import Editing
from halfbore.web.fields import address_of
from halfbore.web.page import Place, show, style_of
from halfbore.web.rooms.machine import Versions, before_it_is_bought, field_of, line_state, machine_lines
from halfbore.web.rooms.position import strip
from halfbore.workspace.live import Studies


@dataclass(frozen=True)
class Seen:
    """A position as a room shows it: its study on today's inputs, None where there is none, and what is lacking."""

    desk: Desk
    line: Address
    tag: str
    style: Style
    study: Study | None
    found: PositionStudy | None
    problems: tuple[Problem, ...]

    @property
    def at(self) -> Address:
        """The address of the position."""
        return (*self.line, self.tag)


Room = Callable[[Seen], dict[str, Any]]


def seen(desk: Desk, studies: Studies, tag: str, style: Style) -> Seen:
    """Return a position with its study as far as a stage. Raises UnknownError."""
    *line, name = desk.position(tag_of(tag))
    at = tuple(line)
    try:
        study = studies.of(at)
    except InputError as error:
        return Seen(desk, at, name, style, None, None, error.problems)
    found = next((p for p in study.positions if p.position == name), None)
    return Seen(desk, at, name, style, study, styled(found, style) if found else None, ())


def asked(request: Request) -> Editing | None:
    """Return the value that an address asks to edit."""
    query = request.query_params
    return Editing(address_of(query.get("at", "")), query["edit"]) if query.get("edit") else None


def kept(desk: Desk, form: dict[str, str], room: str, tag: str) -> Editing | RedirectResponse:
    """Keep one value and return the way back to the room, or the value as it is edited where it cannot be kept."""
    address = desk.position(tag_of(tag))
    if form.get("do") != "keep":
        raise InputError(Problem("is nothing that can be done here", "do", form.get("do", "")[:64], "keep"))
    edited = editing.keep(desk.workspace, form, desk.who)
    return edited if edited is not None else RedirectResponse(room_page(address[2], room), 303)


def page(request: Request, room: str, look: Seen, edited: Editing | None, record: Room) -> Response:
    """Return the page of a room of a position: what all rooms show, and its own record."""
    desk = look.desk
    positions, state = machine_lines(desk, look.line[0]), line_state(desk, look.line)
    shown: dict[str, Any] = {
        "line": look.line,
        "at": look.at,
        "tag": look.tag,
        "tags": [one for state in positions for one in state.positions],
        "state": state,
        "advised": next((row for row in state.rows if row.position == look.tag), None),
        "problems": look.problems,
        "study": look.study,
        "found": look.found,
        "first": before_it_is_bought(look.found) if look.found else "",
        "drawing_strip": strip(look.study, look.tag) if look.study and look.found else None,
        "edited": edited,
        "field": field_of(desk, edited, look.style),
        "versions": Versions(desk),
        "issue": desk.issues.last,
    }
    status = edited.status if edited else 200
    shown |= record(look)
    return show(request, f"{room}.html", Place(room, look.line, look.tag), shown, status)


def style(request: Request) -> Style:
    """Return how numbers are written on the page that is asked for."""
    return style_of(request).style
