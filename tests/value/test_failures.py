"""Field lives: the plant's history first, competing risks with a cap, the old cause where it is not cured."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from halfbore.domain.economics import FieldLife
from halfbore.domain.position import DamageMode, Failure
from halfbore.numerics.life_data import fit
from halfbore.numerics.renewal import renewals
from halfbore.sources import Status
from halfbore.units import Span
from halfbore.value import failures
from tests.value import cases

DRAWS = 20_000
TODAY = date(2026, 3, 2)
YEARLY = tuple(Failure(date(year, 1, 1), DamageMode.ABRASIVE_WEAR) for year in (2015, 2017, 2018, 2021, 2024))
LIFE = FieldLife(Span.of(30_000.0), Span.of(1.5), "the plant's guess")

RATING = Span.of(1e5)


def lives(history=(), economics=cases.FIXED, since: date | None = None) -> failures.Lives:
    position = replace(cases.ALONE, history=history, in_service_since=since)
    return failures.one_piece_lives(position, economics, TODAY, np.random.default_rng(1), DRAWS)


def test_recorded_lives_by_hand() -> None:
    """365 and 730 days at 4380 running hours a year; the present one since the last change; the first unknown."""
    history = (
        Failure(date(2022, 3, 2)),
        Failure(date(2019, 3, 3)),
        Failure(date(2020, 3, 2), failed=False),
        Failure(date(2022, 3, 2)),
    )
    position = replace(cases.ALONE, history=history)
    hours, failed = failures.recorded_lives(position, 4380.0, TODAY)
    assert hours == pytest.approx([4380.0, 8760.0, 4 * 4380.0 + 12.0], abs=1e-6)
    assert failed == [False, True, False]


def test_in_service_since_counts_when_it_is_later() -> None:
    position = replace(cases.ALONE, history=(Failure(date(2019, 3, 2)),), in_service_since=date(2025, 3, 2))
    assert failures.recorded_lives(position, 365.0, TODAY) == ([365.0], [False])


def test_a_day_before_the_record_gives_no_negative_life() -> None:
    position = replace(cases.ALONE, in_service_since=date(2030, 1, 1))
    assert failures.recorded_lives(position, 8000.0, TODAY) == ([], [])


def test_history_comes_first_and_agrees_with_the_fit() -> None:
    economics = cases.money(one_piece_life=LIFE)
    found = lives(YEARLY, economics)
    position = replace(cases.ALONE, history=YEARLY)
    fitted = fit(*failures.recorded_lives(position, 8760.0, TODAY))
    basis = found.bases[0]
    assert basis.source.status is Status.GIVEN
    assert basis.source.place == "4 lives that ended in failure, 1 that did not"
    assert fitted.scale_bounds[0] < basis.eta.p50 < fitted.scale_bounds[1]
    assert basis.eta.p50 == pytest.approx(fitted.scale, rel=0.15)


def test_one_failure_takes_an_assumed_shape_and_a_wide_scale() -> None:
    found = lives(YEARLY[:2])
    one = found.bases[0]
    assert 1.2 <= one.beta <= 2.0
    assert "shape assumed" in one.source.note
    assert (
        one.eta.p90 / one.eta.p10
        > 2.0 * lives(YEARLY).bases[0].eta.p90 / lives(YEARLY).bases[0].eta.p10 / 2.0
    )
    assert one.eta.p90 / one.eta.p10 > 3.0


def test_lives_all_alike_still_give_an_answer() -> None:
    history = tuple(Failure(date(2020 + i, 1, 1)) for i in range(3))
    found = lives(history, since=date(2022, 1, 1))
    assert np.all(np.isfinite(found.scales)) and np.all(found.scales > 0.0)


@pytest.mark.parametrize("since", [None, date(2020, 1, 1)])
def test_without_a_failure_the_jobs_figure_counts_then_a_marked_default(since: date | None) -> None:
    given = lives(economics=cases.money(one_piece_life=LIFE), since=since).bases[0]
    default = lives(since=since).bases[0]
    assert (given.eta.p50, given.source.place) == (30_000.0, "the plant's guess")
    assert default.source.status is Status.ESTIMATE
    assert "no record" in default.source.place


def split(
    goes_on: float,
    modified: Span | None = RATING,
    one_piece: failures.Lives | None = None,
    left: float = 0.0,
) -> failures.Lives:
    old = one_piece or lives(economics=cases.money(one_piece_life=LIFE))
    remains = np.full(DRAWS, left)
    return failures.split_lives(
        old, modified, 0.9, goes_on, remains, 8000.0, np.random.default_rng(2), DRAWS
    )[0]


def test_fatigue_is_one_of_several_risks_and_never_alone() -> None:
    found = split(0.0)
    assert [basis.cause for basis in found.bases] == [
        "fatigue",
        "grease",
        "seal and contamination",
        "seat and clamp",
        "cap: renewed at this age in any case",
    ]
    # The scale at which 10 % have failed by the rating life, shape 1.5.
    assert found.bases[0].eta.p50 == pytest.approx(1e5 / (-np.log(0.9)) ** (1.0 / 1.5))
    endless = split(0.0, Span.of(1e9))
    assert np.all(np.minimum(endless.scales.min(axis=1), endless.cap) <= 12.0 * 8000.0)


def test_cap_is_eight_to_twelve_years_and_visible() -> None:
    cap = split(0.0).bases[-1]
    assert 8.0 * 8000.0 < cap.eta.p10 < cap.eta.p90 < 12.0 * 8000.0
    assert cap.source.status is Status.COMMON_PRACTICE


def test_no_modified_life_leaves_fatigue_out() -> None:
    found = split(0.0, None)
    assert "fatigue" not in {basis.cause for basis in found.bases}
    assert np.all(np.isinf(found.scales[:, 0]))


def test_an_old_cause_that_is_not_cured_goes_on() -> None:
    old = lives(economics=cases.money(one_piece_life=LIFE))
    cured, not_cured, unknown = (split(chance, one_piece=old, left=0.25) for chance in (0.0, 1.0, 0.5))
    assert np.array_equal(not_cured.scales[:, -1], old.scales[:, 0])
    assert np.array_equal(cured.scales[:, -1], 4.0 * old.scales[:, 0])
    in_full = unknown.scales[:, -1] == old.scales[:, 0]
    assert in_full.mean() == pytest.approx(0.5, abs=0.02)
    assert np.array_equal(unknown.scales[~in_full, -1], cured.scales[~in_full, -1])
    assert any("cured but for 25\xa0%" in basis.cause for basis in cured.bases)
    assert any("not cured" in basis.cause for basis in not_cured.bases)
    assert any("50\xa0% of the draws" in basis.cause for basis in unknown.bases)


@pytest.mark.parametrize(
    ("history", "economics", "cured", "chance"),
    [
        (YEARLY, cases.FIXED, True, 0.0),
        (YEARLY, cases.FIXED, False, 1.0),
        (YEARLY, cases.FIXED, None, 0.5),
        ((), cases.money(one_piece_life=LIFE), False, 1.0),
        ((), cases.FIXED, False, 0.0),
    ],
)
def test_what_goes_on_follows_record_and_cure(history, economics, cured: bool | None, chance: float) -> None:
    position = replace(cases.ALONE, history=history)
    assert failures.chance_that_cause_goes_on(position, economics, cured) == chance


def test_where_nothing_is_left_the_old_cause_never_strikes() -> None:
    found = split(0.0, left=0.0)
    assert np.all(np.isinf(found.scales[:, -1]))
    assert not any("what ended the last bearing" in basis.cause for basis in found.bases)


@pytest.mark.parametrize("part", [0.1, 0.3, 0.6, 1.0])
def test_the_part_that_a_cure_leaves_is_a_part_of_the_failures_in_the_long_run(part: float) -> None:
    """Renewals in a long time against renewals of the whole, by simulation with another luck (computed)."""
    counts = [
        np.isfinite(renewals(np.random.default_rng(seed), 400.0, 3.0, scale, 2000).times).sum() / 2000
        for seed, scale in ((5, float(failures.scale_of_part(1.0, part))), (6, 1.0))
    ]
    assert counts[0] / counts[1] == pytest.approx(part, rel=0.02)
