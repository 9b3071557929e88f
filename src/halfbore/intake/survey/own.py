"""Our own survey sheets: a workbook with the marker in its first cell is read without a mapping."""

from __future__ import annotations

from pathlib import Path

from halfbore.domain.survey import SurveyReading
from halfbore.domain.survey_layout import HEADINGS_ROW, MARKER, MARKER_ROW, PATHS_ROW, SHEETS, WRONG, unit_of
from halfbore.errors import InputError, LimitError, Problem, shown
from halfbore.intake.book import Book, Page, column_name, read_book
from halfbore.intake.survey.mapping import BLANKS, Cells, Column, SurveyMapping, Table
from halfbore.intake.survey.read import survey_of
from halfbore.intake.survey.rows import headings_of
from halfbore.intake.survey.targets import quantity_of, target_of


def is_own_sheet(path: Path) -> bool:
    """Return whether a file is one of our own survey sheets, which needs no mapping.

    path: any file; one that cannot be read is none of ours. Raises nothing.
    """
    try:
        return is_own(read_book(path))
    except (InputError, LimitError):
        return False


def read_own(path: Path) -> SurveyReading:
    """Read one of our own survey sheets.

    path: XLSX file. Returns what `read_survey` returns. Raises InputError when it is none, or its layout is damaged.
    """
    book = read_book(path)
    return survey_of(book, mapping_of(book))


def own_mapping(path: Path) -> SurveyMapping:
    """Return the mapping that one of our own survey sheets implies, for `read_survey` and `write_rejects`.

    path: XLSX file. Raises InputError when it is none of ours, or its layout is damaged.
    """
    return mapping_of(read_book(path))


def mapping_of(book: Book) -> SurveyMapping:
    """Return the mapping of a workbook of ours that is already there, as `own_mapping` does."""
    if not is_own(book):
        raise InputError(
            Problem("is no survey sheet of this program", book.file, accepted=f"{MARKER!r} in A1")
        )
    pages = [page for page in book.pages if page.name in SHEETS]
    if not pages:
        names = ", ".join(page.name for page in book.pages)
        raise InputError(Problem("holds no sheet that is known", book.file, names, ", ".join(SHEETS)))
    cells = Cells(blanks=BLANKS)
    problems: list[Problem] = []
    tables = tuple(_table(page, cells, problems) for page in pages)
    if problems:
        raise InputError(problems)
    return SurveyMapping(tables, tuple(p.name for p in book.pages if p.name not in SHEETS), own=True)


def is_own(book: Book) -> bool:
    """Return whether a file that is already there is one of our own survey sheets."""
    first = next((page for page in book.pages if len(page.rows) >= MARKER_ROW), None)
    return bool(first and book.pages[0] is first and first.text(MARKER_ROW - 1, 0) == MARKER)


def _table(page: Page, cells: Cells, problems: list[Problem]) -> Table:
    thing = SHEETS[page.name]
    headings = headings_of(page, (HEADINGS_ROW,))
    columns: list[Column] = []
    ignored: list[str] = []
    for at, heading in enumerate(headings):
        path = page.text(PATHS_ROW - 1, at) if at < len(page.rows[PATHS_ROW - 1]) else ""
        if heading.casefold() == WRONG:
            continue
        if not path:
            if heading != column_name(at):
                ignored.append(heading)
            continue
        place = f"{page.place}, row {PATHS_ROW}, column {heading!r}"
        try:
            target = target_of(thing, path)
        except InputError as error:
            problems.append(Problem(error.problems[0].what, place, shown(path), error.problems[0].accepted))
            continue
        if any(column.target == target for column in columns):
            problems.append(Problem("two columns fill one field", place, path))
        unit = unit_of(heading) if quantity_of(target) else ""
        columns.append(Column(heading, target, path, unit))
    return Table(page.name, thing, (HEADINGS_ROW,), tuple(columns), tuple(ignored), cells=cells)
