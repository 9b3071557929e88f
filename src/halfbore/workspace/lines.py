"""The shaft lines of a workspace, and the rows of the ranking that are kept for them."""

from __future__ import annotations

from collections.abc import Iterable

from halfbore.demo.suppliers import DEMO
from halfbore.documents.files import file_name
from halfbore.domain.survey import Plain
from halfbore.domain.workspace import Address, Edit, KeptCatalogue
from halfbore.domain.worth import Worth
from halfbore.errors import InputError, Problem, UnitError, shown
from halfbore.store import Workspace
from halfbore.store.plain import merged
from halfbore.units import Kind, parse
from halfbore.workspace.ranking import legible

MAPPING = "mapping.toml"
"""Name of the mapping file of a catalogue beside a job file."""
MOST_TAGS = 12
"""Tags that a message names."""


def lines_at(workspace: Workspace, tag: str) -> tuple[Address, ...]:
    """Return the shaft lines that a tag means: of a machine all, of a position its own.

    tag: of a machine, a shaft line or a position. Raises InputError for one that nothing has.
    """
    found = workspace.find(tag)
    if not found:
        known = ", ".join(node.tag for node in workspace.tree()[:MOST_TAGS]) or "none yet"
        step = "halfbore list machines shows all tags"
        raise InputError(Problem("nothing has this tag", str(workspace.path), shown(tag), known, step))
    every = lines_of(workspace)
    return tuple(dict.fromkeys(line for a in found for line in every if line[: len(a[:2])] == a[:2]))


def lines_of(workspace: Workspace) -> tuple[Address, ...]:
    """Return the addresses of all shaft lines that have a position, in order."""
    return tuple(
        (machine.tag, line.tag) for machine in workspace.tree() for line in machine.lines if line.positions
    )


def job_data(workspace: Workspace, line: Address, edits: Iterable[Edit] = ()) -> Plain:
    """Return the job of a shaft line as plain data, its positions in their order along the shaft.

    They came in as the survey had them, and one that was mended later came last; where a place cannot be read the
    order stays, and the reader of the job says what is wrong. It names the catalogues of the workspace, by the places
    where they stand beside a job file. edits: as if they were made. Raises InputError for an unknown address.
    """
    data = workspace.job_data(line, edits)
    data.pop("catalogues", None)
    if names := catalogue_names(workspace):
        data["catalogues"] = list(names)
    places = places_of(data["positions"])
    if None not in places:
        order = sorted(range(len(places)), key=lambda i: places[i] or 0.0)
        data["positions"] = [data["positions"][i] for i in order]
    return data


def told_of(workspace: Workspace, address: Address) -> Plain:
    """Return what is told of one thing, as typed; of a machine with one shaft line, also what is told of that line."""
    document = workspace.document(address)
    lines = [node.lines for node in workspace.tree() if address == (node.tag,)]
    if lines and len(lines[0]) == 1:
        return merged(document, workspace.document((*address, lines[0][0].tag)))
    return document


def catalogue_names(workspace: Workspace) -> tuple[str, ...]:
    """Return what a job file calls the catalogues of a workspace; the demo ones of its plant where it has none."""
    if kept := workspace.catalogues():
        return tuple(f"{catalogue_folder(one)}/{MAPPING}" for one in kept)
    named = map(str, workspace.document(()).get("catalogues", ()))
    return tuple(name for name in named if name.startswith(DEMO))


def catalogue_folder(kept: KeptCatalogue) -> str:
    """Return the folder of a catalogue beside a job file; another content has another one."""
    return f"catalogues/{file_name(f'{kept.supplier}-{kept.version}')}-{kept.sha256[:8]}"


def places_of(entries: Iterable[Plain], kind: str = "") -> list[float | None]:
    """Return the place of each position or part along the shaft [mm], None where it cannot be read.

    kind: of the parts that are meant, all when not given.
    """
    return [_place(entry.get("x", "")) for entry in entries if not kind or entry.get("kind") == kind]


def _place(text: str) -> float | None:
    try:
        return parse(text, Kind.LENGTH)
    except UnitError:
        return None


def kept_worths(workspace: Workspace) -> tuple[tuple[Worth, ...], tuple[Address, ...]]:
    """Return the rows of all results that are kept, and the shaft lines that have none."""
    rows: list[Worth] = []
    never = []
    kept = workspace.results()
    for line in lines_of(workspace):
        found = legible(kept[line])[1] if line in kept else ()
        rows += found
        if not found:
            never.append(line)
    return tuple(rows), tuple(never)
