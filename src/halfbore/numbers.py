"""The one function that rounds and writes numbers: digits by quantity, both unit systems.

Loads, stresses and moments have three digits, lives, hours and money two, temperatures and parts of a limit
none behind the point, lengths as many as their size or a stated resolution asks for. Whoever writes a number says
the digits or the resolution where these are not the usual ones.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache

from halfbore.units import Kind, Span, convert

THIN = "\u202f"
"""Narrow space that does not break: between thousands."""
NO_BREAK = "\u00a0"
MINUS = "\u2212"
NOT_KNOWN = "not known"
NOT_ASKED = "not asked"
NO_END = "without limit"


class System(StrEnum):
    """The units that are shown; inside there is one system only."""

    METRIC = "mm kN"
    INCH = "in lbf"


@dataclass(frozen=True)
class Style:
    """How numbers are written: unit system, decimal sign, and how they are spaced.

    gap: between number and unit; grouped_from: thousands are parted from this number on.
    """

    system: System = System.METRIC
    decimal: str = "."
    gap: str = NO_BREAK
    grouped_from: float = 1e3


METRIC = Style()
INCH = Style(System.INCH)
PLAIN = Style(gap=" ", grouped_from=1e4)
"""The style of sentences as they are kept: plain spaces, which are typeset where a sentence is shown."""
_ROUNDED = replace(PLAIN, grouped_from=1e3)
"""The same for numbers that are rounded to digits."""

Value = float | Span | Sequence[float] | None
"""A number, a range, the two ends of a range, or nothing known."""


@dataclass(frozen=True)
class _Step:
    """How values from a size on are shown.

    start: smallest size [internal unit]; name: unit as shown; unit: the same for `convert`; per: shown unit / unit;
    digits: that count; finest, coarsest: resolution [shown unit]; trims: zeros behind the point go.
    """

    start: float
    name: str
    unit: str
    digits: int = 3
    finest: float = 0.01
    coarsest: float = math.inf
    per: float = 1.0
    trims: bool = False


def _one(name: str, digits: int = 3, finest: float = 0.01, coarsest: float = math.inf) -> tuple[_Step, ...]:
    return (_Step(0.0, name, name, digits, finest, coarsest),)


def _whole(name: str) -> tuple[_Step, ...]:
    return (_Step(0.0, name, name, 1, 1.0, 1.0),)


def _money(rate: str) -> tuple[_Step, ...]:
    """Return the steps of money; ¤ stands for the currency."""
    return (_Step(0.0, f"¤{rate}", rate, 2, 1.0), _Step(9950.0, f"k¤{rate}", rate, 2, 0.1, per=1000.0))


_STEPS: dict[Kind, tuple[_Step, ...]] = {
    Kind.FORCE: (_Step(0.0, "N", "N", finest=0.1, coarsest=1.0), _Step(999.5, "kN", "kN", finest=0.001)),
    Kind.TORQUE: (_Step(0.0, "N·m", "N·m"), _Step(999.5e3, "kN·m", "kN·m")),
    Kind.STRESS: (_Step(0.0, "MPa", "MPa"), _Step(9995.0, "GPa", "GPa")),
    Kind.MASS: _one("kg", coarsest=1.0),
    Kind.POWER: (_Step(0.0, "W", "W", finest=1.0), _Step(999.5, "kW", "kW")),
    Kind.SPEED: (_Step(0.0, "r/min", "r/min", coarsest=1.0, trims=True),),
    Kind.TEMPERATURE: _whole("°C"),
    Kind.TEMPERATURE_DIFFERENCE: _whole("K"),
    Kind.DURATION: (_Step(0.0, "h", "h", 2, 0.1), _Step(9950.0, "kh", "h", 2, 0.1, per=1000.0)),
    Kind.VISCOSITY: _one("mm²/s", coarsest=1.0),
    Kind.ANGLE: (_Step(0.0, "mrad", "mrad", 2), _Step(0.05, "°", "deg", 1, 1.0, 1.0)),
    Kind.FRACTION: (_Step(0.0, "%", "%", 1, 1.0, 1.0),),
    Kind.DENSITY: _one("kg/m³", 4),
    Kind.STIFFNESS: (_Step(0.0, "N/mm", "N/mm"), _Step(999.5, "kN/mm", "kN/mm")),
    Kind.SURFACE_SPEED: _one("m/s", 2),
    Kind.CONDUCTANCE: _one("W/(m²·K)", 2),
    Kind.MASS_PER_LENGTH: _one("kg/m"),
    Kind.MASS_FLOW: _one("t/h"),
    Kind.LENGTH: (_Step(0.0, "mm", "mm", trims=True),),
    Kind.MONEY: _money(""),
    Kind.MONEY_RATE: _money("/h"),
    Kind.NUMBER: (_Step(0.0, "", "", 2, 0.01, 1.0),),
    Kind.COUNT: _whole(""),
}
_INCH: dict[Kind, tuple[_Step, ...]] = {
    Kind.FORCE: _one("lbf", finest=0.1),
    Kind.TORQUE: _one("lbf·ft"),
    Kind.STRESS: (_Step(0.0, "psi", "psi", finest=1.0), _Step(6.89, "ksi", "ksi")),
    Kind.MASS: _one("lb", coarsest=1.0),
    Kind.POWER: _one("hp"),
    Kind.TEMPERATURE: _whole("°F"),
    Kind.TEMPERATURE_DIFFERENCE: _whole("°F"),
    Kind.DENSITY: _one("lb/in³", finest=0.001),
    Kind.STIFFNESS: _one("lbf/in"),
    Kind.SURFACE_SPEED: _one("ft/min", 2),
    Kind.MASS_PER_LENGTH: _one("lb/ft"),
    Kind.LENGTH: (_Step(0.0, "in", "in", trims=True),),
}
_LENGTHS = {
    "mm": ((99.95, 1.0), (9.995, 0.1), (0.0995, 0.01), (0.0, 0.001)),
    "in": ((0.9995, 0.01), (0.0, 0.001)),
}
"""From this length on, this resolution [shown unit] where none is stated."""
_SIGNS = {"EUR": "€", "USD": "$", "GBP": "£"}
_ONE_OF = {"weeks": "week", "years": "year", "days": "day", "months": "month"}


def write(
    value: Value,
    kind: Kind,
    style: Style = METRIC,
    *,
    beside: Value = None,
    unit: str = "",
    digits: int = 0,
    resolution: float = 0.0,
    currency: str = "",
    signed: bool = False,
    bare: bool = False,
) -> str:
    """Return a value rounded and written with its unit, a range with "to", what is not known in words.

    value: in the internal unit of kind; beside: another value that is shown in the same unit, such as the limit;
    unit: a unit to be used in place of the usual one, where the system of the style has none of its own for the kind;
    digits: that count, each end without zeros behind them; resolution: the smallest step that counts, in the internal
    unit; with both, the digits are as many as the step leaves; currency: ISO 4217 code; signed: plus stands before
    what is over zero; bare: without the unit, for a table whose head names it (see `unit_of`).
    """
    ends = _ends(value)
    if not ends:
        return NOT_KNOWN
    if any(map(math.isinf, ends)):
        return NO_END
    step = _step(kind, style, ends if beside is None else [*ends, *_ends(beside)], unit)
    texts = [_grouped(text, style, signed) for text in _texts(ends, kind, step, resolution, digits)]
    number = texts[0] if len(texts) == 1 else " to ".join(dict.fromkeys(texts))
    return number if bare else _joined(number, _named(step.name, currency), style)


def number(value: Value, digits: int = 0, *, places: int = 0, signed: bool = False) -> str:
    """Return a number that has no unit, or whose unit is the same in both systems, as it stands in a sentence.

    digits: that count; places: behind the point, where no digits are said.
    """
    style, step = (_ROUNDED, 0.0) if digits else (PLAIN, 10.0**-places)
    return write(value, Kind.NUMBER, style, digits=digits, resolution=step, signed=signed, bare=True)


def runs(chance: float) -> str:
    """Return a chance as it stands in a sentence: runs of 10 where these tell it to one in 100, else of 100."""
    if not 0.0 <= chance <= 1.0:
        return "an unknown number of runs"
    if chance in (0.0, 1.0):
        return "no run" if chance == 0.0 else "every run"
    count = round(100 * chance)
    if count in (0, 100):
        return "fewer than 1 run of 100" if count == 0 else "more than 99 runs of 100"
    count, of = (count // 10, 10) if count % 10 == 0 else (count, 100)
    return f"{count} {'run' if count == 1 else 'runs'} of {of}"


def percent(chance: float, style: Style = METRIC) -> str:
    """Return a chance as it stands in a table: no run of many is written as none, and not quite all as all."""
    if 0.0 < chance < 1.0:
        count = round(100 * chance)
        sign, count = {0: ("<", 1), 100: (">", 99)}.get(count, ("", count))
        return f"{sign}{write(count / 100, Kind.FRACTION, style)}"
    return write(chance, Kind.FRACTION, style)


def unit_of(kind: Kind, style: Style = METRIC, *values: Value, unit: str = "", currency: str = "") -> str:
    """Return the unit in which `write` shows the largest of these values."""
    ends = [end for value in values for end in _ends(value)]
    return _named(_step(kind, style, ends, unit).name, currency)


def currency_sign(code: str) -> str:
    """Return the sign of a currency, or its code where no sign is usual."""
    return _SIGNS.get(code, code)


def is_known(value: Value) -> bool:
    """Whether there is a number to write."""
    return bool(_ends(value))


def _ends(value: Value) -> list[float]:
    """Return the ends of a value, one where both are the same, none where nothing is known."""
    if value is None:
        return []
    if isinstance(value, float):
        return [] if math.isnan(value) else [float(value)]
    if isinstance(value, Span):
        value = (value.low, value.high)
    ends = [float(v) for v in (value if isinstance(value, Sequence) else (value,))]
    return [] if any(map(math.isnan, ends)) else list(dict.fromkeys(ends))


def _step(kind: Kind, style: Style, ends: Sequence[float], unit: str) -> _Step:
    steps = _INCH.get(kind) if style.system is System.INCH else None
    if unit and not steps:
        return _step_of(unit)
    steps = steps or _STEPS[kind]
    if len(steps) == 1:
        return steps[0]
    size = max((abs(end) for end in ends if math.isfinite(end)), default=0.0)
    return [s for s in steps if s.start <= size][-1]


@lru_cache(maxsize=64)
def _step_of(unit: str) -> _Step:
    return _Step(0.0, unit, unit, 2, 0.1, 1.0, trims=True)


def _texts(ends: Sequence[float], kind: Kind, step: _Step, resolution: float, digits: int) -> list[str]:
    shown = [convert(end, kind, step.unit) / step.per for end in ends]
    if digits:
        finest = _in_shown_unit(resolution, kind, step.unit, step.per) if resolution else 0.0
        return [_bare(_rounded(v, _counted(v, digits, finest))) for v in shown]
    if resolution:
        size = _in_shown_unit(resolution, kind, step.unit, step.per)
        return [_rounded(value, size) for value in shown]
    steps = [_resolution(value, kind, step) for value in shown]
    least = max(steps) / 10.0  # the small end of a range has at most one place more than the large one
    texts = [_rounded(value, max(size, least)) for value, size in zip(shown, steps, strict=True)]
    return _trimmed(texts) if step.trims else texts


def _bare(text: str) -> str:
    """Return a number without zeros at its end."""
    return text.rstrip("0").rstrip(".") if "." in text else text


def _resolution(shown: float, kind: Kind, step: _Step) -> float:
    """Return the smallest step that is shown, a power of ten in the shown unit."""
    if kind is Kind.LENGTH and step.unit in _LENGTHS:
        return next(size for start, size in _LENGTHS[step.unit] if abs(shown) >= start)
    return _counted(shown, step.digits, step.finest, step.coarsest)


def _counted(shown: float, digits: int, finest: float, coarsest: float = math.inf) -> float:
    """Return the smallest step that leaves the digits that count."""
    if shown == 0.0:
        return finest or 1.0
    exponent = math.floor(math.log10(abs(float(f"{shown:.{digits - 1}e}"))))
    return min(max(10.0 ** (exponent + 1 - digits), finest), coarsest)


@lru_cache(maxsize=256)
def _in_shown_unit(stated: float, kind: Kind, unit: str, per: float) -> float:
    size = (convert(stated, kind, unit) - convert(0.0, kind, unit)) / per
    return float(max(10.0 ** math.floor(math.log10(size) + 1e-9), 1e-4))


def _rounded(value: float, size: float) -> str:
    places = max(0, -math.floor(math.log10(size) + 1e-9))
    text = f"{round(value / size) * size:.{places}f}"
    return text if text.strip("-0.") else "0"


def _trimmed(texts: list[str]) -> list[str]:
    """Return the texts with as few places as show them all."""
    places = [len(t.partition(".")[2].rstrip("0")) for t in texts]
    return [f"{float(t):.{max(places)}f}" if float(t) else t for t in texts]


def _grouped(text: str, style: Style, signed: bool) -> str:
    """Return a number with true minus, thin spaces in thousands and the decimal sign of the style."""
    sign = MINUS if text.startswith("-") else "+" if signed and text.strip("0.") else ""
    whole, point, places = text.lstrip("-").partition(".")
    if int(whole) >= style.grouped_from:
        whole = f"{int(whole):,}".replace(",", THIN)
    return sign + whole + (style.decimal if point else "") + places


def _joined(number: str, unit: str, style: Style) -> str:
    if not unit or unit == "°":
        return number + unit
    return f"{number}{style.gap}{_ONE_OF.get(unit, unit) if number == '1' else unit}"


def _named(unit: str, currency: str) -> str:
    return unit.replace("¤", currency_sign(currency)) if currency else unit.replace("¤", "")
