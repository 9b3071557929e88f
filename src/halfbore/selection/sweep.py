"""All units of all catalogues through all checks in one sweep."""

from __future__ import annotations

import numpy as np

from halfbore.domain.selection import Sweep
from halfbore.domain.unit import UnitTable
from halfbore.selection import cost
from halfbore.selection.check import found, judged
from halfbore.selection.checks import clearance, seals
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.need import Need

_FAILS_PAST = np.array([[check.fails_past] for check in CHECKS])
_RESERVE = np.array([[check.reserve] for check in CHECKS])


def sweep(need: Need, units: UnitTable) -> Sweep:
    """Put every unit through every check.

    need: the position's side; units: the candidates, one row or many.
    Returns verdicts and the part of each limit used at both ends of the ranges, a row a check.
    """
    columns = [found(check, need, units) for check in CHECKS]
    good, bad = np.stack([c.good for c in columns]), np.stack([c.bad for c in columns])
    state = np.stack([c.state for c in columns])
    left, right = seals.build(need, units)
    return Sweep(
        need.position.name,
        units,
        tuple(check.name for check in CHECKS),
        judged(good, bad, state, _FAILS_PAST, _RESERVE),
        good,
        bad,
        cost.over_horizon(need, units, left, right),
        left.astype(np.int8),
        right.astype(np.int8),
        clearance.group(need, units).astype(np.int8),
    )
