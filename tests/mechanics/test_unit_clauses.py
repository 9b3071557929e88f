"""What holds for every clause of the split unit: numbers and columns, missing data, named sources."""

from __future__ import annotations

from types import ModuleType

import numpy as np
import pytest

from halfbore.errors import InputError
from halfbore.mechanics import (
    axial,
    axial_travel,
    bolts,
    clearance_choice,
    lift,
    lubrication,
    ring_joint,
    seals,
    shaft_seat,
    speed,
    supports,
    tilt,
)
from halfbore.standards import niosh_1991
from halfbore.working import working

MODULES = (
    axial,
    axial_travel,
    bolts,
    clearance_choice,
    lift,
    lubrication,
    niosh_1991,
    ring_joint,
    seals,
    shaft_seat,
    speed,
    supports,
    tilt,
)


def _clauses(module: ModuleType) -> list:
    return [c for c in vars(module).values() if hasattr(c, "formula") and c.__module__ == module.__name__]


ALL = [
    pytest.param(c, id=f"{c.__module__.split('.')[-1]}.{c.__name__}") for m in MODULES for c in _clauses(m)
]
WITH_FORMULA = [p for p in ALL if p.values[0].formula]


def _columns(function, rows: int) -> dict[str, np.ndarray]:
    random = np.random.default_rng(len(function.formula))
    columns = {name: random.uniform(0.2, 3.0, rows) for name in function.names.parameters}
    return columns | ({"pitch": columns["pitch"] / 20.0} if "pitch" in columns else {})


@pytest.mark.parametrize("function", WITH_FORMULA)
def test_numbers_in_a_number_out_and_the_same_as_in_a_column(function):
    given = _columns(function, 7)
    column = function(**given)
    assert column.shape == (7,)
    for i in range(7):
        single = function(**{name: float(values[i]) for name, values in given.items()})
        assert not isinstance(single, np.ndarray)
        np.testing.assert_allclose(single, column[i], rtol=1e-14, atol=1e-15)


@pytest.mark.parametrize("function", ALL)
def test_the_second_line_of_the_help_names_the_source(function):
    place = function.__doc__.split("\n\n")[1].splitlines()[0].strip()
    title = function.source.title
    assert place.split(",")[0] in title or title.split(",")[0] in place


@pytest.mark.parametrize("function", WITH_FORMULA)
def test_a_missing_datum_gives_no_number(function):
    needed = [p.name for p in function.names.parameters.values() if p.default is p.empty]
    for name in needed:
        given = {n: float(v[0]) for n, v in _columns(function, 1).items()}
        assert np.isnan(function(**{**given, name: np.nan})), name


@pytest.mark.parametrize(
    ("function", "given", "named"),
    [
        (bolts.stress_area, {"d": 10.0, "pitch": 10.0}, "pitch"),
        (bolts.preload_from_torque, {"T": 1e5, "d": 0.0}, "d"),
        (tilt.height_slope, {"height_error": 1.0, "span": 0.0}, "span"),
        (axial.flange_pressure, {"F_a": np.array([1.0, -1.0]), "z": 8.0, "area": 30.0}, "F_a"),
        (axial.end_load_change, {"M": 1.0, "L_we": 0.0}, "L_we"),
        (ring_joint.half_load_zone, {"F_r": -1.0, "s": 0.0, "Z": 14, "stiffness": 1e5}, "F_r"),
        (supports.bolt_tension, {"F": 1.0, "direction": 0.0, "height": 1.0, "spacing": 0.0}, "spacing"),
        (shaft_seat.clamp_force_least, {"F_v": -1.0}, "F_v"),
        (seals.surface_speed, {"d": -140.0, "n": 990.0}, "d"),
        (lift.lift_needed, {"stick_out": -1.0, "lip": 0.0, "clearance": 0.0}, "stick_out"),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_what_cannot_be_is_refused_by_name(function, given, named):
    with pytest.raises(InputError) as refused:
        function(**given)
    assert named in {problem.where for problem in refused.value.problems}


def test_a_listener_hears_a_step_with_its_source():
    with working() as steps:
        shaft_seat.joint_gap(0.5, -0.1)
    assert [s.name for s in steps] == ["joint_gap"]
    assert steps[0].given == {"gap": 0.5, "deviation": -0.1}
