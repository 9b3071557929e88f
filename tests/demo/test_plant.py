"""The demo plant: every position comes to its answer by computation, for the reason it was drawn up to show."""

from __future__ import annotations

import dataclasses
import time
import tomllib
from collections.abc import Callable
from datetime import date
from functools import cache
from typing import Any

import numpy as np
import pytest

from halfbore.advice import conditioned
from halfbore.demo import plant, suppliers
from halfbore.domain.check import Finding, Verdict
from halfbore.domain.job import Job
from halfbore.domain.study import Decision, PositionStudy, Study
from halfbore.domain.unit import SealKind, Support, joined
from halfbore.intake.jobfile import read_job_data
from halfbore.narrowing import what_to_measure
from halfbore.selection.checks import seals
from halfbore.selection.checks.bore_and_seat import SLEEVE
from halfbore.selection.need import Need
from halfbore.selection.standing import of_the_bore, usable
from halfbore.selection.sweep import sweep
from halfbore.shaftline.respond import respond
from halfbore.shaftline.solve import shaft_mass
from halfbore.study import Stage, study
from halfbore.units import Span

ON = date(2026, 3, 2)
CATALOGUES = tuple(suppliers.load(name) for name in ("first", "second"))
UNITS = joined([c.units for c in CATALOGUES])
IN_TIME = 20.0
"""Seconds for all shaft lines of the plant on two cores, from the job files to the value."""

Data = dict[str, Any]


def data(machine: str, line: str = "") -> Data:
    return tomllib.loads(plant.job_text(machine, line))


def job(machine: str, line: str = "") -> Job:
    return read_job_data(data(machine, line)).job


SPENT: dict[tuple[str, str], float] = {}
"""Seconds that each shaft line took."""


def worked(machine: str, line: str = "") -> Study:
    return _worked(machine, line)


@cache
def _worked(machine: str, line: str) -> Study:
    begun = time.process_time()
    found = study(read_job_data(data(machine, line)), CATALOGUES, on=ON)
    SPENT[machine, line] = time.process_time() - begun
    return conditioned(found, what_to_measure(found))


def changed(
    machine: str, change: Callable[[Data], object], line: str = "", upto: Stage = Stage.CHANGEOVER
) -> Study:
    told = data(machine, line)
    change(told)
    return study(read_job_data(told), CATALOGUES, upto, ON)


def at(found: Study, position: str) -> PositionStudy:
    return next(p for p in found.positions if p.position == position)


def finding(found: PositionStudy, check: str) -> Finding:
    """Return a check of the chosen unit, or of the nearest one where nothing holds."""
    assert found.choice is not None
    told = found.choice.findings or found.choice.nearest_findings
    return next(f for f in told if f.check == check)


C, IF, N, S, D, W, U = (
    Decision.CONVERT,
    Decision.CONVERT_IF,
    Decision.NO_CLEAR_CASE,
    Decision.SETTLE_FIRST,
    Decision.DOES_NOT_PAY,
    Decision.WAITS,
    Decision.NO_UNIT,
)
HOLDS, TIGHT, FAILS, OPEN = Verdict.HOLDS, Verdict.TIGHT, Verdict.FAILS, Verdict.NO_DATA

POSITIONS = [
    ("F1", "", "F1-A", C, "root cause", HOLDS, "adhesive wear"),
    ("F1", "", "F1-B", N, "root cause", Verdict.NOT_APPLICABLE, "no failure is on record"),
    ("F2", "", "F2-A", U, "bore and seat", FAILS, "112 µm under nominal"),
    # As typed: the thrust that decides at F2-B is filled in only where a survey is completed.
    ("F2", "", "F2-B", D, "minimum load", HOLDS, "enough to keep the rollers turning"),
    ("F3", "", "F3-A", S, "minimum load", TIGHT, "a lighter series or less clearance, not a heavier one"),
    ("F3", "", "F3-B", IF, "clearance", TIGHT, "group 3 keeps"),
    (
        "C1",
        "",
        "C1-A",
        IF,
        "ring joint",
        TIGHT,
        "the load zone reaches the joint, the supplier allows down to",
    ),
    (
        "C1",
        "",
        "C1-B",
        N,
        "ring joint",
        TIGHT,
        "the load zone reaches the joint, the supplier allows down to",
    ),
    ("E1", "head", "E1-A", U, "bore and seat", FAILS, "423 µm under nominal"),
    ("E1", "head", "E1-B", C, "bore and seat", HOLDS, "62 µm under nominal"),
    ("E1", "boot", "E1-C", C, "seals", TIGHT, "packing with purge grease"),
    ("E1", "boot", "E1-D", C, "seals", TIGHT, "packing with purge grease"),
    ("L1", "", "L1-1", D, "root cause", Verdict.NOT_APPLICABLE, "no failure is on record"),
    ("L1", "", "L1-2", S, "root cause", TIGHT, "out of line; mend the height first"),
    ("L1", "", "L1-3", C, "root cause", HOLDS, "abrasive wear"),
    ("L1", "", "L1-4", N, "root cause", Verdict.NOT_APPLICABLE, "no failure is on record"),
    (
        "H1",
        "",
        "H1-A",
        U,
        "room",
        FAILS,
        "of 18 mm from the middle towards the drive end (shoulder and nut thread)",
    ),
    ("H1", "", "H1-B", W, "axial chain", OPEN, "what holds the shaft axially is not settled"),
    ("S1", "", "S1-A", U, "axial chain", FAILS, "weakest known link supplier's axial load bears"),
    ("S1", "", "S1-B", N, "axial travel", HOLDS, "needed each way"),
    ("T1", "", "T1-A", D, "seals", HOLDS, "packing"),
    ("T1", "", "T1-B", D, "seals", HOLDS, "packing"),
    ("K1", "", "K1-A", C, "rating life", HOLDS, "60 wanted"),
    ("K1", "", "K1-B", IF, "rating life", TIGHT, "60 wanted"),
]


@pytest.mark.parametrize(
    ("machine", "line", "position", "decision", "check", "verdict", "words"),
    POSITIONS,
    ids=[row[2] for row in POSITIONS],
)
def test_every_position_comes_to_its_answer_for_its_reason(
    machine: str, line: str, position: str, decision: Decision, check: str, verdict: Verdict, words: str
) -> None:
    found = at(worked(machine, line), position)
    told = finding(found, check)
    assert (found.decision, told.verdict) == (decision, verdict), (found.because, told.reason)
    assert words in told.reason


def test_the_plant_has_ten_machines_eleven_lines_and_twenty_four_positions() -> None:
    names = [p.name for line in plant.LINES for p in job(*line).positions]
    assert (len({m for m, _ in plant.LINES}), len(plant.LINES), len(names)) == (10, 11, 24)
    assert sorted(names) == sorted(row[2] for row in POSITIONS)
    for line in plant.LINES:
        told = job(*line)
        assert told.invented
        assert told.customer == told.machine.plant == plant.NAME
        assert (told.machine.name, told.shaft.name) == line


def test_all_lines_are_worked_out_in_time() -> None:
    for line in plant.LINES:
        worked(*line)
    assert sum(SPENT.values()) < IN_TIME


# Reactions, against a hand balance of the parts on the shaft; what each figure leaves out is left out here too.


def balanced(machine: str, line: str = "", shaft: float | None = 0.0) -> list[tuple[float, float]]:
    """Return likely reaction and its upward part of each position [kN], with process loads at their plain size.

    shaft: mass of the shaft itself [kg], None for the one of the job file.
    """
    told = job(machine, line)
    duty = tuple(dataclasses.replace(c, load_factor=Span.of(1.0)) for c in told.duty)
    own = shaft_mass(told)
    density = told.shaft.density * (1.0 if shaft is None else max(shaft, 1e-3) / own)
    plain = dataclasses.replace(told, duty=duty, shaft=dataclasses.replace(told.shaft, density=density))
    first = respond(plain).reactions[: len(told.positions)]
    return [(float(np.hypot(r.y, r.z)) / 1000, r.y / 1000) for r in first]


@pytest.mark.parametrize(
    ("machine", "line", "shaft", "published", "rtol"),
    [
        # The job has 3300 mm between the bearings of F1 and 1750 between those of C1, the balance 3400 and 1800.
        ("F1", "", 560.0, (17.0, 15.3), 0.02),
        # Wheel, sheave and pull alone give 3.0 kN at F2-B; with the shaft's own 99 kg it is 3.5.
        ("F2", "", 70.0, (6.1, 3.3), 0.03),
        ("C1", "", 0.0, (35.6, 22.9), 0.03),
        ("E1", "head", 0.0, (78.3, 40.3), 0.01),
        ("H1", "", 0.0, (28.8, 31.0), 0.01),
        # Weights across a shaft that rises by 12° count with the cosine.
        ("S1", "", 0.0, (8.9, 4.1), 0.04),
        ("T1", "", 0.0, (9.7, 9.7), 0.01),
        ("K1", "", 0.0, (34.3, 36.9), 0.01),
    ],
)
def test_the_solved_shaft_balances_the_parts_by_hand(
    machine: str, line: str, shaft: float, published: tuple[float, float], rtol: float
) -> None:
    assert [size for size, _ in balanced(machine, line, shaft)] == pytest.approx(published, rel=rtol)


def test_the_overhung_wheel_lifts_the_shaft_at_its_far_bearing() -> None:
    """Hand balance with a shaft of 250 kg: 0.3 kN down on the shaft at F3-A, 9.9 kN up at F3-B."""
    (_, far), (near, up) = balanced("F3", shaft=None)
    assert far == pytest.approx(-0.3, abs=0.05)
    assert near == up == pytest.approx(9.9, rel=0.05)


def test_the_boot_hangs_in_its_belt() -> None:
    """Both strands pull up with 12 kN, the drum and the shaft weigh 4.71 and 0.97 kN: the bearings hold the rest down."""
    told = job("E1", "boot")
    held = (12.0 - 9.80665e-3 * (480.0 + shaft_mass(told))) / 2.0
    assert [y for _, y in balanced("E1", "boot", None)] == pytest.approx([-held, -held], rel=1e-6)


def test_the_conveyor_pulls_its_head_shaft_nearly_level() -> None:
    for size, up in balanced("C1"):
        assert abs(up) < 0.2 * size


# What decides, position by position.


def test_the_first_failure_of_the_kiln_fan_pays_for_its_conversion() -> None:
    worth = at(worked("F1"), "F1-A").value
    assert worth is not None
    assert (worth.payback, worth.chance > 0.95) == (0.0, True)


@pytest.mark.parametrize(
    ("machine", "line", "position", "remedy"),
    [
        ("F2", "", "F2-A", f"a unit bored to the measured seat, or {SLEEVE}"),
        ("E1", "head", "E1-A", f"{SLEEVE}, or weld repair and turning"),
    ],
)
def test_no_unit_goes_on_a_worn_seat_and_the_remedy_is_said(
    machine: str, line: str, position: str, remedy: str
) -> None:
    found = at(worked(machine, line), position)
    assert found.choice is not None
    assert [check for check, _ in found.choice.counts] == ["bore and seat"]
    assert found.choice.holding == found.choice.open == 0
    assert all(r.text.startswith(f"{remedy}: mended seat diameter") for r in found.choice.relaxations)
    assert dict(finding(found, "bore and seat").details)["remedy"] == remedy


def test_a_mended_seat_lets_a_unit_in_and_the_plan_keeps_a_way_out() -> None:
    def mended(told: Data) -> None:
        told["positions"][0]["seat"] |= {"diameter": "176.17 mm to 176.19 mm", "form_error": "0.012 mm"}

    found = at(changed("E1", mended, "head"), "E1-A")
    assert found.decision is Decision.HOLDS
    assert found.plans is not None
    point = next(t.task for t in found.plans.split_first.tasks if t.task.name.startswith("Hold point"))
    assert "back out to the old type on the shelf" in [branch.name for branch in point.branches]


def test_only_the_light_series_keeps_the_cooler_fan_s_rollers_turning() -> None:
    told = job("F2")
    need = Need(told, 1, respond(told).duties[1])
    found = sweep(need, UNITS)
    row = of_the_bore(need, found) & found.units.locating
    light = found.verdict[found.checks.index("minimum load")] == Verdict.HOLDS
    assert set(found.units.row_size[row & light]) == {1}
    assert set(found.units.row_size[row & ~light]) == {2, 3, 4}


def test_an_unloaded_bearing_is_not_cured_by_a_unit_and_is_held_down_in_the_change() -> None:
    found = at(worked("F3"), "F3-A")
    assert "minimum load" in found.because
    assert found.choice is not None
    assert found.choice.chosen_unit is not None
    assert found.choice.chosen_unit.row_size[0] == 1
    assert finding(found, "support direction").reason.count("upwards, on the cap")
    assert found.plans is not None
    told = next(note for note in found.plans.notes if note.startswith("Holding the shaft: "))
    assert "the shaft pulls upwards here: a hold-down, not a jack" in told
    assert "with the coupling off: 1.22" in told


def test_the_bearing_that_holds_the_hot_fan_down_stays_closed_while_the_wheel_side_is_changed() -> None:
    """The overhung wheel would tip the shaft: A carries uplift while B is away."""
    plans = at(worked("F3"), "F3-B").plans
    assert plans is not None
    first = [time.task.name for time in plans.split_first.tasks]
    assert "Hold the shaft down at the bearing that stays closed" in first
    assert "Open the other bearing to let the shaft turn" not in first
    assert any("with F3-B away F3-A holds the shaft down with up to 3.86" in note for note in plans.notes)


def test_the_hot_end_needs_the_largest_clearance_and_its_heat_slinger() -> None:
    slung = at(worked("F3"), "F3-B")
    assert dict(finding(slung, "clearance").details)["clearance group"] == "3"

    def bare(told: Data) -> None:
        del told["positions"][1]["shaft_temperature"]  # what the hot gas gives counts then

    found = at(changed("F3", bare, upto=Stage.SELECT), "F3-B")
    assert found.decision is Decision.NO_UNIT
    assert {finding(found, c).verdict for c in ("temperature", "clearance")} & {Verdict.FAILS, Verdict.TIGHT}


def test_the_conveyor_s_joint_stands_aside_by_another_support() -> None:
    """A plain pedestal lays its joint level, where the belt pulls: only supports with an inclined joint are left."""
    found = worked("C1")
    for position in ("C1-A", "C1-B"):
        told = at(found, position)
        assert told.choice is not None
        assert told.choice.chosen is not None
        assert "side-entry pedestal" in told.choice.chosen.name
        assert "turn the base" in dict(finding(told, "ring joint").details)["choices"]


def test_standing_water_leaves_the_packing_and_puts_the_labyrinth_out_of_the_method() -> None:
    told = job("E1", "boot")
    need = Need(told, 0, respond(told).duties[0])
    left, right = seals.build(need, UNITS)
    right_bore = np.abs(UNITS.bore - need.nominal) < 0.02
    assert {*left[right_bore], *right[right_bore]} == {SealKind.PACKING}
    offered = UNITS.seal_offered.copy()
    offered[:, SealKind.PACKING] = False
    dry = dataclasses.replace(UNITS, seal_offered=offered)
    found = sweep(Need(told, 0, need.duty), dry)
    verdicts = found.verdict[found.checks.index("seals"), right_bore]
    assert set(verdicts.tolist()) == {int(Verdict.OUTSIDE)}


def test_upright_slides_turn_the_take_up_and_the_order_says_so() -> None:
    found = at(worked("E1", "boot"), "E1-C")
    assert "of a base turned by +90°" in dict(finding(found, "support direction").details)["direction"]
    assert found.order is not None
    assert any("on a base turned by 90°" in answer.answer for answer in found.order.answers)


def test_nothing_goes_on_the_hydrator_as_it_is_and_what_would_is_told_with_the_open_question() -> None:
    found = at(worked("H1"), "H1-A")
    assert found.choice is not None
    assert (found.choice.holding, found.choice.open) == (0, 0)
    assert "nearer the free end it has room on both sides" in finding(found, "room").reason
    for row in found.choice.relaxations:
        assert row.checks == ("room",)
        assert row.text.startswith("plain shaft towards the drive end")
        assert "then still open: what holds the shaft in each axial direction" in row.text


def test_nobody_knows_what_holds_the_hydrator_s_shaft_so_no_unit_is_chosen() -> None:
    found = worked("H1")
    assert any(
        "Whether gear unit holds the shaft axially is not known" in note for note in found.response.notes
    )
    free = at(found, "H1-B").choice
    assert free is not None
    assert free.open > 0
    assert "settle what holds the shaft in each axial direction" in dict(free.questions)


def test_once_the_gear_unit_locates_the_hydrator_s_base_is_milled() -> None:
    def settled(told: Data) -> None:
        told["machine"]["locates"][0]["holds"] = "both ways"

    found = at(changed("H1", settled), "H1-B")
    assert found.decision is Decision.HOLDS
    assert "mill the base, or the line and its drive follow" in finding(found, "lift and entry").reason
    assert found.plans is not None
    assert "Mill the base down" in [t.task.name for t in found.plans.split_first.tasks]
    # The end at the shoulder still takes none.
    assert at(changed("H1", settled), "H1-A").decision is Decision.NO_UNIT


def test_no_unit_holds_the_screw_s_thrust_and_a_thrust_bearing_of_its_own_lets_one_in() -> None:
    found = at(worked("S1"), "S1-A")
    assert found.choice is not None
    assert any("a thrust bearing at S1-A, which holds the shaft" in r.text for r in found.choice.relaxations)

    def own(told: Data) -> None:
        told["positions"][0]["role"] = "non-locating"
        told["machine"]["locates"] = [{"name": "thrust bearing", "holds": "both ways", "x": "450 mm"}]

    eased = at(changed("S1", own), "S1-A")
    assert eased.decision is Decision.HOLDS
    assert finding(eased, "axial chain").verdict is Verdict.NOT_APPLICABLE


def test_the_screw_pushes_with_its_thrust_and_its_weight_along_the_slope() -> None:
    first = worked("S1").response.reactions[0]
    assert first.axial == pytest.approx(48e3, rel=0.01)


def test_the_boot_s_recorded_stops_count_and_page_one_says_that_the_plan_is_longer() -> None:
    """Five stops of 8 to 11 h, where the plan says 10 to 17 h."""
    worth = at(worked("E1", "boot"), "E1-C").value
    assert worth is not None
    assert 8.0 < worth.one_piece_outage.p50 < 11.0
    assert worth.hours_saved_later.p50 < 1.5
    assert worth.saving.mean == pytest.approx(36.5e3, rel=0.05)
    assert "5 stops on record took 8.0 to 11" in worth.caveats[0]


def test_no_stop_is_saved_at_f2_b_while_f2_a_which_shares_it_keeps_its_bearing() -> None:
    found = worked("F2")
    assert at(found, "F2-A").decision is Decision.NO_UNIT
    worth = at(found, "F2-B").value
    assert worth is not None
    assert worth.stop_share == 0.0
    assert worth.hours_saved_later.p90 == 0.0
    assert any("No split unit goes in at F2-A" in words for words in worth.caveats)


@pytest.mark.parametrize(
    ("position", "no_when"),
    [
        # Stops on record of 1.5 to 2 h at T1-A alone.
        ("T1-A", "No cost of lost production brings half of the runs to pay."),
        ("T1-B", "while the first 6 h of a stop cost nothing"),
    ],
)
def test_the_tail_drum_s_free_ends_do_not_pay(position: str, no_when: str) -> None:
    worth = at(worked("T1"), position).value
    assert worth is not None
    assert worth.hours_saved_next.p90 < 0.0
    assert no_when in worth.no_when


@pytest.mark.parametrize("position", [0, 1])
def test_the_crusher_takes_heavy_series_only(position: int) -> None:
    told = job("K1")
    need = Need(told, position, respond(told).duties[position])
    found = sweep(need, UNITS)
    fails = found.verdict[found.checks.index("rating life")] == Verdict.FAILS
    assert fails[of_the_bore(need, found) & (found.units.row_size == 1)].all()
    assert set(found.units.row_size[usable(found)]) == {3, 4}


def test_how_hard_the_crusher_shocks_decides_its_life() -> None:
    life = finding(at(worked("K1"), "K1-B"), "rating life")
    assert life.used is not None
    assert life.used.low < 1.0 < life.used.high

    def row(factor: float) -> int:
        """Return the row size that is chosen where the factor is known."""

        def set_to(told: Data) -> None:
            told["duty"][0]["load_factor"] = factor

        found = at(changed("K1", set_to, upto=Stage.SELECT), "K1-B").choice
        assert found is not None
        assert found.chosen_unit is not None
        return int(found.chosen_unit.row_size[0])

    assert (row(1.3), row(1.6)) == (3, 4)


def test_a_turned_base_would_clear_the_conveyor_s_joint_as_well() -> None:
    """A plain pedestal on a base turned by 45° to the right: the joint then stands 54° off the load, not 9°."""

    def plain(turned: str) -> set[int]:
        told = data("C1")
        told["positions"][0]["base"]["turned"] = turned
        read = read_job_data(told).job
        found = sweep(Need(read, 0, respond(read).duties[0]), UNITS)
        pedestals = of_the_bore(Need(read, 0, respond(read).duties[0]), found) & (
            found.units.support == Support.PLAIN
        )
        known = pedestals & ~np.isnan(found.units.joint_clear)
        return set(found.verdict[found.checks.index("ring joint"), known].tolist())

    assert plain("0 deg") == {int(Verdict.FAILS)}
    assert Verdict.FAILS not in plain("45 deg")
