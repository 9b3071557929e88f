"""Records as text for a terminal or a plain 80-column pipe: headings, tables, steps, answers."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from functools import cache

from rich import box
from rich.console import Console, RenderableType
from rich.table import Table
from rich.text import Text

PLAIN_WIDTH = 80
"""Columns where nobody says how wide the terminal is."""


@cache
def console() -> Console:
    """Return the console that writes to stdout; without markup, so that no text of a user is read as style."""
    width = None if sys.stdout.isatty() else PLAIN_WIDTH
    return Console(width=width, markup=False, highlight=False, emoji=False, soft_wrap=False)


def line(text: str = "") -> None:
    """Write a paragraph."""
    _write(text)


def heading(text: str) -> None:
    """Write a heading with an empty line before it."""
    document("")
    _write(Text(text, style="bold"))


def _write(what: RenderableType) -> None:
    """Write without spaces at the ends of lines, which a pipe would keep."""
    with console().capture() as got:
        console().print(what)
    document("\n".join(text.rstrip() for text in got.get().removesuffix("\n").split("\n")))


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
    """Write a document as it stands, not broken into lines."""
    sys.stdout.write(text + "\n")
