"""Every clause's formula, evaluated by SymPy, equals its function: for numbers and for columns."""

from __future__ import annotations

import contextlib
import importlib
import pkgutil
import zlib
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
import sympy
from sympy.parsing.sympy_parser import parse_expr

import halfbore.mechanics
import halfbore.numerics
import halfbore.standards
from halfbore.errors import InputError
from halfbore.sources import Status

PACKAGES = (halfbore.standards, halfbore.numerics, halfbore.mechanics)
DRAWS = 12

DEFAULT = (0.5, 2.0)
DOMAIN: dict[str, tuple[float, float] | list[float]] = {
    # by argument name, or by module and argument name where one name has two meanings: a span or a choice
    "gamma": (0.01, 0.30),
    "S": (0.90, 0.9995),
    "alpha": (0.0, 0.8),
    "kappa": (0.1, 6.0),
    "e_C": (0.0, 1.0),
    "a_ISO": (0.1, 50.0),
    "a_ISO_with_ep": (0.1, 50.0),
    "C_u": (1e3, 1e5),
    "C_r": (1e4, 1e6),
    "C_0r": (1e4, 1e6),
    "P": (1e3, 1e5),
    "P_r": (1e3, 1e5),
    "n": (10.0, 5000.0),
    "D_pw": (60.0, 900.0),
    "D_we": (5.0, 50.0),
    "A_r": (5e3, 5e5),
    "c_1": (0.004, 0.09),
    "c_2": (0.5, 4.1),
    "L": (0.01, 2.0),
    "share": (0.001, 0.999),
    "torque_sense": [-1.0, 1.0],
    "iso286_1_2010.D": (10.0, 800.0),
    "astm_d2270.Y": (3.0, 100.0),
    "astm_d2270.U": (20.0, 200.0),
    "astm_d2270.L": (160.0, 250.0),
    "astm_d2270.H": (60.0, 150.0),
    "astm_d341.nu": (2.0, 1000.0),
    "astm_d341.nu_1": (15.0, 1000.0),
    "astm_d341.nu_2": (2.0, 10.0),
    "astm_d341.T_1": (290.0, 320.0),
    "astm_d341.T_2": (350.0, 400.0),
    "astm_d341.T": (280.0, 370.0),
    "astm_d341.A": (9.50, 9.55),
    "astm_d341.B": (3.73, 3.75),
}


def clauses() -> Iterator[Any]:
    """Yield every clause function that is defined in the packages that hold clauses."""
    for package in PACKAGES:
        for info in pkgutil.walk_packages(package.__path__, package.__name__ + "."):
            module = importlib.import_module(info.name)
            for name, value in vars(module).items():
                if hasattr(value, "formula") and value.__module__ == module.__name__ and name[0] != "_":
                    yield value


CLAUSES = list(clauses())
WITH_FORMULA = [c for c in CLAUSES if c.formula]


def label(clause: Any) -> str:
    return f"{clause.__module__.removeprefix('halfbore.')}.{clause.__name__}"


def draw(clause: Any, rng: np.random.Generator) -> dict[str, float]:
    """Draw a value for each argument, spread over the decades where its domain lies above zero."""
    row = {}
    for name in clause.names.parameters:
        domain = DOMAIN.get(f"{clause.__module__.rsplit('.', 1)[-1]}.{name}", DOMAIN.get(name, DEFAULT))
        if isinstance(domain, list):
            row[name] = float(rng.choice(domain))
        else:
            low, high = domain
            row[name] = float(
                np.exp(rng.uniform(np.log(low), np.log(high))) if low > 0 else rng.uniform(low, high)
            )
    return row


def accepted_rows(clause: Any) -> list[dict[str, float]]:
    """Draw rows of arguments until enough of them are not refused."""
    rng = np.random.default_rng(zlib.crc32(label(clause).encode()))
    rows: list[dict[str, float]] = []
    for _ in range(50 * DRAWS):
        row = draw(clause, rng)
        with contextlib.suppress(InputError):
            clause(**row)
            rows.append(row)
        if len(rows) == DRAWS:
            return rows
    raise AssertionError(f"{label(clause)} refuses what DOMAIN draws for it")


def expressions(clause: Any) -> tuple[sympy.Expr, ...]:
    """Parse the formula, or the formulas of the components of a vector."""
    symbols = {name: sympy.Symbol(name) for name in clause.names.parameters}
    parsed = parse_expr(clause.formula, local_dict=symbols)
    return parsed if isinstance(parsed, tuple) else (parsed,)


def test_the_standards_are_found() -> None:
    assert {"basic_rating_life", "a_iso", "it", "tolerance_unit"} <= {c.__name__ for c in CLAUSES}


@pytest.mark.parametrize("clause", WITH_FORMULA, ids=label)
def test_formula_names_every_argument_and_nothing_else(clause: Any) -> None:
    named = {s.name for e in expressions(clause) for s in e.free_symbols}
    assert named == set(clause.names.parameters)


@pytest.mark.parametrize("clause", WITH_FORMULA, ids=label)
def test_formula_equals_function(clause: Any) -> None:
    rows, formulas = accepted_rows(clause), expressions(clause)
    by_formula = np.squeeze([[float(f.subs(row)) for row in rows] for f in formulas])
    one_by_one = np.stack([clause(**row) for row in rows], axis=-1)
    column = clause(**{name: np.array([row[name] for row in rows]) for name in rows[0]})
    np.testing.assert_allclose(one_by_one, by_formula, rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(column, by_formula, rtol=1e-9, atol=1e-12)


@pytest.mark.parametrize("clause", [c for c in CLAUSES if ".standards." in c.__module__], ids=label)
def test_a_remembered_clause_of_a_standard_says_so(clause: Any) -> None:
    told = "from memory" in clause.__doc__
    assert told == (clause.source.status is Status.FROM_MEMORY)
