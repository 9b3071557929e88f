"""The page of the name plate: its sums, the job that it prints, and what it says of the rules."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from functools import cache

import numpy as np
import pytest

from halfbore.domain.estimate import Estimate
from halfbore.domain.job import JobReading
from halfbore.domain.machine import MachineKind
from halfbore.domain.shaftline import ShaftResponse
from halfbore.estimate import practice
from halfbore.estimate.reading import read_completed
from halfbore.mechanics import forces, shaft_section
from halfbore.shaftline.widen import respond_over
from tests.docs.pages import Step, page

TEXT = page("name-plate")


@cache
def steps() -> dict[str, Step]:
    rows = [
        [cell.strip() for cell in line.strip("|").split("|")]
        for line in TEXT.partition("## Worked by hand")[2].splitlines()
        if line[:1] == "|"
    ]
    return {row[0]: Step(row[2], row[3].split()[0]) for row in rows if row[0] not in ("Step", "---")}


@cache
def reading() -> JobReading:
    block = re.search(r"```toml\n(.*?)```", TEXT, re.DOTALL)
    assert block is not None
    return read_completed(tomllib.loads(block[1]))


@cache
def response() -> ShaftResponse:
    return respond_over(reading().job, (), reading().widening)


def estimate(path: str) -> Estimate:
    return next(e for e in reading().estimates if e.path == path)


def end(path: str, name: str) -> float:
    return float(getattr(estimate(path).span, name))


def strand(name: str) -> float:
    found = next(x for x in response().loads if x.name == f"{name} strand at head drum")
    return float(np.hypot(found.force_y[0, 2], found.force_z[0, 2]))


ARM, GEAR = "loads[gear unit].arm_force", "loads[gear unit].mass"
DRUM, ACROSS = "loads[head drum].mass", "loads[head drum].diameter"

WRITTEN = 0.01
"""Three digits, rounded outwards."""
AROUND = 5e-4
"""The reach is taken in 120 directions."""

PROGRAM: dict[str, tuple[Callable[[], float], float]] = {
    "n": (lambda: reading().job.duty[0].speed, 1e-9),
    "G_low": (lambda: end(GEAR, "low"), WRITTEN),
    "G_high": (lambda: end(GEAR, "high"), WRITTEN),
    "D_high": (lambda: end(DRUM, "high"), WRITTEN),
    "d_low": (lambda: end(ACROSS, "low"), 1e-9),
    "d_high": (lambda: end(ACROSS, "high"), 1e-9),
    "R_low": (lambda: end(ARM, "low"), WRITTEN),
    "R_high": (lambda: end(ARM, "high"), WRITTEN),
    "T_1": (lambda: strand("tight"), 1e-4),
    "T_2": (lambda: strand("slack"), 1e-4),
    "W_s": (
        lambda: float(shaft_section.mass_per_length(150.0, 0.0, 7850.0)) * 2550 * forces.GRAVITY,
        1e-4,
    ),
    "A_high": (lambda: response().reactions[0].high / 1000, AROUND),
}
ON_THE_WAY = {"M", "F_high", "S", "c", "V", "R_A"}


@pytest.mark.parametrize("step", steps())
def test_each_sum_gives_its_printed_result(step: str) -> None:
    line = steps()[step]
    assert line.worked() == pytest.approx(line.value, abs=line.last_digit)


@pytest.mark.parametrize("step", PROGRAM)
def test_the_program_gives_what_the_page_prints(step: str) -> None:
    computed, within = PROGRAM[step]
    assert computed() == pytest.approx(steps()[step].value, rel=within, abs=steps()[step].last_digit)


def test_no_step_is_left_unchecked() -> None:
    assert set(steps()) == set(PROGRAM) | ON_THE_WAY


@pytest.mark.parametrize(
    ("told", "low", "high"),
    [
        ("40 % to 75 % to 100 %", practice.USE.low * 100, practice.USE.high * 100),
        ("0.7 to 6 MPa", practice.STRESS[MachineKind.FAN].low, practice.STRESS[MachineKind.FAN].high),
        ("5 to 30 MPa", practice.DRIVEN.low, practice.DRIVEN.high),
        ("1.5 to 4 from coupling", practice.OVERHANG.low, practice.OVERHANG.high),
        ("2 to 5 to an overhung wheel", practice.OVERHUNG_WHEEL.low, practice.OVERHUNG_WHEEL.high),
        ("5 to 14 between bearings", practice.SIDE_BY_SIDE.low, practice.SIDE_BY_SIDE.high),
        ("5 to 35 m/s", practice.RIM_SPEED.low, practice.RIM_SPEED.high),
        ("3 to 9 shaft diameters", practice.DRUM_SIZE.low, practice.DRUM_SIZE.high),
        ("0.8 to 4.5 m/s", practice.BELT_SPEED.low, practice.BELT_SPEED.high),
        ("1 to 3.2 times", practice.TAIL_PULL.low, practice.TAIL_PULL.high),
        ("falling 0.5 to 2", practice.HANGING.low, practice.HANGING.high),
        ("reach of 3 to 10", practice.REACH.low, practice.REACH.high),
        ("4 to 11 shaft diameters", practice.TIP_SIZE.low, practice.TIP_SIZE.high),
        ("pitch of 2 to 7", practice.PITCH.low, practice.PITCH.high),
    ],
)
def test_the_page_tells_the_ranges_of_the_program(told: str, low: float, high: float) -> None:
    assert told in " ".join(TEXT.split())
    numbers = [float(n) for n in re.findall(r"\d+(?:\.\d+)?", told)]
    assert (numbers[0], numbers[-1]) == (low, high)


def test_the_page_says_that_it_is_invented() -> None:
    assert "invented" in TEXT
