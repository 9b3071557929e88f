"""The catalogues of a workspace: brought in whole, read again from what is kept."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from halfbore.catalogue.admit import admitted
from halfbore.catalogue.changes import changes, concerned
from halfbore.catalogue.coverage import coverage
from halfbore.demo.suppliers import DEMO, load
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.coverage import CatalogueChanges, Concern, Coverage
from halfbore.domain.workspace import KeptCatalogue
from halfbore.errors import InputError, Problem
from halfbore.intake.catalogue import catalogue_from, files_of
from halfbore.intake.mapping import read_mapping
from halfbore.intake.tables import file_bytes
from halfbore.store import Workspace
from halfbore.workspace.lines import kept_worths


@dataclass(frozen=True)
class CatalogueImport:
    """What came of bringing in a catalogue.

    kept: as it stands in the workspace; new: it was not there before; coverage: what it covers.
    changes: against the version that was current before, None where there was none.
    concerned: position → what the change means for the unit that was chosen there.
    """

    kept: KeptCatalogue
    new: bool
    coverage: Coverage
    changes: CatalogueChanges | None
    concerned: tuple[tuple[str, Concern], ...]


def import_catalogue(workspace: Workspace, mapping: Path) -> CatalogueImport:
    """Bring in a supplier's catalogue and make it the current one; it is read from what is kept.

    mapping: the mapping file; its tables stand beside it. Raises InputError for what cannot be read or admitted.
    """
    text, files = mapping_and_files(mapping)
    read = _read(text, files)
    before = next((c for c in workspace.catalogues() if c.supplier == read.supplier), None)
    kept = workspace.keep_catalogue(read.supplier, read.version, text, files)
    if before is None or before.id == kept.id:
        return CatalogueImport(kept, before is None, coverage(read), None, ())
    old = catalogue_of(workspace, before)
    found = changes(old, read)
    return CatalogueImport(kept, True, coverage(read), found, tuple(_concerned(workspace, found, old)))


def mapping_and_files(mapping: Path) -> tuple[str, dict[str, bytes]]:
    """Return the text of a mapping file and the files that it reads, by name. Raises InputError, LimitError."""
    names = files_of(read_mapping(mapping))
    files = {name: file_bytes(mapping.parent / name) for name in names}
    return mapping.read_text(encoding="utf-8-sig"), files


def _concerned(
    workspace: Workspace, found: CatalogueChanges, old: Catalogue
) -> Iterator[tuple[str, Concern]]:
    known = set(old.units.code.tolist())
    for row in kept_worths(workspace)[0]:
        if row.unit in known:
            yield from ((row.position, concern) for concern in concerned(found, old, [row.unit]))


def catalogues_of(workspace: Workspace) -> tuple[Catalogue, ...]:
    """Return the current catalogues of a workspace; the demo ones that its plant names where it has none.

    Raises InputError where there is none at all.
    """
    kept = workspace.catalogues()
    if kept:
        return tuple(catalogue_of(workspace, one) for one in kept)
    named = [str(name) for name in workspace.document(()).get("catalogues", ())]
    demo = [name.removeprefix(DEMO) for name in named if name.startswith(DEMO)]
    if not demo:
        step = "halfbore import catalogue FILE"
        raise InputError(Problem("has no catalogue to choose from", str(workspace.path), next_step=step))
    return tuple(load(name) for name in demo)


def catalogue_of(workspace: Workspace, kept: KeptCatalogue) -> Catalogue:
    """Return one catalogue, read from the files that are kept whole."""
    return _read(kept.mapping, workspace.catalogue_files(kept.id))


def _read(mapping: str, files: dict[str, bytes]) -> Catalogue:
    reading = catalogue_from(mapping, files)
    return admitted(reading.catalogue, reading.place)
