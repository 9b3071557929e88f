"""The JSON schema of a record, from what its fields say of themselves."""

from __future__ import annotations

import dataclasses
from enum import StrEnum
from typing import Any, get_args, get_origin

from halfbore.calc.described import unit_of
from halfbore.calc.reading import plain_input
from halfbore.domain.fields import FieldInfo, Quantity, fields_of
from halfbore.units import Kind


def schema_of(record: type) -> dict[str, Any]:
    """Return the JSON schema of a mapping that `read` turns into the record."""
    infos = fields_of(record)
    return {
        "type": "object",
        "properties": {info.name: _property(info) for info in infos},
        "required": [info.name for info in infos if info.required],
        "additionalProperties": False,
    }


def _property(info: FieldInfo) -> dict[str, Any]:
    found = {"description": info.meta.help, **_type(info)}
    if info.default not in (None, ()):
        default = info.default
        record = dataclasses.is_dataclass(default) and not isinstance(default, type)
        found["default"] = plain_input(default) if record else default
    return found


def _type(info: FieldInfo) -> dict[str, Any]:
    if isinstance(info.meta, Quantity):
        return _quantity(info.meta)
    if get_origin(info.type) is tuple:
        inner = get_args(info.type)[0]
        record = isinstance(inner, type) and dataclasses.is_dataclass(inner)
        items = schema_of(inner) if record else {"type": "string"}
        return {"type": "array", "items": items}
    if isinstance(info.type, type) and dataclasses.is_dataclass(info.type):
        return schema_of(info.type)
    if isinstance(info.type, type) and issubclass(info.type, StrEnum):
        return {"type": "string", "enum": [str(choice) for choice in info.type]}
    return {"type": "boolean" if info.type is bool else "string"}


def _quantity(meta: Quantity) -> dict[str, Any]:
    """Return text with a unit, or a bare number in the unit that is named."""
    found: dict[str, Any] = {"type": ["number", "string"]}
    if unit := unit_of(meta):
        found["unit"] = unit
    if meta.kind not in (Kind.NUMBER, Kind.COUNT):
        found["kind"] = str(meta.kind)
    if meta.limits:
        found["minimum"], found["maximum"] = meta.limits
    return found
