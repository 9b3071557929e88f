"""A record whose sentences are written in one style, so that pages and terminal show them as they stand."""

from __future__ import annotations

import dataclasses
from typing import Any, TypeVar

from halfbore.numbers import METRIC, Style
from halfbore.phrases import Phrase, in_style

T = TypeVar("T")


def styled(record: T, style: Style) -> T:
    """Return a record with each sentence in it written in a style; what holds none is the same object.

    record: dataclasses, tuples and lists of them, mappings; properties that make sentences make them as before.
    """
    return record if style == METRIC else _styled(record, style)


def _styled(value: Any, style: Style) -> Any:
    if isinstance(value, Phrase):
        return in_style(value, style)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = {f.name: getattr(value, f.name) for f in dataclasses.fields(value) if f.init}
        changed = {name: new for name, old in fields.items() if (new := _styled(old, style)) is not old}
        return dataclasses.replace(value, **changed) if changed else value
    if isinstance(value, tuple | list):
        items = [_styled(item, style) for item in value]
        return value if all(new is old for new, old in zip(items, value, strict=True)) else type(value)(items)
    if isinstance(value, dict):
        named = {key: _styled(item, style) for key, item in value.items()}
        return value if all(named[key] is item for key, item in value.items()) else named
    return value
