"""A catalogue of one table taken apart: bearings, housings, supports and combinations, joined by their keys again."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

Rows = list[list[str]]
Plain = dict[str, Any]


def settled_by(rows: Rows, keys: Sequence[int], column: int) -> bool:
    """Whether rows with the same key cells have the same cell in a column."""
    seen: dict[tuple[str, ...], str] = {}
    return all(seen.setdefault(tuple(row[k] for k in keys), row[column]) == row[column] for row in rows)


def taken_apart(
    headings: Sequence[str], rows: Rows, keys: dict[str, tuple[str, ...]], first: str
) -> tuple[dict[str, Rows], dict[str, str]]:
    """Return tables with their heading row, and the table that each heading moved to.

    keys: table → headings that settle it, the smaller keys before the larger; first: the table of what is left.
    """
    number = {heading: i for i, heading in enumerate(headings)}
    home: dict[str, str] = {}
    for heading in headings:
        fits = (
            table
            for table, key in keys.items()
            if heading not in key and settled_by(rows, [number[k] for k in key], number[heading])
        )
        home[heading] = next(fits, first)
    shared = {k for key in keys.values() for k in key}
    home |= dict.fromkeys(shared, first)
    tables = {}
    for table in (first, *keys):
        own = [h for h in headings if home[h] == table]
        columns = [*keys.get(table, ()), *own]
        distinct = dict.fromkeys(tuple(row[number[h]] for h in columns) for row in rows)
        tables[table] = [columns, *map(list, distinct)]
    return tables, home


def joined_mapping(
    mapping: Plain, home: dict[str, str], keys: dict[str, tuple[str, ...]], first: str
) -> Plain:
    """Return the mapping of the tables that a one-table mapping's table was taken apart to."""
    layout = {k: v for k, v in mapping["table"].items() if k not in ("sheet", "header", "skip")}
    tables: Plain = {first: {"sheet": first}}
    for table, key in keys.items():
        tables[table] = {"sheet": table, "keys": {k: f"{first}.{k}" for k in key}}
    changed: Plain = _placed({k: v for k, v in mapping.items() if k != "table"}, home, first)
    return {**changed, "table": layout, "tables": tables}


def _placed(data: Any, home: dict[str, str], first: str) -> Any:
    """Return plain data in which every column says its table."""
    if isinstance(data, list):
        return [_placed(value, home, first) for value in data]
    if not isinstance(data, dict):
        return data
    placed = {key: _placed(value, home, first) for key, value in data.items()}
    if isinstance(data.get("heading"), str):
        placed["table"] = home[data["heading"]]
    if isinstance(data.get("pattern"), str):
        placed["table"] = first
        placed["pattern"] = re.sub(r"\{(.+?)\}", lambda m: f"{{{home[m[1]]}.{m[1]}}}", data["pattern"])
    return placed
