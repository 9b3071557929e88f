"""The commands. Each opens what it needs when it runs, calls one function and shows the result."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(
    name="halfbore",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)

Job = Annotated[Path, typer.Argument(metavar="JOB.toml", help="job file of one machine", show_default=False)]
Json = Annotated[bool, typer.Option("--json", help="print the whole record as one JSON document")]
Require = Annotated[bool, typer.Option("--require", help="exit with 3 where nothing holds at a position")]

Why = Annotated[
    str,
    typer.Option("--why", metavar="CHECK", help="show the working of a check, of POSITION:CHECK, or of all"),
]

Out = Annotated[
    Path, typer.Option("--out", metavar="FOLDER", help="where files are written", show_default="here")
]


def call(arguments: list[str]) -> None:
    """Run the command that the arguments name. Raises whatever it raises."""
    typer.main.get_command(app)(args=arguments, prog_name="halfbore", standalone_mode=False)


@app.command(help="Everything for one machine: loads, units, order, changeover, value, proposal.")
def run(
    job: Job,
    why: Why = "",
    json: Json = False,
    require: Require = False,
    explain: Annotated[
        bool, typer.Option("--explain", help="print the job file back with every assumption filled in")
    ] = False,
    out: Out = Path(),
    no_pdf: Annotated[bool, typer.Option("--no-pdf", help="write no proposal")] = False,
) -> None:
    """Run a job."""
    from halfbore.cli import jobs, show

    if explain:
        show.document(jobs.explained_file(job))
    else:
        jobs.run(job, why, json, require, None if no_pdf or json else out)


@app.command(help="Every check of the chosen unit at each position, with its source.")
def check(job: Job, why: Why = "", json: Json = False, require: Require = False) -> None:
    """Run a job as far as its checks."""
    from halfbore.cli import jobs

    jobs.stage("check", job, json, require, why)


def _stage(name: str, help_text: str) -> None:
    """Add the command of one stage."""

    @app.command(name, help=help_text)
    def command(job: Job, json: Json = False, require: Require = False) -> None:
        from halfbore.cli import jobs

        jobs.stage(name, job, json, require)


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


documents = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="Documents that leave the house.")
app.add_typer(documents, name="write")


@documents.command(help="The proposal of a machine as PDF, and as XLSX on request.")
def proposal(
    job: Job,
    out: Out = Path(),
    on: Annotated[
        str, typer.Option("--date", metavar="YYYY-MM-DD", help="date that it bears; today when left out")
    ] = "",
    xlsx: Annotated[bool, typer.Option("--xlsx", help="the same as a workbook beside it")] = False,
    inch: Annotated[bool, typer.Option("--inch", help="inches and pounds in the PDF")] = False,
) -> None:
    """Write a proposal."""
    from halfbore.cli import jobs

    jobs.write(job, out, on, xlsx, inch)


@app.command(help="The invented plant in a folder; what is there already is left as it is.")
def demo(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", show_default="halfbore-demo")] = Path(
        "halfbore-demo"
    ),
) -> None:
    """Make or open the demo."""
    from halfbore.cli import demo as plant

    plant.open_or_make(folder)
