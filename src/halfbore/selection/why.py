"""The working of a check: the same functions on the one unit, overheard."""

from __future__ import annotations

from halfbore.domain.unit import UnitTable
from halfbore.errors import InputError, Problem
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.need import Need
from halfbore.working import Step, working


def working_of(need: Need, unit: UnitTable, check: str) -> tuple[Step, ...]:
    """Return every clause that ran for one check of one unit, with what went in and what came out.

    unit: a one-row table; check: its name. Raises InputError for a name that no check has.
    """
    known = {c.name: c for c in CHECKS}
    if check not in known:
        raise InputError(Problem("there is no such check", "check", check, ", ".join(known)))
    # A fresh need: what it has worked out once already would not be heard again.
    with working() as steps:
        known[check].column(Need(need.job, need.index, need.duty), unit)
    return tuple(steps)
