"""Exposure: the union of intervals, person-hours, and work in order."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.changeover.exposure import exposures, hours_covered
from halfbore.changeover.sequence import beside, in_order
from halfbore.changeover.shared_tasks import task
from halfbore.domain.plan import Hazard, Phase

INTERVALS = st.lists(st.tuples(st.integers(0, 50), st.integers(0, 20)), min_size=1, max_size=6)


@given(INTERVALS)
def test_hours_covered_counts_each_hour_once(intervals: list[tuple[int, int]]) -> None:
    starts = np.array([[float(start) for start, _ in intervals]])
    finishes = np.array([[float(start + length) for start, length in intervals]])
    counted = {hour for start, length in intervals for hour in range(start, start + length)}
    assert hours_covered(starts, finishes)[0] == len(counted)


def test_exposure_by_hand() -> None:
    """Two people 0 to 4 h and three 3 to 5 h under a load, one of them also at hot work."""
    first = task(Phase.EXCHANGE, "first", (4.0, 4.0, 4.0), 2, (Hazard.SUSPENDED_LOAD,))
    second = task(Phase.EXCHANGE, "second", (2.0, 2.0, 2.0), 3, (Hazard.SUSPENDED_LOAD, Hazard.HOT_WORK))
    found = exposures((first, second), np.array([[0.0, 3.0]]), np.array([[4.0, 5.0]]))
    assert [(e.hazard, e.hours, e.person_hours) for e in found] == [
        (Hazard.SUSPENDED_LOAD, 5.0, 14.0),
        (Hazard.HOT_WORK, 2.0, 6.0),
    ]


def test_lanes_start_together_and_what_follows_waits_for_all() -> None:
    a, b, c, d = (task(Phase.EXCHANGE, name, (1.0, 1.0, 1.0), 1) for name in "abcd")
    steps = in_order((a, beside((b, c), (), (d,)), replace_name(a, "e")))
    assert [(step.task.name, step.after) for step in steps] == [
        ("a", ()),
        ("b", ("a",)),
        ("c", ("b",)),
        ("d", ("a",)),
        ("e", ("c", "d")),
    ]


def test_lanes_without_work_are_passed() -> None:
    a, b = (task(Phase.EXCHANGE, name, (1.0, 1.0, 1.0), 1) for name in "ab")
    assert in_order((a, beside((), ()), b))[1].after == ("a",)


def replace_name(template, name: str):
    from dataclasses import replace

    return replace(template, name=name)


@pytest.mark.parametrize("draws", [1, 7])
def test_exposure_of_many_draws_is_their_median(draws: int) -> None:
    one = task(Phase.EXCHANGE, "one", (1.0, 2.0, 3.0), 2, (Hazard.HEIGHT,))
    finishes = np.arange(1.0, draws + 1.0)[:, None]
    found = exposures((one,), np.zeros((draws, 1)), finishes)
    assert found[0].person_hours == 2.0 * np.median(finishes)
