"""The tables that a file holds, as far as they show: heading rows, columns, blanks, decimal sign, rows to skip."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from halfbore.errors import InputError, Problem
from halfbore.intake.body import Body, body_of
from halfbore.intake.book import Page, read_book
from halfbore.intake.layout import Layout, Table
from halfbore.intake.sheets import sheet_of
from halfbore.intake.survey.fold import folded
from halfbore.intake.tables import Sheet
from halfbore.intake.totals import NOTES, TOTALS, first_word

_BLANKS = ("-", "–", "—", "n/a", "N/A", "n.a.", "k.A.", "s.o.", "n.d.", ".", "/")
_NUMBER = re.compile(r"[-−+]?\d[\d.,  ]*(\s?\S{0,5})?|[-−+]?\d+[ -]\d+/\d+.*|\d+/\d+.*")
_COMMA, _POINT = re.compile(r"\d,\d"), re.compile(r"\d\.\d")
_THREE = re.compile(r"[-−]?\d{1,3}([.,]\d{3})+")
_LOOKED = 30
"""Rows from the top in which the headings are looked for."""


@dataclass(frozen=True)
class Found:
    """One table of a file.

    name: in the mapping, made from its sheet; layout: as it shows, encoding and delimiter empty for a workbook;
    decimal: the sign, `?` where the cells show two.
    """

    name: str
    layout: Layout
    decimal: str
    body: Body

    @property
    def headings(self) -> list[str]:
        """The headings that stand once, in their order."""
        return [heading for heading, column in self.body.headings.items() if column >= 0]

    def cells(self, heading: str) -> list[str]:
        """Return the cells of a column that say something."""
        return [cell for cell in self.body.column(heading) if cell and cell not in self.layout.blanks]


def tables_in(paths: Sequence[Path]) -> list[Found]:
    """Return the tables of the files, hidden sheets left out.

    Raises InputError where there is none, LimitError.
    """
    found: list[Found] = []
    for path in paths:
        book = read_book(path)
        for page in book.pages:
            if not page.hidden and (
                table := _found(page, book.encoding, book.delimiter, [f.name for f in found])
            ):
                found.append(table)
    if not found:
        names = ", ".join(path.name for path in paths)
        raise InputError(
            Problem("holds no table with a row of headings", names, accepted="headings above rows")
        )
    return found


def _found(page: Page, encoding: str, delimiter: str, taken: Iterable[str]) -> Found | None:
    shown = decimal_of(cell for row in page.rows for cell in row if isinstance(cell, str))
    decimal = "." if shown == "?" else shown
    sheet = sheet_of(page, decimal)
    header = header_of(sheet)
    if not header:
        return None
    layout = Layout(page.file, page.name, encoding, delimiter, decimal, header, ("",), skip_of(sheet, header))
    try:
        body = body_of(sheet, Table(layout))
    except InputError:
        return None
    cells = {cell for row in body.rows for cell in row}
    blanks = ("", *(blank for blank in _BLANKS if blank in cells))
    name = name_of(page.name or Path(page.file).stem, taken)
    return Found(name, replace(layout, blanks=blanks), shown, body)


def name_of(text: str, taken: Iterable[str]) -> str:
    """Return a name for a table, made from a text, that is not taken."""
    base = re.sub(r"[^a-z0-9]+", "-", folded(text).encode("ascii", "ignore").decode()).strip("-")
    base = base if base[:1].isalpha() else f"table-{base}".rstrip("-")
    names = [base, *(f"{base}-{n}" for n in range(2, 1000))]
    return next(name for name in names if name not in set(taken))


def looks_like_a_number(cell: str) -> bool:
    """Return whether a cell holds a number, alone or with a short unit."""
    return bool(_NUMBER.fullmatch(cell.strip()))


def header_of(sheet: Sheet) -> tuple[int, ...]:
    """Return the rows of the headings, counted from 1: the first wide row of different texts, and a second below it.

    Empty where no row looks like headings.
    """
    filled = [[cell for cell in row if cell.strip()] for row in sheet.rows[:_LOOKED]]
    width = max((len(set(cells)) for cells in filled), default=0)
    for i, cells in enumerate(filled[:-1]):
        if len(set(cells)) < max(2, 0.6 * width) and not _groups(filled, i, width):
            continue
        if _texts(cells) < 0.8:
            continue
        grouped = len(set(cells)) < len(cells) and _texts(filled[i + 1]) >= 0.8 and i + 2 < len(filled)
        return (i + 1, i + 2) if grouped or _goes_on(sheet, i) else (i + 1,)
    return ()


def _goes_on(sheet: Sheet, i: int) -> bool:
    """Whether the row below the headings goes on with them, as units do: no number in it, above columns of numbers."""
    below = sheet.rows[i + 2 : i + 2 + _LOOKED]
    cells = {c: cell.strip() for c, cell in enumerate(sheet.rows[i + 1]) if cell.strip()}
    if not below or any(looks_like_a_number(cell) for cell in cells.values()):
        return False
    said = [c for c, cell in cells.items() if cell not in _BLANKS]
    return sum(_of_numbers(row[c] for row in below if c < len(row)) for c in said) > 1


def _of_numbers(cells: Iterable[str]) -> bool:
    filled = [cell for cell in cells if cell.strip() not in ("", *_BLANKS)]
    return bool(filled) and _texts(filled) < 0.5


def _groups(filled: list[list[str]], i: int, width: int) -> bool:
    """Whether a row holds headings of groups: texts that repeat, over a row of different texts."""
    cells, below = filled[i], filled[i + 1]
    return (
        2 <= len(set(cells)) < len(cells)
        and len(cells) >= 0.6 * width <= len(set(below))
        and _texts(below) >= 0.8
    )


def _texts(cells: list[str]) -> float:
    """Return the part of cells that are no numbers."""
    return sum(not looks_like_a_number(cell) for cell in cells) / len(cells) if cells else 0.0


def skip_of(sheet: Sheet, header: tuple[int, ...]) -> tuple[str, ...]:
    """Return the words that rows without a unit begin with: totals and notes."""
    firsts = (next((c.strip() for c in row if c.strip()), "") for row in sheet.rows[max(header) :])
    words = (first_word(first, TOTALS | NOTES) for first in firsts)
    return tuple(dict.fromkeys(word for word in words if word))


def decimal_of(cells: Iterable[str]) -> str:
    """Return the decimal sign that the cells show, `?` where they show both or a sign that may part thousands."""
    numbers = [cell for cell in cells if looks_like_a_number(cell)]
    signs: Counter[str] = Counter()
    for cell in numbers:
        if not _THREE.fullmatch(cell):
            signs.update({",": bool(_COMMA.search(cell)), ".": bool(_POINT.search(cell))})
    unsure = any(_THREE.fullmatch(cell) for cell in numbers)
    comma, point = signs[","], signs["."]
    if comma and point:
        return "?"
    if comma or point:
        return "," if comma else "."
    return "?" if unsure else "."
