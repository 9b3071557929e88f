"""The choice: holds all, nothing tight that decides, no work on drive or base, lowest cost over the horizon, lead time, code."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.duty import Requirement
from halfbore.domain.economics import Economics
from halfbore.domain.selection import Choice
from halfbore.domain.unit import SealKind, UnitTable
from halfbore.selection import cost
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.choose import choose
from halfbore.selection.need import Need
from halfbore.selection.standing import asks_for_work
from halfbore.selection.sweep import sweep
from tests.selection.units import ROOM, SEAT, demo_needs, demo_units, duty, need, table

JOBS = ("fan", "head_shaft", "line_shaft")


def chosen(units: UnitTable, asked: Need | None = None) -> str:
    found = choose(asked or need(), units)
    return found.chosen.code if found.chosen else ""


def test_the_cheapest_unit_that_holds_all_is_chosen() -> None:
    units = table(3, price=[2000.0, 1500.0, 1800.0])
    found = choose(need(), units)
    assert (found.chosen and found.chosen.code, found.next and found.next.code) == ("u001", "u002")
    assert found.next_because == "300 EUR dearer over the horizon"
    assert (found.total, found.holding, found.open) == (3, 3, 0)
    assert found.sentence.endswith("holds at A, nothing tight.")


@pytest.mark.parametrize(
    ("column", "values", "decides"),
    [
        # 30 of 31 µm; 10 kN of 11.4 kN wanted; seals at 60 of 64 °C; 2.5 of 2.6 mm of travel.
        ("seat_lower", [-0.031, -0.054], True),
        ("dynamic_rating", [1.2e6, 2e5], True),
        ("seal_temperature", [[64.0] * 3, [150.0] * 3], True),
        ("housing_travel", [2.6, 8.0], True),
        # Tight on room or speed is said, and does not decide.
        ("length", [290.0, 180.0], False),
        ("speed_limit", [620.0, 2000.0], False),
    ],
)
def test_a_cheap_unit_that_is_tight_where_that_decides_comes_after(
    column: str, values: list[Any], decides: bool
) -> None:
    units = table(2, price=[1500.0, 2000.0], **{column: values})
    swept = sweep(need(), units)
    assert (swept.verdict[:, 0] == Verdict.TIGHT).sum() == 1
    assert chosen(units) == ("u001" if decides else "u000")
    because = choose(need(), units).next_because
    assert because == (
        "500 EUR cheaper over the horizon, but tight where that decides"
        if decides
        else "500 EUR dearer over the horizon"
    )


def test_a_unit_that_opens_the_drive_comes_after_one_that_does_not_whatever_it_saves() -> None:
    """22 mm of lift are needed for a lip of 20 mm, 42 mm for one of 40 mm; 30 to 40 mm are allowed."""
    units = table(2, price=[1800.0, 2000.0], lip_depth=[40.0, 20.0])
    found = choose(need(), units)
    assert found.chosen is not None and found.next is not None
    assert (found.chosen.code, found.next.code) == ("u001", "u000")
    assert found.next_because == (
        "200 EUR cheaper over the horizon, but the drive is opened or the base milled for it"
    )


def test_work_on_the_drive_is_taken_where_nothing_else_holds_or_the_other_is_tight_where_it_decides() -> None:
    assert chosen(table(2, price=[1800.0, 2000.0], lip_depth=40.0)) == "u000"
    assert chosen(table(2, price=2000.0, lip_depth=[40.0, 20.0], seat_lower=[-0.054, -0.031])) == "u000"


def test_lift_that_is_not_known_asks_for_no_work() -> None:
    units = table(3, lip_depth=[np.nan, 20.0, 40.0])
    assert asks_for_work(sweep(need(), units)).tolist() == [False, False, True]


def test_a_tight_unit_is_chosen_when_nothing_else_holds_and_it_is_said() -> None:
    found = choose(need(), table(seat_lower=-0.031))
    assert found.chosen is not None
    assert found.chosen.tight == ("bore and seat",)
    assert found.sentence.endswith("tight on bore and seat.")
    assert found.next_because == "no other unit holds"


def test_a_unit_past_a_limit_at_the_bad_end_alone_is_said_to_hold_but_for_it() -> None:
    pushed = need(duty(locating=True, axial_low=5e3, axial_high=15e3, radial_low=200e3))
    found = choose(pushed, table(locating=True, axial_capacity=10e3, flange_pv_limit=200.0))
    assert found.sentence.endswith(" holds at A, but for the bad end of axial chain.")
    assert found.chosen is not None
    assert found.chosen.reason == "holds all, but for the bad end of axial chain"


def test_equal_cost_goes_by_lead_time_then_by_code() -> None:
    assert chosen(table(3, lead_time=[500.0, 300.0, 400.0])) == "u001"
    assert chosen(table(3, code=["b", "a", "c"])) == "a"
    assert chosen(table(2, price=[1500.0, np.nan])) == "u000"
    assert chosen(table(2, lead_time=[np.nan, 900.0])) == "u001"


def test_life_counts_up_to_what_is_required_and_no_further() -> None:
    # A hundred times the life is worth nothing: the cheaper one is taken.
    assert chosen(table(2, dynamic_rating=[2e5, 4e5], price=[1500.0, 1501.0])) == "u000"


@pytest.mark.parametrize(
    ("columns", "check", "words", "is_open"),
    [
        ({"speed_limit": 500.0}, "speed", "600 of 500 r/min", False),
        ({"length": 320.0}, "room", "160 of 150 mm", False),
        ({"static_rating": 5e3}, "static safety", "safety 0.5 at 10 kN", False),
        ({"joint_angle": np.nan}, "ring joint", "the joint angle is not given", True),
        ({"speed_limit": np.nan}, "speed", "no speed limit is given", True),
    ],
)
def test_a_unit_that_is_turned_away_says_by_which_check_and_by_how_much(
    columns: dict[str, Any], check: str, words: str, is_open: bool
) -> None:
    found = choose(need(), table(**columns))
    assert found.chosen is None
    assert (found.holding, found.open) == (0, int(is_open))
    only = found.candidates[0]
    assert only.first_check == check
    assert not only.holds
    assert words in only.reason
    assert bool(only.open_questions) is is_open
    if is_open:
        datum = only.open_questions[0].split(",")[0]
        waits = f"1 is open until a question is settled: ask S for the {datum} (1)."
        assert found.sentence == f"Not decided at A: of 1 with this bore, {waits}"
        assert found.questions == ((f"ask S for the {datum}", 1),)
    else:
        assert found.sentence == f"No unit holds at A: of 1 with this bore, {check} turns 1 away."
        assert found.questions == ()
    assert found.nearest == only
    assert found.nearest_unit is not None
    assert [f.check for f in found.nearest_findings] == [c.name for c in CHECKS]
    assert dict(found.counts) == ({} if is_open else {check: 1})


def test_a_failing_check_turns_away_before_an_open_one() -> None:
    found = choose(need(), table(speed_limit=np.nan, length=320.0))
    assert found.candidates[0].first_check == "room"
    assert found.open == 0


def test_no_units_at_all_is_an_answer() -> None:
    found = choose(need(), table(2).take([]))
    assert (found.chosen, found.total, found.candidates) == (None, 0, ())
    assert (found.nearest, found.nearest_findings, found.questions) == (None, (), ())
    assert found.sentence == "No unit holds at A: the catalogues hold none."


def test_a_chosen_unit_leaves_nothing_nearest_and_nothing_asked() -> None:
    found = choose(need(), table(2, speed_limit=[2000.0, np.nan]))
    assert (found.holding, found.open) == (1, 1)
    assert (found.nearest, found.nearest_unit, found.nearest_findings, found.questions) == (
        None,
        None,
        (),
        (),
    )


def test_the_questions_that_keep_most_units_open_come_first() -> None:
    units = table(
        4, speed_limit=[500.0, np.nan, np.nan, 2000.0], joint_angle=[np.pi / 2, np.nan, np.pi / 2, np.nan]
    )
    found = choose(need(room=dataclasses.replace(ROOM, plain_left=None)), units)
    assert found.questions == (
        ("survey the plain shaft towards the drive end", 3),
        ("ask S for the joint angle", 2),
        ("ask S for the speed limit", 2),
    )
    assert found.sentence.startswith(
        "Not decided at A: of 4 with this bore, 3 are open until a question is settled: "
        "survey the plain shaft towards the drive end (3); ask S for the "
    )
    assert found.sentence.endswith(". Speed turns 1 away.")


def test_where_nothing_holds_only_units_of_the_bore_count_and_they_come_first() -> None:
    units = table(5, bore=[100.0, 95.0, 100.0, 105.0, 95.0], length=[500.0, 180.0, 400.0, 180.0, 180.0])
    found = choose(need(), units)
    assert found.sentence == "No unit holds at A: of 2 with this bore, room turns 2 away."
    assert [c.row for c in found.candidates[:2]] == [0, 2]
    other = choose(need(seat=dataclasses.replace(SEAT, nominal=98.0)), units)
    assert other.sentence == "No unit holds at A: none of 5 has a bore of 98 mm, the nearest has 100 mm."
    assert other.nearest is not None
    assert other.nearest.row == 0


def test_cost_over_the_horizon_by_hand() -> None:
    # 20 years: unit 2000, one bearing set more at 800; packing 60 EUR a side, 20/3.5 sets of it.
    asked = need(required=Requirement(horizon=20 * 8760.0))
    swept = sweep(asked, table())
    assert swept.seal_left[0] == SealKind.PACKING
    assert swept.cost[0] == pytest.approx(2000 + 800 + 2 * 60 * 20 / 3.5)
    # 5 years: the first bearing set still serves, packing is renewed.
    short = sweep(need(required=Requirement(horizon=5 * 8760.0)), table())
    assert short.cost[0] == pytest.approx(2000 + 2 * 60 * 5 / 3.5)


def test_prices_in_two_currencies_do_not_compare() -> None:
    units = table(3, price=[2000.0, 1000.0, 2100.0], currency=["EUR", "USD", "EUR"])
    swept = sweep(need(), units)
    assert np.isnan(swept.cost[1])
    assert chosen(units) == "u000"
    assert cost.over_horizon(need(), units.take([]), *(np.zeros(0, np.int64),) * 2).size == 0


def test_the_job_s_money_decides_which_prices_compare() -> None:
    asked = need()
    dollars = dataclasses.replace(asked.job, value=Economics("USD", ()))
    in_dollars = Need(dollars, asked.index, asked.duty)
    units = table(3, price=[2000.0, 3000.0, 2100.0], currency=["EUR", "USD", "EUR"])
    assert chosen(units, in_dollars) == "u001"


@cache
def choices(job: str) -> list[tuple[Need, Choice]]:
    units = demo_units()
    return [(asked, choose(asked, units)) for asked in demo_needs(job)]


@pytest.mark.parametrize("job", JOBS)
def test_no_candidate_of_the_demo_plant_is_chosen_past_a_limit(job: str) -> None:
    for _, found in choices(job):
        assert found.chosen is not None
        for told in (found.findings, found.next_findings):
            assert not {f.verdict for f in told} & {Verdict.FAILS, Verdict.NO_DATA, Verdict.OUTSIDE}
        assert [f.check for f in found.findings] == [check.name for check in CHECKS]
        assert sum(n for _, n in found.counts) == found.total - found.holding - found.open


@pytest.mark.parametrize("job", JOBS)
def test_every_candidate_of_the_demo_plant_that_is_not_chosen_has_its_reason(job: str) -> None:
    for asked, found in choices(job):
        assert len({c.row for c in found.candidates}) == len(found.candidates)
        for candidate in found.candidates:
            assert candidate.reason
            assert candidate.holds is not bool(candidate.first_check)
            assert abs(demo_units().bore[candidate.row] - asked.nominal) < 10.0
        assert sum(c.holds for c in found.candidates) == min(found.holding, 7)


def test_the_open_units_of_the_fan_are_counted_with_their_question() -> None:
    _, found = choices("fan")[0]
    assert found.open > 0
    asked = {q for c in found.candidates for q in c.open_questions}
    assert "axial limit by flange heat, from the supplier" in asked
    assert "least angle between load and joint, from the supplier" in asked
