"""The catalogues of a workspace: brought in whole, read again from what is kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from halfbore.catalogue.admit import admitted
from halfbore.catalogue.changes import changes, concerned
from halfbore.catalogue.coverage import coverage
from halfbore.demo.suppliers import DEMO, load
from halfbore.documents.files import replace_file
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.coverage import CatalogueChanges, Concern, Coverage
from halfbore.domain.workspace import KeptCatalogue
from halfbore.errors import InputError, Problem
from halfbore.intake.catalogue import catalogue_from, files_of
from halfbore.intake.mapping import read_mapping_text
from halfbore.intake.mapping_file import mapping_data, mapping_text
from halfbore.intake.tables import file_bytes
from halfbore.store import Workspace
from halfbore.workspace.lines import MAPPING, catalogue_folder, catalogue_names, kept_worths


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


def import_catalogue(workspace: Workspace, mapping: Path, file: Path | None = None) -> CatalogueImport:
    """Bring in a supplier's catalogue and make it the current one; it is read from what is kept.

    mapping: the mapping file; file: the supplier's, its other tables beside it; as the mapping names it when not given.
    Raises InputError for what cannot be read or admitted, and for a version that is there with another content.
    """
    text, files = mapping_and_files(mapping, file)
    return keep_catalogue(workspace, text, files, str(mapping))


def keep_catalogue(
    workspace: Workspace, text: str, files: Mapping[str, bytes], name: str = "the mapping"
) -> CatalogueImport:
    """Bring in a supplier's catalogue from the text of its mapping and its tables by name, as `import_catalogue` does.

    files: where the mapping reads but one and one is given, it may have another name; name: of the mapping.
    """
    needed = files_of(read_mapping_text(text, name))
    if len(needed) == len(files) == 1:
        files = dict(zip(needed, files.values(), strict=True))
    missing = [one for one in needed if one not in files]
    if missing:
        step = "bring the table along, or name it in the mapping as it is called"
        raise InputError(Problem("the table is not there", one, next_step=step) for one in missing)
    files = {one: files[one] for one in needed}
    read = _read(text, files)
    text = _as_kept(workspace, read, text, files, name)
    before = next((c for c in workspace.catalogues() if c.supplier == read.supplier), None)
    kept = workspace.keep_catalogue(read.supplier, read.version, text, files)
    if before is None or before.id == kept.id:
        return CatalogueImport(kept, before is None, coverage(read), None, ())
    found, concern = changes_between(workspace, before, kept)
    return CatalogueImport(kept, True, coverage(read), found, concern)


def mapping_and_files(mapping: Path, file: Path | None) -> tuple[str, dict[str, bytes]]:
    """Return the text of a mapping file and the files that it reads, by the names that it gives them.

    file: one of them, the others beside it; where there is but one, it may have another name. Raises InputError.
    """
    text = mapping_text(mapping)
    names = files_of(read_mapping_text(text, mapping.name))
    if file is None:
        return text, {name: file_bytes(mapping.parent / name) for name in names}
    alone = len(names) == 1 and Path(names[0]).suffix.lower() == file.suffix.lower()
    if file.name not in names and not alone:
        step = f"name one of them, or leave out --mapping: one is proposed for {file.name} then"
        raise InputError(
            Problem(
                f"{mapping.name} is written for another file",
                str(file),
                accepted=", ".join(names),
                next_step=step,
            )
        )
    return text, {name: file_bytes(file if alone else file.with_name(name)) for name in names}


def _as_kept(workspace: Workspace, read: Catalogue, text: str, files: Mapping[str, bytes], name: str) -> str:
    """Return the mapping as it is kept where the same version is there, read the same from the same files.

    Raises InputError where that version is there with another content.
    """
    for kept in workspace.catalogues(current_only=False):
        if (kept.supplier, kept.version) == (read.supplier, read.version):
            said = mapping_data(kept.mapping, name) == mapping_data(text, name)
            if said and workspace.catalogue_files(kept.id) == files:
                return kept.mapping
            step = f'give this one a name of its own: version = "{read.version}-2" in {name}'
            what = "a version of this name is there with another content"
            raise InputError(Problem(what, read.supplier, read.version, next_step=step))
    return text


def _concerned(
    workspace: Workspace, found: CatalogueChanges, old: Catalogue
) -> Iterator[tuple[str, Concern]]:
    known = set(old.units.code.tolist())
    for row in kept_worths(workspace)[0]:
        unit = row.standard or row.unit
        if unit in known:
            yield from ((row.position, concern) for concern in concerned(found, old, [unit]))


def changes_between(
    workspace: Workspace, old: KeptCatalogue, new: KeptCatalogue
) -> tuple[CatalogueChanges, tuple[tuple[str, Concern], ...]]:
    """Return what differs between two versions of a catalogue, and position → what that means for its chosen unit."""
    before = catalogue_of(workspace, old)
    found = changes(before, catalogue_of(workspace, new))
    return found, tuple(_concerned(workspace, found, before))


def catalogues_of(workspace: Workspace) -> tuple[Catalogue, ...]:
    """Return the current catalogues of a workspace; the demo ones that its plant names where it has none.

    Raises InputError where there is none at all.
    """
    kept = workspace.catalogues()
    if kept:
        return tuple(catalogue_of(workspace, one) for one in kept)
    demo = [name.removeprefix(DEMO) for name in catalogue_names(workspace)]
    if not demo:
        step = "halfbore import catalogue FILE"
        raise InputError(Problem("has no catalogue to choose from", str(workspace.path), next_step=step))
    return tuple(load(name) for name in demo)


def write_catalogues(workspace: Workspace, folder: Path) -> tuple[Path, ...]:
    """Write the current catalogues of a workspace into a folder, where the job files of it find them.

    folder: is there. Returns the mapping files. Raises InputError where another file stands in the place of one.
    """
    mappings = []
    for kept in workspace.catalogues():
        place = folder / catalogue_folder(kept)
        for name, content in workspace.catalogue_files(kept.id).items():
            _written(place / name, content)
        mappings.append(_written(place / MAPPING, kept.mapping.encode()))
    return tuple(mappings)


def _written(path: Path, content: bytes) -> Path:
    if not path.exists():
        return replace_file(path, content)
    if not path.is_file() or file_bytes(path) != content:
        step = "move it away, or write into another folder"
        raise InputError(Problem("is not what the workspace holds", str(path), next_step=step))
    return path


def catalogue_of(workspace: Workspace, kept: KeptCatalogue) -> Catalogue:
    """Return one catalogue, read from the files that are kept whole."""
    return _read(kept.mapping, workspace.catalogue_files(kept.id))


def _read(mapping: str, files: Mapping[str, bytes]) -> Catalogue:
    reading = catalogue_from(mapping, files)
    return admitted(reading.catalogue, reading.place)
