"""Files that are written beside and then replaced, so that nobody ever reads half a document."""

from __future__ import annotations

import os
import re
from contextlib import suppress
from pathlib import Path

from halfbore.errors import InputError, Problem

LONGEST = 80
"""Characters of a name."""


def file_name(text: str) -> str:
    """Return a name or a tag as the name of a file on any system: letters, digits, points, hyphens, low lines."""
    kept = re.sub(r"[^\w.-]+", "-", text).strip(".-")
    return kept[:LONGEST] or "unnamed"


def replace_file(path: Path, content: bytes) -> Path:
    """Write a file beside its place, then put it there in one step.

    path: where it shall stand; content: all of it. Returns the path. InputError when the place cannot be written.
    """
    beside = path.with_name(f".{path.name[:60]}.{os.getpid()}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with beside.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as error:
        with suppress(OSError):
            beside.unlink()
        step = "close it where it is open, or choose another place"
        raise InputError(Problem(f"cannot be written: {error.strerror}", str(path), next_step=step)) from None
    return path
