"""Read a survey by its mapping: each row is told, rejected with all that is wrong in it, or named in a remark."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from halfbore.domain.survey import Plain, Reject, SurveyReading, Thing, Told
from halfbore.domain.survey_layout import KIND, NEEDED_TAGS, TAG_MACHINE, TAG_POSITION, WRONG
from halfbore.errors import InputError, Problem
from halfbore.intake.book import Book, Page, read_book
from halfbore.intake.check import PARTS
from halfbore.intake.survey.agree import Heard, disagreements
from halfbore.intake.survey.cells import CellReader, Outcome
from halfbore.intake.survey.mapping import Column, SurveyMapping, Table
from halfbore.intake.survey.rows import Row, Rows, indices, listed, rows_of, unheaded
from halfbore.intake.survey.targets import NEEDED, TAGS_OF

_ODD_SHOWN = 20
"""Odd cells of a column that are told one by one; the rest is counted."""
_OF_A_MACHINE = {Thing.MACHINE, Thing.SHAFT_LINE, Thing.CONDITION}
_WORDS = {KIND: "kind", "name": "name", "on": "date"}


def read_survey(path: Path, mapping: SurveyMapping) -> SurveyReading:
    """Read a survey.

    path: CSV or XLSX file; mapping: as `read_mapping_file` gives it.
    Returns what the rows tell, those that are rejected, and what a person should know.
    Raises InputError, LimitError where the file and the mapping do not go together.
    """
    return survey_of(read_book(path, mapping.encoding, mapping.delimiter), mapping)


def survey_of(
    book: Book, mapping: SurveyMapping, besides: Mapping[str, list[Problem]] | None = None
) -> SurveyReading:
    """Read a survey from a file that is already there, as `read_survey` does.

    besides: rows that are rejected for what the file does not tell, such as a plant without their machine, by place.
    """
    remarks: list[str] = []
    tables = [
        _TableReader(page, table, rows_of(page, table)) for page, table in _pages(book, mapping, remarks)
    ]
    for table in tables:
        table.read()
    heard = [row for table in tables for row in table.heard]
    against, repeated = disagreements(heard)
    against = {**(besides or {}), **against}
    for place, first in repeated.items():
        if first in against and place not in against:
            against[place] = [replace(problem, where=place) for problem in against[first]]
    for table in tables:
        against |= table.torn(against)
    repeated = {place: first for place, first in repeated.items() if place not in against}
    told = [t for row in heard if row.place not in against and row.place not in repeated for t in row.told]
    for table in tables:
        table.reject(against)
        remarks.extend(table.remarks)
        if mapping.own:
            remarks.extend(table.unread())
    remarks.extend(
        f"{place}: says again what {first} says, and is passed over" for place, first in repeated.items()
    )
    rejects = [reject for table in tables for reject in table.rejects]
    passed = [
        (t.found.place(row), why) for t in tables for why, rows in t.found.passed.items() for row in rows
    ]
    passed += [(place, f"says again what {first} says") for place, first in repeated.items()]
    filled = sum(t.found.filled for t in tables)
    return SurveyReading(tuple(told), tuple(rejects), tuple(remarks), filled, tuple(passed))


def _pages(book: Book, mapping: SurveyMapping, remarks: list[str]) -> list[tuple[Page, Table]]:
    """Return each sheet that is there with its table.

    Raises InputError when no mapped sheet is there, or one that the mapping does not name.
    """
    pages = {page.name: page for page in book.pages}
    found, missing = [], []
    for table in mapping.tables:
        page = pages.get(table.sheet) if table.sheet else next(iter(book.pages), None)
        if page is None:
            missing.append(table.sheet)
        else:
            found.append((page, table))
            if page.hidden:
                remarks.append(f"{page.place}: the sheet is hidden, and is read")
    if not found:
        there = ", ".join(pages) or "none"
        raise InputError(Problem("none of the mapped sheets is there", book.file, ", ".join(missing), there))
    if not any(
        _of_rejects(page, table) for page, table in found
    ):  # of them only the sheets with bad rows are there
        remarks.extend(f"{book.file}: the sheet {name!r} of the mapping is not there" for name in missing)
    _refuse_unknown_sheets(book, mapping, [page for page, _ in found])
    return found


def _of_rejects(page: Page, table: Table) -> bool:
    """Whether a sheet came out of this program, as rows to be mended."""
    last = max(table.header) - 1
    return last < len(page.rows) and any(
        page.text(last, c).casefold() == WRONG for c in range(len(page.rows[last]))
    )


def _refuse_unknown_sheets(book: Book, mapping: SurveyMapping, found: list[Page]) -> None:
    known = {page.name for page in found} | set(mapping.not_read)
    unknown = [page for page in book.pages if page.name not in known and any(any(row) for row in page.rows)]
    if unknown:
        step = "give it a [[table]] in the mapping, or list it there under not_read"
        raise InputError(
            Problem("the sheet is not in the mapping", page.place, next_step=step) for page in unknown
        )


@dataclass
class _Row:
    """What one row gives while it is read: path of a thing → its outcome, tags, and what is wrong."""

    row: Row
    tags: dict[str, str] = field(default_factory=dict)
    found: dict[Thing, dict[str, Outcome]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)


class _TableReader:
    """Reads the rows of one table."""

    def __init__(self, page: Page, table: Table, found: Rows) -> None:
        self.page, self.table, self.found = page, table, found
        self.columns = [(at, table.columns[i]) for i, at in indices(found, table).items()]
        self.readers = {at: CellReader(column, table.cells) for at, column in self.columns}
        self.kind = next(
            ((at, c) for at, c in self.columns if c.target.path == KIND and c.target.thing is Thing.PART),
            None,
        )
        self.fixed = [
            (target, text, CellReader(Column("", target), table.cells)) for target, text in table.fixed
        ]
        self.unheaded = unheaded(found, table)
        self.heard: list[Heard] = []
        self.bad: list[tuple[int, tuple[str | None, ...]]] = []
        self.rejects: list[Reject] = []
        self.remarks: list[str] = []
        self.odd: Counter[int] = Counter()

    def read(self) -> None:
        """Read all rows; what is odd goes to the remarks."""
        for row in self.found.rows:
            taken = self._row(row)
            told = () if taken.problems else tuple(self._told(taken))
            if taken.problems:
                self._reject(row, taken.problems)
                self.bad.append((row.number, self._tags(self.table.thing, taken.tags)))
            else:
                self.heard.append(
                    Heard(self.found.place(row.number), self.page.name, row.number, told, self._values(taken))
                )
        self._remark()

    def torn(self, against: Mapping[str, list[Problem]]) -> dict[str, list[Problem]]:
        """Return the good rows of each shaft of which a row is bad: its segments make sense only as a whole."""
        if self.table.thing is not Thing.SEGMENT:
            return {}
        bad = {tags: number for number, tags in reversed(self.bad)}
        bad |= {row.told[-1].tags: row.number for row in reversed(self.heard) if row.place in against}
        step = "mend that row; the whole shaft then comes in"
        return {
            row.place: [
                Problem(
                    f"another segment of this shaft is not usable, row {number}", row.place, next_step=step
                )
            ]
            for row in self.heard
            if row.place not in against and (number := bad.get(row.told[-1].tags)) is not None
        }

    def reject(self, against: dict[str, list[Problem]]) -> None:
        """Reject the rows that other rows speak against."""
        for row in self.found.rows:
            if problems := against.get(self.found.place(row.number)):
                self._reject(row, problems)
        self.rejects.sort(key=lambda reject: reject.row)

    def unread(self) -> list[str]:
        """Return a remark for each column with cells that is not read; in a mapping they would be listed."""
        headings = self.found.headings
        filled = [
            h
            for i, h in enumerate(headings)
            if h in self.table.ignored and any(r.cells[i] for r in self.found.rows)
        ]
        return [f"{self.page.place}, column {h!r}: names no field, and is not read" for h in filled]

    def _reject(self, row: Row, problems: list[Problem]) -> None:
        self.rejects.append(
            Reject(self.page.name, row.number, self.found.headings, row.cells, tuple(problems))
        )

    def _row(self, row: Row) -> _Row:
        taken = _Row(row)
        part = self._part(row)
        for at, column in self.columns:
            if text := row.cells[at]:
                self._take(taken, column, self.readers[at].read(text, row.kinds.get(at, ""), part), at)
        self._fix(taken, part)
        for at in sorted(self.unheaded):
            if row.cells[at]:
                step = "check the delimiter and the decimal sign; give the column a heading, or list it under ignored"
                place = self.found.place(row.number, at)
                taken.problems.append(
                    Problem("a cell stands where no heading is", place, row.cells[at][:64], next_step=step)
                )
        if not taken.problems:
            self._check_tags(taken)
        return taken

    def _part(self, row: Row) -> str:
        """Return the kind of part that a row tells of, empty for any."""
        if self.table.thing is not Thing.PART or self.kind is None:
            return next((text for target, text, _ in self.fixed if target.path == KIND), "")
        at, _ = self.kind
        outcome = self.readers[at].read(row.cells[at], row.kinds.get(at, "")) if row.cells[at] else Outcome()
        return outcome.plain if outcome.plain in PARTS else ""

    def _take(self, taken: _Row, column: Column, outcome: Outcome, at: int | None) -> None:
        number = taken.row.number
        if outcome.problem is not None:
            taken.problems.append(replace(outcome.problem, where=self.found.place(number, at)))
            return
        if column.target.tag:
            taken.tags[column.target.path] = outcome.plain
        else:
            taken.found.setdefault(column.target.thing, {})[column.target.path] = outcome
        if outcome.odd and at is not None:
            self.odd[at] += 1
            if self.odd[at] <= _ODD_SHOWN:
                self.remarks.append(
                    f"{self.found.place(number, at)}: {outcome.odd}; read {taken.row.cells[at][:64]!r}"
                )

    def _fix(self, taken: _Row, part: str) -> None:
        """Add what the mapping says of every row; of a condition only where the row tells something of it."""
        for target, text, reader in self.fixed:
            aside = target.thing is Thing.CONDITION and self.table.thing is not Thing.CONDITION
            if aside and Thing.CONDITION not in taken.found:
                continue
            self._take(taken, reader.column, reader.read(text, "", part), None)

    def _check_tags(self, taken: _Row) -> None:
        """Note where a row does not say what it is about."""
        thing = self.table.thing
        self._machine_of_position(taken)
        needed = NEEDED_TAGS.get(thing)
        if needed and needed not in taken.tags:
            heading = next((c.heading for c in self.table.columns if c.target.path == needed), needed)
            self._wrong(
                taken, f"the row does not say which {thing.value} it is about", f"fill in {heading!r}"
            )
        if TAG_MACHINE not in taken.tags and taken.found.keys() & _OF_A_MACHINE:
            step = 'fill in its machine, or write in the mapping how it follows: machine = { from = "position", before = "-" }'
            self._wrong(taken, "the row tells of a machine and does not say which", step)
        for told in [t for t in NEEDED if t in taken.found or t is thing]:
            for path in NEEDED[told]:
                if path not in taken.found.get(told, {}):
                    self._wrong(
                        taken, f"the row tells of a {told.value} without its {_WORDS[path]}", "fill it in"
                    )

    def _machine_of_position(self, taken: _Row) -> None:
        before = self.table.machine_before
        if before and TAG_POSITION in taken.tags:
            machine = taken.tags[TAG_POSITION].rpartition(before)[0].strip()
            if machine:
                taken.tags[TAG_MACHINE] = machine
            else:
                step = f"write it as F1{before}A, or change the mapping: machine"
                self._wrong(taken, f"the tag {taken.tags[TAG_POSITION]!r} names no machine", step)

    def _wrong(self, taken: _Row, what: str, next_step: str) -> None:
        taken.problems.append(Problem(what, self.found.place(taken.row.number), next_step=next_step))

    def _told(self, taken: _Row) -> list[Told]:
        """Return what a row tells, from the plant down."""
        things = [thing for thing in Thing if thing in taken.found or thing is self.table.thing]
        place = self.found.place(taken.row.number)
        return [
            Told(thing, self._tags(thing, taken.tags), _nested(taken.found.get(thing, {})), place)
            for thing in things
        ]

    def _tags(self, thing: Thing, tags: dict[str, str]) -> tuple[str | None, ...]:
        return tuple(tags.get(tag) for tag in TAGS_OF[thing])

    def _values(self, taken: _Row) -> tuple[dict[str, Any], ...]:
        """Return the values of each thing told of, in the order of `_told`, to be compared with other rows."""
        things = [thing for thing in Thing if thing in taken.found or thing is self.table.thing]
        return tuple({path: o.value for path, o in taken.found.get(thing, {}).items()} for thing in things)

    def _remark(self) -> None:
        """Note what was passed over, hidden, made by formulas, carried down or merged."""
        page, place = self.page, self.page.place
        numbers = {row.number for row in self.found.rows}
        if bare := [h.number for h in self.heard if not any(told.data for told in h.told)]:
            self.remarks.append(f"{place}, {listed(bare)}: nothing is told but the tag")
        for why, rows in self.found.passed.items():
            self.remarks.append(f"{place}, {listed(rows)}: {why}")
        for at, rows in self.found.carried.items():
            told = f"{len(rows)} row{'s take' if len(rows) > 1 else ' takes'} the value above"
            self.remarks.append(f"{place}, column {self.found.headings[at]!r}: {told}, {listed(rows)}")
        if hidden := sorted(n + 1 for n in page.hidden_rows if n + 1 in numbers):
            self.remarks.append(f"{place}, {listed(hidden)}: hidden, and read like the others")
        for at, column in self.columns:
            heading = f"{place}, column {column.heading!r}"
            if at in page.hidden_columns:
                self.remarks.append(f"{heading}: hidden, and read like the others")
            formulas = [
                r + 1 for r, c in page.formulas if c == at and r + 1 in numbers and (r, c) not in page.kinds
            ]
            if formulas:
                self.remarks.append(f"{heading}, {listed(formulas)}: the stored values of formulas are used")
            if self.odd[at] > _ODD_SHOWN:
                self.remarks.append(f"{heading}: {self.odd[at] - _ODD_SHOWN} more cells are odd in this way")
        merged = sorted({r + 1 for (r, c), _ in page.covered() if r + 1 in numbers})
        if merged and self.table.cells.merged:
            what = (
                "the value holds for each" if self.table.cells.merged == "repeat" else "only the first counts"
            )
            self.remarks.append(f"{place}, {listed(merged)}: merged cells, {what}")


def _nested(found: dict[str, Outcome]) -> Plain:
    """Return values by dotted path as plain data in the shape of a job file."""
    data: Plain = {}
    lists = False
    for path, outcome in found.items():
        *above, last = path.split(".")
        at: dict[Any, Any] = data
        for step in above:
            name, bracket, number = step.partition("[")
            at = at.setdefault(name, {})
            if bracket:
                lists = True
                at = at.setdefault(int(number[:-1]), {})
        at[last] = outcome.plain
    return _listed(data) if lists else data


def _listed(data: Any) -> Any:
    """Return data in which tables with numbers for keys are lists, in the order of the numbers."""
    if not isinstance(data, dict):
        return data
    if data and all(isinstance(key, int) for key in data):
        return [_listed(data[key]) for key in sorted(data)]
    return {key: _listed(value) for key, value in data.items()}
