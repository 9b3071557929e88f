"""What every room can do: take the last change back, run shaft lines, and look at the history."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfbore.domain.user import Role, User
from halfbore.domain.workspace import Batch, Change
from halfbore.errors import InputError, Problem
from halfbore.store import UndoError
from halfbore.web.desk import Desk
from halfbore.web.guard import RoleError
from halfbore.web.page import AtDesk, Form, Place, back, show, taken_back, undoable, user_of
from halfbore.workspace.lines import lines_at

router = APIRouter(include_in_schema=False)
MOST_CHANGES = 200


@router.post("/undo")
def undo(request: Request, desk: AtDesk, form: Form) -> Response:
    """Take a change back: the one that is named, else the last. Raises UndoError, RoleError."""
    batch = form.get("batch", "")
    if batch and not batch.isdecimal():
        raise InputError(Problem("is no number of a change", "batch", batch[:64]))
    take_back(request, desk, int(batch) if batch else None)
    return back(form)


def take_back(request: Request, desk: Desk, number: int | None) -> Batch:
    """Take a change back; where there are users, one's own, and another's only by its number where one approves.

    Raises UndoError, RoleError.
    """
    user = user_of(request)
    if user is None:
        return desk.workspace.undo(desk.who, number)
    if number is None:
        last = undoable(desk, user)
        if last is None:
            raise UndoError(
                Problem("there is nothing of your own to take back", next_step="look at the history")
            )
        number = last.id
    elif not user.role.may(Role.APPROVE) and desk.workspace.author(number) not in (None, user.name):
        step = "ask that one, or somebody who approves"
        raise RoleError(Problem("the change is another's", "batch", str(number), next_step=step))
    return desk.workspace.undo(user.name, number)


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
    known = desk.workspace.batches(MOST_CHANGES)
    undone = {batch.id for batch in known if batch.undone}
    backs = {batch.id: text for batch in known if (text := taken_back(batch))}
    mine = {b.id for b in known if not b.undone and _may_take_back(user_of(request), b)}
    record = {"tag": tag, "batches": by_batch(found), "undone": undone, "backs": backs, "mine": mine}
    return show(request, "history.html", Place("history"), record)


def _may_take_back(user: User | None, batch: Batch) -> bool:
    if user is None or user.role is Role.APPROVE:
        return True
    return user.role is Role.EDIT and batch.who == user.name


def by_batch(changes: tuple[Change, ...]) -> list[list[Change]]:
    """Return changes in the groups in which they were made."""
    groups: dict[int, list[Change]] = {}
    for change in changes:
        groups.setdefault(change.batch, []).append(change)
    return list(groups.values())
