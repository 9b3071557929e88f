"""The mapping file: how a supplier's table becomes units, in that supplier's headings, units and letters.

A field takes `{ heading = "…", unit = "…", letters = { … } }`, `{ pattern = "d{Seat}.w{Row}" }` or a text
that stands for every row. `[[expand]]` tells of a column in which one row stands for several units.
"""

from __future__ import annotations

import dataclasses
import re
import tomllib
from collections.abc import Mapping as AnyMapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from halfbore import limits
from halfbore.domain.fields import Quantity, fields_of
from halfbore.domain.unit import COLUMNS, UnitTable
from halfbore.errors import InputError, LimitError, Problem
from halfbore.intake.node import Node
from halfbore.intake.tables import ENCODINGS

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


@dataclass(frozen=True)
class Spec:
    """Where the values of one field come from: a column, a pattern of columns, or a constant."""

    heading: str = ""
    unit: str = ""
    letters: tuple[tuple[str, str], ...] = ()
    pattern: str = ""
    constant: str = ""
    where: str = field(default="", compare=False)


@dataclass(frozen=True)
class Layout:
    """The file and how its cells are written."""

    file: str
    sheet: str
    encoding: str
    delimiter: str
    decimal: str
    header: tuple[int, ...]
    blanks: tuple[str, ...]
    skip: tuple[str, ...]


@dataclass(frozen=True)
class Expansion:
    """A column that lists options, each of which makes a unit of its own; an option overlays the fields."""

    heading: str
    separator: str
    options: dict[str, dict[str, Spec]]


@dataclass(frozen=True)
class Mapping:
    """A mapping file as read; scheme stays plain until the sizes are known."""

    supplier: str
    version: str
    invented: bool
    currency: str
    layout: Layout
    fields: dict[str, Spec]
    expansions: tuple[Expansion, ...]
    scheme: AnyMapping[str, Any]


def read_mapping(path: Path) -> Mapping:
    """Read a mapping file.

    path: TOML file. Returns the mapping. Raises InputError with every problem in it, by its place.
    """
    try:
        if path.stat().st_size > limits.MAPPING_SIZE:
            raise LimitError(Problem("the mapping file is too large", str(path), accepted="up to 1 MB"))
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        step = "check the name and the folder"
        raise InputError(Problem("no such mapping file", str(path), next_step=step)) from None
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(Problem(f"cannot be read: {error}", str(path), accepted="TOML in UTF-8")) from None
    return read_mapping_text(text, path.name)


def read_mapping_text(text: str, name: str = "the mapping file") -> Mapping:
    """Read a mapping from TOML text, as `read_mapping` does."""
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # a number of thousands of digits is a ValueError
        raise InputError(Problem(f"is not TOML: {error}", name)) from None
    return read_mapping_data(data, name)


def read_mapping_data(data: AnyMapping[str, Any], name: str = "the mapping file") -> Mapping:
    """Read a mapping from plain data, as `read_mapping` does."""
    problems: list[Problem] = []
    mapping = _mapping(Node(data, "", problems))
    if problems:
        raise InputError(dataclasses.replace(p, where=f"{name}, {p.where}".strip(", ")) for p in problems)
    return mapping


def _mapping(top: Node) -> Mapping:
    if top.numbers("format") != (1,):
        top.refuse("this version of the format is not known", "format", top.data.get("format"), "1")
    fields = _fields(top.table("fields"))
    expansions = tuple(_expansion(node) for node in top.tables("expand"))
    for path in NEEDED:
        if path not in fields and not any(path in o for e in expansions for o in e.options.values()):
            top.refuse(
                "is missing: every unit must have it", f"fields.{path}", accepted="a heading or a text"
            )
    mapping = Mapping(
        supplier=top.text("supplier"),
        version=top.text("version"),
        invented=top.flag("invented", False),
        currency=top.text("currency"),
        layout=_layout(top.table("table")),
        fields=fields,
        expansions=expansions,
        scheme=top.table("scheme").data,
    )
    if not re.fullmatch("[A-Z]{3}", mapping.currency):
        top.refuse("is no currency code", "currency", mapping.currency, "such as EUR")
    top.close()
    return mapping


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
    )
    if Path(layout.file).name != layout.file:
        node.refuse("is a path", "file", layout.file, "the name of a file beside the mapping file")
    if "" in layout.skip:
        node.refuse("an empty text would skip every row", "skip")
    if len(layout.delimiter) != 1:
        node.refuse("is not one character", "delimiter", layout.delimiter)
    node.close()
    return layout


def _expansion(node: Node) -> Expansion:
    heading, separator = node.text("heading"), node.text("separator")
    options = node.table("options")
    found = {key: _fields(options.table(key)) for key in options.data}
    if not found:
        node.refuse("has no option", "options")
    node.close()
    return Expansion(heading, separator, found)


def _fields(node: Node) -> dict[str, Spec]:
    specs: dict[str, Spec] = {}
    for name in FIELDS:
        node.asked.append(name)
        if name in node.data and name in COLUMNS:
            below = node.table(name)
            specs |= {f"{name}.{c}": _spec(below, c, name) for c in COLUMNS[name] if c in below.data}
            below.asked.extend(COLUMNS[name])
            below.close()
        elif name in node.data:
            specs[name] = _spec(node, name, name)
    node.close()
    return specs


def _spec(node: Node, key: str, name: str) -> Spec:
    where = f"{node.where}.{key}"
    if isinstance(node.data[key], str):
        return Spec(constant=node.data[key], where=where)
    below = node.table(key)
    spec = Spec(
        heading=below.text("heading", ""),
        unit=below.text("unit", "") if isinstance(FIELDS[name].meta, Quantity) else "",
        letters=_letters(below.table("letters")),
        pattern=below.text("pattern", ""),
        where=where,
    )
    if bool(spec.heading) == bool(spec.pattern):
        below.refuse("needs a heading or a pattern, one of both", accepted="heading or pattern")
    below.close()
    return spec


def _letters(node: Node) -> tuple[tuple[str, str], ...]:
    return tuple((text, node.text(text)) for text in node.data)
