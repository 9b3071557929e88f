"""Seals per side. Default unit, packing / labyrinth / closed end: 5, 25, 50 m/s; 150, 120, 110 °C; 60, 140, 40 EUR."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.machine import Dust, Segment, Shaft, Water
from halfbore.domain.position import SealSide
from halfbore.domain.unit import SealKind
from halfbore.selection.checks.seals import CHECK, NONE, build
from tests.selection.units import SITE, duty, need, table, told

PACKING, LABYRINTH, CLOSED = (int(kind) for kind in SealKind)
ENDS = SealSide(shaft_ends=True)
ENDING = Shaft((Segment(560.0, 100.0),))
"""A shaft that ends 60 mm past the position at 500 mm."""


def site(**changes: Any) -> Any:
    return dataclasses.replace(SITE, **changes)


def rubbing(speed: float) -> float:
    """Surface speed of 100 mm [m/s]: π·100·n/60000."""
    return np.pi * 100 * speed / 60_000


@pytest.mark.parametrize(
    ("speed", "kind", "used", "verdict"),
    [
        # Packing holds up to 0.9·5 m/s = 859 r/min; above, the dearer labyrinth is taken.
        (600.0, PACKING, rubbing(600) / 5, Verdict.HOLDS),
        (850.0, PACKING, rubbing(850) / 5, Verdict.HOLDS),
        (870.0, LABYRINTH, 60 / 120, Verdict.HOLDS),
        (4500.0, LABYRINTH, rubbing(4500) / 25, Verdict.TIGHT),
        (4774.0, LABYRINTH, rubbing(4774) / 25, Verdict.TIGHT),
        (4776.0, LABYRINTH, rubbing(4776) / 25, Verdict.FAILS),
    ],
)
def test_the_cheapest_seal_that_holds_else_the_nearest(
    speed: float, kind: int, used: float, verdict: Verdict
) -> None:
    asked = need(duty(speed=speed))
    found = told(CHECK, asked, table())
    assert found.verdict is verdict
    assert found.used is not None
    assert found.used.high == pytest.approx(used)
    assert [int(k[0]) for k in build(asked, table())] == [kind, kind]


def test_exactly_at_its_limit_a_seal_is_tight() -> None:
    # 5 m/s on 100 mm: 60 000·5/(π·100) r/min; only a packing is offered.
    asked = need(duty(speed=5 * 60_000 / (np.pi * 100)))
    found = told(CHECK, asked, table(seal_offered=[True, False, False]))
    assert found.verdict is Verdict.TIGHT
    assert "packing at 5 of 5 m/s" in found.reason


def test_each_side_runs_on_its_own_diameter() -> None:
    # Left 100 mm by the shaft, right 200 mm: 6.3 m/s is too fast for packing there.
    asked = need(seal_right=SealSide(diameter=200.0))
    assert [int(k[0]) for k in build(asked, table())] == [PACKING, LABYRINTH]
    assert told(CHECK, asked, table()).reason.startswith(
        "drive end side packing at 3.1 of 5 m/s; free end side labyrinth"
    )


def test_a_shaft_that_stands_out_takes_no_closed_end() -> None:
    # The position is at 500 mm; a unit 160 mm long takes in 80 mm of shaft past its middle.
    out = need(seal_right=ENDS, shaft=Shaft((Segment(590.0, 100.0),)))
    found = told(CHECK, out, table(length=160.0))
    assert found.verdict is Verdict.FAILS
    assert "the shaft stands 10 mm out of a closed end" in found.reason
    just = need(seal_right=ENDS, shaft=Shaft((Segment(580.0, 100.0),)))
    assert told(CHECK, just, table(length=160.0)).verdict is not Verdict.FAILS


def test_a_shaft_that_ends_takes_a_closed_end() -> None:
    asked = need(seal_right=ENDS, shaft=ENDING)
    assert [int(k[0]) for k in build(asked, table())] == [PACKING, CLOSED]
    none = table(seal_offered=[True, True, False])
    found = told(CHECK, asked, none)
    assert found.verdict is Verdict.FAILS
    assert "no closed end offered" in found.reason
    assert int(build(asked, none)[1][0]) == NONE


@pytest.mark.parametrize(
    ("changes", "kind"),
    [
        ({"dust": Dust.HEAVY}, PACKING),
        ({"water": Water.JET}, PACKING),
        ({"pressure_across_seal": True}, PACKING),
        ({"water": Water.SPLASH}, LABYRINTH),
    ],
)
def test_a_labyrinth_keeps_out_neither_heavy_dust_nor_a_jet_nor_gas_pressure(
    changes: dict[str, Any], kind: int
) -> None:
    cheap_labyrinth = table(seal_price=[60.0, 50.0, 40.0])
    asked = need(site=site(**changes))
    assert int(build(asked, cheap_labyrinth)[0][0]) == kind
    only = told(CHECK, asked, table(seal_offered=[False, True, True]))
    assert only.verdict is (Verdict.FAILS if kind == PACKING else Verdict.HOLDS)


def test_standing_water_ends_the_method_of_a_gap_and_makes_packing_tight() -> None:
    asked = need(site=site(water=Water.STANDING))
    gap = told(CHECK, asked, table(seal_offered=[False, True, True]))
    assert gap.verdict is Verdict.OUTSIDE
    assert "a gap does not keep standing water out at rest" in gap.reason
    assert gap.datum
    packed = told(CHECK, asked, table())
    assert packed.verdict is Verdict.TIGHT
    assert "packing with purge grease" in packed.reason


def test_a_missing_closed_end_fails_in_standing_water_too() -> None:
    asked = need(site=site(water=Water.STANDING), seal_right=ENDS)
    assert told(CHECK, asked, table(seal_offered=[False, True, False])).verdict is Verdict.FAILS


def test_heat_counts_as_well_as_speed() -> None:
    # Shaft 140 °C: packing 140/150, labyrinth 140/120.
    asked = need(duty(shaft_temperature_high=140.0))
    found = told(CHECK, asked, table())
    assert found.verdict is Verdict.TIGHT
    assert found.used is not None
    assert found.used.high == pytest.approx(140 / 150)
    assert "packing at 140 of 150 °C" in found.reason


@pytest.mark.parametrize(
    ("columns", "verdict"),
    [
        ({"seal_speed": [np.nan, np.nan, 50.0]}, Verdict.NO_DATA),
        # What holds is known: the other's missing limit is not asked for.
        ({"seal_speed": [5.0, np.nan, 50.0]}, Verdict.HOLDS),
        # What is known fails, and the other one might hold.
        ({"seal_speed": [1.0, np.nan, 50.0]}, Verdict.NO_DATA),
        # Not offered is no missing datum.
        ({"seal_speed": [1.0, np.nan, 50.0], "seal_offered": [True, False, True]}, Verdict.FAILS),
        ({"seal_speed": [5.0, np.nan, 50.0], "seal_offered": [False, True, True]}, Verdict.NO_DATA),
    ],
)
def test_a_limit_that_is_not_given(columns: dict[str, Any], verdict: Verdict) -> None:
    found = told(CHECK, need(), table(**columns))
    assert found.verdict is verdict
    assert bool(found.datum) is (verdict is Verdict.NO_DATA)


def test_a_seal_without_a_price_comes_after_those_with_one() -> None:
    assert int(build(need(), table(seal_price=[np.nan, 140.0, 40.0]))[0][0]) == LABYRINTH
    assert int(build(need(), table(seal_price=[np.nan] * 3))[0][0]) == LABYRINTH  # 0.5 used, packing 0.63


def test_without_a_shaft_temperature_no_seal_can_be_told() -> None:
    found = told(CHECK, need(duty(shaft_temperature_high=np.nan)), table())
    assert (found.verdict, found.datum) == (
        Verdict.NO_DATA,
        "shaft temperature at the bearing, from the site",
    )
