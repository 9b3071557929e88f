"""Documents that leave the house; those of a workspace are kept in it whole."""

from __future__ import annotations

import shlex
from datetime import date
from pathlib import Path

from halfbore.cli import jobs, proposals, show
from halfbore.cli.style import shown
from halfbore.cli.targets import Target, target
from halfbore.cli.who import name_of
from halfbore.documents.files import file_name, replace_file
from halfbore.domain.survey import Thing
from halfbore.domain.survey_form import SheetKind
from halfbore.domain.workspace import named
from halfbore.errors import InputError, Problem
from halfbore.present.plain import plain_data
from halfbore.store import open as open_workspace
from halfbore.study import Stage
from halfbore.workspace.catalogues import write_catalogues
from halfbore.workspace.find import workspace_file, workspaces_in
from halfbore.workspace.lines import kept_worths, lines_at
from halfbore.workspace.machine_file import job_text
from halfbore.workspace.ranking import ranked


def proposal(
    job: str,
    out: Path,
    on: str,
    xlsx: bool,
    inch: bool,
    workspace: Path | None,
    who: str,
    brief: bool = False,
) -> None:
    """Study a job and write its proposal; that of a workspace is kept whole. Raises InputError.

    brief: say where it stands and nothing else.
    """
    when = proposals.day(on)
    proposals.folder(out)
    about = target(job, workspace)
    found, _ = jobs.studied(about, Stage.VALUE)
    if not brief:
        jobs.opening(found, about)
    for path in proposals.written(found, about.stem, out, when, xlsx, inch):
        if about.workspace is not None:
            _kept(about, path, found, name_of(who))
        show.document(f"Written: {path}")


def _kept(about: Target, path: Path, found: object, who: str) -> None:
    assert about.workspace is not None
    assert about.line is not None
    job = about.reading.job
    with open_workspace(about.workspace) as opened:
        opened.keep_document(
            about.line,
            number=job.number,
            title=job.title,
            kind=path.suffix.lstrip("."),
            file_name=path.name,
            content=path.read_bytes(),
            who=who,
            record=plain_data(found),
        )


def job_file(tag: str, out: Path, workspace: Path | None) -> None:
    """Write the shaft lines of a tag as job files, and the workspace's own catalogues beside them. Raises InputError."""
    proposals.folder(out)
    with open_workspace(workspace_file(workspace)) as opened:
        lines = lines_at(opened, tag)
        for path in write_catalogues(opened, out):
            show.document(f"Written: {path}")
        for line in lines:
            name = "-".join(part for part in line if part)
            path = replace_file(out / f"{file_name(name)}.toml", job_text(opened, line).encode())
            show.document(f"Written: {path}")


def ranking(out: Path, workspace: Path | None) -> None:
    """Write all positions by worth as a workbook. Raises InputError where nothing was run yet."""
    from halfbore.documents.ranking import write_ranking

    proposals.folder(out)
    place = workspace_file(workspace)
    with open_workspace(place) as opened:
        rows, never = kept_worths(opened)
        invented = opened.document(()).get("invented") is True
    if not rows:
        raise InputError(Problem("holds no result yet", str(place), next_step="halfbore run"))
    names = [named(line) for line in never]
    file = out / f"{place.stem}-ranking.xlsx"
    path = write_ranking(ranked(rows), names, date.today(), file, invented, shown())
    show.document(f"Written: {path}")


def survey_sheet(kind: str, out: Path, machine: str, workspace: Path | None) -> None:
    """Write survey sheets as PDF and XLSX: empty ones of a kind, or those of a tag with what is known filled in.

    kind: a kind of shaft line, or a tag of the workspace. Raises InputError for what is neither.
    """
    from halfbore.documents.survey_sheet import write_survey_sheets

    proposals.folder(out)
    if machine or kind.casefold() in {name for k in SheetKind for name in (k.value, k.words)}:
        paths = list(write_survey_sheets(kind, out, machine))
    else:
        paths = _known_sheets(kind, out, workspace)
    for path in paths:
        show.document(f"Written: {path}")
    if all(path.suffix == ".pdf" for path in paths):
        show.line(
            f"A workbook is filled in for one machine: halfbore write survey-sheet {shlex.quote(kind)} --tag F9"
        )


def _known_sheets(tag: str, out: Path, workspace: Path | None) -> list[Path]:
    """Write the survey sheets of what a tag means, with all that the workspace knows."""
    from halfbore.documents.survey_sheet import write_survey_sheet
    from halfbore.documents.survey_workbook import write_survey_workbook
    from halfbore.workspace.known import known_of, sheet_kind

    if workspace is None and not workspaces_in():
        SheetKind.named(tag)  # says which kinds there are
    place = workspace_file(workspace)
    paths = []
    with open_workspace(place) as opened:
        if not opened.find(tag):
            kinds = ", ".join(k.value for k in SheetKind)
            raise InputError(
                Problem("is neither a tag of the workspace nor a kind of shaft line", str(place), tag, kinds)
            )
        for line in lines_at(opened, tag):
            told, kind = known_of(opened, line), sheet_kind(opened, line)
            stem = out / f"{file_name('-'.join(part for part in line if part))}-survey"
            count = sum(t.thing is Thing.POSITION for t in told)
            today = date.today()
            paths += [
                write_survey_sheet(kind, today, stem.with_suffix(".pdf"), line[0], count, told),
                write_survey_workbook(stem.with_suffix(".xlsx"), told, today),
            ]
    return paths
