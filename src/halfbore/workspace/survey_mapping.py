"""The mapping of a survey while a person works on it: plain data, seen and changed sheet by sheet, column by column.

It is the same data that a mapping file holds. What only a person can settle stands as a question mark in it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import replace
from datetime import date
from typing import Any

from halfbore.domain.survey import Plain, Thing
from halfbore.domain.survey_layout import NEEDED_TAGS
from halfbore.errors import InputError, Problem
from halfbore.intake.book import Book, Page
from halfbore.intake.mapping_file import mapping_data
from halfbore.intake.survey.mapping import OPEN, SurveyMapping, read_mapping_data
from halfbore.intake.survey.propose import proposal_of
from halfbore.intake.survey.targets import NEEDED, field_of, paths_of

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
NAME = "the mapping"
_TABLE = re.compile(r"table\[(\d+)\]\.?")


def proposed(book: Book) -> Plain:
    """Return the mapping that is proposed for a survey. Raises InputError where nothing in it looks like a table."""
    try:
        return settled_down(mapping_data(proposal_of(book).text, NAME), book)
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
        table = table_of(book, page, data)
        if table is not None:
            asked = {k: t for k, t in shared.items() if t != OPEN or _needed(page, table, k)}
            table["cells"] = {**asked, **table.get("cells", {})}
    return data


def _needed(page: Page, table: Plain, key: str) -> bool:
    """Whether a sheet has cells whose reading rests on a sign."""
    if key == "merged":
        return any(last >= max(header_of(table)) for _, _, last, _ in page.merged)
    if key in ("dates", "serials"):
        return any(
            _is_date(thing_of(table), str(c.get("field", ""))) for c in table.get("columns", {}).values()
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
        thing, sheet = thing_of(table), str(table.get("sheet", ""))
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


def page_of(book: Book, name: str) -> Page:
    """Return a sheet by its name. Raises InputError."""
    for page in book.pages:
        if page.name == name:
            return page
    names = ", ".join(page.name for page in book.pages)
    raise InputError(Problem("there is no such sheet", book.file, name[:64], names))


def table_of(book: Book, page: Page, data: Plain) -> Plain | None:
    """Return what a mapping says of a sheet, nothing where it is not read."""
    for table in data.get("table", ()):
        sheet = table.get("sheet", "")
        if sheet == page.name or (not sheet and page is book.pages[0]):
            found: Plain = table
            return found
    return None


def thing_of(table: Plain) -> Thing:
    """Return what the rows of a table are about."""
    rows = table.get("rows")
    return Thing(rows) if rows in [thing.value for thing in Thing] else Thing.POSITION


def header_of(table: Plain) -> tuple[int, ...]:
    """Return the rows of the headings of a table, counted from 1."""
    header = table.get("header", 1)
    numbers = header if isinstance(header, list) else [header]
    return tuple(n for n in numbers if isinstance(n, int) and n > 0) or (1,)
