"""What a full survey found of ten invented machines lies inside what their plates alone give; measuring never widens."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.domain.estimate import Estimate
from halfbore.domain.job import JobReading
from halfbore.domain.shaftline import ShaftResponse
from halfbore.estimate.measured import measured
from halfbore.estimate.reading import read_completed
from halfbore.estimate.spans import text_of
from halfbore.shaftline.widen import respond_over
from halfbore.units import Span
from tests.estimate.machines import MACHINES


@cache
def reading(name: str) -> JobReading:
    return read_completed(MACHINES[name].data(name))


@cache
def response(name: str) -> ShaftResponse:
    return respond_over(reading(name).job, (), reading(name).widening)


def estimate(name: str, path: str) -> Estimate:
    return next(e for e in reading(name).estimates if e.path == path)


VALUES = [(name, path) for name, m in MACHINES.items() for path in m.values]


@pytest.mark.parametrize(("name", "path"), VALUES)
def test_the_surveyed_value_lies_inside_its_estimate(name: str, path: str) -> None:
    truth, span = MACHINES[name].values[path], estimate(name, path).span
    assert span is not None
    if path.endswith(".x"):
        truth += min(e.span.likely for e in reading(name).estimates if e.path.endswith(".x") and e.span)
    assert span.low <= truth <= span.high


LOADS = [(name, load) for name, m in MACHINES.items() for load in m.loads]


@pytest.mark.parametrize(("name", "load"), LOADS)
def test_the_surveyed_force_lies_inside_what_power_and_size_give(name: str, load: str) -> None:
    found = next(x for x in response(name).loads if x.name == load)
    sizes = np.hypot(np.hypot(found.force_y, found.force_z), found.axial)[0]
    assert min(sizes) <= MACHINES[name].loads[load] <= max(sizes)


REACTIONS = [(name, i) for name, m in MACHINES.items() for i in range(len(m.reactions))]


@pytest.mark.parametrize(("name", "index"), REACTIONS)
def test_the_reaction_of_the_full_survey_lies_inside_the_estimated_range(name: str, index: int) -> None:
    found = response(name).reactions[index]
    assert found.low <= MACHINES[name].reactions[index] <= found.high


def test_every_filled_value_has_its_estimate() -> None:
    for name, machine in MACHINES.items():
        said = {a.path for a in reading(name).assumptions}
        typed = set(reading(name).typed)
        assert not said & typed
        frame = reading(name).frame
        for e in reading(name).estimates:
            assert e.text and e.why and e.source.status, e.path
        assert frame["machine"]["name_plate"].items() >= machine.plate.items()


MEASURABLE = [
    (name, e.path) for name in MACHINES for e in reading(name).estimates if e.span is not None or e.arcs
]
WEIGHT = 0.04
"""Part of the range that the shaft's own weight may add: it goes with the square of a length, which the corners of the
places do not bound."""


def typed(e: Estimate, part: float) -> str:
    """Return a value inside an estimate, as it would be typed."""
    if e.arcs:
        low, high = e.arcs[int(part * len(e.arcs)) % len(e.arcs)]
        return f"{math.degrees(low + part * (high - low)) % 360:.6g} deg"
    assert e.span is not None and e.kind is not None
    return text_of(Span.of(float(f"{e.span.low + part * (e.span.high - e.span.low):.9g}")), e.kind)


@given(st.sampled_from(MEASURABLE), st.integers(0, 100).map(lambda n: n / 100))
def test_a_value_inside_its_estimate_never_widens_a_reaction(which: tuple[str, str], part: float) -> None:
    name, path = which
    value = typed(estimate(name, path), part)
    known = read_completed(measured(reading(name).frame, path, value))
    after = respond_over(known.job, (), known.widening).reactions
    for old, new in zip(response(name).reactions, after, strict=True):
        assert new.high <= old.high + WEIGHT * old.high, (path, value)
        assert new.low >= old.low - WEIGHT * old.high, (path, value)
