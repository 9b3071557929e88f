"""What can go wrong with a workspace, beside what can go wrong with anything that is read."""

from __future__ import annotations

from halfbore.errors import InputError, Problem


class WorkspaceError(InputError):
    """The file of a workspace cannot be used as it stands."""

    kind = "workspace"


class StaleEditError(InputError):
    """Somebody changed a thing since it was looked at."""

    kind = "stale edit"


class UndoError(InputError):
    """A batch cannot be taken back as things stand now."""

    kind = "undo"


RESTORE = "put a backup in its place; what is kept besides may still be read from a copy"


def damaged(what: str, where: str) -> WorkspaceError:
    """Return the error of a workspace that is not as this program left it."""
    return WorkspaceError(Problem(f"the workspace is damaged: {what}", where, next_step=RESTORE))
