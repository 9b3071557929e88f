"""What stands in for a datum that nobody measured, how far it may be off, and what measuring it would settle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from halfbore.sources import Source
from halfbore.units import Kind, Span


@dataclass(frozen=True)
class Estimate:
    """A value that was filled in because the survey does not give it.

    path: its place in the job, such as loads[gear unit].mass; text: what was filled in; why: how it was found.
    source: where the rule comes from, with its standing; needs: paths of what it was found from; measured, they
    narrow it. kind, span: what it measures and its range in the internal unit, None for a word.
    arcs: of a direction, the arcs in which it may lie [rad].
    """

    path: str
    text: str
    why: str
    source: Source
    needs: tuple[str, ...] = ()
    kind: Kind | None = None
    span: Span | None = None
    arcs: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class Layout:
    """One way in which the parts may stand along the shaft, within what is known of it [mm].

    positions, loads: place of each; lengths: of shaft over which each load is spread, 0 for one at a place.
    segments: length and diameter of each.
    """

    positions: tuple[float, ...]
    loads: tuple[float, ...]
    lengths: tuple[float, ...]
    segments: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Dimension:
    """A dimension of a load that is a plain number in its record, with its range: loads[load].field."""

    load: int
    field: str
    low: float
    high: float


@dataclass(frozen=True)
class Widening:
    """What a job cannot say of itself because its places, dimensions and directions are plain numbers.

    layouts: the corners of all ways in which the parts may stand; dimensions: those of loads with their ranges.
    directions: of a part, the arcs by which its force may be turned from where it likely points [rad].
    weights, forces: parts whose mass, and whose other forces, rest on an estimate.
    """

    layouts: tuple[Layout, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    directions: tuple[tuple[str, tuple[tuple[float, float], ...]], ...] = ()
    weights: tuple[str, ...] = ()
    forces: tuple[str, ...] = ()


@dataclass(frozen=True)
class Completed:
    """A job in which what was missing is filled in, as plain data.

    data: as typed and filled in; frame: as typed, with the parts and positions that the machine kind stands for,
    so that each estimate has a place at which a measured value can be put.
    widening: how far places, dimensions and directions may be off; None where nothing was filled in.
    """

    data: dict[str, Any]
    frame: dict[str, Any]
    estimates: tuple[Estimate, ...] = ()
    widening: Widening | None = None


@dataclass(frozen=True)
class Narrowing:
    """What one measurement, or one answer, would settle at a position.

    path: its place in the job, empty for what is no value of it; words: what to do and what that brings.
    low, high: ends of its range as text, empty where it has none; narrows: part of the range of the check that
    decides which goes once it is known, 0 to 1; load_narrows: the same of the range of the governing load.
    check: the check that decides; changes: whether the verdict on the unit is another one at an end of its range.
    how: with what it is measured, or who is asked; fails: the checks that turn away a unit that holds at an end of it.
    asks: what to do alone, empty where nothing is to be measured.
    """

    position: str
    path: str
    words: str
    low: str
    high: str
    narrows: float
    load_narrows: float
    check: str
    changes: bool
    how: str
    fails: tuple[str, ...] = ()
    asks: str = ""
