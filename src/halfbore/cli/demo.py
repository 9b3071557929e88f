"""The invented plant in a folder: survey, catalogues, workspace, ranking, proposals; what is there already stays."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from halfbore.cli import issuing, show, show_plant
from halfbore.cli.targets import target
from halfbore.documents.files import replace_file
from halfbore.domain.worth import Worth
from halfbore.errors import InputError, Problem
from halfbore.present.wording import INVENTED, counted
from halfbore.store import open as open_workspace
from halfbore.workspace.demo_plant import WORKSPACE, DemoPlant, make
from halfbore.workspace.lines import lines_of
from halfbore.workspace.ranking import ranked
from halfbore.workspace.running import run_lines

PROPOSALS = 3
"""Machines that get a proposal: those with the best positions."""


def open_or_make(folder: Path) -> None:
    """Make the demo in a folder, or open the one that is there, and say what is in it and what to try next.

    Raises InputError where the folder cannot be used.
    """
    workspace = folder / WORKSPACE
    fresh = not workspace.exists()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        step = "name another folder"
        raise InputError(Problem(f"cannot be used: {error.strerror}", str(folder), next_step=step)) from None
    if fresh:
        _made(make(folder))
    else:
        show.document(f"{workspace}: opened; what was there is left as it was")
    _job_files(folder)
    rows = _run(workspace)
    show_plant.ranking(rows)
    _proposals(folder, rows)
    _next(folder)


def _made(plant: DemoPlant) -> None:
    """Say what came in, and what had to be mended."""
    first, second = plant.first.reading, plant.second.reading
    show.document(f"{plant.workspace}: made")
    show.heading("The survey as two people wrote it, and what was mended")
    show.pairs(
        [
            (
                plant.survey.name,
                f"{counted(first.rows, 'row')}, {len(first.rejects)} of them not usable as written",
            ),
            (plant.mapping.name, "how its columns are read"),
            (str(plant.first.rejects and plant.first.rejects.name), "those rows, with what is wrong in each"),
            (
                plant.mended.name,
                f"the same mended: {counted(second.rows, 'row')}, {len(second.rejects)} not usable",
            ),
            ("catalogues", "what the two suppliers sent, each with its mapping file"),
        ]
    )
    for reject in first.rejects:
        show.line(f"{reject.sheet}, row {reject.row}: {reject.problems[0].sentence().partition(': ')[2]}")


def _job_files(folder: Path) -> None:
    """Write three machines as job files where they are not there."""
    for source in files("halfbore.demo").joinpath("jobs").iterdir():
        if not (folder / source.name).exists():
            replace_file(folder / source.name, source.read_bytes())


def _run(workspace: Path) -> tuple[Worth, ...]:
    with open_workspace(workspace) as opened:
        lines = lines_of(opened)
        show.document(f"\n{counted(len(lines), 'shaft line')} to work out: half a minute or so")
        ran = list(run_lines(opened, lines))
    for one in ran:
        for problem in one.problems:
            show.line(problem.sentence())
    return ranked(worth for one in ran for worth in one.worths)


def _proposals(folder: Path, rows: tuple[Worth, ...]) -> None:
    """Write a proposal of each of the machines with the best positions, and of none twice."""
    show.heading(f"Proposals of the {PROPOSALS} best machines")
    best = list(dict.fromkeys(f"{row.machine} {row.shaft_line}".strip() for row in rows if row.unit))
    for tag in best[:PROPOSALS]:
        path = folder / f"{target(tag, folder / WORKSPACE).stem}-proposal.pdf"
        if path.exists():
            show.document(f"  {path}")
        else:
            issuing.proposal(tag, folder, "", True, False, folder / WORKSPACE, "demo (invented)", brief=True)


def _next(folder: Path) -> None:
    show.heading("What to try next")
    show.document(f"  cd {folder}\n      its workspace is found there")
    for command, what in (
        ("halfbore show F1-A", "one position: as surveyed, and the answer that is kept"),
        (
            "halfbore set F2-A seat.diameter='99.98 mm to 100 mm'",
            "a worn seat mended: what stands marked now?",
        ),
        ("halfbore run F2", "one machine in full, and what to measure next"),
        ("halfbore undo", "take the change back"),
        ('halfbore check F1 --why "rating life"', "where a number comes from"),
        ("halfbore history", "who changed what and when"),
        ("halfbore write survey-sheet fan --tag F9", "an empty form, to print or to fill in as a workbook"),
        ("halfbore run fan.toml", "a machine from a job file alone"),
        ("halfbore calc --list", "every calculation alone"),
    ):
        show.document(f"  {command}\n      {what}")
    show.document(f"\n{INVENTED}")
