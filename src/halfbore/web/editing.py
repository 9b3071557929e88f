"""Keeping what was typed: checked by its field, in one batch, and never over what somebody else has kept meanwhile."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass

from halfbore.domain.survey import Thing
from halfbore.domain.workspace import Address, Change, Edit
from halfbore.errors import HalfboreError, InputError, Problem, shown
from halfbore.intake.check import check_value
from halfbore.store import StaleEditError, Workspace, paths
from halfbore.web.fields import address_of, text_of
from halfbore.workspace.edits import exact_edits

Form = Mapping[str, str]


@dataclass(frozen=True)
class Conflict:
    """What somebody else has kept in the same place since this page was made."""

    theirs: str
    version: int
    change: Change | None


@dataclass(frozen=True)
class Editing:
    """A value that is being edited: what was typed, what is wrong with it, who else has changed it."""

    at: Address
    path: str
    typed: str | None = None
    error: HalfboreError | None = None
    conflict: Conflict | None = None

    @property
    def status(self) -> int:
        """The status of the page that shows it."""
        return 409 if self.conflict else 422 if self.error else 200


def keep(workspace: Workspace, form: Form, who: str) -> Editing | None:
    """Keep one value; return it as it is being edited where it cannot be kept.

    form: at, path, value, version of the thing and value that the page was made with (was).
    """
    at, path, typed = address_of(form.get("at", "")), form.get("path", ""), form.get("value", "").strip()
    try:
        edits, _ = exact_edits(workspace, at, [(path, typed or None)])
        version = workspace.version(at)
        now = text_of(paths.get(workspace.document(at), path))
        if form.get("version") not in (None, str(version)) and now not in (form.get("was", ""), typed):
            return Editing(at, path, typed, conflict=_conflict(workspace, at, path, now, version))
        workspace.apply(edits, who, "edit", expected={at: version})
    except StaleEditError:
        return keep(workspace, form, who)
    except InputError as error:
        return Editing(at, path, typed, error)
    return None


def _conflict(workspace: Workspace, at: Address, path: str, now: str, version: int) -> Conflict:
    made = (c for c in workspace.history(at, 200) if c.address == at and paths.overlap(c.path, path))
    return Conflict(now, version, next(made, None))


def remove(workspace: Workspace, form: Form, who: str) -> None:
    """Take an entry of a list, or a whole thing, away. Raises InputError where it is not there."""
    at, path = address_of(form.get("at", "")), form.get("path", "")
    if path and paths.get(workspace.document(at), path) is None:
        raise InputError(Problem("is not there any more", path, next_step="load the page again"))
    workspace.apply([Edit(at, path, None)], who, "remove")


def add(workspace: Workspace, at: Address, path: str, form: Form, who: str) -> None:
    """Add an entry to a list: every field of the form that begins with "new." and is not empty.

    Raises InputError with all that cannot be used.
    """
    pairs = ", ".join(f"{name} = {json.dumps(text)}" for name, text in _new(form).items())
    if not pairs:
        raise InputError(Problem("nothing is given", path))
    edits, _ = exact_edits(workspace, at, [(f"{path}[+]", f"{{{pairs}}}")])
    workspace.apply(edits, who, "add")


def add_position(workspace: Workspace, line: Address, form: Form, who: str) -> str:
    """Add a position to a shaft line, and return its tag. Raises InputError with all that cannot be used."""
    given = _new(form)
    tag = given.pop("name", "")
    if not tag:
        raise InputError(
            Problem("the position needs a tag", "name", accepted="a tag that the plant has once")
        )
    if workspace.find(tag):
        raise InputError(Problem("something has this tag already", "name", shown(tag)))
    made = [Edit((*line, tag), "", {})]
    problems: list[Problem] = []
    for name, text in given.items():
        try:
            made.append(Edit((*line, tag), name, check_value(Thing.POSITION, name, text)))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    workspace.apply(made, who, "add", expected={(*line, tag): 0})
    return tag


def _new(form: Form) -> dict[str, str]:
    return {
        name.removeprefix("new."): text.strip()
        for name, text in form.items()
        if name.startswith("new.") and text.strip()
    }
