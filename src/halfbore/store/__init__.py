"""The workspace: one file that keeps a plant, its history, results, catalogues and documents.

Light to import: the database library is loaded when a workspace is made or opened.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from halfbore.store.errors import StaleEditError, UndoError, WorkspaceError

if TYPE_CHECKING:
    from halfbore.store.workspace import Workspace

__all__ = ["StaleEditError", "UndoError", "Workspace", "WorkspaceError", "create", "open"]


def create(path: Path, plant: str) -> Workspace:
    """Make a workspace for a plant.

    path: file that is not there yet; plant: its name. Returns it open. Raises InputError.
    """
    from halfbore.store.opening import create

    return create(path, plant)


def open(path: Path) -> Workspace:
    """Open a workspace; one of an earlier version is copied beside and brought up to date first.

    Raises WorkspaceError for what is no workspace, is damaged, or was made by a newer version of the program.
    """
    from halfbore.store.opening import open_file

    return open_file(path)


def __getattr__(name: str) -> Any:
    if name == "Workspace":
        from halfbore.store.workspace import Workspace

        return Workspace
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
