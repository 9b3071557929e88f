from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.mechanics import conveyor, drum, elevator


@given(st.floats(1, 1e6), st.floats(0.05, 1), st.floats(0.5, 8))
def test_least_slack_tension_leaves_no_margin(pull, friction, wrap):
    slack = drum.slack_minimum(pull, friction, wrap)
    tight = drum.tight_from_slack(slack, pull)
    assert drum.slip_margin(tight, slack, friction, wrap) == pytest.approx(0, abs=1e-9)
    assert drum.slip_margin(tight, 1.2 * slack, friction, wrap) == pytest.approx(0.2)


def test_starting_asks_for_more_slack_tension():
    assert drum.slack_minimum(1000.0, 0.3, pi, 1.5) == pytest.approx(
        1.5 * drum.slack_minimum(1000.0, 0.3, pi)
    )


def test_slack_strand_without_tension_slips():
    assert drum.slip_margin(1000.0, 0.0, 0.3, pi) == -1


def test_every_surface_grips_better_dry_than_dirty():
    surfaces = {name.split(",")[0] for name in drum.FRICTION}
    assert len(surfaces) == 4
    for name in surfaces:
        dry, dirty = drum.surface_friction(f"{name}, dry"), drum.surface_friction(f"{name}, wet dirty")
        assert 0 < dirty.low <= dirty.high <= dry.low <= dry.high < 0.5


@pytest.mark.parametrize(
    "call",
    [
        lambda: drum.surface_friction("velvet"),
        lambda: drum.wrap_factor(0.0, pi),
        lambda: drum.slip_margin(0.0, 10.0, 0.3, pi),
        lambda: drum.slack_minimum(-5.0, 0.3, pi),
        lambda: conveyor.length_coefficient(79_000.0),
        lambda: conveyor.length_coefficient(np.array([1e5, 6e6])),
        lambda: conveyor.load_per_metre(600.0, 0.0),
        lambda: conveyor.sag_tension(1200.0, 80.0, 0.0),
        lambda: elevator.run_per_metre(9.0, 2.8, 0.0),
    ],
)
def test_what_no_drum_can_be_is_refused(call):
    with pytest.raises(InputError):
        call()


@pytest.mark.parametrize(("metres", "coefficient"), [(80, 1.92), (250, 1.38), (1000, 1.09), (5000, 1.03)])
def test_length_coefficient_is_linear_between_rows(metres, coefficient):
    assert conveyor.length_coefficient(metres * 1000.0) == pytest.approx(coefficient)


@given(st.floats(80e3, 5e6), st.floats(80e3, 5e6))
def test_longer_conveyors_have_the_smaller_coefficient(one, other):
    short, long = sorted((one, other))
    assert conveyor.length_coefficient(short) >= conveyor.length_coefficient(long)


def test_downhill_conveyor_can_drive_its_drum():
    main = conveyor.main_resistance(0.016, 200e3, 16.5, 14.0, 100.0)
    assert conveyor.conveyor_pull(1.45, main, conveyor.lift_resistance(100.0, -30e3)) < 0


def test_elevator_power_lifts_what_it_carries():
    load, lift, speed = 12.0, 25_000.0, 2.2
    tight = elevator.tight_strand(23.0, load, lift, 0.0, 3000.0)
    slack = elevator.slack_strand(23.0, lift, 3000.0)
    tonnes_an_hour = elevator.capacity(load, speed)
    lifting = tonnes_an_hour / 3.6 * 9.80665 * lift / 1000
    assert elevator.power(tight, slack, speed) == pytest.approx(lifting)


def test_digging_adds_its_equivalent_lift():
    digging = elevator.digging_lift(400.0, 10.0)
    assert digging == 4000
    more = elevator.tight_strand(23.0, 12.0, 25e3, digging) - elevator.tight_strand(23.0, 12.0, 25e3, 0.0)
    assert more == pytest.approx(12 * 4 * 9.80665)
