"""A file of tables as it stands: every sheet with its cells, and what is odd of them; CSV is a book of one sheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from halfbore import limits
from halfbore.errors import InputError, Problem
from halfbore.intake.book_reader import DATE, ERROR, HOURS, LOST, PERCENT, TIME
from halfbore.intake.sheet_marks import column_letters
from halfbore.intake.tables import ENCODINGS, file_bytes, read_csv, run_child

__all__ = [
    "DATE",
    "DELIMITERS",
    "ERROR",
    "HOURS",
    "LOST",
    "PERCENT",
    "TIME",
    "Book",
    "Cell",
    "Page",
    "read_book",
]

Cell = str | float | bool
Place = tuple[int, int]
DELIMITERS = (",", ";", "\t", "|")
_SNIFFED = 200_000
"""Bytes that the encoding, and lines of them that the delimiter, are found from."""


@dataclass(frozen=True)
class Page:
    """One sheet. Rows and columns are counted from 0; name is empty for a CSV file.

    kinds: what a cell is besides a text, a number or a yes or no; formulas: cells that a formula stands in;
    merged: first row, first column, last row, last column of each merged range, whose first cell holds the value.
    """

    file: str
    name: str
    rows: tuple[tuple[Cell, ...], ...]
    hidden: bool = False
    kinds: dict[Place, str] = field(default_factory=dict)
    formulas: frozenset[Place] = frozenset()
    merged: tuple[tuple[int, int, int, int], ...] = ()
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()

    @property
    def place(self) -> str:
        """What a message calls the sheet."""
        return f"{self.file}, sheet {self.name!r}" if self.name else self.file

    def text(self, row: int, column: int, decimal: str = ".") -> str:
        """Return what a cell says as text; a number is written with the decimal sign."""
        cells = self.rows[row]
        cell = cells[column] if column < len(cells) else ""
        if isinstance(cell, str):
            return cell.strip()
        return _written(cell, self.kinds.get((row, column), ""), decimal)

    def covered(self) -> Iterator[tuple[Place, Place]]:
        """Yield every cell that a merged range covers, with the first cell of the range."""
        width = max(map(len, self.rows), default=0)
        for first_row, first_column, last_row, last_column in self.merged:
            for row in range(first_row, min(last_row, len(self.rows) - 1) + 1):
                for column in range(first_column, min(last_column + 1, width)):
                    if (row, column) != (first_row, first_column):
                        yield (row, column), (first_row, first_column)


@dataclass(frozen=True)
class Book:
    """A file of tables. serials: the origin of its day numbers, empty where the file does not tell it."""

    file: str
    pages: tuple[Page, ...]
    serials: str = ""
    encoding: str = ""
    delimiter: str = ""


def _written(cell: float | bool, kind: str, decimal: str) -> str:
    if isinstance(cell, bool):
        return "TRUE" if cell else "FALSE"
    number = f"{cell * 100 if kind == PERCENT else cell:.15g}".replace(".", decimal)
    return f"{number} %" if kind == PERCENT else f"{number} h" if kind == HOURS else number


def read_book(path: Path, encoding: str = "", delimiter: str = "") -> Book:
    """Read an XLSX file in a child process, or a CSV file.

    path: the file; encoding, delimiter: of a CSV file, found from it where they are not given.
    Raises InputError, LimitError.
    """
    if file_bytes(path, head=4) == b"PK\x03\x04" or path.suffix.casefold() in (".xlsx", ".xlsm"):
        answer = run_child("halfbore.intake.book_reader", path)
        return Book(path.name, tuple(_page(path.name, s) for s in answer["sheets"]), answer["serials"])
    data = file_bytes(path)
    encoding = encoding or _encoding(data)
    delimiter = delimiter or _delimiter(data[:_SNIFFED].decode(ENCODINGS[encoding], "ignore"))
    sheet = read_csv(path, encoding, delimiter, limits.CELL_LENGTH)
    if not any(any(row) for row in sheet.rows):
        raise InputError(Problem("there is nothing in the file", path.name))
    return Book(path.name, (Page(path.name, "", sheet.rows),), "", encoding, delimiter)


def _page(file: str, answer: dict[str, Any]) -> Page:
    return Page(
        file,
        answer["name"],
        tuple(tuple(row) for row in answer["rows"]),
        answer["hidden"],
        {(row, column): kind for row, column, kind in answer["kinds"]},
        frozenset((row, column) for row, column in answer["formulas"]),
        tuple((r0, c0, r1, c1) for r0, c0, r1, c1 in answer["merged"]),
        frozenset(answer["hidden_rows"]),
        frozenset(answer["hidden_columns"]),
    )


def _encoding(data: bytes) -> str:
    """Return the encoding that a file shows: a byte order mark, zeros in every second byte, UTF-8 that is sound."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "utf-16"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def _delimiter(text: str) -> str:
    """Return the character that parts the most lines into the same number of cells."""

    def worth(delimiter: str) -> tuple[float, int]:
        try:
            lines = [len(row) for row in csv.reader(io.StringIO(text), delimiter=delimiter) if any(row)]
        except csv.Error:
            return 0.0, 0
        wide = [n for n in lines if n > 1]
        if not wide:
            return 0.0, 0
        common = max(set(wide), key=wide.count)
        return wide.count(common) / len(lines), common

    return max(DELIMITERS, key=worth)


def column_name(number: int) -> str:
    """Return what a column without a heading is called, counted from 0."""
    return f"column {column_letters(number)}"
