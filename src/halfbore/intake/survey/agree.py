"""Rows that tell of one thing: what says the same twice is passed over, what disagrees is rejected on both sides."""

from __future__ import annotations

from dataclasses import dataclass
from math import isclose
from typing import Any

from halfbore.domain.survey import Thing, Told
from halfbore.domain.survey_layout import TAGS
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


_Said = tuple[str, Told, dict[str, Any]]
"""Place of a row, what it told of one thing, and the values of that."""


def disagreements(heard: list[Heard]) -> tuple[dict[str, list[Problem]], dict[str, str]]:
    """Return the rows that disagree with others, by place with why, and those that only repeat one, with which.

    heard: rows in order. A position's tag may stand in one machine only; a segment is no fact about another segment.
    """
    alone = [row for row in heard if all(told.thing is not Thing.SEGMENT for told in row.told)]
    said: dict[tuple[Any, ...], list[_Said]] = {}
    for row in alone:
        for told, values in zip(row.told, row.values, strict=True):
            said.setdefault(_key(told), []).append((row.place, told, values))
    against: dict[str, list[Problem]] = {}
    for group in said.values():
        if len(group) > 1:
            _compare(group, against)
    return against, _repeated(alone)


def _repeated(heard: list[Heard]) -> dict[str, str]:
    """Return the rows that say nothing but what one row above them in their sheet says, with the place of that row."""
    alike: dict[tuple[Any, ...], list[Heard]] = {}
    for row in heard:
        alike.setdefault((row.sheet, *((told.thing, told.tags) for told in row.told)), []).append(row)
    repeated = {}
    for rows in alike.values():
        first: dict[tuple[Any, ...], str] = {}
        for row in rows if len(rows) > 1 else ():
            frozen = tuple(frozenset((path, repr(v)) for path, v in values.items()) for values in row.values)
            if (place := first.setdefault(frozen, row.place)) != row.place:
                repeated[row.place] = place
    return repeated


def _compare(group: list[_Said], against: dict[str, list[Problem]]) -> None:
    """Note against every row of a group that says what another one says otherwise, the first that does so."""
    paths: dict[str, list[tuple[str, Told, Any]]] = {}
    for place, told, values in group:
        tags = dict(zip(TAGS[:2], told.tags, strict=False)) if told.thing is Thing.POSITION else {}
        for path, value in (*tags.items(), *values.items()):
            if value is not None:
                paths.setdefault(path, []).append((place, told, value))
    for path, facts in paths.items():
        first = facts[0]
        other = next((fact for fact in facts if not _same(fact[2], first[2])), None)
        for fact in facts if other else ():
            assert other is not None
            _note(against, path, fact, other if _same(fact[2], first[2]) else first)


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
    against: dict[str, list[Problem]], path: str, fact: tuple[str, Told, Any], other: tuple[str, Told, Any]
) -> None:
    place, told, value = fact
    name = told.tags[-1] if told.tags else ""
    what = f"{told.thing.value} {name or ''}".strip() + f": {path} is told in two ways"
    step = f"{other[0]} says {_typed(other[1], path, other[2])!r}: mend one of the two"
    noted = against.setdefault(place, [])
    if len(noted) < _MOST:
        noted.append(Problem(what, place, _typed(told, path, value), next_step=step))
