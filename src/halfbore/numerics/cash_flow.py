"""Money at different times: present worth, yearly equivalents, and the measures of an investment."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.errors import InputError, Problem
from halfbore.numerics.roots import root
from halfbore.sources import Source, Status
from halfbore.working import Number, clause

INTEREST = Source(
    "Panneerselvam, Engineering Economics",
    "interest formulas",
    Status.FROM_MEMORY,
    "reproduces the book's examples 4.1 to 8.4",
)
HANDBOOK = Source("NIST Handbook 135, Life-Cycle Costing Manual", status=Status.FROM_MEMORY)
CFR = Source("10 CFR 436.22", "adjusted internal rate of return")


@clause(INTEREST, "(1 + rate)**-time")
def discount_factor(rate: Number, time: Number) -> Number:
    """Return the worth now of one unit of money at a later time.

    Panneerselvam, interest formulas
    rate: per period, above −1; time: in periods, whole or not, zero or more; infinite is never, worth 0.
    Returns the factor.
    """
    ever = np.isfinite(time)
    return np.where(ever, (1.0 + rate) ** -np.where(ever, time, 0.0), 0.0)[()]


@clause(INTEREST, "(1 - (1 + rate)**-periods)/rate")
def annuity_factor(rate: Number, periods: Number) -> Number:
    """Return the worth now of one unit of money at the end of each period.

    Panneerselvam, interest formulas, equal-payment series present worth
    rate: per period, above −1; at rate 0 the factor is the number of periods.
    periods: above zero.
    Returns the factor (P/A).
    """
    worth = -np.expm1(-periods * np.log1p(rate))
    return np.where(rate == 0.0, periods, worth / np.where(rate == 0.0, 1.0, rate))[()]


@clause(INTEREST, "rate*(1 + rate)**periods/((1 + rate)**periods - 1)")
def capital_recovery_factor(rate: Number, periods: Number) -> Number:
    """Return the equal amount at the end of each period that repays one unit of money spent now.

    Panneerselvam, interest formulas, capital recovery
    rate: per period, above −1; periods: above zero.
    Returns the factor (A/P).
    """
    return 1.0 / annuity_factor(rate, periods)


@clause(
    INTEREST,
    "(first_cost - salvage)*rate*(1 + rate)**periods/((1 + rate)**periods - 1) + salvage*rate + yearly_cost",
)
def annual_equivalent(
    first_cost: Number, salvage: Number, yearly_cost: Number, rate: Number, periods: Number
) -> Number:
    """Return the equal yearly cost of owning and running a thing.

    Panneerselvam, annual equivalent method
    first_cost, salvage: paid at the start and got back at the end [money]; yearly_cost: [money/a].
    rate: per year, above −1; periods: years kept, above zero.
    Returns the yearly cost [money/a].
    """
    return (first_cost - salvage) * capital_recovery_factor(rate, periods) + salvage * rate + yearly_cost


def present_worth(amounts: ArrayLike, times: ArrayLike, rate: float) -> NDArray[np.float64]:
    """Sum amounts at any times, each brought back to now.

    amounts: [money]; times: [a], infinite where nothing happens; they broadcast, time along the last axis.
    rate: per year, above −1.
    Returns the sum over the last axis [money].
    """
    return np.asarray(np.sum(np.asarray(amounts) * discount_factor(rate, np.asarray(times)), axis=-1))


def net_present_value(flows: ArrayLike, rate: float) -> NDArray[np.float64]:
    """Sum the flows of equal periods, each brought back to the first, which is now.

    flows: what comes in less what goes out [money], one a period along the last axis.
    rate: per period, above −1.
    Returns the sum over the last axis [money].
    """
    flows = np.asarray(flows, dtype=np.float64)
    return present_worth(flows, np.arange(float(flows.shape[-1])), rate)


def internal_rate_of_return(flows: ArrayLike) -> float:
    """Find the rate at which flows of equal periods are worth nothing in sum.

    flows: (periods,) what comes in less what goes out [money], the first one now.
    Returns the rate per period, between −0.99 and 1000.
    InputError when no rate there does it, or more than one.
    """
    flows = np.asarray(flows, dtype=np.float64)

    def worth(growth: float) -> float:
        """Return what has the sign of the worth: at the end or now, whichever cannot overflow."""
        return float(np.polyval(flows, growth) if growth < 1.0 else np.polyval(flows[::-1], 1.0 / growth))

    grid = np.geomspace(0.01, 1001.0, 500)
    gains = np.array([worth(growth) > 0.0 for growth in grid])
    turns = np.flatnonzero(gains[1:] != gains[:-1])
    if len(turns) != 1:
        raise InputError(
            Problem(
                "no single internal rate of return",
                value=f"{len(turns)} rates between -0.99 and 1000",
                next_step="compare by net present value",
            )
        )
    return root(worth, float(grid[turns[0]]), float(grid[turns[0] + 1])) - 1.0


@clause(HANDBOOK, "savings - investment")
def net_savings(savings: Number, investment: Number) -> Number:
    """Return the net savings; the investment is worth it when they are not negative.

    NIST Handbook 135, net savings
    savings, investment: present worth of what is saved and of the extra investment [money].
    Returns the net savings [money].
    """
    return savings - investment


@clause(HANDBOOK, "savings/investment")
def savings_to_investment(savings: Number, investment: Number) -> Number:
    """Return the ratio of savings to extra investment; worth it from 1 upwards.

    NIST Handbook 135, savings-to-investment ratio
    savings, investment: present worth of what is saved and of the extra investment [money].
    Returns the ratio; not a number where no extra investment is made.
    """
    made = np.greater(investment, 0.0)
    return np.where(made, savings / np.where(made, investment, 1.0), np.nan)[()]


@clause(CFR, "(1 + rate)*ratio**(1/years) - 1")
def adjusted_rate_of_return(ratio: Number, rate: Number, years: Number) -> Number:
    """Return the adjusted internal rate of return: what is saved is put out again at the discount rate.

    10 CFR 436.22
    ratio: savings to investment, zero or more; rate: discount rate per year; years: study period.
    Returns the rate per year; not a number where the ratio is negative.
    """
    growth = np.maximum(ratio, 0.0) ** (1.0 / years)
    return np.where(np.less(ratio, 0.0), np.nan, (1.0 + rate) * growth - 1.0)[()]


@clause(HANDBOOK, "Piecewise((investment/yearly_saving, yearly_saving > 0), (oo, True))")
def simple_payback(investment: Number, yearly_saving: Number) -> Number:
    """Return the years in which equal yearly savings repay an investment, without interest.

    NIST Handbook 135, simple payback
    investment: [money], zero or more; yearly_saving: [money/a].
    Returns the time [a]; infinite where nothing is saved.
    """
    saves = np.greater(yearly_saving, 0.0)
    return np.where(saves, investment / np.where(saves, yearly_saving, 1.0), np.inf)[()]


@clause(
    HANDBOOK,
    "Piecewise((-log(1 - investment*rate/yearly_saving)/log(1 + rate), yearly_saving > investment*rate), "
    "(oo, True))",
)
def discounted_payback(investment: Number, yearly_saving: Number, rate: Number) -> Number:
    """Return the years in which equal yearly savings repay an investment with interest.

    NIST Handbook 135, discounted payback; solved from the annuity factor
    investment: [money], zero or more; yearly_saving: [money/a]; rate: per year, zero or more.
    Returns the time [a]; infinite where the savings do not cover the interest.
    """
    plain = simple_payback(investment, yearly_saving)
    pays = np.less(plain * rate, 1.0)
    interest = np.log1p(-np.where(pays, plain * rate, 0.0))
    time = np.where(
        np.equal(rate, 0.0), plain, -interest / np.log1p(np.where(np.equal(rate, 0.0), 1.0, rate))
    )
    return np.where(pays, time, np.inf)[()]
