"""Rows that tell of one thing: what says the same twice is passed over, what disagrees is rejected on both sides."""

from __future__ import annotations

from dataclasses import dataclass
from math import isclose
from typing import Any

from halfbore.domain.survey import Thing, Told
from halfbore.errors import Problem, shown
from halfbore.units import Span

_MOST = 5
"""Disagreements that one row is told of."""


@dataclass(frozen=True)
class Heard:
    """A good row. told: what it tells; values: of each of those, by path, as records hold them."""

    place: str
    sheet: str
    number: int
    told: tuple[Told, ...]
    values: tuple[dict[str, Any], ...]


_Fact = tuple[str, Any, Told]
"""Place of the row that said it first, its value, and what it told."""


def disagreements(heard: list[Heard]) -> tuple[dict[str, list[Problem]], dict[str, str]]:
    """Return the rows that disagree with others, by place with why, and those that only repeat one, with which.

    heard: rows in order. A position's tag may stand in one machine only; a segment is no fact about another segment.
    """
    facts: dict[tuple[Any, ...], dict[str, _Fact]] = {}
    whole: dict[tuple[Any, ...], str] = {}
    against: dict[str, list[Problem]] = {}
    repeated: dict[str, str] = {}
    for row in heard:
        same = (
            row.sheet,
            *(_frozen(told, values) for told, values in zip(row.told, row.values, strict=True)),
        )
        if all(told.thing is not Thing.SEGMENT for told in row.told):
            if (first := whole.setdefault(same, row.place)) != row.place:
                repeated[row.place] = first
                continue
            for told, values in zip(row.told, row.values, strict=True):
                _compare(row.place, told, values, facts, against)
    return against, repeated


def _frozen(told: Told, values: dict[str, Any]) -> tuple[Any, ...]:
    return told.thing, told.tags, frozenset((path, repr(value)) for path, value in values.items())


def _compare(
    place: str,
    told: Told,
    values: dict[str, Any],
    facts: dict[tuple[Any, ...], dict[str, _Fact]],
    against: dict[str, list[Problem]],
) -> None:
    known = facts.setdefault(_key(told), {})
    tags = (
        {"tag.machine": told.tags[0], "tag.shaft_line": told.tags[1]} if told.thing is Thing.POSITION else {}
    )
    said = {path: value for path, value in tags.items() if value is not None} | values
    for path, value in said.items():
        first, other, before = known.setdefault(path, (place, value, told))
        if other is not value and not _same(other, value):
            here, there = _typed(told, path, value), _typed(before, path, other)
            _note(against, place, first, told, path, here, there)
            _note(against, first, place, told, path, there, here)


def _same(one: Any, other: Any) -> bool:
    """Return whether two values are one; numbers may differ by rounding, as the same size in two units does."""
    if isinstance(one, Span) and isinstance(other, Span):
        pairs = zip((one.low, one.likely, one.high), (other.low, other.likely, other.high), strict=True)
        return all(isclose(a, b, rel_tol=1e-9) for a, b in pairs)
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=1e-9)
    return bool(one == other)


def _key(told: Told) -> tuple[Any, ...]:
    """Return what makes two rows tell of one thing."""
    if told.thing is Thing.POSITION:
        return told.thing, told.tags[-1]
    if told.thing is Thing.FAILURE:
        return told.thing, told.tags[-1], told.data.get("on")
    return told.thing, told.tags, told.data.get("name")


def _typed(told: Told, path: str, value: Any) -> str:
    at: Any = told.data
    for step in path.split("."):
        at = at.get(step) if isinstance(at, dict) else None
    return shown(value if at is None else at)


def _note(
    against: dict[str, list[Problem]], place: str, other: str, told: Told, path: str, here: str, there: str
) -> None:
    name = told.tags[-1] if told.tags else ""
    what = f"{told.thing.value} {name or ''}".strip() + f": {path} is told in two ways"
    step = f"{other} says {there!r}: mend one of the two"
    problem = Problem(what, place, here, next_step=step)
    noted = against.setdefault(place, [])
    if len(noted) < _MOST and problem not in noted:
        noted.append(problem)
