"""Changeover plans: what is trapped decides, shared work is one record, no plan touches the other."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from halfbore.changeover import templates
from halfbore.changeover.plan import plan_changeover
from halfbore.changeover.seat_branches import ONE_PIECE_SEAT, SPLIT_SEAT, SeatState, seat_state
from halfbore.domain.economics import Changeover, Stop
from halfbore.domain.job import Job
from halfbore.domain.plan import ChangeoverPair, Hazard, PairDraws, Plan, Task
from halfbore.domain.position import Base, Failure, Lift, Mounting, Position, Room, Seat
from halfbore.errors import InputError
from halfbore.units import Span
from tests.changeover import cases

MACHINES = [cases.fan, cases.overhung_fan, cases.head_shaft, cases.line_shaft]
NOTHING = Span.of(0.0)


def plans(
    job: Job, position: Position, lift: float | None = 0.0, base_step: float = -10.0, seed: int = 3
) -> tuple[ChangeoverPair, PairDraws]:
    lifted = None if lift is None else cases.lifted(lift)
    return plan_changeover(job, position, cases.unit(), lifted, base_step, seed, draws=4000)


def names(plan: Plan) -> set[str]:
    return {time.task.name for time in plan.tasks}


def task(plan: Plan, name: str) -> Task:
    return next(time.task for time in plan.tasks if time.task.name == name)


@pytest.mark.parametrize(
    ("machine", "trap"),
    [
        (cases.fan, "Uncouple and pull the coupling hub"),
        (cases.overhung_fan, "Pull the wheel off the shaft"),
        (cases.head_shaft, "Pull the drive off the shaft"),
        (cases.line_shaft, "Pull the sheave"),
    ],
)
def test_only_the_one_piece_plan_takes_off_what_traps_the_bearing(machine, trap: str) -> None:
    pair, _ = plans(*machine())
    assert trap in names(pair.one_piece)
    assert trap not in names(pair.split_first) | names(pair.split_repeat)


def test_nothing_is_taken_off_where_nothing_traps() -> None:
    pair, _ = plans(*cases.fan(trapped=False))
    assert not [n for n in names(pair.one_piece) if "coupling" in n or "wheel" in n or "traps" in n]
    assert "Cut the old bearing off" not in names(pair.split_first)
    assert "Take the old bearing off the shaft" in names(pair.one_piece) & names(pair.split_first)


def test_a_trap_that_the_loads_do_not_show_is_still_a_trap() -> None:
    job, position = cases.fan(trapped=False)
    position = replace(position, trapped_between=("wheel", "holdback"))
    pair, _ = plans(replace(job, positions=(job.positions[0], position)), position)
    assert "Pull the part that traps the bearing" in names(pair.one_piece)


@pytest.mark.parametrize("machine", MACHINES)
@pytest.mark.parametrize("stop", Stop)
def test_shared_work_is_one_record_with_one_set_of_hours(machine, stop: Stop) -> None:
    job, position = machine()
    pair, _ = plans(cases.told(job, next_stop=stop), position)
    three = (pair.one_piece, pair.split_first, pair.split_repeat)
    shared = set.intersection(*(names(plan) for plan in three))
    assert {"Lock out and prove dead", "Hold the shaft and take the load off", "Put the guards on"} <= shared
    for name in shared:
        assert task(three[0], name) == task(three[1], name) == task(three[2], name)


@pytest.mark.parametrize("machine", MACHINES)
def test_every_task_name_is_known_so_that_its_luck_is_its_own(machine) -> None:
    pair, _ = plans(*machine(), base_step=np.nan)
    for plan in (pair.one_piece, pair.split_first, pair.split_repeat, pair.one_piece_seized):
        assert names(plan) <= set(templates.NAMES)
    assert len(set(templates.NAMES)) == len(templates.NAMES)


def test_no_number_of_the_split_plans_moves_with_a_one_piece_task() -> None:
    job, position = cases.fan()
    longer = cases.own_hours("Uncouple and pull the coupling hub", Span(5.0, 9.0, 30.0))
    plain, changed = plans(job, position), plans(cases.told(job, tasks=longer), position)
    assert plain[0].split_first == changed[0].split_first
    assert plain[0].split_repeat == changed[0].split_repeat
    for field in ("next", "planned", "failed", "seized"):
        old, new = (getattr(draws.split, field) for _, draws in (plain, changed))
        assert np.array_equal(old.outage, new.outage)
        assert np.array_equal(old.crew_hours, new.crew_hours)
    assert changed[0].one_piece.outage.p50 > plain[0].one_piece.outage.p50 + 3.0


def test_no_number_of_the_one_piece_plan_moves_with_a_split_task() -> None:
    job, position = cases.fan()
    longer = cases.own_hours("Fit the lower half and the ring halves", Span(5.0, 9.0, 30.0))
    plain, changed = plans(job, position), plans(cases.told(job, tasks=longer), position)
    assert plain[0].one_piece == changed[0].one_piece
    assert np.array_equal(plain[1].one_piece.next.outage, changed[1].one_piece.next.outage)


def test_what_two_plans_share_cancels_draw_by_draw() -> None:
    job, position = cases.fan()
    longer = cases.told(job, cooling=Span(6.0, 10.0, 20.0))
    (_, plain), (_, changed) = plans(job, position), plans(longer, position)
    difference = [d.one_piece.next.outage - d.split.next.outage for d in (plain, changed)]
    np.testing.assert_allclose(difference[0], difference[1], atol=1e-9)
    assert np.ptp(changed.split.next.outage) > np.ptp(plain.split.next.outage)


def test_seeds_repeat_and_differ() -> None:
    job, position = cases.head_shaft()
    once, again, other = (plans(job, position, seed=seed)[0] for seed in (5, 5, 6))
    assert once == again
    assert once != other


@pytest.mark.parametrize("machine", MACHINES)
def test_clocks_are_nested_and_in_order(machine) -> None:
    pair, draws = plans(*machine())
    for plan in (pair.one_piece, pair.split_first, pair.split_repeat, pair.one_piece_seized):
        for clock in (plan.exchange, plan.mechanical, plan.outage, plan.crew_hours):
            assert clock.p10 <= clock.p50 <= clock.p90
    for way in (draws.one_piece, draws.split):
        for change in (way.next, way.planned, way.failed, way.seized):
            assert np.all(change.exchange < change.mechanical)
            assert np.all(change.mechanical < change.outage)


def test_fixed_hours_add_up_as_by_hand() -> None:
    """All tasks 1 h, the waits 2, 3 and 4 h; the split repeat of a fan is a chain of tasks after the two waits."""
    job, position = cases.fan()
    hours = tuple(cases.own_hours(name, Span.of(1.0))[0] for name in templates.NAMES[3:])
    site = {
        "isolation_lead": Span.of(2.0),
        "cooling": Span.of(3.0),
        "run_up": Span.of(4.0),
        "tasks": tuple(
            h
            for h in hours
            if h.task not in ("Run up to product", "drive on the shaft", "condition of the seat")
        ),
    }
    pair, draws = plans(cases.told(job, **site), position)
    plan = pair.split_repeat
    # open, inspect, new halves, lower, tighten, close
    assert plan.exchange.p10 == plan.exchange.p90 == pytest.approx(6.0)
    # guards off, hold, the exchange, check, guards on
    assert plan.mechanical.p50 == pytest.approx(10.0)
    # the longer wait, lock out, mechanical, locks off, test run, run up
    assert plan.outage.p50 == pytest.approx(3.0 + 1.0 + 10.0 + 1.0 + 1.0 + 4.0)
    assert np.ptp(draws.split.planned.outage) == pytest.approx(0.0, abs=1e-9)
    # persons: lock out 2, guards 2, hold 3, exchange 2 2→1 2 3 2 2, check 2, guards 2, locks 2, test run 1
    assert plan.crew_hours.p50 == pytest.approx(2 + 2 + 3 + 2 + 1 + 2 + 2 + 2 + 3 + 2 + 2 + 2 + 1)


def test_critical_path_starts_at_the_stop_and_ends_at_product_on() -> None:
    pair, _ = plans(*cases.fan())
    path = pair.one_piece.critical_path
    assert path[0] == "Wait for the isolation"
    assert path[-1] == "Run up to product"
    assert "Align the coupling" in path
    for time in pair.one_piece.tasks:
        assert time.finish - time.start == pytest.approx(time.task.hours.likely)
        assert 0.0 <= time.critical_share <= 1.0
        assert (time.slack < 1e-9) == (time.task.name in path)


def test_sign_of_the_centre_height_decides_the_work_on_the_base() -> None:
    job, position = cases.fan()
    lower, higher, unknown = (plans(job, position, base_step=h)[0] for h in (-12.0, 20.0, np.nan))
    assert "Fit packing and set the base" in names(lower.split_first)
    assert "Mill the base down" in names(higher.split_first)
    assert "Set the base to a height not compared before" in names(unknown.split_first)
    assert any("20.0 mm above the old one: the base is milled" in note for note in higher.notes)
    assert higher.split_first.outage.p50 > lower.split_first.outage.p50 + 4.0
    assert lower.split_first.outage.p90 < unknown.split_first.outage.p90
    job, position = cases.fan(base=Base(drive_can_follow=True))
    assert "Raise the whole line, align the drive" in names(
        plans(job, position, base_step=20.0)[0].split_first
    )


@pytest.mark.parametrize("machine", [*MACHINES, lambda: cases.fan(trapped=False)])
@pytest.mark.parametrize("lift", [0.0, 80.0])
def test_alignment_is_always_checked(machine, lift: float) -> None:
    job, position = machine()
    position = replace(position, lift=Lift(allowed=Span.of(3.0)))
    pair, _ = plans(job, position, lift=lift)
    aligned = {
        "Check the alignment",
        "Align the coupling",
        "Align the sheaves",
        "Set the torque arm, align the drive",
    }
    for plan in (pair.one_piece, pair.split_first, pair.split_repeat):
        assert names(plan) & aligned


def test_cutting_needs_a_permit_or_takes_longer_cold() -> None:
    job, position = cases.fan()
    hot, cold = plans(job, position)[0], plans(cases.told(job, hot_work_allowed=False), position)[0]
    assert "Set up the hot-work permit, cover shaft and seals" in names(hot.split_first)
    assert Hazard.HOT_WORK in {e.hazard for e in hot.split_first.exposure}
    assert Hazard.HOT_WORK not in {e.hazard for e in cold.split_first.exposure}
    cold_cut = task(cold.split_first, "Split the old bearing without hot work")
    assert cold_cut.hours.likely > 1.5 * task(hot.split_first, "Cut the old bearing off").hours.likely


@pytest.mark.parametrize("mounting", [*Mounting, None])
@pytest.mark.parametrize("seized", [False, True])
def test_every_old_mounting_has_a_plan(mounting: Mounting | None, seized: bool) -> None:
    job, position = cases.fan(old_mounting=mounting, old_is_seized=seized)
    pair, _ = plans(job, position)
    assert pair.split_first.seized == seized
    assert not names(pair.split_repeat) & {
        "Cut the old bearing off",
        "Hold point: measure the bare seat and decide",
    }


def test_a_seizure_takes_longer_than_a_planned_stop() -> None:
    job, position = cases.head_shaft()
    planned = plans(job, position)[0]
    seized = plans(job, replace(position, old_is_seized=True))[0]
    assert "Find out what failed" in names(seized.one_piece)
    assert seized.one_piece == planned.one_piece_seized
    assert seized.one_piece.mechanical.p50 > planned.one_piece.mechanical.p50 + 4.0
    assert seized.split_first.stop is Stop.UNPLANNED


@pytest.mark.parametrize("branches", [*SPLIT_SEAT.values(), *ONE_PIECE_SEAT.values()])
def test_chances_of_a_hold_point_add_up(branches) -> None:
    assert sum(branch.chance for branch in branches) == pytest.approx(1.0)
    assert branches[0].hours == NOTHING


@pytest.mark.parametrize(
    ("diameter", "form", "limits", "state"),
    [
        (None, None, {}, SeatState.NOT_MEASURED),
        (Span(159.95, 159.96, 159.97), Span.of(0.01), {}, SeatState.NOT_MEASURED),
        (Span(159.95, 159.96, 159.97), None, {"seat_lower": -0.1, "seat_upper": 0.0}, SeatState.NOT_MEASURED),
        (Span(159.95, 159.96, 159.97), Span.of(0.01), "all", SeatState.GOOD),
        (Span(159.80, 159.96, 159.97), Span.of(0.01), "all", SeatState.POOR),
        (Span(159.95, 159.96, 160.03), Span.of(0.01), "all", SeatState.POOR),
        (Span(159.95, 159.96, 159.97), Span.of(0.05), "all", SeatState.POOR),
    ],
)
def test_seat_state_follows_the_survey_and_the_limits(diameter, form, limits, state: SeatState) -> None:
    limits = {"seat_lower": -0.1, "seat_upper": 0.0, "seat_form": 0.02} if limits == "all" else limits
    position = cases.position("A", 500.0, seat=Seat(diameter, form))
    assert seat_state(position, cases.unit(**limits)) is state


def test_a_seat_measured_good_narrows_the_tail() -> None:
    job, _ = cases.fan()
    limits = {"seat_lower": -0.1, "seat_upper": 0.0, "seat_form": 0.02}
    tails = []
    for seat in (Seat(Span.of(159.96), Span.of(0.01)), Seat(), Seat(Span.of(159.5), Span.of(0.01))):
        position = cases.position("A", 500.0, "coupling", "wheel", seat=seat)
        pair, _ = plan_changeover(job, position, cases.unit(**limits), cases.lifted(0.0), -10.0, 3, 4000)
        tails.append(pair.split_first.outage.p90)
    assert tails[0] + 2.0 < tails[1] < tails[2]


def test_a_bad_seat_is_bad_both_ways() -> None:
    _, draws = plans(*cases.fan())
    outages = draws.one_piece.next.outage, draws.split.next.outage
    worst = outages[0] > np.quantile(outages[0], 0.97)
    assert outages[1][worst].mean() > outages[1].mean() + 3.0


def test_drive_seized_on_the_shaft_is_a_tail_of_the_one_piece_plan_only() -> None:
    job, position = cases.head_shaft()
    pair, _ = plans(job, position)
    branches = task(pair.one_piece, "Pull the drive off the shaft").branches
    assert [branch.chance for branch in branches] == [0.85, 0.15]
    assert (branches[1].hours.low, branches[1].hours.high) == (4.0, 24.0)


def test_a_hired_crane_is_waited_for_where_there_is_no_hoist() -> None:
    job, position = cases.head_shaft()
    without = replace(position, room=Room(hoist=False))
    (_, hoist), (pair, crane) = plans(job, position), plans(job, without)
    assert "Wait for the crane" in names(pair.one_piece)
    assert crane.one_piece.next.hired_crane
    assert not hoist.one_piece.next.hired_crane
    assert not crane.split.next.hired_crane


def test_a_smaller_crew_takes_longer_and_a_bigger_shaft_too() -> None:
    job, position = cases.fan()
    one, three = (plans(cases.told(job, crew=crew), position)[0] for crew in (1, 3))
    assert one.one_piece.mechanical.p50 > 1.5 * three.one_piece.mechanical.p50
    assert max(time.task.persons for time in one.one_piece.tasks) == 1
    big = replace(job, shaft=replace(job.shaft, segments=(replace(job.shaft.segments[0], diameter=300.0),)))
    assert plans(big, position)[0].split_repeat.mechanical.p50 > 1.6 * three.split_repeat.mechanical.p50


def test_own_hours_of_one_plan_leave_the_others() -> None:
    job, position = cases.fan()
    own = cases.own_hours("Put the guards on", Span.of(7.0), "repeat")
    pair, _ = plans(cases.told(job, tasks=own), position)
    assert task(pair.split_repeat, "Put the guards on").hours == Span.of(7.0)
    assert task(pair.one_piece, "Put the guards on").hours != Span.of(7.0)
    # the guards in one plan; the waits of this job are the usual ones
    assert [plan.notes[0][:2] for plan in (pair.one_piece, pair.split_repeat)] == ["0 ", "1 "]


def test_the_usual_waits_are_no_hours_of_the_site() -> None:
    job, position = cases.fan()
    usual, _ = plans(replace(job, changeover=Changeover()), position)
    assert usual.one_piece.notes[0].startswith("0 of ")
    waited, _ = plans(replace(job, changeover=Changeover(run_up=Span(1.0, 2.0, 3.0))), position)
    assert waited.one_piece.notes[0].startswith("1 of ")


def test_unknown_task_and_plan_are_refused_with_the_nearest() -> None:
    job, position = cases.fan()
    own = (
        *cases.own_hours("Put the gaurds on", Span.of(1.0)),
        *cases.own_hours("Lower the shaft", NOTHING, "later"),
    )
    with pytest.raises(InputError) as refused:
        plans(cases.told(job, tasks=own), position)
    first, second = refused.value.problems
    assert (first.where, first.value) == ("changeover.tasks[0].task", "Put the gaurds on")
    assert "Put the guards on" in first.next_step
    assert second.where == "changeover.tasks[1].plan"
    assert "first conversion" in second.accepted


def test_the_claim_stands_beside_the_plan_and_is_no_input() -> None:
    pair, _ = plans(*cases.fan())
    assert "90 %" in pair.claim
    assert {cut.clock for cut in pair.shortening} == {"exchange", "mechanical", "outage"}
    for cut in pair.shortening:
        assert cut.repeat.p10 <= cut.repeat.p50 <= cut.repeat.p90 < 0.9


def test_recorded_stops_stand_in_the_notes() -> None:
    history = (Failure(date(2020, 1, 1), stop=31.0), Failure(date(2022, 1, 1), stop=24.0))
    job, position = cases.fan(history=history)
    assert any("24, 31 h" in note for note in plans(job, position)[0].notes)
