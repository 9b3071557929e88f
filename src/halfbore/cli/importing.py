"""Bring a survey, a catalogue or a job file into a workspace; without a mapping, propose one."""

from __future__ import annotations

from pathlib import Path
from typing import NoReturn

import typer

from halfbore import limits
from halfbore.cli import show, show_import
from halfbore.cli.who import name_of
from halfbore.documents.files import replace_file
from halfbore.errors import InputError, Problem
from halfbore.intake.book import read_book
from halfbore.intake.proposal.propose import propose_catalogue
from halfbore.intake.survey.own import is_own
from halfbore.intake.survey.propose import proposal_of
from halfbore.present.plain import to_json
from halfbore.present.wording import counted
from halfbore.store import open as open_workspace
from halfbore.workspace.catalogues import import_catalogue
from halfbore.workspace.find import workspace_file
from halfbore.workspace.machine_file import import_job
from halfbore.workspace.survey import SurveyImport, import_survey

MAPPING = ".toml"


def survey(file: Path, mapping: Path | None, workspace: Path | None, who: str, as_json: bool) -> None:
    """Bring in a survey; where it is none of our own sheets and no mapping is given, propose one.

    Raises InputError where a mapping was proposed, and where rows were rejected while the others were brought in.
    """
    place = workspace_file(workspace)
    book = read_book(file) if mapping is None else None
    if book is not None and not is_own(book):
        proposal = proposal_of(book)
        _propose("survey", file, proposal.text, proposal.open)
    with open_workspace(place) as opened:
        done = import_survey(opened, file, mapping, name_of(who), book)
    refused = InputError(_rejected(done, file, mapping)) if done.rejects is not None else None
    if as_json:
        show.document(to_json({"import": done, **(refused.as_dict() if refused else {})}))
        raise typer.Exit(refused.exit_code if refused else 0)
    show_import.survey(done)
    if refused is not None:
        raise refused


def _rejected(done: SurveyImport, file: Path, mapping: Path | None) -> list[Problem]:
    """Return every problem of the rows that were not brought in, up to a number, and what to do about them."""
    found = [problem for reject in done.reading.rejects for problem in reject.problems]
    with_mapping = f" --mapping {mapping}" if mapping else ""
    step = f"mend them in {done.rejects}, then halfbore import survey {done.rejects}{with_mapping}"
    rows = len(done.reading.rejects)
    told = f"{counted(rows, 'row')} {'was' if rows == 1 else 'were'} not brought in"
    last = Problem(f"{told}, for {counted(len(found), 'problem')}", str(file), next_step=step)
    return [*found[: limits.PROBLEMS], last]


def _propose(what: str, file: Path, text: str, settle: tuple[str, ...] = ()) -> NoReturn:
    """Write a proposal for a mapping beside a file, unless there is one, and say that nothing was brought in.

    settle: what must be settled in it first.
    """
    path = file.with_name(f"{file.name}.mapping.toml")
    step = f"read it through, then halfbore import {what} {file} --mapping {path}"
    if path.exists():
        raise InputError(Problem("nothing was brought in: a mapping is there", str(path), next_step=step))
    replace_file(path, text.encode())
    told = [Problem("to be settled in the mapping", one) for one in settle[: limits.PROBLEMS]]
    raise InputError(
        [*told, Problem("nothing was brought in: a mapping was proposed", str(path), next_step=step)]
    )


def catalogue(file: Path, mapping: Path | None, workspace: Path | None, as_json: bool) -> None:
    """Bring in a supplier's catalogue; where no mapping is given, propose one. Raises InputError then."""
    place = workspace_file(workspace)
    if mapping is None and file.suffix.lower() != MAPPING:
        _propose("catalogue", file, propose_catalogue(file))
    with open_workspace(place) as opened:
        done = import_catalogue(opened, file) if mapping is None else import_catalogue(opened, mapping, file)
    if as_json:
        show.document(to_json(done))
    else:
        show_import.catalogue(done)


def job(file: Path, workspace: Path | None, who: str) -> None:
    """Bring in a job file. Raises InputError for one that cannot be used."""
    with open_workspace(workspace_file(workspace)) as opened:
        done = import_job(opened, file, name_of(who))
    show_import.job(done)
