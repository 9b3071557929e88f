"""Headings of other people's tables: the unit that one names, and the words that are left."""

from __future__ import annotations

import re
from functools import lru_cache

from halfbore.errors import UnitError
from halfbore.intake.survey.fold import folded
from halfbore.units import Kind, convert

_BRACKETS = re.compile(r"[\[(]([^\])]+)[\])]")
_FOREIGN = {
    "weeks": "wochen woche wo semaines semaine semanas semana sem",
    "days": "tage tag jours jour dias dia",
    "h": "stunden std heures horas",
    "r/min": "upm tr/min u/min",
    "kg": "kilo kilos",
    "in": "zoll pouces pulgadas pulg",
    "deg": "grad grados degres",
}
_OURS = {word: unit for unit, words in _FOREIGN.items() for word in words.split()}
_CURRENCY = re.compile(r"\b[A-Z]{3}\b|€|\$|£")
_PARTS = re.compile(r"\s+|,\s*|;\s*")


def unit_in(heading: str, kind: Kind) -> str:
    """Return the unit of this kind that a heading names, as it is written there; empty where it names none or several.

    One in brackets counts first, then the last word, then any word of two letters or more: a single letter inside
    a heading is more often a symbol.
    """
    bracketed = [text.strip() for text in _BRACKETS.findall(heading)]
    if found := [text for text in bracketed if spelt(text, kind)]:
        return found[0] if len(set(found)) == 1 else ""
    words = [word for word in _PARTS.split(heading.strip()) if word]
    for count in (2, 1):
        last = " ".join(words[-count:])
        if len(words) >= count and spelt(last, kind):
            return last
    inside = {word for word in words if len(word) > 1 and spelt(word, kind)}
    return inside.pop() if len(inside) == 1 else ""


@lru_cache(maxsize=10_000)
def spelt(text: str, kind: Kind) -> str:
    """Return a unit of this kind as a mapping writes it, a foreign word in English; empty for what is none."""
    unit = _OURS.get(" ".join(folded(text).split()), text)
    if not unit or len(unit) > 20:
        return ""
    try:
        convert(1.0, kind, unit)
    except UnitError:
        return ""
    return unit


def words_of(heading: str, unit: str = "") -> tuple[str, ...]:
    """Return the words of a heading as they are compared, without its unit and its currency."""
    before, found, after = heading.rpartition(unit) if unit else ("", "", heading)
    rest = f"{before} {after}" if found or not unit else heading
    return tuple(folded(_CURRENCY.sub(" ", rest)).split())


def symbol_of(heading: str, unit: str = "") -> str:
    """Return a heading without its unit, marks and blanks, in its own case: C0 of `C_0 [kN]`."""
    rest = _BRACKETS.sub("", heading).strip()
    if unit and rest.endswith(unit) and rest != unit:
        rest = rest[: -len(unit)]
    return re.sub(r"[\s_,;:.\-]", "", rest)
