"""Paths into a document: dotted names; entries of lists by name, by date, or by place from 0, in brackets.

`seat.diameter`, `loads[gear unit].mass`, `history[2021-10-08].why`, `shaft.segments[0].length`; `loads[+]` is a new
entry at the end.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from functools import lru_cache
from typing import Any, NamedTuple

from halfbore.errors import InputError, Problem, shown
from halfbore.store.plain import DEPTH

NEW = "+"
KEYS = ("name", "on")
"""Fields by which an entry of a list is known, the first that one has."""
ACCEPTED = "seat.diameter, loads[gear unit].mass, history[2021-10-08].why, shaft.segments[0].length, loads[+]"
DIGITS = 6
"""Of the place of an entry."""


class Entry(NamedTuple):
    """An entry of a list, by what stands in the brackets."""

    label: str


Parts = tuple[str | Entry, ...]
_PART = re.compile(r"\.?([\w-]+)|\[([^\[\]]+)\]")


@lru_cache(maxsize=4096)
def parse(path: str) -> Parts:
    """Return the parts of a path: names of fields as text, entries of lists as Entry. Raises InputError."""
    parts: list[str | Entry] = []
    at = 0
    while at < len(path):
        found = _PART.match(path, at)
        dotted = path[at] == "."
        if (
            not found
            or (found[1] is not None and dotted != bool(parts))
            or (found[2] is not None and not parts)
        ):
            raise _refused("is no path", path, path)
        parts.append(found[1] if found[1] is not None else Entry(found[2].strip()))
        at = found.end()
    if not 0 < len(parts) <= DEPTH or any(isinstance(part, Entry) and not part.label for part in parts):
        raise _refused("is no path", path, path)
    return tuple(parts)


def get(document: Any, path: str) -> Any:
    """Return what stands at a path, None where nothing does. Raises InputError where an entry is not one only."""
    value = document
    for part in parse(path):
        if isinstance(part, Entry):
            index = _index(value, part, path) if isinstance(value, list) else None
            value = value[index] if index is not None else None
        else:
            value = value.get(part) if isinstance(value, dict) else None
    return value


def set(document: dict[str, Any], path: str, new: Any) -> dict[str, Any]:
    """Return a document in which a new value stands at a path; the one that is given stays as it is.

    new: plain data, None to take away what is there. Tables are made as needed and go when nothing is left in them.
    Raises InputError where an entry is not there or not one only, and where a value stands in the way of a table.
    """
    changed = _put(document, parse(path), new, path)
    return changed if isinstance(changed, dict) else {}


def labels(entries: list[Any]) -> list[str]:
    """Return by what each entry of a list is known: its name or date where it is the only one, else its place."""
    names = [_known_by(entry) for entry in entries]
    count = Counter(name for name in names if name is not None)
    return [name if name is not None and count[name] == 1 else str(place) for place, name in enumerate(names)]


def overlap(one: str, other: str) -> bool:
    """Whether one of two paths leads to the other, or both are the same."""
    if not one or not other:
        return True
    first, second = parse(one), parse(other)
    short = min(len(first), len(second))
    return first[:short] == second[:short]


def _put(value: Any, parts: Parts, new: Any, path: str) -> Any:
    """Return a value in which something new stands below; None where nothing is left."""
    if not parts:
        return new
    head, rest = parts[0], parts[1:]
    if isinstance(head, Entry):
        return _put_entry(value, head, rest, new, path)
    if value is None:
        value = {}
    if not isinstance(value, dict):
        if new is None:
            return value
        raise _refused(f"a value stands where {head!r} would be", path, value)
    inner = _put(value.get(head), rest, new, path)
    table = (
        {key: item for key, item in value.items() if key != head}
        if inner in (None, {})
        else {**value, head: inner}
    )
    return table or None


def _put_entry(value: Any, head: Entry, rest: Parts, new: Any, path: str) -> Any:
    if not isinstance(value, list) and not (value is None and head.label == NEW):
        if new is None:
            return value
        raise _refused("there is no such list", path, value)
    entries = list(value or ())
    if head.label == NEW:
        return [*entries, _put({}, rest, new, path)] if new is not None else value
    index = _index(entries, head, path)
    if index is None:
        if new is None:
            return value
        known = ", ".join((*labels(entries), f"{NEW} for a new one"))
        raise _refused("there is no such entry", path, head.label, known)
    inner = _put(entries[index], rest, new, path)
    if not rest and inner is None:
        return entries[:index] + entries[index + 1 :]
    entries[index] = {} if inner is None else inner
    return entries


def _index(entries: list[Any], entry: Entry, path: str) -> int | None:
    """Return the place of an entry, None where there is none. Raises InputError where there are several."""
    label = entry.label
    if label.isascii() and label.isdigit():
        return int(label) if len(label) <= DIGITS and int(label) < len(entries) else None
    for known in (_known_by, *(_by(key) for key in KEYS)):
        places = [i for i, e in enumerate(entries) if known(e) == label]
        if len(places) > 1:
            which = ", ".join(map(str, places))
            raise _refused("several entries have that name", path, label, f"the place of one: {which}")
        if places:
            return places[0]
    return None


def _by(key: str) -> Callable[[Any], object]:
    return lambda entry: entry.get(key) if isinstance(entry, dict) else None


def _known_by(entry: Any) -> str | None:
    """Return the name or date of an entry, None where it has none that can stand in a path."""
    if not isinstance(entry, dict):
        return None
    name = next((entry[key] for key in KEYS if entry.get(key)), None)
    if (
        not isinstance(name, str)
        or name != name.strip()
        or name == NEW
        or name.isdigit()
        or {*"[]"} & {*name}
    ):
        return None
    return name


def _refused(what: str, path: str, value: object, accepted: str = ACCEPTED) -> InputError:
    return InputError(Problem(what, path, shown(value), accepted))
