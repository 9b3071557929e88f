"""The words of a survey sheet, made from the records: labels, units to choose from, examples of what can be written."""

from __future__ import annotations

from datetime import date

from halfbore.domain.fields import FieldInfo, Quantity
from halfbore.domain.survey_form import choices_of
from halfbore.units import Kind, Span

_UNITS: dict[Kind, tuple[str, ...]] = {
    Kind.LENGTH: ("mm", "in"),
    Kind.FORCE: ("kN", "lbf"),
    Kind.MASS: ("kg", "lb"),
    Kind.POWER: ("kW", "hp"),
    Kind.STRESS: ("MPa", "psi"),
    Kind.SPEED: ("r/min",),
    Kind.TEMPERATURE: ("°C", "°F"),
    Kind.DURATION: ("h",),
    Kind.VISCOSITY: ("mm²/s",),
    Kind.ANGLE: ("°", "mrad"),
    Kind.FRACTION: ("%",),
    Kind.MASS_PER_LENGTH: ("kg/m", "lb/ft"),
    Kind.MASS_FLOW: ("t/h",),
}
_EXAMPLES: dict[Kind, str] = {
    Kind.LENGTH: "160 mm or 4 15/16 in",
    Kind.FORCE: "4.8 kN or 1100 lbf",
    Kind.MASS: "420 kg or 920 lb",
    Kind.POWER: "55 kW or 75 hp",
    Kind.SPEED: "990 r/min",
    Kind.TEMPERATURE: "80 °C or 180 °F",
    Kind.DURATION: "31 h",
    Kind.VISCOSITY: "220 mm²/s",
    Kind.ANGLE: "90° or 0.5 mrad",
    Kind.FRACTION: "85 %",
    Kind.MASS_PER_LENGTH: "48 kg/m or 32 lb/ft",
    Kind.MASS_FLOW: "120 t/h",
    Kind.MONEY: "3500 EUR",
    Kind.MONEY_RATE: "5400 EUR/h",
    Kind.NUMBER: "1.5",
    Kind.COUNT: "3",
}


def units_to_ring(info: FieldInfo) -> tuple[str, ...]:
    """Return the units that a paper form prints for ringing, the one of a workbook's heading first."""
    return _UNITS.get(info.meta.kind, ()) if isinstance(info.meta, Quantity) else ()


def heading_unit(info: FieldInfo) -> str:
    """Return the unit that a number without one takes; none where every value must say its own, as money does."""
    return next(iter(units_to_ring(info)), "")


def can_write(info: FieldInfo) -> str:
    """Return in one sentence what can be written in a field."""
    words = choices_of(info)
    if words:
        return f"One of: {', '.join(words)}."
    if isinstance(info.meta, Quantity):
        example = (
            f"For example {info.meta.prefix and info.meta.prefix + ' '}{_EXAMPLES.get(info.meta.kind, '1')}"
        )
        return f"{example}; a range is written with to." if info.type is Span else f"{example}."
    if info.type is date:
        return "A date as year-month-day, for example 2026-03-02."
    return "Several entries are parted by semicolons." if info.type == tuple[str, ...] else "Text."


def first_line(text: str) -> str:
    """Return a label as it stands at the head of a row: with a capital."""
    return text[:1].upper() + text[1:]
