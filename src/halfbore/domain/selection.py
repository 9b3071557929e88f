"""The sweep over all units and the choice that it leads to."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Finding, Relaxation
from halfbore.domain.unit import UnitTable

Floats = NDArray[np.float64]
Codes = NDArray[np.int8]


@dataclass(frozen=True)
class Sweep:
    """All checks of all units at one position.

    checks: names, in order (k); verdict: Verdict codes (k, n); good, bad: part of the limit used at both ends (k, n);
    cost: present cost over the horizon per unit (n), NaN without a price;
    seal_left, seal_right, clearance: the build that each unit would have (n), −1 where none serves.
    """

    position: str
    units: UnitTable
    checks: tuple[str, ...]
    verdict: Codes
    good: Floats
    bad: Floats
    cost: Floats
    seal_left: Codes
    seal_right: Codes
    clearance: Codes


@dataclass(frozen=True)
class Candidate:
    """One unit as it stands in the ranking, with the check that turned it away.

    name: in words; first_check: empty for one that holds; reason: a sentence that ends with the amount.
    """

    row: int
    supplier: str
    code: str
    name: str
    holds: bool
    tight: tuple[str, ...]
    first_check: str
    reason: str
    used: tuple[tuple[str, float], ...]
    cost: float
    price: float
    currency: str
    lead_time: float
    open_questions: tuple[str, ...]


@dataclass(frozen=True)
class Choice:
    """The unit for a position, the next one, and why every other one was turned away.

    counts: check → number of units that it turned away first.
    nearest: where nothing holds, the best ranked unit of the bore, with its checks; otherwise none.
    questions: where nothing holds, what to ask for and the number of open units that wait for it, most first.
    """

    position: str
    chosen: Candidate | None
    chosen_unit: UnitTable | None
    findings: tuple[Finding, ...]
    next: Candidate | None
    next_findings: tuple[Finding, ...]
    next_because: str
    candidates: tuple[Candidate, ...]
    total: int
    holding: int
    open: int
    counts: tuple[tuple[str, int], ...]
    relaxations: tuple[Relaxation, ...]
    sentence: str
    nearest: Candidate | None
    nearest_unit: UnitTable | None
    nearest_findings: tuple[Finding, ...]
    questions: tuple[tuple[str, int], ...]

    @property
    def shown_unit(self) -> UnitTable | None:
        """The chosen unit, or the nearest one where nothing holds; None where the bore has none."""
        return self.nearest_unit if self.chosen_unit is None else self.chosen_unit

    @property
    def shown_findings(self) -> tuple[Finding, ...]:
        """The checks of the shown unit."""
        return self.nearest_findings if self.chosen_unit is None else self.findings
