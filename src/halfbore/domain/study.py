"""The whole answer for one machine."""

from __future__ import annotations

from dataclasses import dataclass

from halfbore.domain.job import JobReading
from halfbore.domain.order import Order
from halfbore.domain.plan import ChangeoverPair
from halfbore.domain.selection import Choice
from halfbore.domain.shaftline import ShaftResponse
from halfbore.domain.value import Value


@dataclass(frozen=True)
class CatalogueUse:
    """Which catalogue in which version was searched, and what it leaves out."""

    supplier: str
    version: str
    units: int
    invented: bool
    holes: tuple[str, ...]


@dataclass(frozen=True)
class Provenance:
    """What the numbers rest on."""

    version: str
    inputs_hash: str
    seed: int
    editions: tuple[str, ...]
    catalogues: tuple[CatalogueUse, ...]


@dataclass(frozen=True)
class PositionStudy:
    """All results of one position; value and plans are None where they were not asked for."""

    choice: Choice
    order: Order | None
    plans: ChangeoverPair | None
    value: Value | None


@dataclass(frozen=True)
class Study:
    """All results of one machine."""

    reading: JobReading
    response: ShaftResponse
    positions: tuple[PositionStudy, ...]
    provenance: Provenance
    sentence: str
