"""Whatever is measured, the truth of all that is not yet measured stays inside its range.

For the plate alone, for every value alone, for all of them and for some drawn sets of two and more.
"""

from __future__ import annotations

import random
from functools import cache

import numpy as np
import pytest

from halfbore.domain.estimate import Estimate
from halfbore.domain.job import JobReading
from halfbore.domain.shaftline import ShaftResponse
from halfbore.estimate.measured import measured
from halfbore.estimate.reading import read_completed
from halfbore.estimate.spans import text_of
from halfbore.shaftline.widen import respond_over
from halfbore.units import Kind, Span
from tests.estimate.machines import MACHINES

DRAWN = 2
"""Sets drawn for each machine with every run; the long run draws more."""
DRAWN_LONG = 30
WRITTEN = 0.5
"""Places are written in whole millimetres."""
CLOSE = 1e-3
"""Part by which a range may miss: its farthest point is missed by 0.04 %, estimates are written with three digits."""

Subset = tuple[str, ...]


def singles(name: str) -> list[Subset]:
    return [(), *((v,) for v in MACHINES[name].values), tuple(MACHINES[name].values)]


def drawn(name: str, count: int) -> list[Subset]:
    values, draw = list(MACHINES[name].values), random.Random(name)
    return [tuple(draw.sample(values, draw.randint(2, len(values) - 1))) for _ in range(count)]


@cache
def plain(name: str) -> JobReading:
    return read_completed(MACHINES[name].data(name))


def first_place(estimates: tuple[Estimate, ...]) -> float:
    return min((e.span.likely for e in estimates if e.path.endswith(".x") and e.span), default=0.0)


def known(name: str, subset: Subset) -> JobReading:
    """Return a machine of which its plate and some of the truth are known."""
    kinds = {e.path: e.kind for e in plain(name).estimates}
    frame = plain(name).frame
    for path in subset:
        value = MACHINES[name].values[path] + (
            first_place(plain(name).estimates) if path.endswith(".x") else 0
        )
        frame = measured(frame, path, text_of(Span.of(value), kinds[path] or Kind.NUMBER))
    return read_completed(frame)


def check_values(name: str, subset: Subset, reading: JobReading, begin: float) -> None:
    for e in reading.estimates:
        if e.path in MACHINES[name].values and e.span is not None:
            truth = MACHINES[name].values[e.path] + (begin if e.path.endswith(".x") else 0.0)
            assert e.span.low - WRITTEN <= truth <= e.span.high + WRITTEN, (subset, e.path)


@cache
def surveyed(name: str, begin: float) -> ShaftResponse:
    """Return the shaft of the full survey: nothing of it is an estimate that a reaction rests on."""
    machine = MACHINES[name]
    last = max(x for path, x in machine.values.items() if path.endswith(".x"))
    frame = plain(name).frame
    kinds = {e.path: e.kind for e in plain(name).estimates}
    for path, value in machine.values.items():
        at = value + (begin if path.endswith(".x") else 0.0)
        frame = measured(frame, path, text_of(Span.of(at), kinds[path] or Kind.NUMBER))
    size = machine.values["shaft.segments[0].diameter"]
    frame = measured(frame, "shaft.segments[0].length", f"{begin + last + size} mm")
    for path, typed in machine.rest.items():
        frame = measured(frame, path, typed)
    return respond_over(read_completed(frame).job)


def check_response(name: str, subset: Subset, response: ShaftResponse, truth: ShaftResponse) -> None:
    loads = {x.name: x for x in response.loads}
    for part, size in MACHINES[name].loads.items():
        sizes = np.hypot(np.hypot(loads[part].force_y, loads[part].force_z), loads[part].axial)[0]
        assert min(sizes) <= size <= max(sizes), (subset, part)
    for found, true in zip(response.reactions, truth.reactions, strict=True):
        assert found.low <= true.low * (1 + CLOSE), (subset, found.position)
        assert true.high <= found.high * (1 + CLOSE), (subset, found.position)
        assert found.axial_low <= true.axial <= found.axial_high, (subset, found.position)
    for duty, true_duty in zip(response.duties, truth.duties, strict=True):
        assert (duty.slope_low <= true_duty.slope_low * (1 + CLOSE)).all(), (subset, duty.name)
        assert (true_duty.slope_high <= duty.slope_high * (1 + CLOSE)).all(), (subset, duty.name)


def check(name: str, subsets: list[Subset]) -> None:
    for subset in subsets:
        reading = known(name, subset)
        placed = any(path.endswith(".x") for path in subset)
        begin = first_place((plain(name) if placed else reading).estimates)
        check_values(name, subset, reading, begin)
        check_response(name, subset, respond_over(reading.job, (), reading.widening), surveyed(name, begin))


@pytest.mark.parametrize("name", MACHINES)
def test_measuring_any_part_of_the_truth_never_loses_the_rest(name: str) -> None:
    check(name, singles(name) + drawn(name, DRAWN))


@pytest.mark.long  # 30 sets of each machine take a minute
@pytest.mark.parametrize("name", MACHINES)
def test_no_set_of_measurements_loses_the_rest(name: str) -> None:
    check(name, drawn(name, DRAWN_LONG))


def test_a_jackshaft_with_its_sheaves_measured_keeps_its_reactions() -> None:
    check("K1", [("loads[sheave 1].diameter", "loads[sheave 2].diameter")])
