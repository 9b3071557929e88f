"""What one change costs: lost production as a curve of outage hours, people, crane, parts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.plan import PlanDraws
from halfbore.sources import derived
from halfbore.working import Number, clause

Floats = NDArray[np.float64]

KINDS = ("lost production", "labour", "hired crane", "parts", "extra of unplanned stops", "packing")
"""Kinds of cost, in the order of the rows of a cost table."""
OF_THE_STOP = np.array([True, False, True, False, True, False])
"""Which kinds the stop costs whatever is changed in it; the others each bearing costs for itself."""
_PACKING_LABOUR = 4.0
"""Person-hours to renew the packing of a unit in a planned stop (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class LossCurve:
    """Lost margin as a curve of outage hours.

    after: (steps,) hours from which each rate runs, rising; rate: (steps, draws) money per hour;
    once: (steps, draws) money that falls due when the hour is reached.
    """

    after: Floats
    rate: Floats
    once: Floats

    def __call__(self, hours: Floats) -> Floats:
        """Return the lost margin of an outage of so many hours (draws,) [money]."""
        ends = np.append(self.after[1:], np.inf)
        at_rate = np.clip(hours - self.after[:, None], 0.0, (ends - self.after)[:, None])
        reached = (hours >= self.after[:, None]) & (hours > 0.0)
        return np.asarray((self.rate * at_rate + self.once * reached).sum(axis=0))


@clause(
    derived("a stop that is taken anyway hides the hours that it lasts"), "Min(share*outage, stop_length)"
)
def hidden_hours(outage: Number, share: Number, stop_length: Number) -> Number:
    """Return the hours of an outage that a stop taken anyway hides [h].

    a stop that is taken anyway hides the hours that it lasts
    outage: product off to product on [h]; share: of it that can lie in that stop, 0 to 1;
    stop_length: of the stop that is taken anyway [h].
    """
    return np.minimum(share * outage, stop_length)


@dataclass(frozen=True, eq=False)
class Prices:
    """What things cost, draw by draw (draws,) [money]; labour is per person-hour."""

    labour: Floats
    overtime: float
    crane: Floats
    unplanned_extra: Floats


def change_cost(
    change: PlanDraws,
    planned: bool,
    parts: Floats,
    prices: Prices,
    curve: LossCurve,
    hidden_share: float,
    stop_length: Floats,
) -> Floats:
    """Return the cost of one change by kind (kinds, draws) [money].

    planned: it lies in a stop that is taken anyway, so only what makes that stop dearer counts: the loss of the
    whole outage less the loss of the hours that the stop hides.
    """
    none = np.zeros_like(change.outage)
    hidden = np.asarray(hidden_hours(change.outage, hidden_share, stop_length)) if planned else none
    return np.stack(
        [
            curve(change.outage) - curve(hidden),
            change.crew_hours * prices.labour * (1.0 if planned else prices.overtime),
            prices.crane * change.hired_crane,
            parts,
            none if planned else prices.unplanned_extra,
            none,
        ]
    )


def packing_cost(seals: float, years: Floats, discount_rate: float, horizon: float, prices: Prices) -> Floats:
    """Return the present value of renewing the packing in planned stops over the horizon (draws,) [money].

    seals: price of a set, NaN where the unit has no packing; years: between two renewals (draws,); horizon [a].
    """
    if np.isnan(seals):
        return np.zeros_like(years)
    times = years[:, None] * np.arange(1, int(horizon / years.min()) + 1)
    worth = np.where(times < horizon, (1.0 + discount_rate) ** -times, 0.0).sum(axis=1)
    return np.asarray(worth * (seals + _PACKING_LABOUR * prices.labour))
