"""Speed against 2000 r/min and shaft temperature against 150 °C of the default unit."""

from __future__ import annotations

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.selection.checks import speed, temperature
from tests.selection.units import duty, need, table, told


@pytest.mark.parametrize(
    ("fastest", "verdict"),
    [
        (0.0, Verdict.HOLDS),
        (1800.0, Verdict.HOLDS),
        (1801.0, Verdict.TIGHT),
        (2000.0, Verdict.TIGHT),
        (2001.0, Verdict.FAILS),
    ],
)
def test_the_fastest_condition_counts_whatever_its_share(fastest: float, verdict: Verdict) -> None:
    found = told(speed.CHECK, need(duty(share=[1.0, 0.0], speed=[0.0, fastest])), table())
    assert found.verdict is verdict
    assert found.used is not None
    assert found.used.high == pytest.approx(fastest / 2000)
    assert found.reason == f"{fastest:.0f} of 2000 r/min"


def test_the_speed_factor_is_shown() -> None:
    # 600 r/min · 140 mm.
    found = told(speed.CHECK, need(), table())
    assert dict(found.details)["n·d_m in mm/min"] == "84\u202f000"


def test_without_a_speed_limit_the_supplier_is_asked() -> None:
    found = told(speed.CHECK, need(), table(speed_limit=np.nan))
    assert (found.verdict, found.datum) == (Verdict.NO_DATA, "speed limit, from the supplier")


def test_every_condition_past_the_limit_would_have_to_be_slower() -> None:
    asked = need(duty(share=[0.5, 0.5, 0.0], speed=[2500.0, 1900.0, 2100.0]))
    wishes = speed.CHECK.relax(asked, table())
    assert [(w.path, w.value) for w in wishes] == [("duty[0].speed", 1800.0), ("duty[2].speed", 1800.0)]


@pytest.mark.parametrize(
    ("low", "high", "verdict"),
    [
        (-20.0, -10.0, Verdict.HOLDS),
        (100.0, 135.0, Verdict.HOLDS),
        (100.0, 136.0, Verdict.TIGHT),
        (140.0, 150.0, Verdict.TIGHT),
        (140.0, 160.0, Verdict.TIGHT),
        (151.0, 160.0, Verdict.FAILS),
    ],
)
def test_temperature_as_given(low: float, high: float, verdict: Verdict) -> None:
    hot = duty(shaft_temperature_low=low, shaft_temperature_high=high)
    found = told(temperature.CHECK, need(hot), table())
    assert found.verdict is verdict
    assert found.used is not None
    assert (found.used.low, found.used.high) == pytest.approx((max(low, 0) / 150, max(high, 0) / 150))


def test_temperature_without_a_datum_names_who_has_it() -> None:
    site = told(temperature.CHECK, need(duty(shaft_temperature_low=np.nan)), table())
    supplier = told(temperature.CHECK, need(), table(ring_temperature_limit=np.nan))
    assert site.verdict is supplier.verdict is Verdict.NO_DATA
    assert site.datum == "shaft temperature at the bearing, from the site"
    assert supplier.datum == "temperature limit, from the supplier"


def test_a_standing_condition_does_not_heat_a_running_bearing() -> None:
    d = duty(share=[1.0, 0.0], speed=[600.0, 0.0], shaft_temperature_high=[60.0, 400.0])
    assert told(temperature.CHECK, need(d), table()).verdict is Verdict.HOLDS
    never = duty(speed=[0.0], shaft_temperature_low=[160.0], shaft_temperature_high=[170.0])
    assert told(temperature.CHECK, need(never), table()).verdict is Verdict.FAILS
