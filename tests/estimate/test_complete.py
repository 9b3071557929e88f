"""Each rule against a sum worked by hand; nothing is guessed in silence, nothing that was typed is touched."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest

from halfbore.domain.estimate import Estimate
from halfbore.errors import InputError
from halfbore.estimate.complete import completed
from halfbore.estimate.measured import measured
from halfbore.estimate.reading import read_completed
from halfbore.intake.explain import explained
from halfbore.intake.jobfile import read_job_data
from halfbore.shaftline.widen import respond_over
from halfbore.sources import Status
from halfbore.units import Kind, Span
from tests.estimate.machines import MACHINES

ROUNDED = 1e-2
"""Estimates are written with three digits, their ends rounded outwards."""
JOBS = sorted((Path(__file__).parents[2] / "src" / "halfbore" / "demo" / "jobs").glob("*.toml"))


def by_path(data: dict[str, Any]) -> dict[str, Estimate]:
    return {e.path: e for e in completed(data).estimates}


def span(data: dict[str, Any], path: str) -> Span:
    found = by_path(data)[path].span
    assert found is not None
    return found


def ends(found: Span) -> tuple[float, float, float]:
    return found.low, found.likely, found.high


def head(**typed: Any) -> dict[str, Any]:
    """Return a head shaft of 55 kW at 62 r/min: 8471 N·m, with what was measured of it."""
    data = MACHINES["C1"].data("C1")
    for path, value in typed.items():
        data = measured(data, PATHS[path], value)
    return data


PATHS = {
    "shaft": "shaft.segments[0].diameter",
    "reach": "loads[gear unit].arm_reach",
    "drum": "loads[head drum].diameter",
}


def gear_and_drum(**typed: Any) -> dict[str, Any]:
    parts = [{"kind": "shaft-mounted drive", "name": "gear unit"}, {"kind": "drum", "name": "head drum"}]
    data = measured(MACHINES["C1"].data("C1"), "loads", parts)
    for path, value in typed.items():
        data = measured(data, PATHS[path], value)
    return data


def test_the_shaft_turns_at_motor_speed_over_ratio() -> None:
    assert span(head(), "duty[running].speed").likely == pytest.approx(1488 / 24)


def test_a_head_drum_of_55_kw_at_62_turns() -> None:
    torque = 55e3 / (2 * math.pi * 62 / 60)  # 8471 N·m
    assert ends(span(head(), "loads[head drum].mass")) == pytest.approx(
        (0.03 * torque, 0.09 * torque, 0.3 * torque), rel=ROUNDED
    )
    stress = (5, 12, 30)  # MPa: d³ = 16·M/(π·τ), the likely size one of the bearing bores
    low, high = ((16e3 * torque / (math.pi * s)) ** (1 / 3) for s in (stress[2], stress[0]))
    assert ends(span(head(), PATHS["shaft"])) == pytest.approx((low, 150, high), rel=ROUNDED)


def test_a_measured_drum_and_power_give_the_strands_of_the_mechanics() -> None:
    data = gear_and_drum(shaft="150 mm", drum="800 mm")
    reading = read_completed(data)
    loads = {x.name: x for x in respond_over(reading.job, (), reading.widening).loads}
    pull = 55e3 / (math.pi * 0.8 * 62 / 60)  # 21.2 kN at full power
    slack = 1.6 * pull / (math.exp(0.25 * math.pi) - 1)
    assert abs(loads["slack strand at head drum"].force_z[0, 2]) == pytest.approx(slack)
    assert abs(loads["tight strand at head drum"].force_z[0, 2]) == pytest.approx(slack + pull)


def test_the_range_of_a_drum_widens_its_strands_to_both_ends() -> None:
    data = gear_and_drum(shaft="150 mm")
    reading = read_completed(data)
    across = span(data, PATHS["drum"])
    loads = {x.name: x for x in respond_over(reading.job, (), reading.widening).loads}
    found = loads["slack strand at head drum"].force_z[0]
    torque = 55e3 / (2 * math.pi * 62 / 60) * 1e3
    assert abs(found[2]) == pytest.approx(1.6 * 2 * torque / across.low / (math.exp(0.25 * math.pi) - 1))
    assert abs(found[0]) == pytest.approx(0.4 * 2 * torque / across.high / (math.exp(0.35 * math.pi) - 1))


def test_the_arm_holds_the_torque_over_its_reach() -> None:
    torque = 55e3 / (2 * math.pi * 62 / 60) * 1e3
    found = ends(span(gear_and_drum(reach="950 mm"), "loads[gear unit].arm_force"))
    assert found == pytest.approx((0.4 * torque / 950, 0.75 * torque / 950, 1.15 * torque / 950), rel=ROUNDED)


def test_a_fan_wheel_follows_the_fan_laws() -> None:
    base = (250 / 990**3) ** 0.6
    found = ends(span(MACHINES["F1"].data("F1"), "loads[fan wheel].mass"))
    assert found == pytest.approx((0.5e7 * base, 1.4e7 * base, 3.5e7 * base), rel=ROUNDED)
    thrust = ends(span(MACHINES["F1"].data("F1"), "loads[fan wheel].axial_thrust"))
    assert thrust == pytest.approx((0, 0.7 * 187.5e3 / 22, 0.85 * 250e3 / 12), rel=ROUNDED)


def test_like_machines_grow_as_similarity_says() -> None:
    """Twice the power at the same speed: twice the torque, masses twice, the shaft by the cube root of two."""
    one, two = MACHINES["H1"].data("H1"), MACHINES["H1"].data("H1")
    two = measured(two, "machine.name_plate.power", "90 kW")
    for path in ("loads[gear unit].mass", "loads[paddles].mass"):
        assert ends(span(two, path)) == pytest.approx([2 * v for v in ends(span(one, path))], rel=ROUNDED)
    a, b = span(one, PATHS["shaft"]), span(two, PATHS["shaft"])
    assert (b.low / a.low, b.high / a.high) == pytest.approx((2 ** (1 / 3), 2 ** (1 / 3)), rel=2e-2)
    bigger = measured(MACHINES["F1"].data("F1"), "machine.name_plate.power", "500 kW")
    mass = (
        span(bigger, "loads[fan wheel].mass").high
        / span(MACHINES["F1"].data("F1"), "loads[fan wheel].mass").high
    )
    assert mass == pytest.approx(2**0.6, rel=ROUNDED)


def test_an_elevator_hangs_its_strands_on_the_drum() -> None:
    data = measured(
        MACHINES["E1 head"].data("E1"),
        "loads",
        [{"kind": "elevator drum", "name": "head drum", "diameter": "1000 mm", "x": "1350 mm"}],
    )
    pull = 55e3 / (math.pi * 1.0 * 38 / 60)
    assert ends(span(data, "loads[head drum].slack_strand")) == pytest.approx(
        (0.5 * 0.4 * pull, 0.75 * pull, 2 * pull), rel=ROUNDED
    )
    assert ends(span(data, "loads[head drum].tight_strand")) == pytest.approx(
        (1.5 * 0.4 * pull, 2 * 0.75 * pull, 3 * pull), rel=ROUNDED
    )


def test_a_screw_takes_the_bound_of_its_power() -> None:
    data = MACHINES["S1"].data("S1")
    reading = read_completed(data)
    pitch = span(data, "loads[screw].pitch")
    found = next(
        x for x in respond_over(reading.job, (), reading.widening).loads if x.name == "thrust of screw"
    )
    assert -found.axial[0, 0] == pytest.approx(60e3 * 37e3 / (60 * pitch.low))


def test_a_tail_drum_carries_what_keeps_the_head_from_slipping() -> None:
    data = measured(
        MACHINES["T1"].data("T1"),
        "loads",
        [{"kind": "drum", "name": "tail drum", "diameter": "500 mm"}],
    )
    pull = 55e3 / (math.pi * 0.5 * 95 / 60)
    assert ends(span(data, "loads[tail drum].take_up")) == pytest.approx(
        (0.4 * pull, 1.8 * 0.75 * pull, 3.2 * pull), rel=ROUNDED
    )


def test_three_sheaves_share_the_power_in_an_unknown_way_and_two_do_not() -> None:
    for name, turns, used in (
        ("L1", 1449 / 4.6, (0.04 * 37e3, 0.375 * 37e3, 37e3)),
        ("K1", 1475 / 2.5, (0.4 * 200e3, 0.75 * 200e3, 200e3)),
    ):
        data = MACHINES[name].data(name)
        rim = [math.pi * d * 1e-3 * turns / 60 for d in ends(span(data, "loads[sheave 2].diameter"))]
        assert ends(span(data, "loads[sheave 2].pull")) == pytest.approx(
            (1.5 * used[0] / rim[2], 2.2 * used[1] / rim[1], 5 * used[2] / rim[0]), rel=ROUNDED
        )


def test_a_flat_belt_is_given_the_power_that_it_carries() -> None:
    data = measured(
        MACHINES["K1"].data("K1"), "loads", [{"kind": "sheave", "name": "wheel", "belt": "flat belt"}]
    )
    assert ends(span(data, "loads[wheel].power")) == pytest.approx((0.4 * 200e3, 0.75 * 200e3, 200e3))
    assert "loads[wheel].pull" not in by_path(data)


@pytest.mark.parametrize("path", JOBS, ids=lambda p: p.stem)
def test_a_job_that_gives_everything_is_read_as_it_stands(path: Path) -> None:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    data["machine"]["name_plate"] = {"power": "55 kW", "motor_speed": "1488 r/min", "ratio": 24}
    done = completed(data)
    assert (done.data, done.estimates, done.widening) == (data, (), None)
    plain, read = read_job_data(data), read_completed(data)
    assert (plain.job, plain.typed, plain.assumptions, plain.questions) == (
        read.job,
        read.typed,
        read.assumptions,
        read.questions,
    )


def test_without_a_name_plate_nothing_is_filled_in_and_the_way_out_is_said() -> None:
    data = {**MACHINES["C1"].data("C1"), "machine": {"name": "C1", "kind": "head shaft"}}
    assert completed(data).estimates == ()
    with pytest.raises(InputError) as refused:
        read_completed(data)
    last = refused.value.problems[-1]
    assert last.where == "machine.name_plate" and "motor's" in last.next_step


@pytest.mark.parametrize(
    ("lacking", "where", "step"),
    [
        ("power", "machine.name_plate.power", "kW or hp"),
        ("motor_speed", "machine.name_plate.motor_speed", "motor's plate"),
        ("ratio", "machine.name_plate.ratio", "gear unit's plate"),
    ],
)
def test_what_to_read_off_which_plate_is_said(lacking: str, where: str, step: str) -> None:
    data = MACHINES["C1"].data("C1")
    data["machine"] = {
        **data["machine"],
        "name_plate": {k: v for k, v in MACHINES["C1"].plate.items() if k != lacking},
    }
    with pytest.raises(InputError) as refused:
        completed(data)
    assert [(p.where, step in p.next_step) for p in refused.value.problems] == [(where, True)]


def test_a_fan_must_say_how_it_is_built_and_a_line_shaft_how_many_bearings_it_has() -> None:
    fan = measured(
        MACHINES["F1"].data("F1"), "machine.name_plate", {"power": "9 kW", "motor_speed": "990 r/min"}
    )
    with pytest.raises(InputError, match=r"name_plate\.arrangement"):
        completed(fan)
    line = {k: v for k, v in MACHINES["L1"].data("L1").items() if k != "positions"}
    with pytest.raises(InputError, match="how many bearings"):
        completed(line)


def test_what_was_typed_stays_as_typed_and_moves_what_hangs_on_it() -> None:
    typed = {"positions[C1-A].x": "600 mm", "positions[C1-B].x": "2350 mm", "loads[head drum].x": "1300 mm"}
    data = completed(head()).frame
    for path, value in typed.items():
        data = measured(data, path, value)
    found = by_path(data)
    assert not set(typed) & set(found)
    gear = found["loads[gear unit].x"].span
    assert gear is not None and 0 < gear.low < gear.high < 600
    done = completed(data).data
    assert [p["x"] for p in done["positions"]] == ["600 mm", "2350 mm"]


def test_estimates_are_assumptions_with_their_reason_and_standing() -> None:
    reading = read_completed(head())
    said = {a.path: a for a in reading.assumptions}
    assert "common practice, no source" in said["loads[1].mass"].why
    assert "loads[1].mass" not in reading.typed
    text = explained(reading)
    assert 'mass = "254 to 762 to 2550 kg"  # assumed: rated torque 8471' in text


@pytest.mark.parametrize("name", ["C1", "S1", "K1"])
def test_a_job_that_is_explained_runs_to_the_same_ranges(name: str) -> None:
    reading = read_completed(MACHINES[name].data(name))
    text = explained(reading)
    assert '# x = "' in text and "; range " in text
    again = read_completed(tomllib.loads(text))
    first, second = (respond_over(r.job, (), r.widening) for r in (reading, again))
    assert second.reactions == first.reactions


BAD: list[tuple[str, Any]] = [
    ("machine.name_plate.power", "-5 kW"),
    ("machine.name_plate.power", "many"),
    ("machine.name_plate.motor_speed", "0 r/min"),
    ("machine.name_plate.ratio", 1e-300),
    ("machine.name_plate.ratio", [3]),
    ("machine.name_plate", "55 kW"),
    ("machine.kind", "mill"),
    ("machine.kind", 7),
    ("loads", "none"),
    ("loads", [3, "x"]),
    ("loads", [{"kind": 5}]),
    ("loads", [{"kind": "drum", "name": "d", "x": "-5 mm"}]),
    ("loads", [{"kind": "drum", "name": "d", "x": "900 m"}]),
    ("loads", [{"kind": "drum", "name": "d", "tight_strand": "0 N"}]),
    ("loads", [{"kind": "fan wheel", "name": "w", "diameter": "1e300 mm"}]),
    ("positions", {"name": 5}),
    ("positions", [{"name": "A", "x": "9 mm"}, {"name": "B", "x": "3 mm"}]),
    ("positions", []),
    ("duty", "running"),
    ("duty", [{"name": "a", "share": "x", "speed": "fast"}]),
    ("shaft", 3),
    ("shaft", {"segments": [{"diameter": "0 mm"}]}),
    ("shaft", {"segments": [{"length": "3 mm", "diameter": "100 mm"}]}),
    ("shaft", {"segments": [{}, {}]}),
]


@pytest.mark.parametrize(("path", "value"), BAD)
def test_what_cannot_be_used_is_refused_by_its_place_and_never_a_fault(path: str, value: Any) -> None:
    with pytest.raises(InputError):
        read_completed(measured(head(), path, value))


def test_a_length_typed_for_paddles_keeps_them_between_their_bearings() -> None:
    data = measured(completed(MACHINES["H1"].data("H1")).frame, "loads[paddles].length", "6 m")
    reading = read_completed(data)
    assert respond_over(reading.job, (), reading.widening).reactions[0].high > 0
    assert span(data, "loads[paddles].x").low - 3000 > span(data, "positions[H1-A].x").low


def test_the_kind_of_a_seat_gives_the_shaft() -> None:
    data = measured(completed(head()).frame, "positions[C1-A].seat", {"nominal": "5 15/16 in"})
    assert span(data, PATHS["shaft"]).likely == pytest.approx(150.8125)
    assert by_path(data)[PATHS["shaft"]].kind is Kind.LENGTH


def test_a_load_that_rests_on_an_estimate_says_so_and_a_measured_one_does_not() -> None:
    data = measured(gear_and_drum(), "loads[gear unit].mass", "780 kg")
    reading = read_completed(data)
    loads = respond_over(reading.job, (), reading.widening).loads
    standing = {x.name: x.source.status for x in loads}
    assert standing["torque arm of gear unit"] is standing["weight of head drum"] is Status.ESTIMATE
    assert standing["weight of gear unit"] is Status.DERIVED
