"""What changed between two documents, value by value."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from halfbore.store.paths import labels
from halfbore.store.plain import written

Difference = tuple[str, Any, Any]
"""Path, old value, new value; None where there is none."""


def differences(old: dict[str, Any], new: dict[str, Any]) -> Iterator[Difference]:
    """Yield what changed from one document to another, so that each old value put at its path leads back.

    An entry of a list is followed by its label where the list has the same entries before and after; a list that
    got or lost entries, or whose entries got other names, changed as a whole.
    """
    yield from _tables(old, new, "")


def _tables(old: dict[str, Any], new: dict[str, Any], path: str) -> Iterator[Difference]:
    for key in (*old, *(key for key in new if key not in old)):
        yield from _values(old.get(key), new.get(key), f"{path}.{key}" if path else key)


def _values(old: Any, new: Any, path: str) -> Iterator[Difference]:
    tables = isinstance(old, dict), isinstance(new, dict)
    if all(tables) or (any(tables) and (old is None or new is None)):
        yield from _tables(old or {}, new or {}, path)
    elif isinstance(old, list) and isinstance(new, list) and _same_entries(old, new):
        for label, before, after in zip(labels(old), old, new, strict=True):
            yield from _tables(before, after, f"{path}[{label}]")
    elif old != new or written(old) != written(new):  # 1, 1.0 and true are equal, and not the same
        yield path, old, new


def _same_entries(old: list[Any], new: list[Any]) -> bool:
    return all(isinstance(entry, dict) for entry in (*old, *new)) and labels(old) == labels(new)
