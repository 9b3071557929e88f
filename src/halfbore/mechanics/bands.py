"""A value that the trade gives as a range, with its standing."""

from __future__ import annotations

from dataclasses import dataclass

from halfbore.sources import Source


@dataclass(frozen=True)
class Band:
    """A range that stands in for a datum nobody gave; both ends are calculated with."""

    low: float
    high: float
    unit: str
    source: Source
