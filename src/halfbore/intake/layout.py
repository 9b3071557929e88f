"""The tables of a mapping: where each stands, how its cells are written, and how it joins the tables above it.

`[table]` alone is one table; with `[tables.NAME]` it holds what they share. The first table begins the units; each
further one adds to every unit the row whose key cells are those of the unit.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import PurePath
from typing import Any

from halfbore import limits
from halfbore.errors import Problem
from halfbore.intake.node import Node
from halfbore.intake.tables import ENCODINGS

_NAME = re.compile(r"[a-z][a-z0-9_-]*")


@dataclass(frozen=True)
class Ref:
    """A column of one of the tables; a mapping of one table calls it the empty text."""

    table: str
    heading: str


@dataclass(frozen=True)
class Layout:
    """The file and how its cells are written; ignored: headings that are left unread on purpose."""

    file: str
    sheet: str
    encoding: str
    delimiter: str
    decimal: str
    header: tuple[int, ...]
    blanks: tuple[str, ...]
    skip: tuple[str, ...]
    ignored: tuple[str, ...] = ()


class Missing(StrEnum):
    """What becomes of a unit for which a joined table has no row."""

    REFUSE = "refuse"
    LEAVE_OUT = "leave out"
    BLANK = "blank"


@dataclass(frozen=True)
class Table:
    """One table and how it joins.

    only: heading → the cells of the rows that belong to it; keys: own heading → the column whose cell it must be;
    each: every row of the key makes a unit of its own, else a key has one row.
    """

    layout: Layout
    only: tuple[tuple[str, tuple[str, ...]], ...] = ()
    keys: tuple[tuple[str, Ref], ...] = ()
    each: bool = False
    missing: Missing = Missing.REFUSE


def tables_of(top: Node) -> dict[str, Table]:
    """Return the tables of a mapping by name, in their order; a single one without a name."""
    shared, named = top.table("table"), top.table("tables")
    if not named.data:
        return {"": _table(shared, "", {})}
    if len(named.data) > limits.TABLES:
        named.refuse("too many tables", value=len(named.data), accepted=f"up to {limits.TABLES}")
        return {}
    found: dict[str, Table] = {}
    for name in named.data:
        if not _NAME.fullmatch(name):
            named.refuse("is no name of a table", name, name, "small letters, digits, - and _")
        found[name] = _table(_Over(named.table(name), shared), name, found)
    return found


def reference(text: str, tables: Iterable[str], own: str = "") -> Ref:
    """Return the column that `table.heading` names; without the name of a table a heading of its own one."""
    name, dot, heading = text.partition(".")
    return Ref(name, heading) if dot and name in tables else Ref(own, text)


class _Over(Node):
    """A table over the one that holds what all share: a problem is told where its value stands."""

    def __init__(self, own: Node, shared: Node) -> None:
        super().__init__({**shared.data, **own.data}, own.where, own.problems)
        self.own, self.shared = own, shared

    def refuse(self, what: str, key: str = "", value: object = "", accepted: str = "") -> None:
        told_at = self.shared if key in self.shared.data and key not in self.own.data else self.own
        before = len(self.problems)
        told_at.refuse(what, key, value, accepted)
        if self.problems[-1] in self.problems[:before]:
            self.problems.pop()  # another table has told of the same shared value


def _table(node: Node, name: str, above: Mapping[str, Table]) -> Table:
    layout = _layout(node)
    joins = bool(above)
    table = Table(
        layout,
        _only(node) if name else (),
        _keys(node.table("keys"), above) if joins else (),
        joins and node.text("matches", "one", ("one", "each")) == "each",
    )
    if joins:
        usual = Missing.LEAVE_OUT if table.each else Missing.REFUSE
        missing = node.text("missing", usual, [m.value for m in Missing])
        table = Table(layout, table.only, table.keys, table.each, _missing(missing, usual))
        if not table.keys:
            node.refuse(
                "needs keys that join it to a table above", "keys", accepted='{ "Own" = "table.Other" }'
            )
    node.close()
    return table


def _missing(text: str, usual: Missing) -> Missing:
    return Missing(text) if text in list(Missing) else usual


def _only(node: Node) -> tuple[tuple[str, tuple[str, ...]], ...]:
    below = node.table("only")
    return tuple((heading, below.texts(heading)) for heading in below.data)


def _keys(node: Node, above: Mapping[str, Any]) -> tuple[tuple[str, Ref], ...]:
    found = []
    for heading in node.data:
        text = node.text(heading)
        ref = reference(text, above)
        if not ref.table and text:
            node.refuse("names no table above", heading, text, ", ".join(f"{t}.heading" for t in above))
        found.append((heading, ref))
    return tuple(found)


def _layout(node: Node) -> Layout:
    layout = Layout(
        file=node.text("file"),
        sheet=node.text("sheet", ""),
        encoding=node.text("encoding", "utf-8", ENCODINGS),
        delimiter=node.text("delimiter", ","),
        decimal=node.text("decimal", ".", (".", ",")),
        header=node.numbers("header", (1,)),
        blanks=node.texts("blanks", ("",)),
        skip=node.texts("skip"),
        ignored=node.texts("ignored"),
    )
    if not is_name(layout.file):
        node.refuse("is a path", "file", layout.file, "the name of a file beside the mapping file")
    if "" in layout.skip:
        node.refuse("an empty text would skip every row", "skip")
    if len(layout.delimiter) != 1:
        node.refuse("is not one character", "delimiter", layout.delimiter)
    if not layout.header:
        node.refuse("names no row", "header", accepted="the row of the headings, counted from 1")
    return layout


def is_name(file: str) -> bool:
    """Return whether a text is the name of a file and no way to another folder; an empty one is told elsewhere."""
    return PurePath(file).name == file and file not in ("..", ".") and not set("\\/\0") & set(file)


def open_marks(data: Any, where: str = "") -> Iterable[Problem]:
    """Yield the places where a mapping still holds the "?" of a proposal."""
    if isinstance(data, dict):
        for key, value in data.items():
            if key not in ("blanks", "skip", "ignored"):
                yield from open_marks(value, f"{where}.{key}" if where else str(key))
    elif isinstance(data, list):
        for i, value in enumerate(data):
            yield from open_marks(value, f"{where}[{i}]")
    elif data == "?":
        yield Problem("is not settled", where, "?", next_step="put what it is in place of the question mark")
