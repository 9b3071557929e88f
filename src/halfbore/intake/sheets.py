"""The sheets that a mapping names, as text: each file read once, cells without a usable value marked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from halfbore.errors import InputError, Problem
from halfbore.intake.book import ERROR, LOST, Book, Page, read_book
from halfbore.intake.layout import Layout, Table
from halfbore.intake.tables import Sheet, checked

_FAULTS = {LOST: "is a formula without a stored value", ERROR: "is an error of the spreadsheet"}


@dataclass(frozen=True)
class MarkedSheet(Sheet):
    """A sheet of a workbook.

    faults: row and column → why that cell has no value; remarks: what is used as it stands although it is odd.
    """

    faults: dict[tuple[int, int], str] = field(default_factory=dict)
    remarks: tuple[str, ...] = ()


def sheets_of(tables: dict[str, Table], folder: Path) -> dict[str, Sheet]:
    """Return the sheet of each table.

    tables: of a mapping; folder: where their files stand. Raises InputError, LimitError.
    """
    books: dict[tuple[str, str, str], Book] = {}
    sheets: dict[tuple[str, ...], Sheet] = {}
    found = {}
    for name, table in tables.items():
        layout = table.layout
        file = (layout.file, layout.encoding, layout.delimiter)
        if file not in books:
            books[file] = read_book(folder / layout.file, layout.encoding, layout.delimiter)
        key = (*file, layout.sheet, layout.decimal)
        if key not in sheets:
            sheets[key] = sheet_of(_page(books[file], layout), layout.decimal)
        found[name] = sheets[key]
    return found


def _page(book: Book, layout: Layout) -> Page:
    """Return the page that a layout names, the first where it names none."""
    if not layout.sheet and book.pages:
        return book.pages[0]
    for page in book.pages:
        if page.name == layout.sheet:
            return page
    names = ", ".join(page.name for page in book.pages)
    raise InputError(Problem("no such sheet", book.file, layout.sheet, f"one of: {names}"))


def sheet_of(page: Page, decimal: str = ".") -> Sheet:
    """Return a page as text, a merged range with its value in each of its cells.

    Raises LimitError when it is too large, or a cell too long.
    """
    rows = [[page.text(r, c, decimal) for c in range(len(row))] for r, row in enumerate(page.rows)]
    for (row, column), (first_row, first_column) in page.covered():
        if first_column < len(rows[first_row]):
            rows[row].extend("" for _ in range(column + 1 - len(rows[row])))
            rows[row][column] = rows[first_row][first_column]
    faults = {place: _FAULTS[kind] for place, kind in page.kinds.items() if kind in _FAULTS}
    cells = tuple(tuple(row) for row in rows)
    return checked(MarkedSheet(page.place, cells, faults, tuple(_remarks(page))))


def _remarks(page: Page) -> Iterator[str]:
    if page.formulas:
        yield f"{page.place}: cells with a formula, read by their stored value: {len(page.formulas)}"
    below = [merged for merged in page.merged if merged[2] > merged[0]]
    if below:
        rows = ", ".join(f"{first + 1} to {last + 1}" for first, _, last, _ in below[:8])
        yield f"{page.place}: cells merged over rows {rows}, each read as the value that shows"
    if page.hidden_rows:
        yield f"{page.place}: hidden rows, read like any other: {len(page.hidden_rows)}"
