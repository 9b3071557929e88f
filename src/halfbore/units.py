"""Quantities at the edge: one strict grammar from what people write to the units used inside.

A number is `125`, `4.4375`, `112,7`, `1 200`, `1 200,5`, `1,200.5`, `1.200,5`, `1.2e5`, `15/16`, `4 15/16`
or `4-15/16`. A point is a decimal point (`1.250` is one and a quarter) unless other marks show that it parts
thousands; a comma before just three digits (`1,200`), in money a point too, has two readings and is refused.
The unit is never guessed. `6 ft 2 in` and `1 h 30 min` add up; `a to b` and `a to m to b` are ranges. Case
is free where it cannot change the unit: not for a single letter, not where m or M stands before a unit.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from difflib import get_close_matches
from enum import StrEnum
from functools import lru_cache

from halfbore.errors import Problem, UnitError

TEXT_LIMIT = 64  # characters in one quantity


class Kind(StrEnum):
    """What a quantity measures; it decides which units are accepted and what `lb` or `°F` means."""

    LENGTH = "length"
    FORCE = "force"
    MASS = "mass"
    POWER = "power"
    TORQUE = "torque"
    STRESS = "stress"
    SPEED = "speed"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature difference"
    DURATION = "duration"
    VISCOSITY = "viscosity"
    ANGLE = "angle"
    FRACTION = "fraction"
    DENSITY = "density"
    STIFFNESS = "stiffness"
    SURFACE_SPEED = "surface speed"
    CONDUCTANCE = "conductance"
    MASS_PER_LENGTH = "mass per length"
    MASS_FLOW = "mass flow"
    MONEY = "money"
    MONEY_RATE = "money per hour"
    NUMBER = "number"
    COUNT = "count"


# NIST SP 811 (2008), appendix B, unless another source stands beside the number; all from memory.
INCH = 25.4  # mm, exact: international yard and pound agreement, 1959
FOOT = 304.8  # mm, exact: the same
POUND = 0.45359237  # kg, exact: the same
G_N = 9.80665  # m/s², exact: third CGPM, 1901
LBF = POUND * G_N  # N
PSI = LBF / INCH**2  # MPa
# 1 hp is 550 ft·lbf/s, 1 PS 75 kgf·m/s; a year 8760 h, a month 730 h (common practice, no source).

# A row: spellings = times/by from zero; internal value = (value - zero) × times / by. The internal unit is
# first in its kind, the spelling that is shown first in its row; dividing keeps 57 % at 0.57 and
# 4.4375 in at 112.7125 mm. The dot between units may be a space, hyphen, point or star, or left out.
_TABLE = {
    Kind.LENGTH: """mm, MM, millimetre, millimetres, millimeter, millimeters = 1; cm = 10
        m, metre, metres, meter, meters = 1000; µm, micron, microns = 1/1000; in, ", inch, inches, Zoll = 127/5
        ft, ', foot, feet = 1524/5; thou, mil, mils = 127/5000""",
    Kind.FORCE: f"""N, newton, newtons = 1; kN = 1000; MN = 1e6; daN = 10; kgf, kp = {G_N}
        lbf, lb, lbs, pound, pounds = {LBF}; kip, kips = {1000 * LBF}""",
    Kind.MASS: f"kg = 1; g = 1/1000; t, tonne, tonnes = 1000; lb, lbs, lbm = {POUND}; oz = {POUND}/16",
    Kind.POWER: f"""W, watt, watts = 1; mW = 1/1000; kW = 1000; MW = 1e6; hp (E), electric hp = 746
        hp, hp (I), bhp, horsepower = {550 * LBF * FOOT}/1000; PS, CV, hp (M), metric hp = {75 * G_N}""",
    Kind.TORQUE: f"""N·mm = 1; N·m = 1000; kN·m = 1e6; kgf·m, kp·m = {1000 * G_N}
        lbf·in, lb·in, in·lbf, in·lb = {LBF * INCH}; lbf·ft, lb·ft, ft·lbf, ft·lb = {LBF * FOOT}""",
    Kind.STRESS: f"""MPa, Mpa, MPA, N/mm² = 1; Pa, N/m² = 1/1e6; kPa = 1/1000; GPa = 1000; bar = 1/10
        psi, lbf/in², lb/in² = {PSI}; ksi = {1e3 * PSI}; Mpsi = {1e6 * PSI}""",
    Kind.SPEED: f"r/min, rpm, rev/min, 1/min, min⁻¹, U/min, tr/min = 1; r/s, Hz = 60; rad/s = 60/{2 * math.pi}",
    Kind.TEMPERATURE: "°C, ° C, C, deg C = 1; K = 1 from 273.15; °F, ° F, F, deg F = 5/9 from 32",
    Kind.TEMPERATURE_DIFFERENCE: "K, °C, ° C, C, deg C = 1; °F, ° F, F, deg F = 5/9",
    Kind.DURATION: """h, hr, hrs, hour, hours = 1; min, minute, minutes = 1/60; s, second, seconds = 1/3600
        d, day, days = 24; week, weeks = 168; month, months = 8760/12; year, years, yr, yrs, a = 8760""",
    Kind.VISCOSITY: "mm²/s, cSt = 1; m²/s = 1e6; St = 100",
    Kind.ANGLE: f"""rad, radian, radians = 1; mrad = 1/1000; deg, °, degree, degrees = {math.pi}/180
        arcmin, ', min of arc = {math.pi}/10800; arcsec, " = {math.pi}/648000""",
    Kind.FRACTION: " = 1; %, percent, per cent, pct = 1/100",
    Kind.DENSITY: f"""kg/m³ = 1; g/cm³, g/cc, kg/dm³, kg/l, t/m³ = 1000
        lb/ft³, lbm/ft³ = {POUND * 1e9}/{FOOT**3}; lb/in³, lbm/in³ = {POUND * 1e9}/{INCH**3}""",
    Kind.STIFFNESS: f"N/mm, kN/m = 1; N/m = 1/1000; kN/mm, N/µm, MN/m = 1000; lbf/in, lb/in = {LBF}/{INCH}",
    Kind.SURFACE_SPEED: f"m/s = 1; m/min = 1/60; mm/s = 1/1000; ft/s = {FOOT}/1000; ft/min, fpm = {FOOT}/6e4",
    Kind.CONDUCTANCE: "W/(m²·K), W/m²·K = 1",
    Kind.MASS_PER_LENGTH: f"kg/m = 1; lb/ft, lbs/ft, lbm/ft = {POUND * 1000}/{FOOT}",
    Kind.MASS_FLOW: f"t/h, tph = 1; kg/h = 1/1000; kg/s = 18/5; lb/h = {POUND}/1000",
    Kind.MONEY_RATE: "/h, /hr, /hour, per h, per hour = 1",  # after its currency is taken off, as with money
    **dict.fromkeys((Kind.MONEY, Kind.NUMBER, Kind.COUNT), " = 1"),
}
_BARE = (Kind.NUMBER, Kind.COUNT, Kind.FRACTION)
_MONEY = (Kind.MONEY, Kind.MONEY_RATE)
_SMALLER = {"ft": "in", "lb": "oz", "d": "h", "h": "min", "min": "s", "deg": "arcmin", "arcmin": "arcsec"}
_HINTS = {
    (Kind.FORCE, "kg"): "write kgf (kilogram-force), or the weight in N",
    (Kind.MASS, "ton"): "tons differ: write t (1000 kg) or lb",
    (Kind.DURATION, "m"): "write min or months",
    (Kind.VISCOSITY, "SUS"): "convert it to mm²/s at the same temperature first (ASTM D2161)",
}
_VAGUE = re.compile(r"\s*(approx|ca\b|circa|about|around|etwa|max|min\b|[~≈<>≤≥])|.*(±|\+/-)", re.IGNORECASE)
_LETTER = re.compile(r"\d[.,]?[OolI](?![A-Za-z])|(?<![A-Za-z])[OolI][.,]?\d")
_CLASS = re.compile(
    r"\d[\d ,./-]*(?:mm|cm|in|\")?\s*((?:[a-hkmnprstuvxyz]|cd|ef|fg|js|z[abc])(?:0?1|[2-9]|1[0-8]))",
    re.IGNORECASE,
)
"""A size with a tolerance class as ISO 286-1:2010 writes it: 125 h8, 125 mm js6."""
_BLANK = re.compile(r"[-.?]*|n\.?/?a\.?|k\.a\.|none|null|nil|tbd|tbc|unknown", re.IGNORECASE)
_SAME: dict[int, int | str | None] = {
    **str.maketrans("\u00a0\u2007\u2009\u200a\u202f\u3000", "      ", "\u00ad\u200b\u200e\u200f\u2060\ufeff"),
    **str.maketrans("\u2010\u2011\u2012\u2013\u2212\u00b4\u2018\u2019\u2032", "-----''''"),
    **str.maketrans("\u201c\u201d\u201e\u2033\u00ba\u02da\u2044\u03bc", '""""°°/µ'),
    **{full_width: full_width - 0xFEE0 for full_width in range(0xFF01, 0xFF5F)},
    **{ord(mark): f" {eighths}/8" for mark, eighths in zip("⅛¼⅜½⅝¾⅞", range(1, 8), strict=True)},
    **dict(zip(map(ord, "℃℉"), ("°C", "°F"), strict=True)),
}
_PLAIN = str.maketrans("²³⁻¹µ⋅•*×", "23-1u····", "^")
_DOT = re.compile(r"(?:[\s.·]|-(?=[A-Za-z]))+")
_TO = re.compile(r"\s+to\s+", re.IGNORECASE)
_THOUSANDS = re.compile(r"[1-9]\d{0,2}(?:(?:\.\d{3})+|(?:,\d{3})+)", re.ASCII)
_TOKEN = re.compile(
    r"""(?P<unit>(?:1/(?=[A-Za-z])|['"]|[^\s\d.,+\-'"^]+ (?:(?<=[A-Za-z])\^?-?[123](?![\d.,]))? [.\-]*)\s*)
      | (?P<fraction>(?:\d+(?:[ ]+|-))?\d+/\d+)
      | (?P<decimal>(?:[1-9]\d{0,2}(?:[ ]\d{3})+ | \d+ | (?=\.\d))(?:[.,]\d+)*(?:[eE][+-]?\d+)?)
      | (?P<stray>\S)""",
    re.VERBOSE | re.ASCII,
)
_Term = tuple[float, int, str]  # value, denominator when written as a fraction (else 0), unit as written


@dataclass(frozen=True, slots=True)
class Span:
    """A value known within limits: low, most likely, high, in the internal unit."""

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        """Refuse ends that are exchanged or not finite."""
        if not -math.inf < self.low <= self.likely <= self.high < math.inf:
            raise _no("the range does not run from low over likely to high", "write it from low to high")

    @property
    def exact(self) -> bool:
        """True when the range is one value."""
        return self.low == self.high

    @classmethod
    def of(cls, value: float) -> Span:
        """Return the range that is one value."""
        return cls(value, value, value)


def parse(given: str | float, kind: Kind, where: str = "", *, currency: str | None = None) -> float:
    """Return what is written, in the internal unit of its kind.

    given: text with its unit, or a number where the kind has none; where: the field, for the message;
    currency: the ISO 4217 code that money must be given in. Raises UnitError.
    """
    with _telling(given, kind, where):
        values = _values(given, kind, currency)
        if len(values) > 1:
            raise _no("one value is asked for, not a range")
        return values[0]


def parse_span(given: str | float, kind: Kind, where: str = "", *, currency: str | None = None) -> Span:
    """Return the range that is written as `a`, `a to b` (likely is the middle) or `a to m to b`.

    The arguments are those of `parse`; a part without a unit takes that of the last part. Raises UnitError.
    """
    with _telling(given, kind, where):
        values = _values(given, kind, currency)
        if len(values) > 3:
            raise _no("a range has two or three parts", "write 'low to high' or 'low to likely to high'")
        return Span(values[0], values[1] if len(values) == 3 else (values[0] + values[-1]) / 2, values[-1])


def parse_money(given: str, where: str = "", kind: Kind = Kind.MONEY) -> tuple[float, str]:
    """Return amount and ISO 4217 code of `1 250 EUR` or `EUR 1 250`; of `900 EUR/h` with kind MONEY_RATE.

    given: text; where: the field, for the message; kind: MONEY or MONEY_RATE. Raises UnitError.
    """
    with _telling(given, kind, where):
        code = _currency(_clean(given))[1]
    return parse(given, kind, where, currency=code), code


def convert(value: float, kind: Kind, unit: str) -> float:
    """Return a value given in the internal unit of its kind in another unit of that kind.

    NIST SP 811 (2008), appendix B.
    value: in the internal unit; unit: any accepted spelling. Raises UnitError when the kind has no such unit.
    """
    found = _looked_up(unit, kind)
    return value * found.by / found.times + found.zero


@lru_cache(maxsize=256)
def _looked_up(unit: str, kind: Kind) -> _Unit:
    with _telling(unit, kind, ""):
        return _unit(unit, kind)


def units_of(kind: Kind) -> tuple[str, ...]:
    """Return the units of a kind as they are shown, the internal one first."""
    return tuple(dict.fromkeys(unit.name for unit in _EXACT[kind].values()))


def _no(what: str, next_step: str = "") -> UnitError:
    return UnitError(Problem(what, next_step=next_step))


@contextmanager
def _telling(given: object, kind: Kind, where: str) -> Iterator[None]:
    """Add to a refusal the field, what was read, what is accepted and what to do."""
    try:
        yield
    except UnitError as no:
        huge = isinstance(given, int) and abs(given) >= 10**TEXT_LIMIT  # Python may refuse to print it
        text = given if isinstance(given, str) else "a very large number" if huge else repr(given)
        shown = text if len(text) <= TEXT_LIMIT else text[: TEXT_LIMIT - 1] + "…"
        units = [("a currency" if kind in _MONEY else "") + name or "no unit" for name in units_of(kind)]
        told = replace(no.problems[0], where=where, value=shown, accepted=f"{kind} ({', '.join(units)})")
        if kind is Kind.LENGTH and (asked := _CLASS.fullmatch(shown.strip())):
            told = replace(told, what=_CLASS_TOLD.format(asked[1]), next_step=_CLASS_STEP)
        raise UnitError(replace(told, next_step=_advice(shown, told.next_step, kind))) from None


_CLASS_TOLD = "a size with a tolerance class ({}) is what a drawing asks for, no reading"
_CLASS_STEP = (
    "write what was measured, with its unit; else both limits as 'low to high' where ranges are taken, "
    "and a nominal size without its class"
)


def _advice(text: str, known: str, kind: Kind) -> str:
    """Return what to do about a text that was not read, first from the way it looks."""
    if _VAGUE.match(text):
        return "write a value, or a range as 'low to high' where ranges are taken"
    if _LETTER.search(text):
        return "a letter (O, l or I) stands among the digits: write 0 or 1"
    if re.search(r"\d\s*[-–]\s*\d[^/]*$", text):
        return "write a range as 'low to high'"
    return known or ("write one number" if kind in _BARE else "write one number and its unit")


def _clean(given: str) -> str:
    """Return the text with one character for each meaning; refuse what says nothing."""
    text = given.strip()
    if len(text) > TEXT_LIMIT:
        raise _no(f"the text is longer than {TEXT_LIMIT} characters", "write one quantity only")
    if not text.isascii():
        text = text.translate(_SAME).strip()
    if _BLANK.fullmatch(text):
        raise _no("no value is given", "leave the field out if it is not known; a blank is not zero")
    return text.replace("''", '"').replace("- ", "-")


def _values(given: object, kind: Kind, currency: str | None) -> tuple[float, ...]:
    """Return the internal values of the parts of a text, or the one value of a number."""
    if isinstance(given, int | float) and not isinstance(given, bool):
        if kind not in _BARE:
            raise _no("the number has no unit", "write the number and its unit as text")
        return (_checked(float(given) if abs(given) < 1e308 else math.inf, kind),)
    if not isinstance(given, str):
        raise _no("no value is given" if given is None else "a quantity is a text")
    return _read(given, kind, currency)


@lru_cache(maxsize=4096)
def _read(given: str, kind: Kind, currency: str | None) -> tuple[float, ...]:
    """Return the internal values of the parts of a text; of a job that is edited nearly all were read before."""
    text = _clean(given)
    if kind in _MONEY:
        text, code = _currency(text)
        if code != currency:
            raise _no(f"the amount is in {code}, asked for is {currency or 'none yet'}", "make the two agree")
    parts = [_terms(part) for part in _TO.split(text)]
    shared = parts[-1][0][2] if len(parts[-1]) == 1 else ""
    return tuple(_checked(_sum(terms, shared, kind), kind) for terms in parts)


def _terms(text: str) -> list[_Term]:
    """Return the numbers of one part with their units and the sign of the part, `6 ft 2 in` as two terms."""
    sign = -1 if text[:1] == "-" else 1
    terms: list[_Term] = []
    for token in _TOKEN.finditer(text[1:] if text[:1] in ("-", "+") else text):
        group, written = token.lastgroup, token[0]
        if group == "stray" or (group == "unit" and not terms):
            raise _no(f"{written!r} is not expected there" if terms else "it does not begin with a number")
        if group == "unit":
            terms[-1] = (*terms[-1][:2], terms[-1][2] + written)
        elif terms and not terms[-1][2]:
            raise _no("two numbers follow each other")
        else:
            value, below = _decimal(written) if group == "decimal" else _fraction(written)
            terms.append((sign * value, below, ""))
    if not terms:
        raise _no("there is no number")
    return terms


def _fraction(written: str) -> tuple[float, int]:
    """Return the value and the denominator of `15/16`, `4 15/16` or `4-15/16`."""
    *whole, above, below = map(int, re.split(r"[ /-]+", written))
    if below == 0 or above >= below:  # 11/2 is five and a half, or one and a half without its blank
        raise _no("the fraction divides by zero or is not less than one", "write 5 1/2 or 1 1/2, say")
    return sum(whole) + above / below, below


def _decimal(written: str) -> tuple[float, int]:
    """Return the value of a number with decimal point or comma, thousands parted by space, comma or point."""
    mantissa, _, exponent = written.lower().partition("e")
    marks = [c for c in mantissa if c in ".,"]
    last = marks.pop() if marks and marks.count(marks[-1]) == 1 else ""
    whole, rest = mantissa.rsplit(last, 1) if last else (mantissa, "")
    if last == "," and not marks and len(rest) == 3 and len(whole) <= 3 and whole[0] != "0":
        raise _no("the comma has two readings", f"write {whole}{rest} or {whole}.{rest}")
    if marks and not _THOUSANDS.fullmatch(whole):
        raise _no("points and commas do not part the number in threes")
    digits = re.sub("[ .,]", "", whole) or "0"
    value = float(f"{digits}.{rest}e{exponent or 0}")
    if value == 0 and (digits + rest).strip("0"):
        raise _no("the number is too small")
    return value, 0


def _sum(terms: list[_Term], shared: str, kind: Kind) -> float:
    """Return the internal value of one part; a unit that it lacks is the shared one."""
    total, expected, room = 0.0, "any", math.inf
    for value, below, written in terms:
        unit = _unit(written or (shared if len(terms) == 1 else ""), kind)
        if kind is Kind.LENGTH and below and (unit.name not in ("in", "ft") or 128 % below):
            raise _no("a fraction of a length is in halves to 128ths of an inch or foot")
        if expected != "any" and (unit.name != expected or unit.inside(abs(value)) >= room):
            raise _no(f"{abs(value):g} {unit.name} cannot follow there")
        total += unit.inside(value)
        expected, room = _SMALLER.get(unit.name, "") if value % 1 == 0 else "", unit.inside(1)
    return total


def _checked(value: float, kind: Kind) -> float:
    """Return the value when its kind can have it."""
    if not math.isfinite(value):
        raise _no("the number is not finite or too large")
    if kind is Kind.FRACTION and not 0 <= value <= 1:
        raise _no("a fraction lies between 0 and 1", "write 0.85 or 85 %")
    if kind is Kind.COUNT and not (0 <= value < 2**53 and value % 1 == 0):
        raise _no("a count is a whole number from 0 to 2^53")  # above, a float skips whole numbers
    return value + 0.0  # no negative zero


def _currency(text: str) -> tuple[str, str]:
    """Return the text without its currency, and the code of three capitals (ISO 4217)."""
    if re.search(r"(?<![\d.,])[1-9]\d{0,2}\.\d{3}(?![\d.,])", text):  # 1.250 as money is more often 1250
        raise _no("a point before three digits has two readings in money", "write 1 250 or 1250 or 1.25")
    pieces = re.split(r"(€|(?<![A-Za-z])[A-Z]{3}(?![A-Za-z]))", text)
    codes = {"EUR" if code == "€" else code for code in pieces[1::2]}
    if len(codes) != 1:
        raise _no("one currency is needed", "write its ISO 4217 code in capitals, such as EUR or USD")
    return "\n".join(pieces[::2]).strip(), codes.pop()  # joined by a space 1EUR250 would be 1 250


@dataclass(frozen=True, slots=True)
class _Unit:
    name: str
    times: float
    by: float
    zero: float

    def inside(self, value: float) -> float:
        return (value - self.zero) * self.times / self.by


def _key(unit: str) -> str:
    """Return the spelling of a unit with one dot for all that may stand between two units."""
    key = _DOT.sub("·", unit.translate(_PLAIN)).strip("·")
    return re.sub("·*/·*", "/", key)


def _spellings(kind: Kind) -> dict[str, _Unit]:
    found: dict[str, _Unit] = {}
    for row in re.split("[;\n]", _TABLE[kind]):
        names, factor = (side.strip() for side in row.split("="))
        ratio, _, zero = factor.partition(" from ")
        times, _, by = ratio.partition("/")
        unit = _Unit(names.split(", ")[0], float(times), float(by or 1), float(zero or 0))
        keys = [_key(name) for name in names.split(", ")]
        found |= dict.fromkeys([*keys, *(key.replace("·", "") for key in keys)], unit)
    return found


def _any_case(exact: dict[str, _Unit]) -> dict[str, _Unit]:
    """Return the spellings in any case: not one letter, and not m or M before another unit."""
    free = {key.casefold(): unit for key, unit in exact.items() if len(key) > 1}
    bases = {key.casefold() for key in exact}
    return {key: unit for key, unit in free.items() if not (key[0] == "m" and key[1:] in bases)}


_EXACT = {kind: _spellings(kind) for kind in Kind}
_ANY_CASE = {kind: _any_case(exact) for kind, exact in _EXACT.items()}
INTERNAL = {kind: units_of(kind)[0] for kind in Kind}


def _find(key: str, kind: Kind) -> _Unit | None:
    return _EXACT[kind].get(key) or _ANY_CASE[kind].get(key.casefold())


def _unit(written: str, kind: Kind) -> _Unit:
    """Return the unit of a kind by its spelling, or say which unit is near or what kind the unit is of."""
    key = written if written in _EXACT[kind] else _key(written)
    if unit := _find(key, kind):
        return unit
    if not key:
        raise _no("the number has no unit")
    what = f"{written!r} is not a known unit"
    if others := [other for other in Kind if _find(key, other)]:
        what = f"{written!r} is a unit of {' or '.join(others)}, not of {kind}"
    known = {spelling.casefold(): unit.name for spelling, unit in _EXACT[kind].items() if unit.name}
    near = dict.fromkeys(known[k] for k in get_close_matches(key.casefold(), known, n=3, cutoff=0.6))
    raise _no(what, _HINTS.get((kind, key)) or (f"nearest: {', '.join(near)}" if near else ""))
