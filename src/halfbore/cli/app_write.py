"""The commands of `write`: documents that leave the house."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from halfbore.cli.options import Inch, InWorkspace, Job, Out, Tag, Who

documents = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="Documents that leave the house.")


@documents.command(
    help="The proposal of a machine as PDF, and as XLSX on request; a workspace keeps it whole."
)
def proposal(
    job: Job,
    out: Out = Path(),
    on: Annotated[
        str, typer.Option("--date", metavar="YYYY-MM-DD", help="date that it bears; today when left out")
    ] = "",
    xlsx: Annotated[bool, typer.Option("--xlsx", help="the same as a workbook beside it")] = False,
    inch: Annotated[bool, typer.Option("--inch", help="inches and pounds in the PDF")] = False,
    workspace: InWorkspace = None,
    who: Who = "",
) -> None:
    """Write a proposal."""
    from halfbore.cli import issuing

    issuing.proposal(job, out, on, xlsx, inch, workspace, who)


@documents.command("job", help="A shaft line of the workspace as a job file.")
def write_job(tag: Tag, out: Out = Path(), workspace: InWorkspace = None) -> None:
    """Write a job file."""
    from halfbore.cli import issuing

    issuing.job_file(tag, out, workspace)


@documents.command("ranking", help="All positions of the workspace by worth, as XLSX.")
def write_ranking(
    out: Out = Path(),
    inch: Inch = False,  # noqa: ARG001  its callback has set it
    workspace: InWorkspace = None,
) -> None:
    """Write the ranking."""
    from halfbore.cli import issuing

    issuing.ranking(out, workspace)


@documents.command(
    "survey-sheet", help="A survey sheet, PDF to print and XLSX: empty, or with what is known."
)
def survey_sheet(
    kind: Annotated[str, typer.Argument(metavar="KIND | TAG", show_default=False)] = "",
    out: Out = Path(),
    tag: Annotated[
        str, typer.Option("--tag", metavar="TAG", help="of the new machine that a sheet of a kind is for")
    ] = "",
    workspace: InWorkspace = None,
) -> None:
    """Write a survey sheet."""
    from halfbore.cli import issuing

    issuing.survey_sheet(kind, out, tag, workspace)
