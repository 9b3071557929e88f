"""What went into a number that no single clause gives: a reaction, or what many draws say."""

from __future__ import annotations

from dataclasses import dataclass

from halfbore.sources import Source
from halfbore.units import Kind, Span


@dataclass(frozen=True)
class Taken:
    """One thing that went in: its value in the internal unit or in words, its law where it is drawn, its source.

    unit: in which it is shown, the usual one where empty.
    """

    name: str
    value: Span | float | str
    kind: Kind
    source: Source
    law: str = "fixed"
    currency: str = ""
    unit: str = ""


@dataclass(frozen=True)
class LoadPart:
    """What one load brings to a reaction in one condition.

    force: likely radial force on the shaft, upright and level [N]; size: its size over its range [N]; x: place [mm];
    share: of it that this bearing takes, NaN where bearings that give decide it; part: what it adds to the reaction,
    upright and level [N]; axial: force along the shaft [N], positive towards the free end.
    """

    name: str
    force: tuple[float, float]
    size: Span
    x: float
    share: float
    part: tuple[float, float]
    axial: Span
    direction: str
    source: Source


@dataclass(frozen=True)
class ReactionParts:
    """A reaction and what it is made of; others: places of the other bearings [mm]."""

    condition: str
    x: float
    others: tuple[float, ...]
    parts: tuple[LoadPart, ...]
