"""Tables of other people as text: CSV in the encodings that are met, and XLSX read in a child process."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Any

from halfbore import limits
from halfbore.errors import InputError, LimitError, Problem

ENCODINGS = {"utf-8": "utf-8-sig", "cp1252": "cp1252", "utf-16": "utf-16"}
"""Encodings as a mapping names them → as Python reads them; the first takes a byte order mark or none."""
_FORMULA_STARTS = ("'=", "'+", "'-", "'@", "'\t", "'\r")


@dataclass(frozen=True)
class Sheet:
    """One table of text cells; name is what a message calls it. Rows may differ in length."""

    name: str
    rows: tuple[tuple[str, ...], ...]

    def place(self, row: int, heading: str = "") -> str:
        """Return where a row stands, counted from 1 as a spreadsheet does, and in which column."""
        column = f", column {heading!r}" if heading else ""
        return f"{self.name}, row {row + 1}{column}"


def read_csv(path: Path, encoding: str = "utf-8", delimiter: str = ",", longest: int | None = None) -> Sheet:
    """Read a CSV file.

    path: the file; encoding: utf-8 (with or without byte order mark), cp1252, utf-16; delimiter: a character;
    longest: characters of a cell, limits.TEXT_LENGTH where none are given.
    Returns its cells as text. Raises InputError, LimitError.
    """
    data = file_bytes(path)
    try:
        text = data.decode(ENCODINGS[encoding])
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        accepted = ", ".join(ENCODINGS)
        raise InputError(
            Problem("a byte is no text in this encoding", f"{path.name}, line {line}", encoding, accepted)
        ) from None
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        rows = [tuple(_unguarded(cell) for cell in row) for row in islice(reader, limits.ROWS + 1)]
    except csv.Error as error:
        raise InputError(Problem(f"is no CSV: {error}", f"{path.name}, line {reader.line_num}")) from None
    return checked(Sheet(path.name, tuple(rows)), longest)


def _unguarded(cell: str) -> str:
    """Return the cell without the apostrophe that keeps a spreadsheet from running it as a formula."""
    return cell[1:] if cell.startswith(_FORMULA_STARTS) else cell


def read_xlsx(path: Path, sheet: str = "", decimal: str = ".") -> Sheet:
    """Read one sheet of an XLSX file in a child process with limits of memory and time.

    path: the file; sheet: its name, empty for the first; decimal: the sign that numbers are written with.
    Returns its cells as text, merged cells filled. Raises InputError, LimitError.
    """
    answer = run_child("halfbore.intake.workbook", path, sheet, decimal)
    name = f"{path.name}, sheet {answer['name']!r}"
    return checked(Sheet(name, tuple(tuple(row) for row in answer["rows"])))


def run_child(module: str, path: Path, *arguments: str) -> Any:
    """Run a reader of workbooks as a child process with limits of memory and time, and return its answer.

    module: to be run with the path and the arguments; it prints one JSON document.
    Raises InputError, LimitError: those of the child, and where it did not come to an end.
    """
    file_bytes(path, head=1)
    command = [sys.executable, "-P", "-m", module, str(path.resolve()), *arguments]
    try:
        child = subprocess.run(command, capture_output=True, timeout=limits.READ_SECONDS, check=False)
        answer = json.loads(child.stdout) if child.returncode == 0 else None
    except subprocess.TimeoutExpired:
        answer = None
    if answer is None:
        raise LimitError(Problem("cannot be read within the limits of memory and time", path.name))
    if "error" in answer:
        fault = LimitError if answer["error"] == LimitError.kind else InputError
        raise fault(Problem(**problem) for problem in answer["problems"])
    return answer


def file_bytes(path: Path, head: int = -1) -> bytes:
    """Return the content of a file, or its first bytes; refuse one that is missing or too large."""
    try:
        if path.stat().st_size > limits.FILE_SIZE:
            raise LimitError(
                Problem("the file is too large", path.name, accepted=f"up to {limits.FILE_SIZE / 1e6:.0f} MB")
            )
        with path.open("rb") as file:
            return file.read(head)
    except FileNotFoundError:
        raise InputError(
            Problem("no such file", str(path), next_step="check the name and the folder")
        ) from None
    except OSError as error:
        raise InputError(Problem(f"cannot be read: {error.strerror}", str(path))) from None


def checked(sheet: Sheet, longest: int | None = None) -> Sheet:
    """Return the sheet when its rows, columns and cells are within the limits.

    longest: characters of a cell, limits.TEXT_LENGTH where none are given. Raises LimitError.
    """
    longest = limits.TEXT_LENGTH if longest is None else longest
    if len(sheet.rows) > limits.ROWS:
        raise LimitError(Problem("too many rows", sheet.name, accepted=f"up to {limits.ROWS}"))
    if sum(map(len, sheet.rows)) > limits.CELLS:
        raise LimitError(Problem("too many cells", sheet.name, accepted=f"up to {limits.CELLS}"))
    for i, row in enumerate(sheet.rows):
        if len(row) > limits.COLUMNS:
            most = f"up to {limits.COLUMNS}"
            raise LimitError(Problem("too many columns", sheet.place(i), str(len(row)), most))
        if any(len(cell) > longest for cell in row):
            long = next(j for j, cell in enumerate(row) if len(cell) > longest)
            most = f"up to {longest} characters"
            raise LimitError(Problem("the cell is too long", sheet.place(i, str(long + 1)), accepted=most))
    return sheet
