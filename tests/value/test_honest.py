"""What stands beside a saving: shared stops, the part of a cure, the record against the plan, the day of the survey."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from halfbore.domain.economics import StopHours
from halfbore.domain.position import Failure, Position
from halfbore.domain.value import Estimate, Value
from halfbore.present.metrics import text_width
from halfbore.present.value_charts import NAMES
from halfbore.units import Span
from halfbore.value import caveats, record
from halfbore.value.answer import value_of
from halfbore.value.sharing import Sharing, sharing
from tests.value import cases

TODAY = date(2026, 3, 2)
DAYS = tuple(date(year, 3, 1) for year in (2019, 2020, 2022, 2025))
HORIZON = 87_600.0


def held(name: str, *days: date, stop: float | None = None) -> Position:
    return replace(cases.ALONE, name=name, history=tuple(Failure(day, stop=stop) for day in days))


def worth(
    positions: tuple[Position, ...],
    horizon: float = HORIZON,
    cured: bool | None = True,
    stays: tuple[str, ...] = (),
    **money: object,
) -> Value:
    given = replace(cases.job(cases.money(**money), horizon), positions=positions)
    life = Span(60_000.0, 90_000.0, 150_000.0)
    return value_of(
        given, positions[0], 6000.0, 3500.0, life, cured, cases.fixed_plans(), 1, TODAY, stays=stays
    )


@pytest.mark.parametrize(
    ("others", "expected"),
    [
        ((), Sharing(1.0, ())),
        ((held("B", *DAYS),), Sharing(0.5, ("B",))),
        ((held("B", *DAYS), held("C", *DAYS)), Sharing(1.0 / 3.0, ("B", "C"))),
        ((held("B", DAYS[0], date(2024, 1, 1)),), Sharing(0.875, ("B",))),
        ((held("B", date(2024, 1, 1)),), Sharing(1.0, ())),
    ],
)
def test_the_stop_share_is_the_mean_of_one_over_those_changed_that_day(
    others: tuple[Position, ...], expected: Sharing
) -> None:
    first = held("A", *DAYS)
    assert sharing(first, (first, *others)) == expected
    assert sharing(replace(first, history=()), (first, *others)) == Sharing(1.0, ())


def test_two_that_share_every_stop_bear_the_next_one_together_once() -> None:
    """8 300 saved alone; of the stop 11 900 are saved, of the change for itself 3 600 are lost."""
    pair = (held("A", *DAYS), held("B", *DAYS))
    both = [worth(order, 1.0) for order in (pair, pair[::-1])]
    assert sum(v.saving.mean for v in both) == pytest.approx(11_900.0 - 2 * 3_600.0)
    assert [v.stop_share for v in both] == [0.5, 0.5]
    assert both[0].shared_with == ("B",)
    assert both[0].caveats[0].startswith("Stops shared with B: of what a stop itself costs, 50 % counts here")
    alone = worth(pair[:1], 1.0)
    assert alone.saving.mean == pytest.approx(8_300.0)
    assert not alone.caveats


@pytest.mark.parametrize("cured", [True, None, False])
def test_all_failures_left_is_the_saving_without_the_cure(cured: bool | None) -> None:
    one = (held("A", *DAYS),)
    value = worth(one, cured=cured)
    full = worth(one, cured=cured, cure_leaves=Span.of(1.0))
    for found in (full.saving_without_cure, value.saving_without_cure):
        assert (found.p10, found.p50, found.mean) == pytest.approx(
            (full.saving.p10, full.saving.p50, full.saving.mean)
        )
    assert (value.saving.mean > value.saving_without_cure.mean) is (cured is not False)
    nothing = worth(one, cured=cured, cure_leaves=Span.of(0.0))
    assert nothing.saving.mean >= value.saving.mean


def test_the_part_that_a_cure_leaves_moves_the_answer() -> None:
    levers = {s.name: s for s in worth((held("A", *DAYS),)).swings}
    lever = levers["today's failures that a cure leaves"]
    assert 0.1 < lever.low < 0.3 < lever.high < 0.6
    assert lever.at_low > lever.at_high
    assert all(text_width(name, 12.0) <= NAMES for name in levers)
    assert "today's failures that a cure leaves" not in {s.name for s in worth((cases.ALONE,)).swings}


def test_a_saving_that_rests_on_the_cure_says_so_with_both_figures() -> None:
    def even(mean: float) -> Estimate:
        return Estimate(mean, mean, mean, mean)

    def told(mean: float, without: float) -> list[str]:
        return list(caveats.resting_on_cure(even(mean), even(without), (even(9.0), even(3.0)), 10.0, "EUR"))

    assert told(100e3, 60e3) == told(-5e3, -9e3) == []
    (said,) = told(100e3, 20e3)
    assert "100 k€" in said and "80 k€" in said and "20 k€" in said
    assert "9 replacements" in said and "if the unit holds and lives as estimated" in said
    (said,) = told(100e3, -30e3)
    assert "it would cost 30 k€ more than it saves" in said


def test_a_cure_under_a_split_unit_that_is_replaced_more_often_says_why() -> None:
    def even(mean: float) -> Estimate:
        return Estimate(mean, mean, mean, mean)

    (said,) = caveats.resting_on_cure(even(14e3), even(4e3), (even(1.4), even(1.7)), 10.0, "EUR")
    assert (
        "by risks of its own and by its age the split unit is replaced 1.7 times over 10 years, the one-piece bearing "
        "1.4 times; were nothing cured, today's failures came on top, and it would save 4000 €." in said
    )


def test_a_mean_that_few_runs_carry_says_so() -> None:
    few, many = Estimate(-2.0, -1.0, 9.0, 3.0), Estimate(-90.0, 1.0, 2.0, -5.0)
    assert "few rare cases carry it" in next(caveats.few_carry(few, 0.3))
    assert "few runs lose more" in next(caveats.few_carry(many, 0.7))
    assert not list(caveats.few_carry(Estimate(-1.0, 1.0, 2.0, 1.0), 0.7))


def test_two_stops_on_record_take_the_place_of_the_plan_unless_the_plan_is_asked_for() -> None:
    """Two stops of 18 h against 12 h planned: one and a half times, for the split unit's 8 h as well; a quicker site
    is not taken to be quicker with the split unit."""
    one = (held("A", *DAYS[:2], stop=18.0),)
    plan, recorded = worth(one, one_piece_hours=StopHours.PLAN), worth(one)
    assert plan.hours_saved_next.p50 == 4.0
    assert recorded.hours_saved_next.p50 == 18.0 - 12.0
    assert worth((held("A", *DAYS[:2], stop=6.0),)).hours_saved_next.p50 == 6.0 - 8.0
    assert recorded.saving.mean > plan.saving.mean
    assert any(
        "2 stops on record took 1.5 times" in text and "the plan's is taken" in text
        for text in plan.assumptions
    )
    assert any("the record's is taken" in text for text in recorded.assumptions)
    assert (plan.one_piece_outage.p50, recorded.one_piece_outage.p50) == (12.0, 18.0)
    few = worth((held("A", DAYS[0], stop=18.0),))
    assert few.hours_saved_next.p50 == 4.0
    assert any("Fewer than two stops are on record" in text for text in few.assumptions)


def test_a_record_outside_the_plan_s_range_stands_beside_the_saving() -> None:
    """The plan takes 12 h in every run: a record of 12 h agrees, one of 8 to 9 h does not, whichever is taken."""

    def told(stop: float, which: StopHours) -> list[str]:
        found = worth((held("A", *DAYS[:2], stop=stop),), one_piece_hours=which)
        return [words for words in found.caveats if "on record" in words]

    assert told(12.0, StopHours.RECORD) == told(12.0, StopHours.PLAN) == []
    (said,) = told(8.0, StopHours.RECORD)
    assert said == (
        "2 stops on record took 8.0 h, the plan says 12 h for such a change of the one-piece bearing: "
        "the record's is taken; the hours of the split unit are the plan's."
    )
    (said,) = told(8.0, StopHours.PLAN)
    assert "the plan's is taken" in said


def test_a_stop_that_a_bearing_left_as_it_is_shares_saves_nothing_here() -> None:
    """The change alone costs 3 600 more; of the stop nothing is saved, since B's change lasts as long as before."""
    pair = (held("A", *DAYS), held("B", *DAYS))
    value = worth(pair, 1.0, stays=("B",))
    assert (value.stop_share, value.shared_with) == (0.0, ("B",))
    assert value.saving.mean == pytest.approx(-3_600.0)
    for hours in (value.hours_saved_next, value.hours_saved_later, value.hours_saved):
        assert (hours.p10, hours.p90) == (0.0, 0.0)
    assert "saves no outage at the next change" in value.sentence
    assert "No split unit goes in at B: the one-piece change there governs them" in value.caveats[1]
    lines = {line.name: line for line in value.costs}
    assert set(lines) == {"labour", "parts"}


def test_a_bearing_left_as_it_is_governs_only_the_days_that_it_shares() -> None:
    first, kept, goes = held("A", *DAYS), held("B", DAYS[0]), held("C", DAYS[1])
    found = sharing(first, (first, kept, goes), ("B",))
    assert found == Sharing((0.0 + 0.5 + 1.0 + 1.0) / 4.0, ("B", "C"), ("B",), 0.25)
    assert sharing(first, (first, kept, goes), ("D",)) == sharing(first, (first, kept, goes))
    assert "governs 25 % of the stops" in list(caveats.shared_stops(found))[1]


def test_precautions_are_held_to_the_planned_change() -> None:
    way = cases.fixed_plans().one_piece
    way = replace(way, planned=replace(way.planned, outage=np.full(cases.DRAWS, 9.0)))
    stops = (
        Failure(DAYS[0], stop=18.0),
        Failure(DAYS[1], failed=False, stop=18.0),
        Failure(DAYS[2], stop=30.0),
    )
    assert record.against_the_plan(replace(cases.ALONE, history=stops), way) == 2.0


def test_a_price_that_is_left_out_stands_among_the_assumptions_with_its_figure() -> None:
    said = " ".join(worth((cases.ALONE,), one_piece_price=None).assumptions)
    assert "20 to 50\xa0% of the split unit's is taken, 1200 to 3000 €" in said


def test_the_last_day_of_a_job_is_its_survey_else_its_record() -> None:
    job = replace(cases.job(), positions=(held("A", *DAYS),))
    assert job.last_day == DAYS[-1]
    assert replace(job, surveyed=TODAY).last_day == TODAY
    assert cases.job().last_day is None
    assert math.isfinite(worth(job.positions).saving.mean)
