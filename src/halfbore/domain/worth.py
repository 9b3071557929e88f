"""What a position is worth: one row of the ranking of a plant."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from halfbore.domain.study import Decision
from halfbore.domain.value import Estimate

NO_PLAIN_SUM = (
    "Worths do not simply add up: a shared stop counts by its part at each position, "
    "but work that two conversions share in one stop counts at both."
)
"""What stands beside a sum of worths."""


@dataclass(frozen=True)
class Worth:
    """One position in the ranking.

    machine, shaft_line, position: tags; unit: code of the chosen unit as it would be ordered, empty where there is none.
    because: why the decision is what it is; saving: present value over the horizon [currency], None where no money
    can be put on it; chance: that the conversion pays, 0 to 1; hours_per_stop: outage hours saved at a later change,
    first conversion left out, P10, P50, P90 [h], None where there is no plan.
    next_step: what to measure or settle next, empty where nothing stands open.
    standard: code of the chosen unit in its standard build, as its catalogue has it.
    shared_with: positions with which it shared stops; caveats: what must stand beside the saving.
    stale: why the answer is not of today's inputs; empty where it is.
    """

    machine: str
    shaft_line: str
    position: str
    decision: Decision
    because: str
    unit: str
    saving: Estimate | None
    currency: str
    chance: float | None
    hours_per_stop: Estimate | None
    next_step: str
    standard: str = ""
    shared_with: tuple[str, ...] = ()
    caveats: tuple[str, ...] = ()
    stale: tuple[str, ...] = ()


def notes(rows: Sequence[Worth]) -> Iterator[str]:
    """Yield what the figures of a ranking are, the same wherever it is shown.

    rows: of the ranking.
    """
    yield (
        "Worth: mean present value of converting, over the horizon, the first conversion included. "
        "Hours: outage saved at each later planned stop, in half of the runs more."
    )
    if any(row.decision is Decision.CONVERT_IF for row in rows):
        yield "Convert if it holds: worth and chance are those of a unit that is shown to hold."
    yield NO_PLAIN_SUM
