"""How the units of a sweep stand: ranking, what turns each away, what keeps it open, what has the right bore."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Finding, Verdict
from halfbore.domain.selection import Sweep
from halfbore.domain.unit import UnitTable
from halfbore.selection.check import EXACT, Codes, Mask, finding, in_doubt
from halfbore.selection.checks import lift_and_entry
from halfbore.selection.checks.bore_and_seat import SAME_SIZE
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.need import Need

ASKS = (Verdict.NO_DATA, Verdict.OUTSIDE)
RUNS_DOWN = (Verdict.FAILS, *ASKS)


def usable(found: Sweep) -> Mask:
    """Return which units no check turns away (n)."""
    return np.asarray(~np.isin(found.verdict, RUNS_DOWN).any(0))


def is_open(found: Sweep) -> Mask:
    """Return which units nothing fails but a question keeps from the choice (n)."""
    fails = (found.verdict == Verdict.FAILS).any(0)
    asking: Mask = np.isin(found.verdict, ASKS).any(0) & ~fails
    return asking


def of_the_bore(need: Need, found: Sweep) -> Mask:
    """Return which units have the bore of the shaft, or the bore nearest to it where none has it (n)."""
    off = np.abs(found.units.bore - need.nominal)
    right: Mask = off <= off.min(initial=np.inf) + SAME_SIZE
    return right


def asks_for_work(found: Sweep) -> Mask:
    """Return which units open the drive or mill the base on their way in (n): hours of a stop, on no price list."""
    most = found.bad[CHECKS.index(lift_and_entry.CHECK)]
    return np.asarray(most > 1.0 - EXACT)  # False where it is not known


def ranked(found: Sweep) -> NDArray[np.intp]:
    """Return all rows, best first: usable, nothing in doubt, nothing tight that decides, no work on drive or base, cost,
    lead time, code.
    """
    fails = (found.verdict == Verdict.FAILS).sum(0)
    asks = np.isin(found.verdict, ASKS).sum(0)
    decisive = np.array([check.decisive for check in CHECKS])
    tight = ((found.verdict == Verdict.TIGHT) & decisive[:, None]).any(0)
    cost = np.where(np.isnan(found.cost), np.inf, found.cost)
    lead = np.where(np.isnan(found.units.lead_time), np.inf, found.units.lead_time)
    doubt = doubtful(found).any(0)
    return np.lexsort(
        (found.units.code, lead, np.round(cost, 2), asks_for_work(found), tight, doubt, asks, fails)
    )


def firsts(verdict: Codes) -> NDArray[np.intp]:
    """Return the check that turns each unit away, the first that fails, else the first that asks; −1 for none (n)."""
    fails, past = verdict == Verdict.FAILS, np.isin(verdict, RUNS_DOWN)
    first = np.where(fails.any(0), fails.argmax(0), past.argmax(0))
    return np.asarray(np.where(past.any(0), first, -1), dtype=np.intp)


_FAILS_PAST = np.array([check.fails_past for check in CHECKS])


def doubtful(found: Sweep, rows: slice = slice(None)) -> Mask:
    """Return which checks the good end of the ranges passes and the bad end alone does not (k, n of the rows)."""
    tight = found.verdict[:, rows] == Verdict.TIGHT
    return np.asarray(tight & in_doubt(_FAILS_PAST[:, None], found.good[:, rows], found.bad[:, rows]))


def tight_on(found: Sweep, row: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the checks that a unit is tight on: those whose bad end alone is past the limit, and the others."""
    tight = found.verdict[:, row] == Verdict.TIGHT
    open_ = doubtful(found, slice(row, row + 1))[:, 0]

    def names(rows: Mask) -> tuple[str, ...]:
        return tuple(found.checks[i] for i in np.flatnonzero(rows))

    return names(open_), names(tight & ~open_)


def told(need: Need, found: Sweep, row: int, unit: UnitTable, i: int) -> Finding:
    """Return one check of one unit in words and numbers; unit: that row, i: the check's place."""
    verdict, good, bad = found.verdict[i, row], found.good[i, row], found.bad[i, row]
    return finding(CHECKS[i], need, unit, int(verdict), float(good), float(bad))
