"""Plain data as TOML text: what was typed stands as typed."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

BARE = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-")


def toml_text(data: Mapping[str, Any]) -> str:
    """Return plain data as the text of a TOML file that reads back as the same data.

    data: tables, lists, texts, numbers, dates, true and false; what is None is left out.
    """
    return "\n".join(_table(data, ())).strip("\n") + "\n"


def _table(data: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[str]:
    """Yield plain values first, then the tables inside."""
    inside = []
    for key, value in data.items():
        if isinstance(value, Mapping) or _is_tables(value):
            inside.append((key, value))
        elif value is not None:
            yield f"{_key(key)} = {_value(value)}"
    for key, value in inside:
        heading = ".".join(map(_key, (*path, key)))
        entries = [value] if isinstance(value, Mapping) else value
        for entry in entries:
            yield from ("", f"[{heading}]" if isinstance(value, Mapping) else f"[[{heading}]]")
            yield from _table(entry, (*path, key))


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(entry, Mapping) for entry in value)


def _key(key: str) -> str:
    return key if key and BARE.issuperset(key) else _text(key)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, (int, float)):
        return repr(value)
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    return _text(str(value))


def _text(text: str) -> str:
    """Return a basic string; JSON escapes as TOML does, but for the one control character that it lets stand."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
