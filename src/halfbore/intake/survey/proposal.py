"""What is proposed for a survey: for each sheet, for each column, and the mapping that is made of it."""

from __future__ import annotations

from dataclasses import dataclass, field

from halfbore.intake.survey.columns import Draft, Guess


@dataclass
class ColumnProposal:
    """What is proposed for one column. samples: cells as they stand; words: texts and what they may mean."""

    guess: Guess
    samples: tuple[str, ...]
    unit: str = ""
    words: dict[str, str] = field(default_factory=dict)
    separator: str = ""


@dataclass
class TableProposal:
    """What is proposed for one sheet. kind_once: heading of a kind of machine that stands in the first row of a group."""

    draft: Draft
    columns: list[ColumnProposal]
    rows: int
    skip: tuple[str, ...]
    cells: dict[str, str]
    before: str = ""
    carry_down: tuple[str, ...] = ()
    kind_once: str = ""
    fixed: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Proposal:
    """A mapping that a person has to look through.

    text: the mapping file; open: what must be settled before it can be used, as it is told to the user.
    """

    text: str
    open: tuple[str, ...]
