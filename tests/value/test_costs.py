"""Costs by hand: the loss curve, what a planned stop hides, one way over the horizon to the cent."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from halfbore.value.costs import KINDS, LossCurve, Prices, packing_cost
from halfbore.value.simulate import (
    Future,
    Renewed,
    begin,
    change_costs,
    draw_inputs,
    exposed_hours,
    outage_hours,
    present_costs,
    renew,
    saving,
)
from tests.value import cases

CURVE = LossCurve(np.array([2.0, 10.0]), np.array([[1000.0], [2000.0]]), np.array([[0.0], [5000.0]]))


@pytest.mark.parametrize(
    ("hours", "loss"),
    [(0.0, 0), (1.9, 0), (2.0, 0), (6.0, 4000), (9.99, 7990), (10.0, 13000), (12.0, 17000)],
)
def test_loss_curve(hours: float, loss: float) -> None:
    assert CURVE(np.array([hours]))[0] == pytest.approx(loss)


def test_a_cost_that_falls_due_at_once_does_not_fall_due_without_an_outage() -> None:
    at_once = LossCurve(np.array([0.0]), np.array([[100.0]]), np.array([[700.0]]))
    assert at_once(np.array([0.0]))[0] == 0.0
    assert at_once(np.array([0.5]))[0] == 750.0


def future(old_years: list[float], new_years: list[float], old_share: float = 1.0) -> Future:
    def renewed(years: list[float], share: float = 1.0) -> Renewed:
        table = np.tile(np.array(years)[:, None], (1, cases.DRAWS))
        return Renewed(table, 1.1**-table, np.zeros(table.shape, dtype=bool), np.full(table.shape, share))

    luck = np.full((max(len(old_years), len(new_years)), cases.DRAWS), 0.5)
    return Future(renewed(old_years, old_share), renewed(new_years), luck, luck)


def inputs(economics=cases.FIXED, positions=(cases.ALONE,), **changes):
    given = replace(cases.job(economics, **changes), positions=positions)
    return draw_inputs(
        given,
        economics,
        positions[0],
        6000.0,
        3500.0,
        None,
        True,
        cases.fixed_plans(),
        1,
        date(2026, 1, 1),
        math.nan,
    )


def test_two_failures_against_one_to_the_cent() -> None:
    """One-piece 25 100 at 0, 2 and 5 years; split 16 800 at 0 and 9 400 at 4 years; 10 % a year.

    One-piece: 8 h at 1000, 2 h at 2000, 5000 once; 30 h at 90; crane 900; bearing 1500; extra 3000.
    Split: first 6 h at 1000, 20 h at 90, unit 6000, extra 3000; later 2 h at 1000, 10 h at 90, 3500, 3000.
    """
    given = inputs()
    ahead = future([2.0, 5.0], [4.0, np.inf])
    changes = begin(given, ahead)
    old, new = (present_costs(c, k) for c, k in zip(change_costs(given), changes, strict=True))
    one_piece = 25_100.0 * (1.0 + 1.1**-2 + 1.1**-5)
    split = 16_800.0 + 9_400.0 * 1.1**-4
    assert one_piece == pytest.approx(61_428.93, abs=0.005)
    assert split == pytest.approx(23_220.33, abs=0.005)
    np.testing.assert_allclose(old.sum(axis=0), one_piece, atol=1e-6)
    np.testing.assert_allclose(new.sum(axis=0), split, atol=1e-6)
    np.testing.assert_allclose(saving(change_costs(given), changes), one_piece - split, atol=1e-6)
    worth = 1.0 + 1.1**-2 + 1.1**-5
    by_kind = dict(zip(KINDS, old[:, 0], strict=True))
    assert by_kind["lost production"] == pytest.approx(17_000.0 * worth)
    assert by_kind["labour"] == pytest.approx(2_700.0 * worth)
    assert by_kind["hired crane"] == pytest.approx(900.0 * worth)
    assert by_kind["packing"] == 0.0
    assert outage_hours(given.one_piece, changes[0], 1.0)[0] == 36.0
    assert exposed_hours(given.split, changes[1])[0] == 13.0


def test_a_shared_stop_counts_by_its_part_to_the_cent() -> None:
    """A was changed on two days, on one of them with B: three quarters of what its stops cost are its own.

    One-piece: 0.75 of 17 000 + 900 + 3000 and all of 2700 + 1500, at 0, 2 and 5 years. Split: at first 0.75 of
    6000 + 3000 and all of 1800 + 6000; the failure at 4 years by a risk of its own costs 9400 in full.
    """
    given = inputs(positions=cases.two_that_shared_a_stop())
    assert given.stop_share == 0.75
    changes = begin(given, future([2.0, 5.0], [4.0, np.inf], old_share=0.75))
    old, new = (present_costs(c, k).sum(axis=0) for c, k in zip(change_costs(given), changes, strict=True))
    one_piece = 19_875.0 * (1.0 + 1.1**-2 + 1.1**-5)
    split = 14_550.0 + 9_400.0 * 1.1**-4
    assert one_piece == pytest.approx(48_641.43, abs=0.005)
    assert split == pytest.approx(20_970.33, abs=0.005)
    np.testing.assert_allclose((old, new), ((one_piece,), (split,)) * np.ones(cases.DRAWS), atol=1e-6)
    np.testing.assert_allclose(saving(change_costs(given), changes), one_piece - split, atol=1e-6)
    assert outage_hours(given.one_piece, changes[0], 0.75)[0] == 0.75 * 36.0
    assert outage_hours(given.split, changes[1], 0.75)[0] == 0.75 * 8.0 + 4.0
    assert exposed_hours(given.one_piece, changes[0])[0] == 60.0


def test_what_strikes_a_split_unit_alone_stops_the_machine_for_it_alone() -> None:
    """Renewed by what goes on of today's or at the cap its stops are shared, by a risk of its own they are not."""
    given = inputs(positions=cases.two_that_shared_a_stop(), horizon=20.0 * 8760.0)
    ahead = renew(given)
    inside = np.isfinite(ahead.split.years)
    assert set(ahead.one_piece.share[np.isfinite(ahead.one_piece.years)]) == {0.75}
    assert set(ahead.split.share[ahead.split.at_cap]) == {0.75}
    assert set(ahead.split.share[inside & ~ahead.split.at_cap]) == {0.75, 1.0}


def test_a_planned_stop_hides_its_own_length_and_no_more() -> None:
    """Stop of 6 h: one-piece 12 h lose 17 000 − 4 000, split 4 h lose nothing; plain labour, no extra."""
    given = inputs(cases.money(planned_share=cases.Span.of(1.0)))
    changes = begin(given, future([2.0], [2.0]))
    old, new = change_costs(given)
    planned_old, planned_new = old.later[0, :, 0], new.later[0, :, 0]
    assert list(planned_old) == [13_000.0, 1_800.0, 900.0, 1_500.0, 0.0, 0.0]
    assert list(planned_new) == [0.0, 600.0, 0.0, 3_500.0, 0.0, 0.0]
    assert changes[0].number[:, 0].tolist() == [1.0, 0.0, 0.0]


def test_half_of_a_planned_outage_hidden() -> None:
    """Half of 8 h is hidden: 6 000 less what 4 h cost, 2 000."""
    given = inputs(cases.money(hidden_share=0.5), stop=cases.Stop.PLANNED)
    assert change_costs(given)[1].next[0, 0] == 4_000.0


def test_stop_and_seizure_are_the_same_luck_both_ways() -> None:
    given = inputs(cases.money(planned_share=cases.Span.of(0.4), seized_share=cases.Span.of(0.7)))
    rng = np.random.default_rng(1)
    ahead = future([2.0, 5.0], [4.0, 7.0])
    ahead = Future(ahead.one_piece, ahead.split, rng.random((2, cases.DRAWS)), rng.random((2, cases.DRAWS)))
    old, new = begin(given, ahead)
    assert np.array_equal(old.happens, new.happens)
    np.testing.assert_allclose(old.number.mean(axis=1) / 2.0, [0.4, 0.18, 0.42], atol=0.03)


def test_packing_by_hand() -> None:
    """Every 3 years over 10 at 10 %: 3, 6 and 9 years; a set of 100 and 4 person-hours at 50."""
    prices = Prices(np.array([50.0]), 1.5, np.array([0.0]), np.array([0.0]))
    worth = 1.1**-3 + 1.1**-6 + 1.1**-9
    cost = packing_cost(100.0, np.array([3.0]), 0.10, 10.0, prices)[0]
    assert cost == pytest.approx(300.0 * worth)
    assert packing_cost(math.nan, np.array([3.0]), 0.10, 10.0, prices)[0] == 0.0
