"""The range over estimated places, dimensions and directions: by hand, against draws, and the same where nothing is open."""

from __future__ import annotations

from itertools import product
from typing import Any

import numpy as np
import pytest

from halfbore.domain.estimate import Dimension, Layout, Widening
from halfbore.domain.job import Job
from halfbore.intake.jobfile import read_job_data
from halfbore.selection.relax import with_value
from halfbore.shaftline.respond import respond
from halfbore.shaftline.widen import placed, respond_over
from halfbore.units import Span

G = 9.80665


def job(*loads: dict[str, Any], **shaft: Any) -> Job:
    data = {
        "format": 1,
        "title": "two bearings (invented)",
        "machine": {"name": "M", "kind": "plain shaft"},
        "shaft": {"segments": [{"length": "2000 mm", "diameter": "100 mm"}], "density": "500 kg/m³", **shaft},
        "loads": list(loads),
        "positions": [
            {"name": "A", "x": "200 mm", "role": "locating"},
            {"name": "B", "x": "1200 mm", "role": "non-locating"},
        ],
        "duty": [{"name": "on", "share": 1, "speed": "100 r/min"}],
    }
    return read_job_data(data).job


def force(size: str, x: str = "700 mm", direction: str = "down", name: str = "load") -> dict[str, Any]:
    return {"kind": "point load", "name": name, "x": x, "force": size, "direction": direction}


def layout(of: Job, a: float, load: float, b: float) -> Layout:
    return Layout((a, b), (load,), (0.0,), tuple((s.length, s.diameter) for s in of.shaft.segments))


def test_without_a_widening_it_is_the_plain_response() -> None:
    machine = job(force("8 kN to 12 kN"))
    assert respond_over(machine).reactions == respond(machine).reactions


def test_places_at_their_corners_by_the_lever_rule() -> None:
    machine = job(force("10 kN"))
    layouts = tuple(layout(machine, 200, x, 1200) for x in (450, 950))
    found = respond_over(machine, (), Widening(layouts)).reactions[0]
    own = respond(job(force("0 kN"))).reactions[0].y
    assert (found.low, found.high) == pytest.approx((2500 + own, 7500 + own), rel=1e-3)


def test_a_direction_that_nobody_knows_is_the_worst_one_and_may_cancel() -> None:
    machine = job(force("10 kN", direction="right"), {**force("0 kN", name="weight"), "mass": "300 kg"})
    turns = (("load", ((0.0, 2 * np.pi),)),)
    found = respond_over(machine, (), Widening((), (), turns)).reactions[0]
    own = respond(job({**force("0 kN"), "mass": "300 kg"})).reactions[0].y
    assert found.high == pytest.approx(5000 + own, rel=2e-3)
    assert found.low == 0.0  # the body is filled: what lies inside a ring counts as possible


def test_an_arc_reaches_as_far_as_its_ends_and_no_further() -> None:
    machine = job(force("10 kN", direction="right"), {**force("0 kN", name="weight"), "mass": "300 kg"})
    turns = (("load", ((-0.3, 0.3),)),)
    found = respond_over(machine, (), Widening((), (), turns)).reactions[0]
    own = respond(job({**force("0 kN"), "mass": "300 kg"})).reactions[0].y
    ends = [abs(5000 * np.exp(1j * t) + own * 1j) for t in (-0.3, 0.3)]
    assert (found.low, found.high) == pytest.approx((min(ends), max(ends)), rel=5e-3)


def test_a_dimension_widens_the_force_that_hangs_on_it() -> None:
    sheave = {
        "kind": "sheave",
        "name": "sheave",
        "x": "700 mm",
        "mass": "0 kg",
        "diameter": "500 mm",
        "direction": "up",
        "power": "10 kW",
    }
    found = respond_over(job(sheave), (), Widening((), (Dimension(0, "diameter", 400, 800),))).loads
    pull = next(x for x in found if x.name == "pull at sheave").force_y[0]
    speed = np.pi * 100 / 60
    assert pull[[0, 2]] == pytest.approx([1.5 * 10e3 / (0.8 * speed), 2.5 * 10e3 / (0.4 * speed)])


def test_no_draw_of_places_and_loads_lies_outside() -> None:
    machine = job(
        force("4 kN to 6 kN to 12 kN", direction="right"),
        {**force("0 kN", "1500 mm", name="mass"), "mass": "100 to 200 to 600 kg"},
    )
    boxes = [(150, 250), (500, 900), (1300, 1600), (1100, 1250)]
    shape = ((2000.0, 100.0),)
    layouts = tuple(
        Layout((float(a), float(b)), (float(x), float(m)), (0.0, 0.0), shape)
        for a, x, m, b in product(*boxes)
    )
    found = respond_over(machine, (), Widening(layouts)).reactions
    draw = np.random.default_rng(1)
    for _ in range(30):
        a, x, m, b = (draw.uniform(*box) for box in boxes)
        here = placed(machine, Layout((a, b), (x, m), (0.0, 0.0), shape))
        pull, mass = draw.uniform(4e3, 12e3), draw.uniform(100, 600)
        here = with_value(here, "loads[0].force", Span.of(pull))
        here = with_value(here, "loads[1].mass", Span.of(mass))
        drawn = respond(here).reactions
        for wide, one in zip(found, drawn, strict=True):
            size = np.hypot(one.y, one.z)
            assert wide.low * (1 - 1e-3) - 1 <= size <= wide.high * (1 + 1e-3)
