"""Load direction against the outer ring joint. Default unit: joint in the level plane, supplier allows 30°."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.position import Base
from halfbore.mechanics.ring_joint import half_load_zone
from halfbore.mechanics.stiffness import roller_stiffness
from halfbore.selection.checks.joint import CHECK
from tests.selection.units import duty, need, table, told

ZONE = float(half_load_zone(10e3, 0.0348, 24.0, roller_stiffness(20.0)))
"""Half the load zone at 10 kN and 34.8 µm, the least clearance in operation: 48°."""


def joint(degrees: float, **columns: Any) -> Any:
    return table(joint_angle=np.radians(degrees), **columns)


@pytest.mark.parametrize(
    ("angle", "verdict", "used"),
    [
        (90.0, Verdict.HOLDS, np.degrees(ZONE) / 90),
        (125.0, Verdict.HOLDS, np.degrees(ZONE) / 55),
        (128.0, Verdict.TIGHT, np.degrees(ZONE) / 52),
        # The zone reaches the joint: never better than tight, and only by what the supplier allows.
        (140.0, Verdict.TIGHT, 0.901),
        (148.0, Verdict.TIGHT, 30 / 32),
        (150.0, Verdict.TIGHT, 1.0),
        (151.0, Verdict.FAILS, 30 / 29),
        # Either of the two joints, half a turn apart.
        (-29.0, Verdict.FAILS, 30 / 29),
    ],
)
def test_a_load_straight_down(angle: float, verdict: Verdict, used: float) -> None:
    found = told(CHECK, need(), joint(angle))
    assert found.verdict is verdict
    assert found.used is not None
    assert found.used.high == pytest.approx(used)


def test_without_the_supplier_s_angle_only_a_clear_joint_holds() -> None:
    silent: dict[str, Any] = {"joint_clear": np.nan}
    assert told(CHECK, need(), joint(125.0, **silent)).verdict is Verdict.HOLDS
    open_ = told(CHECK, need(), joint(140.0, **silent))
    assert open_.verdict is Verdict.NO_DATA
    assert open_.datum == "least angle between load and joint, from the supplier"
    assert "turn the base" in dict(open_.details)["choices"]
    assert told(CHECK, need(), joint(np.nan)).verdict is Verdict.NO_DATA


def test_a_level_pull_goes_straight_at_a_level_joint() -> None:
    level = need(duty(angle=1.5 * np.pi))
    found = told(CHECK, level, table())
    assert found.verdict is Verdict.FAILS
    assert found.reason.startswith("load 270° from up, sideways to the left; joint 0° off it")
    assert dict(found.details)["peak load"] == "the most loaded roller is on the joint"
    assert told(CHECK, level, table(joint_clear=np.nan)).verdict is Verdict.NO_DATA
    anywhere = told(CHECK, level, table(joint_clear=0.0))
    assert anywhere.verdict is Verdict.TIGHT


@pytest.mark.parametrize(
    ("spread", "verdict", "used"),
    [
        # 90° away at the likely direction; 30° either way leave 60°, 65° leave 25° of 30°.
        (30.0, Verdict.HOLDS, np.degrees(ZONE) / 60),
        (65.0, Verdict.TIGHT, 30 / 25),
    ],
)
def test_the_range_of_the_direction_counts(spread: float, verdict: Verdict, used: float) -> None:
    found = told(CHECK, need(duty(angle_spread=np.radians(spread))), table())
    assert found.verdict is verdict
    assert found.used is not None
    assert found.used.high == pytest.approx(used)


def test_a_load_that_may_vanish_may_point_at_the_joint() -> None:
    d = duty(radial_low=0.0, equivalent_low=0.0, angle_spread=0.1)
    found = told(CHECK, need(d), table())
    assert (found.verdict, found.used) == (Verdict.TIGHT, None)


def test_each_condition_is_held_against_its_own_load_zone() -> None:
    # 10 kN 90° off the joint, 100 N (a narrow zone) 45° off it: each is clear by itself.
    d = duty(
        share=[0.5, 0.5],
        radial_low=[10e3, 100],
        equivalent_low=[10e3, 100],
        equivalent_high=[10e3, 100],
        peak_high=[10e3, 100],
        angle=[np.pi, 0.75 * np.pi],
    )
    light = float(half_load_zone(100.0, 0.0348, 24.0, roller_stiffness(20.0)))
    found = told(CHECK, need(d), table())
    assert found.verdict is Verdict.HOLDS
    assert found.used is not None
    assert found.used.high == pytest.approx(max(ZONE / (np.pi / 2), light / (np.pi / 4)))


def test_an_unknown_clearance_counts_as_none() -> None:
    # Half the zone is then 90°, which reaches any joint.
    found = told(CHECK, need(duty(shaft_temperature_high=np.nan)), table())
    assert found.verdict is Verdict.TIGHT


def test_without_load_there_is_no_load_zone() -> None:
    idle = duty(radial_low=0, equivalent_low=0, equivalent_high=0, peak_high=0)
    assert told(CHECK, need(idle), table()).verdict is Verdict.NOT_APPLICABLE
    assert told(CHECK, need(duty(speed=0.0)), table()).verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("turned", "verdict"), [(0.0, Verdict.HOLDS), (65.0, Verdict.FAILS), (90.0, Verdict.FAILS)]
)
def test_a_base_that_is_turned_turns_the_joint_with_it(turned: float, verdict: Verdict) -> None:
    """The load points straight down, the joint lies level in the unit: 90° apart, less what the base is turned by."""
    found = told(CHECK, need(base=Base(turned=np.radians(turned))), joint(90.0))
    assert found.verdict is verdict
    assert found.reason.startswith("load 180° from up")
    assert (f"of a base turned by +{turned:.0f}°" in found.reason) is bool(turned)
