"""Elevator drums, paddles, screws, tail drums and jackshafts: signs, sums, and what must agree."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.domain.shaftline import ShaftResponse
from halfbore.errors import InputError
from halfbore.intake.explain import explained
from halfbore.intake.jobfile import read_job_data, read_job_text
from halfbore.shaftline import solve
from halfbore.shaftline.balance import balances
from halfbore.shaftline.lift import lift_at
from halfbore.shaftline.loads import applied_loads
from halfbore.shaftline.respond import respond
from tests.samples_jobs import simple

G = 9.80665
OWN = 7850e-9 * np.pi / 4 * 100**2 * 2000 * G
"""Weight of the simple shaft of 100 mm and 2 m [N]."""

HEAD = {
    "kind": "elevator drum",
    "name": "head drum",
    "x": "1000 mm",
    "mass": "1100 kg",
    "diameter": "800 mm",
    "lift": "30 m",
    "belt_and_buckets": "60 kg/m",
    "capacity": "150 t/h",
    "boot_diameter": "600 mm",
    "digging": 10,
    "take_up": "12 kN",
}
BOOT = {
    "kind": "elevator drum",
    "name": "boot drum",
    "x": "1000 mm",
    "mass": "480 kg",
    "diameter": "600 mm",
    "place": "boot",
    "take_up": "12 kN",
}
PADDLES = {
    "kind": "paddles",
    "name": "paddles",
    "x": "1000 mm",
    "mass": "400 kg",
    "length": "600 mm",
    "push": "9 kN",
    "push_direction": "right",
}
SCREW = {
    "kind": "screw flight",
    "name": "flight",
    "x": "1000 mm",
    "mass": "300 kg",
    "length": "900 mm",
    "thrust": "20 kN",
    "thrust_towards": "drive end",
}
TAIL = {
    "kind": "drum",
    "name": "tail drum",
    "x": "1000 mm",
    "mass": "420 kg",
    "diameter": "500 mm",
    "take_up": "19 kN",
    "tight_direction": "right",
}
EVERY = (HEAD, BOOT, PADDLES, SCREW, TAIL)


def job(*loads: dict[str, Any], **changes: Any) -> dict[str, Any]:
    return simple(loads=[dict(load) for load in loads], **changes)


def solved(*loads: dict[str, Any], **changes: Any) -> ShaftResponse:
    return respond(read_job_data(job(*loads, **changes)).job)


def without(load: dict[str, Any], *names: str) -> dict[str, Any]:
    return {name: value for name, value in load.items() if name not in names}


def test_an_elevator_head_carries_both_strands_downwards() -> None:
    found = solved(HEAD)
    v = np.pi * 0.8 * 300 / 60
    load = 150 / 3.6 / v
    hanging, lifted = 2 * 60 * 30 * G, load * (30 + 6) * G
    total = 1100 * G + hanging + lifted + 12e3 + OWN
    for r in found.reactions:
        assert (r.y, r.z) == pytest.approx((total / 2, 0.0), abs=1e-6)


def test_an_elevator_boot_is_pulled_up_and_its_weight_is_down() -> None:
    found = solved(BOOT)
    assert found.reactions[0].y == pytest.approx((480 * G + OWN - 12e3) / 2)
    assert found.reactions[0].y < 0
    # The load on the bearing points up: the bearing holds the shaft down.
    assert found.duties[0].angle[0] == pytest.approx(0.0)


def test_at_standstill_the_belt_of_an_elevator_still_hangs_on_its_head() -> None:
    reading = read_job_data(job(HEAD)).job
    found = respond(reading)
    held = lift_at(reading, found.loads, "A", 0.0)
    # A jack 200 mm towards the middle from A at 500, bearing B at 1500: weights act at 1000.
    assert held.force == pytest.approx((1100 * G + 2 * 60 * 30 * G + OWN) * 500 / 800)


def head_shaft(**changes: Any) -> dict[str, Any]:
    """Return a head shaft with a gear unit beside A and strands given as measured: what hangs is in the falling one."""
    parts = [
        {"kind": "point load", "name": "gear unit", "x": "220 mm", "mass": "950 kg"},
        without(HEAD, "lift", "belt_and_buckets", "capacity", "boot_diameter", "digging")
        | {"x": "1350 mm", "tight_strand": "55 kN", "slack_strand": "31 kN", "hub_spacing": "700 mm"}
        | changes,
    ]
    places = (("A", 700, 860), ("B", 2000, 1860))
    return simple(
        loads=parts,
        shaft={
            "segments": [
                {"length": "850 mm", "diameter": "6 15/16 in"},
                {"length": "1000 mm", "diameter": "200 mm"},
                {"length": "350 mm", "diameter": "6 15/16 in"},
            ]
        },
        positions=[
            {"name": n, "x": f"{x} mm", "role": "non-locating", "lift": {"jack_x": f"{j} mm"}}
            for n, x, j in places
        ],
    )


@pytest.mark.parametrize(("at", "by_hand"), [("A", 52.8e3), ("B", 31.9e3)])
def test_the_belt_hangs_on_a_jack_where_strands_are_given(at: str, by_hand: float) -> None:
    """Moments by hand about the bearing that stays: 2·(31 kN − 12 kN/2) hang at 1350 mm, gear unit, drum, own weight."""
    reading = read_job_data(head_shaft()).job
    held = lift_at(reading, respond(reading).loads, at, 0.0)
    assert held.force == pytest.approx(by_hand, abs=60.0)
    assert "belt and buckets hang on the shaft with 50 kN" in held.holding
    # The take-up pulls at 1350 mm as well until it is slackened.
    jack, stays = (860, 2000) if at == "A" else (1860, 700)
    (on,) = held.others
    assert on.force - held.force == pytest.approx(12e3 * abs(1350 - stays) / abs(jack - stays))
    assert "the take-up stays loaded after lock-out" in held.holding


def test_a_take_up_that_nobody_named_stands_in_the_belt_that_hangs() -> None:
    reading = read_job_data(head_shaft(take_up="0 N")).job
    held = lift_at(reading, respond(reading).loads, "B", 0.0)
    assert held.force == pytest.approx(31.9e3 + 12e3 * 650 / 1160, abs=60.0)
    assert held.others == ()
    assert "with 62 kN, the pull of a take-up in it, as none was named" in held.holding


def test_a_take_up_at_the_boot_pushes_the_shaft_up_until_it_is_slackened() -> None:
    reading = read_job_data(job(BOOT)).job
    held = lift_at(reading, respond(reading).loads, "A", 0.0)
    assert held.force == pytest.approx((480 * G + OWN) * 500 / 800)
    (on,) = held.others
    assert on.force == pytest.approx((480 * G + OWN - 12e3) * 500 / 800)
    assert on.force < 0
    assert "of hold-down; the take-up stays loaded after lock-out" in held.holding


def test_a_driving_drum_is_lifted_with_its_belt_slack_and_says_so() -> None:
    drum = without(TAIL, "take_up") | {"tight_strand": "30 kN", "slack_strand": "15 kN"}
    reading = read_job_data(job(drum)).job
    held = lift_at(reading, respond(reading).loads, "A", 0.0)
    assert held.force == pytest.approx((420 * G + OWN) * 500 / 800)
    assert "the belt is taken as slack: its take-up stays loaded after lock-out" in held.holding


def test_given_strands_pull_as_they_are() -> None:
    given_ = without(HEAD, "lift", "belt_and_buckets", "capacity", "boot_diameter", "digging", "take_up")
    found = solved(given_ | {"tight_strand": "50 kN", "slack_strand": "36 kN"})
    assert found.reactions[0].y == pytest.approx((86e3 + 1100 * G + OWN) / 2)


@pytest.mark.parametrize("part", [PADDLES, SCREW])
def test_a_spread_weight_bends_as_a_spread_load_does(part: dict[str, Any]) -> None:
    # Uniform load W over c in the middle of a span l: moment there W·l/4 − W·c/8, without the own weight's part.
    found, c = solved(part), float(part["length"].split()[0])
    w, own = float(part["mass"].split()[0]) * G, OWN / 2000
    level = 9e3 if part is PADDLES else 0.0
    up = w * (1000 / 4 - c / 8) + own * (1000**2 / 8 - 500**2 / 2)
    side = level * (1000 / 4 - c / 8)
    middle = float(np.interp(1000.0, found.curves[0].x, found.curves[0].moment))
    assert middle == pytest.approx(np.hypot(up, side), rel=1e-9)


def test_a_spread_load_sags_less_than_one_at_a_place() -> None:
    spread = solved(PADDLES | {"length": "999.9 mm"})
    point = solved(
        {
            "kind": "point load",
            "name": "p",
            "x": "1000 mm",
            "mass": "400 kg",
            "force": "9 kN",
            "direction": "right",
        }
    )
    at = [np.interp(1000.0, f.curves[0].x, f.curves[0].deflection_z) for f in (spread, point)]
    # 5 W l³/384 EI against W l³/48 EI.
    assert at[0] / at[1] == pytest.approx(5 * 48 / 384, rel=1e-3)


def test_paddles_by_power_push_with_their_torque_over_its_lever() -> None:
    part = without(PADDLES, "push") | {"power": "30 kW", "diameter": "1200 mm", "one_sided": "75 %"}
    found = solved(part)
    push = next(x for x in found.loads if x.name == "push of the bed at paddles")
    torque = 30e3 / (2 * np.pi * 300 / 60)
    wanted = [0.75 * torque / (lever * 0.6) for lever in (0.8, 0.7, 0.6)]
    assert push.force_z[0] == pytest.approx(wanted)
    assert str(push.source.status) == "common practice, no source"


def test_a_screw_pushes_the_shaft_towards_its_end_and_gravity_towards_the_lower_one() -> None:
    made = job(SCREW)
    made["shaft"]["inclination"] = "12 deg"
    found = respond(read_job_data(made).job)
    down = (300 * G + OWN) * np.sin(np.radians(12))
    assert found.reactions[0].axial == pytest.approx(20e3 + down)
    assert found.reactions[0].y == pytest.approx((300 * G + OWN) / 2 * np.cos(np.radians(12)))


def test_a_screw_by_power_is_bounded_by_the_work_of_a_turn() -> None:
    found = solved(without(SCREW, "thrust") | {"power": "15 kW", "pitch": "250 mm"})
    thrust = next(x for x in found.loads if x.name == "thrust of flight")
    # 300 r/min are 5 turns a second, 1.25 m/s along: 15 kW over that is 12 kN.
    assert thrust.axial[0] == pytest.approx([-12e3, -0.65 * 12e3, -0.5 * 12e3])


def test_a_tail_drum_shares_its_take_up_and_asks_for_no_torque() -> None:
    found = solved(TAIL)
    for r in found.reactions:
        assert r.z == pytest.approx(-19e3 / 2)
    strands = [x for x in found.loads if "strand" in x.name]
    assert [x.force_z[0, 1] for x in strands] == [9500.0, 9500.0]
    assert found.notes == ()


SHEAVE = {"kind": "sheave", "mass": "0 kg", "diameter": "1000 mm", "direction": "right"}


def jackshaft(driving: str, driven: str, **of_driven: Any) -> ShaftResponse:
    return solved(
        SHEAVE | {"name": "flywheel sheave", "x": "100 mm", "power": driving, "pull": "22 kN"},
        SHEAVE
        | {"name": "driven sheave", "x": "1900 mm", "power": driven, "pull": "26 kN", "direction": "left"}
        | of_driven,
        duty=[{"name": "crush", "share": 1.0, "speed": "590 r/min", "load_factor": "1.3 to 1.6"}],
    )


def test_a_jackshaft_carries_both_pulls_beyond_its_bearings_with_the_shock() -> None:
    found = jackshaft("110 kW", "110 kW")
    # Likely factor 1.45: pulls at 100 and 1900, bearings at 500 and 1500; moments about A.
    right, left = 1.45 * 22e3, -1.45 * 26e3
    b = -(right * -400 + left * 1400) / 1000
    assert found.reactions[1].z == pytest.approx(b)
    assert found.reactions[0].z == pytest.approx(-right - left - b)
    assert found.reactions[1].high > found.reactions[1].low
    assert found.notes == ()


def test_powers_in_and_out_of_a_jackshaft_must_agree() -> None:
    (note,) = jackshaft("110 kW", "75 kW").notes
    assert "flywheel sheave transmits 110 kW and the other sheaves together 75 kW" in note


def test_a_pull_below_the_effective_pull_is_said() -> None:
    (note,) = jackshaft("110 kW", "110 kW", pull="3 kN").notes
    assert note.startswith("The belt of driven sheave needs an effective pull of 3.56 kN")


DRIVE = {
    "kind": "shaft-mounted drive",
    "name": "gear unit",
    "x": "100 mm",
    "mass": "300 kg",
    "arm_direction": "up",
    "arm_force": "10 kN",
    "arm_reach": "500 mm",
}


@pytest.mark.parametrize(
    ("part", "asks"),
    [
        (HEAD, "The belt asks for 0."),
        (
            without(PADDLES, "push") | {"power": "15 kW", "diameter": "1200 mm"},
            "What is driven asks for 0.477",
        ),
        (without(SCREW, "thrust") | {"power": "15 kW", "pitch": "250 mm"}, "What is driven asks for 0.477"),
        (TAIL, "The belt asks for 0 kN·m"),
    ],
)
def test_the_torque_of_what_is_driven_must_be_that_of_the_arm(part: dict[str, Any], asks: str) -> None:
    (note,) = solved(part, DRIVE).notes
    assert note.startswith(asks), note
    assert "the torque arm shows 5 kN·m" in note


def test_a_part_whose_torque_nobody_gave_is_not_held_against_the_arm() -> None:
    assert solved(PADDLES, DRIVE).notes == ()


@pytest.mark.parametrize("part", EVERY, ids=lambda p: p["name"])
@given(
    x=st.floats(300.0, 1700.0).map(lambda v: round(v, 4)),
    more=st.floats(0.0, 3.0).map(lambda v: round(v, 3)),
)
def test_every_part_balances(part: dict[str, Any], x: float, more: float) -> None:
    reach = float(part.get("length", "0 mm").split()[0]) / 2
    placed = part | {"x": f"{min(max(x, reach), 2000 - reach)} mm"}
    duty = [{"name": "run", "share": 1.0, "speed": "300 r/min", "load_factor": more}]
    made = read_job_data(job(placed, duty=duty)).job
    loads = applied_loads(made)
    both = solve.likely_case(made, loads, solve.line_of(made, loads), solve.rigidly(made))
    (left,) = balances(made, loads, *both)
    acting = sum(float(np.hypot(load.force_y, load.force_z)[0, 1]) for load in loads) + OWN
    assert left.force <= 1e-9 * acting
    assert left.moment <= 1e-9 * acting * 2000


@pytest.mark.parametrize("part", EVERY, ids=lambda p: p["name"])
def test_a_part_on_the_other_side_is_mirrored(part: dict[str, Any]) -> None:
    left, right = solved(part | {"x": "700 mm"}), solved(part | {"x": "1300 mm"})
    for a, b in zip(left.reactions, reversed(right.reactions), strict=True):
        assert (a.y, a.z) == pytest.approx((b.y, b.z), rel=1e-9)
        assert (a.low, a.high) == pytest.approx((b.low, b.high), rel=1e-9)


DOUBLED = [
    (
        without(HEAD, "lift", "belt_and_buckets", "capacity", "boot_diameter", "digging", "take_up"),
        "tight_strand",
    ),
    (BOOT, "take_up"),
    (PADDLES, "push"),
    (SCREW, "thrust"),
    (TAIL, "take_up"),
]


@pytest.mark.parametrize(("part", "name"), DOUBLED, ids=[p["name"] for p, _ in DOUBLED])
def test_twice_the_process_load_is_twice_what_it_adds(part: dict[str, Any], name: str) -> None:
    other = {"slack_strand": "0 N"} if name == "tight_strand" else {}
    none, one, two = (solved(part | other | {name: f"{kn} kN"}) for kn in (0, 10, 20))
    for a, b, c in zip(none.reactions, one.reactions, two.reactions, strict=True):
        assert c.y - a.y == pytest.approx(2 * (b.y - a.y), rel=1e-9, abs=1e-6)
        assert c.z - a.z == pytest.approx(2 * (b.z - a.z), rel=1e-9, abs=1e-6)
        assert c.axial - a.axial == pytest.approx(2 * (b.axial - a.axial), rel=1e-9, abs=1e-6)
    assert any(
        abs(b.y - a.y) + abs(b.z - a.z) + abs(b.axial - a.axial) > 1
        for a, b in zip(none.reactions, one.reactions, strict=True)
    )


def test_nothing_on_the_belt_leaves_weights() -> None:
    empty = HEAD | {"capacity": "0 t/h", "take_up": "0 N", "belt_and_buckets": "0.1 kg/m"}
    total = 1100 * G + 2 * 0.1 * 30 * G + OWN
    assert solved(empty).reactions[0].y == pytest.approx(total / 2)


REFUSED = [
    (without(HEAD, "lift"), "neither strands nor what hangs on the head is given"),
    (without(HEAD, "belt_and_buckets"), "neither strands nor what hangs on the head is given"),
    (HEAD | {"tight_strand": "50 kN"}, "one strand is given"),
    (HEAD | {"tight_strand": "50 kN", "slack_strand": "30 kN"}, "what they are built up from are both given"),
    (BOOT | {"tight_strand": "50 kN"}, "say nothing of the boot"),
    (without(PADDLES, "push"), "neither push nor power is given"),
    (without(PADDLES, "push") | {"power": "15 kW"}, "power without the diameter gives no push"),
    (without(SCREW, "thrust"), "neither thrust nor power is given"),
    (without(SCREW, "thrust") | {"power": "15 kW"}, "power without the pitch gives no thrust"),
    (without(SCREW, "thrust_towards"), "the thrust has no direction"),
    (
        without(SCREW, "thrust", "thrust_towards") | {"power": "15 kW", "pitch": "250 mm"},
        "the thrust has no direction",
    ),
    (SCREW | {"length": "2100 mm"}, "lies beyond the end of the shaft"),
    (PADDLES | {"x": "1800 mm"}, "lies beyond the end of the shaft"),
    (TAIL | {"power": "5 kW"}, "a take-up and strands or power are given for one drum"),
    (TAIL | {"tight_strand": "9 kN", "slack_strand": "9 kN"}, "a take-up and strands or power are given"),
    (TAIL | {"wrap": "200 deg"}, "on which side the second strand leaves"),
    (without(TAIL, "take_up"), "neither strands nor power nor a take-up are given"),
]


@pytest.mark.parametrize(("part", "told"), REFUSED)
def test_a_load_that_leaves_its_force_open_is_refused(part: dict[str, Any], told: str) -> None:
    with pytest.raises(InputError, match=told):
        read_job_data(job(part))


def test_a_capacity_without_a_speed_is_refused() -> None:
    with pytest.raises(InputError, match="a capacity without a speed"):
        read_job_data(job(HEAD, duty=[{"name": "stand", "share": 1.0, "speed": "0 r/min"}]))


def test_a_boot_that_is_called_a_head_is_refused() -> None:
    made = job(HEAD)
    made["machine"]["kind"] = "elevator boot"
    with pytest.raises(InputError, match="the drum is not that of the machine kind"):
        read_job_data(made)


def test_a_screw_without_thrust_needs_no_direction() -> None:
    found = solved(without(SCREW, "thrust_towards") | {"thrust": "0 N"})
    assert found.reactions[0].axial == pytest.approx(0.0, abs=1e-9)


ASKED = [
    ("screw", PADDLES, "machine.kind", "a screw flight"),
    ("jackshaft", SHEAVE | {"name": "s", "x": "100 mm", "pull": "1 kN"}, "machine.kind", "two sheaves"),
    ("elevator boot", without(BOOT, "take_up"), "loads[0].take_up", "no take-up is named"),
    ("elevator head", without(HEAD, "capacity"), "loads[0].capacity", "run empty"),
    ("paddle shaft", PADDLES | {"length": "1100 mm"}, "positions[0].x", "paddles stands across this place"),
    (
        "fan",
        {"kind": "fan wheel", "name": "w", "x": "1000 mm", "mass": "10 kg", "hot_length": "1200 mm"},
        "loads[0].hot_length",
        "inside the hot casing",
    ),
    (
        "fan",
        {"kind": "fan wheel", "name": "w", "x": "1000 mm", "mass": "10 kg", "hot_length": "200 mm"},
        "loads[0].hot_length",
        "how hot is the gas",
    ),
]


@pytest.mark.parametrize(("kind", "part", "path", "words"), ASKED)
def test_what_looks_odd_is_asked(kind: str, part: dict[str, Any], path: str, words: str) -> None:
    made = job(part)
    made["machine"]["kind"] = kind
    questions = read_job_data(made).questions
    assert any(q.path == path and words in q.text for q in questions), questions


@pytest.mark.parametrize("part", EVERY, ids=lambda p: p["name"])
def test_an_explained_job_is_the_same_job(part: dict[str, Any]) -> None:
    reading = read_job_data(job(part))
    assert read_job_text(explained(reading)).job == reading.job
