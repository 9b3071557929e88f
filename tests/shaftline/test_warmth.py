"""The temperature of the shaft along its length: as given, by hot gas, as measured."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.domain.job import Job
from halfbore.domain.shaftline import PositionDuty, ShaftResponse
from halfbore.intake.jobfile import read_job_data
from halfbore.shaftline import warmth
from halfbore.shaftline.respond import respond
from tests.samples_jobs import simple

WHEEL = {"kind": "fan wheel", "name": "wheel", "x": "1800 mm", "mass": "640 kg", "hot_length": "200 mm"}


def solved(wheel: dict[str, Any], *at: dict[str, Any], said: str = "60 °C", **changes: Any) -> ShaftResponse:
    return respond(job(wheel, *at, said=said, **changes))


def job(wheel: dict[str, Any], *at: dict[str, Any], said: str = "60 °C", **changes: Any) -> Job:
    """Return a shaft of 140 mm, A at 300 mm, B locating at 1200 mm, 500 mm from the casing wall."""
    ends = [
        {"name": "A", "x": "300 mm", "role": "non-locating"},
        {"name": "B", "x": "1200 mm", "role": "locating"},
    ]
    running = {"name": "run", "share": 1.0, "speed": "1480 r/min"} | (
        {"shaft_temperature": said} if said else {}
    )
    made = simple(
        shaft={"segments": [{"length": "2000 mm", "diameter": "140 mm"}]},
        loads=[WHEEL | wheel],
        positions=[a | b for a, b in zip(ends, at or ({}, {}), strict=True)],
        duty=[running, {"name": "cold", "share": 0, "speed": "0 r/min", "shaft_temperature": "15 °C"}],
    )
    made["machine"]["site"] = {"ambient": "20 °C"}
    return read_job_data(made | changes).job


def at(duty: PositionDuty, condition: int = 0) -> tuple[float, float]:
    return float(duty.shaft_temperature_low[condition]), float(duty.shaft_temperature_high[condition])


def fin(distance: float, length: float, film: float, conductivity: float) -> float:
    m = np.sqrt(4 * film / (conductivity * 0.140)) / 1000
    return float(20 + 330 * np.cosh(m * (length - distance)) / np.cosh(m * length))


def test_without_gas_the_shaft_is_as_the_condition_says_everywhere() -> None:
    for duty in solved({}).duties:
        assert (at(duty), at(duty, 1)) == ((60, 60), (15, 15))
        assert duty.warmed_by == "as given"


def test_hot_gas_warms_the_near_bearing_by_the_fin_and_the_far_one_less() -> None:
    # From the wall at 1700 mm the fin is 1700 mm long; B is 500 mm off.
    found = solved({"gas_temperature": "350 °C"})
    a, b = found.duties
    assert at(b) == pytest.approx((fin(500, 1700, 20, 40), fin(500, 1700, 10, 52)))
    assert at(a) == (60.0, pytest.approx(max(60.0, fin(1400, 1700, 10, 52))))
    assert b.warmed_by == "by heat from the gas along the shaft (estimate)"
    (note,) = [n for n in found.notes if n.startswith("Heat from the gas")]
    assert f"B {at(b)[0]:.0f} to {at(b)[1]:.0f} °C" in note


def test_the_machine_at_rest_is_as_the_condition_says() -> None:
    assert at(solved({"gas_temperature": "350 °C"}).duties[1], 1) == (15, 15)


def test_what_is_measured_at_a_position_counts_before_both() -> None:
    found = solved({"gas_temperature": "350 °C"}, {}, {"shaft_temperature": "75 °C to 80 °C"})
    assert at(found.duties[1]) == (75, 80)
    assert found.duties[1].warmed_by == "as measured here"
    assert at(found.duties[1], 1) == (15, 15)


def test_the_warmer_of_gas_and_condition_counts() -> None:
    hot = solved({"gas_temperature": "350 °C"}, said="200 °C")
    assert [at(d) for d in hot.duties] == [(200, 200), (200, 200)]
    assert all(d.warmed_by == "as given" for d in hot.duties)


def test_gas_alone_gives_a_temperature_where_the_condition_has_none() -> None:
    found = solved({"gas_temperature": "350 °C"}, said="")
    low, high = at(found.duties[0])
    assert 20 < low < high < 60


def test_a_casing_wall_that_is_not_known_makes_the_range_wider() -> None:
    # Wall at 1700 to 1560 mm: the wheel's side at 1700, one shaft diameter outside it at most.
    wheel = WHEEL | {"gas_temperature": "350 °C", "width": "200 mm"}
    wheel.pop("hot_length")
    duty = solved({}, loads=[wheel]).duties[1]
    assert at(duty) == pytest.approx((fin(500, 1700, 20, 40), fin(360, 1560, 10, 52)))


def test_growth_takes_the_mean_between_the_bearings() -> None:
    # Measured 40 °C at A and 80 °C at B over what is said to be 40 °C: the mean is 60 °C, 900 mm grow against 20 °C.
    found = solved({}, {}, {"shaft_temperature": "80 °C"}, said="40 °C")
    assert found.duties[0].growth_high[0] == pytest.approx(-11.7e-6 * 900 * 40)


def test_growth_with_hot_gas_is_the_mean_of_the_fin() -> None:
    # From B, 500 mm from the wall, 100 mm towards the wheel: the integral of the fin, by its antiderivative.
    found = solved({"gas_temperature": "350 °C"}, said="20 °C")
    m = np.sqrt(4 * 10 / (52 * 0.140)) / 1000
    area = 330 / np.cosh(m * 1700) * (np.sinh(m * 1200) - np.sinh(m * 300)) / m
    assert found.duties[0].growth_low[0] == pytest.approx(-11.7e-6 * area, rel=1e-6)


def test_between_two_bearings_a_hot_wheel_makes_the_shaft_grow() -> None:
    centre = {"x": "750 mm", "hot_length": "400 mm", "gas_temperature": "180 °C"}
    cool, hot = solved({"x": "750 mm"}), solved(centre)
    assert abs(hot.duties[0].growth_low[0]) > 400 / 900 * 160 / 40 * abs(cool.duties[0].growth_low[0])


@given(
    gas=st.floats(70.0, 450.0).map(lambda v: round(v, 2)),
    more=st.floats(0.0, 200.0).map(lambda v: round(v, 2)),
    x=st.floats(900.0, 1600.0).map(lambda v: round(v, 2)),
)
def test_hotter_gas_and_a_nearer_wall_never_cool(gas: float, more: float, x: float) -> None:
    def near(gas_: float, x_: float) -> tuple[float, float]:
        low, high = warmth.at_positions(job({"gas_temperature": f"{gas_} °C"}, {}, {"x": f"{x_} mm"}))[1, 0]
        return float(low), float(high)

    base, hotter, nearer = near(gas, x), near(gas + more, x), near(gas, x + 50)
    assert base[0] <= base[1] <= max(gas, 60) + 1e-9
    assert all(b >= a - 1e-9 for a, b in zip(base, hotter, strict=True))
    assert all(b >= a - 1e-9 for a, b in zip(base, nearer, strict=True))
