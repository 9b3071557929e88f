"""The templates against whole changeovers: hours exchange plus mechanical, without cooling and permits.

Least, likely and most are from memory and common practice; no published source is known. The band of 20 % for P50
against the likely value is what such memory is worth; P10 to P90 must lie within least to most.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import pytest

from halfbore.changeover.plan import plan_changeover
from halfbore.changeover.shared_tasks import PERMIT
from halfbore.domain.job import Job
from halfbore.domain.plan import ChangeoverPair
from halfbore.domain.position import Position
from halfbore.units import Span
from tests.changeover import cases

MACHINES: dict[str, Callable[[], tuple[Job, Position]]] = {
    "centre-hung fan, coupling side": cases.fan,
    "centre-hung fan, free end": lambda: cases.fan(trapped=False),
    "overhung fan, wheel side": cases.overhung_fan,
    "head shaft, drive side": cases.head_shaft,
    "line shaft, between sheaves": cases.line_shaft,
}
ROWS = {
    "centre-hung fan, coupling side": ((10, 16, 28), (16, 26, 48), (8, 12, 22), (3, 5, 8)),
    "centre-hung fan, free end": ((4, 7, 12), (8, 12, 24), (5, 8, 14), (2.5, 4, 6)),
    "overhung fan, wheel side": ((12, 20, 36), (18, 30, 60), (9, 14, 24), (4, 6, 10)),
    "head shaft, drive side": ((10, 16, 30), (14, 24, 54), (7, 11, 18), (3, 4.5, 8)),
    "line shaft, between sheaves": ((6, 12, 24), (8, 16, 32), (4, 7, 12), (1.5, 3, 5)),
}
PLANS = ("one_piece", "one_piece_seized", "split_first", "split_repeat")
BAND = 0.20
EDGE = 0.15
"""P90 may stand this much over the most: hold points put a tail of a tenth of the changes beyond it."""


@cache
def pair(machine: str) -> ChangeoverPair:
    job, position = MACHINES[machine]()
    # the remembered hours are without permits; only the first conversion was set to them with its own
    job = cases.told(job, tasks=cases.own_hours(PERMIT.name, Span.of(0.0), "one-piece"))
    return plan_changeover(job, position, cases.unit(), None, -10.0, seed=1, draws=4000)[0]


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("plan", PLANS)
def test_mechanical_hours_stay_near_what_is_remembered(machine: str, plan: str) -> None:
    least, likely, most = ROWS[machine][PLANS.index(plan)]
    clock = getattr(pair(machine), plan).mechanical
    assert clock.p50 == pytest.approx(likely, rel=BAND)
    assert least * (1.0 - EDGE) <= clock.p10
    assert clock.p90 <= most * (1.0 + EDGE)


@pytest.mark.parametrize("machine", [m for m in MACHINES if "free end" not in m])
def test_shortening_of_trapped_positions_is_within_what_is_expected(machine: str) -> None:
    """Expected from memory: exchange 70 to 90 %, mechanical 50 to 80 %, outage 25 to 65 %; first change 0 to 50 %."""
    expected = {"exchange": (0.70, 0.90), "mechanical": (0.50, 0.80), "outage": (0.25, 0.65)}
    for cut in pair(machine).shortening:
        low, high = expected[cut.clock]
        assert low <= cut.repeat.p50 <= high
        assert 0.0 <= cut.first.p50 <= 0.5
        assert cut.first.p10 < cut.first.p50 - 0.10


def test_free_end_shows_no_saving_at_the_first_change() -> None:
    cuts = {cut.clock: cut for cut in pair("centre-hung fan, free end").shortening}
    assert cuts["mechanical"].first.p50 < 0.0
    assert cuts["outage"].repeat.p90 < 0.4
