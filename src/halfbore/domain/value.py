"""What it saves: hours and money with their ranges, and when the answer is no."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.sources import Source

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Estimate:
    """What 10, 50 and 90 % of the draws stay below, and the mean."""

    p10: float
    p50: float
    p90: float
    mean: float


@dataclass(frozen=True)
class Swing:
    """How far the mean saving moves when one input goes from its low tenth to its high tenth."""

    name: str
    low: float
    high: float
    at_low: float
    at_high: float
    unit: str


@dataclass(frozen=True)
class CostLine:
    """One kind of cost over the horizon, both ways, P50 of the draws."""

    name: str
    one_piece: float
    split: float


@dataclass(frozen=True)
class LifeBasis:
    """The field life that the replacements were drawn from."""

    way: str
    cause: str
    eta: float
    beta: float
    source: Source


@dataclass(frozen=True)
class Value:
    """The value of converting one position.

    saving: present value of one-piece minus split over the horizon; breakeven: lost margin per hour at which the
    median saving is zero, NaN where no cost of downtime makes it pay; histogram: edges (n+1) and counts (n).
    """

    position: str
    currency: str
    horizon: float
    saving: Estimate
    hours_saved: Estimate
    hours_saved_next: Estimate
    exposed_hours: tuple[float, float]
    chance: float
    payback: float
    breakeven: float
    plant_rate: tuple[float, float]
    replacements: tuple[Estimate, Estimate]
    costs: tuple[CostLine, ...]
    swings: tuple[Swing, ...]
    lives: tuple[LifeBasis, ...]
    edges: Floats
    counts: Floats
    seed: int
    draws: int
    sentence: str
    no_when: str
