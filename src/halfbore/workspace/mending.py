"""Rejected rows of a survey, mended where they are shown and brought in again as they then stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from halfbore.domain.survey import Reject
from halfbore.errors import Problem
from halfbore.intake.book import Book, Page
from halfbore.intake.survey.mapping import SurveyMapping

Cells = Mapping[int, str]
"""Column, counted from 0 → what shall stand in it."""


def bad_cells(reject: Reject) -> list[tuple[int, Problem]]:
    """Return the columns of a rejected row whose cells are bad, each with what is wrong."""
    found = []
    for problem in reject.problems:
        ends = [at for at, h in enumerate(reject.headings) if problem.where.endswith(f", column {h!r}")]
        found += [(at, problem) for at in ends[:1]]
    return found


def mended(reject: Reject, cells: Cells) -> Reject:
    """Return a rejected row with other texts in some of its cells."""
    texts = [*reject.cells, *[""] * (len(reject.headings) - len(reject.cells))]
    return replace(reject, cells=tuple(cells.get(at, text).strip() for at, text in enumerate(texts)))


def book_of_rows(book: Book, how: SurveyMapping, rows: Iterable[Reject]) -> tuple[Book, SurveyMapping]:
    """Return a survey of these rows alone, each in its place, with the mapping of its sheets.

    book, how: the survey that they come from. Every cell is a text, as in a file of rejected rows.
    """
    by_sheet: dict[str, list[Reject]] = {}
    for row in rows:
        by_sheet.setdefault(row.sheet, []).append(row)
    pages, tables = [], []
    for number, page in enumerate(book.pages):
        table = next((t for t in how.tables if t.sheet == page.name or (not t.sheet and number == 0)), None)
        if table is not None and page.name in by_sheet:
            pages.append(_page(page, max(table.header), by_sheet[page.name]))
            tables.append(table)
    return replace(book, pages=tuple(pages)), replace(how, tables=tuple(tables))


def _page(page: Page, top: int, rows: list[Reject]) -> Page:
    """Return a page with its headings, and below them the rows that are given."""
    cells = {row.row: row.cells for row in rows}
    last = max(top, *cells)
    texts = tuple(page.rows[n - 1] if n <= top else cells.get(n, ()) for n in range(1, last + 1))
    return replace(
        page,
        rows=texts,
        hidden=False,
        kinds={place: kind for place, kind in page.kinds.items() if place[0] < top},
        formulas=frozenset(),
        merged=tuple(one for one in page.merged if one[2] < top),
        hidden_rows=frozenset(),
        hidden_columns=frozenset(),
    )
