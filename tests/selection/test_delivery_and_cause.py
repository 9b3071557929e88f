"""Lead time against the latest delivery; the last failure against what the unit cures."""

from __future__ import annotations

import dataclasses
from datetime import date
from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.duty import Requirement
from halfbore.domain.machine import Dust
from halfbore.domain.position import DamageMode, Failure
from halfbore.selection.checks import delivery, root_cause
from halfbore.units import Span
from tests.selection.units import BASE, SITE, duty, need, table, told

WEEK = 168.0


@pytest.mark.parametrize(
    ("weeks", "verdict", "reason"),
    [
        (1.0, Verdict.HOLDS, "1 of 4 weeks"),
        # The day that helps is the day that helps: no reserve is asked.
        (4.0, Verdict.HOLDS, "4 of 4 weeks"),
        (5.5, Verdict.FAILS, "5.5 of 4 weeks, 1.5 too late"),
    ],
)
def test_delivery(weeks: float, verdict: Verdict, reason: str) -> None:
    asked = need(required=Requirement(latest_delivery=4 * WEEK))
    found = told(delivery.CHECK, asked, table(lead_time=weeks * WEEK))
    assert (found.verdict, found.reason) == (verdict, reason)
    assert found.used is not None
    assert found.used.high == pytest.approx(weeks / 4)


def test_a_range_cannot_make_a_delivery_tight() -> None:
    assert told(delivery.CHECK, need(), table()).verdict is Verdict.NOT_APPLICABLE
    asked = need(required=Requirement(latest_delivery=4 * WEEK))
    blank = told(delivery.CHECK, asked, table(lead_time=np.nan))
    assert (blank.verdict, blank.datum) == (Verdict.NO_DATA, "lead time, from the supplier")
    at_once = need(required=Requirement(latest_delivery=0.0))
    assert told(delivery.CHECK, at_once, table()).verdict is Verdict.FAILS
    late = delivery.CHECK.relax(asked, table(lead_time=900.0))
    assert [(w.path, w.value) for w in late] == [("required.latest_delivery", 900.0)]


def died(why: DamageMode, **more: Any) -> Any:
    return need(history=(Failure(date(2024, 5, 1), why),), **more)


@pytest.mark.parametrize(
    ("why", "columns", "verdict"),
    [
        (DamageMode.ABRASIVE_WEAR, {}, Verdict.HOLDS),
        (DamageMode.FRETTING, {}, Verdict.HOLDS),
        (DamageMode.OVERLOAD, {"static_rating": 16e3}, Verdict.TIGHT),
        (DamageMode.OVERLOAD, {"static_rating": 15e3}, Verdict.TIGHT),
        (DamageMode.OVERLOAD, {"static_rating": 14e3}, Verdict.TIGHT),
        (DamageMode.CURRENT, {}, Verdict.TIGHT),
        (DamageMode.FALSE_BRINELLING, {}, Verdict.TIGHT),
        (DamageMode.OVERLOAD, {"static_rating": np.nan}, Verdict.NO_DATA),
        (DamageMode.NOT_KNOWN, {}, Verdict.NOT_APPLICABLE),
    ],
)
def test_what_ended_the_last_bearing(why: DamageMode, columns: dict[str, Any], verdict: Verdict) -> None:
    assert told(root_cause.CHECK, died(why), table(**columns)).verdict is verdict


def test_a_mode_that_no_unit_cures_is_said_to_be_not_cured() -> None:
    found = told(root_cause.CHECK, died(DamageMode.CURRENT), table())
    assert found.reason == "not cured by this conversion: electrical erosion"
    assert found.used is None


def test_a_cure_past_its_limit_cures_nothing() -> None:
    # 1.5·10 kN/15.5 kN = 0.97 stands against it, at 14 kN no more.
    stands = told(root_cause.CHECK, died(DamageMode.OVERLOAD), table(static_rating=15.5e3))
    assert stands.reason.endswith("against that stands: static safety")
    past = told(root_cause.CHECK, died(DamageMode.OVERLOAD), table(static_rating=14e3))
    assert (
        past.reason == "not cured by this conversion: overload; past its limit, at the bad end: static safety"
    )


def test_a_base_out_of_line_is_mended_before_a_bearing_is_bought() -> None:
    low = dataclasses.replace(BASE, height_error=Span(-0.7, -0.6, -0.5))
    found = told(root_cause.CHECK, died(DamageMode.SURFACE_FATIGUE, base=low), table())
    assert found.verdict is Verdict.TIGHT
    assert found.reason == (
        "not cured by this conversion: surface initiated fatigue on a base −0.6 mm out of line; mend the height first"
    )
    # A surveyed height says nothing about dirt.
    assert told(root_cause.CHECK, died(DamageMode.ABRASIVE_WEAR, base=low), table()).verdict is Verdict.HOLDS
    straight = dataclasses.replace(BASE, height_error=Span(-0.1, 0.0, 0.1))
    level = told(root_cause.CHECK, died(DamageMode.SURFACE_FATIGUE, base=straight), table())
    assert level.verdict is Verdict.HOLDS


def test_the_latest_failure_counts_and_no_precaution() -> None:
    history = (
        Failure(date(2020, 1, 1), DamageMode.ABRASIVE_WEAR),
        Failure(date(2023, 1, 1), DamageMode.CURRENT),
        Failure(date(2025, 1, 1), DamageMode.FRETTING, failed=False),
    )
    assert "electrical erosion" in told(root_cause.CHECK, need(history=history), table()).reason
    spared = (Failure(date(2025, 1, 1), DamageMode.FRETTING, failed=False),)
    assert told(root_cause.CHECK, need(history=spared), table()).verdict is Verdict.NOT_APPLICABLE


def test_an_unknown_mode_is_asked_for() -> None:
    found = told(root_cause.CHECK, died(DamageMode.NOT_KNOWN), table())
    assert found.datum == "the damage mode, from the site"


def test_a_cure_outside_its_method_stays_outside() -> None:
    heavy = duty(equivalent_low=150e3, equivalent_high=150e3, peak_high=150e3, radial_low=150e3)
    found = told(root_cause.CHECK, died(DamageMode.SUBSURFACE_FATIGUE, load=heavy), table())
    assert found.verdict is Verdict.OUTSIDE
    assert found.datum == "what rating life asks for"


def test_wear_that_no_seal_keeps_out_fails_by_the_seal_and_is_not_cured() -> None:
    dusty = dataclasses.replace(SITE, dust=Dust.HEAVY)
    bare = table(seal_offered=[False, True, True])
    found = told(root_cause.CHECK, died(DamageMode.ABRASIVE_WEAR, site=dusty), bare)
    assert found.verdict is Verdict.TIGHT
    assert found.reason.startswith("not cured by this conversion: abrasive wear")


def test_skidding_without_any_load_has_no_cure_that_applies() -> None:
    idle = duty(speed=0.0)
    assert told(root_cause.CHECK, died(DamageMode.SUBSURFACE_FATIGUE, load=idle), table()).verdict is (
        Verdict.NOT_APPLICABLE
    )
