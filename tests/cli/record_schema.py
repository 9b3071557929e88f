"""The JSON schema of any record, from its types: what `--json` prints must fit it."""

from __future__ import annotations

import dataclasses
import types
from datetime import date
from enum import Enum, IntEnum
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

import numpy as np

PLAIN: dict[Any, dict[str, Any]] = {
    str: {"type": "string"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": ["number", "null"]},
    date: {"type": "string", "pattern": r"^\d{4}-\d\d-\d\d$"},
    type(None): {"type": "null"},
    object: {},
    Any: {},
}


def schema_of(hint: Any) -> dict[str, Any]:
    """Return the schema of one type: records by all their fields, numbers that may be missing as null."""
    origin, inner = get_origin(hint), get_args(hint)
    if hint in PLAIN:
        return PLAIN[hint]
    if origin is Annotated:
        return schema_of(inner[0])
    if origin in (Union, types.UnionType):
        return {"anyOf": [schema_of(one) for one in inner]}
    if origin is np.ndarray:
        return {"type": "array"}
    if origin is dict:
        return {"type": "object", "additionalProperties": schema_of(inner[1])}
    if origin is tuple and inner[-1] is Ellipsis:
        return {"type": "array", "items": schema_of(inner[0])}
    if origin is tuple:
        items = [schema_of(one) for one in inner]
        return {"type": "array", "prefixItems": items, "minItems": len(items), "maxItems": len(items)}
    if dataclasses.is_dataclass(hint):
        hints = get_type_hints(hint, include_extras=True)
        fields = {f.name: schema_of(hints[f.name]) for f in dataclasses.fields(hint)}
        return {
            "type": "object",
            "properties": fields,
            "required": list(fields),
            "additionalProperties": False,
        }
    if isinstance(hint, type) and issubclass(hint, IntEnum):
        return {"type": "string"}
    if isinstance(hint, type) and issubclass(hint, Enum):
        return {"enum": [one.value for one in hint]}
    raise TypeError(f"no schema for {hint!r}")
