"""The commands. Each opens what it needs when it runs, calls one function and shows the result."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from halfbore.cli.app_import import brought
from halfbore.cli.app_user import people
from halfbore.cli.app_write import documents
from halfbore.cli.commands import SET_EXAMPLES
from halfbore.cli.options import Inch, InWorkspace, Job, Jobs, Json, Out, Require, Who, Why

app = typer.Typer(
    name="halfbore",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)
app.add_typer(documents, name="write")
app.add_typer(brought, name="import")
app.add_typer(people, name="user")


def call(arguments: list[str]) -> int:
    """Run the command that the arguments name, and return its exit code. Raises whatever it raises."""
    code = typer.main.get_command(app)(args=arguments, prog_name="halfbore", standalone_mode=False)
    return code if isinstance(code, int) else 0


@app.command(help="Everything for one machine, or a ranking of all positions of a workspace.")
def run(
    jobs: Jobs = None,
    why: Why = "",
    json: Json = False,
    require: Require = False,
    explain: Annotated[
        bool, typer.Option("--explain", help="print the job file back with every assumption filled in")
    ] = False,
    out: Out = Path(),
    no_pdf: Annotated[bool, typer.Option("--no-pdf", help="write no proposal")] = False,
    inch: Inch = False,  # noqa: ARG001  its callback has set it
    workspace: InWorkspace = None,
) -> None:
    """Run a job file, a shaft line, or many."""
    from halfbore.cli import show
    from halfbore.cli.jobs import explained_job, run
    from halfbore.cli.targets import is_job_file, only

    if explain:
        show.document(explained_job(only(jobs or [], workspace)))
    elif any(map(is_job_file, jobs or ())):
        run(only(jobs or [], workspace), why, json, require, None if no_pdf or json else out)
    else:
        from halfbore.cli.running import run_workspace

        run_workspace(jobs or [], why, json, require, workspace)


@app.command(help="Every check of the chosen unit at each position, with its source.")
def check(
    job: Job,
    why: Why = "",
    json: Json = False,
    require: Require = False,
    inch: Inch = False,  # noqa: ARG001  its callback has set it
    workspace: InWorkspace = None,
) -> None:
    """Run a job as far as its checks."""
    from halfbore.cli import jobs
    from halfbore.cli.targets import target

    jobs.stage("check", target(job, workspace), json, require, why)


def _stage(name: str, help_text: str) -> None:
    """Add the command of one stage."""

    @app.command(name, help=help_text)
    def command(
        job: Job,
        json: Json = False,
        require: Require = False,
        inch: Inch = False,  # noqa: ARG001  its callback has set it
        workspace: InWorkspace = None,
    ) -> None:
        from halfbore.cli import jobs
        from halfbore.cli.targets import target

        jobs.stage(name, target(job, workspace), json, require)


for _name, _help in {
    "loads": "What acts on the shaft, and the reactions at its bearings.",
    "select": "The chosen unit, the next one, and what turned the others away.",
    "order": "Order code, bill of materials, spares, and the supplier's questions.",
    "changeover": "Both plans hour by hour: one-piece bearing and split unit.",
    "value": "Hours and money with their ranges, and when the answer is no.",
}.items():
    _stage(_name, _help)


@app.command(help="One calculation alone, from a JSON file, stdin (-) or NAME=VALUE pairs.")
def calc(
    name: Annotated[str, typer.Argument(metavar="NAME", show_default=False)] = "",
    given: Annotated[
        list[str] | None, typer.Argument(metavar="INPUT.json | C_r='200 kN' ...", show_default=False)
    ] = None,
    listed: Annotated[bool, typer.Option("--list", help="show every calculation")] = False,
    schema: Annotated[bool, typer.Option("--schema", help="print the JSON schema of the input")] = False,
    example: Annotated[bool, typer.Option("--example", help="print an input to start from")] = False,
    working: Annotated[bool, typer.Option("--working", help="show every clause with its numbers")] = False,
    json: Json = False,
) -> None:
    """Run one calculation."""
    from halfbore.cli import calculations

    if listed or not name:
        calculations.listing(json)
    elif schema:
        calculations.schema(name)
    elif example:
        calculations.example(name)
    else:
        calculations.answer(name, given or [], working, json)


@app.command(help="An order code in words, or a specification (JSON file) as an order code.")
def code(
    text: Annotated[str, typer.Argument(metavar="CODE | SPECIFICATION.json", show_default=False)],
    catalogue: Annotated[
        str,
        typer.Option(
            metavar="CATALOGUE", help="demo:first, demo:second or a mapping file; all demo ones when left out"
        ),
    ] = "",
    json: Json = False,
) -> None:
    """Convert a code."""
    from halfbore.cli import codes

    codes.convert(text, catalogue, json)


@app.command(help="The invented plant in a folder; what is there already is left as it is.")
def demo(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", show_default="halfbore-demo")] = Path(
        "halfbore-demo"
    ),
) -> None:
    """Make or open the demo."""
    from halfbore.cli import demo as plant

    plant.open_or_make(folder)


@app.command(help="A new workspace: one file, or a database postgresql://…, that holds a plant.")
def new(
    file: Annotated[Path, typer.Argument(metavar="FILE.halfbore", show_default=False)],
    plant: Annotated[
        str,
        typer.Option("--plant", metavar="NAME", help="name of the plant", show_default="that of the file"),
    ] = "",
    source: Annotated[
        Path | None,
        typer.Option("--from", metavar="FILE", help="workspace file that is moved there", show_default=False),
    ] = None,
    who: Who = "",
) -> None:
    """Make a workspace."""
    from halfbore.cli import workspaces

    workspaces.new(file, plant, source, who)


@app.command("list", help="What the workspace holds: positions by worth, machines, catalogues, documents.")
def list_things(
    what: Annotated[
        str, typer.Argument(metavar="[positions | machines | catalogues | documents]", show_default=False)
    ] = "positions",
    json: Json = False,
    inch: Inch = False,  # noqa: ARG001  its callback has set it
    workspace: InWorkspace = None,
) -> None:
    """List what there is."""
    from halfbore.cli import workspaces

    workspaces.listing(what, json, workspace)


@app.command(help="One thing of the workspace: plant, machine, shaft line, position or catalogue.")
def show(
    tag: Annotated[
        str, typer.Argument(metavar="[TAG | SUPPLIER]", show_default=False, help="the plant when left out")
    ] = "",
    json: Json = False,
    inch: Inch = False,  # noqa: ARG001  its callback has set it
    workspace: InWorkspace = None,
) -> None:
    """Show one thing."""
    from halfbore.cli import workspaces

    workspaces.showing(tag, json, workspace)


@app.command(
    "set", help="Change values of the plant (-), a machine, a shaft line or a position.", epilog=SET_EXAMPLES
)
def set_values(
    tag: Annotated[str, typer.Argument(metavar="TAG", show_default=False)],
    values: Annotated[list[str], typer.Argument(metavar="FIELD=VALUE ...", show_default=False)],
    workspace: InWorkspace = None,
    who: Who = "",
) -> None:
    """Change values."""
    from halfbore.cli import workspaces

    workspaces.setting(tag, values, workspace, who)


@app.command(help="Who changed what and when: of the plant, or of one thing.")
def history(
    tag: Annotated[str, typer.Argument(metavar="[TAG]", show_default=False)] = "",
    limit: Annotated[int, typer.Option("--limit", metavar="N", help="changes at most")] = 50,
    json: Json = False,
    workspace: InWorkspace = None,
) -> None:
    """Show the history."""
    from halfbore.cli import workspaces

    workspaces.changes(tag, limit, json, workspace)


@app.command(help="Take the last change back, or the one that is named.")
def undo(
    batch: Annotated[int | None, typer.Argument(metavar="[NUMBER]", show_default=False)] = None,
    workspace: InWorkspace = None,
    who: Who = "",
) -> None:
    """Undo a change."""
    from halfbore.cli import workspaces

    workspaces.undoing(batch, workspace, who)


@app.command(help="A whole copy of the workspace, also while it is in use.")
def backup(
    file: Annotated[Path, typer.Argument(metavar="FILE", show_default=False)], workspace: InWorkspace = None
) -> None:
    """Copy the workspace."""
    from halfbore.cli import workspaces

    workspaces.backup(file, workspace)


@app.command(
    help="Open the workspace in the browser, until Ctrl C: on this machine alone, or for users with passwords."
)
def serve(
    workspace: Annotated[
        Path | None,
        typer.Argument(metavar="[WORKSPACE]", help="workspace", show_default="the one in this folder"),
    ] = None,
    database: Annotated[
        str,
        typer.Option("--database", metavar="postgresql://…", help="that of a team", show_default=False),
    ] = "",
    port: Annotated[int, typer.Option("--port", min=0, max=65535, help="0 takes a free one")] = 8484,
    host: Annotated[
        str,
        typer.Option(
            "--host", metavar="ADDRESS", help="listened on; another than this machine's own needs users"
        ),
    ] = "127.0.0.1",
    name: Annotated[
        list[str] | None,
        typer.Option(
            "--name", metavar="NAME", help="by which browsers call it; may come again", show_default=False
        ),
    ] = None,
    https: Annotated[
        bool, typer.Option("--https", help="browsers come by https, through a reverse proxy")
    ] = False,
    who: Who = "",
) -> None:
    """Serve a workspace."""
    from halfbore.cli import serving

    serving.serve(database or workspace, port, who, serving.Outside(host, tuple(name or ()), https))
