"""Every number is rounded and written in one place: digits by quantity, both unit systems, words for no number."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.numbers import (
    INCH,
    METRIC,
    MINUS,
    NO_BREAK,
    PLAIN,
    THIN,
    Style,
    System,
    Value,
    number,
    unit_of,
    write,
)
from halfbore.units import Kind, Span

WRITTEN = [
    (46_900.0, Kind.FORCE, "46.9 kN", "10 500 lbf"),
    (9_450.0, Kind.FORCE, "9.45 kN", "2 120 lbf"),
    (999.6, Kind.FORCE, "1.00 kN", "225 lbf"),
    (450.0, Kind.FORCE, "450 N", "101 lbf"),
    (2.3e-12, Kind.FORCE, "0 N", "0 lbf"),
    (-695.7, Kind.FORCE, "−696 N", "−156 lbf"),
    (11.2e6, Kind.TORQUE, "11.2 kN·m", "8 260 lbf·ft"),
    (34.2, Kind.STRESS, "34.2 MPa", "4.96 ksi"),
    (206_000.0, Kind.STRESS, "206 GPa", "29 900 ksi"),
    (2_600.0, Kind.MASS, "2 600 kg", "5 732 lb"),
    (30.4, Kind.MASS, "30.4 kg", "67.0 lb"),
    (55_000.0, Kind.POWER, "55.0 kW", "73.8 hp"),
    (990.0, Kind.SPEED, "990 r/min", "990 r/min"),
    (1480.0, Kind.SPEED, "1 480 r/min", "1 480 r/min"),
    (71.4, Kind.TEMPERATURE, "71 °C", "161 °F"),
    (-5.0, Kind.TEMPERATURE, "−5 °C", "23 °F"),
    (-0.3, Kind.TEMPERATURE, "0 °C", "31 °F"),
    (10.0, Kind.TEMPERATURE_DIFFERENCE, "10 K", "18 °F"),
    (19.2, Kind.DURATION, "19 h", "19 h"),
    (0.25, Kind.DURATION, "0.2 h", "0.2 h"),
    (83_400.0, Kind.DURATION, "83 kh", "83 kh"),
    (9_960.0, Kind.DURATION, "10 kh", "10 kh"),
    (220.0, Kind.VISCOSITY, "220 mm²/s", "220 mm²/s"),
    (0.0019, Kind.ANGLE, "1.9 mrad", "1.9 mrad"),
    (0.4712, Kind.ANGLE, "27°", "27°"),
    (0.944, Kind.FRACTION, "94 %", "94 %"),
    (7850.0, Kind.DENSITY, "7 850 kg/m³", "0.284 lb/in³"),
    (8.29, Kind.SURFACE_SPEED, "8.3 m/s", "1 600 ft/min"),
    (206.4, Kind.LENGTH, "206 mm", "8.13 in"),
    (30.0, Kind.LENGTH, "30 mm", "1.18 in"),
    (0.37, Kind.LENGTH, "0.37 mm", "0.015 in"),
    (6.84, Kind.NUMBER, "6.8", "6.8"),
    (123.4, Kind.NUMBER, "123", "123"),
    (20_000.0, Kind.COUNT, "20 000", "20 000"),
]


def plainly(text: str) -> str:
    """Return a text with usual spaces."""
    return text.replace(THIN, " ").replace(NO_BREAK, " ")


@pytest.mark.parametrize(("value", "kind", "metric", "inch"), WRITTEN)
def test_digits_by_quantity(value: float, kind: Kind, metric: str, inch: str) -> None:
    assert plainly(write(value, kind)) == metric
    assert plainly(write(value, kind, INCH)) == inch


RANGES: list[tuple[Value, Kind, str]] = [
    ((47_000.0, 83_000.0), Kind.DURATION, "47 to 83 kh"),
    ((9.4, 12.1), Kind.DURATION, "9.4 to 12 h"),
    ((0.9, 120.0), Kind.DURATION, "1 to 120 h"),
    ((-1.02, 1.94), Kind.DURATION, "−1.0 to 1.9 h"),
    (Span(58.0, 60.0, 71.0), Kind.TEMPERATURE, "58 to 71 °C"),
    (Span.of(71.0), Kind.TEMPERATURE, "71 °C"),
    ((70.8, 71.2), Kind.TEMPERATURE, "71 °C"),
    ((9_400.0, 46_900.0), Kind.FORCE, "9.40 to 46.9 kN"),
    ((2.5, 4.0), Kind.LENGTH, "2.5 to 4.0 mm"),
    ((0.36, 0.78), Kind.FRACTION, "36 to 78 %"),
]


@pytest.mark.parametrize(("value", "kind", "text"), RANGES)
def test_a_range_is_written_with_to(value: Value, kind: Kind, text: str) -> None:
    assert plainly(write(value, kind)) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ((40.0, 18_000.0), "0 to 18 k€"),
        ((-40.0, 18_000.0), "0 to 18 k€"),
        ((61_679.0, 474_771.0), "62 to 470 k€"),
        (1_234.0, "1 200 €"),
    ],
)
def test_money_has_two_digits(value: Value, text: str) -> None:
    assert plainly(write(value, Kind.MONEY, currency="EUR")) == text


def test_a_price_stays_as_it_is_named() -> None:
    assert plainly(write(4_283.0, Kind.MONEY, resolution=1.0, currency="EUR")) == "4 283 €"
    assert plainly(write(1_234.0, Kind.MONEY, resolution=1.0, currency="SEK")) == "1 234 SEK"
    assert plainly(write(540.0, Kind.MONEY_RATE, currency="USD")) == "540 $/h"


def test_a_stated_resolution_keeps_its_places() -> None:
    assert plainly(write((159.945, 159.95), Kind.LENGTH, resolution=0.001)) == "159.945 to 159.950 mm"
    assert plainly(write(25.4, Kind.LENGTH, INCH, resolution=0.01)) == "1.0000 in"


def test_value_and_limit_share_a_unit() -> None:
    assert write(0.001, Kind.ANGLE, beside=0.3) == "0°"
    assert plainly(write(800.0, Kind.FORCE, beside=3_000.0)) == "0.800 kN"


@pytest.mark.parametrize(
    ("hours", "unit", "text"),
    [(840.0, "weeks", "5 weeks"), (168.0, "weeks", "1 week"), (105_120.0, "years", "12 years")],
)
def test_times_in_other_units(hours: float, unit: str, text: str) -> None:
    assert plainly(write(hours, Kind.DURATION, unit=unit)) == text


def test_not_known_and_without_limit_are_words_and_no_zero() -> None:
    assert write(None, Kind.FORCE) == write(math.nan, Kind.FORCE) == "not known"
    assert write((1.0, math.nan), Kind.FORCE) == "not known"
    assert write(math.inf, Kind.DURATION) == "without limit"
    assert plainly(write(0.0, Kind.FORCE)) == "0 N"


def test_decimal_sign_follows_the_style() -> None:
    assert plainly(write(9_450.0, Kind.FORCE, Style(System.METRIC, ","))) == "9,45 kN"


def test_the_unit_alone() -> None:
    assert unit_of(Kind.FORCE, METRIC, 400.0, (1.0, 5e4)) == "kN"
    assert unit_of(Kind.MONEY, METRIC, 2e4, currency="EUR") == "k€"
    assert write(46_900.0, Kind.FORCE, bare=True) == "46.9"


@given(
    st.floats(-1e9, 1e9),
    st.sampled_from([k for k in Kind if k not in (Kind.FRACTION, Kind.COUNT)]),
    st.sampled_from([METRIC, INCH]),
)
def test_no_minus_zero_no_hyphen_and_threes(value: float, kind: Kind, style: Style) -> None:
    number = write(value, kind, style, bare=True, currency="EUR")
    assert "-" not in number and "e" not in number
    assert not re.fullmatch(rf"{MINUS}[0.]+", number)
    whole = number.lstrip(MINUS).partition(".")[0]
    assert re.fullmatch(rf"\d{{1,3}}({THIN}\d{{3}})*", whole)


@given(st.floats(1.0, 1e8), st.sampled_from([Kind.FORCE, Kind.STRESS, Kind.TORQUE]))
def test_three_digits_are_right_to_half_a_percent(value: float, kind: Kind) -> None:
    number = write(value, kind, bare=True).replace(THIN, "")
    scale = {"N": 1.0, "kN": 1e3, "MPa": 1.0, "GPa": 1e3, "N·m": 1e3, "kN·m": 1e6}[
        unit_of(kind, METRIC, value)
    ]
    finest = 0.005 * scale
    assert float(number) * scale == pytest.approx(value, rel=0.0051, abs=max(finest, 0.05))


AS_TOLD = [
    (490.0, {"digits": 2, "unit": "kN"}, "0.49 kN", "110 lbf"),
    (100_000.0, {"digits": 2, "unit": "kN"}, "100 kN", "22 000 lbf"),
    ((3_000.0, 4_500.0), {"digits": 2, "unit": "kN"}, "3 to 4.5 kN", "670 to 1000 lbf"),
    ((9_996.0, 12_345_678.0), {"digits": 3, "unit": "kN"}, "10 to 12 300 kN", "2250 to 2 780 000 lbf"),
]


@pytest.mark.parametrize(("value", "how", "metric", "inch"), AS_TOLD)
def test_digits_are_as_many_as_are_asked_for(
    value: Value, how: dict[str, Any], metric: str, inch: str
) -> None:
    assert write(value, Kind.FORCE, PLAIN, **how).replace(THIN, " ") == metric
    assert write(value, Kind.FORCE, replace(PLAIN, system=System.INCH), **how).replace(THIN, " ") == inch


def test_a_unit_that_is_asked_for_gives_way_to_that_of_the_system() -> None:
    inch = replace(PLAIN, system=System.INCH)
    assert write(0.052, Kind.LENGTH, PLAIN, unit="µm", resolution=0.001) == "52 µm"
    assert write(0.052, Kind.LENGTH, inch, unit="µm", resolution=0.001) == "0.0020 in"
    assert write(99.9693, Kind.LENGTH, PLAIN, digits=9, resolution=0.001) == "99.969 mm"
    assert write(100.0, Kind.LENGTH, PLAIN, digits=9, resolution=0.001) == "100 mm"
    assert write(100.0, Kind.LENGTH, inch, digits=9, resolution=0.001) == "3.937 in"


def test_a_sign_stands_where_it_is_asked_for_and_never_before_zero() -> None:
    assert write((-0.074, 0.0), Kind.LENGTH, PLAIN, unit="µm", resolution=0.001, signed=True) == "−74 to 0 µm"
    assert write(0.02, Kind.LENGTH, PLAIN, unit="µm", resolution=0.001, signed=True) == "+20 µm"
    assert number(-0.4, signed=True) == "0"


def test_numbers_without_a_unit() -> None:
    assert [number(v, 2) for v in (0.0, 0.123, 12.0, 1234.0, 12_345.0)] == [
        "0",
        "0.12",
        "12",
        f"1{THIN}200",
        f"12{THIN}000",
    ]
    assert number((0.5, 3.14159), 2) == "0.5 to 3.1"
    assert number(2.0, places=1) == "2.0" and number(2.6) == "3"
