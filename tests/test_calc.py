"""Every calculation alone: described in full, answers its example, reads text and numbers alike, refuses well."""

from __future__ import annotations

import contextlib
import math
import re
import subprocess
import sys
from typing import Any

import jsonschema
import pytest

from halfbore import calc
from halfbore.calc.described import unit_of
from halfbore.calc.reading import plain_input
from halfbore.calc.table import ENTRIES, SECTIONS
from halfbore.domain.fields import fields_of
from halfbore.errors import InputError
from tests.test_formulas import CLAUSES

NAMES = calc.names()


def bare(value: Any) -> Any:
    """Return a result as plain values that compare equal where numbers do, also where there is none."""
    return repr(value)


def test_names_are_trade_words_and_stand_once() -> None:
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name) for name in NAMES)
    assert len(NAMES) == sum(map(len, SECTIONS.values())) > 150


NOT_ALONE = {
    "governing_travel": "gives a row number",
    "smallest_group": "gives a row number",
    "swing": "asks for a force and what is beside it, which only a solved shaft line gives",
}
"""Clauses that make no sense by themselves, and why."""


def test_every_clause_is_a_calculation_or_at_work_in_one() -> None:
    heard = {step.name for name in NAMES for step in calc.calculate(name, calc.example(name)).steps}
    heard |= {entry.function.partition(":")[2] for entry in ENTRIES.values()}
    assert {clause.__name__ for clause in CLAUSES} - heard == set(NOT_ALONE)


def test_the_list_loads_no_heavy_library() -> None:
    code = "import sys; from halfbore import calc; calc.names(); print('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout == "False\n"


@pytest.mark.parametrize("name", NAMES)
def test_schema_is_valid_and_the_example_fits_it(name: str) -> None:
    schema = calc.schema(name)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(calc.example(name), schema)


@pytest.mark.parametrize("name", NAMES)
def test_every_argument_and_result_is_described(name: str) -> None:
    found = calc.description(name)
    assert found.what.endswith(".")
    for info in fields_of(found.takes):
        assert info.meta.help, info.name
        assert not re.search(r"\b[A-Z_]{6,}\b|\w_\w+\(", info.meta.help), info.meta.help
    assert fields_of(found.gives)


@pytest.mark.parametrize("name", NAMES)
def test_example_runs_and_text_and_numbers_agree(name: str) -> None:
    by_text = calc.calculate(name, calc.example(name))
    by_number = calc.calculate(name, plain_input(by_text.given))
    assert bare(by_text.result) == bare(by_number.result)
    assert by_text.outside == ()
    assert by_text.sources
    assert by_text.steps or ENTRIES[name].function.startswith("calc.")


@pytest.mark.parametrize("name", NAMES)
def test_the_example_is_inside_the_method(name: str) -> None:
    result = calc.calculate(name, calc.example(name)).result
    numbers = [getattr(result, info.name) for info in fields_of(type(result)) if info.type is float]
    assert all(math.isfinite(n) for n in numbers if n is not None)


@pytest.mark.parametrize("name", NAMES)
def test_an_unknown_key_is_refused(name: str) -> None:
    given = calc.example(name)
    first = next(iter(given))
    with pytest.raises(InputError) as refused:
        calc.calculate(name, {**given, f"{first}x": given[first]})
    (problem,) = refused.value.problems
    assert f"{first}x" in problem.what
    known = [info.name for info in fields_of(calc.description(name).takes)]
    assert any(key in problem.accepted for key in known)


def test_an_unknown_key_names_the_nearest() -> None:
    with pytest.raises(InputError, match="nearest known key: C_r"):
        calc.calculate("rating-life", {"Cr": "200 kN", "P_r": "20 kN"})


def test_an_unknown_name_names_the_nearest() -> None:
    with pytest.raises(InputError, match="rating-life"):
        calc.calculate("ratinglife", {})


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"C_r": "200 kN"}, "P_r: is missing"),
        ({"C_r": "200 mm", "P_r": "20 kN"}, "'mm' is a unit of length, not of force"),
        ({"C_r": "200", "P_r": "20 kN"}, "no unit"),
        ({"C_r": True, "P_r": "20 kN"}, "a quantity is wanted"),
        ({"C_r": [1, 2], "P_r": "20 kN"}, "a quantity is wanted"),
        ({"C_r": math.inf, "P_r": "20 kN"}, "C_r"),
        ({"C_r": math.nan, "P_r": "20 kN"}, "C_r"),
        ({"C_r": 10**400, "P_r": 1}, "C_r"),
        ({"C_r": "-5 kN", "P_r": "20 kN"}, "out of bounds"),
        ([1, 2], "a table of named values is wanted"),
        ("text", "a table of named values is wanted"),
        (None, "a table of named values is wanted"),
    ],
)
def test_bad_input_is_told(given: Any, told: str) -> None:
    with pytest.raises(InputError, match=re.escape(told)):
        calc.calculate("rating-life", given)


def test_units_of_other_systems_agree() -> None:
    metric = calc.calculate("bending-stress", {"moment": "12 kN·m", "diameter": "101.6 mm"}).result.result
    inch = calc.calculate("bending-stress", {"moment": "106208.9 lbf·in", "diameter": "4 in"}).result.result
    assert inch == pytest.approx(metric, rel=1e-5)


def test_a_unit_of_no_kind_is_read_in_that_unit_alone() -> None:
    assert (
        calc.calculate("flange-pressure", {"F_a": 6000, "z": 8, "area": "21 mm²"}).result.result == 6000 / 168
    )
    with pytest.raises(InputError, match="area"):
        calc.calculate("flange-pressure", {"F_a": 6000, "z": 8, "area": "21 cm²"})


def test_outside_a_method_is_said_and_is_no_number() -> None:
    answer = calc.calculate("reliability-factor", {"S": "80 %"})
    assert math.isnan(answer.result.a_1)
    assert answer.outside == ("a_1 has no value here: no value outside 0.90 to 0.9995",)


def test_a_load_over_half_the_rating_is_outside() -> None:
    answer = calc.calculate("rating-life", {"C_r": "100 kN", "P_r": "60 kN"})
    assert answer.outside == ("P/C is 0.6, over 0.5 (ISO 281:2007, 7.2 (from memory)): ask the supplier",)
    assert calc.calculate("rating-life", {"C_r": "100 kN", "P_r": "50 kN"}).outside == ()


def test_no_load_is_a_life_without_end() -> None:
    answer = calc.calculate("rating-life", {"C_r": "100 kN", "P_r": "0 kN", "n": "60 rpm"})
    assert answer.result.L_10 == answer.result.L_10h == math.inf
    assert answer.outside == ()


def test_every_step_carries_source_formula_and_numbers() -> None:
    steps = calc.calculate("modified-life", calc.example("modified-life")).steps
    assert {"nu_1", "kappa", "a_iso", "modified_rating_life"} <= {step.name for step in steps}
    (kappa,) = [step for step in steps if step.name == "kappa"]
    assert kappa.formula == "nu/nu_1"
    assert kappa.result == kappa.given["nu"] / kappa.given["nu_1"]


def test_shaft_line_of_a_simple_beam() -> None:
    """One force F in the middle of a span l: reactions F/2, sag F·l³/(48·E·I), moment F·l/4."""
    answer = calc.calculate(
        "shaft-line",
        {
            "segments": [{"length": 1000, "diameter": 50}],
            "supports": [{"name": "A", "x": 0}, {"name": "B", "x": 1000}],
            "loads": [{"x": 500, "y": -2000}],
            "density": 0,
        },
    ).result
    inertia = math.pi * 50**4 / 64
    assert [s.y for s in answer.reactions] == pytest.approx([1000, 1000])
    assert answer.deflection == pytest.approx(2000 * 1000**3 / (48 * 206_000 * inertia))
    assert (answer.moment, answer.moment_x) == pytest.approx((500_000, 500))
    assert answer.stress == pytest.approx(500_000 * 25 / inertia)
    assert answer.force_left == pytest.approx(0, abs=1e-6)


def test_a_lift_at_a_jack_is_a_height() -> None:
    """A prescribed lift of 1 mm at the end of a cantilever of two supports needs 3·E·I·δ/(l²·(l + a))."""
    given = {
        "segments": [{"length": 1500, "diameter": 50}],
        "supports": [
            {"name": "A", "x": 0},
            {"name": "B", "x": 1000},
            {"name": "jack", "x": 1500, "height": 1},
        ],
        "density": 0,
    }
    jack = calc.calculate("shaft-line", given).result.reactions[2]
    stiff = 206_000 * math.pi * 50**4 / 64
    assert jack.y == pytest.approx(3 * stiff / (500**2 * 1500))


def test_two_tasks_of_one_name_are_refused() -> None:
    tasks = [{"name": "a", "duration": "1 h"}, {"name": "a", "duration": "2 h"}]
    with pytest.raises(InputError, match="a name stands twice"):
        calc.calculate("critical-path", {"tasks": tasks})


def test_spread_of_parallel_critical_paths_is_not_added() -> None:
    task = {"duration": "0 to 3 to 6 h"}
    one = [{"name": "a", **task}]
    two = [*one, {"name": "b", **task}]
    alone, both = (calc.calculate("critical-path", {"tasks": t}).result for t in (one, two))
    assert alone.deviation == both.deviation == 1.0


def test_no_lives_and_no_tasks_are_refused() -> None:
    for name, given in (
        ("critical-path", {"tasks": []}),
        ("weibull-fit", {"lives": []}),
        ("shaft-line", {"segments": [], "supports": []}),
        ("critical-speed", {"segments": [], "supports": []}),
        ("support-limit", {"direction": 0, "sectors": []}),
        ("internal-rate", {"flows": []}),
        ("lifting-in-turn", {"tasks": [], "hours": 1}),
    ):
        with pytest.raises(InputError):
            calc.calculate(name, given)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("value", [0, -1, 1e9])
def test_no_value_of_an_argument_breaks_a_calculation(name: str, value: float) -> None:
    """Each argument in turn at zero, below it and far off: an answer, or a refusal that says why."""
    given = plain_input(calc.calculate(name, calc.example(name)).given)
    for key in (k for k, old in given.items() if isinstance(old, (int, float)) and not isinstance(old, bool)):
        with contextlib.suppress(InputError):
            assert calc.calculate(name, {**given, key: value}).what


def test_units_are_shown_where_the_docstring_has_them() -> None:
    (result,) = fields_of(calc.description("section-stiffness").gives)
    assert unit_of(result.meta) == "mm⁴"
