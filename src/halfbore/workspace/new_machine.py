"""A machine that is added by hand: its kind, what the plates of motor and gear unit say, and its positions by name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from halfbore.domain.survey import Plain, Thing
from halfbore.domain.workspace import Address, Edit
from halfbore.errors import InputError, Problem, shown
from halfbore.estimate.reading import read_completed
from halfbore.intake.check import check_value
from halfbore.store import Workspace, paths

MOST_POSITIONS = 20


def add_machine(
    workspace: Workspace, tag: str, values: Mapping[str, str], who: str, line: str = "", positions: str = ""
) -> Address:
    """Add a machine with one shaft line, and return the address of that line.

    tag, line: of the machine and of its shaft line; values: path → text as typed, those that are empty left out;
    positions: tags parted by commas, empty for those that a machine of its kind has.
    Raises InputError with all that cannot be used; nothing is written then.
    """
    tag, line = tag.strip(), line.strip()
    problems = (
        [] if tag else [Problem("the machine needs a tag", "tag", accepted="a tag that the plant has once")]
    )
    if tag and workspace.find(tag):
        problems.append(
            Problem("something has this tag already", "tag", shown(tag), "a tag that the plant has once")
        )
    document: Plain = {}
    for path, text in values.items():
        if text.strip():
            try:
                document = paths.set(document, path, check_value(Thing.MACHINE, path, text.strip()))
            except InputError as error:
                problems += [replace(problem, where=path) for problem in error.problems]
    if "kind" not in document.get("machine", {}):
        problems.append(Problem("the kind of machine is not said", "machine.kind"))
    tags = _tags(positions) or (_usual(tag, document) if not problems else [])
    problems += [p for one in tags for p in _refused(workspace, one, tags)]
    if len(tags) > MOST_POSITIONS:
        problems.append(Problem("too many positions", "positions", str(len(tags)), f"up to {MOST_POSITIONS}"))
    if problems:
        raise InputError(dict.fromkeys(problems))
    made = [Edit((tag,), "", document), Edit((tag, line), "", {})]
    made += [Edit((tag, line, one), "", {}) for one in tags]
    workspace.apply(made, who, "add machine", expected={edit.address: 0 for edit in made})
    return (tag, line)


def _tags(text: str) -> list[str]:
    return [part.strip() for part in text.replace(";", ",").split(",") if part.strip()]


def _usual(tag: str, document: Plain) -> list[str]:
    """Return the tags of the positions that a machine of its kind has; two where its plates say too little."""
    machine = {**document["machine"], "name": tag}
    try:
        frame = read_completed({**document, "format": 1, "machine": machine}).frame
    except InputError:
        frame = {}
    return [str(entry["name"]) for entry in frame.get("positions", ())] or [f"{tag}-A", f"{tag}-B"]


def _refused(workspace: Workspace, tag: str, tags: list[str]) -> list[Problem]:
    accepted = "tags that the plant has once"
    if tags.count(tag) > 1:
        return [Problem("two positions have one tag", "positions", shown(tag), accepted)]
    if workspace.find(tag):
        return [Problem("something has this tag already", "positions", shown(tag), accepted)]
    return []
