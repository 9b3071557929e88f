"""Records as text for a terminal or a plain 80-column pipe: headings, tables, steps, answers."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from io import StringIO
from shutil import get_terminal_size

from rich import box
from rich.console import Console, RenderableType
from rich.table import Table
from rich.text import Text

from halfbore.cli.commands import ReaderGone

PLAIN_WIDTH = 80
"""Columns where nobody says how wide the terminal is."""


def _console() -> Console:
    """Return a console that writes into memory; without markup, so that no text of a user is read as style."""
    to_screen = sys.stdout.isatty()
    width = get_terminal_size().columns if to_screen else PLAIN_WIDTH
    return Console(
        file=StringIO(), width=width, force_terminal=to_screen, markup=False, highlight=False, emoji=False
    )


def line(text: str = "") -> None:
    """Write a paragraph."""
    _write(text)


def question(path: str, text: str) -> None:
    """Write what looks odd in a value, and asks to be looked at."""
    line(f"Please look at {path}: {text}{'' if text.endswith('?') else '.'}")


def heading(text: str) -> None:
    """Write a heading with an empty line before it."""
    document("")
    _write(Text(text, style="bold"))


def _write(what: RenderableType) -> None:
    """Write without spaces at the ends of lines, which a pipe would keep."""
    console = _console()
    console.print(what)
    text = console.file.getvalue()  # type: ignore[attr-defined]
    document("\n".join(line.rstrip() for line in text.removesuffix("\n").split("\n")))


def table(
    heads: Sequence[str], rows: Iterable[Sequence[str]], right: Sequence[int] = (), title: str = ""
) -> None:
    """Write a table.

    heads: a head for each column; rows: texts; right: numbers of the columns that stand to the right.
    """
    grid = Table(
        box=box.SIMPLE_HEAD, title=title or None, title_justify="left", pad_edge=False, show_edge=False
    )
    for i, head in enumerate(heads):
        grid.add_column(head, justify="right" if i in right else "left", overflow="fold")
    for row in rows:
        grid.add_row(*row)
    _write(grid)


def pairs(rows: Iterable[tuple[str, str]]) -> None:
    """Write names and what belongs to them, side by side."""
    grid = Table.grid(padding=(0, 2))
    grid.add_column(overflow="fold")
    grid.add_column(overflow="fold")
    for name, text in rows:
        grid.add_row(name, text)
    _write(grid)


def document(text: str) -> None:
    """Write a document as it stands, not broken into lines. Raises ReaderGone."""
    try:
        sys.stdout.write(text + "\n")
    except BrokenPipeError:
        raise ReaderGone from None
