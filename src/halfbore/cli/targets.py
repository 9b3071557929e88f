"""What a command is about: a job file, or a shaft line of a workspace."""

from __future__ import annotations

import shlex
from dataclasses import dataclass
from pathlib import Path

from halfbore.domain.catalogue import Catalogue
from halfbore.domain.job import JobReading
from halfbore.domain.workspace import Address
from halfbore.errors import InputError, Problem
from halfbore.store.place import Place

JOB = ".toml"


@dataclass(frozen=True)
class Target:
    """One shaft line to work on.

    named: as it was typed, for what is said to be typed next; stem: for names of files.
    folder: of the job file, None for a shaft line of a workspace.
    """

    named: str
    stem: str
    reading: JobReading
    folder: Path | None
    workspace: Place | None = None
    line: Address | None = None

    @property
    def typed(self) -> str:
        """What was typed, as a shell takes it again."""
        return shlex.quote(self.named)

    def catalogues(self) -> list[Catalogue]:
        """Return the catalogues to choose from. Raises InputError."""
        if self.folder is not None:
            from halfbore.demo.suppliers import load_catalogue

            return [load_catalogue(name, self.folder) for name in self.reading.job.catalogues]
        from halfbore.store import open as open_workspace
        from halfbore.workspace.catalogues import catalogues_of

        assert self.workspace is not None
        with open_workspace(self.workspace) as workspace:
            return list(catalogues_of(workspace))


def is_job_file(text: str) -> bool:
    """Whether what was typed means a job file, whether it is there or not."""
    return text.lower().endswith(JOB) or Path(text).is_file()


def target(text: str, workspace: Place | None) -> Target:
    """Return the job file or the shaft line that was typed.

    text: path of a job file, or a tag of a machine, shaft line or position; workspace: as named, None to look for it.
    Raises InputError where there is none, or where a machine has several shaft lines.
    """
    if is_job_file(text):
        from halfbore.estimate.reading import read_completed_file

        path = Path(text)
        return Target(text, path.stem, read_completed_file(path), path.parent)
    from halfbore.documents.files import file_name
    from halfbore.store import open as open_workspace
    from halfbore.workspace.find import workspace_file
    from halfbore.workspace.lines import lines_at
    from halfbore.workspace.running import reading_of

    place = workspace_file(workspace)
    with open_workspace(place) as opened:
        lines = lines_at(opened, text)
        if len(lines) > 1:
            names = ", ".join(" ".join(line) for line in lines)
            raise InputError(Problem(f"{text} has several shaft lines", str(place), text, names, "name one"))
        line = lines[0]
        return Target(
            text,
            file_name("-".join(part for part in line if part)),
            reading_of(opened, line),
            None,
            place,
            line,
        )


def only(named: list[str], workspace: Place | None) -> Target:
    """Return the one job that was named. Raises InputError where it is none or many."""
    if len(named) != 1:
        step = "several at once are tags of a workspace, without a job file: halfbore run TAG TAG"
        asked = " ".join(named)
        raise InputError(Problem("one job is wanted here", "command line", asked, "one job or tag", step))
    return target(named[0], workspace)
