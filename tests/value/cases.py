"""Jobs whose value is worked by hand, and changeovers without luck."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np

from halfbore.domain.duty import Condition, Requirement
from halfbore.domain.economics import Changeover, Economics, FieldLife, LossStep, Stop
from halfbore.domain.job import Job
from halfbore.domain.machine import Machine, MachineKind, Segment, Shaft
from halfbore.domain.plan import PairDraws, PlanDraws, WayDraws
from halfbore.domain.position import Failure, Position, Role
from halfbore.units import Span

DRAWS = 2000
ALONE = Position("A", 500.0, Role.LOCATING)

FIXED = Economics(
    currency="EUR",
    stopped_production=(
        LossStep(10.0, Span.of(2000.0), Span.of(5000.0)),
        LossStep(2.0, Span.of(1000.0)),
    ),
    hours_a_year=8760.0,
    discount_rate=0.10,
    unplanned_extra=Span.of(3000.0),
    labour=Span.of(60.0),
    overtime=1.5,
    crane_call=Span.of(900.0),
    one_piece_price=Span.of(1500.0),
    planned_share=Span.of(0.0),
    seized_share=Span.of(0.0),
    stop_length=Span.of(6.0),
)


def job(economics: Economics | None = FIXED, horizon: float = 87_600.0, stop: Stop = Stop.UNPLANNED) -> Job:
    """Return a job with this money side."""
    return Job(
        1,
        "a test",
        Machine("M", MachineKind.FAN),
        Shaft((Segment(2000.0, 100.0),)),
        (),
        (ALONE,),
        (Condition("run", 1.0, 990.0),),
        required=Requirement(horizon=horizon),
        value=economics,
        changeover=Changeover(next_stop=stop),
    )


def change(outage: float, crew_hours: float, exposed: float = 0.0, hired_crane: bool = False) -> PlanDraws:
    """Return one changeover of fixed hours."""
    hours = [np.full(DRAWS, number) for number in (outage, outage, outage, crew_hours, exposed)]
    return PlanDraws(*hours, hired_crane)


def fixed_plans() -> PairDraws:
    """Return changes of 12 h with a crane against 8 h at first and 4 h later."""
    old = change(12.0, 30.0, 20.0, hired_crane=True)
    first, later = change(8.0, 20.0, 8.0), change(4.0, 10.0, 5.0)
    return PairDraws(WayDraws(old, old, old, old), WayDraws(first, later, later, later))


def two_that_shared_a_stop() -> tuple[Position, Position]:
    """Return A, changed on two days, and B, changed on the later of them."""
    one, both = Failure(date(2020, 3, 1)), Failure(date(2022, 3, 1))
    return replace(ALONE, history=(one, both)), replace(ALONE, name="B", history=(both,))


def money(**changes: Any) -> Economics:
    """Return the fixed money side with other figures."""
    return replace(FIXED, **changes)


LASTS = FieldLife(Span.of(1e8), Span.of(2.0), "a test")
"""A life in which nothing fails over any horizon."""
