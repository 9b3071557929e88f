"""Open a workspace, do one thing with it, show what came of it."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

from halfbore.catalogue.coverage import coverage
from halfbore.cli import show, show_plant
from halfbore.cli.who import name_of
from halfbore.domain.coverage import Coverage
from halfbore.domain.workspace import Address, Edit, MachineNode, named
from halfbore.errors import InputError, Problem
from halfbore.present.catalogues import coverage_text
from halfbore.present.plain import plain_data, to_json
from halfbore.present.wording import counted
from halfbore.store import Place, Workspace, create, move, place_of
from halfbore.store import open as open_workspace
from halfbore.workspace.catalogues import catalogue_of
from halfbore.workspace.edits import checked_edits
from halfbore.workspace.find import DATABASE, SUFFIX, workspace_file
from halfbore.workspace.lines import kept_worths, told_of
from halfbore.workspace.ranking import ranked

PLANT = "-"
"""What stands for the plant where a tag is wanted."""


def new(file: Path, plant: str, source: Path | None, who: str) -> None:
    """Make a workspace; source: a file that is moved into a database. Raises InputError where it cannot be made."""
    place = place_of(file)
    if source is not None:
        _moved(source, place)
        return
    if isinstance(place, Path) and file.suffix != SUFFIX:
        step = f"name it {file.stem or 'plant'}{SUFFIX}: it is found by that"
        raise InputError(
            Problem("is no name for a workspace", str(file), accepted=f"NAME{SUFFIX}", next_step=step)
        )
    name = plant or place.stem
    with create(place, name) as workspace:
        workspace.apply([Edit((), "machine.plant", name)], name_of(who), "new workspace")
    show.line(f"{place}: made for {name}.")
    show.line(
        "Next: halfbore set - FIELD=VALUE for what all machines share, halfbore import survey FILE, "
        "halfbore import catalogue FILE, or halfbore import job JOB.toml"
    )


def _moved(source: Path, place: Place) -> None:
    if isinstance(place, Path):
        step = f"copy {source} as it is, or name a database"
        raise InputError(Problem("only a database is filled from a file", str(place), next_step=step))
    with move(source, place) as workspace:
        changes = workspace.batches(1)
    show.line(f"{place}: holds all of {source}, up to batch {changes[0].id if changes else 0}.")
    show.line(f"Name it by {DATABASE}, and put the file away: edits of it do not reach the database.")


def listing(what: str, as_json: bool, workspace: Path | None) -> None:
    """Show what there is of one kind. Raises InputError for a kind that is not known."""
    if what not in _LISTS:
        raise InputError(Problem("is nothing that is listed", "list", what, ", ".join(_LISTS)))
    with open_workspace(workspace_file(workspace)) as opened:
        _LISTS[what](opened, as_json)


def _positions(workspace: Workspace, as_json: bool) -> None:
    rows, never = kept_worths(workspace)
    if as_json:
        show.document(to_json({"worths": ranked(rows), "not_run": [list(line) for line in never]}))
        return
    show_plant.ranking(ranked(rows))
    if never:
        names = ", ".join(named(line) for line in never)
        show.line(f"Not run yet: {names}. halfbore run runs all of them.")
    if not rows and not never:
        show.line("No position yet: halfbore import survey FILE, or halfbore import job JOB.toml")


def _or_nothing(
    get: Callable[[Workspace], tuple[Any, ...]], shown: Callable[[Any], None], nothing: str
) -> Callable[[Workspace, bool], None]:
    """Return what lists things: the records as JSON, a table of them, or what to do where there is none."""

    def listed(workspace: Workspace, as_json: bool) -> None:
        found = get(workspace)
        if as_json:
            show.document(to_json(found))
        elif found:
            shown(found)
        else:
            show.line(nothing)

    return listed


_LISTS: dict[str, Callable[[Workspace, bool], None]] = {
    "positions": _positions,
    "machines": _or_nothing(
        lambda workspace: workspace.tree(),
        show_plant.machines,
        "No machine yet: halfbore import survey FILE, or halfbore import job JOB.toml",
    ),
    "catalogues": _or_nothing(
        lambda workspace: workspace.catalogues(current_only=False),
        show_plant.catalogues,
        "No catalogue yet: halfbore import catalogue FILE",
    ),
    "documents": _or_nothing(
        lambda workspace: workspace.documents(),
        show_plant.documents,
        "No document yet: halfbore write proposal TAG",
    ),
}


def showing(tag: str, as_json: bool, workspace: Path | None) -> None:
    """Show the plant, a machine, a shaft line, a position, or the coverage of a supplier's catalogue."""
    with open_workspace(workspace_file(workspace)) as opened:
        for kept in opened.catalogues():
            if tag and kept.supplier.casefold().startswith(tag.casefold()) and not opened.find(tag):
                _coverage(coverage(catalogue_of(opened, kept)), as_json)
                return
        address = address_of(opened, tag)
        document = told_of(opened, address)
        if as_json:
            show.document(to_json({"address": list(address), "document": document}))
            return
        show.heading(named(address))
        show_plant.document(document)
        if below := _below(opened, address):
            show_plant.machines(below)
        rows, _ = kept_worths(opened)
        for row in rows:
            if (row.machine, row.shaft_line, row.position)[: len(address)] == address and address:
                show_plant.worth(row)


def _below(workspace: Workspace, address: Address) -> list[MachineNode]:
    """Return what stands under the plant, a machine or a shaft line, that alone; nothing under a position."""
    if len(address) == len(("machine", "shaft line", "position")):
        return []
    nodes = (node for node in workspace.tree() if node.tag in address[:1] or not address)
    return [
        replace(node, lines=tuple(line for line in node.lines if line.tag in address[1:] or len(address) < 2))
        for node in nodes
    ]


def _coverage(found: Coverage, as_json: bool) -> None:
    show.document(to_json(found) if as_json else coverage_text(found))


def address_of(workspace: Workspace, tag: str) -> Address:
    """Return the address of a tag; of the plant for none. Raises InputError where there is none or several."""
    if tag in ("", PLANT):
        return ()
    found = workspace.find(tag)
    if len(found) == 1:
        return found[0]
    if found:
        names = ", ".join(named(address) for address in found)
        raise InputError(Problem("means several things", str(workspace.path), tag, names, "name one"))
    raise unknown(workspace, tag)


def unknown(workspace: Workspace, tag: str) -> InputError:
    """Return the error for a tag that nothing has."""
    known = [node.tag for node in workspace.tree()]
    step = "halfbore list machines shows all"
    return InputError(Problem("nothing has this tag", str(workspace.path), tag, ", ".join(known[:12]), step))


def setting(tag: str, values: list[str], workspace: Path | None, who: str) -> None:
    """Change values, all of them or none. Raises InputError with every value that cannot be used."""
    pairs = [_pair(text) for text in values]
    with open_workspace(workspace_file(workspace)) as opened:
        address = address_of(opened, tag)
        edits, questions = checked_edits(opened, address, pairs)
        batch = opened.apply(edits, name_of(who), "set")
    if batch is None:
        show.line("Nothing changes: these values stood there.")
        return
    show.line(
        f"{named(address)}: {counted(batch.changes, 'value')} changed (number {batch.id}; halfbore undo takes it back)."
    )
    for question in questions:
        show.question(question.path, question.text)


def _pair(text: str) -> tuple[str, str | None]:
    path, equals, value = text.partition("=")
    if not equals or not path.strip():
        raise InputError(
            Problem("is no change", "set", text, "seat.diameter='159.98 mm'; FIELD= takes a value away")
        )
    return path.strip(), value.strip() or None


def changes(tag: str, limit: int, as_json: bool, workspace: Path | None) -> None:
    """Show the history of the plant or of one thing and all below it."""
    with open_workspace(workspace_file(workspace)) as opened:
        found = opened.history(address_of(opened, tag) if tag else None, limit)
    if as_json:
        show.document(to_json([plain_data(change) for change in found]))
    elif found:
        show_plant.history(found)
    else:
        show.line("No change yet.")


def undoing(batch: int | None, workspace: Path | None, who: str) -> None:
    """Take a change back. Raises InputError where a later one stands in the way."""
    with open_workspace(workspace_file(workspace)) as opened:
        done = opened.undo(name_of(who), batch)
    show.line(
        f"Number {done.undoes} is taken back: {counted(done.changes, 'value')} as before (number {done.id})."
    )


def backup(file: Path, workspace: Path | None) -> None:
    """Copy a workspace. Raises InputError where it cannot be written."""
    with open_workspace(workspace_file(workspace)) as opened:
        with suppress(OSError):  # the copy itself then says what is wrong with the folder
            file.parent.mkdir(parents=True, exist_ok=True)
        opened.backup(file)
        here = opened.path
    show.line(f"{file}: a whole copy, checked.")
    beside = isinstance(here, Path) and file.resolve().parent == here.resolve().parent
    if file.suffix == SUFFIX and beside:
        show.line(f"Two workspaces are in that folder now: name one by --workspace {here}, or move the copy.")
