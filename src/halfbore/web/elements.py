"""What stands along a shaft, as rows of one table beside the drawing, in the order of their places."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from halfbore.domain.survey import Plain
from halfbore.domain.workspace import Address
from halfbore.errors import HalfboreError
from halfbore.numbers import Style, write
from halfbore.store import Workspace, paths
from halfbore.units import Kind, parse
from halfbore.web.fields import DIGITS, Value, value_at, values_of

LOAD_FIELDS = (
    *("tight_strand", "pull", "force", "arm_force", "push", "axial_thrust", "capacity", "power", "torque"),
    *("balance_in_service", "reaction"),
)
"""Fields that say what a part does to the shaft, the most telling first."""


@dataclass(frozen=True)
class Element:
    """One row: what it is, its place along the shaft, its size, its load or length; base: its path,
    empty for a position; reach: from where to where a stretch goes, as text."""

    name: str
    kind: str
    at: Address
    base: str
    place: Value | None
    reach: str
    size: Value | None
    load: Value | None
    x: float
    position: str = ""


def elements_of(workspace: Workspace, line: Address, style: Style, letters: dict[str, str]) -> list[Element]:
    """Return the rows of a shaft line: stretches of shaft, parts, positions. letters: of positions, by tag."""
    document = workspace.document(line)
    rows = [*_segments(line, document, style), *_parts(line, document, style)]
    for tag in letters:
        at = (*line, tag)
        own = workspace.document(at)
        place = value_at(at, own, "x", style)
        seat = value_at(at, own, "seat.nominal" if paths.get(own, "seat.nominal") else "seat.diameter", style)
        role = value_at(at, own, "role", style)
        rows.append(Element(tag, "bearing", at, "", place, "", seat, role, _x(place.typed), tag))
    return sorted(rows, key=lambda row: row.x)


def _segments(line: Address, document: Plain, style: Style) -> Iterator[Element]:
    start = 0.0
    for i in range(len(paths.get(document, "shaft.segments") or ())):
        base = f"shaft.segments[{i}]"
        length = value_at(line, document, f"{base}.length", style)
        size = value_at(line, document, f"{base}.diameter", style)
        long = _x(length.typed)
        end = start + (long if math.isfinite(long) else 0.0)
        reach = write((start, end), Kind.LENGTH, style, digits=DIGITS)
        yield Element("Shaft", "stretch", line, base, None, reach, size, length, start - 1e-6)
        start = end


def _parts(line: Address, document: Plain, style: Style) -> Iterator[Element]:
    entries = document.get("loads") or []
    for entry, label in zip(entries, paths.labels(entries), strict=True):
        base, kind = f"loads[{label}]", str(entry.get("kind", ""))
        try:
            given = {v.path.rpartition(".")[2]: v for v in values_of(line, document, style, base)}
        except HalfboreError:
            continue
        load = next((given[name] for name in LOAD_FIELDS if name in given and given[name].typed), None)
        place = given.get("x")
        x = _x(place.typed) if place else math.inf
        name = str(entry.get("name", label))
        yield Element(name, kind, line, base, place, "", given.get("mass"), load, x)


def _x(text: str) -> float:
    """Return a place [mm], without end where it cannot be read, so that such a row comes last."""
    try:
        return parse(text, Kind.LENGTH)
    except HalfboreError:
        return math.inf


def duty_of(workspace: Workspace, line: Address) -> tuple[Address, list[str]]:
    """Return whose document says the duty of a shaft line, and the paths of its conditions."""
    for at in (line, line[:1], ()):
        entries = workspace.document(at).get("duty")
        if entries:
            return at, [f"duty[{label}]" for label in paths.labels(entries)]
    return line, []
