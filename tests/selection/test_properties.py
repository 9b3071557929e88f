"""What holds for all units and all loads: more load is never better, and the sweep is the rows one by one."""

from __future__ import annotations

import dataclasses
import re
from functools import cache
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.demo.sizing import Style, bearings
from halfbore.domain.check import Verdict
from halfbore.domain.position import Seat
from halfbore.domain.selection import Sweep
from halfbore.domain.unit import Hand, Support, UnitTable, joined
from halfbore.intake.mapping import NEEDED
from halfbore.selection.check import finding, found, verdicts
from halfbore.selection.checks import life, static_safety
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.choose import choice_from, findings
from halfbore.selection.need import Need
from halfbore.selection.sweep import sweep
from halfbore.standards import iso281_2007
from halfbore.units import INCH, Span
from tests.selection.units import demo_needs, demo_units, duty, need, table

JOBS = ("fan", "head_shaft", "line_shaft")
TOLD = (Verdict.HOLDS, Verdict.TIGHT, Verdict.FAILS)


@cache
def units() -> UnitTable:
    return demo_units()


@cache
def needs(job: str) -> list[Need]:
    return demo_needs(job)


def scaled(asked: Need, factor: float) -> Need:
    """The same position under its radial and axial loads times a factor."""
    names = ("equivalent_low", "equivalent_high", "peak_high", "radial_low", "axial_low", "axial_high")
    loads = {name: getattr(asked.duty, name) * factor for name in names}
    return Need(asked.job, asked.index, dataclasses.replace(asked.duty, **loads))


@given(st.floats(1.0, 1e5), st.floats(1.0, 100.0), st.floats(10.0, 3000.0))
def test_more_load_is_never_more_life_nor_more_static_safety(load: float, more: float, speed: float) -> None:
    def under(newton: float) -> Need:
        loads = dict.fromkeys(("equivalent_low", "equivalent_high", "peak_high", "radial_low"), newton)
        return need(duty(speed=speed, **loads))

    light, heavy = under(load), under(load * more)
    assert life.basic_ends(heavy, table())[0][0] <= life.basic_ends(light, table())[0][0]
    modified = [life.modified_ends(asked, table()) for asked in (light, heavy)]
    assert modified[0] is not None
    assert modified[1] is not None
    assert modified[1][0][0] <= modified[0][0][0] or np.isnan(modified[0][0][0])
    safe = [found(static_safety.CHECK, asked, table()).bad[0] for asked in (light, heavy)]
    assert safe[0] <= safe[1]


def same_rows(part: Sweep, whole: Sweep, rows: slice) -> None:
    """All that a sweep of some rows says is what the whole sweep says of them."""
    np.testing.assert_array_equal(part.verdict, whole.verdict[:, rows])
    np.testing.assert_allclose(part.good, whole.good[:, rows], rtol=1e-12)
    np.testing.assert_allclose(part.bad, whole.bad[:, rows], rtol=1e-12)
    for column in ("cost", "seal_left", "seal_right", "clearance"):
        np.testing.assert_array_equal(getattr(part, column), getattr(whole, column)[rows])


@pytest.mark.parametrize("job", JOBS)
def test_the_sweep_is_the_same_as_row_by_row(job: str) -> None:
    # Row by row for all units of the right bore and every eightieth other one; all units in parts of 97.
    for asked in needs(job):
        whole, n = sweep(asked, units()), len(units())
        near = np.flatnonzero((np.abs(units().bore - asked.nominal) < 1.0) | (np.arange(n) % 80 == 0))
        for rows in [slice(r, r + 1) for r in near.tolist()] + [slice(r, r + 97) for r in range(0, n, 97)]:
            same_rows(sweep(asked, units().take(rows)), whole, rows)


@pytest.mark.parametrize("job", JOBS)
def test_each_check_alone_says_what_the_sweep_says(job: str) -> None:
    for asked in needs(job):
        whole = sweep(asked, units())
        fresh = Need(asked.job, asked.index, asked.duty)
        for i, check in enumerate(CHECKS):
            np.testing.assert_array_equal(verdicts(check, check.column(fresh, units())), whole.verdict[i])


@pytest.mark.parametrize("job", JOBS)
def test_shuffled_units_have_shuffled_results(job: str) -> None:
    order = np.random.default_rng(20260101).permutation(len(units()))
    for asked in needs(job):
        straight, mixed = sweep(asked, units()), sweep(asked, units().take(order))
        np.testing.assert_array_equal(mixed.verdict, straight.verdict[:, order])
        np.testing.assert_allclose(mixed.bad, straight.bad[:, order], rtol=1e-12)
        first, second = choice_from(asked, straight), choice_from(asked, mixed)
        assert (first.chosen is None) == (second.chosen is None)
        if first.chosen is not None and second.chosen is not None:
            assert first.chosen.code == second.chosen.code
        assert first.counts == second.counts


def every_size() -> UnitTable:
    """Units from 35 to 600 mm and from 1 3/16 to 24 in, three row sizes, both roles, all supports."""
    metric = [*range(35, 120, 5), *range(120, 200, 10), *range(200, 620, 20), 600]
    inches = np.array([*np.arange(19, 64, 4), *np.arange(64, 128, 8), *np.arange(128, 385, 16)]) / 16 * INCH
    sizes = np.unique(np.concatenate([metric, inches]))
    bore, row, support = (
        a.ravel() for a in np.meshgrid(sizes, [1, 2, 3], [int(s) for s in Support], indexing="ij")
    )
    style = Style((15.0, 20.0, 26.0), (1.3, 1.5, 1.6), 0.2, 1.0, 1.5, (330e3, 300e3, 260e3), 6e-4)
    b = bearings(bore, row.astype(np.intp), style)
    n, hand = len(bore), np.where(support == Support.SIDE_ENTRY, int(Hand.RIGHT), int(Hand.NONE))
    return table(
        n,
        bore=bore,
        row_size=row,
        support=support,
        hand=hand,
        locating=np.arange(n) % 2 == 0,
        rollers=b.rollers,
        roller_diameter=b.diameter,
        roller_length=b.length,
        pitch_diameter=b.pitch,
        dynamic_rating=b.dynamic,
        static_rating=b.static,
        fatigue_limit=np.asarray(iso281_2007.fatigue_load_limit(b.static, b.pitch)),
        axial_capacity=b.axial,
        flange_height=0.09 * b.diameter,
        speed_limit=b.speed,
        length=b.ring_width + bore,
        width=3 * bore + 60,
        height=bore,
    )


@pytest.mark.parametrize("job", JOBS)
def test_the_whole_range_of_sizes_and_loads_runs_through_all_checks(job: str) -> None:
    # Warnings are errors in this project, so that a division by zero would show.
    made = every_size()
    assert (made.bore.min(), made.bore.max()) == pytest.approx((19 / 16 * INCH, 24 * INCH))
    for asked in needs(job):
        for factor in (0.0, 0.01, 1.0, 100.0):
            for bore in (made.bore.min(), 160.0, made.bore.max()):
                seat = Seat(Span(bore - 0.03, bore - 0.02, bore - 0.01), Span.of(0.005), bore)
                position = dataclasses.replace(asked.position, seat=seat)
                positions = tuple(
                    position if i == asked.index else p for i, p in enumerate(asked.job.positions)
                )
                moved = Need(dataclasses.replace(asked.job, positions=positions), asked.index, asked.duty)
                swept = sweep(scaled(moved, factor), made)
                fits = np.abs(made.bore - bore) < 1e-9
                assert (swept.verdict[0, fits] <= Verdict.TIGHT).all()
                assert (swept.verdict[0, ~fits] == Verdict.FAILS).all()
                choice_from(scaled(moved, factor), swept)


@cache
def with_holes() -> UnitTable:
    """A demo unit of 160 mm for each field that may be missing, with nothing in it, once locating and once not."""
    rows = units().take(np.abs(units().bore - 160.0) < 1e-6)
    both = [int(np.flatnonzero(rows.locating == role)[0]) for role in (False, True)]
    names = [
        f.name
        for f in dataclasses.fields(UnitTable)
        if f.name not in NEEDED and getattr(rows, f.name).dtype == np.float64
    ]
    made: list[Any] = []
    for r in both:
        for name in names:
            one = rows.row(r)
            made.append(dataclasses.replace(one, **{name: np.full_like(getattr(one, name), np.nan)}))
    return joined(made)


@pytest.mark.parametrize("job", JOBS)
def test_no_hole_in_a_table_ends_in_a_fault_or_a_silent_number(job: str) -> None:
    holes = with_holes()
    for asked in needs(job):
        seat = Seat(Span(159.95, 159.955, 159.96), Span.of(0.005), 160.0)
        positions = tuple(
            dataclasses.replace(p, seat=seat) if i == asked.index else p
            for i, p in enumerate(asked.job.positions)
        )
        moved = Need(dataclasses.replace(asked.job, positions=positions), asked.index, asked.duty)
        swept = sweep(moved, holes)
        for r in range(len(holes)):
            for f in findings(moved, swept, r):
                text = f"{f.reason} {f.details} {f.datum}"
                assert not {"nan", "inf"} & set(re.findall(r"[a-z]+", text)), text
                assert f.reason
                if f.verdict in (Verdict.NO_DATA, Verdict.OUTSIDE):
                    assert f.datum or f.verdict is Verdict.OUTSIDE, f
                    assert f.used is None
                if f.verdict in TOLD:
                    assert not f.datum


@pytest.mark.parametrize("job", JOBS)
def test_value_over_limit_is_the_use(job: str) -> None:
    """What is written beside a bar is what the bar shows, where one value stands against one limit."""
    plain = ("speed", "static safety", "minimum load", "room", "temperature", "rating life", "modified life")
    for asked in needs(job):
        swept = sweep(asked, units())
        near = np.flatnonzero(np.abs(units().bore - asked.nominal) < 1.0)
        for r in near.tolist():
            for i, check in enumerate(CHECKS):
                if check.name not in plain or swept.verdict[i, r] not in TOLD:
                    continue
                f = finding(
                    check, asked, units().row(r), int(swept.verdict[i, r]), swept.good[i, r], swept.bad[i, r]
                )
                if f.used is None or f.value is None or f.limit is None:
                    continue
                ends = (f.value.high / f.limit.likely, f.limit.likely / f.value.low)
                assert min(abs(e - f.used.high) for e in ends) < 1e-9 * max(f.used.high, 1.0), (check.name, f)
