"""Calculations about time and money: networks, life data, cash flow, lifting by hand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

import numpy as np

from halfbore.domain.fields import Note, Quantity
from halfbore.errors import InputError, Problem
from halfbore.numerics import cash_flow, life_data, network, renewal
from halfbore.sources import Source, Status, derived
from halfbore.standards import niosh_1991
from halfbore.units import Kind, Span
from halfbore.working import clause


@dataclass(frozen=True)
class Activity:
    """One task of a network."""

    name: Annotated[str, Note("name of the task")]
    duration: Annotated[Span, Quantity(Kind.DURATION, "how long, least to likely to most", limits=(0, 1e6))]
    after: Annotated[tuple[str, ...], Note("names of the tasks that it waits for")] = ()


@dataclass(frozen=True)
class Activities:
    """The tasks of a network."""

    tasks: Annotated[tuple[Activity, ...], Note("tasks")]

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "tasks": [
            {"name": "lock out", "duration": "0.5 to 1 to 2 h"},
            {"name": "open the housing", "duration": "1 to 1.5 to 3 h", "after": ["lock out"]},
            {"name": "set the jack", "duration": "0.5 to 1 to 1.5 h", "after": ["lock out"]},
            {
                "name": "exchange",
                "duration": "2 to 3 to 6 h",
                "after": ["open the housing", "set the jack"],
            },
        ]
    }


@dataclass(frozen=True)
class ActivityTimes:
    """Early and late times of one task at mean durations."""

    name: Annotated[str, Note("task")]
    start: Annotated[float, Quantity(Kind.DURATION, "earliest start")]
    finish: Annotated[float, Quantity(Kind.DURATION, "earliest finish")]
    slack: Annotated[float, Quantity(Kind.DURATION, "how much later it may start")]


@dataclass(frozen=True)
class PathAnswer:
    """The length of a network and the tasks that decide it."""

    total: Annotated[
        float, Quantity(Kind.DURATION, "from the first start to the last finish, at mean durations")
    ]
    deviation: Annotated[
        float,
        Quantity(
            Kind.DURATION, "standard deviation along the critical path, the largest where there are several"
        ),
    ]
    critical: Annotated[tuple[str, ...], Note("tasks whose delay delays the end")]
    times: Annotated[tuple[ActivityTimes, ...], Note("early and late times")]


def critical_path(given: Activities) -> PathAnswer:
    """Length and critical path of a network of tasks, by the three-estimate approach."""
    names = [task.name for task in given.tasks]
    if twice := sorted({name for name in names if names.count(name) > 1}):
        raise InputError(Problem("a name stands twice", "tasks", ", ".join(twice), "names that differ"))
    net = network.network({task.name: task.after for task in given.tasks})
    low, likely, high = np.array(
        [(t.duration.low, t.duration.likely, t.duration.high) for t in given.tasks]
    ).T
    path = network.critical_path(net, network.pert_mean(low, likely, high))
    variance = np.where(np.isin(net.names, path.critical), network.pert_variance(low, high), 0.0)
    _, spread = network.forward(net, variance)
    times = zip(net.names, path.early_start, path.early_finish, path.slack, strict=True)
    return PathAnswer(
        path.total,
        float(np.sqrt(spread.max())),
        path.critical,
        tuple(ActivityTimes(name, float(a), float(b), float(c)) for name, a, b, c in times),
    )


@dataclass(frozen=True)
class Lived:
    """One item: how long it ran, and whether it failed then."""

    time: Annotated[float, Quantity(Kind.DURATION, "life, or age when last seen", limits=(0, 1e9))]
    failed: Annotated[bool, Note("it failed then; false where it was still good")] = True


@dataclass(frozen=True)
class LifeData:
    """Lives of like items."""

    lives: Annotated[tuple[Lived, ...], Note("items")]
    shape: Annotated[
        float | None, Quantity(Kind.NUMBER, "shape, where it is assumed", limits=(0.05, 1000))
    ] = None
    confidence: Annotated[float, Quantity(Kind.FRACTION, "confidence of the bounds, both sides")] = 0.9

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "lives": [
            {"time": "21000 h"},
            {"time": "27500 h"},
            {"time": "33000 h"},
            {"time": "3 years", "failed": False},
        ]
    }


@dataclass(frozen=True)
class WeibullAnswer:
    """A fitted Weibull life with its bounds."""

    shape: Annotated[float, Quantity(Kind.NUMBER, "shape")]
    shape_low: Annotated[float | None, Quantity(Kind.NUMBER, "lower bound of the shape")]
    shape_high: Annotated[float | None, Quantity(Kind.NUMBER, "upper bound of the shape")]
    scale: Annotated[float, Quantity(Kind.DURATION, "life by which 63 % have failed")]
    scale_low: Annotated[float, Quantity(Kind.DURATION, "lower bound of it")]
    scale_high: Annotated[float, Quantity(Kind.DURATION, "upper bound of it")]
    mean: Annotated[float, Quantity(Kind.DURATION, "mean life")]
    B10: Annotated[float, Quantity(Kind.DURATION, "life that 10 % do not reach")]
    failures: Annotated[int, Quantity(Kind.COUNT, "items that failed")]
    suspended: Annotated[int, Quantity(Kind.COUNT, "items that were still good")]
    method: Annotated[str, Note("how it was fitted")]


_LIKELIHOOD = Source("Lawless, Statistical Models and Methods for Lifetime Data", "", Status.FROM_MEMORY)


@clause(_LIKELIHOOD)
def weibull_fit(given: LifeData) -> WeibullAnswer:
    """Weibull distribution of lives by maximum likelihood, some of which had not ended, with bounds."""
    times, failed = [life.time for life in given.lives], [life.failed for life in given.lives]
    fit = life_data.fit(times, failed, given.shape, given.confidence)
    low, high = fit.shape_bounds or (None, None)
    return WeibullAnswer(
        fit.shape,
        low,
        high,
        fit.scale,
        *fit.scale_bounds,
        float(life_data.weibull_mean(fit.shape, fit.scale)),
        float(life_data.weibull_life(0.1, fit.shape, fit.scale)),
        fit.failures,
        fit.suspended,
        fit.method,
    )


@dataclass(frozen=True)
class Renewed:
    """A part that is renewed at each failure, and at an age at the latest."""

    shape: Annotated[float, Quantity(Kind.NUMBER, "Weibull shape", limits=(0.05, 1000))]
    scale: Annotated[float, Quantity(Kind.DURATION, "life by which 63 % have failed", limits=(1e-6, 1e9))]
    cap: Annotated[float | None, Quantity(Kind.DURATION, "age of planned renewal", limits=(1e-6, 1e9))] = None

    EXAMPLE: ClassVar[dict[str, Any]] = {"shape": 1.5, "scale": "40000 h", "cap": "8 years"}


@dataclass(frozen=True)
class MeanLifeAnswer:
    """How long such a part lasts on average."""

    mean: Annotated[float, Quantity(Kind.DURATION, "mean life between renewals")]


@clause(derived("area under the survival curve"))
def mean_life(given: Renewed) -> MeanLifeAnswer:
    """Mean life of a part with a Weibull life that is renewed at an age at the latest."""
    cap = np.inf if given.cap is None else given.cap
    return MeanLifeAnswer(renewal.mean_life(given.shape, given.scale, cap))


@dataclass(frozen=True)
class Flow:
    """What comes in (positive) or goes out at one time."""

    amount: Annotated[float, Quantity(Kind.NUMBER, "amount in money")]
    years: Annotated[float, Quantity(Kind.NUMBER, "years from now", limits=(0, 1000))] = 0.0


@dataclass(frozen=True)
class Flows:
    """Amounts of money at different times."""

    flows: Annotated[tuple[Flow, ...], Note("amounts and when")]
    rate: Annotated[float, Quantity(Kind.FRACTION, "discount rate a year")] = 0.07

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "flows": [{"amount": -9000}, {"amount": 4000, "years": 1}, {"amount": 8000, "years": 4.5}],
        "rate": "7 %",
    }


@dataclass(frozen=True)
class Worth:
    """What all amounts are worth now."""

    worth: Annotated[float, Quantity(Kind.NUMBER, "present worth in money")]


def present_worth(given: Flows) -> Worth:
    """Sum of amounts at any times, each brought back to now."""
    amounts, years = [f.amount for f in given.flows], [f.years for f in given.flows]
    return Worth(float(cash_flow.present_worth(amounts, years, given.rate)))


@dataclass(frozen=True)
class Return:
    """The rate at which equal periods of flows are worth nothing."""

    rate: Annotated[float, Quantity(Kind.NUMBER, "internal rate of return a year")]


@dataclass(frozen=True)
class Amount:
    """What comes in (positive) or goes out in one year."""

    amount: Annotated[float, Quantity(Kind.NUMBER, "amount in money")]


@dataclass(frozen=True)
class YearlyFlows:
    """What comes in (positive) or goes out now and at the end of each year."""

    flows: Annotated[tuple[Amount, ...], Note("amounts, one a year from now on, in order")]

    EXAMPLE: ClassVar[dict[str, Any]] = {"flows": [{"amount": -9000}, {"amount": 4000}, {"amount": 7000}]}


@clause(derived("rate at which the present worth is zero"))
def internal_rate_of_return(given: YearlyFlows) -> Return:
    """Internal rate of return of yearly flows; refused where there is none or more than one."""
    return Return(cash_flow.internal_rate_of_return([f.amount for f in given.flows]))


@dataclass(frozen=True)
class Lifting:
    """One of several lifts in turn."""

    load: Annotated[float, Quantity(Kind.MASS, "mass that is lifted", limits=(0, 1000))]
    weight_limit: Annotated[
        float, Quantity(Kind.MASS, "weight limit with frequency multiplier 1", limits=(0, 100))
    ]
    lifts: Annotated[float, Quantity(Kind.NUMBER, "lifts a minute", limits=(0, 100))]


@dataclass(frozen=True)
class LiftingWork:
    """Several lifting tasks in turn."""

    tasks: Annotated[tuple[Lifting, ...], Note("lifting tasks")]
    hours: Annotated[float, Quantity(Kind.DURATION, "duration of the whole", limits=(0, 24))]
    height: Annotated[float, Quantity(Kind.LENGTH, "height of the hands", limits=(0, 3000))] = 750.0

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "tasks": [
            {"load": "12 kg", "weight_limit": "16 kg", "lifts": 1},
            {"load": "8 kg", "weight_limit": "18 kg", "lifts": 2},
        ],
        "hours": "1 h",
    }


@dataclass(frozen=True)
class LiftingAnswer:
    """The composite lifting index."""

    CLI: Annotated[float, Quantity(Kind.NUMBER, "composite lifting index; above 1 some are at raised risk")]


def composite_lifting(given: LiftingWork) -> LiftingAnswer:
    """Composite lifting index of several lifting tasks in turn."""
    load, limit, lifts = np.array([(t.load, t.weight_limit, t.lifts) for t in given.tasks]).reshape(-1, 3).T
    return LiftingAnswer(
        float(niosh_1991.composite_lifting_index(load, limit, lifts, given.hours, given.height))
    )
