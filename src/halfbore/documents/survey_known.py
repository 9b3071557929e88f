"""What is known of a shaft line already, looked up by field, as it stands in the survey's plain data."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from halfbore.domain.survey import Plain, Thing, Told
from halfbore.domain.survey_form import Ask
from halfbore.domain.survey_layout import KIND, NO, SEPARATOR, YES

_STEPS = re.compile(r"([^.\[\]]+)(?:\[(\d+)\])?")


def text_at(data: Plain, path: str) -> str:
    """Return the value of a field as it is written in a form; empty where nothing is known.

    path: dotted, entries of lists by their index.
    """
    found: Any = data
    for name, index in _STEPS.findall(path):
        found = found.get(name) if isinstance(found, dict) else None
        if index:
            found = found[int(index)] if isinstance(found, list) and int(index) < len(found) else None
    return written(found)


def written(value: object) -> str:
    """Return a plain value as it is written in a form, a list of texts parted by semicolons."""
    if value is None or isinstance(value, dict):
        return ""
    if isinstance(value, bool):
        return YES if value else NO
    if isinstance(value, list):
        return f"{SEPARATOR} ".join(written(v) for v in value)
    return value.isoformat() if isinstance(value, date) else str(value)


def paths_of(data: Plain, before: str = "") -> Iterator[str]:
    """Yield the path of every value in plain data."""
    for name, value in data.items():
        path = f"{before}{name}"
        if isinstance(value, dict):
            yield from paths_of(value, f"{path}.")
        elif isinstance(value, list) and any(isinstance(v, dict) for v in value):
            for i, entry in enumerate(value):
                yield from paths_of(entry, f"{path}[{i}].")
        else:
            yield path


@dataclass(frozen=True)
class Known:
    """The facts of one shaft line: what is told of plant, machine and shaft line, and of each entry in its order."""

    told: Sequence[Told] = ()

    def about(self, thing: Thing) -> list[Plain]:
        """Return the data of every row about a thing, in order."""
        return [t.data for t in self.told if t.thing is thing]

    def positions(self) -> tuple[str, ...]:
        """Return the tags of the positions that are told of, in order."""
        return tuple(dict.fromkeys(str(t.tags[-1]) for t in self.told if t.thing is Thing.POSITION))

    def at_position(self, path: str, tag: str) -> str:
        """Return what is known of a field of a position by its tag."""
        rows = [t.data for t in self.told if t.thing is Thing.POSITION and t.tags[-1] == tag]
        return next(filter(None, (text_at(row, path) for row in rows)), "")

    def text(self, ask: Ask, index: int = 0, part: str = "") -> str:
        """Return what is known of a field of all but a position.

        index: of the entry in the order of the shaft; of a part among those of its kind; part: its kind.
        """
        if ask.thing in (Thing.PLANT, Thing.MACHINE, Thing.SHAFT_LINE):
            things = (Thing.SHAFT_LINE, Thing.MACHINE, Thing.PLANT)
            rows = [row for thing in things for row in self.about(thing)]
            return next(filter(None, (text_at(row, ask.path) for row in rows)), "")
        rows = [row for row in self.about(ask.thing) if not part or row.get(KIND) == part]
        return text_at(rows[index], ask.path) if index < len(rows) else ""
