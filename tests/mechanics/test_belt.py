from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.mechanics import belt
from halfbore.mechanics.forces import direction, magnitude

angles = st.floats(-pi, pi)
tensions = st.floats(0, 1e5)
senses = st.sampled_from([-1, 1])


def unit(angle):
    return np.array([cos(angle), sin(angle)])


def cross(a, b):
    return a[0] * b[1] - a[1] * b[0]


def test_open_belt_wraps_both_sheaves_one_whole_turn_together():
    small, large = belt.wrap_open(300, 900, 5800), belt.wrap_open(900, 300, 5800)
    assert small < pi < large
    assert small + large == pytest.approx(2 * pi)


def test_crossed_belt_wraps_both_sheaves_alike():
    assert belt.wrap_crossed(300, 900, 5800) == belt.wrap_crossed(900, 300, 5800) > pi


@given(tensions, tensions, angles, senses, st.floats(50, 500), st.floats(50, 500))
def test_strands_run_along_the_common_tangents(tight, slack, centre, sense, own, other):
    """The directions from wrap and centres are those of the tangents drawn between the two circles."""
    distance = 2000.0
    wrap = belt.wrap_open(2 * own, 2 * other, distance)
    expected = np.zeros(2)
    for tension, side in ((tight, -sense), (slack, sense)):
        normal = unit(centre + side * (pi / 2 + (pi - wrap) / 2))
        tangent = distance * unit(centre) + (other - own) * normal
        assert cross(own * normal, tangent) * -side > 0
        expected += tension * tangent / np.hypot(*tangent)
    found = belt.pull_from_centres(tight, slack, wrap, centre, sense)
    np.testing.assert_allclose(found, expected, atol=1e-6)


@given(tensions, tensions, st.floats(0.5, 2 * pi), angles, senses)
def test_size_of_the_pull_agrees_with_its_vector(tight, slack, wrap, centre, sense):
    pull = belt.pull_from_centres(tight, slack, wrap, centre, sense)
    assert magnitude(*pull) == pytest.approx(belt.shaft_pull(tight, slack, wrap), abs=1e-3)


def test_half_a_turn_pulls_along_the_centres_with_the_sum():
    pull = belt.pull_from_centres(3000.0, 1000.0, pi, pi / 2, 1)
    np.testing.assert_allclose(pull, [0, 4000], atol=1e-9)


def test_tight_strand_draws_the_pull_to_its_side():
    """Positive rotation is clockwise seen from the drive end: the other shaft above, driven clockwise,
    the tight strand is on the left, which is -z."""
    wrap = belt.wrap_open(300, 900, 1200)
    towards = direction(*belt.pull_from_centres(3000.0, 1000.0, wrap, 0.0, 1))
    assert -0.3 < towards < 0


def test_slack_strand_of_a_snubbed_drum():
    """A drum with 210° wrap, tight strand level to the right, belt torque from z to y."""
    assert belt.slack_direction(pi / 2, np.radians(210), -1) == pytest.approx(pi / 2 + pi / 6)


@given(st.floats(1, 1e5), st.floats(1.05, 20), st.floats(0, 1e4))
def test_strand_tensions_carry_the_pull_at_the_limit_of_slip(pull, ratio, centrifugal):
    tight = belt.tight_from_pull(pull, ratio, centrifugal)
    slack = belt.slack_from_pull(pull, ratio, centrifugal)
    assert tight - slack == pytest.approx(pull, rel=1e-6)
    assert slack == pytest.approx(belt.slack_from_tight(tight, ratio, centrifugal), rel=1e-6)
    initial = belt.initial_tension(tight, slack)
    assert belt.pull_from_initial(initial, ratio, centrifugal) == pytest.approx(pull, rel=1e-6)


def test_groove_grips_harder_than_a_flat():
    assert belt.groove_friction(0.12, np.radians(15)) == pytest.approx(0.12 / 0.2588190)
    assert belt.groove_friction(0.3, pi / 2) == pytest.approx(0.3)


def test_pull_from_power_alone_is_a_range():
    pull = belt.effective_pull(55_000.0, 22.0)
    factor = belt.pull_factor("V-belt")
    assert belt.pull_from_power(pull, factor.low) == pytest.approx(3750)
    assert belt.pull_from_power(pull, factor.high) == pytest.approx(6250)


def test_columns_mix_with_numbers():
    pull = belt.strand_pull(np.array([1000.0, 2000.0, 3000.0]), 500.0, 0.0, pi / 2)
    np.testing.assert_allclose(pull, [[1000, 2000, 3000], [500, 500, 500]], atol=1e-9)


@pytest.mark.parametrize(
    "call",
    [
        lambda: belt.wrap_open(900, 300, 200),
        lambda: belt.wrap_crossed(900, 300, 600),
        lambda: belt.effective_pull(5500.0, 0.0),
        lambda: belt.tight_from_pull(100.0, np.array([2.0, 1.0])),
        lambda: belt.groove_friction(0.3, 0.0),
        lambda: belt.shaft_pull(-1.0, 2.0, pi),
        lambda: belt.slack_direction(0.0, pi, 0),
        lambda: belt.pull_factor("rope"),
    ],
)
def test_what_no_belt_can_be_is_refused(call):
    with pytest.raises(InputError):
        call()


def test_refusal_names_argument_value_and_what_is_accepted():
    with pytest.raises(InputError) as caught:
        belt.wrap_open(900, 300, 200)
    (problem,) = caught.value.problems
    assert (problem.where, problem.value) == ("centre_distance", "200")
    assert "half the difference" in problem.accepted
