"""The operations of the rooms as JSON."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Path, Query, Request
from pydantic import BaseModel, Field
from starlette.responses import Response

from halfbore.domain.study import PositionStudy
from halfbore.domain.workspace import Address
from halfbore.errors import InputError, Problem, shown
from halfbore.present.plain import plain_data
from halfbore.store import paths
from halfbore.web.desk import Desk, UnknownError
from halfbore.web.page import AtDesk
from halfbore.web.rooms.changes import take_back
from halfbore.web.rooms.documents import as_file
from halfbore.web.rooms.machine import line_state
from halfbore.web.rooms.plant import picked, rows_of
from halfbore.web.runs import Run
from halfbore.web.words import UNITS
from halfbore.workspace.edits import exact_edits
from halfbore.workspace.issuing import Paper, wanted_of
from halfbore.workspace.lines import lines_at
from halfbore.workspace.live import Studies


class Wrong(BaseModel):
    """One thing that is wrong."""

    what: str
    where: str
    value: str
    accepted: str
    next_step: str


class Failure(BaseModel):
    """The one shape of errors."""

    error: str
    problems: list[Wrong]


WRONG: dict[int | str, dict[str, Any]] = {
    status: {"model": Failure, "description": told}
    for status, told in {
        401: "nobody is logged in",
        403: "may not come in",
        404: "nothing has this tag",
        409: "somebody changed it since",
        422: "cannot be used as it stands",
    }.items()
}
router = APIRouter(prefix="/api", responses=WRONG)
Tag = Annotated[
    str, Query(max_length=200, description="of a machine, shaft line or position; empty: the plant")
]


class NewValue(BaseModel):
    """A value that shall stand at a path; none takes it away."""

    tag: str = Field("", max_length=200)
    path: str = Field(max_length=500)
    value: str | None = Field(None, max_length=5000)
    version: int | None = Field(None, ge=0, le=2**53, description="of the thing when it was looked at")


class Which(BaseModel):
    """What is meant; empty: all, or the last."""

    tag: str = Field("", max_length=200)


class NewDocument(BaseModel):
    """A document that is wanted: its kind, of what, in which units."""

    paper: str = Field(max_length=40, description=", ".join(paper.value for paper in Paper))
    tag: str = Field("", max_length=200)
    units: Literal["mm", "in"] = "mm"


class Number(BaseModel):
    """A change by its number, the last one when none is given."""

    batch: int | None = Field(None, ge=0, le=2**53)


@router.get("/positions")
def positions(
    desk: AtDesk,
    q: Annotated[str, Query(max_length=200)] = "",
    decision: str = "",
    first: Annotated[int, Query(ge=0, le=10_000_000)] = 0,
    most: Annotated[int, Query(ge=1, le=1000)] = 100,
) -> dict[str, Any]:
    """Return positions with their kept worth, in the order of the plant."""
    found = picked(rows_of(desk.overview.machines()), q, decision)
    return {"total": len(found), "positions": plain_data(found[first : first + most])}


@router.get("/machines")
def machines(desk: AtDesk) -> dict[str, Any]:
    """Return machines with their shaft lines and how their answers stand."""
    rows = [
        {
            "machine": state.tag,
            "kind": state.kind,
            "lines": [
                {"line": line.address[1], "positions": list(line.positions), "state": line.word}
                for line in state.lines
            ],
        }
        for state in desk.overview.machines()
    ]
    return {"machines": rows}


@router.get("/document")
def document(desk: AtDesk, tag: Tag = "", path: Annotated[str, Query(max_length=500)] = "") -> dict[str, Any]:
    """Return the document of a thing as typed, or what stands at a path of it, with its version."""
    at = address_at(desk, tag)
    whole = desk.workspace.document(at)
    value = paths.get(whole, path) if path else whole
    return {"address": list(at), "version": desk.workspace.version(at), "path": path, "value": value}


@router.post("/document")
def keep(desk: AtDesk, new: NewValue) -> dict[str, Any]:
    """Set one value; with the version of the thing as it was looked at nobody else's edit is written over."""
    at = address_at(desk, new.tag)
    edits, questions = exact_edits(desk.workspace, at, [(new.path, new.value)])
    expected = None if new.version is None else {at: new.version}
    batch = desk.workspace.apply(edits, desk.who, "edit", expected=expected)
    return {
        "batch": plain_data(batch),
        "version": desk.workspace.version(at),
        "questions": plain_data(questions),
    }


@router.get("/history")
def history(desk: AtDesk, tag: Tag = "", most: Annotated[int, Query(ge=1, le=1000)] = 50) -> dict[str, Any]:
    """Return who changed what and when, the newest first."""
    return {"changes": plain_data(desk.workspace.history(address_at(desk, tag), most))}


@router.post("/undo")
def undo(request: Request, desk: AtDesk, which: Number) -> dict[str, Any]:
    """Take a change back: one's own, or by its number another's where one approves."""
    return {"batch": plain_data(take_back(request, desk, which.batch))}


@router.post("/run")
def run(desk: AtDesk, which: Which) -> dict[str, Any]:
    """Begin to run shaft lines: of a tag, or all whose answer is not current."""
    if which.tag:
        address_at(desk, which.tag)
        lines = list(lines_at(desk.workspace, which.tag))
    else:
        every = [line for state in desk.overview.machines() for line in state.lines]
        lines = [line.address for line in every if line.positions and line.word != "current"]
    if lines:
        desk.runs.start(lines)
    return progress(desk)


@router.get("/run")
def progress(desk: AtDesk) -> dict[str, Any]:
    """Return how far the run is."""
    return {"run": _told(desk.runs.last)}


@router.get("/result")
def result(desk: AtDesk, tag: Tag) -> dict[str, Any]:
    """Return the kept results of the shaft lines that a tag means: summary, and why it is stale."""
    address_at(desk, tag)
    found = {line: desk.workspace.result(line) for line in lines_at(desk.workspace, tag)}
    return {"results": [{"line": list(line), "result": plain_data(kept)} for line, kept in found.items()]}


@router.get("/answer")
def answer(desk: AtDesk, tag: Tag) -> dict[str, Any]:
    """Return loads, reactions, choices and checks of a shaft line on today's inputs, beside what its last run advised."""
    address_at(desk, tag)
    lines = lines_at(desk.workspace, tag)
    if len(lines) != 1:
        names = ", ".join(" ".join(line) for line in lines)
        raise InputError(Problem("means several shaft lines", "tag", shown(tag), names))
    study = desk.studies.of(lines[0])
    kept = {
        row.position: {"decision": plain_data(row.decision), "because": row.because, "stale": list(row.stale)}
        for row in line_state(desk, lines[0]).rows
    }
    positions = [
        {
            "position": p.position,
            "decision": plain_data(p.decision),
            "sentence": p.choice.sentence if p.choice else p.because,
            "because": p.because,
            "first": p.first,
            "kept": kept.get(p.position),
            "chosen": plain_data(p.choice.chosen) if p.choice else None,
            "checks": plain_data(p.choice.shown_findings) if p.choice else [],
        }
        for p in study.positions
    ]
    return {
        "line": list(lines[0]),
        "reactions": plain_data(study.response.reactions),
        "balances": plain_data(study.response.balances),
        "positions": positions,
    }


@router.get("/order")
def order(desk: AtDesk, tag: Tag) -> dict[str, Any]:
    """Return the order of a position on today's inputs: code, parts, spares, questions, what is open."""
    found = _position(desk, desk.orders, tag)
    return {"position": found.position, "because": found.because, "order": plain_data(found.order)}


@router.get("/changeover")
def changeover(desk: AtDesk, tag: Tag) -> dict[str, Any]:
    """Return both changeover plans of a position on today's inputs: tasks, clocks, exposure."""
    found = _position(desk, desk.whole, tag)
    return {"position": found.position, "because": found.because, "plans": plain_data(found.plans)}


@router.get("/value")
def value(desk: AtDesk, tag: Tag) -> dict[str, Any]:
    """Return what converting a position is worth on today's inputs: ranges, what moves it, where it turns."""
    found = _position(desk, desk.whole, tag)
    return {"position": found.position, "because": found.because, "value": plain_data(found.value)}


@router.get("/documents")
def documents(desk: AtDesk) -> dict[str, Any]:
    """Return the issued documents, oldest first, each with its number, hash and size."""
    return {"documents": plain_data(desk.workspace.documents())}


@router.post("/documents")
def issue(desk: AtDesk, new: NewDocument) -> dict[str, Any]:
    """Begin to make documents of a kind, which are kept whole."""
    desk.issues.start(wanted_of(desk.workspace, new.paper, new.tag, desk.who, UNITS[new.units]))
    return issuing(desk)


@router.get("/documents/progress")
def issuing(desk: AtDesk) -> dict[str, Any]:
    """Return how far the making of documents is."""
    return {"issue": _told(desk.issues.last)}


@router.get("/documents/{number}", response_class=Response)
def document_file(desk: AtDesk, number: Annotated[str, Path(max_length=20)]) -> Response:
    """Return an issued document, byte by byte as it was."""
    return as_file(desk, number)


def _told(run: Run | None) -> dict[str, Any] | None:
    return None if run is None else {**plain_data(run), "going": run.going}


def _position(desk: Desk, studies: Studies, tag: str) -> PositionStudy:
    """Return the study of a position. Raises UnknownError, InputError where its shaft line cannot be solved."""
    address = desk.position(tag)
    found = next((p for p in studies.of(address[:2]).positions if p.position == address[2]), None)
    if found is None:
        raise InputError(
            Problem("there is no catalogue to choose from", "catalogues", next_step="import one")
        )
    return found


def address_at(desk: Desk, tag: str) -> Address:
    """Return the address of a tag, of the plant for none. Raises UnknownError, InputError where it means several."""
    if not tag:
        return ()
    found = desk.workspace.find(tag)
    if not found:
        raise UnknownError(Problem("nothing has this tag", "tag", shown(tag)))
    if len(found) > 1:
        names = ", ".join(" ".join(filter(None, address)) for address in found)
        raise InputError(Problem("means several things", "tag", shown(tag), names))
    return found[0]
