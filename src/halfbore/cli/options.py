"""Arguments and options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

Job = Annotated[
    str,
    typer.Argument(metavar="JOB.toml | TAG", help="job file, or a tag of the workspace", show_default=False),
]
Jobs = Annotated[
    list[str] | None,
    typer.Argument(
        metavar="[JOB.toml | TAG ...]",
        help="job file, or tags of the workspace; the whole workspace when left out",
        show_default=False,
    ),
]
InWorkspace = Annotated[
    Path | None,
    typer.Option("--workspace", metavar="FILE", help="workspace", show_default="the one in this folder"),
]
Tag = Annotated[str, typer.Argument(metavar="TAG", help="a tag of the workspace", show_default=False)]
Who = Annotated[
    str, typer.Option("--who", metavar="NAME", help="who is named in the history", show_default="your login")
]
Json = Annotated[bool, typer.Option("--json", help="print the whole record as one JSON document")]
Require = Annotated[bool, typer.Option("--require", help="exit with 3 where nothing holds at a position")]


def _shown_in(inch: bool) -> bool:
    from halfbore.cli.style import show_in

    show_in(inch)
    return inch


Inch = Annotated[bool, typer.Option("--inch", help="show inches and pounds", callback=_shown_in)]
Why = Annotated[
    str,
    typer.Option("--why", metavar="CHECK", help="show the working of a check, of POSITION:CHECK, or of all"),
]

Out = Annotated[
    Path, typer.Option("--out", metavar="FOLDER", help="where files are written", show_default="here")
]
