"""Order of the work and hazards of the plans as a rigger and a safety engineer read them; common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from halfbore.changeover import dangers
from halfbore.changeover.plan import plan_changeover
from halfbore.domain.job import Job
from halfbore.domain.machine import ElevatorDrum, ElevatorPlace, Site
from halfbore.domain.plan import ChangeoverPair, Hazard, Plan, Way
from halfbore.domain.position import Lift, Position
from halfbore.domain.shaftline import LiftResult
from halfbore.domain.unit import heaviest_part
from halfbore.present.plans import precaution
from halfbore.units import Span
from tests.changeover import cases

MACHINES = (cases.fan, cases.overhung_fan, cases.head_shaft, cases.line_shaft)
LOCK, UNLOCK, GUARDS = "Lock out and prove dead", "Take the locks off, hand back", "Put the guards on"
HOLD, LOWER = "Hold the shaft and take the load off", "Lower the shaft"


def pair(job: Job, position: Position, lift: LiftResult | None = None) -> ChangeoverPair:
    return plan_changeover(job, position, cases.unit(), lift, -10.0, seed=1, draws=200)[0]


def lifted_too_far(machine) -> ChangeoverPair:  # type: ignore[no-untyped-def]
    """Return the plans where the drive and the other bearing are opened."""
    job, position = machine()
    position = replace(position, lift=Lift(Span.of(1.0)))
    return pair(job, position, cases.lifted(30.0, B=0.05))


def plans(found: ChangeoverPair) -> tuple[Plan, ...]:
    return found.one_piece, found.split_first, found.split_repeat, found.one_piece_seized


def begins(plan: Plan) -> dict[str, float]:
    return {time.task.name: time.start for time in plan.tasks}


@pytest.mark.parametrize("machine", MACHINES)
def test_work_is_done_locked_out_and_nothing_turns_before_guards_are_on(machine) -> None:  # type: ignore[no-untyped-def]
    for plan in plans(lifted_too_far(machine)):
        begin = begins(plan)
        assert begin[LOCK] < begin["Take the guards off"] < begin[GUARDS] < begin[UNLOCK]
        for time in plan.tasks:
            if time.task.phase.value.startswith(("guards off", "from the old", "new bearing")):
                assert begin[LOCK] < time.start < begin[UNLOCK]
            if Hazard.ROTATING in time.task.hazards:
                assert time.start > begin[UNLOCK]


@pytest.mark.parametrize("machine", MACHINES)
def test_the_shaft_is_held_before_a_bearing_is_opened_and_down_before_it_is_closed(machine) -> None:  # type: ignore[no-untyped-def]
    opening = (
        "Open the old housing",
        "Open the other bearing",
        "Open the unit",
        "Cut the old",
        "Take the old bearing",
    )
    for plan in plans(lifted_too_far(machine)):
        begin = begins(plan)
        assert all(begin[HOLD] < start for name, start in begin.items() if name.startswith(opening))
        closing = [start for name, start in begin.items() if name.startswith("Grease and close")]
        assert closing and all(begin[LOWER] < start for start in closing)


def test_the_drive_hangs_in_slings_before_its_arm_is_freed_and_the_belt_is_slack_first() -> None:
    plan = lifted_too_far(cases.head_shaft).split_first
    begin = begins(plan)
    (arm,) = (time.task for time in plan.tasks if "free its arm" in time.task.name)
    assert Hazard.SUSPENDED_LOAD in arm.hazards and "slings" in arm.equipment
    assert begin["Hold the drum, slack the belt"] < begin[arm.name] < begin[HOLD]
    assert begin[GUARDS] < begin["Track the belt"]


def test_a_cut_with_hot_work_has_its_permit_in_every_plan() -> None:
    for machine in MACHINES:
        for plan in plans(pair(*machine())):
            begin = begins(plan)
            cuts = [time for time in plan.tasks if Hazard.HOT_WORK in time.task.hazards]
            permit = [start for name, start in begin.items() if name.startswith("Set up the hot-work permit")]
            assert len(cuts) == len(permit) and all(permit[0] < cut.start for cut in cuts)


def hazards(job: Job, position: Position) -> set[Hazard]:
    return {exposure.hazard for exposure in pair(job, position).split_first.exposure}


BELT = {Hazard.RUN_BACK, Hazard.TAKE_UP}


def test_parts_of_a_machine_add_their_hazards() -> None:
    assert hazards(*cases.head_shaft()) >= BELT
    assert Hazard.CONFINED not in hazards(*cases.head_shaft())
    assert Hazard.CONFINED in hazards(*cases.fan())
    assert not BELT & hazards(*cases.fan())
    job, _ = cases.head_shaft()
    drum = ElevatorDrum("head drum", x=650.0, mass=Span.of(900.0), diameter=1000.0, place=ElevatorPlace.HEAD)
    high = {*BELT, Hazard.CONFINED, Hazard.HEIGHT}
    assert high <= set(dangers.of(replace(job, loads=(drum,))))
    boot = replace(drum, place=ElevatorPlace.BOOT)
    assert set(dangers.of(replace(job, loads=(boot,)))) == high - {Hazard.HEIGHT}


def named(job: Job, name: str, **site: object) -> Job:
    return replace(job, title="", machine=replace(job.machine, name=name, site=Site(**site)))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("name", "site", "found"),
    [
        ("Grain elevator", {}, {Hazard.EXPLOSION}),
        ("Coal mill fan", {}, {Hazard.EXPLOSION}),
        ("Lime hydrator", {}, {Hazard.CAUSTIC}),
        ("Fan 7", {"special": ("caustic dust",)}, {Hazard.CAUSTIC}),
        ("Fan 7", {"explosive_zone": "22"}, {Hazard.EXPLOSION}),
        ("Fan 7", {"explosive_zone": "None"}, set()),
        ("Limestone conveyor", {}, set()),
        ("Silo 3", {}, {Hazard.CONFINED}),
    ],
)
def test_what_machine_and_site_hold_adds_its_hazards(
    name: str, site: dict[str, object], found: set[Hazard]
) -> None:
    job, position = cases.line_shaft()
    told = {Hazard.EXPLOSION, Hazard.CAUSTIC, Hazard.CONFINED}
    assert hazards(named(job, name, **site), position) & told == found


def test_hot_machines_and_hot_work_among_explosive_dust_are_told() -> None:
    job, position = cases.line_shaft()
    hot = named(job, "Line", ambient=Span(20.0, 60.0, 70.0))
    warm = cases.told(hot, cooling=Span(1.0, 2.0, 3.0))
    assert Hazard.HOT_SURFACE in hazards(hot, position) and Hazard.HOT_SURFACE not in hazards(job, position)
    assert any("no cooling-down time" in note for note in pair(hot, position).notes)
    assert not any("no cooling-down time" in note for note in pair(warm, position).notes)
    coal = named(job, "Coal line")
    cold = cases.told(coal, hot_work_allowed=False)
    assert any("hot work is planned where" in note for note in pair(coal, position).notes)
    assert not any("hot work is planned where" in note for note in pair(cold, position).notes)


def test_a_hazard_is_not_counted_twice() -> None:
    job, position = cases.fan()
    plan = pair(job, position).one_piece
    assert plan.way is Way.ONE_PIECE
    assert all(len(set(t.task.hazards)) == len(t.task.hazards) for t in plan.tasks)


def test_a_coupling_is_aligned_before_it_is_closed() -> None:
    found = lifted_too_far(cases.fan)
    starts = begins(found.split_first)
    assert starts["Align the coupling"] < starts["Close the coupling"]


FOLLOWS = (
    ("Heat and refit the coupling hub", "Align the coupling"),
    ("Align the coupling", "Close the coupling"),
    ("Refit the sheave", "Align the sheaves"),
    ("Align the sheaves", "Tension the drive belts"),
    ("Check the alignment", "Tension the drive belts"),
    ("Set the torque arm, align the drive", "Tension the belt, take the clamps off"),
    ("Tension the belt, take the clamps off", "Track the belt"),
)
"""What cannot be done the other way round: a part is on before it is aligned, aligned before it is loaded."""


@pytest.mark.parametrize("machine", MACHINES)
def test_a_drive_is_aligned_once_it_is_on_and_before_it_is_loaded(machine) -> None:  # type: ignore[no-untyped-def]
    met = 0
    for trapped in (lifted_too_far(machine), pair(*machine())):
        for plan in plans(trapped):
            begin = begins(plan)
            pairs = [(begin[a], begin[b]) for a, b in FOLLOWS if a in begin and b in begin]
            met += len(pairs)
            assert all(earlier < later for earlier, later in pairs)
    assert met


def test_what_can_be_carried_needs_no_lifting_gear() -> None:
    light, heavy = (
        replace(cases.unit(), heaviest_half=np.array([m]), support_mass=np.array([9.0])) for m in (9.98, 33.0)
    )
    assert precaution(Hazard.HANDLING, heavy) == "lifting gear for up to 33.0\u00a0kg"
    assert precaution(Hazard.HANDLING, light).startswith(
        "up to 9.98\u00a0kg of the new unit: by hand where the site"
    )
    assert precaution(Hazard.HANDLING, None) == "lifting gear"
    assert precaution(Hazard.ROTATING, heavy) == "guards on before it turns"


def test_the_support_counts_among_the_parts_that_are_lifted() -> None:
    unit = replace(cases.unit(), heaviest_half=np.array([22.8]), support_mass=np.array([33.0]))
    assert heaviest_part(unit) == 33.0
    assert heaviest_part(replace(unit, support_mass=np.array([np.nan]))) == 22.8
    job, position = cases.fan()
    notes = plan_changeover(job, position, unit, None, -10.0, seed=1, draws=200)[0].notes
    assert any("The heaviest part weighs 33" in note for note in notes)
