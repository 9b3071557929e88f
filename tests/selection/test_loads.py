"""Static safety by ISO 76:2006 and the least load that keeps rollers turning.

Default unit: C_0r = 44·(1 − 16/140)·24·20·16 = 299 301 N; C_r = 206 733 N; speed limit 2000 r/min.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.duty import Requirement, Shock
from halfbore.selection.checks import minimum_load, static_safety
from tests.selection.units import duty, need, table, told

C_0R = 44 * (1 - 16 / 140) * 24 * 20 * 16


def peaks(low: float, high: float, **more: Any) -> Any:
    return duty(radial_low=low, equivalent_low=low, equivalent_high=high, peak_high=high, **more)


@pytest.mark.parametrize(
    ("low", "high", "shock", "verdict", "used"),
    [
        # 1.5·P/C_0r for normal running, 3·P/C_0r for pronounced shock.
        (100e3, 100e3, Shock.NORMAL, Verdict.HOLDS, (1.5 * 100e3 / C_0R,) * 2),
        (190e3, 190e3, Shock.NORMAL, Verdict.TIGHT, (1.5 * 190e3 / C_0R,) * 2),
        (C_0R / 1.5, C_0R / 1.5, Shock.NORMAL, Verdict.TIGHT, (1.0, 1.0)),
        (200e3, 200e3, Shock.NORMAL, Verdict.FAILS, (1.5 * 200e3 / C_0R,) * 2),
        (100e3, 200e3, Shock.NORMAL, Verdict.TIGHT, (1.5 * 100e3 / C_0R, 1.5 * 200e3 / C_0R)),
        (100e3, 100e3, Shock.SHOCK, Verdict.FAILS, (3 * 100e3 / C_0R,) * 2),
        (80e3, 80e3, Shock.QUIET, Verdict.HOLDS, (3 * 80e3 / C_0R,) * 2),
    ],
)
def test_static_safety(
    low: float, high: float, shock: Shock, verdict: Verdict, used: tuple[float, float]
) -> None:
    found = told(static_safety.CHECK, need(peaks(low, high), required=Requirement(shock=shock)), table())
    assert found.verdict is verdict
    assert found.used is not None
    assert (found.used.low, found.used.high) == pytest.approx(used)
    assert found.value is not None
    assert found.value.low == pytest.approx(C_0R / high)


def test_the_largest_load_of_the_duty_counts_whatever_its_share() -> None:
    d = peaks(50e3, np.array([50e3, 250e3]), share=[1.0, 0.0], speed=[600.0, 0.0])
    found = told(static_safety.CHECK, need(d), table())
    assert "250 kN (condition 1)" in found.reason


def test_static_safety_without_load_or_rating() -> None:
    assert told(static_safety.CHECK, need(peaks(0, 0)), table()).verdict is Verdict.NOT_APPLICABLE
    blank = told(static_safety.CHECK, need(), table(static_rating=np.nan))
    assert (blank.verdict, blank.datum) == (Verdict.NO_DATA, "C_0r, from the supplier")


def test_normal_running_would_let_a_unit_in_that_fails_by_shock() -> None:
    shock = need(peaks(100e3, 100e3), required=Requirement(shock=Shock.SHOCK))
    assert [(w.path, w.value) for w in static_safety.CHECK.relax(shock, table())] == [
        ("required.shock", Shock.NORMAL)
    ]
    heavy = need(peaks(250e3, 250e3), required=Requirement(shock=Shock.SHOCK))
    assert static_safety.CHECK.relax(heavy, table()) == ()


# 600 of 2000 r/min: (0.005 + 0.015·0.3)·C_r = 0.0095·206 733 N = 1964 N (common practice, no source).
WANTED = 0.0095 * 206_732.746656


@pytest.mark.parametrize(
    ("low", "high", "verdict", "used"),
    [
        (10e3, 12e3, Verdict.HOLDS, (WANTED / 12e3, WANTED / 10e3)),
        (2100.0, 2100.0, Verdict.TIGHT, (WANTED / 2100,) * 2),
        (WANTED, WANTED, Verdict.TIGHT, (1.0, 1.0)),
        # Far below the rule it is tight and no worse, and the remedy is a lighter series.
        (100.0, 100.0, Verdict.TIGHT, (WANTED / 100,) * 2),
    ],
)
def test_minimum_load(low: float, high: float, verdict: Verdict, used: tuple[float, float]) -> None:
    found = told(minimum_load.CHECK, need(peaks(low, high)), table())
    assert found.verdict is verdict
    assert found.used is not None
    assert (found.used.low, found.used.high) == pytest.approx(used)
    assert ("a lighter series" in found.reason) is (low < WANTED * (1 - 1e-9))


def test_a_load_that_may_vanish_is_tight_and_one_that_is_never_there_fails() -> None:
    may = told(minimum_load.CHECK, need(peaks(0.0, 5e3)), table())
    assert (may.verdict, may.used) == (Verdict.TIGHT, None)
    never = told(minimum_load.CHECK, need(peaks(0.0, 0.0)), table())
    assert never.verdict is Verdict.FAILS
    assert "nothing presses on the bearing" in never.reason


def test_a_standing_shaft_needs_no_least_load() -> None:
    assert told(minimum_load.CHECK, need(duty(speed=0.0)), table()).verdict is Verdict.NOT_APPLICABLE


def test_minimum_load_without_a_speed_limit_is_open() -> None:
    found = told(minimum_load.CHECK, need(), table(speed_limit=np.nan))
    assert (found.verdict, found.datum) == (Verdict.NO_DATA, "speed limit, from the supplier")


def test_the_lightest_running_condition_counts() -> None:
    d = peaks(np.array([10e3, 1e3, 0.0]), np.array([10e3, 1e3, 0.0]), share=[0.9, 0.1, 0.0], speed=600.0)
    found = told(minimum_load.CHECK, need(d), table())
    assert found.value is not None
    assert found.value.low == pytest.approx(1e3)
    assert found.verdict is Verdict.TIGHT
