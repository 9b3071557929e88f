"""The unit for a position: holds all, nothing tight that decides, no work on drive or base, cost, lead time, code."""

from __future__ import annotations

from collections import Counter

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Finding, Verdict
from halfbore.domain.selection import Candidate, Choice, Sweep
from halfbore.domain.unit import Hand, Support, UnitTable
from halfbore.numbers import number
from halfbore.phrases import listed
from halfbore.selection.checks import support_direction
from halfbore.selection.checks.delivery import WEEK
from halfbore.selection.need import Need
from halfbore.selection.nothing_holds import questions, sentence
from halfbore.selection.relax import relaxations
from halfbore.selection.standing import (
    ASKS,
    asks_for_work,
    doubtful,
    firsts,
    is_open,
    of_the_bore,
    ranked,
    tight_on,
    told,
    usable,
)
from halfbore.selection.sweep import sweep

SHOWN = 14
"""Candidates that are told one by one; the rest are counted by the check that turned them away."""
ALIKE = 3
"""Of them, those that the same check turned away."""
BORE_WINDOW = 10.0
"""Of the units that are turned away, those within this of the shaft's size are told [mm]."""


def choose(need: Need, units: UnitTable) -> Choice:
    """Choose a unit for a position and say why every other one was turned away.

    need: the position's side; units: all candidates of all catalogues.
    """
    return choice_from(need, sweep(need, units))


def holds(need: Need, unit: UnitTable) -> bool:
    """Return whether no check turns a unit away; unit: a one-row table."""
    return bool(usable(sweep(need, unit))[0])


def weigh(need: Need, unit: UnitTable) -> Choice:
    """Return how one unit stands at a position, without a look at any other.

    need: the position's side; unit: a one-row table. It is the chosen one where it holds, else the nearest.
    """
    found = sweep(need, unit)
    holds = bool(usable(found)[0])
    shown, checks = candidate(need, found, 0), findings(need, found, 0)
    return Choice(
        position=found.position,
        chosen=shown if holds else None,
        chosen_unit=unit if holds else None,
        findings=checks if holds else (),
        next=None,
        next_findings=(),
        next_because="",
        candidates=(shown,),
        total=1,
        holding=int(holds),
        open=int(is_open(found).sum()),
        counts=_counts(found),
        relaxations=(),
        sentence=_sentence(need, found, 0) if holds else f"{shown.name}: {shown.reason}",
        nearest=None if holds else shown,
        nearest_unit=None if holds else unit,
        nearest_findings=() if holds else checks,
        questions=(),
    )


def choice_from(need: Need, found: Sweep) -> Choice:
    """Return the choice that a sweep leads to."""
    order, holding = ranked(found), usable(found)
    rows = [int(r) for r in order if holding[r]]
    chosen, following = (*rows[:2], None, None)[:2]
    nearest = None if rows else _nearest(need, found, order)
    asked = () if rows else questions(need, found)
    return Choice(
        position=found.position,
        chosen=_candidate(need, found, chosen),
        chosen_unit=None if chosen is None else found.units.row(chosen),
        findings=_findings(need, found, chosen),
        next=_candidate(need, found, following),
        next_findings=_findings(need, found, following),
        next_because=_because(found, chosen, following),
        candidates=tuple(candidate(need, found, r) for r in _shown(need, found, order, rows)),
        total=len(found.units),
        holding=len(rows),
        open=int(is_open(found).sum()),
        counts=_counts(found),
        relaxations=relaxations(need, found),
        sentence=sentence(need, found, asked) if chosen is None else _sentence(need, found, chosen),
        nearest=_candidate(need, found, nearest),
        nearest_unit=None if nearest is None else found.units.row(nearest),
        nearest_findings=_findings(need, found, nearest),
        questions=asked,
    )


def _nearest(need: Need, found: Sweep, order: NDArray[np.intp]) -> int | None:
    """Return the best ranked unit of the bore, of the role that is wanted where there is one; None without any unit."""
    right = order[of_the_bore(need, found)[order]]
    fitting = right[found.units.locating[right] == need.duty.locating]
    return next(iter((*fitting.tolist(), *right.tolist())), None)


def _candidate(need: Need, found: Sweep, row: int | None) -> Candidate | None:
    return None if row is None else candidate(need, found, row)


def _findings(need: Need, found: Sweep, row: int | None) -> tuple[Finding, ...]:
    return () if row is None else findings(need, found, row)


def _shown(need: Need, found: Sweep, order: NDArray[np.intp], holding: list[int]) -> list[int]:
    """Return the best usable rows, then for each check that turns units away the nearest ones.

    Units of the bore come before others, those that fail by an amount before those that fail outright.
    """
    rows = list(holding[: SHOWN // 2])
    near = order[np.abs(found.units.bore[order] - need.nominal) < BORE_WINDOW]
    outright = (np.isinf(found.good[:, near]) & (found.verdict[:, near] == Verdict.FAILS)).any(0)
    other = ~of_the_bore(need, found)[near]
    first, seen = firsts(found.verdict), Counter[int]()
    for r in near[np.lexsort((outright, other))].tolist():
        if len(rows) < SHOWN and first[r] >= 0 and seen[first[r]] < ALIKE:
            seen[first[r]] += 1
            rows.append(r)
    return rows


def _counts(found: Sweep) -> tuple[tuple[str, int], ...]:
    """Return how many units each check turned away first, most first; open ones wait and are not turned away."""
    numbers = Counter(firsts(found.verdict)[~is_open(found)].tolist())
    return tuple((found.checks[i], n) for i, n in numbers.most_common() if i >= 0)


def findings(need: Need, found: Sweep, row: int) -> tuple[Finding, ...]:
    """Return every check of one unit in words and numbers."""
    unit = found.units.row(row)
    return tuple(told(need, found, row, unit, i) for i in range(len(found.checks)))


def candidate(need: Need, found: Sweep, row: int) -> Candidate:
    """Return one unit as it stands in the ranking; only the checks that turn it away are put in words."""
    unit = found.units.row(row)
    verdict, bad = found.verdict[:, row], found.bad[:, row]
    first = int(firsts(verdict[:, None])[0])
    asked = np.flatnonzero(np.isin(verdict, ASKS)).tolist()
    tight = tuple(found.checks[i] for i in np.flatnonzero(verdict == Verdict.TIGHT))
    said = {i: told(need, found, row, unit, i) for i in dict.fromkeys([first, *asked]) if i >= 0}
    return Candidate(
        row=row,
        supplier=str(unit.supplier[0]),
        code=str(unit.code[0]),
        name=name_of(unit),
        holds=first < 0,
        tight=tight,
        first_check=found.checks[first] if first >= 0 else "",
        reason=said[first].reason
        if first >= 0
        else ", ".join(filter(None, ("holds all", _standing(found, row)))),
        used=tuple((c, float(u)) for c, u in zip(found.checks, bad, strict=True) if np.isfinite(u)),
        cost=float(found.cost[row]),
        price=float(unit.price[0]),
        currency=str(unit.currency[0]),
        lead_time=float(unit.lead_time[0]),
        open_questions=tuple(dict.fromkeys(said[i].datum or said[i].reason for i in asked)),
    )


def name_of(unit: UnitTable) -> str:
    """Return a unit in words: supplier, size, row, role, support."""
    support = support_direction.WORDS[Support(int(unit.support[0]))]
    hand = {Hand.NONE: "", Hand.LEFT: " from the left", Hand.RIGHT: " from the right"}[
        Hand(int(unit.hand[0]))
    ]
    role = "locating" if unit.locating[0] else "non-locating"
    return f"{unit.supplier[0]} {unit.size[0]}, row {unit.row_size[0]}, {role}, {support}{hand}"


def _standing(found: Sweep, row: int) -> str:
    """Return what a unit that holds is tight on; empty where it is on nothing."""
    doubtful, tight = tight_on(found, row)
    parts = [("but for the bad end of", doubtful), ("tight on", tight)]
    return ", ".join(f"{words} {listed(checks)}" for words, checks in parts if checks)


def _because(found: Sweep, chosen: int | None, following: int | None) -> str:
    """Return why the next unit comes after the chosen one."""
    if chosen is None or following is None:
        return "no other unit holds" if chosen is not None else ""
    later = (found.units.lead_time[following] - found.units.lead_time[chosen]) / WEEK
    when = f", {_weeks(abs(later))} {'later' if later > 0 else 'sooner'}" if abs(later) >= 0.5 else ""
    dearer = found.cost[following] - found.cost[chosen]
    work = asks_for_work(found)
    doubt = np.asarray(doubtful(found).any(0))
    catch = ""
    if doubt[following] and not doubt[chosen]:
        catch = "but past a limit at the bad end"
    elif work[following] and not work[chosen]:
        catch = "but the drive is opened or the base milled for it"
    return f"{_price(float(dearer), str(found.units.currency[following]), catch)}{when}"


def _weeks(weeks: float) -> str:
    return f"{number(weeks)} week{'' if round(weeks) == 1 else 's'}"


def _price(dearer: float, currency: str, catch: str) -> str:
    """Return how the next unit's cost compares; catch: what keeps it from the first rank, where not price or tightness do."""
    if np.isnan(dearer):
        return "a cost that cannot be compared"
    if dearer >= 0.5:
        return f"{number(dearer)} {currency} dearer over the horizon"
    if dearer <= -0.5:
        return f"{number(-dearer)} {currency} cheaper over the horizon, {catch or 'but tight where that decides'}"
    return f"the same cost over the horizon{f', {catch}' if catch else ''}"


def _sentence(need: Need, found: Sweep, chosen: int) -> str:
    state = _standing(found, chosen) or "nothing tight"
    return f"{name_of(found.units.row(chosen))} holds at {need.position.name}, {state}."
