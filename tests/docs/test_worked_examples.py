"""The pages worked by hand: every sum gives its printed result, and the program gives the same.

The sums go on from printed results, so a result may be off by one in its last printed digit.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache, cached_property

import pytest

from halfbore.demo import suppliers
from halfbore.domain.check import Finding
from halfbore.domain.machine import Drum, ShaftDrive
from halfbore.intake.jobfile import read_job_data
from halfbore.mechanics import fan, power
from halfbore.selection.choose import findings
from halfbore.selection.need import Need
from halfbore.selection.sweep import sweep
from halfbore.shaftline import solve
from halfbore.shaftline.drums import strands
from halfbore.shaftline.loads import arm_force
from halfbore.shaftline.respond import respond
from halfbore.standards import astm_d341
from halfbore.standards import iso281_2007 as iso281
from halfbore.standards import iso281_2007_annex_a as annex_a
from tests.docs.pages import G, Machine, page, same, steps

UNIT = "d100.w2.l.uP.aJ.bJ.g1"


class Fan(Machine):
    """The fan, and the unit that the page takes for A."""

    def __init__(self) -> None:
        super().__init__("fan")
        self.a, self.b = self.found.duties
        self.unbalance = next(x for x in self.found.loads if x.name == "unbalance of wheel").force_y
        self.need = Need(self.job, 0, self.a)

    @cached_property
    def finding(self) -> dict[str, Finding]:
        units = suppliers.load("first").units
        unit = units.take(units.code == UNIT)
        return {f.check: f for f in findings(self.need, sweep(self.need, unit), 0)}

    def bad_end(self, check: str) -> float:
        value = self.finding[check].value
        assert value is not None
        return value.low

    def life(self, condition: int) -> float:
        return float(iso281.basic_rating_life(275e3, float(self.a.equivalent_high[condition])))

    @property
    def viscosity(self) -> float:
        assert self.need.viscosity is not None
        return float(self.need.viscosity[0][0])

    def kappa(self, condition: int) -> float:
        return self.viscosity / float(iso281.nu_1(float(self.a.speed[condition]), 140.0))

    def e_c(self, condition: int) -> float:
        level = annex_a.ContaminationLevel.GREASE_VERY_SEVERE
        return float(annex_a.contamination_factor(self.kappa(condition), 140.0, level))

    def a_iso(self, condition: int) -> float:
        load = float(self.a.equivalent_high[condition])
        return float(iso281.a_iso(self.kappa(condition), self.e_c(condition), 40_700.0, load))

    def over_duty(self, lives: list[float]) -> float:
        return float(iso281.life_over_duty(lives, self.a.speed, self.a.share))


def _z(viscosity: float) -> float:
    return math.log10(math.log10(viscosity + 0.7))


@cache
def the_fan() -> Fan:
    return Fan()


FAN: dict[str, Callable[[Fan], float]] = {
    "W_w": lambda m: m.load("weight of wheel")[0],
    "W_c": lambda m: m.load("weight of coupling")[0],
    "m_s": lambda m: solve.shaft_mass(m.job),
    "W_s": lambda m: solve.shaft_mass(m.job) * G,
    "R_B": lambda m: m.reaction("B").y,
    "R_A": lambda m: m.reaction("A").y,
    "ω": lambda m: float(power.angular_speed(m.job.duty[0].speed)),
    "e": lambda m: float(fan.eccentricity(16.0, m.job.duty[0].speed)),
    "U": lambda m: float(m.unbalance[0, 2]),
    "U_A": lambda m: float(m.a.peak_high[0]) - m.reaction("A").y,
    "U_half": lambda m: float(m.a.peak_high[1]) - m.reaction("A").y,
    "U_new": lambda m: float(m.unbalance[0, 0]) / 2,
    "u": lambda m: float(m.a.peak_high[0]) / m.reaction("A").y - 1,
    "P_full": lambda m: float(m.a.equivalent_high[0]),
    "P_half": lambda m: float(m.a.equivalent_high[1]),
    "P_new": lambda m: float(m.a.equivalent_low[0]),
    "peak": lambda m: float(m.a.peak_high[0]),
    "F_a": lambda m: float(m.a.axial_high[0]),
    "g_low": lambda m: float(m.b.growth_low[0]),
    "g_high": lambda m: float(m.b.growth_high[0]),
    "J": lambda m: m.lifted("B", 0.0)[0],
    "j_5": lambda m: m.lifted("B", 5.0)[1] - m.lifted("B", 0.0)[1],
    "L_full": lambda m: m.life(0) / 1000,
    "L_half": lambda m: m.life(1) / 1000,
    "n_full": lambda m: float(60 * m.a.share[0] * m.a.speed[0]),
    "n_half": lambda m: float(60 * m.a.share[1] * m.a.speed[1]),
    "L_duty": lambda m: m.over_duty([m.life(0), m.life(1)]) / 1000,
    "L_5h": lambda m: m.bad_end("rating life") / 1e6,
    "Z_40": lambda _: _z(float(astm_d341.viscosity(40.0, 150.0, 15.0))),
    "Z_100": lambda _: _z(float(astm_d341.viscosity(100.0, 150.0, 15.0))),
    "B": lambda _: (_z(150.0) - _z(15.0)) / math.log10(373.15 / 313.15),
    "Z_65": lambda m: _z(m.viscosity),
    "ν": lambda m: m.viscosity,
    "ν_1": lambda _: float(iso281.nu_1(980.0, 140.0)),
    "κ_full": lambda m: m.kappa(0),
    "κ_half": lambda m: m.kappa(1),
    "e_full": lambda m: m.e_c(0),
    "e_half": lambda m: m.e_c(1),
    "a_full": lambda m: m.a_iso(0),
    "a_half": lambda m: m.a_iso(1),
    "L_mod": lambda m: m.over_duty([m.a_iso(i) * m.life(i) for i in (0, 1)]) / 1e6,
    "L_5mh": lambda m: m.bad_end("modified life") / 1e6,
    "S_0": lambda m: m.bad_end("static safety"),
}


class Head(Machine):
    """The head shaft."""

    def __init__(self) -> None:
        super().__init__("head-shaft")
        self.drive = next(x for x in self.job.loads if isinstance(x, ShaftDrive))
        self.drum = next(x for x in self.job.loads if isinstance(x, Drum))

    @property
    def pull(self) -> float:
        tight, slack, _ = strands(self.drum, self.job)
        return float(tight[1] - slack[1])

    @property
    def arm(self) -> float:
        return float(arm_force(self.drive, self.job)[0][1])

    def both_strands(self, end: int = 1) -> float:
        tight, slack, _ = strands(self.drum, self.job)
        return float(tight[end] + slack[end])


@cache
def the_head() -> Head:
    return Head()


HEAD: dict[str, Callable[[Head], float]] = {
    "v": lambda m: float(power.surface_speed(m.drum.diameter, 60.0)),
    "F": lambda m: m.pull,
    "grip": lambda m: 1 + 1.3 * m.pull / m.load("slack strand at drum")[0],
    "T_2": lambda m: m.load("slack strand at drum")[0],
    "T_1": lambda m: m.load("tight strand at drum")[0],
    "T": lambda m: m.both_strands(),
    "M_t": lambda _: float(power.torque(45e3, 60.0)) / 1000,
    "R_arm": lambda m: m.arm,
    "G": lambda m: m.load("weight of gear unit")[0],
    "C_G": lambda m: m.load("weight of gear unit")[1],
    "C_arm": lambda m: m.load("torque arm of gear unit")[1],
    "C": lambda m: m.load("weight of gear unit")[1] + m.load("torque arm of gear unit")[1],
    "M_drum": lambda m: m.pull * m.drum.diameter / 2000,
    "W_d": lambda m: m.load("weight of drum")[0],
    "W_s": lambda m: solve.shaft_mass(m.job) * G,
    "D": lambda m: m.arm - m.load("weight of gear unit")[0],
    "B_y": lambda m: m.reaction("B").y,
    "A_y": lambda m: m.reaction("A").y,
    "A_z": lambda m: m.reaction("A").z,
    "B_z": lambda m: m.reaction("B").z,
    "A": lambda m: m.size("A"),
    "B": lambda m: m.size("B"),
    "φ_A": lambda m: math.degrees(m.found.duties[0].angle[0]) % 360,
    "ΣF": lambda m: m.found.balances[0].force,
    "ΣM": lambda m: m.found.balances[0].moment / 1000,
    "ΣM_all": lambda m: m.found.balances[1].moment / 1000,
    "T_start": lambda m: 1.6 * m.both_strands(),
    "Bs_y": lambda m: m.reaction("B", 1).y,
    "As_y": lambda m: m.reaction("A", 1).y,
    "As": lambda m: m.size("A", 1),
    "S_0": lambda m: 369e3 / m.size("A", 1),
    "T_high": lambda m: m.both_strands(2),
    "A_high": lambda m: m.reaction("A").high,
}


class Line(Machine):
    """The line shaft, and the same with its second support in line."""

    def __init__(self) -> None:
        super().__init__("line-shaft")
        self.data["positions"][1]["base"] = {"height_error": "0 mm"}
        level = respond(read_job_data(self.data).job)
        self.changes = [a.y - b.y for a, b in zip(self.found.reactions, level.reactions, strict=True)]

    @property
    def stiffness(self) -> float:
        line = solve.line_of(self.job, self.found.loads)
        return float(line.EI[0])


@cache
def the_line() -> Line:
    return Line()


def _lift_of_one(position: str) -> Callable[[Line], float]:
    return lambda m: m.lifted("L2", 1.0)[2][position]


def _two_planes(upright: str, level: str) -> float:
    """Return the size of the two moments that a page prints over one support."""
    return math.hypot(steps("line-shaft")[upright].value, steps("line-shaft")[level].value)


LINE: dict[str, Callable[[Line], float]] = {
    "w": lambda m: solve.shaft_mass(m.job) * G / 4.9,
    "EI": lambda m: m.stiffness / 1e9,
    "k": lambda m: 6 * m.stiffness / 1500**2 / 1000,
    "P_1": lambda m: m.load("weight of sheave 1")[0] + m.load("pull at sheave 1")[0],
    "P_2": lambda m: m.load("weight of sheave 2")[0],
    "M_1": lambda m: -m.moment(200),
    "L1_y": lambda m: m.reaction("L1").y,
    "L2_y": lambda m: m.reaction("L2").y,
    "L3_y": lambda m: m.reaction("L3").y,
    "L4_y": lambda m: m.reaction("L4").y,
    "Σ": lambda m: m.found.balances[0].force,
    "L1_z": lambda m: m.reaction("L1").z,
    "L2_z": lambda m: m.reaction("L2").z,
    "L3_z": lambda m: m.reaction("L3").z,
    "L4_z": lambda m: m.reaction("L4").z,
    "L3": lambda m: math.hypot(m.reaction("L3").y, m.reaction("L3").z),
    "φ_3": lambda m: math.degrees(m.found.duties[2].angle[0]) % 360,
    "d_1": lambda m: m.changes[0],
    "d_2": lambda m: m.changes[1],
    "d_3": lambda m: m.changes[2],
    "d_4": lambda m: m.changes[3],
    "J": lambda m: m.lifted("L2", 1.0)[0],
    "n_1": _lift_of_one("L1"),
    "n_3": _lift_of_one("L3"),
    "n_4": _lift_of_one("L4"),
}
ON_THE_WAY = {"a", "b", "M_2", "M_3", "b_z", "N_2", "N_3", "a_w", "b_w", "Q_2", "Q_3"}
"""Steps of the three-moment equation: the program has other unknowns; its moments are compared in both planes."""

NAMES = ("fan", "head-shaft", "line-shaft")


@pytest.mark.parametrize(("name", "step"), [(name, step) for name in NAMES for step in steps(name)])
def test_each_sum_gives_its_printed_result(name: str, step: str) -> None:
    line = steps(name)[step]
    assert line.worked() == pytest.approx(line.value, abs=line.last_digit)


@pytest.mark.parametrize("step", FAN)
def test_the_program_gives_what_the_fan_page_prints(step: str) -> None:
    same("fan", step, FAN[step](the_fan()))


@pytest.mark.parametrize("step", HEAD)
def test_the_program_gives_what_the_head_shaft_page_prints(step: str) -> None:
    same("head-shaft", step, HEAD[step](the_head()))


@pytest.mark.parametrize("step", LINE)
def test_the_program_gives_what_the_line_shaft_page_prints(step: str) -> None:
    same("line-shaft", step, LINE[step](the_line()))


@pytest.mark.parametrize(("x", "upright", "level"), [(1700, "M_2", "N_2"), (3200, "M_3", "N_3")])
def test_the_moments_over_the_inner_supports_are_those_of_the_program(
    x: float, upright: str, level: str
) -> None:
    assert the_line().moment(x) == pytest.approx(_two_planes(upright, level), abs=0.15)  # two rounded parts


def test_no_printed_result_is_left_unchecked() -> None:
    assert set(steps("fan")) == set(FAN)
    assert set(steps("head-shaft")) == set(HEAD)
    assert set(steps("line-shaft")) == set(LINE) | ON_THE_WAY


@pytest.mark.parametrize("name", NAMES)
def test_the_pages_say_that_they_are_invented(name: str) -> None:
    assert "invented" in page(name)
