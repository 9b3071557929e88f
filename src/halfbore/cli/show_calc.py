"""Answers of single calculations as text and as JSON."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

from halfbore import calc
from halfbore.calc.described import unit_of
from halfbore.cli import show
from halfbore.cli.show_working import steps
from halfbore.domain.fields import FieldInfo, Quantity, fields_of
from halfbore.sources import Source
from halfbore.working import Step

DIGITS = 6


def answer(found: calc.Answer, working: bool) -> None:
    """Show the answer of a calculation: values with units, sources with their standing, limits passed."""
    show.line(found.what)
    show.pairs(_rows(found.result))
    for name, items in _tables(found.result):
        show.line(name)
        heads = [info.name for info in fields_of(type(items[0]))]
        show.table(heads, [[text for _, text in _rows(item)] for item in items])
    for reason in found.outside:
        show.line(f"Outside the method: {reason}.")
    for source in found.sources:
        show.line(f"Source: {source}" + (f"; {source.note}" if source.note else ""))
    if working:
        show.heading("Working")
        steps(found.steps)


def _rows(record: Any) -> list[tuple[str, str]]:
    return [(info.name, _text(info, value)) for info, value in _values(record) if not _records(value)]


def _tables(record: Any) -> list[tuple[str, Any]]:
    return [(info.meta.help, value) for info, value in _values(record) if _records(value)]


def _values(record: Any) -> list[tuple[FieldInfo, Any]]:
    infos = [info for info in fields_of(type(record)) if info.name != "outside"]
    found = [(info, getattr(record, info.name)) for info in infos]
    return [(info, value) for info, value in found if value is not None]


def _records(value: Any) -> bool:
    return isinstance(value, tuple) and bool(value) and dataclasses.is_dataclass(value[0])


def _text(info: FieldInfo, value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if not isinstance(value, int | float):
        return ", ".join(value) if isinstance(value, tuple) else str(value)
    if math.isnan(value):
        return "no value: outside the method"
    if math.isinf(value):
        return "without limit"
    return f"{value:.{DIGITS}g} {unit_of(info.meta)}".strip()


def as_data(found: calc.Answer) -> dict[str, Any]:
    """Return an answer as plain data: each value with its unit and its state."""
    return {
        "calculation": found.name,
        "what": found.what,
        "result": _data(found.result),
        "status": "outside the method" if found.outside else "inside the method",
        "outside": list(found.outside),
        "holds": found.holds,
        "sources": [_source(source) for source in found.sources],
        "given": _data(found.given),
        "working": [step_data(step) for step in found.steps],
    }


def step_data(step: Step) -> dict[str, Any]:
    """Return one step of a working as plain data."""
    return {
        "name": step.name,
        "source": _source(step.source),
        "formula": step.formula,
        "given": step.given,
        "result": step.result,
    }


def _source(source: Source) -> dict[str, str]:
    return {
        "title": source.title,
        "place": source.place,
        "status": str(source.status),
        "note": source.note,
    }


def _data(record: Any) -> dict[str, Any]:
    return {info.name: _datum(info, value) for info, value in _values(record)}


def _datum(info: FieldInfo, value: Any) -> Any:
    if isinstance(value, tuple):
        return [_data(item) if dataclasses.is_dataclass(item) else item for item in value]
    if not isinstance(info.meta, Quantity):
        return value
    if not isinstance(value, int | float):
        return {"value": value, "unit": unit_of(info.meta)}
    state = "no value" if math.isnan(value) else "without limit" if math.isinf(value) else "number"
    return {"value": value, "unit": unit_of(info.meta), "state": state}
