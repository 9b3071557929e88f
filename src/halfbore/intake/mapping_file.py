"""A mapping file as plain data: what a catalogue's and a survey's have in common before either is understood."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from halfbore import limits
from halfbore.errors import InputError, LimitError, Problem


def mapping_text(path: Path) -> str:
    """Return the text of a mapping file. Raises InputError, LimitError where it cannot be read."""
    try:
        if path.stat().st_size > limits.MAPPING_SIZE:
            raise LimitError(Problem("the mapping file is too large", str(path), accepted="up to 1 MB"))
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        step = "check the name and the folder"
        raise InputError(Problem("no such mapping file", str(path), next_step=step)) from None
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(Problem(f"cannot be read: {error}", str(path), accepted="TOML in UTF-8")) from None


def mapping_data(text: str, name: str) -> dict[str, Any]:
    """Return the text of a mapping file as plain data. Raises InputError where it is no TOML."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # a number of thousands of digits is a ValueError
        raise InputError(Problem(f"is not TOML: {error}", name)) from None
