"""Rating life and modified life over a duty, ISO 281:2007, worked beside it with plain numbers.

Default unit: C_r 206 733 N, C_u 32 996 N, D_pw 140 mm; default load 10 kN at 600 r/min.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.duty import Requirement
from halfbore.domain.machine import Contamination
from halfbore.selection.checks.life import MODIFIED, RATING, modified_ends
from halfbore.selection.missing import HOUSING_TEMPERATURE, SHAFT_TEMPERATURE
from halfbore.units import Span
from tests.selection.units import OIL, SITE, duty, need, table, told

C, C_U = 206_732.74665586, 32_995.54323355
HOURS = (C / 10e3) ** (10 / 3) * 1e6 / (60 * 600)
"""(20.67)^(10/3) million turns at 600 r/min: 673 600 h."""
OIL_MISSING = "lubricant with its viscosity, from the site"
WARM: dict[str, Any] = {
    "shaft_temperature_low": 40.0,
    "shaft_temperature_high": 40.0,
    "housing_temperature_low": 40.0,
    "housing_temperature_high": 40.0,
}
"""At 40 °C the viscosity is that of the grade."""


def loaded(low: float, high: float | None = None, **more: Any) -> Any:
    most = low if high is None else high
    given: dict[str, Any] = {
        "radial_low": low,
        "equivalent_low": low,
        "equivalent_high": most,
        "peak_high": most,
    }
    return duty(**(given | more))


def asked(life: float, reliability: float = 0.90) -> Requirement:
    return Requirement(life=life, reliability=reliability)


@pytest.mark.parametrize(
    ("part", "verdict"),
    [(0.89, Verdict.HOLDS), (0.95, Verdict.TIGHT), (1.0, Verdict.TIGHT), (1.01, Verdict.FAILS)],
)
def test_rating_life_by_hand(part: float, verdict: Verdict) -> None:
    found = told(RATING, need(required=asked(part * HOURS)), table())
    assert found.verdict is verdict
    assert found.value is not None
    assert found.value.low == pytest.approx(HOURS)
    assert found.used is not None
    assert found.used.high == pytest.approx(part)


def test_a_range_of_the_load_is_a_range_of_the_life() -> None:
    # Half the load lasts 2^(10/3) = 10.08 times as long.
    found = told(RATING, need(loaded(10e3, 20e3), required=asked(2 * HOURS / 10.08)), table())
    assert found.verdict is Verdict.TIGHT
    assert found.value is not None
    assert found.value.high / found.value.low == pytest.approx(2 ** (10 / 3))


def test_a_duty_of_two_conditions_by_the_damage_rule() -> None:
    # A quarter of the time 20 kN at 300 r/min, the rest 10 kN at 600 r/min, in running hours.
    d = loaded(np.array([20e3, 10e3]), share=[0.25, 0.75], speed=[300.0, 600.0])
    turns = np.array([0.25 * 300, 0.75 * 600])
    lives = np.array([(C / 20e3) ** (10 / 3), (C / 10e3) ** (10 / 3)])
    hours = turns.sum() / (turns / lives).sum() * 1e6 / (60 * turns.sum())
    found = told(RATING, need(d), table())
    assert found.value is not None
    assert found.value.low == pytest.approx(hours)


@pytest.mark.parametrize(
    ("reliability", "factor"),
    # ISO 281:2007, Table 12: 0.64 was read, 0.25 is from memory.
    [(0.95, 0.64), (0.99, 0.25)],
)
def test_reliability_shortens_the_life(reliability: float, factor: float) -> None:
    found = told(RATING, need(required=asked(1000.0, reliability)), table())
    assert found.value is not None
    assert found.value.low == pytest.approx(factor * HOURS)


@pytest.mark.parametrize("check", [RATING, MODIFIED])
@pytest.mark.parametrize("reliability", [0.89, 0.9999])
def test_reliability_outside_the_table(check: Any, reliability: float) -> None:
    found = told(check, need(required=asked(1000.0, reliability)), table())
    assert found.verdict is Verdict.OUTSIDE
    assert "0.90 to 0.9995" in found.reason


@pytest.mark.parametrize("check", [RATING, MODIFIED])
def test_more_than_half_the_rating_is_outside_the_method(check: Any) -> None:
    half = 0.5 * C
    assert told(check, need(loaded(half), required=asked(1.0)), table()).verdict is Verdict.HOLDS
    past = told(check, need(loaded(1.01 * half), required=asked(1.0)), table())
    assert past.verdict is Verdict.OUTSIDE
    assert "of C_r is over 0.5" in past.reason
    # Only the heavy end is past it: no number either, unless the light end fails already.
    some = told(check, need(loaded(0.9 * half, 1.01 * half), required=asked(1.0)), table())
    assert some.verdict is Verdict.OUTSIDE
    short = told(check, need(loaded(0.9 * half, 1.01 * half), required=asked(1e6)), table())
    assert short.verdict is Verdict.FAILS


@pytest.mark.parametrize("check", [RATING, MODIFIED])
def test_without_load_life_is_unlimited(check: Any) -> None:
    found = told(check, need(loaded(0.0)), table())
    assert found.verdict is Verdict.NOT_APPLICABLE
    assert "life is unlimited" in found.reason
    assert told(check, need(duty(speed=0.0)), table()).verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize("check", [RATING, MODIFIED])
def test_a_condition_without_load_does_no_damage(check: Any) -> None:
    # Half the time nothing presses: the same damage in twice the hours. Severe dirt leaves no e_C to divide by.
    dirty = dataclasses.replace(SITE, contamination=Contamination.VERY_SEVERE)
    d = loaded(np.array([10e3, 0.0]), share=[0.5, 0.5], speed=600.0)
    both = told(check, need(d, site=dirty), table())
    one = told(check, need(site=dirty), table())
    assert both.value is not None
    assert one.value is not None
    assert both.value.low == pytest.approx(2 * one.value.low)


def test_a_load_that_may_vanish_has_no_upper_bound() -> None:
    found = told(RATING, need(loaded(0.0, 10e3)), table())
    assert found.verdict is Verdict.HOLDS
    assert found.reason == "lasts 670 thousand hours or more, 60 wanted"


def by_hand(load: float, viscosity: float) -> tuple[float, float]:
    """κ and L_10mh of grease, normal cleanliness, at 600 r/min; ISO 281:2007, 9.3 and Annex A, from memory."""
    kappa = viscosity / (45_000 * 600**-0.83 * 140**-0.5)
    e_C = min(0.0432 * min(kappa, 4) ** 0.68 * 140**0.55, 1) * (1 - 1.141 / 140 ** (1 / 3))
    if kappa < 0.4:
        b = 1.5859 - 1.3993 / kappa**0.054381
    elif kappa < 1:
        b = 1.5859 - 1.2348 / kappa**0.19087
    else:
        b = 1.5859 - 1.2348 / min(kappa, 4) ** 0.071739
    a_iso = 0.1 * (1 - b * (e_C * C_U / load) ** 0.4) ** -9.185
    return kappa, a_iso * (C / load) ** (10 / 3) * 1e6 / (60 * 600)


@pytest.mark.parametrize(("grade", "load"), [(10.0, 60e3), (15.0, 60e3), (32.0, 60e3), (220.0, 90e3)])
def test_modified_life_by_hand(grade: float, load: float) -> None:
    kappa, hours = by_hand(load, grade)
    oil = dataclasses.replace(OIL, iso_vg=grade)
    found = told(MODIFIED, need(loaded(load, **WARM), lubricant=oil), table())
    assert found.value is not None
    assert found.value.low == pytest.approx(hours)
    assert float(dict(found.details)["viscosity ratio κ"]) == pytest.approx(kappa, rel=0.05)


@pytest.mark.parametrize(
    ("part", "verdict"),
    [(0.89, Verdict.HOLDS), (0.95, Verdict.TIGHT), (1.0, Verdict.TIGHT), (1.01, Verdict.FAILS)],
)
def test_modified_life_against_what_is_wanted(part: float, verdict: Verdict) -> None:
    wanted = part * by_hand(60e3, 32.0)[1]
    oil = dataclasses.replace(OIL, iso_vg=32.0)
    found = told(MODIFIED, need(loaded(60e3, **WARM), lubricant=oil, required=asked(wanted)), table())
    assert found.verdict is verdict


@pytest.mark.parametrize(
    ("changes", "datum"),
    [
        ({"lubricant": None}, OIL_MISSING),
        ({"lubricant": dataclasses.replace(OIL, iso_vg=None)}, OIL_MISSING),
        ({"lubricant": dataclasses.replace(OIL, iso_vg=200.0)}, OIL_MISSING),  # not a grade of ISO 3448
        ({"load": duty(housing_temperature_high=np.nan)}, HOUSING_TEMPERATURE),
        (
            {"lubricant": None, "load": duty(shaft_temperature_low=np.nan)},
            f"{OIL_MISSING}; {SHAFT_TEMPERATURE}",
        ),
    ],
)
def test_without_a_viscosity_there_is_no_modified_life(changes: dict[str, Any], datum: str) -> None:
    found = told(MODIFIED, need(**changes), table())
    assert found.verdict is Verdict.NO_DATA
    assert found.datum == datum
    assert told(RATING, need(**changes), table()).verdict is Verdict.HOLDS


def test_a_viscosity_ratio_below_a_tenth_is_outside_the_method() -> None:
    # 5 mm²/s at 60 r/min: ν_1 = 45 000·60^−0.83/√140 = 127 mm²/s.
    thin = dataclasses.replace(OIL, iso_vg=None, viscosity_40=Span.of(5.0), viscosity_100=Span.of(2.5))
    found = told(MODIFIED, need(duty(speed=60.0, **WARM), lubricant=thin), table())
    assert found.verdict is Verdict.OUTSIDE
    assert "viscosity ratio 0.039 is below 0.1" in found.reason


@pytest.mark.parametrize("column", ["dynamic_rating", "fatigue_limit", "pitch_diameter"])
def test_a_rating_that_is_not_given_is_no_matter_of_the_method(column: str) -> None:
    found = told(MODIFIED, need(), table(**{column: np.nan, "static_rating": 3e5}))
    assert (found.verdict, found.datum.endswith("from the supplier")) == (Verdict.NO_DATA, True)


@pytest.mark.parametrize(
    ("contamination", "helps"),
    # e_C at κ = 0.53: 0.33 in normal cleanliness, 0.06 in severe dirt: below 0.2 no additive counts.
    [(Contamination.NORMAL_CLEANLINESS, True), (Contamination.SEVERE, False)],
)
def test_a_proven_additive_counts_only_in_clean_grease(contamination: Contamination, helps: bool) -> None:
    site = dataclasses.replace(SITE, contamination=contamination)
    thin = dataclasses.replace(OIL, iso_vg=10.0)
    proven = dataclasses.replace(thin, proven_ep=True)
    plain, helped = (
        modified_ends(need(loaded(60e3, **WARM), site=site, lubricant=oil), table()) for oil in (thin, proven)
    )
    assert plain is not None
    assert helped is not None
    assert bool(helped[0][0] > plain[0][0]) is helps


def test_what_an_additive_gives_is_capped_at_three() -> None:
    proven = dataclasses.replace(OIL, iso_vg=10.0, proven_ep=True)
    found = modified_ends(need(loaded(10e3, **WARM), lubricant=proven), table())
    assert found is not None
    assert found[0][0] == pytest.approx(3 * HOURS)


def test_a_range_of_viscosity_and_dirt_is_a_range_of_the_life() -> None:
    mixed = dataclasses.replace(
        OIL, cleanliness=(Contamination.SEVERE, Contamination.NORMAL_CLEANLINESS), iso_vg=32.0
    )
    found = told(MODIFIED, need(loaded(60e3), lubricant=mixed), table())
    assert found.value is not None
    assert found.value.low < found.value.high
    assert dict(found.details)["contamination"] == "grease, normal cleanliness to grease, severe"


def test_the_life_that_would_let_a_unit_in_is_its_own_with_a_reserve() -> None:
    wish = RATING.relax(need(required=asked(1e6)), table())
    assert [(w.path, w.value) for w in wish] == [("required.life", np.floor(0.9 * HOURS / 1000) * 1000)]
