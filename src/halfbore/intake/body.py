"""The body of a sheet: its headings and its rows, each with the place where it stands."""

from __future__ import annotations

import difflib
from dataclasses import dataclass, replace

from halfbore.errors import InputError, Problem
from halfbore.intake.layout import Table
from halfbore.intake.sheets import MarkedSheet
from halfbore.intake.tables import Sheet


@dataclass(frozen=True)
class Body:
    """The rows below the headings, each with its number in the sheet.

    skipped: rows that were left out as the layout says; elsewhere: rows that belong to another table of the sheet.
    """

    sheet: Sheet
    headings: dict[str, int]
    numbers: tuple[int, ...]
    rows: tuple[tuple[str, ...], ...]
    skipped: tuple[int, ...]
    elsewhere: tuple[int, ...] = ()

    def column(self, heading: str) -> list[str]:
        """Return the cells under a heading.

        Raises InputError when the sheet has no such heading, or has it twice.
        """
        index = self.headings.get(heading, -1)
        if index < 0:
            near = difflib.get_close_matches(heading, self.headings, 1, 0.3)
            what = "stands twice" if heading in self.headings else "is not there"
            accepted = f"nearest heading: {near[0]}" if near else ", ".join(self.headings)
            raise InputError(Problem(f"the heading {what}", self.sheet.name, heading, accepted))
        return [row[index] if index < len(row) else "" for row in self.rows]

    def faults(self, heading: str) -> dict[int, Problem]:
        """Return why cells under a heading have no value, by row of the body."""
        if not isinstance(self.sheet, MarkedSheet) or not self.sheet.faults:
            return {}
        column = self.headings.get(heading, -1)
        where = ((i, self.sheet.faults.get((n, column))) for i, n in enumerate(self.numbers))
        return {i: Problem(what, value=self.rows[i][column]) for i, what in where if what}

    def place(self, index: int, heading: str = "") -> str:
        """Return where a row of the body stands in the sheet."""
        return self.sheet.place(self.numbers[index], heading)


def body_of(sheet: Sheet, table: Table) -> Body:
    """Return the body of a sheet: blank rows are passed over, rows that its table does not hold are counted.

    Raises InputError when the sheet ends before its headings, or a row is longer than they are.
    """
    layout = table.layout
    above = max(layout.header)
    if len(sheet.rows) <= above:
        rows = f"{len(sheet.rows)} rows"
        raise InputError(Problem("there are no rows below the headings", sheet.name, rows))
    headings = _headings([sheet.rows[n - 1] for n in layout.header])
    names = {h: -1 if headings.count(h) > 1 else i for i, h in enumerate(headings) if h}
    kept, numbers, skipped = [], [], []
    skip = tuple(s.casefold() for s in layout.skip)
    for number, cells in enumerate(sheet.rows[above:], above):
        row = tuple(cell.replace("\u00a0", " ").strip() for cell in cells)
        first = next((cell for cell in row if cell), "")
        if first and first.casefold().startswith(skip):
            skipped.append(number)
        elif first:
            kept.append(row)
            numbers.append(number)
    if not kept:
        raise InputError(Problem("there are no rows below the headings", sheet.name))
    _refuse_long(sheet, numbers, kept, len(headings))
    return _only(Body(sheet, names, tuple(numbers), tuple(kept), tuple(skipped)), table)


def _refuse_long(sheet: Sheet, numbers: list[int], rows: list[tuple[str, ...]], width: int) -> None:
    too_long = [n for n, row in zip(numbers, rows, strict=True) if any(row[width:])]
    if too_long:
        step = "check the delimiter and the decimal sign of the mapping"
        raise InputError(
            Problem("the row has more cells than headings", sheet.place(n), next_step=step)
            for n in too_long[:10]
        )


def _only(body: Body, table: Table) -> Body:
    """Return the body with the rows that belong to the table."""
    if not table.only:
        return body
    columns = [(body.column(heading), texts) for heading, texts in table.only]
    belongs = [all(cells[i] in texts for cells, texts in columns) for i in range(len(body.rows))]
    if not any(belongs):
        wanted = "; ".join(f"{heading}: {', '.join(texts)}" for heading, texts in table.only)
        raise InputError(Problem("no row belongs to the table", body.sheet.name, accepted=wanted))
    return replace(
        body,
        numbers=tuple(n for n, own in zip(body.numbers, belongs, strict=True) if own),
        rows=tuple(row for row, own in zip(body.rows, belongs, strict=True) if own),
        elsewhere=tuple(n for n, own in zip(body.numbers, belongs, strict=True) if not own),
    )


def _headings(rows: list[tuple[str, ...]]) -> list[str]:
    """Join the heading rows column by column, each text once."""
    width = max(len(row) for row in rows)
    columns = [[" ".join(row[i].split()) for row in rows if i < len(row)] for i in range(width)]
    return [" ".join(dict.fromkeys(part for part in column if part)) for column in columns]
