"""Conversion factors against definitions and printed tables; Pint as oracle where it reads as people do."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import UnitRegistry

from halfbore.units import Kind, convert, parse

DEFINED = "one rounding of a double: the definition is exact"
PRINTED = "seven figures printed"
SP811 = "NIST SP 811 (2008), appendix B.8"
AGREEMENT = "international yard and pound agreement, 1959"
ISO80000 = "ISO 80000-5"
TABLE = "; the digits read in a school's conversion table, not in the document itself"


@pytest.mark.parametrize(
    ("text", "kind", "value", "source", "status"),
    [
        ("1 in", Kind.LENGTH, 25.4, AGREEMENT, "read"),
        ("1 ft", Kind.LENGTH, 304.8, AGREEMENT, "from memory"),
        ("1 mil", Kind.LENGTH, 0.0254, AGREEMENT, "from memory"),
        ("1 lb", Kind.MASS, 0.45359237, AGREEMENT, "read"),
        ("1 kgf", Kind.FORCE, 9.80665, "third CGPM, 1901", "from memory"),
        ("1 lbf", Kind.FORCE, 4.4482216152605, f"{AGREEMENT}, and third CGPM, 1901", "from memory"),
        ("1 kip", Kind.FORCE, 4448.2216152605, f"{AGREEMENT}, and third CGPM, 1901", "from memory"),
        ("1 hp (M)", Kind.POWER, 735.49875, SP811, "from memory"),
        ("1 hp (E)", Kind.POWER, 746.0, SP811, "from memory"),
        ("1 bar", Kind.STRESS, 0.1, SP811, "from memory"),
        ("1 ft/min", Kind.SURFACE_SPEED, 0.00508, SP811, "from memory"),
        ("1 cSt", Kind.VISCOSITY, 1.0, SP811, "from memory"),
        ("32 °F", Kind.TEMPERATURE, 0.0, ISO80000, "from memory"),
        ("212 °F", Kind.TEMPERATURE, 100.0, ISO80000, "from memory"),
        ("-40 °F", Kind.TEMPERATURE, -40.0, ISO80000, "from memory"),
        ("-459.67 °F", Kind.TEMPERATURE, -273.15, ISO80000, "from memory"),
        ("273.15 K", Kind.TEMPERATURE, 0.0, ISO80000, "from memory"),
        ("1.8 °F", Kind.TEMPERATURE_DIFFERENCE, 1.0, ISO80000, "from memory"),
    ],
)
def test_defined_units(
    compare: Callable[..., None], text: str, kind: Kind, value: float, source: str, status: str
) -> None:
    source += TABLE if status == "read" else ""
    compare(text, parse(text, kind), value, rtol=4e-16, source=source, status=status, why=DEFINED)


@pytest.mark.parametrize(
    ("text", "kind", "value", "status"),
    [
        ("1 lbf", Kind.FORCE, 4.448222, "read"),
        ("1 psi", Kind.STRESS, 6.894757e-3, "read"),
        ("1 hp", Kind.POWER, 745.6999, "read"),
        ("1 oz", Kind.MASS, 2.834952e-2, "from memory"),
        ("1 ksi", Kind.STRESS, 6.894757, "from memory"),
        ("1 lbf·in", Kind.TORQUE, 112.9848, "from memory"),
        ("1 lbf·ft", Kind.TORQUE, 1355.818, "from memory"),
        ("1 lbf/in", Kind.STIFFNESS, 0.1751268, "from memory"),
        ("1 lb/ft³", Kind.DENSITY, 16.01846, "from memory"),
        ("1 lb/in³", Kind.DENSITY, 27679.90, "from memory"),
        ("1 deg", Kind.ANGLE, 1.745329e-2, "from memory"),
        ("1 arcmin", Kind.ANGLE, 2.908882e-4, "from memory"),
        ("1 rad/s", Kind.SPEED, 9.549297, "from memory"),
    ],
)
def test_printed_factors(
    compare: Callable[..., None], text: str, kind: Kind, value: float, status: str
) -> None:
    source = SP811 + (TABLE if status == "read" else "")
    compare(text, parse(text, kind), value, rtol=5e-7, source=source, status=status, why=PRINTED)


def test_torque_from_horsepower(compare: Callable[..., None]) -> None:
    """The constants that inch and metric books print for torque from power and speed."""
    turn = 2 * math.pi / 60
    inch = convert(parse("1 hp", Kind.POWER) / turn * 1000, Kind.TORQUE, "lbf·in")
    metric = convert(parse("1 kW", Kind.POWER) / turn * 1000, Kind.TORQUE, "N·m")
    books = {"source": "machine-design books, T = 63025 hp/n and T = 9549.3 kW/n", "status": "from memory"}
    compare(
        "torque in lbf·in of 1 hp at 1 r/min", inch, 63025, rtol=1e-5, why="five figures printed", **books
    )
    compare(
        "torque in N·m of 1 kW at 1 r/min", metric, 9549.3, rtol=1e-6, why="five figures printed", **books
    )
    product = parse("1 oz", Kind.MASS) * 1000 * parse("1 in", Kind.LENGTH)
    compare("1 oz·in in g·mm", product, 720.0778873749999, rtol=1e-15, source=AGREEMENT, status="computed")


@cache
def registry() -> UnitRegistry:
    return UnitRegistry()


ORACLE = [
    (Kind.LENGTH, "mm", ("mm", "cm", "m", "µm", "in", "ft", "thou")),
    (Kind.FORCE, "N", ("N", "kN", "MN", "lbf", "kip", "kgf")),
    (Kind.MASS, "kg", ("kg", "g", "t", "lb", "oz")),
    (Kind.POWER, "W", ("W", "mW", "kW", "MW", "hp")),
    (Kind.TORQUE, "N*mm", ("N*mm", "N*m", "kN*m", "lbf*in", "lbf*ft", "kgf*m")),
    (Kind.STRESS, "MPa", ("MPa", "Pa", "kPa", "GPa", "bar", "psi", "ksi", "N/mm²")),
    (Kind.SPEED, "revolutions_per_minute", ("rpm", "rad/s")),
    (Kind.TEMPERATURE_DIFFERENCE, "delta_degC", ("K",)),
    (Kind.DURATION, "hour", ("h", "min", "s", "day", "week")),
    (Kind.VISCOSITY, "mm²/s", ("mm²/s", "cSt", "m²/s", "St")),
    (Kind.ANGLE, "rad", ("rad", "mrad", "deg", "arcmin", "arcsec")),
    (Kind.DENSITY, "kg/m³", ("kg/m³", "g/cm³", "lb/ft³", "lb/in³")),
    (Kind.STIFFNESS, "N/mm", ("N/mm", "N/m", "kN/mm", "N/µm", "lbf/in")),
    (Kind.SURFACE_SPEED, "m/s", ("m/s", "m/min", "mm/s", "ft/min", "ft/s")),
    (Kind.CONDUCTANCE, "W/(m²*K)", ("W/(m²*K)",)),
]
ORDINARY = [(kind, inside, unit) for kind, inside, units in ORACLE for unit in units]
DECIMAL = st.decimals(min_value=-99999, max_value=99999, allow_nan=False, places=4)


@pytest.mark.parametrize(("kind", "inside", "unit"), ORDINARY)
@given(number=DECIMAL)
def test_pint_agrees_on_plain_decimals(kind: Kind, inside: str, unit: str, number: object) -> None:
    text = f"{number} {unit}"
    oracle = registry().Quantity(float(str(number)), unit).to(inside).magnitude
    assert parse(text, kind) == pytest.approx(oracle, rel=1e-13)


@pytest.mark.parametrize(("ours", "theirs"), [("°C", "degC"), ("°F", "degF"), ("K", "kelvin")])
@given(number=DECIMAL)
def test_pint_agrees_on_temperatures(ours: str, theirs: str, number: object) -> None:
    oracle = registry().Quantity(float(str(number)), theirs).to("degC").magnitude
    assert parse(f"{number} {ours}", Kind.TEMPERATURE) == pytest.approx(oracle, rel=1e-13, abs=1e-10)
