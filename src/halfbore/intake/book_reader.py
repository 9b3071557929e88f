"""Read every sheet of an XLSX file as it stands; runs as a child process, so that a hostile file can do no harm.

Run as `python -m halfbore.intake.book_reader FILE`: prints one JSON document, the sheets or a problem.
"""

from __future__ import annotations

import json
import sys
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import python_calamine

from halfbore import limits
from halfbore.errors import InputError, LimitError, Problem
from halfbore.intake.sheet_marks import Marks, marks_of
from halfbore.intake.workbook import limit_memory, refuse_hostile

DATE, TIME, HOURS, PERCENT, ERROR, LOST = "date", "time", "hours", "percent", "error", "lost"
"""What a cell is besides a text, a number or a yes or no; LOST is a formula without a stored value."""


def sheets_of(path: Path) -> dict[str, Any]:
    """Return the sheets of a workbook as plain data: rows of texts, numbers, truths, and what is odd of them.

    path: XLSX file. Raises InputError, LimitError.
    """
    refuse_hostile(path)
    serials, marks = marks_of(path)
    try:
        book = python_calamine.load_workbook(str(path))
        sheets, cells = [], 0
        for about in book.sheets_metadata:
            if about.typ != python_calamine.SheetTypeEnum.WorkSheet:
                continue
            found = book.get_sheet_by_name(about.name)
            last_row, last_column = found.end or (0, 0)
            cells += (last_row + 1) * (last_column + 1)
            _refuse_large(path, about.name, last_row, last_column, cells)
            _refuse_merged(path, found)
            sheet = _plain(found, marks.get(about.name, Marks()))
            hidden = about.visible != python_calamine.SheetVisibleEnum.Visible
            sheets.append({"name": about.name, "hidden": hidden, **sheet})
    except (python_calamine.CalamineError, python_calamine.PasswordError, OSError) as error:
        raise InputError(Problem(f"is no readable workbook: {error}", path.name, accepted="XLSX")) from None
    return {"serials": serials, "sheets": sheets}


def _refuse_large(path: Path, name: str, last_row: int, last_column: int, cells: int) -> None:
    if last_row >= limits.ROWS or last_column >= limits.COLUMNS or cells > limits.CELLS:
        size = f"{last_row + 1} rows, {last_column + 1} columns"
        most = f"up to {limits.ROWS} rows and {limits.COLUMNS} columns, {limits.CELLS} cells in all"
        raise LimitError(Problem("the sheet is too large", f"{path.name}, sheet {name!r}", size, most))


def _refuse_merged(path: Path, found: python_calamine.CalamineSheet) -> None:
    """Refuse merged ranges that cover more of the sheet than people merge."""
    last_row, last_column = found.end or (0, 0)
    ranges = found.merged_cell_ranges or ()
    covered = sum(
        max(0, min(r1, last_row) - r0 + 1) * max(0, min(c1, last_column) - c0 + 1)
        for (r0, c0), (r1, c1) in ranges
    )
    if covered > limits.MERGED:
        place, most = f"{path.name}, sheet {found.name!r}", f"up to {limits.MERGED} cells"
        raise LimitError(Problem("too many merged cells", place, str(covered), most))


def _plain(found: python_calamine.CalamineSheet, marks: Marks) -> dict[str, Any]:
    kinds: dict[tuple[int, int], str] = {}
    rows = [
        [_cell(cell, (r, c), kinds) for c, cell in enumerate(row)]
        for r, row in enumerate(found.to_python(skip_empty_area=False))
    ]
    for place, text in marks.errors.items():
        _set(rows, place, text or "an error")
        kinds[place] = ERROR
    for r, c in marks.formulas - marks.empty - marks.errors.keys():
        if r >= len(rows) or c >= len(rows[r]) or rows[r][c] == "":
            kinds[r, c] = LOST
            _set(rows, (r, c), "")
    for r, c in marks.percents:
        if r < len(rows) and c < len(rows[r]) and isinstance(rows[r][c], float | int):
            kinds[r, c] = PERCENT
    return {
        "rows": rows,
        "kinds": [[r, c, kind] for (r, c), kind in sorted(kinds.items())],
        "formulas": sorted(marks.formulas),
        "merged": [[*first, *last] for first, last in found.merged_cell_ranges or ()],
        "hidden_rows": marks.hidden_rows,
        "hidden_columns": marks.hidden_columns,
    }


def _set(rows: list[list[Any]], place: tuple[int, int], text: str) -> None:
    """Put a text where the reader gave none, past the end of the rows as well."""
    row, column = place
    if row < limits.ROWS and column < limits.COLUMNS:
        rows.extend([] for _ in range(row + 1 - len(rows)))
        rows[row].extend("" for _ in range(column + 1 - len(rows[row])))
        rows[row][column] = text


def _cell(cell: Any, place: tuple[int, int], kinds: dict[tuple[int, int], str]) -> str | float | bool:
    if isinstance(cell, str | bool | float | int):
        return cell
    if isinstance(cell, timedelta):
        kinds[place] = HOURS
        return cell.total_seconds() / 3600
    if isinstance(cell, time):
        kinds[place] = TIME
        return cell.isoformat()
    kinds[place] = DATE
    if isinstance(cell, datetime) and cell.time() == time():
        cell = cell.date()
    assert isinstance(cell, date)
    return cell.isoformat()


def _main(file: str) -> None:
    limit_memory()
    try:
        answer = sheets_of(Path(file))
    except InputError as error:
        answer = error.as_dict()
    json.dump(answer, sys.stdout)


if __name__ == "__main__":
    _main(sys.argv[1])
