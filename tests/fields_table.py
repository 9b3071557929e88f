"""Write docs/fields.md from what the records say of themselves: python tests/fields_table.py."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path
from typing import Any, get_args, get_origin

from halfbore.domain.fields import FieldInfo, Quantity, fields_of
from halfbore.domain.job import Job
from halfbore.domain.unit import COLUMNS, UnitTable
from halfbore.intake.records import plain
from halfbore.numbers import write
from halfbore.units import INTERNAL, Kind, Span

PAGE = Path(__file__).parents[1] / "docs" / "fields.md"
HEAD = """\
# Fields

Every field of a job file and every column that a catalogue can be mapped to. This page is written from the records
themselves by `python tests/fields_table.py`; a test holds it to them.

A quantity is text with its unit: any unit of its kind, `"160 mm"` as well as `"4 15/16 in"`. Where a field takes a
range it is `"low to high"` or `"low to likely to high"`. A value outside the common range is used and asked about;
one outside the limits is refused. What is left out and has a reason in the last column becomes an assumption that
is shown.
"""


def text_of() -> str:
    """Return the whole page."""
    parts = [HEAD, "## Job file\n"]
    for record, paths in _records(Job).items():
        parts += [f"### {' and '.join(paths) or 'top of the file'}\n", _first(record), _table(record)]
    return "\n".join([*parts, "## Columns of a catalogue\n", _first(UnitTable), _columns()])


def _records(top: type) -> dict[type, list[str]]:
    """Return every record of the job with the places where it stands, the top one with none."""
    found: dict[type, list[str]] = {}
    waiting: list[tuple[type, str]] = [(top, "")]
    while waiting:
        record, path = waiting.pop(0)
        known = record in found
        found.setdefault(record, []).extend([path] if path else [])
        if known:
            continue
        for info in fields_of(record):
            many = get_origin(info.type) is tuple
            here = f"{path}.{info.name}".strip(".") + ("[]" if many else "")
            for kind in _types(info.type):
                if dataclasses.is_dataclass(kind) and kind is not Span:
                    name = getattr(kind, "KIND", "")
                    waiting.append((kind, f'{here}, kind = "{name}"' if name else here))
    return found


def _types(hint: Any) -> Iterator[Any]:
    """Yield the types that a hint is made of."""
    inner = get_args(hint)
    if not inner:
        yield hint
    for one in inner:
        yield from _types(one)


def _first(record: type) -> str:
    return f"{(record.__doc__ or '').splitlines()[0]}\n"


def _table(record: type) -> str:
    rows = [_row(info) for info in fields_of(record)]
    head = "| field | what | kind, choices | common | limits | when left out |\n|---|---|---|---|---|---|"
    return "\n".join([head, *(f"| {' | '.join(row)} |" for row in rows), ""])


def _row(info: FieldInfo) -> tuple[str, ...]:
    meta, symbol = info.meta, getattr(info.meta, "symbol", "")
    what = f"{meta.help} ({symbol})" if symbol else meta.help
    common, limits = (_ends(info, name) for name in ("plausible", "limits"))
    return f"`{info.name}`", what, _kind(info), common, limits, _left_out(info)


def _ends(info: FieldInfo, which: str) -> str:
    ends = getattr(info.meta, which, None)
    if not ends or not isinstance(info.meta, Quantity):
        return ""
    if info.meta.kind is Kind.ANGLE:
        low, high = (_inwards(math.degrees(end), up) for end, up in zip(ends, (True, False), strict=True))
        return f"{low:.10g} to {high:.10g}°"
    low, high = ends
    return f"{round(low, 4):.10g} to {round(high, 4):.10g} {INTERNAL[info.meta.kind]}".strip()


def _inwards(degrees: float, up: bool) -> float:
    """Return an end of a range in few digits, such that what lies within is within the true end too."""
    step = next(s for s in (1.0, 0.1, 0.01, 0.001) if abs(degrees) >= 10.0 * s or s == 0.001)
    steps = round(degrees / step, 6)
    return (math.ceil(steps) if up else math.floor(steps)) * step


def _default(info: FieldInfo) -> str:
    """Return what stands where nothing is given, in the unit that people use."""
    if isinstance(info.meta, Quantity) and info.meta.kind is Kind.ANGLE:
        return "0°" if info.default == 0.0 else write(info.default, Kind.ANGLE)
    if isinstance(info.meta, Quantity) and isinstance(info.default, float):
        return plain(float(f"{info.default:.6g}"), info.meta)
    return plain(info.default, info.meta)


def _kind(info: FieldInfo) -> str:
    if isinstance(info.meta, Quantity):
        takes_range = "range of " if Span in _types(info.type) else ""
        return f"{takes_range}{info.meta.kind}"
    choices = [t for t in _types(info.type) if isinstance(t, type) and issubclass(t, StrEnum)]
    if choices:
        return ", ".join(f"`{choice}`" for choice in choices[0])
    inner = list(_types(info.type))
    if any(dataclasses.is_dataclass(t) for t in inner):
        return "list of tables" if get_origin(info.type) is tuple else "table"
    names = {bool: "`true` or `false`", str: "text", int: "whole number"}
    many = "list of " if get_origin(info.type) is tuple else ""
    return many + names.get(inner[0], getattr(inner[0], "__name__", "text"))


def _left_out(info: FieldInfo) -> str:
    if info.required:
        return "**needed**"
    if info.meta.assumed:
        default = _default(info)
        return f"{default}: {info.meta.assumed}" if default else info.meta.assumed
    return "as its own fields say" if dataclasses.is_dataclass(info.default) else "not known"


def _columns() -> str:
    lines = ["| column | what | unit | limits |", "|---|---|---|---|"]
    for info in fields_of(UnitTable):
        for part in COLUMNS.get(info.name, ("",)):
            name = f"{info.name}.{part}" if part else info.name
            kind = info.meta.kind if isinstance(info.meta, Quantity) else None
            unit = (
                "°"
                if kind is Kind.ANGLE
                else INTERNAL[kind]
                if kind not in (None, Kind.NUMBER, Kind.COUNT)
                else ""
            )
            what = (
                f"{info.meta.help} ({info.meta.symbol})"
                if getattr(info.meta, "symbol", "")
                else info.meta.help
            )
            what = what.replace(" (n, 3)", "")
            lines.append(f"| `{name}` | {what} | {unit} | {_ends(info, 'limits')} |")
    return "\n".join([*lines, ""])


if __name__ == "__main__":
    PAGE.write_text(text_of(), encoding="utf-8")
