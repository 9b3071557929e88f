"""Any record as plain data for JSON: what is not a number is null, what never ends too."""

from __future__ import annotations

import dataclasses
import json
import math
from collections.abc import Mapping
from datetime import date
from enum import Enum, IntEnum
from pathlib import Path
from typing import Any


def plain_data(value: Any) -> Any:
    """Return a record as mappings, lists, texts, numbers and nulls.

    value: dataclasses, tuples, arrays, enumerations (by their word), dates, paths, numbers.
    """
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: plain_data(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain_data(item) for key, item in value.items()}
    if hasattr(value, "tolist"):  # an array or one of its numbers
        return plain_data(value.tolist())
    if isinstance(value, IntEnum):
        return getattr(value, "word", value.name.lower().replace("_", " "))
    if isinstance(value, Enum):
        return plain_data(value.value)
    if isinstance(value, list | tuple | set | frozenset):
        return [plain_data(item) for item in value]
    if isinstance(value, date | Path):
        return str(value)
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value


def to_json(value: Any) -> str:
    """Return a record as one JSON document."""
    return json.dumps(plain_data(value), ensure_ascii=False, indent=2, allow_nan=False)
