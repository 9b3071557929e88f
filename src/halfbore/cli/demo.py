"""The invented plant in a folder: job files, catalogues, one proposal each; what is there already stays."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from halfbore.cli import jobs, proposals, show
from halfbore.demo.suppliers import write_catalogues
from halfbore.documents.files import replace_file
from halfbore.errors import InputError, Problem
from halfbore.present.wording import INVENTED
from halfbore.study import Stage

CATALOGUES = "catalogues"


def open_or_make(folder: Path) -> None:
    """Make the demo in a folder, or open the one that is there, and say what is in it and what to try next.

    Raises InputError where the folder cannot be used.
    """
    fresh = not folder.exists()
    try:
        (folder / CATALOGUES).mkdir(parents=True, exist_ok=True)
    except OSError as error:
        step = "name another folder"
        raise InputError(Problem(f"cannot be used: {error.strerror}", str(folder), next_step=step)) from None
    show.document(f"{folder}: {'made' if fresh else 'opened; what was there is left as it was'}")
    for job in _jobs(folder):
        found = jobs.studied(job, Stage.VALUE)
        proposal = folder / f"{job.stem}-proposal.pdf"
        if not proposal.exists():
            proposals.written(found, job, folder, found.provenance.on, xlsx=True)
        show.document(f"\n{job}")
        show.pairs([("", found.sentence)])
        show.document(f"  {proposal}")
        if proposal.with_suffix(".xlsx").exists():
            show.document(f"  {proposal.with_suffix('.xlsx')}")
    _catalogues(folder / CATALOGUES)
    _next(folder)


def _jobs(folder: Path) -> list[Path]:
    """Return the job files, after writing those that are not there."""
    paths = []
    for source in sorted(files("halfbore.demo").joinpath("jobs").iterdir(), key=lambda s: s.name):
        paths.append(folder / source.name)
        if not paths[-1].exists():
            replace_file(paths[-1], source.read_bytes())
    return paths


def _catalogues(folder: Path) -> None:
    if not any(folder.iterdir()):
        write_catalogues(folder)
    show.document(f"\n{folder}\n  what the two suppliers sent, each with its mapping file")


def _next(folder: Path) -> None:
    job = folder / "fan.toml"
    show.heading(f"What to try next: change a number in {job}, then")
    for command, what in (
        (f"halfbore run {job} --out {folder}", "the whole answer again, with its proposal"),
        (f"halfbore select {job}", "what turned each unit away, and what would let it in"),
        (f'halfbore check {job} --why "rating life"', "where a number comes from"),
        (f"halfbore run {job} --explain", "the file with every assumption filled in"),
        ("halfbore calc --list", "every calculation alone"),
    ):
        show.document(f"  {command}\n      {what}")
    show.document(f"\n{INVENTED}")
