"""The mapping of a survey as it is looked at: sheet by sheet, column by column, with what stands open."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from halfbore.domain.fields import Quantity
from halfbore.domain.survey import Plain, Thing
from halfbore.domain.survey_layout import NO, SEPARATOR, WRONG, YES
from halfbore.errors import InputError
from halfbore.intake.book import Book, Page
from halfbore.intake.survey.headings import matches, tied
from halfbore.intake.survey.mapping import OPEN
from halfbore.intake.survey.rows import headings_of
from halfbore.intake.survey.targets import TAGS_OF, field_of, paths_of, target_of
from halfbore.intake.survey.words import choice_of
from halfbore.workspace.survey_mapping import SIGNS, header_of, open_in, page_of, table_of, thing_of

_SAMPLES, _ROWS = 3, 400
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


def states(book: Book, data: Plain) -> list[SheetState]:
    """Return all sheets of a survey that hold anything, as the mapping has them."""
    opened = [sheet for sheet, _ in open_in(data)]
    found = []
    for page in book.pages:
        if any(any(row) for row in page.rows):
            table = table_of(book, page, data)
            about = f"{table.get('rows', '')}s" if table else "not read"
            name = "" if table is None else str(table.get("sheet", ""))
            found.append(SheetState(page.name, table is not None, about, opened.count(name) if table else 0))
    return found


def view(book: Book, data: Plain, name: str) -> SheetView:
    """Return a sheet as its page shows it. Raises InputError for one that is not there."""
    page = page_of(book, name)
    table = table_of(book, page, data)
    filled = sum(any(cell != "" for cell in row) for row in page.rows)
    if table is None:
        return SheetView(name, False, Thing.POSITION, "1", filled, (), {}, "", "", "", (), (), "")
    thing, header = thing_of(table), header_of(table)
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


def blanks_of(data: Plain) -> str:
    """Return the texts that say nothing, parted by semicolons."""
    return _joined(data.get("cells", {}).get("blanks", []))


def _nameless(heading: str) -> bool:
    return re.fullmatch(r"column [A-Z]{1,3}", heading) is not None


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
