"""Check one value, or a document that is not yet whole, of a plant, a machine, a shaft line, a part or a position."""

from __future__ import annotations

import dataclasses
import difflib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import cache, lru_cache
from types import UnionType
from typing import Any, Union, get_args, get_origin

from halfbore.domain.duty import Condition
from halfbore.domain.fields import FieldInfo, Note, Quantity, fields_of
from halfbore.domain.job import Job, Question
from halfbore.domain.machine import Load, Segment
from halfbore.domain.position import Failure, Position
from halfbore.domain.survey import Plain, Thing
from halfbore.domain.survey_layout import KIND, NO, SEPARATOR, YES
from halfbore.errors import InputError, Problem, shown
from halfbore.intake.records import Report, read_field, read_record
from halfbore.units import Span

RECORDS: dict[Thing, type] = {
    Thing.PLANT: Job,
    Thing.MACHINE: Job,
    Thing.SHAFT_LINE: Job,
    Thing.SEGMENT: Segment,
    Thing.CONDITION: Condition,
    Thing.POSITION: Position,
    Thing.FAILURE: Failure,
}
"""The record that the document of a thing is a part of; that of a part follows from its kind."""
PARTS: dict[str, type] = {part.KIND: part for part in get_args(Load)}
TRUTHS = {YES: True, NO: False, "true": True, "false": False}
_STEP = re.compile(r"([A-Za-z_]\w*)(?:\[([^\[\]]*)\])?(?:\.|$)")


@dataclass(frozen=True)
class Checked:
    """A value that can be kept. plain: as a document holds it; value: as a record does; question: what is odd."""

    plain: Any
    value: Any
    question: str = ""


def check_value(root: Thing | type, path: str, text: str, kind: str = "") -> Any:
    """Check one value by its place in a document, and return it as the document holds it.

    root: what the document is of, or the record that it is a part of; path: dotted, entries of lists in brackets, such
    as `loads[gear unit].mass`; text: what is to be kept; kind: of the part, where the path leads into one or root is
    a part. Returns text, or true or false, or a list of texts. Raises InputError with all that is wrong.
    """
    return check_text(leaf(root, path, kind), text, path).plain


def check_document(thing: Thing, document: Plain) -> tuple[tuple[Problem, ...], tuple[Question, ...]]:
    """Check every value of a document that need not be whole.

    thing: what the document is of; document: plain data, a part names its kind.
    Returns what cannot be used and what is odd, each by its path.
    """
    report = Report(partial=True)
    record = RECORDS.get(thing)
    if record is None:
        kind = document.get(KIND)
        record = PARTS.get(kind) if isinstance(kind, str) else None
        if record is None:
            what = "kind is missing" if kind is None else "unknown kind"
            return (Problem(what, KIND, shown(kind), ", ".join(PARTS)),), ()
    read_record(record, document, "", report)
    return tuple(report.problems), tuple(report.questions)


def check_text(info: FieldInfo, text: str, path: str, separator: str = SEPARATOR) -> Checked:
    """Check a text as the value of a field.

    info: the field; path: where it stands, for messages; separator: between the entries of a list.
    Raises InputError.
    """
    given = _given(info, text.strip(), path, separator)
    report = Report(partial=True)
    value = read_field(info, given, path, report)
    if report.problems:
        raise InputError(report.problems)
    question = report.questions[0].text if report.questions else ""
    return Checked(_kept(info, given, value), value, question)


def _given(info: FieldInfo, text: str, path: str, separator: str) -> Any:
    """Return a text as plain data for the reader of records."""
    if info.type is bool:
        if text.casefold() not in TRUTHS:
            raise InputError(Problem("is neither yes nor no", path, shown(text), ", ".join(TRUTHS)))
        return TRUTHS[text.casefold()]
    if get_origin(info.type) is tuple:
        return [part.strip() for part in text.split(separator) if part.strip()]
    if not text and info.type is str and info.required:
        raise InputError(Problem("is empty", path, accepted=info.meta.help))
    return text


def _kept(info: FieldInfo, given: Any, value: Any) -> Any:
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, tuple):
        return [v.value if isinstance(v, StrEnum) else v for v in value]
    return given if isinstance(info.meta, Quantity) or isinstance(given, bool) else value


@lru_cache(maxsize=4096)
def leaf(root: Thing | type, path: str, kind: str = "") -> FieldInfo:
    """Return the field that a path ends at.

    root, path, kind: as for `check_value`. Raises InputError where there is no such field, with the nearest one.
    """
    record = _record(root, kind)
    steps = list(_STEP.finditer(path))
    if not steps or "".join(step[0] for step in steps) != path or path.endswith("."):
        raise InputError(
            Problem("is no path", path, accepted="such as seat.diameter or loads[gear unit].mass")
        )
    found: FieldInfo | None = None
    for number, step in enumerate(steps):
        last = number == len(steps) - 1
        fields = {info.name: info for info in fields_of(record)} | _kind_field(record)
        found = fields.get(step[1])
        if found is None:
            raise _unknown(record, path, step[1])
        inner = _inner(found, step[2] is not None, path, kind, step[1])
        if last == (inner is not None):
            raise InputError(_not_a_value(path, step[1], inner))
        record = inner or record
    assert found is not None
    return found


def _record(root: Thing | type, kind: str) -> type:
    if not isinstance(root, Thing):
        return root
    if root is Thing.PART:
        return _part(kind, KIND)
    return RECORDS[root]


def _part(kind: str, path: str) -> type:
    if kind not in PARTS:
        what = "unknown kind of part" if kind else "the kind of the part is needed"
        raise InputError(Problem(what, path, kind, ", ".join(PARTS)))
    return PARTS[kind]


def _kind_field(record: type) -> dict[str, FieldInfo]:
    """Return the field that says which kind a part is, for a part."""
    if record in PARTS.values():
        return {KIND: FieldInfo(KIND, PartKind, False, Note("kind of part"), True, None)}
    return {}


PartKind = StrEnum("PartKind", {k.upper().replace(" ", "_").replace("-", "_"): k for k in PARTS})  # type: ignore[misc]


def _inner(info: FieldInfo, bracket: bool, path: str, kind: str, name: str) -> type | None:
    """Return the record that a field or one entry of it is, nothing for a plain value."""
    entry = get_args(info.type)[0] if get_origin(info.type) is tuple else None
    if bracket and entry is None:
        raise InputError(Problem(f"{name} is no list", path))
    hint = entry if entry is not None else info.type
    holds = get_origin(hint) in (Union, UnionType)
    if holds or (dataclasses.is_dataclass(hint) and hint is not Span):
        if entry is not None and not bracket:
            raise InputError(Problem(f"{name} is a list", path, accepted=f"{name}[name or number].field"))
        return _part(kind, path) if holds else hint
    if bracket:
        raise InputError(Problem(f"{name} is a list of values", path, accepted=f"{name}, all of them"))
    return None


def _not_a_value(path: str, name: str, inner: type | None) -> Problem:
    if inner is None:
        return Problem(f"{name} is a value and holds nothing", path)
    fields = ", ".join(info.name for info in fields_of(inner))
    return Problem(f"{name} holds several values", path, accepted=f"one of: {fields}")


def _unknown(record: type, path: str, name: str) -> InputError:
    names = [info.name for info in fields_of(record)]
    near = difflib.get_close_matches(name, names, 1, 0.5)
    accepted = f"nearest known: {near[0]}" if near else ", ".join(names)
    return InputError(Problem(f"there is no field {shown(name)!r}", path, accepted=accepted))


@cache
def leaves(record: type) -> dict[str, FieldInfo]:
    """Return every plain value of a record and of the records inside it, by its path; lists of records are left out."""
    return dict(_leaves(record, ""))


def _leaves(record: type, above: str) -> Iterator[tuple[str, FieldInfo]]:
    for info in (*_kind_field(record).values(), *fields_of(record)):
        entry = get_args(info.type)[0] if get_origin(info.type) is tuple else info.type
        holds = dataclasses.is_dataclass(entry) and entry is not Span
        if get_origin(entry) in (Union, UnionType) or (holds and entry is not info.type):
            continue
        if holds:
            yield from _leaves(entry, f"{above}{info.name}.")
        else:
            yield f"{above}{info.name}", info
