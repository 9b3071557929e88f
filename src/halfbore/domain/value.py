"""What it saves: hours and money with their ranges, and when the answer is no."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.sources import Source

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Estimate:
    """What 10, 50 and 90 % of the draws stay below, and their mean."""

    p10: float
    p50: float
    p90: float
    mean: float


@dataclass(frozen=True)
class Swing:
    """How far the mean saving moves when one input alone is held at its P10 and at its P90, all else as drawn."""

    name: str
    low: float
    high: float
    at_low: float
    at_high: float
    unit: str


@dataclass(frozen=True)
class CostLine:
    """One kind of cost over the horizon, both ways: mean present value of the draws, so that lines add up."""

    name: str
    one_piece: float
    split: float


@dataclass(frozen=True)
class LifeBasis:
    """A field life that the replacements were drawn from: its Weibull scale [h running] and shape.

    cap: the way is changed at this age in any case; its shape is NaN.
    """

    way: str
    cause: str
    eta: Estimate
    beta: float
    source: Source


@dataclass(frozen=True)
class Value:
    """The value of converting one position, against putting a one-piece bearing back at the next change.

    saving: present value of one-piece less split over the horizon [money]; hours: outage, first at the next change,
    then at a later planned one, then over the horizon; one_piece_outage: of the next change with a one-piece bearing,
    as it was counted [h]; exposed_hours: person-hours exposed to a hazard over the horizon, P50, one-piece and split;
    payback: years until the saving has repaid for good what the conversion cost more, P50, NaN beyond the horizon.
    breakeven: lost margin per hour at which the P50 saving is zero, 0 where it pays at any, NaN where none makes it
    pay; breakeven_from_first_hour: the same if nothing covered the first hours of a stop; breakeven_planned_share:
    share of changes in stops taken anyway above which the P50 saving is lost, NaN where there is none.
    plant_rate: least and most of what the plant says; replacements: after the next change, one-piece and split.
    saving_without_cure: the same if all failures of today went on in the split unit; shared_with: positions changed on
    the same dates; stop_share: of what a stop costs that counts here; caveats: what must stand beside the saving.
    edges, counts: histogram of the saving, (n + 1) and (n).
    """

    position: str
    currency: str
    horizon: float
    saving: Estimate
    saving_without_cure: Estimate
    shared_with: tuple[str, ...]
    stop_share: float
    hours_saved: Estimate
    hours_saved_next: Estimate
    hours_saved_later: Estimate
    one_piece_outage: Estimate
    exposed_hours: tuple[float, float]
    chance: float
    payback: float
    breakeven: float
    breakeven_from_first_hour: float
    breakeven_planned_share: float
    plant_rate: tuple[float, float]
    replacements: tuple[Estimate, Estimate]
    costs: tuple[CostLine, ...]
    swings: tuple[Swing, ...]
    lives: tuple[LifeBasis, ...]
    edges: Floats
    counts: Floats
    seed: int
    draws: int
    assumptions: tuple[str, ...]
    caveats: tuple[str, ...]
    sentence: str
    no_when: str
