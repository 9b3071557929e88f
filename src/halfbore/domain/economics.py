"""What a stop costs and how long things last: the customer's figures for the value."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from halfbore.domain.fields import Note, Quantity
from halfbore.units import Kind, Span


class Stop(StrEnum):
    """Whether a change is done in a planned stop or after a failure."""

    PLANNED = "planned"
    UNPLANNED = "unplanned"


class StopHours(StrEnum):
    """Where the outage of a one-piece change comes from."""

    PLAN = "plan"
    RECORD = "record"


@dataclass(frozen=True)
class LossStep:
    """From this hour of an outage on, lost margin runs at this rate."""

    after: Annotated[float, Quantity(Kind.DURATION, "hour of the outage from which the rate runs", (0, 200), (0, 10000))]
    rate: Annotated[Span, Quantity(Kind.MONEY_RATE, "lost margin per hour", (0, 100e3), (0, 1e8))]
    once: Annotated[Span, Quantity(Kind.MONEY, "cost that falls due once when this hour is reached", (0, 1e6), (0, 1e9), assumed="none")] = Span(0.0, 0.0, 0.0)


@dataclass(frozen=True)
class FieldLife:
    """A Weibull life from the field with its origin."""

    eta: Annotated[Span, Quantity(Kind.DURATION, "running hours by which 63 % have failed", (1000, 500e3), (1, 1e8), "η")]
    beta: Annotated[Span, Quantity(Kind.NUMBER, "Weibull shape", (0.8, 4), (0.2, 20), "β", assumed="mixed causes")] = Span(1.2, 1.5, 2.0)
    source: Annotated[str, Note("where it comes from", assumed="estimate")] = "estimate"


@dataclass(frozen=True)
class Economics:
    """The money side of a machine."""

    currency: Annotated[str, Note("three-letter currency code")]
    stopped_production: Annotated[tuple[LossStep, ...], Note("lost margin as a curve of outage hours: nothing until the surge is empty, then rates")]
    hours_a_year: Annotated[float, Quantity(Kind.DURATION, "running hours a year", (500, 8760), (1, 8784), assumed="three shifts with stops")] = 8000.0
    discount_rate: Annotated[float, Quantity(Kind.FRACTION, "real discount rate a year", (0, 0.25), (0, 1), assumed="7 %, a common hurdle")] = 0.07
    unplanned_extra: Annotated[Span, Quantity(Kind.MONEY, "extra cost of an unplanned stop", (0, 100e3), (0, 1e8), assumed="none was named")] = Span(0.0, 0.0, 0.0)
    labour: Annotated[Span, Quantity(Kind.MONEY_RATE, "labour per person-hour", (10, 300), (0, 5000), assumed="estimate")] = Span(50.0, 65.0, 80.0)
    overtime: Annotated[float, Quantity(Kind.NUMBER, "labour factor in an unplanned stop", (1, 3), (1, 10), assumed="1.5, common practice")] = 1.5
    crane_call: Annotated[Span, Quantity(Kind.MONEY, "hired crane or hoist, a call", (0, 20e3), (0, 1e6), assumed="estimate")] = Span(600.0, 1000.0, 1600.0)
    one_piece_price: Annotated[Span | None, Quantity(Kind.MONEY, "one-piece bearing with housing parts and seals", (20, 50e3), (0, 1e7), assumed="20 % to 35 % to 50 % of the split unit's price, common practice, no source")] = None
    one_piece_life: Annotated[FieldLife | None, Note("field life of the one-piece bearing here; the position's history comes first")] = None
    cure_leaves: Annotated[Span, Quantity(Kind.FRACTION, "part of today's failures that goes on where the unit cures what ended the last bearing", (0, 1), (0, 1), assumed="estimate, no source")] = Span(0.1, 0.3, 0.6)
    one_piece_hours: Annotated[StopHours, Note("outage of a one-piece change: the plan's brought to the median of the stops on record where there are two or more, or as planned", assumed="as on record from two stops on, else as planned")] = StopHours.RECORD
    planned_share: Annotated[Span, Quantity(Kind.FRACTION, "share of changes that fall into stops taken anyway", (0, 1), (0, 1), assumed="estimate")] = Span(0.2, 0.4, 0.6)
    seized_share: Annotated[Span, Quantity(Kind.FRACTION, "share of failures in which the bearing seizes on the shaft", (0, 1), (0, 1), assumed="estimate")] = Span(0.1, 0.3, 0.6)
    hidden_share: Annotated[float, Quantity(Kind.FRACTION, "share of a planned change's outage that a stop taken anyway hides", (0, 1), (0, 1), assumed="all of it, up to the length of that stop")] = 1.0
    stop_length: Annotated[Span, Quantity(Kind.DURATION, "length of a stop that is taken anyway", (2, 200), (0, 2000), assumed="estimate")] = Span(8.0, 12.0, 16.0)
    draws: Annotated[int, Quantity(Kind.COUNT, "number of random draws", (1000, 50000), (100, 100000), assumed="20 000")] = 20_000
    seed: Annotated[int, Quantity(Kind.COUNT, "seed of the random draws", limits=(0, 2**53 - 1), assumed="20260101")] = 20260101


@dataclass(frozen=True)
class TaskOverride:
    """A site's own duration for one task of a plan."""

    task: Annotated[str, Note("name of the task")]
    duration: Annotated[Span, Quantity(Kind.DURATION, "hours, least to likely to most", (0, 100), (0, 1000))]
    plan: Annotated[str, Note("one-piece, first conversion or repeat; empty for all")] = ""


@dataclass(frozen=True)
class Changeover:
    """What the site says about the work."""

    crew: Annotated[int, Quantity(Kind.COUNT, "fitters on the job", (1, 8), (1, 50), assumed="three")] = 3
    isolation_lead: Annotated[Span, Quantity(Kind.DURATION, "from asking for the isolation to locks on", (0, 24), (0, 500), assumed="estimate")] = Span(0.5, 1.0, 2.0)
    cooling: Annotated[Span, Quantity(Kind.DURATION, "cooling down before anyone can work", (0, 48), (0, 500), assumed="none")] = Span(0.0, 0.0, 0.0)
    run_up: Annotated[Span, Quantity(Kind.DURATION, "from guards on to product on", (0, 48), (0, 500), assumed="estimate")] = Span(0.5, 1.0, 2.0)
    next_stop: Annotated[Stop, Note("whether the first conversion is done in a planned stop", assumed="planned")] = Stop.PLANNED
    hot_work_allowed: Annotated[bool, Note("cutting and grinding are allowed at the place", assumed="allowed with a permit")] = True
    tasks: Annotated[tuple[TaskOverride, ...], Note("the site's own durations", assumed="template estimates")] = ()
