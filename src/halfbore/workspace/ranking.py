"""What each position of a plant is worth, and what to measure or settle there next."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from halfbore.domain.estimate import Narrowing
from halfbore.domain.study import Decision, PositionStudy, Study
from halfbore.domain.value import Estimate
from halfbore.domain.workspace import KeptResult
from halfbore.domain.worth import Worth
from halfbore.phrases import Phrase, as_parts, of_parts, phrase
from halfbore.present.plain import plain_data

CLOSED = (Decision.KEEP,)
"""Decisions after which nothing is to be measured or settled."""
NO_ROWS = "it was kept without what the positions are worth, so it has to be run again"
AMOUNTS = "amounts"
"""What a kept row has beside its fields: sentence → its parts, so that it can be written in inches too."""


def worth_of(machine: str, shaft_line: str, found: PositionStudy, narrowings: Sequence[Narrowing]) -> Worth:
    """Return one row of the ranking.

    machine, shaft_line: tags; found: the position's study; narrowings: of this position, the best first.
    """
    value, choice = found.value, found.choice
    standard = choice.chosen.code if choice is not None and choice.chosen is not None else ""
    return Worth(
        machine,
        shaft_line,
        found.position,
        found.decision,
        found.because,
        found.order.code if found.order is not None else standard,
        value.saving if value is not None else None,
        value.currency if value is not None else "",
        value.chance if value is not None else None,
        value.hours_saved_later if value is not None else None,
        _next_step(found, narrowings),
        standard,
        value.shared_with if value is not None else (),
        value.caveats if value is not None else (),
    )


def _next_step(found: PositionStudy, narrowings: Sequence[Narrowing]) -> str:
    """Return the one thing to do next: the root cause, what would let a unit in, what to measure, what to ask."""
    if found.decision in CLOSED or found.choice is None:
        return ""
    if found.decision is Decision.SETTLE_FIRST:
        return phrase("Settle the root cause: {}", found.because)
    if found.decision is Decision.WAITS and found.choice.questions:
        question, count = found.choice.questions[0]
        waits = "1 unit waits" if count == 1 else f"{count} units wait"
        return phrase("{}: {} for it", f"{question[0].upper()}{question[1:]}", waits)
    if found.decision is Decision.NO_UNIT and found.choice.relaxations:
        return phrase("What would let a unit in: {}", found.choice.relaxations[0].text)
    deciding = [n for n in narrowings if n.changes]
    if deciding or narrowings:
        return (deciding or list(narrowings))[0].words
    if found.order is not None and not found.order.ready:
        return f"Order {found.order.standing}"
    return ""


def worths(machine: str, shaft_line: str, found: Study, narrowings: Iterable[Narrowing]) -> tuple[Worth, ...]:
    """Return the rows of one shaft line in the order of its positions."""
    known = tuple(narrowings)
    return tuple(
        worth_of(machine, shaft_line, p, [n for n in known if n.position == p.position])
        for p in found.positions
    )


def ranked(rows: Iterable[Worth]) -> tuple[Worth, ...]:
    """Return rows by worth: the largest mean saving first, those without money last, in the order they came."""
    return tuple(sorted(rows, key=lambda row: math.inf if row.saving is None else -row.saving.mean))


def as_plain(rows: Iterable[Worth]) -> list[dict[str, Any]]:
    """Return rows as plain data for keeping, with the amounts of their sentences."""
    return [{**plain_data(row), AMOUNTS: _amounts(row)} for row in rows]


def _amounts(row: Worth) -> dict[str, list[Any]]:
    told = {"because": row.because, "next_step": row.next_step}
    return {name: as_parts(text) for name, text in told.items() if isinstance(text, Phrase)}


def from_plain(rows: Iterable[dict[str, Any]], stale: tuple[str, ...]) -> tuple[Worth, ...]:
    """Return kept rows, with the reasons why they are not of today's inputs."""
    return tuple(Worth(**_with_records(row), stale=stale) for row in rows)


def legible(kept: KeptResult) -> tuple[KeptResult, tuple[Worth, ...]]:
    """Return a kept result with its rows; one whose rows are missing, or of another make, says that it is run again."""
    try:
        return kept, from_plain(kept.summary["worths"], kept.stale)
    except (KeyError, TypeError, ValueError, AttributeError):
        return replace(kept, stale=(*kept.stale, NO_ROWS)), ()


def _with_records(row: dict[str, Any]) -> dict[str, Any]:
    kept = {key: value for key, value in row.items() if key not in ("stale", AMOUNTS)}
    kept |= {name: of_parts(parts) for name, parts in row.get(AMOUNTS, {}).items()}
    for key in ("saving", "hours_per_stop"):
        if kept[key] is not None:
            kept[key] = Estimate(**kept[key])
    for key in ("shared_with", "caveats"):
        kept[key] = tuple(kept.get(key, ()))
    return {**kept, "decision": Decision(kept["decision"])}
