"""The mapping file: how a supplier's table becomes units, in that supplier's headings, units and letters.

A field takes `{ heading = "…", unit = "…", letters = { … } }`, `{ pattern = "d{Seat}.w{Row}" }` or a text
that stands for every row; where there are several tables, `table = "…"` says which. `[[expand]]` tells of a column
in which one row stands for several units.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping as AnyMapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from halfbore.domain.fields import Quantity, fields_of
from halfbore.domain.unit import COLUMNS, UnitTable
from halfbore.errors import InputError, Problem
from halfbore.intake.layout import Layout, Ref, Table, open_marks, reference, tables_of
from halfbore.intake.mapping_file import mapping_data, mapping_text
from halfbore.intake.node import Node

FIELDS = {info.name: info for info in fields_of(UnitTable) if info.name not in ("supplier", "currency")}
PATHS = tuple(f"{n}.{c}" if c else n for n in FIELDS for c in COLUMNS.get(n, ("",)))
"""What a mapping fills: the fields of a unit, `field.column` for one that has several columns."""
NEEDED = (
    "code",
    "size",
    "bore",
    "row_size",
    "locating",
    "support",
    *(p for p in PATHS if "seal_offered" in p),
)
"""What every unit must have; anything else may be blank."""
CURRENCY = re.compile("[A-Z]{3}")
PLACEHOLDER = re.compile(r"\{([^{}]+)\}")
"""What stands in a pattern for a cell."""


@dataclass(frozen=True)
class Spec:
    """Where the values of one field come from: a column of a table, a pattern of columns, or a constant."""

    table: str = ""
    heading: str = ""
    unit: str = ""
    letters: tuple[tuple[str, str], ...] = ()
    pattern: str = ""
    constant: str = ""
    where: str = field(default="", compare=False)


@dataclass(frozen=True)
class Expansion:
    """A column that lists options, each of which makes a unit of its own; an option overlays the fields."""

    column: Ref
    separator: str
    options: dict[str, dict[str, Spec]]


@dataclass(frozen=True)
class Mapping:
    """A mapping file as read; scheme stays plain until the sizes are known.

    currency: of all prices, or the column that names it.
    """

    supplier: str
    version: str
    invented: bool
    currency: Spec
    tables: dict[str, Table]
    fields: dict[str, Spec]
    expansions: tuple[Expansion, ...]
    scheme: AnyMapping[str, Any]

    @property
    def layout(self) -> Layout:
        """How the first table is written."""
        return next(iter(self.tables.values())).layout


def read_mapping(path: Path) -> Mapping:
    """Read a mapping file.

    path: TOML file. Returns the mapping. Raises InputError with every problem in it, by its place.
    """
    return read_mapping_text(mapping_text(path), path.name)


def read_mapping_text(text: str, name: str = "the mapping file") -> Mapping:
    """Read a mapping from TOML text, as `read_mapping` does."""
    return read_mapping_data(mapping_data(text, name), name)


def read_mapping_data(data: AnyMapping[str, Any], name: str = "the mapping file") -> Mapping:
    """Read a mapping from plain data, as `read_mapping` does."""
    problems: list[Problem] = list(open_marks(data))
    mapping = None if problems else _mapping(Node(data, "", problems))
    if mapping is None or problems:
        raise InputError(dataclasses.replace(p, where=f"{name}, {p.where}".strip(", ")) for p in problems)
    return mapping


def _mapping(top: Node) -> Mapping:
    if top.numbers("format") != (1,):
        top.refuse("this version of the format is not known", "format", top.data.get("format"), "1")
    tables = tables_of(top)
    fields = _fields(top.table("fields"), tables)
    expansions = tuple(_expansion(node, tables) for node in top.tables("expand"))
    for path in NEEDED:
        if path not in fields and not any(path in o for e in expansions for o in e.options.values()):
            top.refuse(
                "is missing: every unit must have it", f"fields.{path}", accepted="a heading or a text"
            )
    mapping = Mapping(
        supplier=top.text("supplier"),
        version=top.text("version"),
        invented=top.flag("invented", False),
        currency=_currency(top, tables),
        tables=tables,
        fields=fields,
        expansions=expansions,
        scheme=top.table("scheme").data,
    )
    top.close()
    return mapping


def _currency(top: Node, tables: AnyMapping[str, Table]) -> Spec:
    """Return the currency of all prices, or the column that names it."""
    if isinstance(top.data.get("currency"), AnyMapping):
        return _spec(top, "currency", "currency", tables)
    text = top.text("currency")
    if not CURRENCY.fullmatch(text):
        top.refuse("is no currency code", "currency", text, "such as EUR")
    return Spec(constant=text, where="currency")


def _table_name(node: Node, tables: AnyMapping[str, Table], needed: bool = True) -> str:
    """Return the table that a column stands in: it must be said where there are several."""
    if "" in tables:
        return ""
    name = node.text("table", None if needed else "", tables)
    return name if name in tables else ""


def _expansion(node: Node, tables: AnyMapping[str, Table]) -> Expansion:
    column = Ref(_table_name(node, tables), node.text("heading"))
    separator = node.text("separator")
    options = node.table("options")
    found = {key: _fields(options.table(key), tables) for key in options.data}
    if not found:
        node.refuse("has no option", "options")
    node.close()
    return Expansion(column, separator, found)


def _fields(node: Node, tables: AnyMapping[str, Table]) -> dict[str, Spec]:
    specs: dict[str, Spec] = {}
    for name in FIELDS:
        node.asked.append(name)
        if name in node.data and name in COLUMNS:
            below = node.table(name)
            specs |= {f"{name}.{c}": _spec(below, c, name, tables) for c in COLUMNS[name] if c in below.data}
            below.asked.extend(COLUMNS[name])
            below.close()
        elif name in node.data:
            specs[name] = _spec(node, name, name, tables)
    node.close()
    return specs


def _spec(node: Node, key: str, name: str, tables: AnyMapping[str, Table]) -> Spec:
    where = f"{node.where}.{key}".lstrip(".")
    if isinstance(node.data[key], str):
        return Spec(constant=node.data[key], where=where)
    below = node.table(key)
    heading, pattern = below.text("heading", ""), below.text("pattern", "")
    measured = name in FIELDS and isinstance(FIELDS[name].meta, Quantity)
    spec = Spec(
        table=_table_name(below, tables, needed=not pattern),
        heading=heading,
        unit=below.text("unit", "") if measured else "",
        letters=_letters(below.table("letters")),
        pattern=pattern,
        where=where,
    )
    if bool(spec.heading) == bool(spec.pattern):
        below.refuse("needs a heading or a pattern, one of both", accepted="heading or pattern")
    for text in PLACEHOLDER.findall(pattern):
        if reference(text, tables, spec.table).table not in tables:
            below.refuse("names no table", "pattern", text, ", ".join(f"{{{t}.heading}}" for t in tables))
    below.close()
    return spec


def _letters(node: Node) -> tuple[tuple[str, str], ...]:
    return tuple((text, node.text(text)) for text in node.data)
