"""The page on shared stops and cures: each sum again, and the program held to what is printed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import cache

import numpy as np
import pytest

from halfbore.numerics.renewal import mean_life
from halfbore.value.failures import scale_of_part
from halfbore.value.simulate import (
    Future,
    Inputs,
    Renewed,
    begin,
    change_costs,
    draw_inputs,
    each_change,
    present_costs,
    saving,
)
from tests.docs.pages import page, same, steps
from tests.value import cases


@cache
def inputs() -> Inputs:
    positions = cases.two_that_shared_a_stop()
    return draw_inputs(
        replace(cases.job(), positions=positions),
        cases.FIXED, positions[0], 6000.0, 3500.0, None, True, cases.fixed_plans(), 1, date(2026, 1, 1), math.nan,
    )  # fmt: skip


def future() -> Future:
    def renewed(years: list[float], share: float) -> Renewed:
        table = np.tile(np.array(years)[:, None], (1, cases.DRAWS))
        return Renewed(table, 1.1**-table, np.zeros(table.shape, dtype=bool), np.full(table.shape, share))

    luck = np.full((2, cases.DRAWS), 0.5)
    return Future(renewed([2.0, 5.0], inputs().stop_share), renewed([4.0, np.inf], 1.0), luck, luck)


def over_the_horizon(way: int) -> float:
    changes, costs = begin(inputs(), future()), change_costs(inputs())
    return float(present_costs(costs[way], changes[way]).sum(axis=0)[0])


def later(way: int, what: int) -> float:
    """Return what a change after a failure costs for itself (0) or by its stop (1)."""
    return float(each_change(change_costs(inputs())[way])[what][1, 0])


STEPS: dict[str, Callable[[], float]] = {
    "s": lambda: inputs().stop_share,
    "C_s": lambda: later(0, 1),
    "C_o": lambda: later(0, 0),
    "C_1": lambda: float(change_costs(inputs())[0].next[:, 0].sum()),
    "K_1": lambda: over_the_horizon(0),
    "C_2": lambda: float(change_costs(inputs())[1].next[:, 0].sum()),
    "C_3": lambda: later(1, 0) + later(1, 1),
    "K_2": lambda: over_the_horizon(1),
    "S": lambda: float(saving(change_costs(inputs()), begin(inputs(), future()))[0]),
    "η_c": lambda: float(scale_of_part(9000.0, 0.3)),
    "N_1": lambda: 87_600.0 / mean_life(1.0, 9000.0),
    "N_c": lambda: 87_600.0 / mean_life(1.0, float(scale_of_part(9000.0, 0.3))),
}


@pytest.mark.parametrize("step", steps("value"))
def test_each_sum_gives_its_printed_result(step: str) -> None:
    line = steps("value")[step]
    assert line.worked() == pytest.approx(line.value, abs=line.last_digit)


@pytest.mark.parametrize("step", STEPS)
def test_the_program_gives_what_the_page_prints(step: str) -> None:
    same("value", step, STEPS[step]())


def test_no_printed_result_is_left_unchecked() -> None:
    assert set(steps("value")) == set(STEPS)


def test_the_page_says_that_it_is_invented() -> None:
    assert "invented" in page("value")
