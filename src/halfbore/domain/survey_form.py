"""The survey sheet: for which shaft lines there is one, and what a record says about a field of it."""

from __future__ import annotations

import re
from dataclasses import dataclass, is_dataclass
from enum import StrEnum
from typing import Any, get_args, get_origin

from halfbore.domain.duty import Condition
from halfbore.domain.fields import FieldInfo, fields_of
from halfbore.domain.job import Job
from halfbore.domain.machine import Load, MachineKind, Segment
from halfbore.domain.position import Failure, Position
from halfbore.domain.survey import Thing
from halfbore.errors import InputError, Problem, shown


class SheetKind(StrEnum):
    """The shaft lines that have a survey sheet of their own."""

    FAN = "fan"
    OVERHUNG_FAN = "overhung fan"
    HEAD_SHAFT = "head shaft"
    TAIL_DRUM = "tail drum"
    ELEVATOR_HEAD = "elevator head"
    ELEVATOR_BOOT = "elevator boot"
    PADDLE_SHAFT = "paddle shaft"
    SCREW = "screw"
    JACKSHAFT = "jackshaft"
    LINE_SHAFT = "line shaft"
    PLAIN_SHAFT = "plain shaft"

    @property
    def machine(self) -> MachineKind:
        """The kind of machine that the job says."""
        return MachineKind.FAN if self is SheetKind.OVERHUNG_FAN else MachineKind(self.value)

    @property
    def words(self) -> str:
        """What the sheet is for, in full."""
        return _IN_FULL.get(self, self.value)

    @classmethod
    def named(cls, text: str) -> SheetKind:
        """Return the kind of a name as people type it. Raises InputError, with the kinds that there are."""
        plain = " ".join(text.split()).casefold()
        found = next((kind for kind in cls if plain in (kind.value, kind.words)), None)
        if found is None:
            what = "there is no survey sheet of this kind" if plain else "the kind of survey sheet is missing"
            raise InputError(Problem(what, value=shown(text) if plain else "", accepted=", ".join(cls)))
        return found


_IN_FULL = {
    SheetKind.FAN: "fan, wheel between bearings",
    SheetKind.OVERHUNG_FAN: "fan, overhung wheel",
    SheetKind.HEAD_SHAFT: "head shaft with shaft-mounted drive",
}


@dataclass(frozen=True)
class Ask:
    """One thing that the survey asks.

    thing: what it is about; path: of the field in that thing's plain data, entries of lists by their index.
    """

    thing: Thing
    path: str


_RECORDS: dict[Thing, type] = {
    Thing.SEGMENT: Segment,
    Thing.CONDITION: Condition,
    Thing.POSITION: Position,
    Thing.FAILURE: Failure,
}
PARTS: dict[str, type] = {part.KIND: part for part in get_args(Load)}
"""Kind of a part → its record."""


def field_of(ask: Ask, part: str = "") -> FieldInfo:
    """Return what the record says about a field that is asked.

    part: kind of the part, where the ask is about one. Raises KeyError when there is no such field.
    """
    return _way(ask, part)[-1][1]


def label_of(ask: Ask, part: str = "") -> str:
    """Return the label of a field as its record has it, after the side that it is about where a thing has two.

    part: kind of the part, where the ask is about one.
    """
    way = _way(ask, part)
    sides = [info.meta.help for owner, info in way[:-1] if _has_another(owner, info)]
    words = ": ".join([*sides, way[-1][1].meta.help])
    return _PLAIN.sub(lambda found: _WORDS[found[0]], words)


_WORDS = {"true": "yes", "false": "no"}
_PLAIN = re.compile(r"\b(true|false)\b")


def _way(ask: Ask, part: str) -> list[tuple[type, FieldInfo]]:
    """Return the fields on the way to one, each with the record that it belongs to."""
    record = PARTS[part] if ask.thing is Thing.PART else _RECORDS.get(ask.thing, Job)
    first, *others = re.split(r"\[\d+\]\.|\.", ask.path)
    found = [(record, _field(record, first))]
    for name in others:
        inner = _inner(found[-1][1])
        found.append((inner, _field(inner, name)))
    return found


def _has_another(owner: type, info: FieldInfo) -> bool:
    return sum(other.type is info.type for other in fields_of(owner)) > 1


def _field(record: type, name: str) -> FieldInfo:
    for info in fields_of(record):
        if info.name == name:
            return info
    raise KeyError(f"{record.__name__} has no field {name}")


def _inner(info: FieldInfo) -> type:
    hint: Any = get_args(info.type)[0] if get_origin(info.type) is tuple else info.type
    if not is_dataclass(hint):
        raise KeyError(f"{info.name} holds no record")
    return hint  # type: ignore[return-value]


def choices_of(info: FieldInfo) -> tuple[str, ...]:
    """Return the words that a field accepts; nothing where it takes a text or a quantity."""
    hint = get_args(info.type)[0] if get_origin(info.type) is tuple else info.type
    if hint is bool:
        return ("yes", "no")
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        return tuple(word.value for word in hint)
    return ()
