"""Elevator, paddles, screw, tail drum and jackshaft to scale: nothing overlaps, and each shows what it is."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from halfbore.demo.suppliers import load
from halfbore.domain.job import Job
from halfbore.domain.machine import ElevatorDrum, Paddles, ScrewFlight
from halfbore.domain.shaftline import ShaftResponse
from halfbore.numbers import INCH, METRIC, Style
from halfbore.present.frame import Frame, extent_of
from halfbore.present.palette import LIGHT
from halfbore.present.shaft_bed_parts import MOST_TURNS
from halfbore.present.shaft_drawing import shaft_drawing, shaft_drawings
from halfbore.present.shaft_forces import acting, load_words, take_ups
from halfbore.present.shaft_parts import behind, on_shaft
from halfbore.present.svg import to_svg
from halfbore.shaftline.respond import respond
from tests.docs.pages import Machine
from tests.present.drawn_texts import collisions, outside, texts

PAGES = [
    ("bucket-elevator", 0),
    ("bucket-elevator", 1),
    ("paddle-shaft", 0),
    ("screw", 0),
    ("tail-drum", 0),
    ("jackshaft", 0),
    ("hot-shaft", 0),
]


@cache
def solved(name: str, nth: int = 0) -> tuple[Job, ShaftResponse]:
    machine = Machine(name, nth)
    return machine.job, machine.found


def told(name: str, nth: int = 0) -> list[str]:
    job, response = solved(name, nth)
    return [text for text, _ in texts(to_svg(shaft_drawing(job, response, {})))]


@pytest.mark.parametrize(("name", "nth"), PAGES)
@pytest.mark.parametrize("style", [METRIC, INCH])
@pytest.mark.parametrize("split", [True, False])
def test_labels_never_collide_and_nothing_is_cut(name: str, nth: int, style: Style, split: bool) -> None:
    job, response = solved(name, nth)
    units = {p.name: load("first").units.row(0) for p in job.positions} if split else {}
    for drawing in shaft_drawings(job, response, units, style):
        svg = to_svg(drawing)
        assert collisions(svg) == []
        assert outside(svg) == []


def test_the_take_up_is_drawn_where_it_can_be_seen() -> None:
    assert "take-up 12.0\u00a0kN" in told("bucket-elevator", 1)
    assert "take-up 19.0\u00a0kN" in told("tail-drum")
    assert "take-up 12.0\u00a0kN" not in told("bucket-elevator", 0)


def test_a_take_up_acts_against_its_strands() -> None:
    (boot,) = take_ups(*solved("bucket-elevator", 1), 0)
    assert (boot.y, boot.z) == pytest.approx((-12e3, 0.0), abs=1e-6)
    (tail,) = take_ups(*solved("tail-drum"), 0)
    assert (tail.y, tail.z) == pytest.approx((0.0, -19e3), abs=1e-6)
    assert take_ups(*solved("bucket-elevator", 0), 0) == ()


def test_a_spread_load_keeps_its_length_for_its_arrows() -> None:
    _, response = solved("paddle-shaft")
    (force,) = [f for f in acting(response, 0) if f.part == "paddles"]
    assert force.length == 2400.0
    assert [f.length for f in acting(response, 0) if f.part == "gear unit"] == [0.0]


def test_loads_are_told_without_the_name_of_their_part() -> None:
    _, response = solved("bucket-elevator", 0)
    words = load_words(response, "head drum", 0)
    assert [w.split(" 5")[0].split(" 1")[0].split(" 2")[0] for w in words] == [
        "weight",
        "weight of belt",
        "load lifted",
        "take-up",
    ]


FRAME = Frame(width=680.0, left=0.0, scale=0.1, start=0.0)


def shapes(name: str, kind: type, nth: int = 0, **changes: Any) -> int:
    """Return how many shapes a part is drawn with."""
    job, _ = solved(name, nth)
    part = next(x for x in job.loads if isinstance(x, kind))
    changed = replace(part, **changes)
    return len(behind(changed, job.shaft, FRAME, LIGHT)) + len(on_shaft(changed, job.shaft, FRAME, LIGHT))


def test_a_flight_has_two_half_turns_for_each_pitch() -> None:
    assert shapes("screw", ScrewFlight, pitch=360.0) == 20
    assert shapes("screw", ScrewFlight, pitch=5.0) <= 2 * MOST_TURNS + 1
    assert shapes("screw", ScrewFlight, pitch=None, diameter=450.0) == 20


@pytest.mark.parametrize("length", [1.0, 400.0, 2400.0])
def test_paddles_are_drawn_whatever_their_length(length: float) -> None:
    count = shapes("paddle-shaft", Paddles, length=length)
    assert 6 <= count <= 34


def test_a_drum_with_a_belt_has_more_to_it_than_its_shell() -> None:
    assert (
        shapes("bucket-elevator", ElevatorDrum)
        == shapes("tail-drum", object_of("tail-drum"), hub_spacing=0.0) + 2
    )


def object_of(name: str) -> type:
    return type(solved(name)[0].loads[0])


def test_what_reaches_along_the_shaft_takes_its_length() -> None:
    job, _ = solved("screw")
    flight = next(x for x in job.loads if isinstance(x, ScrewFlight))
    assert (extent_of(flight, job.shaft).left, extent_of(flight, job.shaft).right) == (700.0, 4300.0)


@pytest.mark.parametrize("direction", [0.0, 1.5708])
def test_a_push_that_is_up_or_level_is_drawn_too(direction: float) -> None:
    job, _ = solved("paddle-shaft")
    part = next(x for x in job.loads if isinstance(x, Paddles))
    pushed = replace(job, loads=(job.loads[0], replace(part, push_direction=direction)))
    svg = to_svg(shaft_drawing(pushed, respond(pushed), {}))
    assert collisions(svg) == [] and outside(svg) == []
