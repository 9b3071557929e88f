"""Load direction against the support. Default unit: down 300 kN, sideways 120 kN, up 100 kN, a plain pedestal."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.position import Base, Fixing
from halfbore.domain.unit import Support
from halfbore.selection.checks.support_direction import CHECK, sector
from tests.selection.units import duty, need, table, told

DOWN, LEFT, UP, RIGHT = np.pi, 1.5 * np.pi, 0.0, 0.5 * np.pi


def loaded(peak: float, angle: float, half: float = 0.0, low: float | None = None) -> Any:
    least = peak if low is None else low
    return duty(
        radial_low=least,
        equivalent_low=least,
        equivalent_high=peak,
        peak_high=peak,
        angle=angle,
        angle_spread=half,
    )


@pytest.mark.parametrize(
    ("peak", "angle", "verdict", "limit"),
    [
        (90e3, DOWN, Verdict.HOLDS, 300e3),
        (90e3, LEFT, Verdict.HOLDS, 120e3),
        (90e3, UP, Verdict.HOLDS, 100e3),
        (95e3, UP, Verdict.TIGHT, 100e3),
        (100e3, UP, Verdict.TIGHT, 100e3),
        (100.1e3, UP, Verdict.FAILS, 100e3),
        (121e3, RIGHT, Verdict.FAILS, 120e3),
        (121e3, -RIGHT, Verdict.FAILS, 120e3),
        # Where two sectors meet, the smaller limit counts: 135° is down and sideways.
        (121e3, np.radians(135.0), Verdict.FAILS, 120e3),
        (121e3, np.radians(136.0), Verdict.HOLDS, 300e3),
    ],
)
def test_the_sector_of_the_load_decides(peak: float, angle: float, verdict: Verdict, limit: float) -> None:
    found = told(CHECK, need(loaded(peak, angle)), table())
    assert found.verdict is verdict
    assert found.used is not None
    assert found.used.high == pytest.approx(peak / limit)
    assert found.limit is not None
    assert found.limit.likely == limit


@pytest.mark.parametrize(
    ("angle", "words"),
    [
        (DOWN, "downwards"),
        (UP, "upwards, on the cap"),
        (LEFT, "sideways to the left"),
        (RIGHT, "sideways to the right"),
    ],
)
def test_the_sector_is_named_as_seen_from_the_drive_end(angle: float, words: str) -> None:
    assert sector(angle) == words
    assert words in told(CHECK, need(loaded(50e3, angle)), table()).reason


def test_a_direction_that_reaches_into_another_sector_makes_it_tight() -> None:
    # Straight down 200 kN hold; 50° to a side is past 135°, where 120 kN are allowed.
    found = told(CHECK, need(loaded(200e3, DOWN, np.radians(50.0))), table())
    assert found.verdict is Verdict.TIGHT
    assert found.used is not None
    assert (found.used.low, found.used.high) == pytest.approx((200 / 300, 200 / 120))
    assert "at the end of its range" in found.reason


def test_every_sector_inside_a_wide_range_counts() -> None:
    # From down, half a turn either way: sideways lies between the ends of the range and is the weakest.
    found = told(CHECK, need(loaded(100e3, DOWN, np.pi)), table(limit_side=50e3))
    assert found.used is not None
    assert found.used.high == pytest.approx(100 / 50)


def test_a_load_that_may_vanish_may_come_back_upwards() -> None:
    found = told(CHECK, need(loaded(150e3, DOWN, 0.2, low=0.0)), table())
    assert found.verdict is Verdict.TIGHT
    assert found.used is not None
    assert found.used.high == pytest.approx(150 / 100)


def test_a_light_end_that_holds_makes_it_tight_only() -> None:
    assert told(CHECK, need(loaded(400e3, DOWN, low=100e3)), table()).verdict is Verdict.TIGHT


def test_without_the_limit_of_the_loaded_sector_it_is_open() -> None:
    found = told(CHECK, need(loaded(50e3, UP)), table(limit_up=np.nan))
    assert found.verdict is Verdict.NO_DATA
    assert found.datum == "load limits by direction, from the supplier"
    assert told(CHECK, need(loaded(50e3, DOWN)), table(limit_up=np.nan)).verdict is Verdict.HOLDS


def test_a_support_goes_only_on_what_carries_it() -> None:
    found = told(CHECK, need(base=Base(Fixing.WALL)), table())
    assert found.verdict is Verdict.FAILS
    assert found.reason == "a plain pedestal does not go on a wall"
    assert told(CHECK, need(base=Base(Fixing.WALL)), table(support=Support.FLANGE)).verdict is Verdict.HOLDS
    assert told(CHECK, need(base=Base(Fixing.SIDE_ENTRY)), table()).verdict is Verdict.FAILS


def test_no_load_at_all_holds_on_any_support_that_stands() -> None:
    idle = duty(radial_low=0, equivalent_low=0, equivalent_high=0, peak_high=0)
    assert told(CHECK, need(idle), table(limit_down=0.0)).verdict is Verdict.HOLDS
    assert told(CHECK, need(idle, base=Base(Fixing.WALL)), table()).verdict is Verdict.FAILS


@pytest.mark.parametrize(
    ("turned", "verdict", "limit", "words"),
    [
        (0.0, Verdict.FAILS, 100e3, "upwards, on the cap"),
        (90.0, Verdict.HOLDS, 120e3, "sideways to the left of a base turned by +90°"),
        (-90.0, Verdict.HOLDS, 120e3, "sideways to the right of a base turned by -90°"),
        (180.0, Verdict.HOLDS, 300e3, "downwards of a base turned by +180°"),
    ],
)
def test_a_base_that_is_turned_turns_the_unit_with_it(
    turned: float, verdict: Verdict, limit: float, words: str
) -> None:
    found = told(CHECK, need(loaded(105e3, UP), base=Base(turned=np.radians(turned))), table())
    assert (found.verdict, found.limit and found.limit.likely) == (verdict, limit)
    assert words.replace("-9", "\u22129") in dict(found.details)["direction"]
