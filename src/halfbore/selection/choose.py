"""The unit for a position: holds all, nothing tight that decides, lowest cost, lead time, code."""

from __future__ import annotations

from collections import Counter

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Finding, Verdict
from halfbore.domain.selection import Candidate, Choice, Sweep
from halfbore.domain.unit import Hand, Support, UnitTable
from halfbore.selection.check import Codes, finding
from halfbore.selection.checks import support_direction
from halfbore.selection.checks.delivery import WEEK
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.need import Need
from halfbore.selection.relax import relaxations
from halfbore.selection.sweep import sweep

SHOWN = 14
"""Candidates that are told one by one; the rest are counted by the check that turned them away."""
ALIKE = 3
"""Of them, those that the same check turned away."""
BORE_WINDOW = 10.0
"""Of the units that are turned away, those within this of the shaft's size are told [mm]."""
ASKS = (Verdict.NO_DATA, Verdict.OUTSIDE)
RUNS_DOWN = (Verdict.FAILS, *ASKS)


def choose(need: Need, units: UnitTable) -> Choice:
    """Choose a unit for a position and say why every other one was turned away.

    need: the position's side; units: all candidates of all catalogues.
    """
    return choice_from(need, sweep(need, units))


def choice_from(need: Need, found: Sweep) -> Choice:
    """Return the choice that a sweep leads to."""
    order = _ranked(found)
    turned_away = np.asarray(np.isin(found.verdict, RUNS_DOWN).any(0))
    usable = [int(r) for r in order if not turned_away[r]]
    chosen = usable[0] if usable else None
    following = usable[1] if len(usable) > 1 else None
    return Choice(
        position=found.position,
        chosen=None if chosen is None else candidate(need, found, chosen),
        chosen_unit=None if chosen is None else found.units.row(chosen),
        findings=() if chosen is None else findings(need, found, chosen),
        next=None if following is None else candidate(need, found, following),
        next_findings=() if following is None else findings(need, found, following),
        next_because=_because(found, chosen, following),
        candidates=tuple(candidate(need, found, r) for r in _shown(need, found, order, usable)),
        total=len(found.units),
        holding=len(usable),
        open=int(_open(found).sum()),
        counts=_counts(found),
        relaxations=relaxations(need, found),
        sentence=_sentence(need, found, chosen),
    )


def _open(found: Sweep) -> NDArray[np.bool_]:
    """Return which units nothing fails but a question keeps from the choice (n)."""
    fails = (found.verdict == Verdict.FAILS).any(0)
    asking: NDArray[np.bool_] = np.isin(found.verdict, ASKS).any(0) & ~fails
    return asking


def _ranked(found: Sweep) -> NDArray[np.intp]:
    """Return all rows, best first: usable, nothing tight that decides, cost, lead time, code."""
    fails = (found.verdict == Verdict.FAILS).sum(0)
    asks = np.isin(found.verdict, ASKS).sum(0)
    decisive = np.array([check.decisive for check in CHECKS])
    tight = ((found.verdict == Verdict.TIGHT) & decisive[:, None]).any(0)
    cost = np.where(np.isnan(found.cost), np.inf, found.cost)
    lead = np.where(np.isnan(found.units.lead_time), np.inf, found.units.lead_time)
    return np.lexsort((found.units.code, lead, np.round(cost, 2), tight, asks, fails))


def _shown(need: Need, found: Sweep, order: NDArray[np.intp], usable: list[int]) -> list[int]:
    """Return the best usable rows, then for each check that turns units away the nearest ones of the right bore.

    Those that fail by an amount come before those that fail outright.
    """
    rows = list(usable[: SHOWN // 2])
    near = order[np.abs(found.units.bore[order] - need.nominal) < BORE_WINDOW]
    outright = (np.isinf(found.good[:, near]) & (found.verdict[:, near] == Verdict.FAILS)).any(0)
    first, seen = _firsts(found.verdict), Counter[int]()
    for r in near[np.argsort(outright, kind="stable")].tolist():
        if len(rows) < SHOWN and first[r] >= 0 and seen[first[r]] < ALIKE:
            seen[first[r]] += 1
            rows.append(r)
    return rows


def _firsts(verdict: Codes) -> NDArray[np.intp]:
    """Return the check that turns each unit away, the first that fails, else the first that asks; −1 for none (n)."""
    fails, past = verdict == Verdict.FAILS, np.isin(verdict, RUNS_DOWN)
    first = np.where(fails.any(0), fails.argmax(0), past.argmax(0))
    return np.asarray(np.where(past.any(0), first, -1), dtype=np.intp)


def _counts(found: Sweep) -> tuple[tuple[str, int], ...]:
    """Return how many units each check turned away first, most first."""
    numbers = Counter(_firsts(found.verdict).tolist())
    return tuple((found.checks[i], n) for i, n in numbers.most_common() if i >= 0)


def findings(need: Need, found: Sweep, row: int) -> tuple[Finding, ...]:
    """Return every check of one unit in words and numbers."""
    unit = found.units.row(row)
    return tuple(_finding(need, found, row, unit, i) for i in range(len(CHECKS)))


def _finding(need: Need, found: Sweep, row: int, unit: UnitTable, i: int) -> Finding:
    verdict, good, bad = found.verdict[i, row], found.good[i, row], found.bad[i, row]
    return finding(CHECKS[i], need, unit, int(verdict), float(good), float(bad))


def candidate(need: Need, found: Sweep, row: int) -> Candidate:
    """Return one unit as it stands in the ranking; only the checks that turn it away are put in words."""
    unit = found.units.row(row)
    verdict, bad = found.verdict[:, row], found.bad[:, row]
    first = int(_firsts(verdict[:, None])[0])
    asked = np.flatnonzero(np.isin(verdict, ASKS)).tolist()
    tight = tuple(found.checks[i] for i in np.flatnonzero(verdict == Verdict.TIGHT))
    told = {i: _finding(need, found, row, unit, i) for i in dict.fromkeys([first, *asked]) if i >= 0}
    return Candidate(
        row=row,
        supplier=str(unit.supplier[0]),
        code=str(unit.code[0]),
        name=name_of(unit),
        holds=first < 0,
        tight=tight,
        first_check=found.checks[first] if first >= 0 else "",
        reason=told[first].reason if first >= 0 else _holding(tight),
        used=tuple((c, float(u)) for c, u in zip(found.checks, bad, strict=True) if np.isfinite(u)),
        cost=float(found.cost[row]),
        price=float(unit.price[0]),
        currency=str(unit.currency[0]),
        lead_time=float(unit.lead_time[0]),
        open_questions=tuple(dict.fromkeys(told[i].datum or told[i].reason for i in asked)),
    )


def name_of(unit: UnitTable) -> str:
    """Return a unit in words: supplier, size, row, role, support."""
    support = support_direction.WORDS[Support(int(unit.support[0]))]
    hand = {Hand.NONE: "", Hand.LEFT: " from the left", Hand.RIGHT: " from the right"}[
        Hand(int(unit.hand[0]))
    ]
    role = "locating" if unit.locating[0] else "non-locating"
    return f"{unit.supplier[0]} {unit.size[0]}, row {unit.row_size[0]}, {role}, {support}{hand}"


def _holding(tight: tuple[str, ...]) -> str:
    return f"holds all, tight on {' and '.join(tight)}" if tight else "holds all"


def _because(found: Sweep, chosen: int | None, following: int | None) -> str:
    """Return why the next unit comes after the chosen one."""
    if chosen is None or following is None:
        return "no other unit holds" if chosen is not None else ""
    later = (found.units.lead_time[following] - found.units.lead_time[chosen]) / WEEK
    when = f", {_weeks(abs(later))} {'later' if later > 0 else 'sooner'}" if abs(later) >= 0.5 else ""
    dearer = found.cost[following] - found.cost[chosen]
    return f"{_price(float(dearer), str(found.units.currency[following]))}{when}"


def _weeks(weeks: float) -> str:
    return f"{weeks:.0f} week{'' if round(weeks) == 1 else 's'}"


def _price(dearer: float, currency: str) -> str:
    if np.isnan(dearer):
        return "a cost that cannot be compared"
    if dearer >= 0.5:
        return f"{dearer:.0f} {currency} dearer over the horizon"
    if dearer <= -0.5:
        return f"{-dearer:.0f} {currency} cheaper over the horizon, but tight where that decides"
    return "the same cost over the horizon"


def _sentence(need: Need, found: Sweep, chosen: int | None) -> str:
    if chosen is None:
        worst = _counts(found)
        asks = int(_open(found).sum())
        tail = f"; {asks} are open until a question is settled" if asks else ""
        return f"No unit of {len(found.units)} holds at {need.position.name}: {_most(worst)}{tail}."
    unit = found.units.row(chosen)
    tight = tuple(
        c for c, v in zip(found.checks, found.verdict[:, chosen], strict=True) if v == Verdict.TIGHT
    )
    state = f", tight on {' and '.join(tight)}" if tight else ", nothing tight"
    return f"{name_of(unit)} holds at {need.position.name}{state}."


def _most(counts: tuple[tuple[str, int], ...]) -> str:
    return ", ".join(f"{check} turns {n} away" for check, n in counts[:3])
