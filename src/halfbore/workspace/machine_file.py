"""A shaft line as job file: out of a workspace, and into one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from halfbore.domain.survey import Plain
from halfbore.domain.workspace import Address, Batch
from halfbore.errors import InputError, Problem
from halfbore.estimate.reading import read_completed
from halfbore.intake.jobfile import plain_job
from halfbore.store import Workspace
from halfbore.workspace.lines import job_data
from halfbore.workspace.survey import edits
from halfbore.workspace.toml_text import toml_text


def job_text(workspace: Workspace, line: Address) -> str:
    """Return a shaft line as job file, every value as typed."""
    return toml_text(job_data(workspace, line))


def import_job(workspace: Workspace, path: Path, who: str) -> tuple[Address, Batch | None]:
    """Bring in a job file as typed; what it has in common with the plant stays with the plant.

    Where it names no positions, those that its machine kind stands for are named, so that they can be told more.
    path: of the file; who: on whose behalf. Returns the shaft line and what was written, None where nothing changed.
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
    after.setdefault(line[:1], {})
    after[line] = _beyond(data, _merged(plant, after[line[:1]]))
    for entry in positions:
        tag = entry["name"]
        other = next((a for a in before if len(a) == 3 and a[2] == tag and a[:2] != line), None)
        if other is not None:
            where = " ".join(part for part in other[:2] if part)
            raise InputError(Problem(f"{tag} stands in {where} already", path.name, tag, "tags of its own"))
        after[(*line, tag)] = entry
    return line, workspace.apply(edits(before, after), who, "job file", path.name)


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
