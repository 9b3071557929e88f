"""The corners of what a row of places may be: worked by hand, and closed under what is measured."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.estimate.chain import corners
from halfbore.units import Span

GAPS = [Span(1, 2, 4), Span(3, 5, 9), Span(2, 3, 4)]


def test_an_open_row_has_every_end_of_every_gap() -> None:
    likely, every = corners([0.0, None, None], GAPS[:2])
    assert likely == (0.0, 2.0, 7.0)
    assert set(every) == {(0, 1, 4), (0, 1, 10), (0, 4, 7), (0, 4, 13)}


def test_between_two_known_places_the_gaps_add_up() -> None:
    likely, every = corners([0.0, None, None, 12.0], GAPS)
    assert likely == pytest.approx((0, 2 + 2 * 2 / 7, 2 + 2 * 2 / 7 + 5 + 4 * 2 / 7, 12))
    assert {p[:3] for p in every} == {(0, 1, 8), (0, 1, 10), (0, 4, 8), (0, 4, 10)}


def test_gaps_that_do_not_fit_are_stretched() -> None:
    likely, every = corners([0.0, None, 70.0], GAPS[:2])
    assert likely == pytest.approx((0, 20, 70))
    assert all(p[0] == 0 and p[2] == 70 and 0 < p[1] < 70 for p in every)


@given(st.lists(st.tuples(st.floats(1, 5), st.floats(0, 5)), min_size=2, max_size=4), st.data())
def test_a_measured_place_leaves_no_corner_outside_what_was_possible(
    ends: list[tuple[float, float]], data: st.DataObject
) -> None:
    gaps = [Span(low, low + more / 2, low + more) for low, more in ends]
    _, before = corners([0.0, *[None] * len(gaps)], gaps)
    at = data.draw(st.integers(1, len(gaps)))
    low, high = min(p[at] for p in before), max(p[at] for p in before)
    known: list[float | None] = [0.0, *[None] * len(gaps)]
    known[at] = low + data.draw(st.floats(0, 1)) * (high - low)
    _, after = corners(known, gaps)
    assert after
    for places in after:
        for gap, a, b in zip(gaps, places, places[1:], strict=False):
            assert gap.low - 1e-6 <= b - a <= gap.high + 1e-6
