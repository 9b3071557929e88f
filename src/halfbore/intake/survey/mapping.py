"""The mapping of a survey: which sheets are tables, what their rows are about, what each column fills.

A `"?"` stands for what only a person can settle; a mapping that still holds one is not read.
"""

from __future__ import annotations

import dataclasses
import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from halfbore import limits
from halfbore.domain.fields import Quantity
from halfbore.domain.survey import Thing
from halfbore.domain.survey_layout import FAILURE, NEEDED_TAGS, SEPARATOR, TAG_MACHINE, TAG_POSITION
from halfbore.errors import InputError, Problem
from halfbore.intake.book import DELIMITERS
from halfbore.intake.check import check_text
from halfbore.intake.mapping_file import mapping_data, mapping_text
from halfbore.intake.node import Node
from halfbore.intake.records import MONEY
from halfbore.intake.survey.targets import (
    CONDITION,
    NEEDED,
    TAGS_OF,
    Target,
    field_of,
    quantity_of,
    target_of,
)
from halfbore.intake.tables import ENCODINGS
from halfbore.units import parse

OPEN = "?"
BLANKS = ("-", "--", "–", "—", "n/a", "na", "k.A.", "s.o.", "n.d.")
"""What people write for "not known", in any case; an empty cell always is one."""
DATE_ORDERS = ("dmy", "mdy", "ymd")
SERIALS = ("1900", "1904")
MERGED = ("repeat", "blank")
MACHINE_FROM = "position"


@dataclass(frozen=True)
class Cells:
    """How cells are written.

    blanks: texts that say nothing; decimal, thousands: signs; dates: order of day, month and year where they are
    numbers; serials: origin of day numbers; merged: whether a merged cell holds for all that it covers.
    Empty: not said, and a cell that needs it is refused.
    """

    blanks: tuple[str, ...] = ()
    decimal: str = "."
    thousands: str = ""
    dates: str = ""
    serials: str = ""
    merged: str = ""


@dataclass(frozen=True)
class Column:
    """What one column fills. path: as the mapping gives it; words: texts of its cells and what they mean."""

    heading: str
    target: Target
    path: str = ""
    unit: str = ""
    words: tuple[tuple[str, str], ...] = ()
    separator: str = SEPARATOR


@dataclass(frozen=True)
class Table:
    """One sheet as a table.

    sheet: its name, empty for the first; header: rows of the headings, counted from 1; skip: how rows begin that are
    passed over; carry_down: headings whose cells hold until the next that is filled; fixed: what holds for every row;
    machine_before: the sign in a position's tag before whose last place the machine's tag stands, empty for none.
    """

    sheet: str
    thing: Thing
    header: tuple[int, ...]
    columns: tuple[Column, ...]
    ignored: tuple[str, ...] = ()
    skip: tuple[str, ...] = ()
    carry_down: tuple[str, ...] = ()
    fixed: tuple[tuple[Target, str], ...] = ()
    machine_before: str = ""
    cells: Cells = Cells()


@dataclass(frozen=True)
class SurveyMapping:
    """A mapping as read. not_read: sheets that are no tables; own: made of one of our own sheets."""

    tables: tuple[Table, ...]
    not_read: tuple[str, ...] = ()
    encoding: str = ""
    delimiter: str = ""
    own: bool = False


def read_mapping_file(path: Path) -> SurveyMapping:
    """Read the mapping of a survey.

    path: TOML file. Raises InputError with every problem in it, by its place.
    """
    return read_mapping_text(mapping_text(path), path.name)


def read_mapping_text(text: str, name: str = "the mapping file") -> SurveyMapping:
    """Read the mapping of a survey from TOML text, as `read_mapping_file` does."""
    return read_mapping_data(mapping_data(text, name), name)


def read_mapping_data(data: Mapping[str, Any], name: str = "the mapping file") -> SurveyMapping:
    """Read the mapping of a survey from plain data, as `read_mapping_file` does."""
    problems = [_unsettled(where) for where in _open(data, "")]
    if not problems:
        mapping = _mapping(Node(data, "", problems))
    if problems:
        raise InputError(dataclasses.replace(p, where=f"{name}, {p.where}".strip(", ")) for p in problems)
    return mapping


def _open(value: Any, where: str) -> list[str]:
    """Return the places that still hold a question mark."""
    if isinstance(value, Mapping):
        return [w for key, v in value.items() for w in _open(v, f"{where}.{key}".strip("."))]
    if isinstance(value, list):
        return (
            [w for i, v in enumerate(value) for w in _open(v, f"{where}[{i}]")]
            if where[-6:] != "blanks"
            else []
        )
    return [where] if value == OPEN else []


def _unsettled(where: str) -> Problem:
    return Problem("is not settled", where, OPEN, next_step="put what it is in place of the question mark")


def _mapping(top: Node) -> SurveyMapping:
    if top.numbers("format") != (1,):
        top.refuse("this version of the format is not known", "format", top.data.get("format"), "1")
    top.text("survey", "")
    csv = top.table("csv")
    cells = _cells(top.table("cells"), Cells())
    mapping = SurveyMapping(
        tuple(_table(node, cells) for node in top.tables("table")),
        top.texts("not_read"),
        csv.text("encoding", "", ("", *ENCODINGS)),
        csv.text("delimiter", "", ("", *DELIMITERS)),
    )
    csv.close()
    if not mapping.tables:
        top.refuse(
            "is missing: nothing would be read",
            "table",
            accepted="[[table]], one for each sheet that is read",
        )
    named = [t.sheet for t in mapping.tables]
    for sheet in sorted({n for n in named if named.count(n) > 1}):
        top.refuse("two tables are on one sheet", "table", sheet, "one [[table]] for a sheet")
    top.close()
    return mapping


def _cells(node: Node, above: Cells) -> Cells:
    cells = Cells(
        blanks=node.texts("blanks", above.blanks),
        decimal=node.text("decimal", above.decimal, (".", ",")),
        thousands=node.text("thousands", above.thousands, ("", ".", ",", " ", "'")),
        dates=node.text("dates", above.dates, ("", *DATE_ORDERS)),
        serials=node.text("serials", above.serials, ("", *SERIALS)),
        merged=node.text("merged", above.merged, ("", *MERGED)),
    )
    if cells.thousands == cells.decimal:
        node.refuse("is the decimal sign as well", "thousands", cells.thousands, "another sign, or none")
    node.close()
    return cells


def _table(node: Node, cells: Cells) -> Table:
    things = {thing.value: thing for thing in Thing}
    thing = things.get(node.text("rows", choices=things), Thing.POSITION)
    machine = node.table("machine")
    before = machine.text("before", "") if machine.data else ""
    if machine.data:
        machine.text("from", choices=(MACHINE_FROM,))
        if not before:
            machine.refuse("is missing", "before", accepted='a sign, such as "-"')
        if TAG_POSITION not in TAGS_OF[thing]:
            node.refuse(f"rows about a {thing.value} have no position", "machine")
    machine.close()
    table = Table(
        sheet=node.text("sheet", ""),
        thing=thing,
        header=node.numbers("header", (1,)),
        columns=_columns(node.table("columns"), thing),
        ignored=node.texts("ignored"),
        skip=node.texts("skip"),
        carry_down=node.texts("carry_down"),
        fixed=_fixed(node.table("fixed"), thing),
        machine_before=before,
        cells=_cells(node.table("cells"), cells),
    )
    _refuse_contradictions(node, table)
    node.close()
    return table


def _refuse_contradictions(node: Node, table: Table) -> None:
    if list(table.header) != sorted(set(table.header)) or max(table.header, default=1) > limits.ROWS:
        node.refuse("headings stand in rows that follow each other", "header", table.header)
    if any(not text.strip() for text in table.skip):
        node.refuse("an empty text would skip every row", "skip")
    targets = [(c.target, f"columns.{c.heading}") for c in table.columns]
    targets += [(target, "fixed") for target, _ in table.fixed]
    counts = Counter(target for target, _ in targets)
    for target, where in targets:
        if counts[target] > 1:
            node.refuse(
                "two columns fill one field",
                where,
                target.path,
                "a field for each column; list others in ignored",
            )
    headings = {c.heading for c in table.columns}
    for heading in table.ignored:
        if heading in headings:
            node.refuse("the column is mapped and ignored", "ignored", heading)
    for heading in table.carry_down:
        if heading not in headings:
            node.refuse("is no mapped column", "carry_down", heading, ", ".join(sorted(headings)[:12]))
    told = {target.path for target, _ in targets if target.tag}
    needed = NEEDED_TAGS.get(table.thing)
    if needed and needed not in told:
        node.refuse(
            f"a column must fill {needed}", "columns", accepted=f'"heading" = {{ field = "{needed}" }}'
        )
    if table.machine_before and TAG_MACHINE in told:
        node.refuse("a column tells the machine already", "machine")
    _refuse_nameless(node, table, [target for target, _ in targets])


def _refuse_nameless(node: Node, table: Table, targets: list[Target]) -> None:
    """Refuse what is told of a thing of a list without what tells it apart from the others."""
    for thing in NEEDED:
        paths = {target.path for target in targets if target.thing is thing and not target.tag}
        prefix = (
            ""
            if thing is table.thing
            else {Thing.CONDITION: f"{CONDITION}.", Thing.FAILURE: f"{FAILURE}."}.get(thing, "")
        )
        for path in NEEDED[thing] if paths or thing is table.thing else ():
            if path not in paths:
                node.refuse(f"a column, or fixed, must fill {prefix}{path}", "columns")


def _columns(node: Node, thing: Thing) -> tuple[Column, ...]:
    columns = []
    for heading in node.data:
        below = node.table(heading)
        path = below.text("field")
        target = _target(below, thing, path, "field")
        if target is not None:
            columns.append(_column(below, heading, target, path))
        else:
            below.asked.extend(("unit", "words", "separator"))
        below.close()
    return tuple(columns)


def _target(node: Node, thing: Thing, path: str, key: str) -> Target | None:
    if not path:
        return None
    try:
        return target_of(thing, path)
    except InputError as error:
        node.refuse(error.problems[0].what, key, path, error.problems[0].accepted)
        return None


def _column(node: Node, heading: str, target: Target, path: str) -> Column:
    words = node.table("words")
    column = Column(
        heading,
        target,
        path,
        node.text("unit", ""),
        tuple((text, words.text(text)) for text in words.data),
        node.text("separator", SEPARATOR),
    )
    if column.unit:
        _check_unit(node, column, quantity_of(target))
    for text, meaning in column.words:
        if not target.tag and meaning:
            _check_fixed(words, target, text, meaning)
    return column


def _check_unit(node: Node, column: Column, meta: Quantity | None) -> None:
    if meta is None:
        node.refuse("the field takes no unit", "unit", column.unit)
        return
    code = re.search(r"[A-Z]{3}|€", column.unit)
    currency = (code[0] if code[0] != "€" else "EUR") if code and meta.kind in MONEY else None
    try:
        parse(f"0 {column.unit}", meta.kind, currency=currency)
    except InputError as error:
        node.refuse(error.problems[0].what, "unit", column.unit, error.problems[0].accepted)


def _fixed(node: Node, thing: Thing) -> tuple[tuple[Target, str], ...]:
    fixed = []
    for path in node.data:
        text = node.text(path)
        target = _target(node, thing, path, path)
        if target is None or not text:
            continue
        fixed.append((target, text))
        if not target.tag:
            _check_fixed(node, target, path, text)
    return tuple(fixed)


def _check_fixed(node: Node, target: Target, key: str, text: str) -> None:
    """Refuse a text of the mapping itself that is no value of its field."""
    try:
        check_text(field_of(target), text, "")
    except InputError as error:
        problem = error.problems[0]
        node.refuse(problem.what, key, text, problem.accepted)
