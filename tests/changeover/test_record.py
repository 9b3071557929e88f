"""Stops on record against the outage of the plan."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from halfbore.changeover.plan import plan_changeover
from halfbore.changeover.record import against_the_record
from halfbore.domain.plan import PlanDraws, WayDraws
from halfbore.domain.position import Failure
from tests.changeover import cases


def change(low: float, high: float) -> PlanDraws:
    """Return a change whose outage is spread evenly."""
    outage = np.linspace(low, high, 1001)
    return PlanDraws(outage, outage, outage, outage, outage, False)


WAY = WayDraws(change(4.0, 9.0), change(4.0, 9.0), change(10.0, 20.0), change(30.0, 40.0))
"""Planned P10 to P90 is 4.5 to 8.5 h, after a failure 11 to 19 h."""


def said(*stops: tuple[float | None, bool]) -> list[str]:
    history = tuple(Failure(date(2020 + i, 1, 1), failed=f, stop=s) for i, (s, f) in enumerate(stops))
    return list(against_the_record(cases.position("A", 500.0, history=history), WAY))


@pytest.mark.parametrize(
    ("stops", "starts"),
    [
        ([(1.5, False)], "Recorded planned stops of 1.5 h lie below the plan's 4.5 to 8.5 h: enter"),
        (
            [(9.0, True), (8.0, True)],
            "Recorded unplanned stops of 8 to 9 h lie below the plan's 11.0 to 19.0 h",
        ),
        (
            [(12.0, True), (26.0, True), (24.0, True)],
            "2 of 3 recorded unplanned stops of 24 to 26 h lie above the plan's 11.0 to 19.0 h",
        ),
    ],
)
def test_stops_outside_the_plan_are_said(stops: list[tuple[float, bool]], starts: str) -> None:
    (note,) = said(*stops)
    assert note.startswith(starts)
    assert note.endswith("enter the site's own hours under [[changeover.tasks]].")


@pytest.mark.parametrize(
    "stops",
    [
        [],
        [(None, True)],
        [(6.0, False), (15.0, True)],
        [(12.0, True), (26.0, True)],
    ],
)
def test_stops_that_the_plan_covers_are_not_said(stops: list[tuple[float | None, bool]]) -> None:
    assert said(*stops) == []


def test_the_pair_and_its_draws_carry_the_warning() -> None:
    job, position = cases.fan(history=(Failure(date(2024, 1, 1), stop=1.5),))
    pair, draws = plan_changeover(job, position, cases.unit(), None, -10.0, seed=3, draws=4000)
    assert draws.warnings == pair.notes[:1]
    assert pair.notes[0].startswith("Recorded unplanned stops of 1.5 h lie below")
    assert "Recorded stops here: 1.5 h." in pair.notes
