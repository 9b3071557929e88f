"""Where a number comes from, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Status(StrEnum):
    """How sure a value or a formula is; it follows the number wherever it is shown."""

    PUBLISHED = "published"
    FROM_MEMORY = "from memory"
    COMMON_PRACTICE = "common practice, no source"
    DERIVED = "derived from mechanics"
    GIVEN = "given or measured"
    ESTIMATE = "estimate"


@dataclass(frozen=True)
class Source:
    """A citation: the document, the place in it, and the standing of what was taken from it."""

    title: str
    place: str = ""
    status: Status = Status.PUBLISHED
    note: str = ""

    def __str__(self) -> str:
        where = f"{self.title}, {self.place}" if self.place else self.title
        return f"{where} ({self.status})"


def derived(what: str, note: str = "") -> Source:
    """Return the source of a relation that follows from mechanics and can be checked by hand."""
    return Source(what, status=Status.DERIVED, note=note)


def practice(what: str, note: str = "") -> Source:
    """Return the source of a rule of the trade that nobody published."""
    return Source(what, status=Status.COMMON_PRACTICE, note=note)
