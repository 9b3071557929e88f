"""Read one sheet of an XLSX file; runs as a child process, so that a hostile file can do no harm.

Run as `python -m halfbore.intake.workbook FILE SHEET DECIMAL`: prints one JSON document, rows or a problem.
"""

from __future__ import annotations

import json
import struct
import sys
import zipfile
import zlib
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import IO

import python_calamine

from halfbore import limits
from halfbore.errors import InputError, LimitError, Problem

Rows = list[list[str]]


def rows_of(path: Path, sheet: str, decimal: str = ".") -> tuple[str, Rows]:
    """Return the name and the rows of one sheet as text, merged cells filled with what they show.

    path: XLSX file; sheet: its name, empty for the first; decimal: the sign that numbers are written with.
    Raises InputError, LimitError.
    """
    refuse_hostile(path)
    try:
        book = python_calamine.load_workbook(str(path))
        name = sheet or book.sheet_names[0]
        if name not in book.sheet_names:
            names = ", ".join(book.sheet_names)
            raise InputError(Problem("no such sheet", path.name, name, f"one of: {names}"))
        found = book.get_sheet_by_name(name)
    except (python_calamine.CalamineError, python_calamine.PasswordError, OSError) as error:
        raise InputError(Problem(f"is no readable workbook: {error}", path.name, accepted="XLSX")) from None
    last_row, last_column = found.end or (0, 0)
    if last_row >= limits.ROWS or last_column >= limits.COLUMNS:
        size = f"{last_row + 1} rows, {last_column + 1} columns"
        most = f"up to {limits.ROWS} rows and {limits.COLUMNS} columns"
        raise LimitError(Problem("the sheet is too large", f"{path.name}, sheet {name!r}", size, most))
    rows = [[_text(cell, decimal) for cell in row] for row in found.to_python(skip_empty_area=False)]
    for first, last in found.merged_cell_ranges or ():
        _fill(rows, first, last)
    return name, rows


def _text(cell: object, decimal: str) -> str:
    if isinstance(cell, bool):
        return "TRUE" if cell else "FALSE"
    if isinstance(cell, int | float):
        return f"{cell:.15g}".replace(".", decimal)
    if isinstance(cell, date | datetime | time):
        return cell.isoformat()
    if isinstance(cell, timedelta):
        return f"{cell.total_seconds() / 3600:.15g} h"
    return str(cell)


def _fill(rows: Rows, first: tuple[int, int], last: tuple[int, int]) -> None:
    """Write the text of the first cell of a merged range into all of its cells."""
    for row in rows[first[0] : last[0] + 1]:
        for column in range(first[1], min(last[1] + 1, len(row))):
            row[column] = rows[first[0]][first[1]]


def refuse_hostile(path: Path) -> None:
    """Inflate every member of a workbook, counting, and refuse what is too large or defines entities.

    The sizes that the directory of a ZIP file states may be lies, so nothing rests on them.
    Raises InputError, LimitError.
    """
    unpacked = 0
    try:
        with zipfile.ZipFile(path) as archive, path.open("rb") as file:
            members = archive.infolist()
            if len(members) > limits.MEMBERS:
                raise LimitError(Problem("holds too many files", path.name, str(len(members))))
            for member in members:
                before = b""
                for piece in inflated(file, member):
                    unpacked += len(piece)
                    if unpacked > limits.UNPACKED_SIZE:
                        most = f"up to {limits.UNPACKED_SIZE / 1e6:.0f} MB"
                        raise LimitError(Problem("is too large when unpacked", path.name, accepted=most))
                    if b"<!DOCTYPE" in before[-9:] + piece:
                        raise InputError(Problem("defines XML entities", path.name, accepted="plain XLSX"))
                    before = piece
    except (zipfile.BadZipFile, zlib.error, struct.error, OSError, NotImplementedError) as error:
        raise InputError(Problem(f"is no readable workbook: {error}", path.name, accepted="XLSX")) from None


def inflated(file: IO[bytes], member: zipfile.ZipInfo) -> Iterator[bytes]:
    """Yield what one member holds, piece by piece."""
    file.seek(member.header_offset)
    name, extra = struct.unpack("<26xHH", file.read(30))
    file.seek(name + extra, 1)
    left = member.compress_size
    inflater = zlib.decompressobj(-zlib.MAX_WBITS)
    while left > 0 and (packed := file.read(min(left, 65536))):
        left -= len(packed)
        if member.compress_type == zipfile.ZIP_STORED:
            yield packed
            continue
        if member.compress_type != zipfile.ZIP_DEFLATED:
            raise NotImplementedError("packed in an unusual way")
        while packed:
            yield inflater.decompress(packed, 1_000_000)
            packed = inflater.unconsumed_tail


def limit_memory() -> None:
    """Limit the memory of this process to what reading one workbook may take."""
    try:
        import resource  # not on every platform; the time limit of the parent holds everywhere
    except ImportError:
        return
    resource.setrlimit(resource.RLIMIT_AS, (limits.READ_MEMORY, limits.READ_MEMORY))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def _main(file: str, sheet: str, decimal: str) -> None:
    limit_memory()
    try:
        name, rows = rows_of(Path(file), sheet, decimal)
        answer: dict[str, object] = {"name": name, "rows": rows}
    except InputError as error:
        answer = error.as_dict()
    json.dump(answer, sys.stdout)


if __name__ == "__main__":
    _main(*sys.argv[1:4])
