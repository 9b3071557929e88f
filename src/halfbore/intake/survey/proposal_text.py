"""A proposed mapping as a file for people: what is proposed, how sure it is, what to settle and how."""

from __future__ import annotations

import json
import re

from halfbore.domain.survey_layout import NEEDED_TAGS, SEPARATOR
from halfbore.intake.book import Book
from halfbore.intake.survey.columns import Guess, sureness
from halfbore.intake.survey.mapping import BLANKS, OPEN
from halfbore.intake.survey.proposal import ColumnProposal, Proposal, TableProposal
from halfbore.intake.survey.targets import NEEDED

_ABOUT = """\
# How {file} is read: a proposal. Nothing is imported before you have looked it through.
# 1. Put what it is in place of every "?".
# 2. Look at the lines that say "likely"; give a column another field, or move its heading to ignored.
# 3. Import with this file: halfbore import survey {file} --mapping {mapping}
# The fields stand in docs/fields.md; tag.machine, tag.shaft_line and tag.position say what a row is about.
"""
_CELLS = {
    "decimal": 'decimal sign of the numbers: "." or ","',
    "thousands": 'sign between thousands: "." "," " " or "\'"; "" for none, such numbers are then refused',
    "dates": 'order in dates such as 03/04/2025: "dmy", "mdy" or "ymd"',
    "serials": 'day numbers such as 45827 count from "1900" or "1904"',
    "merged": '"repeat" if a merged cell holds for every row it covers, "blank" if for the first only',
}
_SHOWN, _LONG = 3, 24


def written(book: Book, tables: list[TableProposal], rest: list[str]) -> Proposal:
    """Return a proposal as the text of a mapping file, with what is left to settle."""
    mapping = f"{book.file}.mapping.toml"
    lines = [
        _ABOUT.format(file=_comment(book.file), mapping=_comment(mapping)),
        "format = 1",
        f"survey = {_q(book.file)}",
    ]
    if rest:
        lines.append(f"not_read = {_list(rest)}  # sheets that look like no table of a survey")
    lines += ["", "[cells]  # how the cells are written"]
    lines += [*_cells(_common(tables)), *_blanks(tables)]
    if book.encoding:
        lines += ["", "[csv]", f"encoding = {_q(book.encoding)}", f"delimiter = {_q(book.delimiter)}"]
    for table in tables:
        lines += ["", *_table(table, _common(tables))]
    text = "\n".join(lines) + "\n"
    return Proposal(text, _open(tables))


def _common(tables: list[TableProposal]) -> dict[str, str]:
    """Return what is written alike in all sheets."""
    common: dict[str, str] = {}
    for key in _CELLS:
        values = {table.cells[key] for table in tables if key in table.cells}
        if len(values) == 1:
            common[key] = values.pop()
    return common


def _cells(cells: dict[str, str]) -> list[str]:
    return [f"{key} = {_q(cells[key])}  # {about}" for key, about in _CELLS.items() if key in cells]


def _blanks(tables: list[TableProposal]) -> list[str]:
    found = [text for table in tables for text in table.cells["blanks"].split("\n") if text]
    return [f"blanks = {_list([*BLANKS, *dict.fromkeys(found)])}  # what says nothing, as an empty cell does"]


def _table(table: TableProposal, common: dict[str, str]) -> list[str]:
    draft = table.draft
    header = draft.header[0] if len(draft.header) == 1 else list(draft.header)
    lines = ["[[table]]"]
    if draft.page.name:
        hidden = "  # the sheet is hidden" if draft.page.hidden else ""
        lines.append(f"sheet = {_q(draft.page.name)}{hidden}")
    lines.append(f"rows = {_q(draft.thing.value)}  # what a row is about: {table.rows} of them")
    lines.append(f"header = {header}  # row of the headings, counted from 1")
    if table.skip:
        lines.append(f"skip = {_list(list(table.skip))}  # rows that begin so are passed over, and named")
    if table.before:
        before = _q(table.before)
        lines.append(
            f'machine = {{ from = "position", before = {before} }}  # the tag up to its last {before}'
        )
    if table.carry_down:
        about = "an empty cell of these takes the one above it, and the import counts them"
        lines.append(f"carry_down = {_list(list(table.carry_down))}  # {about}")
    if table.kind_once:
        lines.append(
            f"# add {_q(table.kind_once)} to carry_down if it holds for the machines below it as well"
        )
    ignored = [c for c in table.columns if not c.guess.path and (c.samples or not _nameless(c.guess))]
    if ignored:
        lines.append("ignored = [  # columns that are not read; give one a field below if it has one")
        lines += [f"  {_q(c.guess.heading)},{_why_ignored(c)}" for c in ignored]
        lines.append("]")
    if table.fixed:
        lines += ["", "[table.fixed]  # holds for every row"]
        lines += [f"{_q(path)} = {_q(text)}" for path, text in table.fixed.items()]
    own = {key: table.cells[key] for key in _CELLS if key in table.cells and key not in common}
    if own:
        lines += ["", "[table.cells]  # differs from other sheets", *_cells(own)]
    lines += [
        "",
        "[table.columns]",
        *(f"# no column is known to fill {path}: give one that field" for path in _lacking(table)),
    ]
    lines += [_column(c) for c in table.columns if c.guess.path]
    return lines


def _lacking(table: TableProposal) -> list[str]:
    """Return what every row must give and no column is known to fill."""
    thing = table.draft.thing
    tag = NEEDED_TAGS.get(thing)
    return [
        path for path in (*([tag] if tag else []), *NEEDED.get(thing, ())) if table.draft.column(path) is None
    ]


def _nameless(guess: Guess) -> bool:
    return re.fullmatch(r"column [A-Z]{1,3}", guess.heading) is not None


def _column(column: ColumnProposal) -> str:
    guess = column.guess
    parts = [f"field = {_q(guess.path)}"]
    if column.unit:
        parts.append(f"unit = {_q(column.unit)}")
    if column.words:
        words = ", ".join(f"{_q(text)} = {_q(meaning)}" for text, meaning in column.words.items())
        parts.append(f"words = {{ {words} }}")
    if column.separator and column.separator != SEPARATOR:
        parts.append(f"separator = {_q(column.separator)}")
    how = (
        sureness(guess)
        if guess.path != OPEN
        else f"not sure: {' or '.join(guess.others)}? or move it to ignored"
    )
    if OPEN in column.words.values():
        how += "; say what each word means, or take it out: its rows are then rejected"
    if column.unit == OPEN:
        how += "; the unit is nowhere given"
    return f"{_q(guess.heading)} = {{ {', '.join(parts)} }}  # {how}{_samples(column)}"


def _why_ignored(column: ColumnProposal) -> str:
    said = _comment(column.guess.note)
    note = "; ".join(part for part in (said, _samples(column).removeprefix("; ")) if part)
    return f"  # {note}" if note else ""


def _samples(column: ColumnProposal) -> str:
    shown = ", ".join(_short(text) for text in column.samples[:_SHOWN])
    return f"; such as {shown}" if shown else ""


def _short(text: str) -> str:
    plain = _comment(" ".join(text.split()))
    return plain if len(plain) <= _LONG else f"{plain[: _LONG - 1]}…"


def _comment(text: str) -> str:
    return "".join(c if c.isprintable() else " " for c in text)


def _open(tables: list[TableProposal]) -> tuple[str, ...]:
    """Return what a person has to settle, each once."""
    found = []
    for table in tables:
        page = table.draft.page.place
        found += [f"{page}: {about}" for key, about in _CELLS.items() if table.cells.get(key) == OPEN]
        found += [f"{page}: which column fills {path}?" for path in _lacking(table)]
        for column in table.columns:
            place = f"{page}, column {column.guess.heading!r}"
            if column.guess.path == OPEN:
                found.append(f"{place}: which field is it? {' or '.join(column.guess.others)}, or none")
            if column.unit == OPEN:
                found.append(f"{place}: in which unit?")
            words = [text for text, meaning in column.words.items() if meaning == OPEN]
            if words:
                found.append(f"{place}: what do these words mean? {', '.join(_short(w) for w in words)}")
    return tuple(found)


def _list(texts: list[str]) -> str:
    return "[" + ", ".join(_q(text) for text in texts) + "]"


def _q(text: str) -> str:
    """Return a text as a TOML string."""
    plain = json.dumps(text, ensure_ascii=False)
    return "".join(c if c.isprintable() else f"\\U{ord(c):08X}" for c in plain)
