"""Plain data as a workspace keeps it: tables, lists, text, numbers, yes and no; dates as ISO text."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Mapping
from datetime import date, time
from typing import Any

from halfbore.errors import InputError, Problem, shown

DEPTH = 16
"""Tables and lists inside each other."""
LARGEST = 10**18
"""Of whole numbers; nothing that is counted comes near."""
KEY = re.compile(r"[\w-]+")
_JSON = json.JSONEncoder(ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":"))


def kept(value: Any, where: str = "", depth: int = DEPTH) -> Any:
    """Return plain data as it is kept: dates as ISO text, tables that hold nothing left out.

    where: place, for messages. Raises InputError for what is no plain data: nothing, NaN, infinity, objects.
    """
    if type(value) is str or isinstance(value, str):
        return _text(str(value), where)
    if isinstance(value, bool):
        return value
    if isinstance(value, (int, float)):
        return _number(value, where)
    if isinstance(value, (date, time)):
        return value.isoformat()
    if depth == 0:
        raise _refused("is nested too deep", where, "", f"up to {DEPTH} tables inside each other")
    if isinstance(value, Mapping):
        table = {_key(key, where): kept(item, _at(where, key), depth - 1) for key, item in value.items()}
        return {key: item for key, item in table.items() if item != {}}
    if isinstance(value, (list, tuple)):
        return [kept(item, f"{where}[{i}]", depth - 1) for i, item in enumerate(value)]
    raise _refused(
        "is no value of a document", where, value, "text, numbers, true, false, dates, lists, tables"
    )


def written(value: Any) -> str:
    """Return plain data as JSON, the same text for the same data."""
    return _JSON.encode(value)


def merged(below: Mapping[str, Any], above: Mapping[str, Any]) -> dict[str, Any]:
    """Return two tables as one, key by key; where both give a value, or a list, the one above stands."""
    both = dict(below)
    for key, value in above.items():
        under = both.get(key)
        both[key] = merged(under, value) if isinstance(under, dict) and isinstance(value, dict) else value
    return both


def _at(where: str, key: object) -> str:
    return f"{where}.{key}" if where else str(key)


def _key(key: object, where: str) -> str:
    if not isinstance(key, str) or not KEY.fullmatch(key):
        raise _refused("is no name of a field", where, key, "letters, digits, _ and -")
    return str(key)


def _text(value: str, where: str) -> str:
    try:
        value.encode()
    except UnicodeEncodeError:
        raise _refused("the text holds half a character", where, ascii(value), "text in Unicode") from None
    return value


def _number(value: float, where: str) -> float:
    if not math.isfinite(value):
        raise _refused("is no finite number", where, value, "a finite number")
    if isinstance(value, float):
        return float(value)
    if abs(value) > LARGEST:
        raise _refused("the number is too large to be meant", where, value, "up to 1e18")
    return int(value)


def _refused(what: str, where: str, value: object, accepted: str) -> InputError:
    return InputError(Problem(what, where, shown(value), accepted))
