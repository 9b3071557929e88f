"""What every room can do: take the last change back, run shaft lines, and look at the history."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfbore.domain.workspace import Change
from halfbore.errors import InputError, Problem
from halfbore.web.page import AtDesk, Form, Place, back, show
from halfbore.workspace.lines import lines_at

router = APIRouter(include_in_schema=False)
MOST_CHANGES = 200


@router.post("/undo")
def undo(desk: AtDesk, form: Form) -> Response:
    """Take a change back: the one that is named, else the last. Raises UndoError."""
    batch = form.get("batch", "")
    if batch and not batch.isdecimal():
        raise InputError(Problem("is no number of a change", "batch", batch[:64]))
    desk.workspace.undo(desk.who, int(batch) if batch else None)
    return back(form)


@router.post("/run")
def run(desk: AtDesk, form: Form) -> Response:
    """Begin a run: of what is stale or was never run, of all, or of what a tag means."""
    tag, which = form.get("tag", ""), form.get("which", "open")
    lines = [line for state in desk.overview.machines() for line in state.lines if line.positions]
    if tag:
        wanted = list(lines_at(desk.workspace, tag))
    else:
        wanted = [line.address for line in lines if which == "all" or line.word != "current"]
    if wanted:
        desk.runs.start(wanted)
    return back(form)


@router.post("/run/cancel")
def cancel(desk: AtDesk, form: Form) -> Response:
    """Stop the run."""
    desk.runs.cancel()
    return back(form)


@router.get("/run")
def progress(request: Request, desk: AtDesk) -> Response:
    """Show how far the run is."""
    return show(request, "run.html", Place("plant"), {"run": desk.runs.last})


@router.get("/history")
def history(request: Request, desk: AtDesk, tag: str = "") -> Response:
    """Show who changed what, of the plant or of what a tag means."""
    address = next(iter(desk.workspace.find(tag)), None) if tag else None
    found = desk.workspace.history(address, MOST_CHANGES)
    undone = {batch.id for batch in desk.workspace.batches(MOST_CHANGES) if batch.undone}
    record = {"tag": tag, "batches": by_batch(found), "undone": undone}
    return show(request, "history.html", Place("history"), record)


def by_batch(changes: tuple[Change, ...]) -> list[list[Change]]:
    """Return changes in the groups in which they were made."""
    groups: dict[int, list[Change]] = {}
    for change in changes:
        groups.setdefault(change.batch, []).append(change)
    return list(groups.values())
