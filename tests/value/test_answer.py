"""The value of a position: by hand without luck, common draws, break-even, what moves it, when it is no."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from halfbore.changeover.plan import plan_changeover
from halfbore.domain.economics import Changeover, Economics, LossStep, Stop
from halfbore.domain.machine import Drum, MachineKind
from halfbore.domain.plan import PairDraws
from halfbore.domain.position import DamageMode, Failure, Mounting
from halfbore.domain.value import Value
from halfbore.errors import InputError
from halfbore.units import Span
from halfbore.value.answer import value_of
from halfbore.value.simulate import draw_inputs
from tests.changeover import cases as plans
from tests.value import cases

TODAY = date(2026, 3, 2)
LIFE = Span(60_000.0, 90_000.0, 150_000.0)
HOUR = 1.0
"""A horizon in which nothing fails: only the next change counts."""


def fixed(economics: Economics = cases.FIXED, plan: PairDraws | None = None, **changes) -> Value:
    stop = changes.pop("stop", Stop.UNPLANNED)
    given = cases.job(economics, changes.pop("horizon", HOUR), stop)
    args = {"unit_price": 6000.0, "spare_price": 3500.0, "modified_life": LIFE, "cured": True} | changes
    return value_of(given, cases.ALONE, plans=plan or cases.fixed_plans(), seed=1, on=TODAY, **args)


def test_next_change_by_hand_to_the_cent() -> None:
    """25 100 against 16 800, as worked in the costs; break-even where 1000 a moves: see below.

    Rates a and 2a: one-piece 8a + 4a + 5000 + 8100, split 6a + 10 800; equal at 6a = −2300: it pays at any rate.
    """
    value = fixed()
    saving = value.saving
    assert (saving.p10, saving.p50, saving.p90) == pytest.approx((8_300.0,) * 3, abs=1e-6)
    assert value.chance == 1.0
    assert value.breakeven == 0.0
    assert value.payback == 0.0
    assert value.hours_saved_next.p50 == value.hours_saved.p50 == 4.0
    assert value.exposed_hours == (20.0, 8.0)
    assert value.plant_rate == (1000.0, 1000.0)
    costs = {line.name: (line.one_piece, line.split) for line in value.costs}
    assert costs == {
        "lost production": pytest.approx((17_000.0, 6_000.0)),
        "labour": pytest.approx((2_700.0, 1_800.0)),
        "hired crane": pytest.approx((900.0, 0.0)),
        "parts": pytest.approx((1_500.0, 6_000.0)),
        "extra of unplanned stops": pytest.approx((3_000.0, 3_000.0)),
    }


def test_breakeven_by_hand() -> None:
    """Unit at 20 000: 12a + 13 100 = 6a + 24 800 at a = 1950; from the first hour on 4a = 24 800 − 8 100, a = 4175."""
    value = fixed(unit_price=20_000.0)
    assert value.breakeven == pytest.approx(1950.0)
    assert value.breakeven_from_first_hour == pytest.approx(4175.0)
    assert value.chance == 0.0
    assert math.isnan(value.payback)
    assert "Do not convert A" in value.sentence
    assert "2\u202f000 EUR" in value.no_when


def test_costs_add_up_to_the_saving() -> None:
    value = fixed(horizon=87_600.0)
    assert sum(line.one_piece - line.split for line in value.costs) == pytest.approx(value.saving.mean)


def test_same_work_same_price_same_luck_saves_nothing_in_any_draw() -> None:
    """Rates, labour and extra are drawn, but once for both ways."""
    loose = cases.money(
        stopped_production=(LossStep(1.0, Span(100.0, 900.0, 5000.0), Span(0.0, 100.0, 900.0)),),
        labour=Span(40.0, 60.0, 90.0),
        unplanned_extra=Span(0.0, 2000.0, 9000.0),
        one_piece_price=Span.of(6000.0),
    )
    change = cases.fixed_plans().split.next
    same = cases.WayDraws(change, change, change, change)
    value = fixed(loose, PairDraws(same, same))
    assert (value.saving.p10, value.saving.p90) == (0.0, 0.0)
    assert value.edges.min() == pytest.approx(-0.5)


def fan_value(seed: int = 4, cured: bool | None = True, draws: int = 4000, **money) -> Value:
    """Return the value of the trapped side of a fan that stops a kiln (invented figures)."""
    history = tuple(Failure(date(year, 1, 1), DamageMode.ABRASIVE_WEAR) for year in (2017, 2019, 2022, 2025))
    job, position = plans.fan(history=history)
    economics = Economics(
        currency="EUR",
        stopped_production=(LossStep(0.5, Span(4300.0, 5400.0, 6000.0)),),
        unplanned_extra=Span(2500.0, 3500.0, 5000.0),
        one_piece_price=Span(1500.0, 1900.0, 2400.0),
    )
    job = replace(job, value=replace(economics, **money))
    _, sampled = plan_changeover(job, position, plans.unit(), plans.lifted(0.0), -10.0, seed, draws)
    return value_of(job, position, 7000.0, 4000.0, LIFE, cured, sampled, seed, TODAY)


def test_a_trapped_fan_pays() -> None:
    value = fan_value()
    assert value.saving.p50 > 0.0
    assert value.chance > 0.85
    assert value.sentence.startswith("Converting A ")
    assert value.breakeven < 1000.0 < value.plant_rate[0]
    assert value.payback < 10.0


def test_ranges_are_in_order_and_counts_complete() -> None:
    value = fan_value()
    for e in (value.saving, value.hours_saved, value.hours_saved_next, *value.replacements):
        assert e.p10 <= e.p50 <= e.p90
    assert value.counts.sum() == value.draws == 4000
    assert len(value.edges) == len(value.counts) + 1
    assert value.exposed_hours[0] > value.exposed_hours[1]


def test_plans_and_money_from_one_seed_have_nothing_in_common() -> None:
    job, position = plans.fan()
    job = replace(job, value=cases.money(labour=Span(40.0, 60.0, 90.0)))
    _, sampled = plan_changeover(job, position, plans.unit(), None, -10.0, 4, 4000)
    given = draw_inputs(job, job.value, position, 1.0, 1.0, LIFE, True, sampled, 4, TODAY, math.nan)
    drawn = [given.prices.labour, given.old.scales[:, 0], given.new.scales[:, 1], given.new.cap]
    for column in drawn:
        assert abs(np.corrcoef(column, sampled.one_piece.next.outage)[0, 1]) < 0.06


def test_seeds_repeat_and_differ() -> None:
    one, again, other = fan_value(4), fan_value(4), fan_value(5)
    assert (one.saving, one.swings, one.breakeven) == (again.saving, again.swings, again.breakeven)
    assert one.saving != other.saving


@pytest.mark.parametrize("money", [{}, {"one_piece_price": Span.of(200.0), "unplanned_extra": Span.of(0.0)}])
def test_at_the_breakeven_rate_the_median_is_zero(money) -> None:
    rate = fan_value(**money, labour=Span.of(5.0)).breakeven
    at = fan_value(**money, labour=Span.of(5.0), stopped_production=(LossStep(0.5, Span.of(rate)),))
    assert rate > 0.0
    assert at.saving.p50 == pytest.approx(0.0, abs=0.01)


def test_at_the_breakeven_share_the_median_is_near_zero() -> None:
    money = {"stop_length": Span.of(400.0), "labour": Span.of(1.0)}
    share = fan_value(**money, planned_share=Span.of(0.1)).breakeven_planned_share
    at = fan_value(**money, planned_share=Span.of(share))
    assert 0.0 < share < 1.0
    assert abs(at.saving.p50) < 0.05 * at.saving.p90


def test_half_the_downtime_cost_and_a_planned_stop_move_the_answer() -> None:
    full = fan_value()
    half = fan_value(stopped_production=(LossStep(0.5, Span(2150.0, 2700.0, 3000.0)),))
    hidden = fan_value(planned_share=Span(0.7, 0.8, 0.9))
    assert half.saving.p50 < 0.65 * full.saving.p50
    assert hidden.saving.p50 < full.saving.p50
    assert half.hours_saved == full.hours_saved


def test_a_cause_that_is_not_cured_costs_part_of_the_saving() -> None:
    cured, unknown, not_cured = (fan_value(cured=c) for c in (True, None, False))
    assert cured.saving.p50 > unknown.saving.p50 > not_cured.saving.p50
    assert not_cured.replacements[1].mean > 1.3 * cured.replacements[1].mean


def test_the_tornado_holds_one_input_and_is_sorted() -> None:
    value = fan_value()
    widths = [abs(swing.at_high - swing.at_low) for swing in value.swings]
    assert widths == sorted(widths, reverse=True)
    by_name = {swing.name: swing for swing in value.swings}
    rate, first = by_name["cost of lost production"], by_name["first conversion"]
    assert rate.low < 5400.0 < rate.high
    assert rate.at_high > rate.at_low
    # A longer first conversion saves less although a slow site slows the one-piece change as well.
    assert first.at_high < first.at_low
    price = by_name["price of the one-piece bearing"]
    worth = (price.at_high - price.at_low) / (price.high - price.low)
    # One at the next change, the later ones discounted.
    assert 1.0 < worth < 1.0 + value.replacements[0].mean


def tail_drum(**money) -> Value:
    """Return the value of a tail drum with free ends: 45 min a change, six hours of stock behind it (invented)."""
    history = tuple(
        Failure(date(2013 + 3 * i // 2, 1 + 6 * (i % 2), 1), DamageMode.ABRASIVE_WEAR) for i in range(9)
    )
    drum = Drum("tail drum", 1500.0, Span.of(420.0), 500.0, 1.57)
    position = plans.position("T1-A", 500.0, old_mounting=Mounting.SET_SCREW, history=history)
    quick = {
        "Take the guards off": 0.05,
        "Hold the drum, slack the belt": 0.1,
        "Hold the shaft and take the load off": 0.05,
        "Take the old bearing off the shaft": 0.1,
        "Clean and gauge the seat": 0.05,
        "Fit the new one-piece bearing": 0.15,
        "Lower the shaft": 0.05,
        "Check the alignment": 0.05,
        "Tension the belt, take the clamps off": 0.1,
        "Put the guards on": 0.05,
    }
    tasks = tuple(plans.own_hours(name, Span.of(hours))[0] for name, hours in quick.items())
    job = plans.job(MachineKind.PLAIN_SHAFT, 100.0, (drum,), (position,))
    economics = Economics(
        currency="EUR",
        stopped_production=(LossStep(6.0, Span(1600.0, 2100.0, 2600.0)),),
        hours_a_year=4800.0,
        one_piece_price=Span(180.0, 220.0, 260.0),
        planned_share=Span(0.7, 0.85, 0.95),
    )
    job = replace(
        job,
        value=replace(economics, **money),
        changeover=Changeover(crew=2, tasks=tasks, isolation_lead=Span.of(0.3)),
    )
    pair, sampled = plan_changeover(job, position, plans.unit(100.0), plans.lifted(0.0), -10.0, 9, 4000)
    assert pair.one_piece.mechanical.p50 == pytest.approx(0.75, abs=0.05)
    return value_of(job, position, 2400.0, 1400.0, LIFE, True, sampled, 9, TODAY)


def test_the_tail_drum_with_free_ends_does_not_pay_and_says_when_it_would() -> None:
    value = tail_drum()
    assert value.saving.p50 < 0.0
    assert value.chance < 0.4
    assert value.sentence.startswith("Do not convert T1-A")
    assert math.isnan(value.breakeven)
    assert value.breakeven_from_first_hour > 0.0
    assert "while the first 6 h of a stop cost nothing" in value.no_when
    assert "half of them would pay from" in value.no_when


def test_without_the_stock_the_tail_drum_turns_at_the_rate_that_was_named() -> None:
    rate = tail_drum().breakeven_from_first_hour
    at = tail_drum(stopped_production=(LossStep(0.0, Span.of(rate)),))
    assert at.saving.p50 == pytest.approx(0.0, abs=0.01)
    assert tail_drum(stopped_production=(LossStep(0.0, Span.of(3.0 * rate)),)).chance > 0.5


def test_a_position_where_nothing_traps_shows_no_big_saving() -> None:
    """Free end of the same fan, no record of its lives: nothing but the repeat change is shorter."""
    job, position = plans.fan(trapped=False)
    economics = Economics(
        currency="EUR",
        stopped_production=(LossStep(0.5, Span(4300.0, 5400.0, 6000.0)),),
        one_piece_price=Span(1500.0, 1900.0, 2400.0),
    )
    job = replace(job, value=economics)
    _, sampled = plan_changeover(job, position, plans.unit(), plans.lifted(0.0), -10.0, 4, 4000)
    value = value_of(job, position, 7000.0, 4000.0, LIFE, None, sampled, 4, TODAY)
    assert value.hours_saved_next.p50 < 0.0 < value.hours_saved_later.p50
    assert value.saving.p50 < 0.1 * fan_value().saving.p50


def test_packing_is_a_cost_of_the_split_unit_alone() -> None:
    value = fixed(horizon=87_600.0, seals=200.0)
    line = next(line for line in value.costs if line.name == "packing")
    assert (line.one_piece, line.split > 0.0) == (0.0, True)


def test_what_is_left_out_is_an_assumption_that_shows() -> None:
    value = fixed(cases.money(one_piece_price=None), spare_price=math.nan, modified_life=None)
    said = " ".join(value.assumptions)
    assert "No price of the one-piece bearing" in said
    assert "No price of the spare bearing" in said
    assert "fatigue of the split unit is left out" in said
    parts = next(line for line in value.costs if line.name == "parts")
    assert 0.2 * 6000.0 < parts.one_piece < 0.5 * 6000.0


def test_what_the_record_says_against_the_plan_is_an_assumption_that_shows() -> None:
    warned = replace(cases.fixed_plans(), warnings=("Recorded stops lie below the plan's.",))
    assert "Recorded stops lie below the plan's." in fixed(plan=warned).assumptions


def test_safety_and_friction_are_no_money() -> None:
    value = fan_value()
    names = {line.name for line in value.costs}
    assert not {n for n in names if "exposed" in n or "safety" in n or "friction" in n or "energy" in n}
    assert any("No money is put on safety" in text for text in value.assumptions)


@pytest.mark.parametrize("steps", [(), (LossStep(0.0, Span.of(0.0)),)])
def test_no_loss_at_all_still_answers(steps: tuple[LossStep, ...]) -> None:
    value = fixed(cases.money(stopped_production=steps), unit_price=20_000.0)
    assert value.saving.p50 == pytest.approx(-16_700.0)
    assert value.breakeven_from_first_hour == pytest.approx(4175.0)


@pytest.mark.parametrize(
    ("economics", "price"), [(None, 6000.0), (cases.FIXED, math.nan), (cases.FIXED, -1.0)]
)
def test_no_money_side_and_no_price_are_refused(economics: Economics | None, price: float) -> None:
    with pytest.raises(InputError):
        fixed(economics, unit_price=price)


def test_once_costs_that_make_it_pay_at_no_rate_are_named() -> None:
    """One-piece 5000 + 8100 at rate nothing against 10 800, once the tenth hour is reached; without once 8100."""
    assert "falls due once" in fixed().no_when
    assert "mostly at once" in fixed().sentence
    without = fixed(cases.money(stopped_production=(LossStep(2.0, Span.of(1000.0)),)))
    assert "falls due once" not in without.no_when
    assert without.breakeven > 0.0
