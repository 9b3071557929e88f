"""The proposal as a workbook: raw numbers that a spreadsheet can reckon with, formats that show them rounded."""

from __future__ import annotations

import io
import math
from collections.abc import Iterable
from datetime import date, datetime
from pathlib import Path
from typing import Any

import xlsxwriter

from halfbore.documents.files import replace_file
from halfbore.documents.subject import Subject
from halfbore.documents.workbook_rows import Number, Sheet, Value, sheets_of
from halfbore.domain.study import Study
from halfbore.numbers import NO_END, NOT_KNOWN, percent
from halfbore.units import Kind

WIDEST = 60
"""Most characters that a column is made wide for."""
_FORMATS = {
    Kind.LENGTH: "#,##0.000",
    Kind.TEMPERATURE: "0",
    Kind.FRACTION: "0 %",
    Kind.MONEY: "#,##0",
    Kind.MONEY_RATE: "#,##0",
    Kind.DURATION: "#,##0.0",
    Kind.ANGLE: "0.00000",
    Kind.NUMBER: "0.00",
    Kind.COUNT: "#,##0",
    Kind.MASS: "#,##0.0",
    Kind.STRESS: "#,##0.0",
}
_USUAL = "#,##0"


def write_workbook(study: Study, when: date, path: Path) -> Path:
    """Write the workbook beside its place, then put it there.

    study: the whole answer; when: the date that it bears; path: where it shall stand. Returns the path.
    Raises InputError when the place cannot be written.
    """
    return replace_file(path, workbook_xlsx(study, when))


def workbook_xlsx(study: Study, when: date) -> bytes:
    """Return the workbook; numbers stand in the units of their heads, the same study and date give the same bytes.

    study: the whole answer; when: the date that it bears.
    """
    return book_of(sheets_of(Subject(study), when), "Proposal", when)


def book_of(sheets: Iterable[Sheet], title: str, when: date) -> bytes:
    """Return sheets as a workbook: heads in bold, frozen above their rows."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    created = datetime(when.year, when.month, when.day)
    book.set_properties({"title": title, "author": "halfbore", "created": created})
    formats: dict[Kind | str, Any] = {
        kind: book.add_format({"num_format": _FORMATS.get(kind, _USUAL)}) for kind in Kind
    }
    for words in (percent(0.001), percent(0.999)):
        formats[words] = book.add_format({"num_format": f'"{words}"'})
    bold = book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"})
    for sheet in sheets:
        page = book.add_worksheet(sheet.name)
        for column, head in enumerate(sheet.heads):
            page.write_string(0, column, head, bold)
            page.set_column(column, column, _width(sheet, column))
        for row, values in enumerate(sheet.rows, start=1):
            for column, value in enumerate(values):
                _write(page, row, column, value, formats)
        page.freeze_panes(1, 1)
    book.close()
    return out.getvalue()


def _write(page: Any, row: int, column: int, value: Value, formats: dict[Kind | str, Any]) -> None:
    """Write one cell; text is never read as a formula, what is not known is a word and no zero."""
    if isinstance(value, Number):
        if math.isfinite(value.value):
            page.write_number(row, column, value.value, _format(value, formats))
        else:
            page.write_string(row, column, NOT_KNOWN if math.isnan(value.value) else NO_END)
    else:
        page.write_string(row, column, value)


def _format(value: Number, formats: dict[Kind | str, Any]) -> Any:
    """Return the format of a number; one that is not quite none or all of something is not shown as that."""
    if value.kind is Kind.FRACTION:
        return formats.get(percent(value.value), formats[value.kind])
    return formats[value.kind]


def _width(sheet: Sheet, column: int) -> float:
    """Return the width of a column in characters, by its longest text; a head may take two lines."""
    texts = [row[column] for row in sheet.rows]
    longest = max((len(t) if isinstance(t, str) else 10 for t in texts), default=8)
    return float(min(max(longest, 0.6 * len(sheet.heads[column]), 8), WIDEST) + 1)
