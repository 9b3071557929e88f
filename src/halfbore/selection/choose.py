"""The unit for a position: holds all, nothing tight that decides, lowest cost, lead time, code."""

from __future__ import annotations

from collections import Counter

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Finding, Verdict
from halfbore.domain.selection import Candidate, Choice, Sweep
from halfbore.domain.unit import Hand, SealKind, Support, UnitTable
from halfbore.selection.check import finding
from halfbore.selection.checks import seals, support_direction
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.need import Need
from halfbore.selection.relax import relaxations
from halfbore.selection.sweep import sweep

SHOWN = 14
"""Candidates that are told one by one; the rest are counted by the check that turned them away."""
RUNS_DOWN = (Verdict.FAILS, Verdict.NO_DATA, Verdict.OUTSIDE)


def choose(need: Need, units: UnitTable) -> Choice:
    """Choose a unit for a position and say why every other one was turned away.

    need: the position's side; units: all candidates of all catalogues.
    """
    return choice_from(need, sweep(need, units))


def choice_from(need: Need, found: Sweep) -> Choice:
    """Return the choice that a sweep leads to."""
    order = _ranked(found)
    usable = [int(r) for r in order if _usable(found.verdict[:, r])]
    chosen = usable[0] if usable else None
    following = usable[1] if len(usable) > 1 else None
    open_rows = _open(found)
    shown = _shown(found, order, usable)
    return Choice(
        position=found.position,
        chosen=None if chosen is None else candidate(need, found, chosen),
        chosen_unit=None if chosen is None else found.units.row(chosen),
        findings=() if chosen is None else findings(need, found, chosen),
        next=None if following is None else candidate(need, found, following),
        next_findings=() if following is None else findings(need, found, following),
        next_because=_because(found, chosen, following),
        candidates=tuple(candidate(need, found, r) for r in shown),
        total=len(found.units),
        holding=len(usable),
        open=int(open_rows.sum()),
        counts=_counts(found),
        relaxations=relaxations(need, found),
        sentence=_sentence(need, found, chosen),
    )


def _usable(verdict: NDArray[np.int8]) -> bool:
    return not bool(np.isin(verdict, RUNS_DOWN).any())


def _open(found: Sweep) -> NDArray[np.bool_]:
    fails = (found.verdict == Verdict.FAILS).any(0)
    asks = np.isin(found.verdict, (Verdict.NO_DATA, Verdict.OUTSIDE)).any(0)
    asking: NDArray[np.bool_] = asks & ~fails
    return asking


def _ranked(found: Sweep) -> NDArray[np.intp]:
    """Return all rows, best first: usable, nothing tight that decides, cost, lead time, code."""
    fails = (found.verdict == Verdict.FAILS).sum(0)
    open_ = np.isin(found.verdict, (Verdict.NO_DATA, Verdict.OUTSIDE)).sum(0)
    decisive = np.array([check.decisive for check in CHECKS])
    tight = ((found.verdict == Verdict.TIGHT) & decisive[:, None]).any(0)
    cost = np.where(np.isnan(found.cost), np.inf, found.cost)
    lead = np.where(np.isnan(found.units.lead_time), np.inf, found.units.lead_time)
    return np.lexsort((found.units.code, lead, np.round(cost, 2), tight, open_, fails))


def _shown(found: Sweep, order: NDArray[np.intp], usable: list[int]) -> list[int]:
    """Return the usable rows, then for each check that turns units away the nearest ones of the right bore."""
    rows = list(usable[: SHOWN // 2])
    near = np.abs(found.units.bore - found.units.bore[order[0]]) < 10.0
    seen: Counter[str] = Counter()
    for r in order:
        if len(rows) >= SHOWN:
            break
        first = _first(found, int(r))
        if int(r) not in rows and first and near[r] and seen[first] < 3:
            seen[first] += 1
            rows.append(int(r))
    return rows


def _first(found: Sweep, row: int) -> str:
    """Return the check that turns a unit away: the worst failing one, else the first open one."""
    fails = found.verdict[:, row] == Verdict.FAILS
    if fails.any():
        return found.checks[int(np.flatnonzero(fails)[0])]
    asks = np.isin(found.verdict[:, row], (Verdict.NO_DATA, Verdict.OUTSIDE))
    return found.checks[int(np.flatnonzero(asks)[0])] if asks.any() else ""


def _counts(found: Sweep) -> tuple[tuple[str, int], ...]:
    """Return how many units each check turned away first, most first."""
    bad = np.isin(found.verdict, RUNS_DOWN)
    first = np.where(bad.any(0), _first_rows(found, bad), -1)
    numbers = Counter(int(i) for i in first if i >= 0)
    return tuple((found.checks[i], n) for i, n in numbers.most_common())


def _first_rows(found: Sweep, bad: NDArray[np.bool_]) -> NDArray[np.int64]:
    fails = found.verdict == Verdict.FAILS
    return np.asarray(np.where(fails.any(0), fails.argmax(0), bad.argmax(0)), dtype=np.int64)


def findings(need: Need, found: Sweep, row: int) -> tuple[Finding, ...]:
    """Return every check of one unit in words and numbers."""
    unit = found.units.row(row)
    return tuple(
        finding(
            check, need, unit, int(found.verdict[i, row]), float(found.good[i, row]), float(found.bad[i, row])
        )
        for i, check in enumerate(CHECKS)
    )


def candidate(need: Need, found: Sweep, row: int) -> Candidate:
    """Return one unit as it stands in the ranking."""
    unit = found.units.row(row)
    first = _first(found, row)
    told = findings(need, found, row)
    reason = next((f.reason for f in told if f.check == first), "")
    tight = tuple(f.check for f in told if f.verdict is Verdict.TIGHT)
    return Candidate(
        row=row,
        supplier=str(unit.supplier[0]),
        code=str(unit.code[0]),
        name=name_of(unit),
        holds=not first,
        tight=tight,
        first_check=first,
        reason=reason or _holding(tight),
        used=tuple((f.check, f.used.high) for f in told if f.used is not None),
        cost=float(found.cost[row]),
        price=float(unit.price[0]),
        currency=str(unit.currency[0]),
        lead_time=float(unit.lead_time[0]),
        open_questions=tuple(
            f.datum for f in told if f.datum and f.verdict in (Verdict.NO_DATA, Verdict.OUTSIDE)
        ),
    )


def name_of(unit: UnitTable) -> str:
    """Return a unit in words: supplier, size, row, role, support."""
    support = support_direction.WORDS[Support(int(unit.support[0]))]
    hand = {Hand.NONE: "", Hand.LEFT: " from the left", Hand.RIGHT: " from the right"}[
        Hand(int(unit.hand[0]))
    ]
    role = "locating" if unit.locating[0] else "non-locating"
    return f"{unit.supplier[0]} {unit.size[0]}, row {unit.row_size[0]}, {role}, {support}{hand}"


def seal_words(kind: int) -> str:
    """Return a seal kind in words."""
    return "none serves" if kind < 0 else seals.WORDS[SealKind(kind)]


def _holding(tight: tuple[str, ...]) -> str:
    return f"holds all, tight on {' and '.join(tight)}" if tight else "holds all"


def _because(found: Sweep, chosen: int | None, following: int | None) -> str:
    if chosen is None or following is None:
        return "no other unit holds" if chosen is not None else ""
    dearer = found.cost[following] - found.cost[chosen]
    later = (found.units.lead_time[following] - found.units.lead_time[chosen]) / 168.0
    currency = found.units.currency[following]
    when = f", {abs(later):.0f} weeks {'later' if later > 0 else 'sooner'}" if abs(later) >= 0.5 else ""
    price = (
        f"{dearer:.0f} {currency} dearer"
        if dearer >= 0.5
        else (
            f"{-dearer:.0f} {currency} cheaper, but tight where that decides"
            if dearer <= -0.5
            else "the same cost"
        )
    )
    return f"{price} over the horizon{when}"


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
