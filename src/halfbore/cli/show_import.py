"""What came of bringing something into a workspace, as text."""

from __future__ import annotations

from collections.abc import Sequence

from halfbore.cli import show
from halfbore.domain.workspace import Batch, named
from halfbore.present.catalogues import changes_text, concern_text, coverage_text
from halfbore.present.wording import counted, prose
from halfbore.workspace.catalogues import CatalogueImport
from halfbore.workspace.machine_file import JobImport
from halfbore.workspace.survey import SurveyImport

MOST_REMARKS = 20
MOST_TAGS = 40


def survey(done: SurveyImport) -> None:
    """Show how many rows went in, what to know about them, and where those are that did not."""
    reading, rejected = done.reading, len(done.reading.rejects)
    passed = len(reading.passed)
    used = reading.rows - rejected - passed
    show.line(
        f"{counted(reading.rows, 'row')} read: {used} used, {rejected} not usable as written, {passed} passed over."
    )
    if done.new:
        show.line(f"New: {_tags(done.new)}")
    if done.changed:
        show.line(f"Changed: {_tags(done.changed)}")
    if used or done.batch is not None:
        written(done.batch)
    else:
        show.line("Nothing changes: no row is usable.")
    for remark in reading.remarks[:MOST_REMARKS]:
        show.line(f"Please know: {prose(remark)}.")
    if (more := len(reading.remarks) - MOST_REMARKS) > 0:
        show.line(f"and {more} more remarks (--json prints all).")
    if done.rejects is not None:
        show.line(f"Not brought in: {counted(rejected, 'row')}, to be mended in {done.rejects}")


def _tags(tags: Sequence[str]) -> str:
    more = len(tags) - MOST_TAGS
    return ", ".join(tags[:MOST_TAGS]) + (f" and {more} more (--json prints all)" if more > 0 else "")


def catalogue(done: CatalogueImport) -> None:
    """Show what a catalogue covers, and what changed against the version before it."""
    version = f"{done.kept.supplier}, version {done.kept.version}"
    show.line(f"{version}: {'brought in' if done.new else 'is there already; nothing changes'}.")
    show.document(coverage_text(done.coverage))
    if done.changes is not None:
        show.document(changes_text(done.changes))
    for position, concern in done.concerned:
        show.line(f"{position}: {concern_text(concern)}")


def job(done: JobImport) -> None:
    """Show which shaft line a job file became, and which of its catalogues came with it or did not."""
    show.line(f"{named(done.line)} brought in.")
    for kept in done.catalogues:
        show.line(f"Its catalogue came with it: {kept.supplier}, version {kept.version}.")
    if done.left:
        names = ", ".join(done.left)
        show.line(f"Catalogues that it names, and that do not count here, where there are others: {names}.")
    written(done.batch)


def written(batch: Batch | None) -> None:
    """Show what was written and how it is taken back."""
    if batch is None:
        show.line("Nothing changes: the workspace held all of it.")
    else:
        show.line(
            f"{counted(batch.changes, 'change')} written as number {batch.id}; halfbore undo takes it back."
        )
