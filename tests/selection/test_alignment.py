"""Tilt. Default unit: the free seat sets 1.2° = 20.94 mrad, rollers bear 0.6 mrad; base 0 to 1 mrad."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.selection.checks.alignment import CHECK, change_in_service
from halfbore.units import Span
from tests.selection.units import BASE, duty, need, table, told

SEAT = np.radians(1.2)


def test_shaft_and_base_against_the_free_seat() -> None:
    # Slope 1 mrad, base 0 to 1 mrad: 1 to 2 of 20.94 mrad.
    found = told(CHECK, need(), table())
    assert found.verdict is Verdict.HOLDS
    assert found.used is not None
    assert (found.used.low, found.used.high) == pytest.approx((0.001 / SEAT, 0.002 / SEAT))
    assert found.value is not None
    assert (found.value.low, found.value.high) == pytest.approx((0.001, 0.002))


@pytest.mark.parametrize(
    ("low", "high", "verdict"),
    [
        (0.0, 0.0175, Verdict.HOLDS),
        (0.018, 0.019, Verdict.TIGHT),
        (SEAT - 0.001, SEAT - 0.001, Verdict.TIGHT),
        (0.0, 0.030, Verdict.TIGHT),
        (0.0205, 0.030, Verdict.FAILS),
    ],
)
def test_a_base_that_is_out_of_level(low: float, high: float, verdict: Verdict) -> None:
    tilted = dataclasses.replace(BASE, tilt_error=Span(low, (low + high) / 2, high))
    assert told(CHECK, need(base=tilted), table()).verdict is verdict


def test_an_uncertain_load_is_no_change_in_service() -> None:
    # One condition whose slope is somewhere from 0 to 2 mrad: it is what it is, and does not change.
    d = duty(slope_low=0.0, slope_high=0.002, slope_y=0.001)
    assert change_in_service(need(d)) == 0.0
    assert told(CHECK, need(d), table()).verdict is Verdict.HOLDS


@pytest.mark.parametrize(
    ("low", "high", "y", "z", "change"),
    [
        # Two conditions in one plane: 1.0 and 0.6 mrad.
        ([0.001, 0.0006], [0.001, 0.0006], [0.001, 0.0006], [0.0, 0.0], 0.0004),
        # The same size, turned from the upright into the level plane: √2 times the size.
        ([0.001, 0.001], [0.001, 0.001], [0.001, 0.0], [0.0, 0.001], 0.001 * np.sqrt(2)),
        # At the high end of the loads the change is larger than at the likely one.
        ([0.001, 0.0006], [0.002, 0.0012], [0.0015, 0.0009], [0.0, 0.0], 0.0008),
    ],
)
def test_the_change_is_between_conditions(
    low: list[float], high: list[float], y: list[float], z: list[float], change: float
) -> None:
    d = duty(share=[0.5, 0.5], slope_low=low, slope_high=high, slope_y=y, slope_z=z)
    assert change_in_service(need(d)) == pytest.approx(change)


@pytest.mark.parametrize(("change", "verdict"), [(0.0005, Verdict.HOLDS), (0.00055, Verdict.TIGHT)])
def test_what_the_tightened_seat_leaves_in_the_rollers(change: float, verdict: Verdict) -> None:
    slopes = [0.001, 0.001 + change]
    d = duty(share=[0.5, 0.5], slope_low=slopes, slope_high=slopes, slope_y=slopes)
    found = told(CHECK, need(d), table())
    assert found.verdict is verdict
    assert found.used is not None
    assert found.used.high == pytest.approx(change / 0.0006)
    assert dict(found.details)["governs"] == "rollers in service"


def test_the_seat_may_follow_so_that_rollers_alone_never_fail_a_unit() -> None:
    slopes = [0.001, 0.006]
    d = duty(share=[0.5, 0.5], slope_low=slopes, slope_high=slopes, slope_y=slopes)
    assert told(CHECK, need(d), table()).verdict is Verdict.TIGHT


@pytest.mark.parametrize("column", ["static_alignment", "roller_tilt"])
def test_without_the_supplier_s_ranges_it_is_open(column: str) -> None:
    found = told(CHECK, need(), table(**{column: np.nan}))
    assert found.verdict is Verdict.NO_DATA
    assert found.datum.endswith("from the supplier")
    assert "not given" in found.reason


def test_the_surveyed_height_is_shown() -> None:
    low = dataclasses.replace(BASE, height_error=Span(-0.7, -0.6, -0.5))
    assert dict(told(CHECK, need(base=low), table()).details)["surveyed base height"].startswith("−0.60 mm")
