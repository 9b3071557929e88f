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


LONGEST = 120
"""Characters of what a database says that are told."""
RESTORE = "put a backup in its place; what is kept besides may still be read from a copy"


def damaged(what: str, where: str) -> WorkspaceError:
    """Return the error of a workspace that is not as this program left it. what: also of foreign words."""
    what = quoted(what)
    return WorkspaceError(Problem(f"the workspace is damaged: {what}", where, next_step=RESTORE))


def quoted(text: str) -> str:
    """Return words of a database as one short line: they may hold pieces of a damaged file."""
    line = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return line if len(line) <= LONGEST else line[: LONGEST - 1] + "…"
