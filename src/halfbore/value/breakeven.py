"""Where the answer turns: the cost of lost production and the share of planned stops at which nothing is saved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.economics import LossStep
from halfbore.numerics.sampling import quantiles
from halfbore.value.costs import LossCurve
from halfbore.value.simulate import Changes, Costs, Future, Inputs, begin, change_costs, saving

Floats = NDArray[np.float64]

HIGHEST_RATE = 1e9
"""Money per hour beyond which no cost of lost production is looked for."""
_HALVINGS = 60
_SHARE_HALVINGS = 10


@dataclass(frozen=True)
class Turning:
    """Where the P50 saving is zero.

    rate, from_first_hour: cost of lost production [money/h], 0 where it pays at any, NaN where there is none;
    share: of changes in stops taken anyway, NaN where there is none; at_nothing: whether it pays where an hour of
    lost production costs nothing; without_once: whether it does so without what falls due once.
    """

    rate: float
    from_first_hour: float
    share: float
    at_nothing: bool
    without_once: bool


def turning(
    inputs: Inputs,
    future: Future,
    changes: tuple[Changes, Changes],
    costs: tuple[Costs, Costs],
    steps: tuple[LossStep, ...],
) -> Turning:
    """Return where the answer turns; steps: the loss curve as the plant gives it."""
    none = np.zeros_like(inputs.curve.once)
    return Turning(
        breakeven_rate(inputs, changes, steps),
        breakeven_from_first_hour(inputs, changes),
        breakeven_planned_share(inputs, future, costs),
        pays_at_nothing(inputs, changes, inputs.curve.once),
        pays_at_nothing(inputs, changes, none),
    )


def pays_at_nothing(inputs: Inputs, changes: tuple[Changes, Changes], once: Floats) -> bool:
    """Return whether half of the runs pay where an hour of lost production costs nothing.

    once: what falls due once at each step of the loss curve (steps, draws) [money].
    """
    curve = LossCurve(inputs.curve.after, np.zeros_like(once), once)
    return _middle(saving(change_costs(replace(inputs, curve=curve)), changes)) >= 0.0


def leading_step(steps: tuple[LossStep, ...]) -> LossStep | None:
    """Return the first step of a loss curve that costs anything: its rate stands for the cost of downtime."""
    ordered = sorted(steps, key=lambda step: step.after)
    return next((step for step in ordered if step.rate.likely > 0.0), ordered[-1] if ordered else None)


def breakeven_rate(inputs: Inputs, changes: tuple[Changes, Changes], steps: tuple[LossStep, ...]) -> float:
    """Return the rate of the leading step at which the P50 saving is zero, the other rates moving with it.

    The rates are taken as known, all else as drawn. Returns money per hour; 0 where it pays at any rate, NaN where
    none makes it pay.
    """
    lead = leading_step(steps)
    if lead is None:
        return float("nan")
    scale = lead.rate.likely or 1.0
    shape = [step.rate.likely / scale for step in sorted(steps, key=lambda step: step.after)]
    shape = (
        shape if any(shape) else [float(step == lead) for step in sorted(steps, key=lambda step: step.after)]
    )
    return _root_of_rate(inputs, changes, inputs.curve.after, np.array(shape), inputs.curve.once)


def breakeven_from_first_hour(inputs: Inputs, changes: tuple[Changes, Changes]) -> float:
    """Return the rate at which the P50 saving is zero if each hour of a stop cost the same from the first on.

    Returns money per hour; 0 where it pays at any rate, NaN where none makes it pay.
    """
    once = np.zeros((1, inputs.draws))
    return _root_of_rate(inputs, changes, np.zeros(1), np.ones(1), once)


def breakeven_planned_share(inputs: Inputs, future: Future, costs: tuple[Costs, Costs]) -> float:
    """Return the share of changes in stops taken anyway above which the P50 saving is lost, NaN where there is none."""

    def median(share: float) -> float:
        told = replace(inputs, planned_share=np.full(inputs.draws, share))
        return _middle(saving(costs, begin(told, future)))

    if not median(0.0) > 0.0 > median(1.0):
        return float("nan")
    return _root(median, 0.0, 1.0, _SHARE_HALVINGS)


def _root_of_rate(
    inputs: Inputs, changes: tuple[Changes, Changes], after: Floats, shape: Floats, once: Floats
) -> float:
    """Return the root; the saving of a draw is a straight line over the rate, so two rates tell it."""

    def at(rate: float) -> Floats:
        rates = np.broadcast_to(rate * shape[:, None], (len(shape), inputs.draws))
        told = replace(inputs, curve=LossCurve(after, rates, once))
        return saving(change_costs(told), changes)

    without = at(0.0)
    each = at(1.0) - without

    def median(rate: float) -> float:
        return _middle(without + rate * each)

    if median(0.0) >= 0.0:
        return 0.0 if median(HIGHEST_RATE) >= 0.0 else float("nan")
    high = 1.0
    while median(high) < 0.0:
        high *= 2.0
        if high > HIGHEST_RATE:
            return float("nan")
    return _root(median, 0.0, high, _HALVINGS)


def _middle(draws: Floats) -> float:
    return float(quantiles(draws).p50)


def _root(function: Callable[[float], float], low: float, high: float, halvings: int) -> float:
    """Return where a function changes its sign between two places, by halving."""
    rises = function(high) > 0.0
    for _ in range(halvings):
        middle = (low + high) / 2.0
        low, high = (low, middle) if (function(middle) > 0.0) == rises else (middle, high)
    return (low + high) / 2.0
