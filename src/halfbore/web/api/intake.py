"""What comes in, as JSON: surveys with mapping, rows to mend, catalogues, machines by hand."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, File, UploadFile
from pydantic import BaseModel, Field

from halfbore.domain.survey import Reject
from halfbore.domain.workspace import Edit
from halfbore.errors import InputError, Problem, shown
from halfbore.present.plain import plain_data
from halfbore.web.api.routes import WRONG, address_at
from halfbore.web.desk import UnknownError
from halfbore.web.drafts import SurveyDraft
from halfbore.web.page import AtDesk, Upload
from halfbore.web.rooms.catalogues import taken
from halfbore.workspace import catalogue_mapping, survey_mapping
from halfbore.workspace.catalogues import keep_catalogue
from halfbore.workspace.mending import mended
from halfbore.workspace.new_machine import add_machine
from halfbore.workspace.survey import preview

router = APIRouter(prefix="/api", responses={**WRONG, 413: {**WRONG[422], "description": "is too large"}})
OneFile = Annotated[UploadFile, File(description="CSV or XLSX, up to 20 MB")]
SomeFiles = Annotated[
    list[UploadFile], File(description="tables of a supplier and, ending in .toml, their mapping")
]


class NewMapping(BaseModel):
    """How a survey is read: the data of a mapping file."""

    mapping: dict[str, Any]


class MendedRow(BaseModel):
    """A rejected row as it should be: heading → text of those cells that change; aside: it is not brought in."""

    sheet: str = Field("", max_length=200)
    row: int = Field(ge=1, le=2**31)
    cells: dict[str, str] = Field(default_factory=dict)
    aside: bool = False


class MendedRows(BaseModel):
    """Rejected rows as they should be; those that are not named stay as they are."""

    rows: list[MendedRow]


class MappingText(BaseModel):
    """The text of a mapping file; none leaves the one that is there."""

    mapping: str | None = Field(None, max_length=1_000_000)


class NewMachine(BaseModel):
    """A machine that is added by hand: path → text as typed, such as machine.kind and machine.name_plate.power."""

    tag: str = Field(max_length=200)
    line: str = Field("", max_length=200)
    positions: str = Field("", max_length=2000, description="tags parted by commas; empty: the usual ones")
    values: dict[str, str]


class Thing(BaseModel):
    """What is taken out, by its tag."""

    tag: str = Field(min_length=1, max_length=200)


@router.post("/import/surveys")
def bring_survey(desk: AtDesk, file: OneFile) -> dict[str, Any]:
    """Take a survey and propose how it is read; nothing goes into the plant yet."""
    return _survey(desk.drafts.survey(file.filename or "", file.file.read()))


@router.get("/import/surveys/{key}")
def survey(desk: AtDesk, key: str) -> dict[str, Any]:
    """Return how a survey is read, what stands open of that, and the rows that wait to be mended."""
    return _survey(desk.survey(key))


def _survey(draft: SurveyDraft) -> dict[str, Any]:
    opened = [] if draft.mapping is None else survey_mapping.open_in(draft.mapping)
    return {
        "id": draft.key,
        "file": draft.name,
        "version": draft.version,
        "mapping": plain_data(draft.mapping),
        "open": [{"sheet": sheet, **plain_data(problem)} for sheet, problem in opened],
        "rejects": [_reject(one) for one in draft.rejects],
        "aside": [_reject(one) for one in draft.aside],
    }


def _reject(one: Reject) -> dict[str, Any]:
    cells = dict(zip(one.headings, one.cells, strict=False))
    return {"sheet": one.sheet, "row": one.row, "cells": cells, "problems": plain_data(one.problems)}


@router.post("/import/surveys/{key}/mapping")
def map_survey(desk: AtDesk, key: str, new: NewMapping) -> dict[str, Any]:
    """Say how a survey is read."""
    draft = desk.survey(key)
    if draft.own:
        raise InputError(Problem("a sheet of ours needs no mapping", draft.name))
    survey_mapping.refuse_malformed(new.mapping)
    with draft.lock:
        draft.change(survey_mapping.settled_down(new.mapping, draft.book))
    return _survey(draft)


@router.get("/import/surveys/{key}/preview")
def preview_survey(desk: AtDesk, key: str) -> dict[str, Any]:
    """Return what a survey would change; it changes nothing."""
    draft = desk.survey(key)
    found = preview(desk.workspace, draft.book, draft.how())
    return {
        "rows": found.reading.rows,
        "new": list(found.new),
        "changed": list(found.changed),
        "edits": plain_data(found.edits),
        "rejects": [_reject(one) for one in found.reading.rejects],
        "remarks": list(found.reading.remarks),
    }


@router.post("/import/surveys/{key}")
def import_survey(desk: AtDesk, key: str) -> dict[str, Any]:
    """Bring a survey in: good rows in one change, bad ones wait to be mended."""
    draft = desk.survey(key)
    draft.bring_in(desk.workspace, desk.who)
    return _done(draft)


def _done(draft: SurveyDraft) -> dict[str, Any]:
    done = draft.done
    came = {} if done is None else {"batch": done.batch, "new": done.new, "changed": done.changed}
    return {**_survey(draft), **{name: plain_data(value) for name, value in came.items()}}


@router.post("/import/surveys/{key}/rows")
def mend_survey(desk: AtDesk, key: str, new: MendedRows) -> dict[str, Any]:
    """Bring rejected rows in again as they are mended, or put them aside."""
    draft = desk.survey(key)
    given = {(row.sheet, row.row): row for row in new.rows}
    unknown = given.keys() - {(one.sheet, one.row) for one in draft.rejects}
    if unknown:
        raise InputError(
            Problem("no such row waits", f"{s} row {n}".strip()[:200]) for s, n in sorted(unknown)
        )
    rows, aside = [], set()
    for number, reject in enumerate(draft.rejects):
        row = given.get((reject.sheet, reject.row))
        cells = (
            {}
            if row is None
            else {at: row.cells[h] for at, h in enumerate(reject.headings) if h in row.cells}
        )
        if row is not None and row.cells.keys() - set(reject.headings):
            names = ", ".join(sorted(row.cells.keys() - set(reject.headings)))
            raise InputError(
                Problem("no such column", reject.sheet, shown(names), ", ".join(reject.headings)[:300])
            )
        rows.append(mended(reject, cells))
        aside |= {number} if row is not None and row.aside else set()
    draft.mend(desk.workspace, desk.who, rows, aside)
    return _done(draft)


@router.post("/import/catalogues")
def bring_catalogue(desk: AtDesk, files: SomeFiles) -> dict[str, Any]:
    """Take the tables of a supplier, with their mapping or a proposed one; nothing is brought in yet."""
    draft = taken(desk, [Upload(one.filename or "", one.file.read()) for one in files])
    return {
        "id": draft.key,
        "files": list(draft.files),
        "mapping": draft.text,
        "open": plain_data(catalogue_mapping.open_in(draft.text)),
    }


@router.post("/import/catalogues/{key}")
def import_catalogue(desk: AtDesk, key: str, new: MappingText) -> dict[str, Any]:
    """Bring a catalogue in, by the mapping that is given or the one that is there."""
    draft = desk.catalogue(key)
    done = keep_catalogue(desk.workspace, draft.text if new.mapping is None else new.mapping, draft.files)
    desk.drafts.drop(draft.key)
    return {
        "catalogue": done.kept.id,
        "new": done.new,
        "coverage": plain_data(done.coverage),
        "changes": plain_data(done.changes),
        "concerned": [{"position": tag, **plain_data(concern)} for tag, concern in done.concerned],
    }


@router.get("/catalogues")
def catalogues(desk: AtDesk) -> dict[str, Any]:
    """Return every version of every catalogue."""
    found = desk.workspace.catalogues(current_only=False)
    names = ("id", "supplier", "version", "files", "kept_at", "current")
    return {"catalogues": [{name: plain_data(getattr(one, name)) for name in names} for one in found]}


@router.get("/catalogues/{number}")
def one_catalogue(desk: AtDesk, number: int) -> dict[str, Any]:
    """Return what a version of a catalogue covers and which checks its gaps blind."""
    for kept in desk.workspace.catalogues(current_only=False):
        if kept.id == number:
            return {"coverage": plain_data(desk.coverage(kept))}
    raise UnknownError(Problem("there is no such catalogue", "number", str(number)[:20]))


@router.post("/machines")
def new_machine(desk: AtDesk, new: NewMachine) -> dict[str, Any]:
    """Add a machine with one shaft line and its positions."""
    line = add_machine(desk.workspace, new.tag, new.values, desk.who, new.line, new.positions)
    return {"line": list(line)}


@router.post("/remove")
def remove(desk: AtDesk, which: Thing) -> dict[str, Any]:
    """Take a machine, a shaft line or a position out of the plant; undo brings it back."""
    batch = desk.workspace.apply([Edit(address_at(desk, which.tag), "", None)], desk.who, "remove")
    return {"batch": plain_data(batch)}
