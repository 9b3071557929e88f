"""Print a job back as a file in which every assumption is filled in and marked."""

from __future__ import annotations

import dataclasses
import math
import re
from dataclasses import dataclass, field
from typing import Any

from halfbore.domain.fields import FieldInfo, Quantity, fields_of
from halfbore.domain.job import JobReading
from halfbore.intake.records import plain
from halfbore.units import Kind, Span


def explained(reading: JobReading) -> str:
    """Return the job as a file: what was typed stands as typed, what was assumed says why.

    What is one number in a job, but was estimated with a range, stands as a comment: run again, the file is estimated
    anew and keeps the range.
    """
    money = reading.job.value
    writer = _Writer(
        {a.path: a.why for a in reading.assumptions},
        {a.path for a in reading.assumptions if a.carried},
        reading.typed,
        money.currency if money else None,
    )
    writer.record(reading.job, "")
    return "\n".join(writer.lines) + "\n"


@dataclass
class _Writer:
    """Lines of TOML as they come."""

    assumed: dict[str, str]
    carried: set[str]
    typed: dict[str, str]
    currency: str | None
    lines: list[str] = field(default_factory=list)

    def record(self, record: Any, path: str) -> None:
        """Write plain values first, then the tables inside."""
        if kind := getattr(record, "KIND", None):
            self.lines.append(f'kind = "{kind}"')
        inside = []
        for info in fields_of(type(record)):
            value, here = getattr(record, info.name), f"{path}.{info.name}" if path else info.name
            if _is_table(value):
                inside.append((here, value))
            elif value is None and here in self.assumed:
                self.lines.append(f"# {info.name} is left out; assumed: {self.assumed[here]}")
            elif value is not None and (value not in ((), "") or here in self.assumed):
                self._line(info, value, here)
        for here, value in inside:
            self._table(value, here)

    def _line(self, info: FieldInfo, value: Any, here: str) -> None:
        text = self.typed.get(here) or _degrees(value, info.meta) or plain(value, info.meta, self.currency)
        why = f"  # assumed: {self.assumed[here]}" if here in self.assumed else ""
        out = "# " if here in self.carried else ""
        self.lines.append(f"{out}{info.name} = {_toml(value, text, isinstance(info.meta, Quantity))}{why}")

    def _table(self, value: Any, here: str) -> None:
        heading = re.sub(r"\[\d+\]", "", here)
        if isinstance(value, tuple):
            for i, item in enumerate(value):
                self.lines += ["", f"[[{heading}]]"]
                self.record(item, f"{here}[{i}]")
            return
        self.lines += ["", f"[{heading}]"]
        self.record(value, here)


def _is_table(value: Any) -> bool:
    first = value[0] if isinstance(value, tuple) and value else value
    return dataclasses.is_dataclass(first) and not isinstance(first, (Span, type))


def _toml(value: Any, text: str, quantity: bool) -> str:
    if isinstance(value, bool):
        return text
    if quantity and _is_number(text):
        return text
    if isinstance(value, tuple):
        return "[" + ", ".join(_quoted(str(v)) for v in value) + "]"
    return str(value) if hasattr(value, "isoformat") else _quoted(text)


def _degrees(value: Any, meta: Any) -> str:
    """Return an angle in degrees where ten digits of them are the same angle; nothing for anything else."""
    if not isinstance(value, float) or not isinstance(meta, Quantity) or meta.kind is not Kind.ANGLE:
        return ""
    degrees = f"{math.degrees(value):.10g}"
    return f"{degrees}°" if math.radians(float(degrees)) == value else ""


def _is_number(text: str) -> bool:
    return re.fullmatch(r"-?\d+(\.\d+)?(e[+-]?\d+)?", text) is not None


def _quoted(text: str) -> str:
    kept = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in text.replace("\\", "\\\\"))
    return '"' + kept.replace('"', '\\"') + '"'
