"""The axial chain of a locating unit, links by hand: 20, p·v, 40, 0.8·30 = 24 and 50 kN.

With no clearance in operation half the rollers, 12, share the thrust (load zone π/2 either way).
"""

from __future__ import annotations

from math import acos, pi, sqrt
from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.position import Seat
from halfbore.selection.checks import clearance
from halfbore.selection.checks.axial_chain import CHECK, FLANGE_HEAT, links
from halfbore.selection.load_zone import half_zone
from halfbore.units import Span
from tests.selection.units import duty, need, table, told

# Flange 1.4 mm to the middle of its contact, 1.4/0.6 = 2.333 mm high, on a roller of 8 mm radius: a circular segment.
H, R = 1.4 / 0.6, 8.0
AREA = R**2 * acos((R - H) / R) - (R - H) * sqrt(2 * R * H - H**2)
GAMMA = 16 / 140
SLIDING = 1.4 * pi * 600 / 30 * (1 + GAMMA) / (2 * GAMMA) / 1000
HEAT = 20.0 * 12 * AREA / SLIDING
"""p·v limit 20 MPa·m/s at 600 r/min: 18.15 mm² a roller, 0.4288 m/s, so 10.16 kN."""
CLOSED = {"clearance_max": [-0.03] * 3}
"""Greatest clearance in operation −0.03 + 0.03 = 0."""


def unit(**columns: Any) -> Any:
    return table(**({"locating": True} | CLOSED | columns))


def pushed(low: float, high: float, **more: Any) -> Any:
    return need(duty(locating=True, axial_low=low, axial_high=high, radial_low=200e3), **more)


def pushed_warm(low: float, high: float) -> Any:
    warm = duty(
        locating=True,
        axial_low=1e3,
        axial_high=1e3,
        radial_low=20e3,
        shaft_temperature_low=[low],
        shaft_temperature_high=[high],
    )
    return need(warm)


def test_the_flange_by_hand() -> None:
    assert pytest.approx(10.16e3, rel=1e-3) == HEAT
    assert links(pushed(1e3, 2e3), unit())[0][:, 0] == pytest.approx([20e3, HEAT, 40e3, 24e3, 50e3])


@pytest.mark.parametrize(
    ("low", "high", "verdict"),
    [
        (1e3, 2e3, Verdict.HOLDS),
        (0.9 * HEAT, 0.9 * HEAT, Verdict.HOLDS),
        (9e3, 9.5e3, Verdict.TIGHT),
        (HEAT, HEAT, Verdict.TIGHT),
        (5e3, 11e3, Verdict.TIGHT),
        (10.5e3, 11e3, Verdict.FAILS),
        (48e3, 48e3, Verdict.FAILS),
    ],
)
def test_the_weakest_link_bears_the_thrust(low: float, high: float, verdict: Verdict) -> None:
    found = told(CHECK, pushed(low, high), unit())
    assert found.verdict is verdict
    assert found.used is not None
    assert (found.used.low, found.used.high) == pytest.approx((low / HEAT, high / HEAT))
    assert "weakest known link flange heat bears 10 kN" in found.reason


@pytest.mark.parametrize(
    ("column", "value", "name"),
    [
        ("axial_capacity", 1e3, "supplier's axial load"),
        ("flange_strength", 1e3, "flange strength"),
        ("clamp_grip", 1e3, "grip on the shaft"),
        ("housing_axial", 1e3, "housing and base"),
    ],
)
def test_every_link_can_be_the_weakest(column: str, value: float, name: str) -> None:
    found = told(CHECK, pushed(5e3, 5e3), unit(**{column: value}))
    assert found.verdict is Verdict.FAILS
    assert f"weakest known link {name}" in found.reason


def test_joints_that_meet_leave_no_grip() -> None:
    # −0.40 mm closes the joint of 0.40 mm by 0.63 mm.
    thin = Seat(Span.of(99.60), Span.of(0.01), 100.0)
    found = told(CHECK, pushed(100.0, 100.0, seat=thin), unit())
    assert found.verdict is Verdict.FAILS
    assert "weakest known link grip on the shaft bears 0 kN" in found.reason


@pytest.mark.parametrize(
    ("columns", "thrust", "verdict"),
    [
        # A p·v limit has no published value: without the supplier's the method ends.
        ({"flange_pv_limit": np.nan}, 2e3, Verdict.OUTSIDE),
        ({"flange_height": 0.0}, 2e3, Verdict.OUTSIDE),
        ({"flange_strength": np.nan}, 2e3, Verdict.NO_DATA),
        ({"flange_pv_limit": np.nan, "axial_capacity": 1e3}, 2e3, Verdict.FAILS),
    ],
)
def test_a_link_that_is_not_given(columns: dict[str, Any], thrust: float, verdict: Verdict) -> None:
    found = told(CHECK, pushed(thrust, thrust), unit(**columns))
    assert found.verdict is verdict
    assert "not given" in found.reason
    assert bool(found.datum) is (verdict is not Verdict.FAILS)


def test_nothing_to_hold_and_nowhere_to_hold_it() -> None:
    idle = pushed(0.0, 0.0)
    assert told(CHECK, idle, unit()).verdict is Verdict.NOT_APPLICABLE
    assert told(CHECK, idle, table()).verdict is Verdict.FAILS
    assert told(CHECK, need(), table()).verdict is Verdict.NOT_APPLICABLE
    assert told(CHECK, need(duty(axial_known=False)), table()).verdict is Verdict.NO_DATA


def test_a_non_locating_unit_holds_no_thrust() -> None:
    found = told(CHECK, pushed(1.0, 1.0), table())
    assert found.verdict is Verdict.FAILS
    assert found.reason == "this unit cannot hold the shaft axially and the position locates"


def test_each_condition_has_its_own_share_of_the_thrust() -> None:
    # At 60 r/min the full thrust, at 600 r/min a tenth of it: the flange bears ten times as much.
    both = need(
        duty(locating=True, share=[0.5, 0.5], speed=[60, 600], axial_low=[1e3, 100], axial_high=[1e3, 100])
    )
    assert links(both, unit())[0][FLANGE_HEAT, 0] == pytest.approx(10 * HEAT)
    still = need(
        duty(locating=True, share=[0.5, 0.5], speed=[60, 600], axial_low=[1e3, 0], axial_high=[1e3, 0])
    )
    assert links(still, unit())[0][FLANGE_HEAT, 0] == pytest.approx(10 * HEAT)


def test_clearance_leaves_fewer_rollers_to_share_the_thrust() -> None:
    open_, closed = table(locating=True), unit()
    unknown = table(locating=True, clearance_max=[np.nan] * 3)
    asked = pushed(1e3, 1e3)
    wide, narrow, least = (float(links(asked, u)[0][FLANGE_HEAT, 0]) for u in (closed, open_, unknown))
    assert narrow < least < wide


def test_the_flange_bears_what_the_loosest_and_the_tightest_bearing_leave() -> None:
    # Group 1 of 0.050 mm new on a seat 0 to 0.054 mm under size; heat takes nothing at the coolest, 15 K at the hottest.
    asked = need(
        duty(
            locating=True,
            axial_low=1e3,
            axial_high=1e3,
            radial_low=20e3,
            housing_temperature_low=[45.0],
            housing_temperature_high=[60.0],
        )
    )
    for greatest in (0.090, np.nan):
        both = table(locating=True, clearance_min=[0.050] * 3, clearance_max=[greatest] * 3)
        tight, _ = clearance.band(asked, both)
        loose = clearance.greatest_known(asked, both)
        least, best = (float(chain[FLANGE_HEAT, 0]) for chain in links(asked, both))
        for heat, there in ((least, loose), (best, tight)):
            rollers = 24 * half_zone(both, np.array([20e3]), there)[0, 0] / pi
            assert heat == pytest.approx(20.0 * rollers * AREA / SLIDING)
        assert least < best
        found = told(CHECK, asked, both)
        assert found.limit is not None
        assert (found.limit.low, found.limit.high) == pytest.approx((least, best))
        assert found.used is not None
        assert (found.used.low, found.used.high) == pytest.approx((1e3 / best, 1e3 / least))


def test_no_temperature_within_a_range_leaves_the_flange_less_than_the_range_does() -> None:
    """A narrower range may never turn a unit away that the whole range lets in."""
    unknown = table(locating=True, clearance_min=[0.150] * 3, clearance_max=[np.nan] * 3)

    def bears(low: float, high: float) -> tuple[float, float]:
        asked = pushed_warm(low, high)
        least, best = (float(chain[FLANGE_HEAT, 0]) for chain in links(asked, unknown))
        return least, best

    least, best = bears(60.0, 110.0)
    for held in (60.0, 75.0, 90.0, 110.0):
        low, high = bears(held, held)
        assert least <= low * (1 + 1e-12)
        assert high <= best * (1 + 1e-12)


@pytest.mark.parametrize(
    ("radial", "verdict"),
    # 3·2 kN·(16 − 2·1.4)/20 = 3.96 kN of radial load keep both ends of the rollers on the raceways.
    [(4.0e3, Verdict.HOLDS), (3.9e3, Verdict.TIGHT), (0.0, Verdict.TIGHT)],
)
def test_a_lightly_loaded_bearing_should_not_locate(radial: float, verdict: Verdict) -> None:
    asked = need(duty(locating=True, axial_low=2e3, axial_high=2e3, radial_low=radial))
    found = told(CHECK, asked, unit(flange_pv_limit=200.0))
    assert found.verdict is verdict
    assert ("or roller ends lift off" in found.reason) is (verdict is Verdict.TIGHT)
