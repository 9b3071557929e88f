"""What a survey tells of a plant, row by row, as it was typed; and what could not be used."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from halfbore.errors import Problem

Plain = dict[str, Any]
"""Plain data in the shape of a job file, every value as typed."""


class Thing(StrEnum):
    """What one row of a survey is about."""

    PLANT = "plant"
    MACHINE = "machine"
    SHAFT_LINE = "shaft line"
    SEGMENT = "segment"
    PART = "part"
    CONDITION = "condition"
    POSITION = "position"
    FAILURE = "failure"


@dataclass(frozen=True)
class Told:
    """What one row tells of one thing.

    tags: from the plant down, as far as the row tells: of a machine (machine,); of a shaft line, a part on it, a
    segment, a condition (machine, shaft line); of a position or of a bearing taken out there (machine, shaft line,
    position). A machine's only shaft line has the tag "". A tag that the row does not tell is None and is found
    by the position's tag, which is unique in a plant.
    data: only what the row gives. Of a plant, machine or shaft line a partial job; of a part one entry of `loads`;
    of a segment one of `shaft.segments`; of a condition one of `duty`; of a position one of `positions`; of a
    failure one of its `history`.
    place: sheet and row, for messages.
    """

    thing: Thing
    tags: tuple[str | None, ...]
    data: Plain
    place: str


@dataclass(frozen=True)
class Reject:
    """A row that is not imported: its cells as text, and why.

    sheet, row: where it stands, row counted from 1 as a spreadsheet does; headings: those of its table.
    """

    sheet: str
    row: int
    headings: tuple[str, ...]
    cells: tuple[str, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class SurveyReading:
    """A survey as read: the good rows, the bad ones, and what a person should know about it.

    remarks: formulas whose stored value was used, hidden rows, totals passed over, dates that a spreadsheet made.
    rows: rows with anything in them below the headings; each is told, rejected, or passed over.
    passed: rows that were passed over, totals and titles and repetitions: place → the reason, named in remarks too.
    """

    told: tuple[Told, ...]
    rejects: tuple[Reject, ...]
    remarks: tuple[str, ...]
    rows: int
    passed: tuple[tuple[str, str], ...] = ()
