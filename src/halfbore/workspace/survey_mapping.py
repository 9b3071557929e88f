"""The mapping of a survey while a person works on it: plain data, seen and changed sheet by sheet, column by column.

It is the same data that a mapping file holds. What only a person can settle stands as a question mark in it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import Any

from halfbore.domain.fields import Quantity
from halfbore.domain.survey import Plain, Thing
from halfbore.domain.survey_layout import NEEDED_TAGS, NO, SEPARATOR, WRONG, YES
from halfbore.errors import InputError, Problem
from halfbore.intake.book import Book, Page
from halfbore.intake.mapping_file import mapping_data
from halfbore.intake.survey.headings import matches, tied
from halfbore.intake.survey.mapping import OPEN, SurveyMapping, read_mapping_data
from halfbore.intake.survey.propose import proposal_of, table_as
from halfbore.intake.survey.rows import headings_of
from halfbore.intake.survey.targets import NEEDED, TAGS_OF, field_of, paths_of, target_of
from halfbore.intake.survey.words import choice_of

SIGNS = {
    "decimal": ("decimal sign", {".": "point", ",": "comma"}),
    "thousands": (
        "between thousands",
        {"": "nothing", ".": "point", ",": "comma", " ": "space", "'": "apostrophe"},
    ),
    "dates": (
        "dates are",
        {"": "not said", "dmy": "day, month, year", "mdy": "month, day, year", "ymd": "year, month, day"},
    ),
    "serials": ("day numbers from", {"": "not said", "1900": "1900", "1904": "1904"}),
    "merged": (
        "a merged cell",
        {"": "not said", "repeat": "holds for all its rows", "blank": "holds for its first row"},
    ),
}
"""How the cells of a sheet are written: key of the mapping → what it is called, and what may stand there."""
_NAME = "the mapping"
_SAMPLES, _ROWS = 3, 400
_TABLE = re.compile(r"table\[(\d+)\]\.?")
_TAG_HELP = {
    "tag.machine": "tag of the machine",
    "tag.shaft_line": "tag of the shaft line",
    "tag.position": "tag of the position",
}


@dataclass(frozen=True)
class ColumnView:
    """One column of a sheet.

    samples: some of its cells; field: what it fills, empty where it is not read, `?` where that is open;
    words: texts of its cells with what they mean; choices: what they may mean; perhaps: fields that may be meant.
    """

    at: int
    heading: str
    samples: tuple[str, ...]
    field: str
    unit: str
    separator: str
    words: tuple[tuple[str, str], ...]
    choices: tuple[str, ...]
    perhaps: tuple[str, ...]
    help: str
    takes_unit: bool

    @property
    def open(self) -> bool:
        """Whether a person must settle something of it."""
        return OPEN in (self.field, self.unit, *(meaning for _, meaning in self.words))


@dataclass(frozen=True)
class SheetView:
    """One sheet with its columns. read: whether it is a table at all; missing: headings that it has not."""

    name: str
    read: bool
    thing: Thing
    header: str
    rows: int
    columns: tuple[ColumnView, ...]
    cells: Mapping[str, str]
    skip: str
    carry_down: str
    before: str
    fixed: tuple[tuple[str, str], ...]
    missing: tuple[str, ...]
    trouble: str


@dataclass(frozen=True)
class SheetState:
    """A sheet among others: whether it is read, and how much stands open in it."""

    name: str
    read: bool
    about: str
    open: int


def proposed(book: Book) -> Plain:
    """Return the mapping that is proposed for a survey. Raises InputError where nothing in it looks like a table."""
    try:
        return settled_down(mapping_data(proposal_of(book).text, _NAME), book)
    except InputError:
        if not any(len(page.rows) > 1 for page in book.pages):
            raise
        return {
            "format": 1,
            "survey": book.file,
            "not_read": [p.name for p in book.pages if p.name],
            "table": [],
        }


def settled_down(mapping: Plain, book: Book) -> Plain:
    """Return a mapping in which each table says itself how its cells are written, as far as it has such cells."""
    data = deepcopy(mapping)
    cells = data.get("cells", {})
    shared = {key: cells.pop(key) for key in SIGNS if key in cells}
    for page in book.pages:
        table = _table(book, page, data)
        if table is not None:
            asked = {k: t for k, t in shared.items() if t != OPEN or _needed(page, table, k)}
            table["cells"] = {**asked, **table.get("cells", {})}
    return data


def _needed(page: Page, table: Plain, key: str) -> bool:
    """Whether a sheet has cells whose reading rests on a sign."""
    if key == "merged":
        return any(last >= max(_header(table)) for _, _, last, _ in page.merged)
    if key in ("dates", "serials"):
        return any(
            _is_date(_thing(table), str(c.get("field", ""))) for c in table.get("columns", {}).values()
        )
    return True


def _is_date(thing: Thing, path: str) -> bool:
    target = paths_of(thing).get(path)
    return target is not None and not target.tag and field_of(target).type is date


def refuse_malformed(data: Plain) -> None:
    """Raise InputError for plain data that is no mapping at all, so that it can be shown sheet by sheet."""
    tables = data.get("table", [])
    good = isinstance(tables, list) and all(
        isinstance(table, dict)
        and all(isinstance(table.get(key, {}), dict) for key in ("columns", "cells", "machine", "fixed"))
        and all(isinstance(table.get(key, []), list | str) for key in ("ignored", "skip", "carry_down"))
        and isinstance(table.get("sheet", ""), str)
        and all(
            isinstance(c, dict) and isinstance(c.get("words", {}), dict)
            for c in table.get("columns", {}).values()
        )
        for table in tables
    )
    good = good and all(isinstance(data.get(key, {}), dict) for key in ("cells", "csv"))
    if not good or not isinstance(data.get("not_read", []), list):
        step = "download a mapping here to see how one looks"
        raise InputError(Problem("is no mapping of a survey", "the mapping file", next_step=step))


def mapping_of(data: Plain) -> SurveyMapping:
    """Return a mapping that is settled. Raises InputError with all that is open or wrong, by its place."""
    try:
        return read_mapping_data(data, "")
    except InputError as error:
        raise InputError(_told(data, problem) for problem in error.problems) from None


def open_in(data: Plain) -> list[tuple[str, Problem]]:
    """Return what stands open or is wrong in a mapping, each with the sheet that it is of, empty for none."""
    try:
        read_mapping_data(data, "")
    except InputError as error:
        found = [(_sheet_of(data, problem.where), _told(data, problem)) for problem in error.problems]
        marks = any(problem.value == OPEN for problem in error.problems)
        return [*found, *_lacking(data)] if marks else found
    return []


def _lacking(data: Plain) -> list[tuple[str, Problem]]:
    """Return what the rows of each sheet must give and no column fills; a reader of marks alone does not come so far."""
    found = []
    for table in data.get("table", ()):
        thing, sheet = _thing(table), str(table.get("sheet", ""))
        filled = {str(c.get("field")) for c in table.get("columns", {}).values()} | {*table.get("fixed", {})}
        needed = [NEEDED_TAGS[thing]] if thing in NEEDED_TAGS else []
        for path in (*needed, *NEEDED.get(thing, ())):
            if path not in filled:
                place = f"sheet {sheet!r}" if sheet else ""
                found.append((sheet, Problem(f"which column fills {path}?", place)))
    return found


def _sheet_of(data: Plain, where: str) -> str:
    found = _TABLE.search(where)
    return str(data["table"][int(found[1])].get("sheet", "")) if found else ""


def _told(data: Plain, problem: Problem) -> Problem:
    """Return a problem of the mapping with its place as people see it: sheet, column, what of it."""
    found = _TABLE.match(problem.where)
    if not found:
        return problem
    sheet, rest = _sheet_of(data, problem.where), problem.where[found.end() :]
    place = [f"sheet {sheet!r}"] if sheet else []
    heading = max(
        (h for h in _table_columns(data, int(found[1])) if rest.startswith(f"columns.{h}")),
        key=len,
        default="",
    )
    if heading:
        place.append(f"column {heading!r}")
        rest = rest[len(f"columns.{heading}") :].strip(".")
    if problem.value == OPEN:
        return replace(problem, what=_asked(rest), where=", ".join(place), value="", next_step="")
    place += [rest] if rest else []
    return replace(problem, where=", ".join(place))


def _asked(rest: str) -> str:
    """Return what a question mark at a place of a table or of a column asks."""
    if rest in ("field", "unit"):
        return {"field": "which field is it, or is it not read?", "unit": "in which unit?"}[rest]
    if rest.startswith("words."):
        return f"what does {rest[6:]!r} mean?"
    key = rest.removeprefix("cells.")
    return f"{SIGNS[key][0]}: which?" if key in SIGNS else f"{rest}: what is it?"


def _table_columns(data: Plain, number: int) -> Mapping[str, Any]:
    columns = data["table"][number].get("columns", {})
    return columns if isinstance(columns, Mapping) else {}


def states(book: Book, data: Plain) -> list[SheetState]:
    """Return all sheets of a survey that hold anything, as the mapping has them."""
    opened = [sheet for sheet, _ in open_in(data)]
    found = []
    for page in book.pages:
        if any(any(row) for row in page.rows):
            table = _table(book, page, data)
            about = f"{table.get('rows', '')}s" if table else "not read"
            name = "" if table is None else str(table.get("sheet", ""))
            found.append(SheetState(page.name, table is not None, about, opened.count(name) if table else 0))
    return found


def page_of(book: Book, name: str) -> Page:
    """Return a sheet by its name. Raises InputError."""
    for page in book.pages:
        if page.name == name:
            return page
    names = ", ".join(page.name for page in book.pages)
    raise InputError(Problem("there is no such sheet", book.file, name[:64], names))


def _table(book: Book, page: Page, data: Plain) -> Plain | None:
    for table in data.get("table", ()):
        sheet = table.get("sheet", "")
        if sheet == page.name or (not sheet and page is book.pages[0]):
            found: Plain = table
            return found
    return None


def view(book: Book, data: Plain, name: str) -> SheetView:
    """Return a sheet as its page shows it. Raises InputError for one that is not there."""
    page = page_of(book, name)
    table = _table(book, page, data)
    filled = sum(any(cell != "" for cell in row) for row in page.rows)
    if table is None:
        return SheetView(name, False, Thing.POSITION, "1", filled, (), {}, "", "", "", (), (), "")
    thing, header = _thing(table), _header(table)
    trouble = ""
    try:
        headings = headings_of(page, header)
    except InputError as error:
        headings, trouble = (), error.problems[0].sentence()
    columns = tuple(
        _column(page, table, thing, max(header), at, heading)
        for at, heading in enumerate(headings)
        if heading.casefold() != WRONG
    )
    known = table.get("columns", {})
    return SheetView(
        name,
        True,
        thing,
        ", ".join(map(str, header)),
        max(0, filled - len(header)),
        tuple(c for c in columns if c.samples or c.field or not _nameless(c.heading)),
        {key: str(table.get("cells", {}).get(key, "." if key == "decimal" else "")) for key in SIGNS},
        _joined(table.get("skip", [])),
        _joined(table.get("carry_down", [])),
        str(table.get("machine", {}).get("before", "")),
        tuple((path, str(text)) for path, text in table.get("fixed", {}).items()),
        tuple(h for h in known if h not in headings),
        trouble,
    )


def _nameless(heading: str) -> bool:
    return re.fullmatch(r"column [A-Z]{1,3}", heading) is not None


def _thing(table: Plain) -> Thing:
    rows = table.get("rows")
    return Thing(rows) if rows in [thing.value for thing in Thing] else Thing.POSITION


def _header(table: Plain) -> tuple[int, ...]:
    header = table.get("header", 1)
    numbers = header if isinstance(header, list) else [header]
    return tuple(n for n in numbers if isinstance(n, int) and n > 0) or (1,)


def _joined(texts: Any) -> str:
    return "; ".join(map(str, texts if isinstance(texts, list) else [texts]))


def _column(page: Page, table: Plain, thing: Thing, top: int, at: int, heading: str) -> ColumnView:
    given = table.get("columns", {}).get(heading)
    given = given if isinstance(given, dict) else {}
    ignored = heading in table.get("ignored", ()) or _nameless(heading)
    path = str(given.get("field", "" if ignored else OPEN))
    choices, help_text, takes_unit = _about(thing, path)
    return ColumnView(
        at,
        heading,
        _samples(page, at, top),
        path,
        str(given.get("unit", "")),
        str(given.get("separator", SEPARATOR)),
        tuple((str(text), str(meaning)) for text, meaning in given.get("words", {}).items()),
        choices,
        _perhaps(heading, thing) if path == OPEN or not path else (),
        help_text,
        takes_unit,
    )


def _samples(page: Page, at: int, top: int) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for row in range(top, min(len(page.rows), top + _ROWS)):
        if at < len(page.rows[row]) and (text := page.text(row, at)):
            found[text] = None
            if len(found) == _SAMPLES:
                break
    return tuple(found)


def _perhaps(heading: str, thing: Thing) -> tuple[str, ...]:
    found = matches(heading, thing)
    near = tied(found) if found else ()
    return tuple(dict.fromkeys([*near, *(match.path for match in found)]))[:3]


def _about(thing: Thing, path: str) -> tuple[tuple[str, ...], str, bool]:
    """Return what a field may hold, its help, and whether it takes a unit."""
    if not path or path == OPEN:
        return (), "", False
    if path in TAGS_OF[thing]:
        return (), _TAG_HELP[path], False
    try:
        info = field_of(target_of(thing, path))
    except InputError:
        return (), "", False
    kind = choice_of(info)
    words = () if kind is None else (YES, NO) if kind is bool else tuple(str(one.value) for one in kind)
    return words, info.meta.help, isinstance(info.meta, Quantity)


@cache
def fields_for(thing: Thing) -> tuple[tuple[str, str], ...]:
    """Return the fields that a table of a thing may fill, each with its help."""
    return tuple((path, _about(thing, path)[1]) for path in paths_of(thing))


# Changes.


def read_sheet(book: Book, data: Plain, name: str, thing: Thing, header: tuple[int, ...]) -> Plain:
    """Return the mapping with a sheet read anew: what its rows are about and where its headings stand is said.

    Raises InputError where the sheet has no such rows.
    """
    page = page_of(book, name)
    headings_of(page, header)
    alone_book = replace(book, pages=(page,))
    alone = proposal_of(alone_book, {name: (thing, header)})
    table = settled_down(mapping_data(alone.text, _NAME), alone_book)["table"][0]
    new = leave_sheet(book, data, name)
    new["not_read"] = [one for one in new.get("not_read", []) if one != name]
    new["table"] = _in_order(book, [*new["table"], table])
    return new


def leave_sheet(book: Book, data: Plain, name: str) -> Plain:
    """Return the mapping with a sheet that is not read. Raises InputError where there is no such sheet."""
    page = page_of(book, name)
    new = deepcopy(data)
    table = _table(book, page, new)
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
    table = _table(book, page, new)
    if table is None:
        raise InputError(Problem("the sheet is not read", name, next_step="read it first"))
    thing, header = _thing(table), _header(table)
    headings = headings_of(page, header)
    before = table.get("columns", {})
    _refuse_unknown(thing, headings, given)
    paths = {c.at: c.field for c in given.columns if c.field in paths_of(thing)}
    proposal = table_as(book, page, thing, header, paths)
    proposals = {c.guess.at: c for c in proposal.columns}
    columns: Plain = {}
    for column in given.columns:
        heading = headings[column.at]
        if not column.field:
            continue
        entry: Plain = {"field": column.field}
        changed = column.field != before.get(heading, {}).get("field", "")
        found = proposals.get(column.at)
        known = found is not None and column.at in paths
        unit = found.unit if changed and known and found and not column.unit else column.unit
        words = dict(found.words) if changed and known and found else dict(column.words)
        separator = found.separator if changed and known and found else column.separator
        if unit and column.field != OPEN:
            entry["unit"] = unit
        if words:
            entry["words"] = words
        if separator and separator != SEPARATOR:
            entry["separator"] = separator
        columns[heading] = entry
    shown = {column.at for column in given.columns}
    rest = {h: before[h] for at, h in enumerate(headings) if at not in shown and h in before}
    table["columns"] = columns | rest
    table["ignored"] = [h for h in headings if h not in table["columns"] and h.casefold() != WRONG]
    table["cells"] = _signs(proposal.cells, given.cells, table.get("cells", {}))
    _put(table, "skip", _texts(given.skip))
    _put(table, "carry_down", _texts(given.carry_down))
    _put(table, "fixed", {p: t for p, t in {**proposal.fixed, **(given.fixed or {})}.items() if p and t})
    filled = {entry["field"] for entry in columns.values()}
    needs = proposal.before if not table.get("machine") else ""
    sign = "" if "tag.machine" in filled else given.before or needs
    _put(table, "machine", {"from": "position", "before": sign} if sign else {})
    return new


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


def blanks_of(data: Plain) -> str:
    """Return the texts that say nothing, parted by semicolons."""
    return _joined(data.get("cells", {}).get("blanks", []))
