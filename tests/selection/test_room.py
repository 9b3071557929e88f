"""Room along, beside and above. Default unit: 180 long, 400 wide, 130 high; room 150 left, 200 right, 600 beside."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.position import EntrySide, Room
from halfbore.domain.unit import Hand, Support
from halfbore.selection.checks.room import CHECK
from tests.selection.units import ROOM, need, table, told


def room(**changes: Any) -> Any:
    return dataclasses.replace(ROOM, **changes)


@pytest.mark.parametrize(
    ("changes", "columns", "verdict", "used", "reason"),
    [
        ({}, {}, Verdict.HOLDS, 90 / 150, "90 of 150 mm from the middle towards the drive end (hub)"),
        (
            {"plain_right": 100.0},
            {},
            Verdict.HOLDS,
            0.9,
            "90 of 100 mm from the middle towards the free end (step)",
        ),
        (
            {"plain_right": 98.0},
            {},
            Verdict.TIGHT,
            90 / 98,
            "90 of 98 mm from the middle towards the free end (step)",
        ),
        (
            {"plain_right": 90.0},
            {},
            Verdict.TIGHT,
            1.0,
            "90 of 90 mm from the middle towards the free end (step)",
        ),
        (
            {"plain_right": 80.0, "right_is": ""},
            {},
            Verdict.FAILS,
            90 / 80,
            "90 of 80 mm from the middle towards the free end, 10 mm too much; "
            "10 mm nearer the drive end it has room on both sides, 20 mm with a tenth to spare",
        ),
        ({"headroom": 120.0}, {}, Verdict.FAILS, 130 / 120, "130 of 120 mm above the shaft, 10 mm too much"),
        # A plain pedestal takes half its width beside the shaft, a side-entry one all of it.
        (
            {"beside": 195.0},
            {},
            Verdict.FAILS,
            200 / 195,
            "200 of 195 mm beside the shaft, 5 mm too much",
        ),
        (
            {"beside": 380.0},
            {"support": Support.SIDE_ENTRY, "hand": Hand.RIGHT},
            Verdict.FAILS,
            400 / 380,
            "400 of 380 mm beside the shaft, 20 mm too much",
        ),
    ],
)
def test_the_narrowest_place_decides(
    changes: dict[str, Any], columns: dict[str, Any], verdict: Verdict, used: float, reason: str
) -> None:
    found = told(CHECK, need(room=room(**changes)), table(**columns))
    assert (found.verdict, found.reason) == (verdict, reason)
    assert found.used is not None
    assert found.used.high == pytest.approx(used)
    assert found.value is not None
    assert found.limit is not None
    assert found.value.likely / found.limit.likely == pytest.approx(used)


@pytest.mark.parametrize(
    ("changes", "columns", "datum"),
    [
        ({"plain_left": None}, {}, "plain shaft towards the drive end, from the site"),
        ({}, {"length": np.nan}, "length, from the supplier"),
        (
            {"beside": None},
            {"support": Support.SIDE_ENTRY},
            "free width beside the shaft, from the site",
        ),
        (
            {"entry_side": None},
            {"support": Support.SIDE_ENTRY},
            "side from which a support can be brought in, from the site",
        ),
    ],
)
def test_room_that_nobody_measured_is_asked_for(
    changes: dict[str, Any], columns: dict[str, Any], datum: str
) -> None:
    found = told(CHECK, need(room=room(**changes)), table(**columns))
    assert found.verdict is Verdict.NO_DATA
    assert found.datum == datum
    assert found.reason == f"{datum.split(', from')[0]} not {'given' if 'supplier' in datum else 'surveyed'}"


def test_a_place_without_any_survey_of_its_room_names_all_that_is_missing() -> None:
    found = told(CHECK, need(room=Room()), table())
    assert found.reason == (
        "plain shaft towards the drive end and plain shaft towards the free end not surveyed"
    )


def test_what_is_known_to_be_too_short_fails_beside_what_is_not_known() -> None:
    found = told(CHECK, need(room=room(plain_left=None, plain_right=50.0)), table())
    assert found.verdict is Verdict.FAILS
    assert "40 mm too much" in found.reason


def test_a_plain_pedestal_needs_neither_the_side_nor_headroom_surveyed() -> None:
    asked = need(room=room(beside=None, headroom=None, entry_side=None))
    found = told(CHECK, asked, table())
    assert found.verdict is Verdict.HOLDS
    assert dict(found.details)["headroom"] == "not surveyed"


@pytest.mark.parametrize(
    ("side", "hand", "verdict"),
    [
        (EntrySide.RIGHT, Hand.RIGHT, Verdict.HOLDS),
        (EntrySide.RIGHT, Hand.LEFT, Verdict.FAILS),
        (EntrySide.LEFT, Hand.RIGHT, Verdict.FAILS),
        (EntrySide.LEFT, Hand.NONE, Verdict.HOLDS),
        (EntrySide.BOTH, Hand.LEFT, Verdict.HOLDS),
        (EntrySide.NEITHER, Hand.LEFT, Verdict.FAILS),
        (EntrySide.NEITHER, Hand.NONE, Verdict.FAILS),
    ],
)
def test_a_side_entry_pedestal_comes_in_by_its_hand(side: EntrySide, hand: Hand, verdict: Verdict) -> None:
    asked = need(room=room(entry_side=side))
    assert told(CHECK, asked, table(support=Support.SIDE_ENTRY, hand=hand)).verdict is verdict
    assert told(CHECK, asked, table()).verdict is Verdict.HOLDS


def test_the_room_that_would_let_a_unit_in_leaves_a_reserve() -> None:
    asked = need(room=room(plain_right=80.0))
    wishes = CHECK.relax(asked, table())
    # 90 mm over 0.9, rounded up to the millimetre.
    assert [(w.path, w.value) for w in wishes] == [("positions[0].room.plain_right", 100.0)]
    closed = need(room=room(entry_side=EntrySide.LEFT, plain_right=80.0))
    assert CHECK.relax(closed, table(support=Support.SIDE_ENTRY, hand=Hand.RIGHT)) == ()
