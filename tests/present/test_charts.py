"""Plans on one axis, savings, what moves them: drawn where the numbers are, nothing overlaps, nothing is cut."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from halfbore.domain.economics import Stop
from halfbore.domain.plan import Clock, Exposure, Hazard, Phase, Plan, Task, TaskTime, Way
from halfbore.domain.value import Estimate, Swing, Value
from halfbore.numbers import METRIC
from halfbore.present.gantt import gantt, plan_title
from halfbore.present.palette import LIGHT
from halfbore.present.svg import Group, Line, Pen, Rect, Shape, to_svg
from halfbore.present.value_charts import histogram, swing_words, tornado, turning_point
from halfbore.sources import Source
from halfbore.units import Span
from tests.present.drawn_texts import collisions, outside, texts

SOURCE = Source("hand")


def task(
    name: str,
    start: float,
    hours: float,
    persons: int = 2,
    slack: float = 0.0,
    hazards: tuple[Hazard, ...] = (),
) -> TaskTime:
    """Return a task at a time."""
    span = Span(0.5 * hours, hours, 2.0 * hours)
    done = Task(name, Phase.EXCHANGE, span, persons, hazards, (), SOURCE)
    return TaskTime(done, (), start, start + hours, slack, 0.5)


def plan(way: Way, tasks: tuple[TaskTime, ...], stretch: float = 1.0) -> Plan:
    """Return a plan whose outage ends about when its last task does."""
    end = max(t.finish for t in tasks) * stretch
    out = Clock("outage", 0.9 * end, 1.1 * end, 1.4 * end)
    exposed = (Exposure(Hazard.STORED_ENERGY, 2.1, 4.2), Exposure(Hazard.HOT_WORK, 1.2, 2.4))
    return Plan("A", way, Stop.PLANNED, False, tasks, (), out, out, out, out, exposed, (), ())


ONE = plan(
    Way.ONE_PIECE,
    (
        task("Wait for the isolation", 0.0, 1.0, persons=0),
        task("Lock out", 1.0, 0.5, hazards=(Hazard.STORED_ENERGY,)),
        task("A name of a task that is much too long for the column of names of the chart", 1.5, 9.0),
        task("Meanwhile", 1.5, 2.0, slack=3.0),
    ),
)
SPLIT = plan(Way.SPLIT_FIRST, (task("Lock out", 0.0, 0.5), task("Cut", 0.5, 3.0, hazards=(Hazard.HOT_WORK,))))


def rects(shapes: tuple[Shape, ...]) -> list[Rect]:
    """Return all rectangles, those in groups too."""
    found: list[Rect] = []
    for s in shapes:
        found += rects(s.shapes) if isinstance(s, Group) else [s] if isinstance(s, Rect) else []
    return found


def test_both_plans_share_one_axis() -> None:
    bars = [r for r in rects(gantt((ONE, SPLIT)).shapes) if r.height == 8.0]
    long = next(r for r in bars if r.fill == LIGHT.ink3 and r.width > 100.0)
    cut = next(r for r in bars if r.fill == LIGHT.answers and r.width > 50.0)
    assert long.width / cut.width == pytest.approx(9.0 / 3.0, rel=1e-6)


def test_a_chart_of_plans_is_readable() -> None:
    svg = to_svg(gantt((ONE, SPLIT)))
    told = [t for t, _ in texts(svg)]
    assert collisions(svg) == [] and outside(svg) == []
    assert "product on 9.4 to 15\u00a0h" in told and "2.1\u00a0h, 4.2 person-h" in told
    assert plan_title(replace(ONE, seized=True)) == "one-piece bearing, after a seizure"


def test_many_tasks_take_less_height_each() -> None:
    tasks = tuple(task(f"Task {i}", float(i), 1.0) for i in range(30))
    crowded = (plan(Way.ONE_PIECE, tasks), plan(Way.SPLIT_FIRST, tasks))
    assert gantt(crowded, height=850.0).height <= 850.0 < gantt(crowded).height
    assert outside(to_svg(gantt(crowded, height=850.0))) == []


def value(saving: Estimate, edges: tuple[float, float], **changes: object) -> Value:
    """Return a value with a histogram between two edges."""
    hours = Estimate(1.0, 2.0, 3.0, 2.0)
    grid = np.linspace(*edges, 21)
    middles = 0.5 * (grid[1:] + grid[:-1])
    spread = max(edges[1] - edges[0], 1.0)
    counts = np.exp(-(((middles - saving.p50) / (0.25 * spread)) ** 2)) * 1000
    swings = (
        Swing("one-piece change", 13.0, 23.0, saving.p10, saving.p90, "h"),
        Swing("cost of lost production", 1500.0, 2100.0, saving.p50, saving.p90, "EUR/h"),
        Swing("share of changes in stops taken anyway, a long name", 0.3, 0.5, saving.p90, saving.p50, ""),
    )
    made = Value(
        "A", "EUR", 87_600.0, saving, saving, (), 1.0, hours, hours, hours, hours, (55.0, 37.0), 0.59, 7.8, 560.0,
        0.0, float("nan"), (1300.0, 2600.0), (hours, hours), (), swings, (), grid, counts, 1, 20_000, (), (), "", "",
    )  # fmt: skip
    return replace(made, **changes)  # type: ignore[arg-type]


CASES = [
    value(Estimate(-19e3, 3.7e3, 37e3, 7.2e3), (-52e3, 92e3)),
    value(Estimate(38e3, 210e3, 450e3, 230e3), (-130e3, 830e3), chance=0.95),
    value(Estimate(-36e3, -17e3, -1.9e3, -18e3), (-60e3, -0.5e3), chance=0.0),
    value(Estimate(5e6, 5.1e6, 5.2e6, 5.1e6), (4.9e6, 5.3e6), chance=1.0),
    value(Estimate(-3.0, 0.4, 2.0, 0.1), (-5.0, 4.0), chance=0.5),
]


@pytest.mark.parametrize("case", CASES)
def test_savings_are_drawn_without_overlap(case: Value) -> None:
    for drawing in (histogram(case), tornado(case), tornado(case, width=680.0), turning_point(case)):
        assert drawing is not None
        assert collisions(to_svg(drawing)) == []
        assert outside(to_svg(drawing)) == []


def test_what_loses_money_is_left_of_zero_in_its_own_colour() -> None:
    case = CASES[0]
    bars = [r for r in rects(histogram(case).shapes) if r.fill in (LIGHT.past, LIGHT.answers)]
    losing = [r for r in bars if r.fill == LIGHT.past]
    middles = 0.5 * (case.edges[1:] + case.edges[:-1])
    assert len(losing) == int((middles < 0).sum()) and len(bars) == 20
    assert max(r.left for r in losing) < min(r.left for r in bars if r.fill == LIGHT.answers)
    assert "loses 41\u00a0%" in [t for t, _ in texts(to_svg(histogram(case)))]


def test_no_loss_is_not_written_as_zero_percent() -> None:
    assert not [t for t, _ in texts(to_svg(histogram(CASES[3]))) if t.startswith("loses")]


@pytest.mark.parametrize("low", [-400.0, -2e3, -20e3])
def test_the_part_that_loses_is_told_clear_of_the_zero_line(low: float) -> None:
    drawing = histogram(value(Estimate(21e3, 60e3, 120e3, 66e3), (low, 160e3), chance=0.98))
    (label,) = [box for t, box in texts(to_svg(drawing)) if t.startswith("loses")]
    (group,) = [s for s in drawing.shapes if isinstance(s, Group)]
    zero = next(s for s in group.shapes if isinstance(s, Line) and s.pen == Pen(LIGHT.ink, 1.8)).start[0]
    assert label.right <= zero or label.left >= zero


def test_a_tornado_says_each_range_with_its_unit() -> None:
    case = CASES[0]
    assert [swing_words(s) for s in case.swings] == [
        "13 to 23\u00a0h",
        "1\u202f500 to 2\u202f100\u00a0€/h",
        "30 to 50\u00a0%",
    ]
    open_, solid = [r for r in rects(tornado(case).shapes) if 17.0 < r.top < 34.0]
    assert open_.fill == LIGHT.sheet and solid.fill == LIGHT.answers and open_.left < solid.left


def test_where_it_turns_stands_against_what_the_plant_says() -> None:
    drawing = turning_point(CASES[0])
    assert drawing is not None
    assert drawing.description == (
        "The saving turns at 560\u00a0€/h; the plant says 1\u202f300 to 2\u202f600\u00a0€/h."
    )


@pytest.mark.parametrize("breakeven", [0.0, float("nan")])
def test_no_turning_point_no_chart(breakeven: float) -> None:
    assert turning_point(replace(CASES[0], breakeven=breakeven), style=METRIC) is None
