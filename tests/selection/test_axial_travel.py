"""Axial travel. Default unit: track 6, seal 5, housing 8 mm; default growth 0.5 to 1.5 mm, cold 0."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.selection.checks.axial_travel import CHECK
from tests.selection.units import duty, need, table, told


@pytest.mark.parametrize(
    ("low", "high", "verdict", "needed"),
    [
        # Cold 0 to hot 1.5: set 0.75 back, then 0.75 each way and 1 mm of setting; without, 1.5 + 1.
        (0.5, 1.5, Verdict.HOLDS, (1.75, 2.5)),
        (-1.0, 3.5, Verdict.HOLDS, (3.25, 4.5)),
        (-1.0, 3.6, Verdict.TIGHT, (3.3, 4.6)),
        (0.0, 4.0, Verdict.TIGHT, (3.0, 5.0)),
        # Only with the ring set off the middle.
        (0.0, 6.0, Verdict.TIGHT, (4.0, 7.0)),
        (0.0, 8.0, Verdict.TIGHT, (5.0, 9.0)),
        (0.0, 8.1, Verdict.FAILS, (5.05, 9.1)),
        (-6.0, -1.0, Verdict.TIGHT, (4.0, 7.0)),
    ],
)
def test_growth_against_the_smallest_travel(
    low: float, high: float, verdict: Verdict, needed: tuple[float, float]
) -> None:
    found = told(CHECK, need(duty(growth_low=low, growth_high=high)), table())
    assert found.verdict is verdict
    assert found.value is not None
    assert (found.value.low, found.value.high) == pytest.approx(needed)
    assert found.used is not None
    assert (found.used.low, found.used.high) == pytest.approx((needed[0] / 5, needed[1] / 5))
    assert "seal gap gives 5.0 mm" in found.reason


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (0.0, 4.0, "set the cold ring 2.0 mm towards the drive end"),
        (-4.0, 0.0, "set the cold ring 2.0 mm towards the free end"),
    ],
)
def test_the_ring_is_set_against_the_growth(low: float, high: float, words: str) -> None:
    assert words in told(CHECK, need(duty(growth_low=low, growth_high=high)), table()).reason


@pytest.mark.parametrize(
    ("known", "datum"),
    [
        ({}, "where along the shaft it is held, from the site"),
        ({"axial_known": False}, "what holds the shaft in each axial direction, from the site"),
        (
            {"shaft_temperature_low": np.nan, "shaft_temperature_high": np.nan},
            "shaft temperature at the bearing, from the site",
        ),
        (
            {"shaft_temperature_high": np.nan, "axial_known": False},
            "shaft temperature at the bearing, from the site; what holds the shaft in each axial direction, from the site",
        ),
    ],
)
def test_growth_that_is_not_known_asks_only_for_what_is_missing(known: dict[str, Any], datum: str) -> None:
    found = told(CHECK, need(duty(growth_low=np.nan, growth_high=np.nan, **known)), table())
    assert (found.verdict, found.datum) == (Verdict.NO_DATA, datum)


@pytest.mark.parametrize(
    ("columns", "verdict"),
    [
        ({"seal_travel": np.nan}, Verdict.NO_DATA),
        ({"housing_travel": np.nan, "track_travel": 1.0}, Verdict.FAILS),
    ],
)
def test_a_travel_that_is_not_given(columns: dict[str, Any], verdict: Verdict) -> None:
    found = told(CHECK, need(), table(**columns))
    assert found.verdict is verdict
    assert (found.datum == "axial travel, from the supplier") is (verdict is Verdict.NO_DATA)


def test_a_locating_unit_lets_nothing_grow() -> None:
    found = told(CHECK, need(), table(locating=True))
    assert found.verdict is Verdict.FAILS
    assert "a locating unit lets nothing grow" in found.reason
    unknown = need(duty(growth_low=np.nan, growth_high=np.nan))
    assert told(CHECK, unknown, table(locating=True)).verdict is Verdict.FAILS


def test_growth_starts_at_the_locating_position() -> None:
    assert told(CHECK, need(duty(locating=True)), table(locating=True)).verdict is Verdict.NOT_APPLICABLE


def test_the_smallest_of_all_conditions_and_a_standing_one_does_not_count() -> None:
    d = duty(share=[0.5, 0.5, 0.0], speed=[600.0, 300.0, 0.0], growth_low=[1, 0, -9], growth_high=[2, 4, 9])
    found = told(CHECK, need(d), table())
    assert found.value is not None
    assert found.value.high == pytest.approx(5.0)
