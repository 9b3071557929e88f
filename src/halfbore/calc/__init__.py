"""Every calculation alone: a name, what it takes, what it gives, and where it stands."""

from __future__ import annotations

import dataclasses
import difflib
import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from typing import TYPE_CHECKING, Any

from halfbore.calc.table import ENTRIES, SECTIONS, Entry
from halfbore.errors import InputError, Problem

if TYPE_CHECKING:
    from halfbore.calc.described import Description
    from halfbore.sources import Source
    from halfbore.working import Step

__all__ = ["SECTIONS", "Answer", "Entry", "calculate", "description", "example", "names", "schema"]


@dataclass(frozen=True)
class Answer:
    """What a calculation gave: the records in and out, its sources, its steps, and limits that were passed."""

    name: str
    what: str
    given: Any
    result: Any
    sources: tuple[Source, ...]
    holds: str
    outside: tuple[str, ...]
    steps: tuple[Step, ...]


def names() -> tuple[str, ...]:
    """Return the names of all calculations."""
    return tuple(ENTRIES)


def description(name: str) -> Description:
    """Return what a calculation takes and gives. Raises InputError with the nearest name."""
    return _loaded(name)[1]


def example(name: str) -> dict[str, Any]:
    """Return an input that the calculation answers. Raises InputError with the nearest name."""
    takes, entry = description(name).takes, ENTRIES[name]
    if hasattr(takes, "EXAMPLE"):
        return dict(takes.EXAMPLE)
    return dict(pair.strip().split("=", 1) for pair in entry.example.split(";"))


def schema(name: str) -> dict[str, Any]:
    """Return the JSON schema of a calculation's input. Raises InputError with the nearest name."""
    from halfbore.calc.schemas import schema_of

    found = description(name)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": name,
        "description": found.what,
        **schema_of(found.takes),
        "examples": [example(name)],
    }


def calculate(name: str, data: object) -> Answer:
    """Run one calculation.

    name: as in `names`; data: a mapping of text with units, or bare numbers in the unit of the schema.
    Returns the answer. Raises InputError with every problem; outside a method a value is not a number.
    """
    from halfbore.calc.reading import read
    from halfbore.working import working

    function, found = _loaded(name)
    given: Any = read(found.takes, data)
    with working() as steps, _telling(name):
        raw = function(given) if found.record_in else function(**_arguments(given))
    steps = [step for step in steps if step.given.get("given") is not given]
    result, own = _result(found, raw)
    sources = dict.fromkeys([*own, *_sources(function), *(step.source for step in steps)])
    why = f": {found.holds}" if found.holds else ""
    outside = [
        *getattr(result, "outside", ()),
        *(f"{path} has no value here{why}" for path in _without(result)),
    ]
    return Answer(name, found.what, given, result, tuple(sources), found.holds, tuple(outside), tuple(steps))


def _arguments(given: Any) -> dict[str, Any]:
    """Return the fields of a record; numbers as NumPy has them, whose roots and quotients never leave the reals."""
    import numpy as np

    values = {f.name: getattr(given, f.name) for f in dataclasses.fields(given)}
    return {name: np.float64(v) if isinstance(v, float) else v for name, v in values.items()}


@contextmanager
def _telling(name: str) -> Iterator[None]:
    """Turn arithmetic that fails into a refusal; a division by zero or an overflow is not a number."""
    import numpy as np

    try:
        with np.errstate(all="ignore"):
            yield
    except (ArithmeticError, ValueError, IndexError) as error:
        raise InputError(
            Problem(f"cannot be calculated with these values: {error}", name, next_step="check each value")
        ) from error


@cache
def _loaded(name: str) -> tuple[Any, Description]:
    from halfbore.calc.described import described

    if name not in ENTRIES:
        near = difflib.get_close_matches(name, ENTRIES, 3, 0.4)
        accepted = f"nearest: {', '.join(near)}" if near else ""
        raise InputError(
            Problem("no such calculation", "calc", name, accepted, "halfbore calc --list shows all of them")
        )
    entry = ENTRIES[name]
    module, _, function = entry.function.partition(":")
    found = getattr(import_module(f"halfbore.{module}"), function)
    return found, described(found, entry.gives)


def _sources(function: Any) -> list[Source]:
    return [function.source] if hasattr(function, "source") else []


def _result(found: Description, raw: Any) -> tuple[Any, list[Source]]:
    """Return what came out as the record that was promised, and the source that it carries itself."""
    if found.record_in:
        return raw, []
    fields = [f.name for f in dataclasses.fields(found.gives)]
    if hasattr(raw, "low"):  # a band that the trade gives
        return found.gives(low=raw.low, high=raw.high), [raw.source]
    values = raw if len(fields) > 1 else (raw,)
    return found.gives(**{f: float(value) for f, value in zip(fields, values, strict=True)}), []


def _without(record: Any, path: str = "") -> Iterator[str]:
    """Yield the path of each number that is none."""
    for f in dataclasses.fields(record):
        value, here = getattr(record, f.name), f"{path}{f.name}"
        if isinstance(value, float) and math.isnan(value):
            yield here
        elif isinstance(value, tuple) and value and dataclasses.is_dataclass(value[0]):
            for i, item in enumerate(value):
                yield from _without(item, f"{here}[{i}].")
