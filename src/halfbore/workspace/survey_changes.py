"""The mapping of a survey as a person changes it: sheets read or left, columns given their fields."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from typing import Any

from halfbore.domain.survey import Plain, Thing
from halfbore.domain.survey_layout import SEPARATOR, TAG_MACHINE, WRONG
from halfbore.errors import InputError, Problem
from halfbore.intake.book import Book
from halfbore.intake.mapping_file import mapping_data
from halfbore.intake.survey.mapping import OPEN
from halfbore.intake.survey.proposal import ColumnProposal, TableProposal
from halfbore.intake.survey.propose import proposal_of, table_as
from halfbore.intake.survey.rows import headings_of
from halfbore.intake.survey.targets import paths_of, target_of
from halfbore.workspace.survey_mapping import (
    NAME,
    SIGNS,
    header_of,
    page_of,
    settled_down,
    table_of,
    thing_of,
)


def read_sheet(book: Book, data: Plain, name: str, thing: Thing, header: tuple[int, ...]) -> Plain:
    """Return the mapping with a sheet read anew: what its rows are about and where its headings stand is said.

    Raises InputError where the sheet has no such rows.
    """
    page = page_of(book, name)
    headings_of(page, header)
    alone_book = replace(book, pages=(page,))
    alone = proposal_of(alone_book, {name: (thing, header)})
    table = settled_down(mapping_data(alone.text, NAME), alone_book)["table"][0]
    new = leave_sheet(book, data, name)
    new["not_read"] = [one for one in new.get("not_read", []) if one != name]
    new["table"] = _in_order(book, [*new["table"], table])
    return new


def leave_sheet(book: Book, data: Plain, name: str) -> Plain:
    """Return the mapping with a sheet that is not read. Raises InputError where there is no such sheet."""
    page = page_of(book, name)
    new = deepcopy(data)
    table = table_of(book, page, new)
    new["table"] = [one for one in new.get("table", []) if one is not table]
    new["not_read"] = list(dict.fromkeys([*new.get("not_read", []), name]))
    return new


def _in_order(book: Book, tables: list[Plain]) -> list[Plain]:
    order = [page.name for page in book.pages]
    return sorted(
        tables, key=lambda table: order.index(table.get("sheet", "")) if table.get("sheet") in order else 0
    )


@dataclass(frozen=True)
class ColumnGiven:
    """What a person has given for one column; words: texts of cells and what they mean."""

    at: int
    field: str
    unit: str
    separator: str
    words: Mapping[str, str]


@dataclass(frozen=True)
class SheetGiven:
    """What a person has given for one sheet."""

    columns: tuple[ColumnGiven, ...]
    cells: Mapping[str, str]
    skip: str = ""
    carry_down: str = ""
    before: str = ""
    fixed: Mapping[str, str] | None = None


def set_sheet(book: Book, data: Plain, name: str, given: SheetGiven) -> Plain:
    """Return the mapping with what a person has given for a sheet.

    A column that gets another field gets what is proposed for its unit and its words. Raises InputError with every
    field that is not known, by its column.
    """
    page = page_of(book, name)
    new = deepcopy(data)
    table = table_of(book, page, new)
    if table is None:
        raise InputError(Problem("the sheet is not read", name, next_step="read it first"))
    thing, header = thing_of(table), header_of(table)
    headings = headings_of(page, header)
    before = table.get("columns", {})
    _refuse_unknown(thing, headings, given)
    paths = {c.at: c.field for c in given.columns if c.field in paths_of(thing)}
    proposal = table_as(book, page, thing, header, paths)
    columns = _columns(headings, given, before, proposal)
    table["columns"] = columns
    table["ignored"] = [h for h in headings if h not in columns and h.casefold() != WRONG]
    table["cells"] = _signs(proposal.cells, given.cells, table.get("cells", {}))
    _put(table, "skip", _texts(given.skip))
    newly = [h for h in proposal.carry_down if columns[h]["field"] != before.get(h, {}).get("field")]
    _put(table, "carry_down", list(dict.fromkeys([*_texts(given.carry_down), *newly])))
    _put(table, "fixed", {p: t for p, t in {**proposal.fixed, **(given.fixed or {})}.items() if p and t})
    needs = proposal.before if not table.get("machine") else ""
    told = any(entry["field"] == TAG_MACHINE for entry in columns.values())
    sign = "" if told else given.before or needs
    _put(table, "machine", {"from": "position", "before": sign} if sign else {})
    return new


def _columns(headings: tuple[str, ...], given: SheetGiven, before: Plain, proposal: TableProposal) -> Plain:
    """Return the columns of a table as given, those that were not shown as they were."""
    proposals = {c.guess.at: c for c in proposal.columns if c.guess.path}
    columns = {
        headings[column.at]: _entry(column, before.get(headings[column.at], {}), proposals.get(column.at))
        for column in given.columns
        if column.field
    }
    shown = {column.at for column in given.columns}
    return columns | {h: before[h] for at, h in enumerate(headings) if at not in shown and h in before}


def _entry(column: ColumnGiven, before: Plain, proposal: ColumnProposal | None) -> Plain:
    """Return what the mapping says of a column; one that gets another field gets what is proposed for it."""
    found = proposal if column.field != before.get("field", "") else None
    unit = found.unit if found and not column.unit else column.unit
    words = dict(found.words) if found else dict(column.words)
    separator = found.separator if found else column.separator
    entry: Plain = {"field": column.field}
    if unit and column.field != OPEN:
        entry["unit"] = unit
    if words:
        entry["words"] = words
    if separator and separator != SEPARATOR:
        entry["separator"] = separator
    return entry


def _refuse_unknown(thing: Thing, headings: tuple[str, ...], given: SheetGiven) -> None:
    problems = []
    for column in given.columns:
        if column.at >= len(headings):
            problems.append(Problem("there is no such column", str(column.at)))
        elif column.field not in ("", OPEN):
            try:
                target_of(thing, column.field)
            except InputError as error:
                problems.append(replace(error.problems[0], where=f"column {headings[column.at]!r}"))
    if problems:
        raise InputError(problems)


def _signs(proposed_cells: Mapping[str, str], given: Mapping[str, str], before: Plain) -> Plain:
    """Return how cells are written: as given; what newly read columns need and nobody has said is proposed."""
    cells = {key: value for key, value in before.items() if key not in SIGNS}
    for key in SIGNS:
        text = given.get(key, "")
        if not text and key not in before:
            text = proposed_cells.get(key, "")
        if text:
            cells[key] = text
    return cells


def _texts(text: str) -> list[str]:
    return [part.strip() for part in text.split(";") if part.strip()]


def _put(table: Plain, key: str, value: Any) -> None:
    if value:
        table[key] = value
    else:
        table.pop(key, None)


def with_file(data: Plain, blanks: str, encoding: str, delimiter: str) -> Plain:
    """Return the mapping with what holds for the whole file. blanks: texts that say nothing, parted by semicolons."""
    new = deepcopy(data)
    new.setdefault("cells", {})["blanks"] = _texts(blanks)
    csv = {"encoding": encoding, "delimiter": delimiter}
    _put(new, "csv", {key: text for key, text in csv.items() if text})
    return new
