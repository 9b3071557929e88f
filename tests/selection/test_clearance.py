"""Clearance in operation. Default unit: groups 50, 80, 120 µm; D_pw 140 mm; shaft −30 to −20 µm, form 10 µm.

Heat takes 12e-6/K · 140 mm = 1.68 µm for each kelvin of shaft over housing; default 60 − 45 = 15 K.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.position import Seat
from halfbore.selection.checks.clearance import CHECK, band, group
from halfbore.units import Span
from tests.selection.units import SEAT, duty, need, table, told


def hot(shaft: float, housing: float = 45.0, cool: float = 50.0) -> Any:
    """Shaft from cool to shaft, housing from housing to 50 °C."""
    return duty(
        shaft_temperature_low=cool,
        shaft_temperature_high=shaft,
        housing_temperature_low=housing,
        housing_temperature_high=50.0,
    )


def test_the_least_clearance_by_hand() -> None:
    # 50 + 20 − 2·10/2 − 1.68·15 = 34.8 µm; greatest 90 + 30 − 0 = 120 µm.
    least, most = band(need(), table())
    assert (least[0], most[0]) == pytest.approx((0.0348, 0.120))
    found = told(CHECK, need(), table())
    assert found.verdict is Verdict.HOLDS
    assert found.used is not None
    assert (found.used.low, found.used.high) == pytest.approx((0.0, 15.2 / 50))
    assert found.reason == "group 1 keeps 35 µm when the shaft is hot"


@pytest.mark.parametrize(
    ("shaft", "chosen", "least"),
    [
        (60.0, 1, 50 + 10 - 1.68 * 15),
        # 55 K: group 1 is 32 µm short, group 2 too by 2 µm, group 3 keeps 38 µm.
        (100.0, 3, 120 + 10 - 1.68 * 55),
        # 46 K: group 2 keeps 12.7 µm, more than a tenth of its 80.
        (91.0, 2, 80 + 10 - 1.68 * 46),
    ],
)
def test_the_smallest_group_that_keeps_a_reserve(shaft: float, chosen: int, least: float) -> None:
    asked = need(hot(shaft))
    assert group(asked, table())[0] + 1 == chosen
    assert band(asked, table())[0][0] * 1000 == pytest.approx(least)
    assert told(CHECK, asked, table()).verdict is Verdict.HOLDS


@pytest.mark.parametrize(
    ("floor", "cool", "verdict", "used"),
    [
        # One group only. Lost at most 10 − 20 + 25.2 = 15.2 µm of the floor.
        (0.0170, 50.0, Verdict.HOLDS, 15.2 / 17),
        (0.0160, 50.0, Verdict.TIGHT, 15.2 / 16),
        (0.0152, 50.0, Verdict.TIGHT, 1.0),
        (0.0100, 50.0, Verdict.TIGHT, 1.52),
        # At the cool end as well: −30 + 1.68·40 = 37.2 µm are lost at least.
        (0.0300, 90.0, Verdict.FAILS, (10 - 20 + 1.68 * 75) / 30),
    ],
)
def test_a_clearance_that_the_heat_uses_up(floor: float, cool: float, verdict: Verdict, used: float) -> None:
    shaft = 60.0 if cool == 50.0 else 120.0
    found = told(CHECK, need(hot(shaft, cool=cool)), table(clearance_min=[floor] * 3))
    assert found.verdict is verdict
    assert found.used is not None
    assert found.used.high == pytest.approx(used)


def test_an_undersize_shaft_opens_the_clearance_one_to_one() -> None:
    thin = Seat(Span(99.870, 99.875, 99.880), SEAT.form_error, 100.0)
    before, after = band(need(), table()), band(need(seat=thin), table())
    assert after[0][0] - before[0][0] == pytest.approx(0.100)
    assert after[1][0] - before[1][0] == pytest.approx(0.100)


def test_a_seat_that_was_not_measured_may_have_any_size_of_the_tolerance() -> None:
    asked = need(seat=Seat(None, SEAT.form_error, 100.0))
    # 50 − 0 − 10 − 25.2 to 90 + 54.
    least, most = band(asked, table())
    assert (least[0], most[0]) == pytest.approx((0.0148, 0.144))
    assert told(CHECK, asked, table()).reason.endswith("seat taken anywhere in the supplier's tolerance")


def test_a_shaft_cooler_than_its_housing_loses_nothing() -> None:
    assert band(need(hot(30.0, housing=40.0, cool=20.0)), table())[0][0] == pytest.approx(0.060)


def test_a_group_that_is_not_given_is_passed_over() -> None:
    assert group(need(), table(clearance_min=[np.nan, 0.08, 0.12]))[0] == 1
    assert group(need(hot(300.0)), table(clearance_min=[0.05, np.nan, np.nan]))[0] == 0


def test_a_group_without_clearance_may_lose_nothing() -> None:
    assert told(CHECK, need(), table(clearance_min=[0.0] * 3)).verdict is Verdict.TIGHT
    loose = need(seat=Seat(Span.of(99.95), Span.of(0.0), 100.0))
    assert told(CHECK, loose, table(clearance_min=[0.0] * 3)).verdict is Verdict.HOLDS
    tight = need(hot(90.0, cool=85.0))
    assert told(CHECK, tight, table(clearance_min=[-0.02] * 3)).verdict is Verdict.FAILS


@pytest.mark.parametrize(
    ("load", "columns", "datum"),
    [
        (duty(), {"clearance_min": [np.nan] * 3}, "clearance by group and pitch diameter, from the supplier"),
        (duty(housing_temperature_low=np.nan), {}, "housing temperature, from the site"),
    ],
)
def test_without_the_datum_it_is_open(load: Any, columns: dict[str, Any], datum: str) -> None:
    found = told(CHECK, need(load), table(**columns))
    assert (found.verdict, found.datum) == (Verdict.NO_DATA, datum)


def test_no_largest_clearance_is_said_and_no_question() -> None:
    found = told(CHECK, need(), table(clearance_max=[np.nan] * 3))
    assert found.verdict is Verdict.HOLDS
    assert dict(found.details)["greatest in operation"] == "not given"
