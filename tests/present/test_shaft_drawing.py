"""The shaft line to scale: nothing overlaps, nothing is cut, every reaction stands there as it was solved."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.demo.suppliers import load
from halfbore.domain.job import Job
from halfbore.domain.machine import Drum, FanWheel, Load, PointLoad, Segment
from halfbore.domain.position import Position, Role
from halfbore.domain.shaftline import ShaftResponse
from halfbore.domain.unit import UnitTable
from halfbore.errors import InputError
from halfbore.intake.jobfile import read_job_text
from halfbore.numbers import INCH, METRIC, Style, write
from halfbore.present.frame import UnitSize, frame_of, nice, nice_quantity
from halfbore.present.shaft_drawing import shaft_drawing, shaft_drawings
from halfbore.present.shaft_forces import acting, holding, load_words, main_condition, reaction_words
from halfbore.present.svg import to_svg
from halfbore.shaftline.respond import respond
from halfbore.units import Kind, Span
from tests.present.drawn_texts import collisions, outside, texts
from tests.samples_jobs import JOBS

NAMES = ("fan", "head_shaft", "line_shaft")


@cache
def solved(name: str) -> tuple[Job, ShaftResponse]:
    """Return a demo job with its solved shaft line."""
    job = read_job_text((JOBS / f"{name}.toml").read_text()).job
    return job, respond(job)


@cache
def unit() -> UnitTable:
    """Return some unit of a demo catalogue."""
    units = load("first").units
    return units.row(int(np.argmin(np.abs(units.bore - 150.0))))


def units_of(job: Job) -> dict[str, UnitTable]:
    """Return that unit for every position."""
    return {p.name: unit() for p in job.positions}


@cache
def five() -> tuple[Job, ShaftResponse]:
    """Return a line shaft on five supports, two of them close together, with names that do not end."""
    job, _ = solved("line_shaft")
    xs = (200.0, 1800.0, 3500.0, 4000.0, 5100.0)
    bases: list[Position] = [*job.positions[:3], job.positions[2], job.positions[3]]
    names = [f"bearing number {i} of the line shaft behind the palletiser, north side" for i in range(5)]
    positions = tuple(replace(p, name=n, x=x) for p, n, x in zip(bases, names, xs, strict=True))
    loads = tuple(
        replace(load, name=f"{load.name} with a name that goes on and on and on") for load in job.loads
    )
    longer = replace(job, positions=positions, loads=loads)
    return longer, respond(longer)


def case(name: str) -> tuple[Job, ShaftResponse]:
    """Return a demo job or the one on five supports."""
    return five() if name == "five" else solved(name)


@pytest.mark.parametrize("name", [*NAMES, "five"])
@pytest.mark.parametrize("style", [METRIC, INCH])
@pytest.mark.parametrize("split", [True, False])
def test_labels_never_collide_and_nothing_is_cut(name: str, style: Style, split: bool) -> None:
    job, response = case(name)
    for drawing in shaft_drawings(job, response, units_of(job) if split else {}, style):
        svg = to_svg(drawing)
        assert collisions(svg) == []
        assert outside(svg) == []


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("width", [560.0, 660.0, 900.0])
def test_other_widths_do_not_break_it(name: str, width: float) -> None:
    job, response = case(name)
    svg = to_svg(shaft_drawing(job, response, units_of(job), width=width))
    assert collisions(svg) == [] and outside(svg) == []


def test_an_upright_load_shows_its_reactions() -> None:
    job, response = solved("fan")
    told = [t for t, _ in texts(to_svg(shaft_drawing(job, response, {})))]
    for force in holding(response, main_condition(response)):
        assert write(force.size, Kind.FORCE) in told
    assert not [t for t in told if t.startswith("from above")]


@pytest.mark.parametrize("name", ["head_shaft", "line_shaft", "five"])
def test_a_sideways_load_is_seen_from_above_with_the_whole_reaction(name: str) -> None:
    job, response = case(name)
    told = [t for t, _ in texts(to_svg(shaft_drawing(job, response, units_of(job))))]
    condition = response.curves[main_condition(response)].condition
    assert [t for t in told if t.startswith("from above")]
    for r in response.reactions:
        if r.condition == condition:
            assert [t for t in told if t.endswith(f": {reaction_words(r)}")]


def test_the_drawing_is_described() -> None:
    job, response = solved("head_shaft")
    drawing = shaft_drawing(job, response, units_of(job))
    assert "gear unit at 170\u00a0mm and head drum at 1\u202f300\u00a0mm" in drawing.description
    assert "C1-A at 600\u00a0mm, split unit, 36.9\u00a0kN, right, 9° up" in drawing.description


def test_both_directions_have_one_scale() -> None:
    job, _ = solved("head_shaft")
    frame = frame_of(job, [UnitSize(200.0, 150.0, 200.0)] * 2, 680.0, 16.0, 300.0)
    [drum] = [load for load in job.loads if isinstance(load, Drum)]
    assert drum.face is not None
    across = frame.x(drum.x + drum.face / 2) - frame.x(drum.x - drum.face / 2)
    assert across / frame.size(drum.diameter) == pytest.approx(drum.face / drum.diameter)


def test_smaller_drawings_are_less_tall() -> None:
    job, response = solved("fan")
    heights = [d.height for d in shaft_drawings(job, response, units_of(job))]
    assert heights == sorted(heights, reverse=True) and heights[-1] < 0.7 * heights[0]
    assert shaft_drawing(job, response, units_of(job), height=heights[2] + 1.0).height == heights[2]


def test_forces_at_one_place_are_one_arrow_and_words_tell_the_parts() -> None:
    _, response = solved("head_shaft")
    condition = main_condition(response)
    assert response.curves[condition].condition == "loaded"
    gear = [f for f in acting(response, condition) if f.part == "gear unit"]
    assert len(gear) == 1 and gear[0].y == pytest.approx(9_450.0 - 780.0 * 9.80665, abs=0.01)
    told = load_words(response, "head drum", condition)
    assert told[1:] == ("tight strand 39.9\u00a0kN left", "slack strand 21.0\u00a0kN left")


def test_turning_and_unsteady_loads_are_said_to_be_so() -> None:
    _, response = solved("fan")
    condition = main_condition(response)
    assert "unbalance 3.31\u00a0kN turning" in load_words(response, "fan wheel", condition)
    assert "reaction 220\u00a0N any way" in load_words(response, "coupling", condition)


@pytest.mark.parametrize(
    ("value", "found"), [(1.0, 1.0), (9.99, 5.0), (0.034, 0.02), (2000.0, 2000.0), (47.0, 20.0)]
)
def test_nice_numbers(value: float, found: float) -> None:
    assert nice(value) == pytest.approx(found)


def test_bars_are_nice_in_the_unit_that_is_shown() -> None:
    assert write(nice_quantity(9_000.0, Kind.FORCE, INCH), Kind.FORCE, INCH) == "2\u202f000\u00a0lbf"
    assert nice_quantity(9_000.0, Kind.FORCE, METRIC) == pytest.approx(5_000.0)


def parts() -> tuple[Load, ...]:
    """Return every part of the demo machines, and a point load without a size."""
    found = [load for name in NAMES for load in solved(name)[0].loads]
    return (*found, PointLoad("a weight", 0.0, mass=Span.of(50.0)))


@given(
    st.lists(st.tuples(st.sampled_from(range(7)), st.floats(0.0, 1.0)), max_size=7),
    st.lists(st.floats(0.02, 0.98), min_size=2, max_size=6, unique=True),
    st.sampled_from([300.0, 1200.0, 5300.0]),
    st.sampled_from([35.0, 112.7, 600.0]),
)
def test_any_machine_can_be_drawn(
    placed: list[tuple[int, float]], supports: list[float], length: float, diameter: float
) -> None:
    job, _ = solved("line_shaft")
    known = parts()
    loads = tuple(
        replace(known[i % len(known)], name=f"{known[i % len(known)].name} {n}", x=x * length)
        for n, (i, x) in enumerate(placed)
    )
    roles = [Role.LOCATING, *[Role.NON_LOCATING] * (len(supports) - 1)]
    positions = tuple(
        replace(job.positions[0], name=f"P-{n}", x=x * length, role=role)
        for n, (x, role) in enumerate(zip(sorted(supports), roles, strict=True))
    )
    shaft = replace(
        job.shaft, segments=(Segment(0.4 * length, diameter), Segment(0.6 * length, 1.2 * diameter))
    )
    machine = replace(job, shaft=shaft, loads=loads, positions=positions)
    try:
        response = respond(machine)
    except InputError:
        return
    for drawing in shaft_drawings(machine, response, units_of(machine)):
        assert drawing.height < 3000.0
    svg = to_svg(drawing)
    assert collisions(svg) == [] and outside(svg) == []


@pytest.mark.parametrize("width", [560.0, 680.0])
def test_a_large_wheel_on_a_short_shaft_is_broken_off_and_says_so(width: float) -> None:
    job, _ = solved("fan")
    loads = tuple(
        replace(load, diameter=6_000.0) if isinstance(load, FanWheel) else load for load in job.loads
    )
    large = replace(job, loads=loads)
    response = respond(large)
    for drawing in shaft_drawings(large, response, units_of(large), width=width):
        svg = to_svg(drawing)
        assert "broken off, Ø6\u202f000\u00a0mm" in [t for t, _ in texts(svg)]
        assert collisions(svg) == [] and outside(svg) == []
    frame = frame_of(large, [UnitSize(200.0, 150.0, 200.0)] * 2, width, 16.0, 300.0)
    assert frame.size(sum(s.length for s in large.shaft.segments)) > 0.6 * width
    assert frame.size(2 * frame.reach) <= 300.0 * (1 + 1e-9)
