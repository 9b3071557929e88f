"""Other people's headings matched to fields: how near a heading is to what a field is called, and its unit."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from functools import cache

from halfbore.domain.survey import Thing
from halfbore.errors import UnitError
from halfbore.intake.records import MONEY
from halfbore.intake.survey.fold import folded
from halfbore.intake.survey.targets import paths_of, quantity_of
from halfbore.intake.survey.vocabulary import headings_for
from halfbore.units import Kind, convert

SURE, LIKELY, UNSURE = 0.95, 0.75, 0.58
_TIE = 0.02
_BRACKETS = re.compile(r"[\[(]([^\[\]()]*)[\])]")
_WRONG_UNIT = 0.55
"""A heading with a unit of another kind is rather another field."""
_NEAR = 0.84
_LONGEST = 80
"""Characters; a longer text is no heading."""


@dataclass(frozen=True)
class Match:
    """A field that a heading may mean, and how sure that is, from 0 to 1."""

    path: str
    score: float


@cache
def matches(heading: str, thing: Thing) -> tuple[Match, ...]:
    """Return the fields of a table of a thing that a heading may mean, the surest first."""
    forms = _forms(heading) if len(heading) <= _LONGEST else ()
    found = []
    for path, names in headings_for(thing).items():
        score = max((_score(form, name) for form in forms for name in names), default=0.0)
        if score >= UNSURE and not _unit_fits(heading, thing, path):
            score *= _WRONG_UNIT
        if score >= UNSURE:
            found.append(Match(path, score))
    return tuple(sorted(found, key=lambda match: -match.score))


def _forms(heading: str) -> tuple[str, ...]:
    """Return a heading folded, without what stands in brackets, and without a unit at its end."""
    bare = _BRACKETS.sub(" ", heading).strip(" :,;")
    words = bare.split()
    forms = [bare]
    if len(words) > 1 and is_unit(words[-1]):
        forms.append(" ".join(words[:-1]).rstrip(" ,;:/").removesuffix(" in"))
    return tuple(dict.fromkeys(form for text in forms if (form := folded(text))))


def _score(heading: str, name: str) -> float:
    """Return how near a folded heading is to one name of a field."""
    if heading == name:
        return 1.0
    ours, theirs = set(name.split()), set(heading.split())
    if ours == theirs:
        return 0.96
    if ours < theirs:
        return 0.35 + 0.6 * len(name) / max(len(heading), len(name))
    if theirs < ours:
        return 0.3 + 0.6 * len(heading) / max(len(heading), len(name))
    shorter, longer = sorted((len(heading), len(name)))
    if shorter < 5 or 2 * shorter < _NEAR * (shorter + longer) or any(c.isdigit() for c in heading):
        return 0.0
    matcher = difflib.SequenceMatcher(None, heading, name, autojunk=False)
    if matcher.quick_ratio() < _NEAR:
        return 0.0
    near = matcher.ratio()
    return 0.9 * near if near >= _NEAR else 0.0


def tied(found: tuple[Match, ...]) -> tuple[str, ...]:
    """Return the paths that are as sure as the first."""
    return tuple(match.path for match in found if match.score >= found[0].score - _TIE)


def _unit_fits(heading: str, thing: Thing, path: str) -> bool:
    """Return whether the unit in brackets of a heading, if it has one, is one of the field's."""
    units = [unit.strip() for unit in _BRACKETS.findall(heading) if is_unit(unit.strip())]
    meta = quantity_of(paths_of(thing)[path])
    return not units or (meta is not None and any(_is_of(unit, meta.kind) for unit in units))


def unit_of(heading: str, kind: Kind) -> str:
    """Return the unit of a kind that a heading names in brackets or at its end, empty where it names none."""
    words = heading.replace("[", " ").replace("]", " ").split()
    ends = [" ".join(words[-2:]), words[-1]] if len(words) > 1 else []
    named: list[str] = [*_BRACKETS.findall(heading), *ends]
    found = (text.strip().removeprefix("in ").strip() for text in named)
    return next((unit for unit in found if _is_of(unit, kind)), "")


@cache
def is_unit(text: str) -> bool:
    """Return whether a text is a unit of any kind."""
    return bool(text) and any(_is_of(text, kind) for kind in Kind)


@cache
def _is_of(unit: str, kind: Kind) -> bool:
    if not unit or kind in (Kind.NUMBER, Kind.COUNT):
        return False
    if kind in MONEY:
        end = r"\s?(/h|/hr|/hour|per h|per hour)" if kind is Kind.MONEY_RATE else ""
        return re.fullmatch(rf"([A-Z]{{3}}|€){end}", unit) is not None
    try:
        convert(1.0, kind, unit)
    except UnitError:
        return False
    return True
