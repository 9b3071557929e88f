"""A shaft line as job file: out of a workspace, and into one."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from halfbore.demo.suppliers import DEMO
from halfbore.domain.survey import Plain
from halfbore.domain.workspace import Address, Batch, KeptCatalogue
from halfbore.errors import InputError, Problem
from halfbore.estimate.reading import read_completed
from halfbore.intake.jobfile import plain_job
from halfbore.store import Workspace
from halfbore.workspace.catalogues import import_catalogue
from halfbore.workspace.lines import catalogue_names, job_data
from halfbore.workspace.survey import edits
from halfbore.workspace.toml_text import toml_text


def job_text(workspace: Workspace, line: Address) -> str:
    """Return a shaft line as job file, every value as typed."""
    return toml_text(job_data(workspace, line))


@dataclass(frozen=True)
class JobImport:
    """What came of bringing in a job file.

    line: what it became; batch: what was written, None where it changed nothing. catalogues: those that came with it;
    left: names of those that did not, since the workspace has others.
    """

    line: Address
    batch: Batch | None
    catalogues: tuple[KeptCatalogue, ...] = ()
    left: tuple[str, ...] = ()


def import_job(workspace: Workspace, path: Path, who: str) -> JobImport:
    """Bring in a job file as typed; what it has in common with the plant stays with the plant.

    Where it names no positions, those that its machine kind stands for are named, so that they can be told more. The
    catalogues that it names come with it into a workspace that has none.
    path: of the file; who: on whose behalf.
    Raises InputError for a file that is no job, and for positions that stand in another machine.
    """
    data = _as_json(plain_job(path))
    reading = read_completed(data)
    job = reading.job
    before = workspace.contents()
    line = (
        job.machine.name,
        data.get("shaft", {}).get("name", "") or _only_line(workspace, job.machine.name),
    )
    after = dict(before)
    plant = before.get((), {})
    positions = data.pop("positions", None) or [{"name": e["name"]} for e in reading.frame["positions"]]
    data.pop("format")
    names = tuple(data.pop("catalogues", ()))
    there = catalogue_names(workspace)
    demo = [name for name in names if name.startswith(DEMO)]
    if not there and demo:
        after[()] = plant = {**plant, "catalogues": demo}
    after.setdefault(line[:1], {})
    after[line] = _beyond(data, _merged(_by_tags(line), _merged(plant, after[line[:1]])))
    for entry in positions:
        tag, told = entry["name"], {key: value for key, value in entry.items() if key != "name"}
        other = next((a for a in before if len(a) == 3 and a[2] == tag and a[:2] != line), None)
        if other is not None:
            where = " ".join(part for part in other[:2] if part)
            raise InputError(Problem(f"{tag} stands in {where} already", path.name, tag, "tags of its own"))
        after[(*line, tag)] = told
    files = [] if there or demo else [path.parent / name for name in names]
    kept = tuple(import_catalogue(workspace, mapping).kept for mapping in files)
    left = tuple(name for name in names if name not in (there or demo)) if there or demo else ()
    batch = workspace.apply(edits(before, after), who, "job file", path.name)
    return JobImport(line, batch, kept, left)


def _by_tags(line: Address) -> Plain:
    """Return what a job file says of a shaft line by its tags alone."""
    machine, shaft = line
    return {
        "title": " ".join(filter(None, line)),
        "machine": {"name": machine},
        "shaft": {"name": shaft},
    }


def _only_line(workspace: Workspace, machine: str) -> str:
    lines = [line.tag for node in workspace.tree() if node.tag == machine for line in node.lines]
    return lines[0] if len(lines) == 1 else ""


def _as_json(value: Any) -> Any:
    """Return plain data as a workspace keeps it: dates as text."""
    if isinstance(value, dict):
        return {key: _as_json(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_as_json(item) for item in value]
    return value.isoformat() if hasattr(value, "isoformat") else value


def _merged(below: Plain, above: Plain) -> Plain:
    """Return both, what stands above where both say something."""
    both = dict(below)
    for key, value in above.items():
        mine = both.get(key)
        both[key] = _merged(mine, value) if isinstance(mine, dict) and isinstance(value, dict) else value
    return both


def _beyond(data: Plain, inherited: Plain) -> Plain:
    """Return what a document says beyond what it would have from above."""
    own = {}
    for key, value in data.items():
        above = inherited.get(key)
        if isinstance(value, dict) and isinstance(above, dict):
            if rest := _beyond(value, above):
                own[key] = rest
        elif value != above:
            own[key] = value
    return own
