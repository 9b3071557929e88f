"""The body of a sheet: its headings, its rows, and the units that each row stands for."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product

from halfbore.errors import InputError, Problem
from halfbore.intake.mapping import Expansion, Layout
from halfbore.intake.tables import Sheet

Combination = tuple[str, ...]
"""The option that is taken in each expansion, in their order."""


@dataclass(frozen=True)
class Body:
    """The rows below the headings, each with its number in the sheet; skipped: rows that were left out."""

    sheet: Sheet
    headings: dict[str, int]
    numbers: tuple[int, ...]
    rows: tuple[tuple[str, ...], ...]
    skipped: tuple[int, ...]

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

    def place(self, index: int, heading: str = "") -> str:
        """Return where a row of the body stands in the sheet."""
        return self.sheet.place(self.numbers[index], heading)


def body_of(sheet: Sheet, layout: Layout) -> Body:
    """Return the body of a sheet: blank rows are passed over, rows that the layout skips are counted.

    Raises InputError when the sheet ends before its headings, or a row is longer than they are.
    """
    above = max(layout.header)
    if len(sheet.rows) <= above:
        rows = f"{len(sheet.rows)} rows"
        raise InputError(Problem("there are no rows below the headings", sheet.name, rows))
    headings = _headings([sheet.rows[n - 1] for n in layout.header])
    kept, numbers, skipped = [], [], []
    for number, cells in enumerate(sheet.rows[above:], above):
        row = tuple(cell.replace("\u00a0", " ").strip() for cell in cells)
        first = next((cell for cell in row if cell), "")
        if first and first.casefold().startswith(tuple(s.casefold() for s in layout.skip)):
            skipped.append(number)
        elif first:
            kept.append(row)
            numbers.append(number)
    if not kept:
        raise InputError(Problem("there are no rows below the headings", sheet.name))
    width = len(headings)
    too_long = [n for n, row in zip(numbers, kept, strict=True) if any(row[width:])]
    if too_long:
        step = "check the delimiter and the decimal sign of the mapping"
        raise InputError(
            Problem("the row has more cells than headings", sheet.place(n), next_step=step)
            for n in too_long[:10]
        )
    names = {h: -1 if headings.count(h) > 1 else i for i, h in enumerate(headings) if h}
    return Body(sheet, names, tuple(numbers), tuple(kept), tuple(skipped))


def _headings(rows: list[tuple[str, ...]]) -> list[str]:
    """Join the heading rows column by column, each text once."""
    width = max(len(row) for row in rows)
    columns = [[" ".join(row[i].split()) for row in rows if i < len(row)] for i in range(width)]
    return [" ".join(dict.fromkeys(part for part in column if part)) for column in columns]


def units_in(body: Body, expansions: Iterable[Expansion]) -> list[tuple[int, Combination]]:
    """Return the units that the rows stand for: row of the body and combination of options.

    Raises InputError with every cell that names an option that the mapping does not know.
    """
    units: list[tuple[int, Combination]] = []
    problems: list[Problem] = []
    columns = [(e, body.column(e.heading)) for e in expansions]
    for i in range(len(body.rows)):
        named = [(e, [o.strip() for o in cells[i].split(e.separator)]) for e, cells in columns]
        for expansion, options in named:
            unknown = [o for o in options if o not in expansion.options]
            repeated = len(set(options)) < len(options)
            if unknown or repeated:
                what = "is not an option" if unknown else "an option stands twice"
                value, known = "".join(unknown[:1]), ", ".join(expansion.options)
                problems.append(Problem(what, body.place(i, expansion.heading), value, known))
        units.extend((i, combination) for combination in product(*(options for _, options in named)))
    if problems:
        raise InputError(problems)
    return units
