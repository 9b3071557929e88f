"""The commands of `import`: what comes into a workspace."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from halfbore.cli.options import InWorkspace, Json, Who

brought = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="Bring something into the workspace.")

Mapping = Annotated[
    Path | None,
    typer.Option("--mapping", metavar="FILE", help="how its columns are to be read; proposed when left out"),
]


@brought.command("survey", help="A survey: a spreadsheet with one row a position, or one of our own sheets.")
def import_survey(
    file: Annotated[Path, typer.Argument(metavar="FILE", show_default=False)],
    mapping: Mapping = None,
    workspace: InWorkspace = None,
    who: Who = "",
    json: Json = False,
) -> None:
    """Import a survey."""
    from halfbore.cli import importing

    importing.survey(file, mapping, workspace, who, json)


@brought.command("catalogue", help="A supplier's catalogue: one table or several.")
def import_catalogue(
    file: Annotated[Path, typer.Argument(metavar="FILE | MAPPING.toml", show_default=False)],
    mapping: Mapping = None,
    workspace: InWorkspace = None,
    json: Json = False,
) -> None:
    """Import a catalogue."""
    from halfbore.cli import importing

    importing.catalogue(file, mapping, workspace, json)


@brought.command("job", help="A job file of one machine.")
def import_job(
    file: Annotated[Path, typer.Argument(metavar="JOB.toml", show_default=False)],
    workspace: InWorkspace = None,
    who: Who = "",
) -> None:
    """Import a job file."""
    from halfbore.cli import importing

    importing.job(file, workspace, who)
