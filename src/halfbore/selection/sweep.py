"""All units of all catalogues through all checks in one sweep."""

from __future__ import annotations

import numpy as np

from halfbore.domain.selection import Sweep
from halfbore.domain.unit import UnitTable
from halfbore.selection import cost
from halfbore.selection.check import verdicts
from halfbore.selection.checks import clearance, seals
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.need import Need


def sweep(need: Need, units: UnitTable) -> Sweep:
    """Put every unit through every check.

    need: the position's side; units: the candidates, one row or many.
    Returns verdicts and the part of each limit used at both ends of the ranges, a row a check.
    """
    columns = [check.column(need, units) for check in CHECKS]
    verdict = np.stack([verdicts(check, found) for check, found in zip(CHECKS, columns, strict=True)])
    left, right = seals.build(need, units)
    return Sweep(
        need.position.name,
        units,
        tuple(check.name for check in CHECKS),
        verdict,
        np.stack([c.good for c in columns]),
        np.stack([c.bad for c in columns]),
        cost.over_horizon(need, units, left, right),
        left.astype(np.int8),
        right.astype(np.int8),
        clearance.group(need, units).astype(np.int8),
    )
