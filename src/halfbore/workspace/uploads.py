"""Files that came as bytes: kept under a name of ours, read in the child process, spoken of by their own name."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from halfbore import limits
from halfbore.errors import InputError, LimitError, Problem
from halfbore.intake.book import Book, read_book

WORKBOOK, TEXT = ".xlsx", ".csv"
_ZIP = b"PK\x03\x04"
LONGEST_NAME = 120


def kept(folder: Path, number: int, data: bytes) -> Path:
    """Keep a file under a number in a folder, and return it; its kind shows in what it holds.

    Raises LimitError for one that is too large, InputError for an empty one.
    """
    if len(data) > limits.FILE_SIZE:
        most = f"up to {limits.FILE_SIZE / 1e6:.0f} MB"
        raise LimitError(Problem("the file is too large", "file", f"{len(data) / 1e6:.1f} MB", most))
    if not data:
        step = "choose a file"
        raise InputError(
            Problem("there is no file, or nothing in it", "file", accepted="CSV, XLSX", next_step=step)
        )
    path = folder / f"{number}{WORKBOOK if data.startswith(_ZIP) else TEXT}"
    path.write_bytes(data)
    return path


def book_from(data: bytes, name: str, encoding: str = "", delimiter: str = "") -> Book:
    """Return the book that the bytes of a file hold, in the name that it came with. Raises InputError, LimitError."""
    with TemporaryDirectory(prefix="halfbore-") as folder:
        return book_of(kept(Path(folder), 1, data), name, encoding, delimiter)


def shown_name(name: str) -> str:
    """Return the name of an upload as text of one line; it never names anything but itself."""
    last = name.replace("\\", "/").rpartition("/")[2]
    plain = "".join(c if c.isprintable() else " " for c in last).strip()
    return plain[-LONGEST_NAME:] or "file"


def book_of(path: Path, name: str, encoding: str = "", delimiter: str = "") -> Book:
    """Return the book of a file that is kept, in the name that it came with. Raises InputError, LimitError."""
    try:
        book = read_book(path, encoding, delimiter)
    except InputError as error:
        raise type(error)(_renamed(error.problems, path.name, name)) from None
    return replace(book, file=name, pages=tuple(replace(page, file=name) for page in book.pages))


def _renamed(problems: Iterable[Problem], ours: str, theirs: str) -> list[Problem]:
    return [replace(problem, where=problem.where.replace(ours, theirs)) for problem in problems]
