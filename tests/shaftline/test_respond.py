"""The solved shaft line against hand calculation."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.domain.shaftline import ShaftResponse
from halfbore.errors import InputError
from halfbore.intake.jobfile import read_job_data
from halfbore.shaftline.lift import lift_at
from halfbore.shaftline.loads import applied_loads
from halfbore.shaftline.respond import respond
from tests.samples_jobs import data, simple

G = 9.80665
OWN = 7850e-9 * np.pi / 4 * 100**2 * 2000 * G
"""Weight of the simple shaft of 100 mm and 2 m [N]."""


def solved(job: dict[str, Any]) -> ShaftResponse:
    return respond(read_job_data(job).job)


def test_a_weight_in_the_middle_is_shared_equally() -> None:
    found = solved(simple())
    for reaction in found.reactions:
        assert reaction.y == pytest.approx((1000 * G + OWN) / 2, rel=1e-12)
        assert reaction.z == pytest.approx(0.0, abs=1e-9)
        assert reaction.low == pytest.approx(reaction.high, rel=1e-12)
    # The load on a bearing points down: half a turn from straight up.
    assert abs(found.duties[0].angle[0]) == pytest.approx(np.pi)


def test_an_overhung_weight_pulls_the_far_bearing_up() -> None:
    # Weight W at 2000, bearings at 500 and 1500: A carries -W/2, B carries 3W/2; the shaft's own weight halves.
    told = simple(loads=[{"kind": "point load", "name": "wheel", "x": "2000 mm", "mass": "640 kg"}])
    job, found = read_job_data(told).job, solved(told)
    weight = 640 * G
    assert found.reactions[0].y == pytest.approx(OWN / 2 - weight / 2, rel=1e-12)
    assert found.reactions[1].y == pytest.approx(OWN / 2 + 3 * weight / 2, rel=1e-12)
    at_a, at_b = (lift_at(job, found.loads, name, 0.0) for name in ("A", "B"))
    assert at_a.holding == "the shaft pulls upwards here: a hold-down, not a jack"
    assert at_b.force > 0
    assert abs(found.duties[0].angle[0]) < 1e-9


def test_a_bearing_that_does_not_hold_down_lets_the_shaft_lift_off() -> None:
    job = simple(loads=[{"kind": "point load", "name": "wheel", "x": "1900 mm", "mass": "640 kg"}])
    middle = {"name": "C", "x": "1000 mm", "role": "non-locating", "base": {"holds_down": False}}
    job["positions"].insert(1, middle)
    found = solved(job)
    assert found.reactions[1].y == pytest.approx(0.0, abs=1e-9)
    assert any("lifts off C" in note for note in found.notes)
    # Two bearings are left at 500 and 1500: moments about 500.
    assert found.reactions[2].y == pytest.approx(640 * G * 1400 / 1000 + OWN / 2, rel=1e-9)
    assert found.reactions[0].y == pytest.approx(OWN / 2 - 640 * G * 400 / 1000, rel=1e-9)


def test_a_range_of_one_load_gives_the_range_of_the_reaction() -> None:
    found = solved(
        simple(
            loads=[{"kind": "point load", "name": "pull", "x": "1000 mm", "force": "1 kN to 2 kN to 5 kN"}]
        )
    )
    first = found.reactions[0]
    assert first.y == pytest.approx(OWN / 2 + 1000)
    assert (first.low, first.high) == pytest.approx((OWN / 2 + 500, OWN / 2 + 2500))


def test_a_level_pull_turns_the_load_and_its_spread() -> None:
    found = solved(
        simple(
            loads=[
                {
                    "kind": "point load",
                    "name": "pull",
                    "x": "1000 mm",
                    "force": "10 kN",
                    "direction": "right",
                },
            ]
        )
    )
    duty = found.duties[0]
    assert found.reactions[0].z == pytest.approx(-5000)
    assert duty.angle[0] == pytest.approx(np.arctan2(5000, -OWN / 2))
    assert duty.angle_spread[0] == pytest.approx(0.0, abs=1e-9)


def test_unbalance_turns_and_a_coupling_reaction_points_anywhere() -> None:
    job = simple(
        loads=[
            {
                "kind": "fan wheel",
                "name": "wheel",
                "x": "1000 mm",
                "mass": "200 kg",
                "balance_grade": "G 6.3",
            },
            {
                "kind": "coupling",
                "name": "coupling",
                "x": "500 mm",
                "mass": "0 kg",
                "reaction": "0 N to 300 N",
            },
        ],
        duty=[{"name": "run", "share": 1.0, "speed": "1480 r/min"}],
    )
    found = solved(job)
    steady = (200 * G + OWN) / 2
    omega = np.pi * 1480 / 30
    turning = 200 * 16e-3 * omega / 2
    assert found.reactions[0].low == pytest.approx(steady - 300 - turning)
    assert found.reactions[0].high == pytest.approx(steady + 300 + turning)
    # ISO 21940-11 definition: 200 kg at G 6.3 and 1480 r/min give 195.3 N, half of it at each bearing.
    low = found.duties[1].equivalent_low[0]
    assert steady < low < steady + 195.3 / 2
    assert found.duties[1].peak_high[0] == pytest.approx(steady + turning)


def test_the_service_factor_leaves_weights_alone() -> None:
    job = simple(
        loads=[{"kind": "point load", "name": "p", "x": "1000 mm", "mass": "1000 kg", "force": "1 kN"}],
        duty=[{"name": "run", "share": 1.0, "speed": "300 r/min", "load_factor": 2.0}],
    )
    assert solved(job).reactions[0].y == pytest.approx((1000 * G + OWN) / 2 + 1000)


def test_growth_runs_from_the_locating_place() -> None:
    job = simple(duty=[{"name": "run", "share": 1.0, "speed": "300 r/min", "shaft_temperature": "80 °C"}])
    job["machine"]["site"] = {"ambient": "20 °C"}
    found = solved(job)
    # TH form: 11.7e-6/K · 1000 mm · 60 K.
    assert found.duties[1].growth_high[0] == pytest.approx(0.702)
    assert found.duties[0].growth_high[0] == 0.0


def test_growth_is_not_known_when_nothing_locates() -> None:
    job = simple()
    job["positions"][0]["role"] = "non-locating"
    found = solved(job)
    assert np.isnan(found.duties[1].growth_high).all()
    assert len([n for n in found.notes if n.startswith("Nothing holds the shaft")]) == 2


def test_two_elements_that_hold_one_way_are_refused_by_name() -> None:
    job = simple()
    job["machine"]["locates"] = [{"name": "gear unit", "holds": "towards the free end", "x": "100 mm"}]
    with pytest.raises(InputError, match="A and gear unit"):
        solved(job)


def test_a_gear_unit_alone_may_locate() -> None:
    job = simple()
    job["positions"][0]["role"] = "non-locating"
    job["machine"]["locates"] = [{"name": "gear unit", "holds": "both ways", "x": "100 mm"}]
    found = solved(job)
    assert [path.holders for path in found.paths] == [("gear unit",), ("gear unit",)]
    assert not found.notes


def test_an_inclined_shaft_pushes_along_itself() -> None:
    job = simple()
    job["shaft"]["inclination"] = "30 deg"
    found = solved(job)
    assert found.duties[0].axial_high[0] == pytest.approx((1000 * G + OWN) / 2)
    assert found.reactions[0].y == pytest.approx((1000 * G + OWN) / 2 * np.cos(np.pi / 6))


def test_a_lift_is_what_a_prescribed_displacement_needs() -> None:
    job = simple()
    job["positions"][1]["lift"] = {"jack_x": "1700 mm"}
    reading = read_job_data(job)
    lifted = lift_at(reading.job, applied_loads(reading.job), "B", 5.0)
    level = lift_at(reading.job, applied_loads(reading.job), "B", 0.0)
    # With one bearing left the shaft turns about it as a rigid body and the force does not change:
    # moments about A at 500 mm.
    assert lifted.force == pytest.approx((1000 * G + OWN) * 500 / 1200)
    assert lifted.force == pytest.approx(level.force)
    assert lifted.at_jack - level.at_jack == pytest.approx(5.0 * 1200 / 1000)


def test_the_head_shaft_balances_alone_and_with_its_drive() -> None:
    found = solved(data("head_shaft"))
    assert [b.body for b in found.balances] == ["shaft alone", "shaft, drive and torque arm as one body"]
    for balance in found.balances:
        assert balance.force < 1e-6
        assert balance.moment < 1e-3


def test_the_demo_plant_machines_have_the_reactions_worked_out_by_hand() -> None:
    # Kiln exhaust fan: wheel 2600 kg at 2250, half coupling 140 kg at 100, shaft 41.6 kg at 150, 94.7 kg at 600,
    # 1191 kg at 2225 and 60.0 kg at 3740 mm; moments about A at 550 mm over 3300 mm give B = 19.41 kN, A the rest
    # of 4127.3 kg: 21.07 kN.
    fan = solved(data("fan"))
    assert fan.reactions[0].y == pytest.approx(21.07e3, rel=1e-3)
    assert fan.reactions[1].y == pytest.approx(19.41e3, rel=1e-3)
    assert fan.first_critical_speed > 990 / 0.75
    # Head shaft, by hand without its own weight: A 35.6 kN, B 22.9 kN, nearly level.
    head = solved(data("head_shaft"))
    assert np.hypot(head.reactions[0].y, head.reactions[0].z) == pytest.approx(36.9e3, rel=0.01)


@given(st.floats(0.0, 2000.0).map(lambda x: round(x, 6)), st.floats(0.1, 100.0))
def test_twice_the_load_is_twice_the_reaction(x: float, kilonewtons: float) -> None:
    def pulled(force: float) -> ShaftResponse:
        return solved(
            simple(
                loads=[
                    {
                        "kind": "point load",
                        "name": "p",
                        "x": f"{x} mm",
                        "force": f"{force} kN",
                        "direction": "right",
                    }
                ]
            )
        )

    one, two = pulled(kilonewtons), pulled(2 * kilonewtons)
    for a, b in zip(one.reactions, two.reactions, strict=True):
        assert b.z == pytest.approx(2 * a.z, rel=1e-9, abs=1e-6)
        assert b.y == pytest.approx(a.y, rel=1e-9, abs=1e-6)


def test_a_neighbour_that_does_not_hold_down_lifts_off_when_the_shaft_is_lifted() -> None:
    loose = {"holds_down": False}
    job = simple(
        shaft={"segments": [{"length": "3000 mm", "diameter": "60 mm"}]},
        loads=[{"kind": "point load", "name": "w", "x": "1000 mm", "mass": "100 kg"}],
        positions=[
            {"name": name, "x": f"{x} mm", "role": "non-locating", "base": loose}
            for name, x in (("A", 100), ("B", 1500), ("C", 2900))
        ],
    )
    job["positions"][1]["lift"] = {"jack_x": "1380 mm"}
    reading = read_job_data(job).job
    loads = applied_loads(reading)
    # C is off from about 1 mm on; then A and the jack carry alone: moments about A at 100 mm.
    own = 7850e-9 * np.pi / 4 * 60**2 * 3000 * G
    alone = (own * 1400 + 100 * G * 900) / 1280
    held = lift_at(reading, loads, "B", 0.0).force
    lifted = [lift_at(reading, loads, "B", mm) for mm in (5.0, 50.0)]
    assert held < alone
    assert [x.force for x in lifted] == pytest.approx([alone, alone])
    # From there on the shaft turns about A as a rigid body.
    assert lifted[1].at_jack - lifted[0].at_jack == pytest.approx(45.0 * 1280 / 1400)


def test_running_near_the_first_critical_speed_is_cautioned_against() -> None:
    fan = data("fan")
    fan["duty"][0]["speed"] = "1200 r/min"
    notes = [n for n in solved(fan).notes if n.startswith("Caution:")]
    assert len(notes) == 1
    assert "1200 r/min (kiln running) is 89\xa0% of the first critical speed of 1355 r/min" in notes[0]
    assert not [n for n in solved(data("fan")).notes if n.startswith("Caution:")]
