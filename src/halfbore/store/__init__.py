"""The workspace: one file, or a database that a team shares, that keeps a plant, its history, results, catalogues and documents.

Light to import: the database library is loaded when a workspace is made or opened.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from halfbore.store.errors import StaleEditError, UndoError, WorkspaceError
from halfbore.store.place import Database, Place, place_of

if TYPE_CHECKING:
    from halfbore.store.workspace import Workspace

__all__ = [
    "Database",
    "Place",
    "StaleEditError",
    "UndoError",
    "Workspace",
    "WorkspaceError",
    "create",
    "move",
    "open",
    "place_of",
]


def create(path: Place, plant: str) -> Workspace:
    """Make a workspace for a plant.

    path: file that is not there yet, or a database without one; plant: its name. Returns it open. Raises InputError.
    """
    from halfbore.store.opening import create

    return create(path, plant)


def open(path: Place) -> Workspace:
    """Open a workspace; a file of an earlier version is copied beside and brought up to date first.

    Raises WorkspaceError for what is no workspace, is damaged, or was made by a newer version of the program.
    """
    from halfbore.store.opening import open_database, open_file

    return open_database(path) if isinstance(path, Database) else open_file(path)


def move(path: Path, database: Database) -> Workspace:
    """Write a workspace file, with all of its history, into a database that holds none.

    path: of the file, which stays as it is; database: where to. Returns it open. Raises WorkspaceError.
    """
    from halfbore.store.opening import move

    return move(path, database)


def __getattr__(name: str) -> Any:
    if name == "Workspace":
        from halfbore.store.workspace import Workspace

        return Workspace
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
