"""Which workspace is meant: the one that is named, else the one in the current folder."""

from __future__ import annotations

import os
from pathlib import Path

from halfbore.errors import InputError, Problem
from halfbore.store import Place, place_of

SUFFIX = ".halfbore"
DATABASE = "HALFBORE_DATABASE"
"""Names the database of a team, so that its password stands on no command line."""


def workspaces_in(folder: Path = Path()) -> list[Path]:
    """Return the workspaces in a folder, by name."""
    return sorted(path for path in folder.glob(f"*{SUFFIX}") if path.is_file())


def workspace_file(named: Place | None, folder: Path = Path()) -> Place:
    """Return the workspace that is named, else the database that this shell names, else the only one in a folder.

    Raises InputError with what was found where there is none, or more than one.
    """
    if named is not None:
        return place_of(named) if isinstance(named, Path) else named
    if database := os.environ.get(DATABASE):
        return place_of(database)
    found = workspaces_in(folder)
    if len(found) == 1:
        return found[0]
    where = str(folder.resolve())
    if found:
        names = ", ".join(path.name for path in found)
        step = f"name one: --workspace {found[0].name}"
        raise InputError(Problem("several workspaces are in this folder", where, names, "one", step))
    others = sorted(path.name for path in folder.glob("*.toml"))[:5]
    there = f"only {', '.join(others)}" if others else "and no job file either"
    step = f"make one with halfbore new NAME{SUFFIX}, or name one with --workspace"
    raise InputError(
        Problem(f"no workspace is in this folder, {there}", where, "", f"a file *{SUFFIX}", step)
    )
