"""What can hurt someone in the work: the three that come first on page one, all of them before the plans."""

from __future__ import annotations

from collections.abc import Iterator

from halfbore.documents.blocks import (
    Block,
    Heading,
    Inline,
    Notice,
    PageOf,
    Para,
    Run,
    Table,
    Together,
    columns,
    text,
)
from halfbore.documents.subject import Subject
from halfbore.domain.plan import Hazard
from halfbore.phrases import listed
from halfbore.present.plans import CAUTIONS, precaution
from halfbore.present.wording import SITE_RULES

TITLE = "Before anyone starts"
PLACE = "precautions"
"""Name of the place where all of them stand."""
FIRST = 3
"""Precautions on page one."""
_OF_ANY_WORK = (
    *(Hazard.STORED_ENERGY, Hazard.SUSPENDED_LOAD, Hazard.HOT_WORK, Hazard.HOT_SURFACE),
    *(Hazard.HANDLING, Hazard.ROTATING, Hazard.HEIGHT, Hazard.CONFINED, Hazard.EXPLOSION, Hazard.CAUSTIC),
)
"""Hazards that are told where no work is planned."""


def notice(subject: Subject) -> Notice:
    """Return the precautions that come first, the names of the others with their page, and whose rules they defer to."""
    found = tuple(_found(subject))
    first, others = (found[:FIRST], found[FIRST:]) if _planned(subject) else (found, ())
    runs: list[Inline] = [run for hazard in first for run in (*_named(hazard, subject), Run(". "))]
    if others:
        words = listed([hazard.value for hazard in others])
        runs += [Run(f"{words[0].upper()}{words[1:]}: page "), PageOf(PLACE), Run(". ")]
    return Notice(TITLE, (*runs, Run(SITE_RULES)))


def precautions(subject: Subject) -> Iterator[Block]:
    """Yield every hazard of the planned work with what to do about it."""
    if not _planned(subject):
        return
    rows = tuple((text(_title(h), bold=True), text(_words(h, subject))) for h in _found(subject))
    table = Table(columns(("", "150pt"), ("", "1fr")), rows, headed=False)
    yield Together((Heading(TITLE, level=1, place=PLACE), table, Para((Run(SITE_RULES),))))


def _planned(subject: Subject) -> bool:
    return any(p.plans is not None for p in subject.full)


def _found(subject: Subject) -> Iterator[Hazard]:
    pairs = [p.plans for p in subject.full if p.plans is not None]
    met = {e.hazard for pair in pairs for plan in (pair.split_first, pair.one_piece) for e in plan.exposure}
    yield from (h for h in CAUTIONS if h in (met if pairs else _OF_ANY_WORK))


def _named(hazard: Hazard, subject: Subject) -> tuple[Run, ...]:
    return Run(f"{_title(hazard)}: ", bold=True), *(
        r for r in text(_words(hazard, subject)) if isinstance(r, Run)
    )


def _title(hazard: Hazard) -> str:
    return f"{hazard.value[0].upper()}{hazard.value[1:]}"


def _words(hazard: Hazard, subject: Subject) -> str:
    """Return what to do about a hazard, for the unit of the position that leads."""
    lead = subject.lead
    unit = lead.choice.chosen_unit if lead is not None and lead.choice is not None else None
    return precaution(hazard, unit, subject.style)
