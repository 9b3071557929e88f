"""The rows of a table below its headings, as texts with what is odd of them; totals, titles and blanks are named."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass, field

from halfbore import limits
from halfbore.domain.survey_layout import TAG_MACHINE, TAG_SHAFT_LINE, WRONG
from halfbore.errors import InputError, LimitError, Problem, shown
from halfbore.intake.book import LOST, Page, column_name
from halfbore.intake.survey.cells import LOST_TEXT, MERGED, MERGED_TEXT
from halfbore.intake.survey.mapping import Table
from halfbore.intake.totals import is_note, is_total


@dataclass(frozen=True)
class Row:
    """One row. number: counted from 1; cells: texts; kinds: column → what the workbook says of its cell."""

    number: int
    cells: tuple[str, ...]
    kinds: dict[int, str]


@dataclass
class Rows:
    """A table as rows.

    passed: rows that were passed over, by the reason; carried: column → rows that took its value from above;
    filled: rows with anything in them.
    """

    page: Page
    headings: tuple[str, ...]
    rows: list[Row] = field(default_factory=list)
    passed: dict[str, list[int]] = field(default_factory=dict)
    carried: dict[int, list[int]] = field(default_factory=dict)
    filled: int = 0

    def place(self, number: int, column: int | None = None) -> str:
        """Return where a row stands, or a cell of it."""
        at = f", column {self.headings[column]!r}" if column is not None else ""
        return f"{self.page.place}, row {number}{at}"


def headings_of(page: Page, header: tuple[int, ...]) -> tuple[str, ...]:
    """Return a name for each column: its headings joined, a second one of a name numbered, or its letters.

    header: rows, counted from 1. Raises InputError when the sheet has no such row.
    """
    if not header or max(header) > len(page.rows):
        rows = f"{len(page.rows)} rows"
        raise InputError(
            Problem("there is no such row of headings", page.place, str(max(header, default=0)), rows)
        )
    width = max(len(row) for row in page.rows)
    if width > limits.COLUMNS:
        raise LimitError(Problem("too many columns", page.place, str(width), f"up to {limits.COLUMNS}"))
    spread = {place: first for place, first in page.covered() if place[0] + 1 in header}
    names: list[str] = []
    for column in range(width):
        places = [spread.get((row - 1, column), (row - 1, column)) for row in header]
        parts = [" ".join(page.text(*place).split()) for place in dict.fromkeys(places)]
        joined = " ".join(dict.fromkeys(part for part in parts if part)) or column_name(column)
        names.append(_numbered(joined, names))
    return tuple(names)


def _numbered(name: str, names: list[str]) -> str:
    """Return a name that is not among the names yet."""
    if name not in names:
        return name
    number = 2
    while f"{name} #{number}" in names:
        number += 1
    return f"{name} #{number}"


def rows_of(page: Page, table: Table) -> Rows:
    """Return the rows of a table with merged cells and columns carried down as the mapping says.

    Raises InputError when the headings are not there.
    """
    found = Rows(page, headings_of(page, table.header))
    reader = _Reader(page, table, found)
    for index in range(max(table.header), len(page.rows)):
        reader.take(index)
    return found


class _Reader:
    """Takes row by row, knowing what the rows above carried down."""

    def __init__(self, page: Page, table: Table, found: Rows) -> None:
        self.page, self.cells, self.found = page, table.cells, found
        self.covered: dict[int, list[tuple[int, tuple[int, int]]]] = {}
        for (row, column), first in page.covered():
            self.covered.setdefault(row, []).append((column, first))
        self.blank = {text.casefold() for text in table.cells.blanks}
        begins = "|".join(re.escape(text.strip()) for text in table.skip)
        self.skip = re.compile(rf"(?:{begins})(?!\w)", re.IGNORECASE) if begins else None
        self.carried = {found.headings.index(h): "" for h in table.carry_down if h in found.headings}
        tags = {
            c.target.path: found.headings.index(c.heading)
            for c in table.columns
            if c.heading in found.headings
        }
        self.machine, self.line = tags.get(TAG_MACHINE), tags.get(TAG_SHAFT_LINE)
        self.last_machine = ""
        self.wrong = {i for i, heading in enumerate(found.headings) if heading.casefold() == WRONG}
        self.titles = {r0: c1 - c0 for r0, c0, _, c1 in page.merged}

    def take(self, index: int) -> None:
        page, decimal = self.page, self.cells.decimal
        texts = [page.text(index, c, decimal) for c in range(len(page.rows[index]))]
        kinds = {c: kind for c in range(len(texts)) if (kind := page.kinds.get((index, c)))}
        for column in self.wrong:
            if column < len(texts):
                texts[column] = ""
        for column in [c for c, kind in kinds.items() if kind == LOST]:
            texts[column] = LOST_TEXT
        own = [c for c, text in enumerate(texts) if text]
        if not own:
            return
        self.found.filled += 1
        number = index + 1
        if self._passed_over(texts, own, index):
            return
        texts += [""] * (len(self.found.headings) - len(texts))
        texts = [self._unblanked(text) for text in texts]
        self._spread(texts, kinds, index)
        self._carry_down(texts, own, number)
        self.found.rows.append(Row(number, tuple(texts), kinds))

    def _carry_down(self, texts: list[str], own: list[int], number: int) -> None:
        """Fill the empty cells of a row whose column holds for it; a shaft line ends with its machine, a dash ends a value."""
        machine = texts[self.machine] if self.machine is not None else ""
        if self.line in self.carried and machine and machine != self.last_machine:
            self.carried[self.line] = ""
        self.last_machine = machine or self.last_machine
        for column, above in self.carried.items():
            if column not in own and not texts[column] and above:
                texts[column] = above
                self.found.carried.setdefault(column, []).append(number)
            self.carried[column] = texts[column]

    def _unblanked(self, text: str) -> str:
        return "" if text.casefold() in self.blank else text

    def _passed_over(self, texts: list[str], own: list[int], index: int) -> bool:
        first = texts[own[0]]
        why = ""
        if self.skip and self.skip.match(first):
            why = "passed over, as skip of the mapping says"
        elif is_total(first):
            why = "totals, passed over"
        elif not any(self._unblanked(text) for text in texts):
            why = "blanks only, passed over"
        elif len(own) == 1 and self.titles.get(index, 0) > 0:
            why = "a title across merged cells, passed over"
        elif len(own) == 1 and is_note(first):
            why = "a note, passed over"
        if why:
            self.found.passed.setdefault(why, []).append(index + 1)
        return bool(why)

    def _spread(self, texts: list[str], kinds: dict[int, str], index: int) -> None:
        """Fill the cells of a row that merged ranges cover, or mark them where nobody said what they hold."""
        for column, first in self.covered.get(index, ()):
            if column >= len(texts) or texts[column]:
                continue
            if self.cells.merged == "repeat":
                text = self.page.text(*first, self.cells.decimal)
                texts[column] = self._unblanked(text)
                if kind := self.page.kinds.get(first):
                    kinds[column] = kind
            elif not self.cells.merged and not (column in self.carried and column == first[1]):
                texts[column], kinds[column] = MERGED_TEXT, MERGED


def listed(numbers: list[int]) -> str:
    """Return the numbers of rows as people write them: `row 4` or `rows 4, 7 to 9`."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    parts = [f"{a}" if a == b else f"{a} to {b}" if b > a + 1 else f"{a}, {b}" for a, b in runs]
    return f"row{'s' if len(numbers) > 1 else ''} {', '.join(parts)}"


def indices(found: Rows, table: Table) -> dict[int, int]:
    """Return the column of each mapped heading: index in the mapping → index in the sheet.

    Raises InputError with every heading that is not there or that the mapping does not know.
    """
    problems: list[Problem] = []
    known = {c.heading for c in table.columns} | set(table.ignored)
    places = {}
    for i, column in enumerate(table.columns):
        if column.heading in found.headings:
            places[i] = found.headings.index(column.heading)
        else:
            problems.append(_missing(found, column.heading, known))
    for i, heading in enumerate(found.headings):
        if heading not in known and heading != column_name(i) and heading.casefold() != WRONG:
            step = "give it a field in the mapping, or list it there under ignored"
            problems.append(
                Problem("the heading is not in the mapping", found.page.place, shown(heading), next_step=step)
            )
    if problems:
        raise InputError(problems[: limits.PROBLEMS])
    return places


def _missing(found: Rows, heading: str, known: set[str]) -> Problem:
    free = [h for h in found.headings if h not in known]
    near = difflib.get_close_matches(heading, free, 1, 0.3)
    accepted = f"nearest heading: {near[0]}" if near else ", ".join(found.headings)[:300]
    return Problem("the heading is not there", found.page.place, shown(heading), accepted)


def unheaded(found: Rows, table: Table) -> set[int]:
    """Return the columns without a heading that the mapping does not pass over."""
    known = {c.heading for c in table.columns} | set(table.ignored)
    return {i for i, h in enumerate(found.headings) if h == column_name(i) and h not in known}
