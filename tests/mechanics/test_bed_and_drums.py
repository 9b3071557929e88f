"""Paddles, screws, elevator strands and take-ups alone: known cases, bounds, what is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.mechanics import drum, elevator, hot_shaft, paddles, power, screw

SIZE = st.floats(1.0, 1e6)


def test_the_push_of_paddles_turned_back_is_their_torque() -> None:
    push = float(paddles.bed_push(14.92e6, 1050.0, 0.7))
    assert push * 0.7 * 1050.0 / 2 == pytest.approx(14.92e6)


def test_the_lever_of_the_bed_lies_between_its_three_pictures() -> None:
    # Even pressure from 0.2 R to R; growing with the radius from 0.3 R on; even on blades from 0.6 R on.
    even, growing, on_arms = (1 + 0.2) / 2, 2 / 3 * (1 - 0.3**3) / (1 - 0.3**2), (1 + 0.6) / 2
    assert (paddles.LEVER.low, paddles.LEVER.high) == pytest.approx((even, on_arms))
    assert even < growing < on_arms


@given(torque=SIZE, part=st.floats(0.0, 1.0))
def test_no_more_than_the_whole_push_is_left(torque: float, part: float) -> None:
    whole = paddles.bed_push(torque, 1000.0, paddles.LEVER.low)
    assert 0.0 <= float(paddles.unbalanced_push(whole, part)) <= float(whole)


@given(watts=SIZE, speed=st.floats(1.0, 3000.0), pitch=st.floats(5.0, 5000.0))
def test_a_screw_never_does_more_work_along_the_shaft_than_its_torque_does(
    watts: float, speed: float, pitch: float
) -> None:
    bound = float(screw.thrust_bound(watts, speed, pitch))
    in_a_turn = 2 * math.pi * float(power.torque(watts, speed))
    assert bound * pitch == pytest.approx(in_a_turn)
    assert float(screw.thrust_of_power(bound, screw.THRUST_PART.high)) < bound


def test_the_rising_strand_is_the_falling_one_and_what_it_lifts() -> None:
    load, lift, digging = 56.0, 28e3, 4e3
    rising = float(elevator.tight_strand(53.0, load, lift, digging, 12e3))
    falling = float(elevator.slack_strand(53.0, lift, 12e3))
    assert rising - falling == pytest.approx(float(elevator.lifted_pull(load, lift, digging)))


def test_both_strands_hold_the_take_up() -> None:
    assert 2 * float(drum.take_up_strand(19e3)) == 19e3
    assert float(drum.take_up_strand(0.0)) == 0.0


@pytest.mark.parametrize(
    "call",
    [
        lambda: paddles.bed_push(1e6, 0.0, 0.7),
        lambda: paddles.bed_push(1e6, 1000.0, 0.0),
        lambda: screw.thrust_bound(1e3, 0.0, 250.0),
        lambda: screw.thrust_bound(1e3, 60.0, -1.0),
    ],
)
def test_what_gives_no_force_is_refused(call: object) -> None:
    assert callable(call)
    with pytest.raises(InputError, match="above zero"):
        call()


def test_a_long_fin_keeps_what_the_trade_says() -> None:
    """Ends of 140 mm shafts of 0.4, 0.6 and 1.0 m keep 54, 31 and 9 % of the excess at 15 W/(m²·K) (derived)."""
    fin = float(hot_shaft.fin_parameter(140.0, 15.0, 45.0))
    kept = [float(hot_shaft.excess_temperature(1.0, fin, x, x)) for x in (400.0, 600.0, 1000.0)]
    assert kept == pytest.approx([0.54, 0.31, 0.09], abs=0.006)
