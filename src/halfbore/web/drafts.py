"""What was uploaded and is not all brought in yet: kept while the server runs, each at an address that can be sent."""

from __future__ import annotations

import secrets
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from shutil import rmtree
from tempfile import TemporaryDirectory
from threading import Lock, RLock
from typing import TypeVar

from halfbore.domain.survey import Plain, Reject
from halfbore.errors import InputError
from halfbore.intake.book import Book
from halfbore.intake.survey.mapping import SurveyMapping
from halfbore.intake.survey.own import is_own
from halfbore.intake.survey.own import mapping_of as own_mapping
from halfbore.store import Workspace
from halfbore.workspace import survey_mapping
from halfbore.workspace.catalogue_mapping import Columns, columns_of, hints_of
from halfbore.workspace.mending import book_of_rows
from halfbore.workspace.survey import SurveyImport, bring_in
from halfbore.workspace.uploads import book_of, kept, shown_name

MOST = 12
"""Uploads that are kept; the oldest goes when another one comes."""


@dataclass
class SurveyDraft:
    """A survey that was uploaded.

    mapping: how it is to be read, None for one of our own sheets; done: what came of bringing it in, the last time;
    rejects: rows that wait; aside: rows that a person has put aside; version: counts the changes.
    """

    key: str
    name: str
    path: Path
    at: datetime
    book: Book
    mapping: Plain | None
    version: int = 0
    done: SurveyImport | None = None
    rejects: tuple[Reject, ...] = ()
    aside: tuple[Reject, ...] = ()
    lock: RLock = field(default_factory=RLock, repr=False)

    @property
    def own(self) -> bool:
        """Whether it is one of our own sheets, which needs no mapping."""
        return self.mapping is None

    def how(self) -> SurveyMapping:
        """Return the mapping, settled. Raises InputError with all that is open."""
        return own_mapping(self.book) if self.mapping is None else survey_mapping.mapping_of(self.mapping)

    def change(self, mapping: Plain) -> None:
        """Put another mapping in place; a CSV file is read again where it says how."""
        csv = mapping.get("csv", {})
        signs = str(csv.get("encoding", "")), str(csv.get("delimiter", ""))
        if self.book.encoding and signs != (self.book.encoding, self.book.delimiter):
            self.book = book_of(self.path, self.name, *signs)
        self.mapping, self.version = mapping, self.version + 1

    def bring_in(self, workspace: Workspace, who: str) -> None:
        """Bring in all of it; rows that are bad wait. Raises InputError with all that is open of the mapping."""
        with self.lock:
            self.done = bring_in(workspace, self.book, self.how(), who, self.name)
            self.rejects, self.aside = self.done.reading.rejects, ()
            self.version += 1

    def mend(self, workspace: Workspace, who: str, rows: Sequence[Reject], aside: Collection[int]) -> None:
        """Bring in the rows that wait, as they are mended.

        rows: all of them, in their order; aside: numbers of those that are put aside. Raises InputError.
        """
        with self.lock:
            waiting = [row for number, row in enumerate(rows) if number not in aside]
            rejects: tuple[Reject, ...] = ()
            if waiting:
                book, how = book_of_rows(self.book, self.how(), waiting)
                self.done = bring_in(workspace, book, how, who, f"{self.name}, mended rows")
                rejects = self.done.reading.rejects
            self.aside = (*self.aside, *(row for number, row in enumerate(rows) if number in aside))
            self.rejects = rejects
            self.version += 1


@dataclass
class CatalogueDraft:
    """A catalogue that was uploaded: its tables by name, and the mapping as text.

    columns: tables that show in the files; hints: what the proposal says beside each field.
    """

    key: str
    name: str
    at: datetime
    files: Mapping[str, bytes]
    text: str
    columns: tuple[Columns, ...] = ()
    hints: Mapping[str, str] = field(default_factory=dict)
    version: int = 0
    lock: RLock = field(default_factory=RLock, repr=False)


Draft = SurveyDraft | CatalogueDraft
D = TypeVar("D", SurveyDraft, CatalogueDraft)


class Drafts:
    """The uploads of one run of the server, in a folder of its own that goes with it."""

    def __init__(self) -> None:
        self._folder = TemporaryDirectory(prefix="halfbore-")
        self._lock, self._number = Lock(), 0
        self._kept: dict[str, Draft] = {}

    def survey(self, name: str, data: bytes) -> SurveyDraft:
        """Keep a survey, with the mapping that is proposed. Raises InputError, LimitError where it cannot be read."""
        key, folder = self._place()
        name = shown_name(name)
        try:
            path = kept(folder, 1, data)
            book = book_of(path, name)
            mapping = None if is_own(book) else survey_mapping.proposed(book)
        except InputError:
            rmtree(folder, ignore_errors=True)
            raise
        return self._add(SurveyDraft(key, name, path, datetime.now().astimezone(), book, mapping))

    def catalogue(self, name: str, files: Mapping[str, bytes], text: str) -> CatalogueDraft:
        """Keep the tables of a catalogue with their mapping."""
        key, _ = self._place()
        found, hints = columns_of(files), hints_of(text)
        return self._add(CatalogueDraft(key, name, datetime.now().astimezone(), files, text, found, hints))

    def _place(self) -> tuple[str, Path]:
        key = secrets.token_urlsafe(9)
        folder = Path(self._folder.name) / key
        folder.mkdir()
        return key, folder

    def _add(self, draft: D) -> D:
        with self._lock:
            self._kept[draft.key] = draft
            for old in list(self._kept)[:-MOST]:
                self._drop(old)
        return draft

    def open(self) -> list[Draft]:
        """Return the uploads, the newest first."""
        with self._lock:
            return list(reversed(self._kept.values()))

    def find(self, key: str) -> Draft | None:
        """Return an upload, None where there is none any more."""
        with self._lock:
            return self._kept.get(key)

    def drop(self, key: str) -> None:
        """Forget an upload."""
        with self._lock:
            self._drop(key)

    def _drop(self, key: str) -> None:
        self._kept.pop(key, None)
        rmtree(Path(self._folder.name) / key, ignore_errors=True)

    def close(self) -> None:
        """Forget all of them."""
        self._folder.cleanup()
