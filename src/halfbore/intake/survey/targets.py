"""What the columns of a survey may fill: which thing a path tells of, and the field that its cells are checked by."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from functools import cache

from halfbore.domain.fields import FieldInfo, Quantity
from halfbore.domain.job import Job
from halfbore.domain.survey import Thing
from halfbore.domain.survey_layout import FAILURE, KIND, TAGS
from halfbore.errors import InputError, Problem
from halfbore.intake.check import PARTS, RECORDS, leaf, leaves

CONDITION = "condition"
"""Prefix of columns that tell the duty of a machine in a table of positions, machines or shaft lines."""
_NUMBERED = re.compile(r"\[\d{1,3}\]")
_OF_SHAFT_LINE = ("shaft", "title", "number", "duty")
_OF_A_LINE = (Thing.POSITION, Thing.MACHINE, Thing.SHAFT_LINE)
_NAMED_BY_TAG = {Thing.POSITION: "name", Thing.SHAFT_LINE: "shaft.name"}
_DEPTH = {
    Thing.PLANT: 0,
    Thing.MACHINE: 1,
    Thing.SHAFT_LINE: 2,
    Thing.PART: 2,
    Thing.SEGMENT: 2,
    Thing.CONDITION: 2,
    Thing.POSITION: 3,
    Thing.FAILURE: 3,
}
TAGS_OF = {thing: TAGS[:depth] for thing, depth in _DEPTH.items()}
"""The tags of each thing from the plant down."""


NEEDED = {Thing.PART: (KIND, "name"), Thing.CONDITION: ("name",), Thing.FAILURE: ("on",)}
"""What tells two things of a list apart, and so must be given."""


@dataclass(frozen=True)
class Target:
    """What a column fills. thing: what it tells of; path: inside that thing's document, a tag's own path for a tag."""

    thing: Thing
    path: str

    @property
    def tag(self) -> bool:
        """Whether the column says which thing the row is about."""
        return self.path in TAGS


def target_of(thing: Thing, path: str) -> Target:
    """Return what a path of a table fills.

    thing: what the rows of the table are about; path: as the mapping gives it.
    An entry of a list of records is meant by its number: `value.stopped_production[0].rate`.
    Raises InputError when such a table has no such path, with the nearest one.
    """
    if path not in paths_of(thing) and (entry := _entry(thing, path)):
        return entry
    if path not in paths_of(thing):
        near = difflib.get_close_matches(path, paths_of(thing), 3, 0.5)
        accepted = f"nearest known: {', '.join(near)}" if near else "docs/fields.md lists them"
        raise InputError(
            Problem(f"a table of {thing.value}s has no such field", value=path, accepted=accepted)
        )
    return paths_of(thing)[path]


@cache
def paths_of(thing: Thing) -> dict[str, Target]:
    """Return every path that a table of a thing may fill."""
    found = {tag: Target(thing, tag) for tag in TAGS_OF[thing]}
    if thing is Thing.PART:
        return found | {path: Target(thing, path) for part in PARTS.values() for path in leaves(part)}
    found |= {
        path: Target(thing, path) for path in leaves(RECORDS[thing]) if path != _NAMED_BY_TAG.get(thing)
    }
    if thing is Thing.POSITION:
        found |= _below(FAILURE, Thing.FAILURE)
    if thing in _OF_A_LINE:
        found |= {path: Target(_job_of(thing, path), path) for path in leaves(RECORDS[Thing.MACHINE])}
        found |= _below(CONDITION, Thing.CONDITION)
        found.pop("shaft.name", None)
    return found


def _entry(thing: Thing, path: str) -> Target | None:
    """Return what a path fills that leads into an entry of a list, which a job has and whose order its numbers say."""
    if RECORDS.get(thing) is not Job and thing is not Thing.POSITION:
        return None
    if not _NUMBERED.search(path) or path.count("[") != len(_NUMBERED.findall(path)):
        return None
    try:
        leaf(Thing.MACHINE, path)
    except InputError:
        return None
    return Target(thing if thing is Thing.PLANT else _job_of(thing, path), path)


def _below(prefix: str, thing: Thing) -> dict[str, Target]:
    return {f"{prefix}.{path}": Target(thing, path) for path in leaves(RECORDS[thing])}


def _job_of(rows: Thing, path: str) -> Thing:
    """Return what a part of a job is told of: a table of shaft lines tells all of it of them."""
    of_line = rows is Thing.SHAFT_LINE or path.partition(".")[0] in _OF_SHAFT_LINE
    return Thing.SHAFT_LINE if of_line else Thing.MACHINE


def field_of(target: Target, kind: str = "") -> FieldInfo:
    """Return the field that cells of a target are checked by.

    kind: of the part that the row tells of; empty for any part that has such a field.
    Raises InputError when parts of that kind have no such field.
    """
    if target.thing is Thing.PART and not kind:
        kind = next(name for name, part in PARTS.items() if target.path in leaves(part))
    if target.thing is Thing.PART and kind in PARTS and target.path not in leaves(PARTS[kind]):
        accepted = ", ".join(leaves(PARTS[kind]))
        raise InputError(Problem(f"a {kind} has no such value: {target.path}", accepted=accepted))
    return leaf(target.thing, target.path, kind)


def quantity_of(target: Target) -> Quantity | None:
    """Return what a target measures, nothing for one that is no quantity."""
    meta = None if target.tag else field_of(target).meta
    return meta if isinstance(meta, Quantity) else None
