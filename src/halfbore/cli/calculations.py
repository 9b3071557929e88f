"""The command `calc`: reads the input, runs one calculation, shows the answer."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from halfbore import calc
from halfbore.cli import show
from halfbore.errors import InputError, LimitError, Problem
from halfbore.present.plain import to_json

MOST_TEXT = 1_000_000
"""Characters of an input."""


def listing(as_json: bool) -> None:
    """Show every calculation by section."""
    if as_json:
        show.document(
            to_json(
                {section: [entry.name for entry in entries] for section, entries in calc.SECTIONS.items()}
            )
        )
        return
    for section, entries in calc.SECTIONS.items():
        show.heading(section)
        show.line("  ".join(entry.name for entry in entries))
    show.line()
    show.line("halfbore calc NAME --schema    what it takes")
    show.line("halfbore calc NAME --example   an input to start from")


def schema(name: str) -> None:
    """Print the JSON schema of a calculation's input."""
    show.document(to_json(calc.schema(name)))


def example(name: str) -> None:
    """Print an input that the calculation answers."""
    show.document(to_json(calc.example(name)))


def answer(name: str, given: Sequence[str], working: bool, as_json: bool) -> None:
    """Run a calculation and show its answer. Raises InputError."""
    from halfbore.cli import show_calc

    calc.description(name)  # a wrong name is told before a wrong file
    found = calc.calculate(name, _data(given, name))
    if as_json:
        show.document(to_json(show_calc.as_data(found)))
    else:
        show_calc.answer(found, working)


def _data(given: Sequence[str], name: str) -> Any:
    """Return the input from a file, from stdin or from NAME=VALUE pairs."""
    if not given:
        step = f"halfbore calc {name} --example > input.json makes one to start from"
        raise InputError(
            Problem("no input was given", name, accepted="a JSON file, - or NAME=VALUE", next_step=step)
        )
    if all("=" in text for text in given) and not Path(given[0]).is_file():
        return {key.strip(): _bare(value) for key, _, value in (text.partition("=") for text in given)}
    if len(given) > 1:
        raise InputError(Problem("one file or NAME=VALUE pairs", name, " ".join(given)[:64]))
    return input_of(given[0])


def _bare(value: str) -> Any:
    """Return a number or true or false where that is written, else the text."""
    try:
        found = json.loads(value)
    except ValueError:
        return value
    return found if isinstance(found, int | float) else value


def _text(source: str) -> str:
    try:
        text = sys.stdin.read(MOST_TEXT + 1) if source == "-" else _file(Path(source))
    except (OSError, UnicodeDecodeError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is no UTF-8 text"
        raise InputError(
            Problem(f"cannot be read: {reason}", source, accepted="a JSON file in UTF-8")
        ) from None
    if len(text) > MOST_TEXT:
        raise LimitError(Problem("the input is too large", source, accepted=f"up to {MOST_TEXT} characters"))
    return text


def _file(path: Path) -> str:
    with path.open(encoding="utf-8-sig") as file:
        return file.read(MOST_TEXT + 1)


def input_of(source: str) -> Any:
    """Return the plain data of a JSON file, or of stdin for `-`. Raises InputError with the line."""
    text = _text(source)
    try:
        return json.loads(text)
    except (ValueError, RecursionError) as error:
        raise InputError(
            Problem(f"is not JSON: {error}", source, next_step="text stands in double quotes")
        ) from None
