"""What the lift of the shaft opens: in the notes and in the hours alike."""

from __future__ import annotations

from dataclasses import replace

import pytest

from halfbore.changeover.plan import plan_changeover
from halfbore.domain.job import Job
from halfbore.domain.machine import PointLoad
from halfbore.domain.plan import ChangeoverPair, Plan
from halfbore.domain.position import Lift, Position
from halfbore.domain.shaftline import LiftResult, Neighbour
from halfbore.units import Span
from tests.changeover import cases

THREE = Lift(allowed=Span(2.5, 3.0, 4.0), limited_by="wheel to cone")


def pair(job: Job, position: Position, lift: LiftResult | None) -> ChangeoverPair:
    return plan_changeover(job, position, cases.unit(), lift, -10.0, 3, draws=4000)[0]


def names(plan: Plan) -> set[str]:
    return {time.task.name for time in plan.tasks}


def test_lift_needed_over_lift_allowed_opens_coupling_and_casing() -> None:
    job, position = cases.fan(lift=THREE)
    under, over = (pair(job, position, cases.lifted(lift)) for lift in (2.0, 60.0))
    opened = {
        "Open the coupling to lift the shaft",
        "Close the coupling",
        "Align the coupling",
        "Open the fan casing",
        "Close the fan casing, set the gap to the wheel",
    }
    assert not names(under.split_first) & opened
    assert opened <= names(over.split_first)
    assert over.split_first.mechanical.p50 > under.split_first.mechanical.p50 + 2.0
    assert over.split_repeat == under.split_repeat
    assert any("60.0 mm" in note and "wheel to cone" in note for note in over.notes)
    for compared in (under, over):
        assert not any("not compared with lift allowed" in note for note in compared.notes)
    assert any("not compared with lift allowed" in note for note in pair(job, position, None).notes)


@pytest.mark.parametrize("words", ["", "coupling", "Wheel to inlet cone", "belt tension"])
def test_the_words_of_what_limits_the_lift_decide_nothing(words: str) -> None:
    given, told = (
        pair(*cases.fan(lift=replace(THREE, limited_by=by)), cases.lifted(40.0)) for by in ("", words)
    )
    assert given.split_first == told.split_first


@pytest.mark.parametrize(
    ("machine", "task", "words"),
    [
        (cases.fan, "Open the fan casing", "the casing is opened; the coupling is opened and aligned again"),
        (
            cases.head_shaft,
            "Sling the drive, free its arm to lift the shaft",
            "the torque arm is freed and set again",
        ),
        (cases.head_shaft, "Hold the drum, slack the belt", "the belt on the drum is slack"),
        (cases.line_shaft, "Slack the drive belts", "the drive belts are slack"),
    ],
)
def test_what_the_note_says_is_opened_has_hours_in_the_plan(machine, task: str, words: str) -> None:
    job, position = machine()
    found = pair(job, replace(position, lift=THREE), cases.lifted(40.0))
    assert task in names(found.split_first)
    assert any(words in note for note in found.notes)
    assert not any("no hours" in note for note in found.notes)


def test_a_drive_that_nobody_named_has_no_hours_and_the_note_says_where_they_go() -> None:
    job, position = cases.line_shaft()
    job = replace(job, loads=(PointLoad("rotor", 2000.0),))
    position = replace(position, lift=THREE)
    found = pair(job, position, cases.lifted(40.0))
    (note,) = (n for n in found.notes if "no hours to free it" in n)
    task = "Hold the shaft and take the load off"
    assert f"'{task}' of the first conversion" in note
    assert "[[" not in note
    own = cases.told(job, tasks=cases.own_hours(task, Span.of(5.0), "first conversion"))
    longer = pair(own, position, cases.lifted(40.0))
    assert longer.split_first.mechanical.p50 > found.split_first.mechanical.p50 + 3.0


def test_a_coupling_and_a_shaft_drive_are_both_set_again() -> None:
    job, position = cases.head_shaft()
    job = replace(job, loads=(*job.loads, cases.COUPLING))
    opened = names(pair(job, replace(position, lift=THREE), cases.lifted(40.0)).split_first)
    assert {"Align the coupling", "Set the torque arm, align the drive"} <= opened


OTHER = {"Open the other bearing to let the shaft turn", "Close the other bearing"}


@pytest.mark.parametrize(("slope", "opens"), [(0.0, False), (0.026, False), (0.027, True), (-0.04, True)])
def test_a_tilt_past_a_degree_and_a_half_opens_the_other_bearing(slope: float, opens: bool) -> None:
    """1.5° is common practice without a source."""
    found = pair(*cases.fan(), cases.lifted(2.0, B=slope))
    assert (names(found.split_first) >= OTHER) == opens
    assert not (names(found.split_repeat) | names(found.one_piece)) & OTHER
    assert any("at B, over 1.5°" in note for note in found.notes) == opens


HOLD_OFF = "Take the hold-down off"
HOLD = "Hold the shaft down at the bearing that stays closed"


@pytest.mark.parametrize("slope", [0.0, 0.03])
def test_a_bearing_that_holds_the_shaft_down_stays_closed_and_a_hold_down_is_set_first(slope: float) -> None:
    state = replace(cases.lifted(2.0), neighbours=(Neighbour("B", -3e3, slope, least=-3861.0),))
    found = pair(*cases.fan(), state)
    for plan in (found.one_piece, found.split_first, found.split_repeat):
        order = [time.task.name for time in plan.tasks]
        assert order.index(HOLD) < order.index("Hold the shaft and take the load off")
        assert order.index("Lower the shaft") < order.index(HOLD_OFF) < order.index("Put the guards on")
        assert not set(order) & OTHER
    (caution,) = (note for note in found.notes if note.startswith("Caution:"))
    assert "B holds the shaft down with up to 3.86 kN: it stays closed" in caution
    assert not any("opened too" in note for note in found.notes)
    assert any("only when the hold-down carries that force" in n for n in found.notes) == (slope > 0)


def test_two_tilted_bearings_take_twice_the_hours() -> None:
    job, position = cases.line_shaft()
    hours = [
        {t.task.name: t.task.hours.likely for t in pair(job, position, lift).split_first.tasks}
        for lift in (cases.lifted(2.0, A=0.03), cases.lifted(2.0, A=0.03, B=-0.03))
    ]
    for name in OTHER:
        assert hours[1][name] == pytest.approx(2.0 * hours[0][name])
