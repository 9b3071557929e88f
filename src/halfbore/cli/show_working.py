"""The working of a number as text: each clause with its source, its formula, what went in and what came out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from halfbore.calc.clauses import Legible, legible
from halfbore.cli import show
from halfbore.present.formula import number, readable
from halfbore.working import Step

Origins = Mapping[tuple[float, str], str]


def steps(heard: Sequence[Step], origins: Origins | None = None) -> None:
    """Show the working of a number.

    heard: the clauses in order; origins: (number, unit) → where it came from.
    """
    for one in legible(heard):
        show.line(f"{_named(one)} = {_with_unit(number(one.step.result), one.unit)}")
        show.pairs(("", text) for text in _told(one, origins or {}))


def _named(one: Legible) -> str:
    name = one.step.name.replace("_", " ")
    if not one.symbol:
        return name
    same = one.symbol.replace("_", " ").casefold() == name.casefold()
    return one.symbol if same else f"{name} {one.symbol}"


def _with_unit(text: str, unit: str) -> str:
    if not unit or text == "not given":
        return text
    return f"{text} · {unit}" if unit[0].isdigit() else f"{text} {unit}"


def _told(one: Legible, origins: Origins) -> list[str]:
    step = one.step
    rows = [f"{step.source}; {step.source.note}" if step.source.note else str(step.source)]
    given = {name: number(value) for name, value in step.given.items()}
    if step.formula:
        rows += [f"= {readable(step.formula)}", f"= {readable(step.formula, given)}"]
    texts = [_given(name, text, one.units.get(name, ""), bool(step.formula)) for name, text in given.items()]
    rows.append("; ".join(filter(None, texts)))
    rows += _from(one, origins)
    return [row for row in rows if row]


def _given(name: str, text: str, unit: str, put_in: bool) -> str:
    """Return a number that went in with its unit; where the formula shows the number, the unit alone."""
    if put_in:
        return f"{name} in {unit}" if unit else ""
    return f"{name} = {_with_unit(text, unit)}"


def _from(one: Legible, origins: Origins) -> list[str]:
    """Return which numbers came from the job and which from the catalogue."""
    by_origin: dict[str, list[str]] = {}
    for name, value in one.step.given.items():
        if isinstance(value, bool | str) or getattr(value, "size", 1) != 1 or isinstance(value, tuple):
            continue
        ravel = getattr(value, "ravel", None)
        only = float(ravel()[0] if ravel else value)
        if where := origins.get((only, one.units.get(name, ""))):
            by_origin.setdefault(where, []).append(name)
    return [f"{', '.join(names)} from the {where}" for where, names in by_origin.items()]
