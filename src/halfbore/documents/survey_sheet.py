"""The survey sheet of a shaft line: a form on paper that is filled in by pen at the machine."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from halfbore.documents.blocks import plain
from halfbore.documents.files import file_name, replace_file
from halfbore.documents.survey_known import Known
from halfbore.documents.survey_pages import BLANK, Sheet, blocks
from halfbore.documents.survey_workbook import survey_sheet_xlsx
from halfbore.documents.typeset import typeset
from halfbore.domain.survey import Told
from halfbore.domain.survey_form import SheetKind
from halfbore.present.labels import cut
from halfbore.present.survey_layouts import layout_of
from halfbore.present.survey_words import first_line
from halfbore.present.wording import prose

PAGES = 30
"""Pages at most."""
TAG = 150.0
"""Width of the machine's tag in the head of a page [pt]."""


def write_survey_sheets(
    kind: str, folder: Path, machine: str = "", positions: int = 0, when: date | None = None
) -> tuple[Path, ...]:
    """Write the survey sheet of a shaft line as PDF and, where the machine has a tag, as a workbook too.

    kind: as people type it; folder: where they shall stand; machine: its tag, which each row of a workbook needs;
    positions: bearings on the shaft, 0 for the usual number; when: the date that they bear, today where not given.
    Returns their paths. Raises InputError for a kind or a number that there is not, or a place that cannot be written.
    """
    which, day = SheetKind.named(kind), when or date.today()
    name = file_name(f"survey-{machine or which.value}")
    paper = survey_sheet_pdf(which, day, machine, positions)
    book = survey_sheet_xlsx(which, day, machine, positions) if machine.strip() else None
    written = [replace_file(folder / f"{name}.pdf", paper)]
    return (*written, *([replace_file(folder / f"{name}.xlsx", book)] if book else ()))


def write_survey_sheet(
    kind: SheetKind, when: date, path: Path, machine: str = "", positions: int = 0, told: Sequence[Told] = ()
) -> Path:
    """Write the survey sheet of a shaft line as a PDF file beside its place, then put it there.

    Arguments as for `survey_sheet_pdf`; path: where it shall stand. Returns the path.
    Raises InputError when the place cannot be written.
    """
    return replace_file(path, survey_sheet_pdf(kind, when, machine, positions, told))


def survey_sheet_pdf(
    kind: SheetKind, when: date, machine: str = "", positions: int = 0, told: Sequence[Told] = ()
) -> bytes:
    """Return the survey sheet of a shaft line as PDF; the same arguments give the same bytes.

    when: the date that it bears; machine: its tag, where it has one; positions: bearings on the shaft, 0 for the
    usual number; told: what is known of this shaft line, which stands in grey with a box to tick.
    Raises InputError for a number of positions that the sheet does not have.
    """
    return typeset(survey_sheet_data(kind, when, machine, positions, told), when, PAGES, "survey")


def survey_sheet_data(
    kind: SheetKind, when: date, machine: str = "", positions: int = 0, told: Sequence[Told] = ()
) -> dict[str, Any]:
    """Return all that the survey sheet shows as plain data."""
    sheet = Sheet(layout_of(kind, positions), machine, Known(told))
    name = f"Survey sheet: {kind.words}"
    return {
        "title": f"{name}, {machine}" if machine else name,
        "name": first_line(kind.words),
        "date": [when.year, when.month, when.day],
        "head": {
            "name": "halfbore survey sheet",
            "tag": cut(prose(machine), TAG, 9.0) or "machine tag ________________",
            "rule": BLANK,
            "lengths": "Sketches are not to scale.",
        },
        "blocks": plain(list(blocks(sheet))),
        "rest": [0],
    }
