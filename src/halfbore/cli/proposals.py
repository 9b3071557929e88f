"""The proposal on disk: where it stands and what it is called."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from halfbore.domain.study import Study
from halfbore.errors import InputError, Problem
from halfbore.numbers import INCH, METRIC


def written(
    found: Study, stem: str, out: Path, when: date, xlsx: bool = False, inch: bool = False
) -> list[Path]:
    """Write the proposal as PDF, and as a workbook on request; return the paths."""
    from halfbore.documents.proposal import write_proposal

    style = INCH if inch else METRIC
    paths = [write_proposal(found, when, out / f"{stem}-proposal.pdf", style)]
    if xlsx:
        from halfbore.documents.workbook import write_workbook

        paths.append(write_workbook(found, when, out / f"{stem}-proposal.xlsx"))
    return paths


def folder(out: Path) -> None:
    """Raise InputError where a folder to write into is no folder."""
    if out.exists() and not out.is_dir():
        raise InputError(Problem("is a file; a folder is wanted", "--out", str(out)))


def day(text: str) -> date:
    """Return a date as written, today where none is. Raises InputError."""
    if not text:
        return date.today()
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputError(Problem("is no date", "--date", text[:64], "2026-03-02")) from None
