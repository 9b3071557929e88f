"""Bring a survey into a workspace: good rows in one transaction, bad rows back to whoever measured."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

from halfbore.domain.survey import Plain, SurveyReading, Told
from halfbore.domain.workspace import Address, Batch, Edit
from halfbore.errors import InputError
from halfbore.intake.book import Book, read_book
from halfbore.intake.survey.mapping import SurveyMapping, read_mapping_file
from halfbore.intake.survey.own import mapping_of
from halfbore.intake.survey.read import survey_of
from halfbore.intake.survey.rejects import write_rejects
from halfbore.store import Workspace
from halfbore.store.differences import differences
from halfbore.workspace.told import Documents, added


@dataclass(frozen=True)
class SurveyImport:
    """What came of bringing in a survey.

    reading: the file as read; a row that found no place in the plant is among its rejects. batch: what was written,
    None where it changed nothing. new, changed: tags of positions. rejects: file of the rejected rows, None for none.
    """

    reading: SurveyReading
    batch: Batch | None
    new: tuple[str, ...]
    changed: tuple[str, ...]
    rejects: Path | None


def import_survey(
    workspace: Workspace, path: Path, mapping: Path | None, who: str, book: Book | None = None
) -> SurveyImport:
    """Write what a survey tells into a workspace, in one transaction, and its bad rows into a file beside it.

    path: of the survey; mapping: how it is to be read, None for one of our own sheets; who: on whose behalf.
    book: the survey where it was read already. Raises InputError for a file or a mapping that cannot be used at all.
    """
    asked = None if mapping is None else read_mapping_file(mapping)
    if book is None:
        book = read_book(path, asked.encoding, asked.delimiter) if asked else read_book(path)
    how = asked or mapping_of(book)
    done = bring_in(workspace, book, how, who, path.name)
    if not done.reading.rejects:
        return done
    return replace(done, rejects=_rejects(path, done.reading, how))


def bring_in(workspace: Workspace, book: Book, how: SurveyMapping, who: str, source: str) -> SurveyImport:
    """Write what a survey tells into a workspace, in one transaction; its bad rows stay with the reading.

    book, how: the survey and how it is read; who, source: as the history shall name them. Raises InputError.
    """
    found = preview(workspace, book, how)
    batch = workspace.apply(list(found.edits), who, "survey", source)
    return SurveyImport(found.reading, batch, found.new, found.changed, None)


@dataclass(frozen=True)
class SurveyPreview:
    """What a survey would change. new, changed: tags of positions; before: documents as they are."""

    reading: SurveyReading
    edits: tuple[Edit, ...]
    new: tuple[str, ...]
    changed: tuple[str, ...]
    before: Mapping[Address, Plain]


def preview(workspace: Workspace, book: Book, how: SurveyMapping) -> SurveyPreview:
    """Return what a survey would change, and change nothing. Raises InputError where it cannot be read at all."""
    before = workspace.contents()
    reading, after = _read(book, how, before)
    new = tuple(a[2] for a in after if len(a) == 3 and a not in before)
    changed = tuple(a[2] for a in after if len(a) == 3 and a in before and before[a] != after[a])
    return SurveyPreview(reading, tuple(edits(before, after)), new, changed, before)


def _rejects(path: Path, reading: SurveyReading, how: SurveyMapping) -> Path:
    """Write the rejected rows beside a survey and return their file; one that somebody is mending is never touched."""
    stem = re.sub(
        r"\.rejects(-\d+)?$", "", path.stem
    )  # those of a mended file are the next of the same survey
    for n in count(1):
        place = path.with_name(f"{stem}.rejects{'' if n == 1 else f'-{n}'}.xlsx")
        if not place.exists():
            write_rejects(place, reading, how)
            return place
        if _same_rows(place, reading, how):
            return place
    raise AssertionError("names do not end")


def _same_rows(place: Path, reading: SurveyReading, how: SurveyMapping) -> bool:
    """Whether a file holds just the rejected rows of this reading, as they were written."""
    with TemporaryDirectory(prefix="halfbore-") as folder:
        fresh = Path(folder) / place.name
        write_rejects(fresh, reading, how)
        try:
            return read_book(fresh).pages == read_book(place).pages
        except InputError:
            return False


def import_told(workspace: Workspace, told: Iterable[Told], who: str, what: str, source: str) -> Batch | None:
    """Write facts into a workspace in one transaction, all of them or none.

    told: from the plant down; who, what, source: as the history shall name them. Raises InputError for those that
    find no place. Returns what was written, None where nothing changed.
    """
    before = workspace.contents()
    after, lost = added(before, told)
    if lost:
        raise InputError(lost.values())
    return workspace.apply(edits(before, after), who, what, source)


def _read(book: Book, how: SurveyMapping, before: Mapping[Address, Plain]) -> tuple[SurveyReading, Documents]:
    """Return a survey as read and the documents with it; rows that find no place are rejected in a second reading."""
    reading = survey_of(book, how)
    after, lost = added(before, reading.told)
    if lost:
        reading = survey_of(book, how, {place: [problem] for place, problem in lost.items()})
    return reading, after


def edits(before: Mapping[Address, Plain], after: Mapping[Address, Plain]) -> list[Edit]:
    """Return the edits that lead from some documents to others: new things whole, others value by value."""
    made: list[Edit] = []
    for address, document in after.items():
        if address in before:
            changed = differences(before[address], document)
            made += [Edit(address, path, new) for path, old, new in changed if not _same(old, new)]
        else:
            made.append(Edit(address, "", document))
    return in_order(made)


def _same(old: object, new: object) -> bool:
    """Whether a text is the plain number that stood there: a job file writes 3, a survey "3"."""
    return isinstance(old, (int, float)) and not isinstance(old, bool) and str(old) == new


def in_order(made: Iterable[Edit]) -> list[Edit]:
    """Return edits so that each thing is there before what stands in it."""
    return sorted(made, key=lambda edit: len(edit.address))
