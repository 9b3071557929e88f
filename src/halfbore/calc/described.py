"""What a calculation says of itself as two records: what it takes and what it gives.

A function of plain numbers is described by its signature and its docstring, `name: meaning [unit]` for each
argument and `Returns name [unit]`; a function of one record is described by that record and the one it returns.
"""

from __future__ import annotations

import dataclasses
import re
import sys
from collections.abc import Callable, Iterator
from dataclasses import MISSING, dataclass
from enum import StrEnum
from inspect import Parameter, getdoc, signature, unwrap
from typing import Annotated, Any, Literal, get_args, get_origin, get_type_hints

from halfbore.domain.fields import Meta, Note, Quantity
from halfbore.units import INTERNAL, Kind

KINDS = {unit: kind for kind, unit in INTERNAL.items() if unit and kind is not Kind.MONEY_RATE}
FRACTIONS = ("S", "share", "rate", "efficiency", "fill", "loss", "one_sided", "part")
"""Arguments without a unit that are also written in per cent."""
NEVER_NEGATIVE = (
    Kind.MASS,
    Kind.POWER,
    Kind.SPEED,
    Kind.VISCOSITY,
    Kind.DENSITY,
    Kind.DURATION,
    Kind.SURFACE_SPEED,
    Kind.MASS_PER_LENGTH,
    Kind.MASS_FLOW,
)
SIZES = (
    "d",
    "D",
    "B",
    "D_we",
    "D_pw",
    "L_we",
    "d_m",
    "diameter",
    "length",
    "span",
    "nominal",
    "C_r",
    "C_0r",
    "capacity",
)
"""Arguments that measure a thing, so that they are never negative."""
LARGEST = 1e15
WORDS = ("group",)
"""Arguments for which a function takes one text or a column of them."""

_NO_VALUE = r"\bnan\b|not a number|no value"


@dataclass(frozen=True)
class Measured(Quantity):
    """A quantity whose unit belongs to no kind, such as mm⁴ or kg/m: it is read and written in that unit alone."""

    unit: str = ""


def unit_of(meta: Meta) -> str:
    """Return the unit that a bare number of a field is in, empty where it has none."""
    if isinstance(meta, Measured):
        return meta.unit
    return INTERNAL[meta.kind] if isinstance(meta, Quantity) else ""


@dataclass(frozen=True)
class Description:
    """What a function calculates, the records of what it takes and gives, and how far it holds, in words."""

    what: str
    takes: type
    gives: type
    holds: str
    record_in: bool


def described(function: Callable[..., Any], gives: str = "") -> Description:
    """Return the description of a function.

    gives: names of the results where there are several, with their unit in brackets where the docstring has none.
    """
    text = _Text(function)
    hints = get_type_hints(unwrap(function), include_extras=True)
    given = [hint for name, hint in hints.items() if name != "return"]
    if len(given) == 1 and isinstance(given[0], type) and dataclasses.is_dataclass(given[0]):
        return Description(text.what, given[0], hints["return"], text.holds, record_in=True)
    takes = [_argument(p, hints[p.name], text) for p in signature(function).parameters.values()]
    results = [(name, Annotated[float, _quantity(unit, text.what)]) for name, unit in text.results(gives)]
    return Description(text.what, _record(takes), _record(results), text.holds, record_in=False)


def clause_units(function: Callable[..., Any]) -> tuple[str, str, dict[str, str]]:
    """Return symbol and unit of the result of a function, and the unit of each argument, as its docstring says."""
    text = _Text(function)
    symbol, unit = text.results("")[0]
    units = {name: text.argument(name)[1] for name in signature(function).parameters}
    return "" if symbol == "result" else symbol, unit, units


def _record(fields: list[Any]) -> type:
    return dataclasses.make_dataclass("Record", fields, frozen=True, kw_only=True)


def _argument(parameter: Parameter, hint: Any, text: _Text) -> tuple[str, Any, Any]:
    """Return one argument as a field: its name, its annotated type, its default."""
    help_, unit = text.argument(parameter.name)
    kind, name = _type(parameter.name, hint), parameter.name
    fraction = name in FRACTIONS or name.endswith("_share")
    meta = _quantity(unit, help_, fraction, name in SIZES) if kind in (float, int) else Note(help_)
    default = MISSING if parameter.default is Parameter.empty else parameter.default
    return name, Annotated[kind, meta], dataclasses.field(default=default)


def _type(name: str, hint: Any) -> Any:
    if get_origin(hint) is Literal:
        return StrEnum(name, {str(choice): str(choice) for choice in get_args(hint)})
    if hint in (str, bool, int) or (isinstance(hint, type) and issubclass(hint, StrEnum)):
        return hint
    if name in WORDS:
        return str
    return bool if bool in get_args(hint) else float


def _quantity(unit: str, help_: str, fraction: bool = False, size: bool = False) -> Quantity:
    if unit in KINDS:
        lowest = 0.0 if size or KINDS[unit] in NEVER_NEGATIVE else -LARGEST
        return Quantity(KINDS[unit], help_, limits=(lowest, LARGEST))
    if fraction:
        return Quantity(Kind.FRACTION, help_)
    return Measured(Kind.NUMBER, help_, unit=unit) if unit else Quantity(Kind.NUMBER, help_)


class _Text:
    """The docstring of a clause function, taken apart."""

    def __init__(self, function: Callable[..., Any]) -> None:
        doc = getdoc(function) or ""
        head, _, body = doc.partition("\n\n")
        self.module = sys.modules[unwrap(function).__module__]
        self.names = list(signature(function).parameters)
        self.first = head
        self.what = _sentence(re.sub(r"\s*\[[^\]]*\]", "", head))
        source, _, said = body.partition("\n")
        arguments, _, after = " ".join(said.split()).partition("Returns ")
        self.arguments, self.returned = arguments, after.partition(" Raises ")[0]
        self.holds = _limits(f"{head} {self.returned}; {source}")

    def argument(self, name: str) -> tuple[str, str]:
        """Return what an argument means and its unit."""
        said = next((said for names, said in self._groups() if name in names), name)
        other = re.match(r"(?:as in|see) (\w+)", said)
        told = getattr(self.module, other[1], None) if other else None
        if callable(told) and name in signature(told).parameters:
            return _Text(told).argument(name)
        unit = re.search(r"\[([^\]]*)\]", said)
        words = re.sub(r"\s*\[[^\]]*\]", "", said).strip(" .;,") or name.replace("_", " ")
        return re.sub(r"\b[A-Z][A-Z_]{3,}\b", _in_words, words), _plain_unit(unit[1]) if unit else ""

    def _groups(self) -> Iterator[tuple[list[str], str]]:
        """Yield each group of arguments with what is said of it."""
        name = "|".join(sorted(map(re.escape, self.names), key=len, reverse=True))
        starts = list(re.finditer(rf"(?<!\w)((?:{name})(?:, (?:{name}))*): ", self.arguments))
        for i, start in enumerate(starts):
            end = starts[i + 1].start() if i + 1 < len(starts) else len(self.arguments)
            yield start[1].split(", "), self.arguments[start.end() : end]

    def results(self, gives: str) -> list[tuple[str, str]]:
        """Return name and unit of each result."""
        found = re.search(r"\[([^\]]*)\]", self.returned) or re.search(r"\[([^\]]*)\]", self.first)
        unit = _plain_unit(found[1]) if found else ""
        symbol = re.match(r"(\w*[\w_θ]+) \[", self.returned)
        if not gives:
            return [(symbol[1] if symbol else "result", unit)]
        names, _, other = gives.partition(" [")
        return [(name, other.rstrip("]") if other else unit) for name in names.split()]


def _plain_unit(text: str) -> str:
    unit = text.partition(" = ")[0].strip()
    return "" if unit in ("-", "N, mm") else unit


def _sentence(text: str) -> str:
    """Return the first line of a docstring as a sentence about what comes out."""
    said = re.sub(r"^Return (whether )?", r"\1", " ".join(text.split()))
    said = re.sub(_NO_VALUE, "no value", said, flags=re.I)
    return said[:1].upper() + said[1:]


def _in_words(constant: re.Match[str]) -> str:
    """Name a constant of a module as words: `see FLANGE_FRICTION` stands for its usual values."""
    return constant[0].replace("_", " ").lower()


def _limits(said: str) -> str:
    """Return what a docstring says of where there is no value."""
    parts = [p.strip(" .") for p in re.split(r";|\. ", said) if re.search(_NO_VALUE, p, re.I)]
    said = re.sub(_NO_VALUE, "no value", "; ".join(parts), flags=re.I)
    return re.sub(r"\s*\[[^\]]*\]", "", re.sub(r"\binf\b", "no limit", said))
