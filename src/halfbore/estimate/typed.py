"""Plain data of a job on its way to being complete: what is typed is read and never touched, gaps are filled."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, TypeVar

from halfbore.domain.estimate import Estimate
from halfbore.domain.machine import Arrangement, MachineKind
from halfbore.errors import Problem, UnitError
from halfbore.estimate.spans import rounded, text_of
from halfbore.sources import Source
from halfbore.units import Kind, Span, parse_span

Plain = dict[str, Any]
Option = TypeVar("Option", bound=StrEnum)


@dataclass
class Sheet:
    """A job while it is filled in.

    data: as typed and filled in; frame: as typed, with the names of parts and positions that were added.
    """

    data: Plain
    frame: Plain = field(default_factory=dict)
    estimates: list[Estimate] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    @classmethod
    def of(cls, data: Mapping[str, Any]) -> Sheet:
        """Return a copy that can be filled in."""
        return cls(deepcopy(dict(data)), deepcopy(dict(data)))

    @property
    def machine(self) -> Plain:
        """The machine's table; an empty one where none is given."""
        return table(self.data, "machine")

    @property
    def plate(self) -> Plain:
        """The name plate; an empty one where none is given."""
        return table(self.machine, "name_plate")

    @property
    def kind(self) -> MachineKind | None:
        """The machine kind; None where it is not given or not known."""
        return _choice(MachineKind, self.machine.get("kind"))

    @property
    def arrangement(self) -> Arrangement | None:
        """The arrangement as typed or filled in."""
        return _choice(Arrangement, self.plate.get("arrangement"))

    def entries(self, name: str) -> list[Plain]:
        """Return the entries of a list of tables, such as loads; what is no table is left out."""
        found = self.data.get(name)
        found = [found] if isinstance(found, dict) else found
        return [e for e in found if isinstance(e, dict)] if isinstance(found, list) else []

    def add(self, name: str, entries: list[Plain], why: str, source: Source) -> None:
        """Add the parts, positions or conditions that the machine kind stands for."""
        self.data[name] = deepcopy(entries)
        self.frame[name] = deepcopy(entries)
        names = ", ".join(str(e["name"]) for e in entries)
        self.estimates.append(Estimate(name, names, why, source))

    def fill(
        self,
        entry: Plain,
        place: str,
        name: str,
        span: Span,
        kind: Kind,
        why: str,
        source: Source,
        needs: tuple[str, ...] = (),
    ) -> Span:
        """Fill a gap with a range, and return the range as it is written.

        entry: the table with the gap; place: its path; name: the field.
        """
        span = rounded(span, kind)
        entry[name] = text_of(span, kind)
        self.estimates.append(Estimate(f"{place}.{name}", entry[name], why, source, needs, kind, span))
        return span

    def fill_one(
        self,
        entry: Plain,
        place: str,
        name: str,
        span: Span,
        kind: Kind,
        why: str,
        source: Source,
        needs: tuple[str, ...] = (),
    ) -> Span:
        """Fill a gap that takes one number with the likely one; its range is carried beside it."""
        entry[name] = text_of(Span.of(span.likely), kind)
        told = why if span.exact else f"{why}; range {text_of(span, kind)}"
        self.estimates.append(Estimate(f"{place}.{name}", entry[name], told, source, needs, kind, span))
        return span

    def say(
        self,
        entry: Plain,
        place: str,
        name: str,
        word: Any,
        why: str,
        source: Source,
        arcs: tuple[tuple[float, float], ...] = (),
    ) -> None:
        """Fill a gap with a word."""
        entry[name] = word
        self.estimates.append(Estimate(f"{place}.{name}", str(word), why, source, arcs=arcs))


def table(data: Mapping[str, Any], name: str) -> Plain:
    """Return a table inside a table, an empty one where there is none."""
    found = data.get(name)
    return found if isinstance(found, dict) else {}


def given(entry: Mapping[str, Any], name: str) -> bool:
    """Whether something was typed for a field, readable or not."""
    return name in entry


def read(entry: Mapping[str, Any], name: str, kind: Kind) -> Span | None:
    """Return a typed quantity; None where it is not given or cannot be read, which the reader of jobs will say."""
    value = entry.get(name)
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        return None
    try:
        return parse_span(value, kind)
    except UnitError:
        return None


READABLE = (1e-6, 1e9)
"""What is estimated from, in internal units; the reader of jobs refuses anything near the ends."""


def read_positive(entry: Mapping[str, Any], name: str, kind: Kind) -> Span | None:
    """Return a typed quantity above zero, as `read` does."""
    span = read(entry, name, kind)
    return span if span is not None and READABLE[0] <= span.low and span.high <= READABLE[1] else None


def path_of(list_name: str, entry: Mapping[str, Any], index: int) -> str:
    """Return the path of an entry of a list, by its name where it has one."""
    name = entry.get("name")
    return f"{list_name}[{name if isinstance(name, str) and name and not set(name) & set('[]') else index}]"


def likely(entry: Mapping[str, Any], name: str, kind: Kind) -> float | None:
    """Return the likely value of a typed quantity, as `read` does."""
    span = read(entry, name, kind)
    return None if span is None else span.likely


def _choice(options: type[Option], value: object) -> Option | None:
    if not isinstance(value, str):
        return None
    folded = " ".join(value.casefold().split())
    return next((option for option in options if str(option.value) == folded), None)
