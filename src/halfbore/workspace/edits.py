"""Values as typed become edits: each checked by what its field says of itself."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from typing import Any

from halfbore.domain.job import Question
from halfbore.domain.survey import Plain, Thing
from halfbore.domain.workspace import Address, Edit
from halfbore.errors import InputError, Problem, shown
from halfbore.intake.check import check_document, check_value
from halfbore.store import Workspace, paths

THINGS = (Thing.PLANT, Thing.MACHINE, Thing.SHAFT_LINE, Thing.POSITION)
"""What an address of so many tags is about."""
_PART = re.compile(r"loads\[[^\]]*\]")


def checked_edits(
    workspace: Workspace, address: Address, values: Iterable[tuple[str, str | None]]
) -> tuple[list[Edit], tuple[Question, ...]]:
    """Return values as edits of one thing, and what looks odd in them.

    values: path and text as typed, None to take the value away; a table or a list is written as in a job file.
    What is said of a machine with one shaft line is kept with that line, unless it is told of the machine itself.
    Raises InputError with all that cannot be used.
    """
    by_home: dict[Address, list[tuple[str, str | None]]] = {}
    for path, text in values:
        by_home.setdefault(_home(workspace, address, path), []).append((path, text))
    edits, problems, odd = list[Edit](), list[Problem](), list[Question]()
    for home, those in by_home.items():
        made, found, questions = _edits(workspace.document(home), home, those)
        edits += made
        problems += found
        odd += questions
    if problems:
        raise InputError(problems)
    return edits, tuple(odd)


def exact_edits(
    workspace: Workspace, address: Address, values: Iterable[tuple[str, str | None]]
) -> tuple[list[Edit], tuple[Question, ...]]:
    """Return values as edits of the document at an address itself, and what looks odd in them.

    values: as for `checked_edits`. Raises InputError with all that cannot be used.
    """
    return edits_of(workspace.document(address), address, values)


def edits_of(
    document: Plain, address: Address, values: Iterable[tuple[str, str | None]]
) -> tuple[list[Edit], tuple[Question, ...]]:
    """Return what `exact_edits` does, where the document is at hand."""
    edits, problems, questions = _edits(document, address, values)
    if problems:
        raise InputError(problems)
    return edits, tuple(questions)


def _home(workspace: Workspace, address: Address, path: str) -> Address:
    """Return whose document a value belongs to: of a machine and its only shaft line, the one that decides."""
    if len(address) != 1:
        return address
    lines = next(node.lines for node in workspace.tree() if node.tag == address[0])
    if len(lines) != 1:
        return address
    line = (address[0], lines[0].tag)
    of_machine = path.startswith("machine.") and paths.get(workspace.document(line), path) is None
    return address if of_machine else line


def _edits(
    before: Plain, address: Address, values: Iterable[tuple[str, str | None]]
) -> tuple[list[Edit], list[Problem], list[Question]]:
    """Return values as edits of one document, what cannot be used, and what looks odd."""
    thing, after = THINGS[len(address)], before
    edits, problems = list[Edit](), list[Problem]()
    begun: dict[str, set[str]] = {}
    for typed, text in values:
        try:
            path = _of_new_entry(typed, after, begun)
            new = None if text is None else _value(thing, after, path, text)
            after = paths.set(after, path, new)
            edits.append(Edit(address, path, new))
        except InputError as error:
            problems.extend(error.problems)
    found, questions = check_document(thing, after)
    known, asked = check_document(thing, before) if found or questions else ((), ())
    problems += [problem for problem in found if problem not in (*known, *problems)]
    return edits, problems, [question for question in questions if question not in asked]


def _of_new_entry(path: str, document: Plain, begun: dict[str, set[str]]) -> str:
    """Return a path in which a list's new entry that was begun before stands by its place.

    `history[+].on` and `history[+].why` fill one entry; a field that comes again, or a whole entry, begins the next.
    begun: list → fields of its last new entry.
    """
    entries, new, field = path.partition(f"[{paths.NEW}]")
    if not new:
        return path
    if not field or field in begun.get(entries, {field}):
        begun[entries] = {field}
        return path
    begun[entries].add(field)
    return f"{entries}[{len(paths.get(document, entries)) - 1}]{field}"


def _value(thing: Thing, document: Plain, path: str, text: str) -> Any:
    if text.startswith(("{", "[")):
        try:
            return tomllib.loads(f"value = {text}")["value"]
        except (ValueError, RecursionError) as error:
            raise InputError(Problem(f"is no table and no list: {error}", path, shown(text))) from None
    part = _PART.match(path)
    of_part = f"{part[0]}.kind" if part else ""
    kind = text if path == of_part else paths.get(document, of_part) if part else None
    return check_value(thing, path, text, str(kind or ""))
