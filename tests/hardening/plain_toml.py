"""Plain data as the text of a TOML file: all in one line a key, which is enough to be read again."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from typing import Any


def dumped(data: Mapping[str, Any]) -> str:
    """Return a TOML text that holds the data; what TOML has no word for is left out."""
    return "".join(f"{_key(k)} = {_value(v)}\n" for k, v in data.items() if v is not None)


def _key(key: object) -> str:
    return json.dumps(str(key), ensure_ascii=False)


def _value(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items() if v is not None) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_value(v) for v in value if v is not None) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, date):
        return f"{value.isoformat():0>10}"
    return repr(value)
