"""Write the rows that were rejected as a workbook that can be mended and imported with the same mapping."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import xlsxwriter

from halfbore.domain.survey import Reject, SurveyReading
from halfbore.domain.survey_layout import MARKER, PATHS_ROW, WRONG
from halfbore.errors import InputError, Problem
from halfbore.intake.survey.mapping import SurveyMapping, Table

_ANY_SHEET = "survey"
"""Name of the sheet for the rows of a CSV file; the mapping takes the first sheet."""
_OPTIONS = {
    "strings_to_formulas": False,
    "strings_to_numbers": False,
    "strings_to_urls": False,
    "in_memory": True,
}


def write_rejects(path: Path, reading: SurveyReading, mapping: SurveyMapping) -> int:
    """Write the rejected rows of a survey, every cell as text, with what was wrong in one more column.

    path: XLSX file to be written, replaced where it is there; reading, mapping: those that the rows come from.
    Returns how many rows were written. Raises InputError when the file cannot be written.
    """
    beside = path.with_name(f"{path.name}.part")
    try:
        with xlsxwriter.Workbook(str(beside), _OPTIONS) as book:
            text = book.add_format({"num_format": "@"})
            tables = {table.sheet: table for table in mapping.tables}
            for name in dict.fromkeys(reject.sheet for reject in reading.rejects):
                rows = [reject for reject in reading.rejects if reject.sheet == name]
                table = tables.get(name, mapping.tables[0])
                _write(book.add_worksheet(name or _ANY_SHEET), rows, table, mapping.own, text)
            if not reading.rejects:
                book.add_worksheet(_ANY_SHEET)
        beside.replace(path)
    except (OSError, xlsxwriter.exceptions.XlsxFileError) as error:
        beside.unlink(missing_ok=True)
        raise InputError(Problem(f"cannot be written: {error}", str(path))) from None
    return len(reading.rejects)


def _write(sheet: Any, rows: list[Reject], table: Table, own: bool, text: Any) -> None:
    top = max(table.header)
    headings = [h for h in rows[0].headings if h.casefold() != WRONG]
    places = [i for i, h in enumerate(rows[0].headings) if h.casefold() != WRONG]
    if own:
        paths = {column.heading: column.path for column in table.columns}
        sheet.write_string(0, 0, MARKER, text)
        _line(sheet, PATHS_ROW - 1, [paths.get(heading, "") for heading in headings], text)
    _line(sheet, top - 1, [*headings, WRONG], text)
    for number, reject in enumerate(rows, top):
        cells = [reject.cells[i] if i < len(reject.cells) else "" for i in places]
        _line(sheet, number, [*cells, "; ".join(p.sentence() for p in reject.problems)[:32_767]], text)
    sheet.set_column(0, len(headings) - 1, 16, text)
    sheet.set_column(len(headings), len(headings), 100, text)
    sheet.freeze_panes(top, 0)


def _line(sheet: Any, row: int, cells: list[str], text: Any) -> None:
    for column, cell in enumerate(cells):
        if cell:
            sheet.write_string(row, column, cell, text)
