"""Machines as people get them wrong, one by one: what is refused, what is asked about, what is said."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.errors import InputError
from halfbore.intake.jobfile import read_job_data
from halfbore.selection.need import Need
from halfbore.selection.sweep import sweep
from halfbore.shaftline.lift import lift_at
from halfbore.shaftline.respond import respond
from halfbore.study import Stage, study
from tests.hardening.thin import catalogues
from tests.samples_jobs import data, simple

Data = dict[str, Any]


def changed(job: Data, change: Callable[[Data], object]) -> Data:
    change(job)
    return job


def told(job: Data) -> list[tuple[str, str]]:
    """Return place and words of everything that is wrong with a job; nothing for one that is read."""
    try:
        read_job_data(job)
    except InputError as refused:
        return [(p.where, p.sentence()) for p in refused.problems]
    return []


def notes(job: Data) -> tuple[str, ...]:
    return respond(read_job_data(job).job).notes


REFUSED: list[tuple[Callable[[Data], object], str, str]] = [
    (lambda j: j["duty"][0].update(share=0.9985), "duty", "do not add up to 1"),
    (lambda j: j["duty"][0].update(share="99 %"), "duty", "1 within 0.001"),
    (lambda j: j["duty"].clear(), "duty", "there is no condition"),
    (lambda j: j["loads"][0].update(mass="1200 kg to 1000 kg"), "loads[0].mass", "does not run from low"),
    (
        lambda j: j["duty"][0].update(shaft_temperature="60 °C to 40 °C"),
        "duty[0].shaft_temperature",
        "from low",
    ),
    (lambda j: j["positions"][1].update(x="2100 mm"), "positions[1].x", "beyond the end of the shaft"),
    (lambda j: j["loads"][0].update(x="-1 mm"), "loads[0].x", "out of bounds"),
    (
        lambda j: j["positions"][0]["seat"].update(diameter="99.99 mm to 99.98 mm"),
        "positions[0].seat.diameter",
        "",
    ),
    (lambda j: j["positions"][1].update(x="575 mm"), "positions[1].x", "within one bearing width"),
    (lambda j: j["positions"][1].update(x="500 mm"), "positions[1].x", "stand in order"),
    (lambda j: j["positions"].reverse(), "positions[1].x", "stand in order"),
    (lambda j: j["shaft"]["segments"][0].update(length="0 mm"), "shaft.segments[0].length", "out of bounds"),
    (lambda j: j["shaft"]["segments"].clear(), "shaft.segments", "no segment"),
    (lambda j: j["shaft"]["segments"][0].update(bore="100 mm"), "shaft.segments[0]", "bore is not smaller"),
    (lambda j: j["duty"][0].update(speed="0 r/min"), "duty[0].speed", "a running condition has no speed"),
    (lambda j: j["positions"].pop(), "positions", "two bearings or more"),
    (lambda j: j["positions"].clear(), "positions", "two bearings or more"),
    (lambda j: j["positions"][1].update(role="locating"), "positions", "growth has nowhere to go"),
    (
        lambda j: j["positions"][1].update(lift={"jack_x": "500 mm"}),
        "positions[1].lift.jack_x",
        "another position",
    ),
    (
        lambda j: j["positions"][1].update(lift={"jack_x": "5 m"}),
        "positions[1].lift.jack_x",
        "beyond the end",
    ),
    (
        lambda j: j.update(lubricant={"kind": "oil", "viscosity_40": "20 cSt", "viscosity_100": "40 cSt"}),
        "lubricant.viscosity_100",
        "not thinner at 100 °C",
    ),
]


@pytest.mark.parametrize(("change", "where", "words"), REFUSED)
def test_a_machine_that_contradicts_itself_is_refused_by_place(
    change: Callable[[Data], object], where: str, words: str
) -> None:
    said = told(changed(simple(), change))
    assert any(place.partition(" (")[0] == where and words in text for place, text in said), said


def test_shares_may_miss_1_by_a_thousandth() -> None:
    assert not told(changed(simple(), lambda j: j["duty"][0].update(share=0.9992)))


SHEAVE = {
    "kind": "sheave",
    "name": "s",
    "x": "1000 mm",
    "mass": "50 kg",
    "diameter": "400 mm",
    "direction": "up",
}
DRIVE = {"kind": "shaft-mounted drive", "name": "g", "x": "100 mm", "mass": "500 kg", "arm_direction": "up"}
DRUM = {
    "kind": "drum",
    "name": "d",
    "x": "1000 mm",
    "mass": "300 kg",
    "diameter": "600 mm",
    "tight_direction": "left",
}


@pytest.mark.parametrize(
    ("load", "words"),
    [
        (SHEAVE, "neither pull nor power is given"),
        (DRIVE, "neither arm force nor power is given"),
        (DRIVE | {"power": "15 kW"}, "without the reach of the torque arm"),
        (DRUM, "neither strands nor power nor a take-up are given"),
        (DRUM | {"tight_strand": "20 kN"}, "one strand is given"),
        (
            DRUM | {"tight_strand": "9 kN", "slack_strand": "20 kN"},
            "slack strand pulls more than the tight one",
        ),
        (DRUM | {"power": "9 kW", "hub_spacing": "4 m"}, "beyond the end of the shaft"),
    ],
)
def test_a_part_that_leaves_its_force_open_is_refused_not_taken_as_nothing(load: Data, words: str) -> None:
    said = told(changed(simple(), lambda j: j["loads"].append(load)))
    assert any(words in text for _, text in said), said


def test_torque_without_speed_is_refused() -> None:
    def stands(job: Data) -> None:
        job["loads"].append(SHEAVE | {"power": "10 kW"})
        job["duty"] = [{"name": "standing", "share": 1.0, "speed": "0 r/min"}]

    said = dict(told(changed(simple(), stands)))
    assert "power without a speed gives no torque" in said["loads[1].power (s)"]
    assert "a running condition has no speed" in said["duty[0].speed (standing)"]


def _stepped(job: Data) -> None:
    job["shaft"]["segments"] = [
        {"length": "540 mm", "diameter": "90 mm"},
        {"length": "1460 mm", "diameter": "100 mm"},
    ]
    job["positions"][0]["room"] = {"plain_left": "100 mm", "plain_right": "60 mm"}


def test_a_unit_across_a_step_and_plain_shaft_past_it_are_asked_about() -> None:
    asked = {q.path: q.text for q in read_job_data(changed(simple(), _stepped)).questions}
    assert "a step 40 mm from here" in asked["positions[0].x"]
    assert "reach past the step" in asked["positions[0].room.plain_right"]
    assert "positions[0].room.plain_left" not in asked


def test_a_shaft_that_its_bearings_do_not_hold_is_refused() -> None:
    def tips(job: Data) -> None:
        job["loads"][0]["x"] = "2000 mm"
        job["positions"][0]["base"] = {"holds_down": False}

    job = read_job_data(changed(simple(), tips)).job
    with pytest.raises(InputError, match="lift"):
        respond(job)


def test_a_unit_and_a_gear_unit_that_both_locate_are_refused_by_name() -> None:
    job = simple()
    job["machine"]["locates"] = [{"name": "gear unit", "holds": "both ways", "x": "100 mm"}]
    with pytest.raises(InputError, match="A and gear unit"):
        respond(read_job_data(job).job)


def _nothing_locates(job: Data) -> None:
    job["positions"][0]["role"] = "non-locating"


def test_where_nothing_locates_loads_and_growth_stand_and_the_tool_says_which_position_suits() -> None:
    found = study(
        read_job_data(changed(data("fan"), _nothing_locates)), catalogues(), Stage.SELECT, date(2026, 3, 2)
    )
    first, second = (r.y for r in found.response.reactions[:2])
    assert first > second > 10e3
    suits = found.response.notes[-1]
    assert f"F1-A suits best for a locating unit: it carries most, {first / 1000:.3g} kN" in suits
    assert "grows by up to 2.5 mm" in suits  # 11.7e-6 · 3300 mm · (75 − 10) K
    assert all(p.choice is not None and p.choice.chosen is None for p in found.positions)


def test_where_nothing_locates_axial_checks_have_no_data() -> None:
    job = read_job_data(changed(data("fan"), _nothing_locates)).job
    found = sweep(Need(job, 0, respond(job).duties[0]), catalogues()[0].units)
    for check in ("axial chain", "axial travel"):
        verdicts = found.verdict[found.checks.index(check)]
        assert set(verdicts[~found.units.locating].tolist()) == {Verdict.NO_DATA}


def test_a_gear_unit_whose_hold_is_not_known_is_to_be_settled() -> None:
    job = changed(data("head_shaft"), _nothing_locates)
    job["machine"]["locates"] = [{"name": "gear unit", "holds": "not known"}]
    said = notes(job)
    assert any("Whether gear unit holds the shaft axially is not known" in note for note in said)


# What a survey says twice.


def test_strands_under_the_slip_limit_are_said() -> None:
    # µ 0.25 to 0.35 over half a turn: 38 kN at the likely µ of 0.30 needs 38 / e^(0.3π) = 14.8 kN.
    def slack(pull: str) -> tuple[str, ...]:
        return notes(changed(data("head_shaft"), lambda j: j["loads"][1].update(slack_strand=pull)))

    slips, may, grips = slack("14 kN"), slack("17 kN"), slack("20 kN")
    assert any("belt slips" in note and "14.8 kN or more" in note for note in slips)
    assert any("may slip" in note and "18.7 kN or more" in note for note in may)  # 41 kN at µ 0.25
    assert not any("slip" in note for note in grips)


def test_a_drum_and_its_drive_that_disagree_are_said() -> None:
    # (41 − 19) kN to (36 − 21) kN at 0.4 m: 6.0 to 8.8 kN·m; an arm of 2 kN at 0.95 m shows 1.9 kN·m.
    said = notes(changed(data("head_shaft"), lambda j: j["loads"][0].update(arm_force="2 kN")))
    assert any("6 to 8.8 kN·m" in note and "1.9 kN·m" in note for note in said)


def test_a_drive_whose_power_and_arm_disagree_is_said() -> None:
    # 55 kW at 62 r/min are 8.47 kN·m; the arm shows 7 to 10 kN at 0.95 m.
    agree = notes(changed(data("head_shaft"), lambda j: j["loads"][0].update(power="55 kW")))
    apart = notes(changed(data("head_shaft"), lambda j: j["loads"][0].update(power="90 kW")))
    assert not any("torque arm shows" in note for note in agree)
    assert any("13.9 kN·m" in note and "6.65 to 9.5 kN·m" in note for note in apart)


def test_drives_on_both_ends_that_disagree_are_said() -> None:
    def second(force: str) -> tuple[str, ...]:
        job = data("head_shaft")
        job["loads"][0]["arm_force"] = "3.5 kN to 4.5 kN to 5 kN"
        job["loads"].append(job["loads"][0] | {"name": "second drive", "x": "2400 mm", "arm_force": force})
        return notes(job)

    assert not any("share the torque" in note for note in second("4 kN"))
    assert any("do not share the torque alike" in note for note in second("8 kN"))


@pytest.mark.parametrize(
    ("powers", "agree"), [(("30 kW", "12 kW to 20 kW", "14 kW"), True), (("30 kW", "5 kW"), False)]
)
def test_sheaves_on_both_ends_whose_powers_disagree_are_said(powers: tuple[str, ...], agree: bool) -> None:
    job = simple(
        loads=[
            SHEAVE | {"name": f"s{i}", "x": f"{300 + 600 * i} mm", "power": p} for i, p in enumerate(powers)
        ]
    )
    assert any("do not agree" in note for note in notes(job)) is not agree


def test_service_that_betters_the_balance_is_asked_about() -> None:
    job = changed(data("fan"), lambda j: j["loads"][1].update(balance_in_service="G 2.5"))
    assert [q.path for q in read_job_data(job).questions] == ["loads[1].balance_in_service"]


def test_a_rotor_keeps_its_eccentricity_when_it_turns_slower() -> None:
    # G 16 at 1480 r/min is 0.1032 mm; at 740 r/min its force is a quarter, not a half.
    wheel = {"kind": "fan wheel", "name": "w", "x": "1000 mm", "mass": "200 kg", "balance_in_service": "G 16"}
    duty = [
        {"name": "full", "share": 0.5, "speed": "1480 r/min"},
        {"name": "half", "share": 0.5, "speed": "740 r/min"},
    ]
    found = respond(read_job_data(simple(loads=[wheel], duty=duty)).job)
    turning = next(load for load in found.loads if load.name.startswith("unbalance")).force_y
    assert turning[0, 2] == pytest.approx(200 * 16e-3 * np.pi * 1480 / 30)
    assert turning[1] == pytest.approx(turning[0] / 4)


def test_a_jack_never_stands_at_the_next_bearing_by_itself() -> None:
    # Two diameters beside A would be the place of B.
    job = simple()
    job["positions"][1]["x"] = "700 mm"
    job["loads"][0]["x"] = "600 mm"
    read = read_job_data(job).job
    lifted = lift_at(read, respond(read).loads, read.positions[0].name, 0.0)
    assert lifted.jack_assumed
    assert lifted.jack_x == pytest.approx(600)


def test_a_shaft_that_bears_nothing_but_itself_is_solved() -> None:
    found = respond(read_job_data(simple(loads=[])).job)
    # Half of 2 m of 100 mm steel: 7850 kg/m³ · π/4 · (0.1 m)² · 2 m · 9.80665 m/s² / 2.
    assert [r.y for r in found.reactions] == pytest.approx([604.6, 604.6], abs=0.05)
