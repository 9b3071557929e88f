"""The machines worked by hand: elevator, paddle shaft, screw, tail drum, jackshaft, hot shaft.

The sums go on from printed results, so a result may be off by one in its last printed digit.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

import pytest

from halfbore.domain.machine import Drum, ElevatorDrum, ShaftDrive, Sheave
from halfbore.mechanics import belt, conveyor, elevator, hot_shaft, power, screw
from halfbore.shaftline import solve, warmth
from halfbore.shaftline.drums import elevator_strands, strands
from halfbore.shaftline.loads import arm_force
from tests.docs.pages import G, Machine, page, same, steps


def own_weight(m: Machine) -> float:
    """Return the weight of the bare shaft [N]."""
    return solve.shaft_mass(m.job) * G


@cache
def elevator_head() -> Machine:
    return Machine("bucket-elevator", 0)


@cache
def elevator_boot() -> Machine:
    return Machine("bucket-elevator", 1)


def head_drum() -> ElevatorDrum:
    return next(x for x in elevator_head().job.loads if isinstance(x, ElevatorDrum))


def strand(which: int, end: int = 1) -> float:
    return float(elevator_strands(head_drum(), elevator_head().job)[which][end])


def belt_speed() -> float:
    return float(power.surface_speed(head_drum().diameter, 38.0))


def arm_torque() -> float:
    drive = next(x for x in elevator_head().job.loads if isinstance(x, ShaftDrive))
    assert drive.arm_reach is not None
    return float(arm_force(drive, elevator_head().job)[0][1]) * drive.arm_reach / 1000


def all_down(condition: int) -> float:
    """Return what gear unit and arm pull down in a condition [N]."""
    found = [x for x in elevator_head().found.loads if x.part == "gear unit"]
    return -sum(float(x.force_y[condition, 1]) for x in found)


def on_drum(condition: int) -> float:
    """Return what both strands pull down at the head in a condition [N]."""
    found = [
        x for x in elevator_head().found.loads if x.part == "head drum" and x.name != "weight of head drum"
    ]
    return -sum(float(x.force_y[condition, 1]) for x in found)


ELEVATOR: dict[str, Callable[[], float]] = {
    "v": belt_speed,
    "m": lambda: float(conveyor.load_per_metre(400.0, belt_speed())),
    "h_d": lambda: float(elevator.digging_lift(612.0, head_drum().digging.likely)) / 1000,
    "T_1": lambda: strand(0),
    "T_2": lambda: strand(1),
    "H": lambda: elevator_head().load("weight of belt on head drum")[0],
    "Q": lambda: elevator_head().load("load lifted at head drum")[0],
    "T": lambda: on_drum(0),
    "M_t": lambda: (strand(0) - strand(1)) * head_drum().diameter / 2000,
    "M_arm": arm_torque,
    "P": lambda: float(elevator.power(strand(0), strand(1), belt_speed())) / 1000,
    "Q_low": lambda: elevator_head().end("load lifted at head drum", 0),
    "Q_high": lambda: elevator_head().end("load lifted at head drum", 2),
    "W_d": lambda: elevator_head().load("weight of head drum")[0],
    "W_s": lambda: own_weight(elevator_head()),
    "D": lambda: all_down(0),
    "B_y": lambda: elevator_head().reaction("B").y,
    "A_y": lambda: elevator_head().reaction("A").y,
    "ΣF": lambda: elevator_head().found.balances[0].force,
    "ΣM": lambda: elevator_head().found.balances[1].moment / 1000,
    "A_high": lambda: elevator_head().reaction("A").high,
    "T_s": lambda: on_drum(1),
    "D_s": lambda: all_down(1),
    "B_s": lambda: elevator_head().reaction("B", 1).y,
    "A_s": lambda: elevator_head().reaction("A", 1).y,
    "J": lambda: elevator_head().lifted("A", 0.0)[0],
    "S": lambda: elevator_boot().load("rising strand at boot drum")[0],
    "W_b": lambda: elevator_boot().load("weight of boot drum")[0],
    "W_n": lambda: own_weight(elevator_boot()),
    "C_y": lambda: elevator_boot().reaction("C").y,
    "F_0": lambda: elevator_boot().load("weight of boot drum")[0] + own_weight(elevator_boot()),
}


@cache
def paddle_shaft() -> Machine:
    return Machine("paddle-shaft")


PUSH = "push of the bed at paddles"
PADDLES: dict[str, Callable[[], float]] = {
    "M_t": lambda: float(power.torque(75e3, 48.0)) / 1000,
    "F": lambda: paddle_shaft().load(PUSH)[0],
    "F_all": lambda: paddle_shaft().load(PUSH)[0] / 0.75,
    "F_low": lambda: paddle_shaft().end(PUSH, 0),
    "F_high": lambda: paddle_shaft().end(PUSH, 2),
    "W_p": lambda: paddle_shaft().load("weight of paddles")[0],
    "W_s": lambda: own_weight(paddle_shaft()),
    "R_arm": lambda: paddle_shaft().load("torque arm of gear unit")[0],
    "D": lambda: (
        paddle_shaft().load("torque arm of gear unit")[0] - paddle_shaft().load("weight of gear unit")[0]
    ),
    "B_y": lambda: paddle_shaft().reaction("B").y,
    "A_y": lambda: paddle_shaft().reaction("A").y,
    "ΣF": lambda: paddle_shaft().found.balances[0].force,
    "ΣM": lambda: paddle_shaft().found.balances[1].moment / 1000,
    "A_low": lambda: paddle_shaft().reaction("A").low,
    "A_high": lambda: paddle_shaft().reaction("A").high,
    "w": lambda: own_weight(paddle_shaft()) / 4,
    "M": lambda: paddle_shaft().moment(2250),
    "M_point": lambda: paddle_shaft().moment(2250) + (paddle_shaft().load(PUSH)[0] + 3200 * G) * 2.4 / 8,
    "σ": lambda: (
        paddle_shaft().moment(2250) * paddle_shaft().found.max_stress * 1000 / _largest(paddle_shaft())
    ),
}


def _largest(m: Machine) -> float:
    return float(m.found.curves[0].moment.max())


@cache
def the_screw() -> Machine:
    return Machine("screw")


def axial(end: int) -> float:
    """Return what A holds along the shaft at an end of the range [N]."""
    duty = the_screw().found.duties[0]
    return float((duty.axial_low, duty.axial_high)[end][0])


def thrust(end: int) -> float:
    load = next(x for x in the_screw().found.loads if x.name == "thrust of flight")
    return -float(load.axial[0, end])


SCREW: dict[str, Callable[[], float]] = {
    "F_max": lambda: float(screw.thrust_bound(18.5e3, 60.0, 250.0)),
    "F_a": lambda: thrust(1),
    "F_low": lambda: thrust(2),
    "W_f": lambda: 900 * G,
    "W_g": lambda: 420 * G,
    "W_s": lambda: own_weight(the_screw()),
    "G_a": lambda: the_screw().reaction("A").axial - thrust(1),
    "A_x": lambda: the_screw().reaction("A").axial,
    "A_x_low": lambda: axial(0),
    "A_x_high": lambda: axial(1),
    "c": lambda: the_screw().load("weight of flight")[0] / (900 * G),
    "B_y": lambda: the_screw().reaction("B").y,
    "A_y": lambda: the_screw().reaction("A").y,
    "ΣM": lambda: the_screw().found.balances[0].moment / 1000,
    "M": lambda: the_screw().moment(2500),
    "k": lambda: the_screw().reaction("A").axial / the_screw().size("A"),
}


@cache
def tail() -> Machine:
    return Machine("tail-drum")


def tail_torque() -> float:
    tight, slack, _ = strands(next(x for x in tail().job.loads if isinstance(x, Drum)), tail().job)
    return float(tight[1] - slack[1])


TAIL: dict[str, Callable[[], float]] = {
    "T": lambda: 2 * tail().load("one strand at tail drum, drive side")[0],
    "M_t": tail_torque,
    "W_d": lambda: 2 * tail().load("weight of tail drum, drive side")[0],
    "W_s": lambda: own_weight(tail()),
    "A_y": lambda: tail().reaction("A").y,
    "A_z": lambda: tail().reaction("B").z,
    "A": lambda: tail().size("A"),
    "φ_A": lambda: math.degrees(tail().found.duties[0].angle[0]) % 360,
    "A_low": lambda: tail().reaction("A").low,
    "A_high": lambda: tail().reaction("A").high,
    "M": lambda: tail().moment(600),
    "w": lambda: own_weight(tail()) / 1.7,
}


@cache
def jackshaft() -> Machine:
    return Machine("jackshaft")


def sheave(name: str) -> Sheave:
    return next(x for x in jackshaft().job.loads if isinstance(x, Sheave) and x.name == name)


def effective(name: str) -> float:
    return float(belt.effective_pull(160e3, power.surface_speed(sheave(name).diameter, 590.0)))


FIRST, SECOND = "flywheel sheave", "crusher sheave"
JACK: dict[str, Callable[[], float]] = {
    "v_1": lambda: float(power.surface_speed(sheave(FIRST).diameter, 590.0)),
    "F_1": lambda: effective(FIRST),
    "v_2": lambda: float(power.surface_speed(sheave(SECOND).diameter, 590.0)),
    "F_2": lambda: effective(SECOND),
    "M_1": lambda: float(power.torque(160e3, 590.0)) / 1000,
    "M_2": lambda: float(power.torque(160e3, 590.0)) / 1000,
    "W_1": lambda: jackshaft().load(f"weight of {FIRST}")[0],
    "W_2": lambda: jackshaft().load(f"weight of {SECOND}")[0],
    "W_s": lambda: own_weight(jackshaft()),
    "B_y": lambda: jackshaft().reaction("B").y,
    "A_y": lambda: jackshaft().reaction("A").y,
    "B_z": lambda: jackshaft().reaction("B").z,
    "A_z": lambda: jackshaft().reaction("A").z,
    "A": lambda: jackshaft().size("A"),
    "B": lambda: jackshaft().size("B"),
    "φ_A": lambda: math.degrees(jackshaft().found.duties[0].angle[0]) % 360,
    "ΣM": lambda: jackshaft().found.balances[0].moment / 1000,
    "ω": lambda: float(power.angular_speed(590.0)),
    "U_1": lambda: jackshaft().end(f"unbalance of {FIRST}", 2),
    "U_2": lambda: jackshaft().end(f"unbalance of {SECOND}", 2),
    "U_A": lambda: float(jackshaft().found.duties[0].peak_high[0]) - jackshaft().size("A"),
    "A_peak": lambda: float(jackshaft().found.duties[0].peak_high[0]),
    "A_h": lambda: jackshaft().size("A", 1),
    "B_h": lambda: jackshaft().size("B", 1),
    "A_h_low": lambda: float(jackshaft().found.duties[0].radial_low[1]),
    "A_h_high": lambda: float(jackshaft().found.duties[0].peak_high[1] - _turning_at_a()),
}


def _turning_at_a() -> float:
    return JACK["U_A"]()


@cache
def hot() -> Machine:
    return Machine("hot-shaft")


def at(position: int, end: int) -> float:
    duty = hot().found.duties[position]
    return float((duty.shaft_temperature_low, duty.shaft_temperature_high)[end][0])


def mean(end: int) -> float:
    return float(warmth.mean_between(hot().job, 1450.0, 400.0)[0, end])


HOT: dict[str, Callable[[], float]] = {
    "m_cool": lambda: 1000 * float(hot_shaft.fin_parameter(140.0, 20.0, 40.0)),
    "m_hot": lambda: 1000 * float(hot_shaft.fin_parameter(140.0, 10.0, 52.0)),
    "k_B_cool": lambda: (at(1, 0) - 15) / 335,
    "k_B_hot": lambda: (at(1, 1) - 25) / 325,
    "T_B_cool": lambda: at(1, 0),
    "T_B_hot": lambda: at(1, 1),
    "k_A_hot": lambda: (at(0, 1) - 25) / 325,
    "T_A_hot": lambda: at(0, 1),
    "T_m_cool": lambda: mean(0),
    "T_m_hot": lambda: mean(1),
    "g_low": lambda: float(hot().found.duties[0].growth_low[0]),
    "g_high": lambda: float(hot().found.duties[0].growth_high[0]),
}

PAGES = {
    "bucket-elevator": ELEVATOR,
    "paddle-shaft": PADDLES,
    "screw": SCREW,
    "tail-drum": TAIL,
    "jackshaft": JACK,
    "hot-shaft": HOT,
}
ON_THE_WAY = {"tail-drum": {"M_z", "M_y"}}
"""Parts of a moment in one plane: the program is held to the moment of both."""


@pytest.mark.parametrize(("name", "step"), [(name, step) for name in PAGES for step in steps(name)])
def test_each_sum_gives_its_printed_result(name: str, step: str) -> None:
    line = steps(name)[step]
    assert line.worked() == pytest.approx(line.value, abs=line.last_digit)


@pytest.mark.parametrize(("name", "step"), [(name, step) for name, found in PAGES.items() for step in found])
def test_the_program_gives_what_the_page_prints(name: str, step: str) -> None:
    same(name, step, PAGES[name][step]())


@pytest.mark.parametrize("name", PAGES)
def test_no_printed_result_is_left_unchecked(name: str) -> None:
    assert set(steps(name)) == set(PAGES[name]) | ON_THE_WAY.get(name, set())


@pytest.mark.parametrize("name", PAGES)
def test_the_pages_say_that_they_are_invented(name: str) -> None:
    assert "invented" in page(name)


@pytest.mark.parametrize(
    "machine", [elevator_head, elevator_boot, paddle_shaft, the_screw, tail, jackshaft, hot]
)
def test_what_a_page_says_twice_agrees(machine: Callable[[], Machine]) -> None:
    assert not [note for note in machine().found.notes if "measure one of them again" in note]


def test_the_boot_is_held_down() -> None:
    assert elevator_boot().found.duties[0].angle[0] == pytest.approx(0.0)
