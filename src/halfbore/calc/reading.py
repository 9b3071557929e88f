"""Read the input of a calculation: text with units, or bare numbers in the unit of the schema."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any, TypeVar, get_args, get_origin

from halfbore.calc.described import Measured, unit_of
from halfbore.domain.fields import FieldInfo, Meta, Quantity, fields_of
from halfbore.intake.records import Report, finish, plain, read_record
from halfbore.units import Kind, Span

R = TypeVar("R")

BARE = (Kind.NUMBER, Kind.COUNT, Kind.FRACTION)


def read(record: type[R], data: object) -> R:
    """Return the record that plain data stand for.

    data: a mapping of names to text with units, bare numbers in the unit of the schema, lists and mappings.
    Raises InputError with every problem by its place; an unknown key comes with the nearest known one.
    """
    report = Report()
    found = read_record(record, _with_units(record, data), "", report)
    finish(report)
    assert found is not None
    return found


def _with_units(record: type, data: object) -> object:
    """Return the data with the unit of the schema behind each bare number."""
    if not isinstance(data, Mapping):
        return data
    infos = {info.name: info for info in fields_of(record)}
    return {key: _value(infos[key], value) if key in infos else value for key, value in data.items()}


def _value(info: FieldInfo, value: object) -> object:
    if isinstance(info.meta, Quantity):
        return _quantity(info.meta, value)
    inner = get_args(info.type)[0] if get_origin(info.type) is tuple else info.type
    if not dataclasses.is_dataclass(inner):
        return value
    if isinstance(value, list):
        return [_with_units(inner, item) for item in value]  # type: ignore[arg-type]
    return _with_units(inner, value)  # type: ignore[arg-type]


def _quantity(meta: Quantity, value: object) -> object:
    if isinstance(meta, Measured) and isinstance(value, str):
        return value.strip().removesuffix(meta.unit)
    if isinstance(value, (int, float)) and not isinstance(value, bool) and meta.kind not in BARE:
        return f"{value!r} {unit_of(meta)}"
    return value


def plain_input(record: Any) -> dict[str, Any]:
    """Return a record as the bare numbers, texts and lists that `read` makes it of again."""
    return {
        info.name: _plain(value, info.meta)
        for info in fields_of(type(record))
        if (value := getattr(record, info.name)) is not None
    }


def _plain(value: Any, meta: Meta) -> Any:
    if isinstance(value, tuple):
        return [_plain(item, meta) for item in value]
    if isinstance(value, Span):
        return plain(value, meta)
    return plain_input(value) if dataclasses.is_dataclass(value) else value
