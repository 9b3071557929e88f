"""What was uploaded and is not all brought in yet: kept in the workspace, each at an address that can be sent."""

from __future__ import annotations

import secrets
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from threading import Lock, RLock
from typing import TypeVar

from halfbore.domain.survey import Plain, Reject
from halfbore.domain.workspace import KeptUpload
from halfbore.errors import InputError, Problem
from halfbore.intake.book import Book
from halfbore.intake.survey.mapping import SurveyMapping
from halfbore.intake.survey.own import is_own
from halfbore.intake.survey.own import mapping_of as own_mapping
from halfbore.store import Workspace
from halfbore.store.uploads import Uploads
from halfbore.web import draft_state
from halfbore.workspace import survey_mapping
from halfbore.workspace.catalogue_mapping import Columns, columns_of, hints_of
from halfbore.workspace.mending import book_of_rows
from halfbore.workspace.survey import SurveyImport, bring_in
from halfbore.workspace.uploads import book_from, shown_name

AT_HAND = 12
"""Uploads that are held as read, of all users together; others are read again when they are asked for."""
SURVEY, CATALOGUE = "survey", "catalogue"


class MeanwhileError(InputError):
    """Somebody else has changed the same thing since the page was made."""

    kind = "stale"
    status = 409


@dataclass
class Draft:
    """An upload. at: when it came; version: counts the changes; waits: whether the workspace keeps it."""

    key: str
    name: str
    at: datetime
    uploads: Uploads = field(repr=False)
    version: int = 0
    waits: bool = True
    lock: RLock = field(default_factory=RLock, repr=False)

    def _state(self) -> Plain:
        raise NotImplementedError

    def save(self) -> None:
        """Keep how far it is. Raises MeanwhileError where another has changed or forgotten it."""
        version, self.version = self.version, -1  # until it is kept, what the workspace has is what holds
        if not self.uploads.change(self.key, version, self._state()):
            raise MeanwhileError(
                Problem("was changed or forgotten meanwhile", self.name, next_step="load the page again")
            )
        self.version = version + 1


@dataclass
class SurveyDraft(Draft):
    """A survey that was uploaded.

    mapping: how it is to be read, None for one of our own sheets; done: what came of bringing it in, the last time;
    rejects: rows that wait; aside: rows that a person has put aside.
    """

    data: bytes = field(kw_only=True, repr=False)
    book: Book = field(kw_only=True)
    mapping: Plain | None = None
    done: SurveyImport | None = None
    rejects: tuple[Reject, ...] = ()
    aside: tuple[Reject, ...] = ()

    @property
    def own(self) -> bool:
        """Whether it is one of our own sheets, which needs no mapping."""
        return self.mapping is None

    def how(self) -> SurveyMapping:
        """Return the mapping, settled. Raises InputError with all that is open."""
        return own_mapping(self.book) if self.mapping is None else survey_mapping.mapping_of(self.mapping)

    def change(self, mapping: Plain) -> None:
        """Put another mapping in place; a CSV file is read again where it says how."""
        signs = _signs(mapping)
        if self.book.encoding and signs != (self.book.encoding, self.book.delimiter):
            self.book = book_from(self.data, self.name, *signs)
        self.mapping = mapping
        if not self.waits:  # all of it is brought in: it begins anew
            self.done = None
        self.save()

    def bring_in(self, workspace: Workspace, who: str) -> None:
        """Bring in all of it; rows that are bad wait. Raises InputError with all that is open of the mapping."""
        with self.lock:
            self.done = bring_in(workspace, self.book, self.how(), who, self.name)
            self.rejects, self.aside = self.done.reading.rejects, ()
            self.save()

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
            self.save()

    def take_back(self) -> None:
        """Let the rows that were put aside wait again."""
        self.rejects, self.aside = (*self.rejects, *self.aside), ()
        self.save()

    def save(self) -> None:
        """Keep how far it is; where all of it is brought in, the workspace keeps it no longer."""
        if self.done is not None and not self.rejects and not self.aside:
            self.uploads.drop(self.key)
            self.version, self.waits = max(self.version, 0) + 1, False
        elif self.waits:
            super().save()
        else:  # brought in, and then read in another way
            kept = self.uploads.keep(self.key, SURVEY, self.name, self._state(), {self.name: self.data})
            self.version, self.waits = kept.version, True

    def _state(self) -> Plain:
        return draft_state.state_of(self.mapping, self.done, self.rejects, self.aside)


@dataclass
class CatalogueDraft(Draft):
    """A catalogue that was uploaded: its tables by name, and the mapping as text.

    columns: tables that show in the files; hints: what the proposal says beside each field.
    """

    files: Mapping[str, bytes] = field(kw_only=True, repr=False)
    text: str = ""
    columns: tuple[Columns, ...] = ()
    hints: Mapping[str, str] = field(default_factory=dict)

    def change(self, text: str) -> None:
        """Put another mapping in place."""
        self.text = text
        self.save()

    def _state(self) -> Plain:
        return {"text": self.text, "hints": dict(self.hints)}


D = TypeVar("D", bound=SurveyDraft | CatalogueDraft)


@dataclass(frozen=True)
class Drafts:
    """The uploads that a user sees. at_hand: those that were read already, of all users."""

    uploads: Uploads
    at_hand: dict[str, SurveyDraft | CatalogueDraft] = field(default_factory=dict)
    lock: Lock = field(default_factory=Lock)

    def of(self, user: int) -> Drafts:
        """Return the uploads that another user sees."""
        return replace(self, uploads=self.uploads.of(user))

    def survey(self, name: str, data: bytes) -> SurveyDraft:
        """Keep a survey, with the mapping that is proposed. Raises InputError, LimitError where it cannot be read."""
        name = shown_name(name)
        book = book_from(data, name)
        mapping = None if is_own(book) else survey_mapping.proposed(book)
        state = draft_state.state_of(mapping)
        kept = self.uploads.keep(_new_key(), SURVEY, name, state, {name: data})
        return self._held(
            SurveyDraft(kept.key, name, kept.came_at, self.uploads, data=data, book=book, mapping=mapping)
        )

    def catalogue(self, name: str, files: Mapping[str, bytes], text: str) -> CatalogueDraft:
        """Keep the tables of a catalogue with their mapping."""
        found, hints = columns_of(files), hints_of(text)
        kept = self.uploads.keep(_new_key(), CATALOGUE, name, {"text": text, "hints": hints}, files)
        at = kept.came_at
        draft = CatalogueDraft(
            kept.key, name, at, self.uploads, files=files, text=text, columns=found, hints=hints
        )
        return self._held(draft)

    def open(self, kind: str) -> list[KeptUpload]:
        """Return the uploads of a kind that wait, the newest first."""
        return [one for one in self.uploads.open() if one.kind == kind]

    def find(self, key: str) -> SurveyDraft | CatalogueDraft | None:
        """Return an upload as the workspace has it, None where there is none any more; one that is all brought in
        while it is at hand."""
        with self.lock:
            held = self.at_hand.get(key)
        if held is not None and not held.waits:
            return held if held.uploads == self.uploads else None
        kept = self.uploads.find(key)
        if kept is None or (held is not None and held.version == kept.version):
            return held if kept else None
        return self._held(self._read(kept))

    def _read(self, kept: KeptUpload) -> SurveyDraft | CatalogueDraft:
        files, state = self.uploads.files(kept.key), kept.state
        if kept.kind == CATALOGUE:
            return CatalogueDraft(
                kept.key,
                kept.name,
                kept.came_at,
                self.uploads,
                kept.version,
                files=files,
                text=state["text"],
                columns=columns_of(files),
                hints=state["hints"],
            )
        (data,) = files.values()
        mapping, done, rejects, aside = draft_state.of_state(state)
        book = book_from(data, kept.name, *_signs(mapping or {}))
        return SurveyDraft(
            kept.key,
            kept.name,
            kept.came_at,
            self.uploads,
            kept.version,
            data=data,
            book=book,
            mapping=mapping,
            done=done,
            rejects=rejects,
            aside=aside,
        )

    def _held(self, draft: D) -> D:
        with self.lock:
            self.at_hand.pop(draft.key, None)
            self.at_hand[draft.key] = draft
            while len(self.at_hand) > AT_HAND:
                self.at_hand.pop(next(iter(self.at_hand)))
        return draft

    def drop(self, key: str) -> None:
        """Forget an upload."""
        self.uploads.drop(key)
        with self.lock:
            self.at_hand.pop(key, None)


def _new_key() -> str:
    return secrets.token_urlsafe(9)


def _signs(mapping: Plain) -> tuple[str, str]:
    csv = mapping.get("csv", {})
    return str(csv.get("encoding", "")), str(csv.get("delimiter", ""))
