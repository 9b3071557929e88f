"""The shaft solver: properties that hold for every shaft, an independent stiffness solve, and refusals."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import cho_solve_banded, cholesky_banded
from scipy.optimize import linprog

from halfbore.errors import HalfboreError, InputError
from halfbore.numerics import contact
from halfbore.numerics.beam import (
    Beam,
    BeamSolution,
    Loads,
    Support,
    deflection_by_force,
    flexibility,
    solve,
    stepped,
)

STEEL = 206e3


def rigidity(diameter: Any) -> Any:
    """Return EI of a round steel shaft (N·mm²)."""
    return STEEL * np.pi / 64 * np.asarray(diameter, dtype=float) ** 4


class Shaft(NamedTuple):
    """A random shaft with its loads and the places of its supports."""

    beam: Beam
    loads: Loads
    places: list[float]


@st.composite
def shafts(draw: st.DrawFn, shortest: float = 5.0, supports: int = 5, cases: int = 3) -> Shaft:
    """Draw a shaft of 35 to 600 mm diameter with steps, loads at every node and a line load."""
    n = draw(st.integers(2, 8))
    lengths = draw(st.lists(st.floats(shortest, 1500.0), min_size=n, max_size=n))
    diameters = draw(st.lists(st.floats(35.0, 600.0), min_size=n, max_size=n))
    beam = stepped(lengths, rigidity(diameters))
    rng = np.random.default_rng(draw(st.integers(0, 10**6)))
    size = 10.0 ** rng.uniform(0, 6, (cases, 1))
    held = np.sort(rng.choice(beam.x, min(draw(st.integers(2, supports)), n + 1), replace=False))
    held = held[np.diff(held, prepend=-np.inf) > beam.x[-1] / 50]
    if held.size < 2:
        held = beam.x[[0, -1]]
    loads = Loads(
        beam.x,
        size * rng.normal(size=(cases, n + 1)),
        size * 100.0 * rng.normal(size=(cases, n + 1)),
        -0.01 * size * rng.uniform(0, 1, (cases, n)),
    )
    return Shaft(beam, loads, held.tolist())


def pins(shaft: Shaft, **of: Any) -> list[Support]:
    return [Support(x, **of) for x in shaft.places]


def acting(shaft: Shaft) -> Any:
    """Return the sum of all load sizes in each case (N)."""
    loads, beam = shaft.loads, shaft.beam
    return (
        np.abs(loads.force).sum(1)
        + np.abs(loads.distributed) @ beam.length
        + np.abs(loads.couple).sum(1) / 100
    )


class Size(NamedTuple):
    """The size of each result on a shaft clamped at one end, one number per case: the floor of rounding."""

    reaction: Any
    deflection: Any
    slope: Any
    moment: Any
    shear: Any


def size(shaft: Shaft) -> Size:
    span, force = np.ptp(shaft.beam.x), acting(shaft)
    soft = span * float((shaft.beam.length / shaft.beam.EI).sum())
    return Size(force, force * soft * span, force * soft, force * span, force)


def close(found: Any, expected: Any, floor: Any, part: float = 1e-8) -> None:
    """Hold two tables equal to a part of the largest entry of each case, or to rounding of the floor."""
    found, expected = np.asarray(found), np.asarray(expected)
    allowed = part * np.abs(expected).reshape(len(expected), -1).max(1) + 1e-12 * floor
    difference = np.abs(found - expected).reshape(len(expected), -1).max(1)
    assert (difference <= allowed).all(), (difference / allowed).max()


# --- an independent method


def stiffness_method(shaft: Shaft, stiffness: float) -> tuple[Any, Any]:
    """Return deflections and reactions by cubic beam elements and a banded Cholesky factor, supports as springs."""
    beam, n = shaft.beam, shaft.beam.x.size
    band, load = np.zeros((4, 2 * n)), np.zeros((len(shaft.loads.force), 2 * n))
    load[:, ::2], load[:, 1::2] = shaft.loads.force, shaft.loads.couple
    for e, (a, EI) in enumerate(zip(beam.length, beam.EI, strict=True)):
        k = (
            EI
            / a**3
            * np.array(
                [
                    [12, 6 * a, -12, 6 * a],
                    [6 * a, 4 * a * a, -6 * a, 2 * a * a],
                    [-12, -6 * a, 12, -6 * a],
                    [6 * a, 2 * a * a, -6 * a, 4 * a * a],
                ]
            )
        )
        for i in range(4):
            for j in range(i + 1):
                band[i - j, 2 * e + j] += k[i, j]
        load[:, 2 * e : 2 * e + 4] += shaft.loads.distributed[:, e, None] * a / 12 * np.array([6, a, 6, -a])
    held = 2 * beam.node(shaft.places)
    band[0, held] += stiffness
    scale = 1 / np.sqrt(band[0])
    for b in range(4):
        band[b, : 2 * n - b] *= scale[b:] * scale[: 2 * n - b]
    moved = scale[:, None] * cho_solve_banded(
        (cholesky_banded(band, lower=True), True), scale[:, None] * load.T
    )
    return moved[::2].T, -stiffness * moved[held].T


@given(shafts(shortest=100.0), st.sampled_from([1e4, 1e5, 1e6]))
def test_a_stiffness_method_gives_the_same(shaft: Shaft, stiffness: float) -> None:
    deflection, reaction = stiffness_method(shaft, stiffness)
    found = solve(shaft.beam, shaft.loads, pins(shaft, stiffness=stiffness))
    close(found.reaction, reaction, size(shaft).reaction, 1e-6)
    close(found.deflection, deflection, size(shaft).deflection, 1e-6)


# --- properties


@given(shafts(shortest=1e-3))
def test_the_balance_closes_however_short_a_segment_is(shaft: Shaft) -> None:
    found = solve(shaft.beam, shaft.loads, pins(shaft))
    total = acting(shaft) + np.abs(found.reaction).sum(1)
    assert (np.abs(found.residual_force) < 1e-12 * total).all()
    assert (np.abs(found.residual_moment) < 1e-12 * total * np.ptp(shaft.beam.x)).all()
    assert (found.misfit < 1e-9 * (1.0 + np.abs(found.deflection).max(1))).all()


@given(shafts())
def test_ends_are_free_and_the_pieces_fit(shaft: Shaft) -> None:
    found = solve(shaft.beam, shaft.loads, pins(shaft))
    floor, x = size(shaft), shaft.beam.x
    close(found.moment[:, -1:, 1], shaft.loads.couple[:, -1:], floor.moment)
    nodes, left = found.at(x), found.at(np.nextafter(x[1:], 0.0))
    close(nodes.deflection, found.deflection, floor.deflection)
    close(nodes.slope, found.slope, floor.slope)
    close(left.deflection, found.deflection[:, 1:], floor.deflection, 1e-6)
    close(left.moment, found.moment[:, :, 1], floor.moment, 1e-6)
    close(left.shear, found.shear[:, :, 1], floor.shear, 1e-6)


@given(shafts(), st.sampled_from([np.inf, 1e5]))
def test_a_mirrored_shaft_gives_the_mirror_image(shaft: Shaft, stiffness: float) -> None:
    beam, loads = shaft.beam, shaft.loads
    there = solve(beam, loads, pins(shaft, stiffness=stiffness))
    end = beam.x[-1]
    mirrored = Beam(end - beam.x[::-1], beam.EI[::-1])
    turned = Loads(mirrored.x, loads.force[:, ::-1], -loads.couple[:, ::-1], loads.distributed[:, ::-1])
    back = solve(mirrored, turned, [Support(end - x, stiffness=stiffness) for x in shaft.places[::-1]])
    floor = size(shaft)
    close(back.reaction[:, ::-1], there.reaction, floor.reaction)
    close(back.deflection[:, ::-1], there.deflection, floor.deflection)
    close(-back.slope[:, ::-1], there.slope, floor.slope)
    close(back.moment[:, ::-1, ::-1], there.moment, floor.moment)
    close(-back.shear[:, ::-1, ::-1], there.shear, floor.shear)


@given(shafts(cases=2), st.floats(-3.0, 3.0))
def test_loads_and_heights_superpose(shaft: Shaft, factor: float) -> None:
    one = solve(shaft.beam, shaft.loads, pins(shaft))
    heights = [0.1 * (-1) ** i * (i + 1) for i in range(len(shaft.places))]
    out_of_line = [Support(x, height=h) for x, h in zip(shaft.places, heights, strict=True)]
    two = solve(shaft.beam, Loads(), out_of_line)
    force, couple, line = (
        factor * np.asarray(v) for v in (shaft.loads.force, shaft.loads.couple, shaft.loads.distributed)
    )
    both = solve(shaft.beam, Loads(shaft.beam.x, force, couple, line), out_of_line)
    for name in ("deflection", "slope", "moment", "reaction"):
        parts = factor * getattr(one, name), getattr(two, name)
        scale = np.abs(parts[0]).max() + np.abs(parts[1]).max()
        np.testing.assert_allclose(getattr(both, name), parts[0] + parts[1], atol=1e-8 * scale, rtol=0)


@given(shafts())
def test_twice_the_size_under_four_times_the_load_bends_alike(shaft: Shaft) -> None:
    """Lengths and diameters twice, loads four times: stresses and slopes stay, deflections double."""
    beam, loads = shaft.beam, shaft.loads
    small = solve(beam, loads, pins(shaft))
    large = Beam(2 * beam.x, 16 * beam.EI)
    load = Loads(large.x, 4 * loads.force, 8 * loads.couple, 2 * loads.distributed)
    big = solve(large, load, [Support(2 * x) for x in shaft.places])
    floor = size(shaft)
    close(big.reaction, 4 * small.reaction, 4 * floor.reaction)
    close(big.slope, small.slope, floor.slope)
    close(big.deflection, 2 * small.deflection, 2 * floor.deflection)
    close(big.moment, 8 * small.moment, 8 * floor.moment)


KINDS = st.sampled_from(
    [
        {"holds": "up"},
        {"holds": "down"},
        {"gap": 0.2},
        {"gap": 0.2, "stiffness": 1e5},
        {"holds": "up", "stiffness": 1e5},
        {},
    ]
)


@given(
    shafts(), st.lists(KINDS, min_size=5, max_size=5), st.lists(st.floats(-0.5, 0.5), min_size=5, max_size=5)
)
def test_one_sided_supports_push_where_they_touch_and_stand_off_elsewhere(
    shaft: Shaft, kinds: list[dict[str, Any]], heights: list[float]
) -> None:
    supports = [
        Support(x, height=h, **kind) for x, h, kind in zip(shaft.places, heights, kinds, strict=False)
    ]
    for case in range(len(shaft.loads.force)):
        loads = Loads(
            shaft.beam.x, *(v[case] for v in (shaft.loads.force, shaft.loads.couple, shaft.loads.distributed))
        )
        try:
            found = solve(shaft.beam, loads, supports)
        except InputError as error:
            assert "lifts off" in str(error) and not can_carry(shaft, loads, supports)
            continue
        for i, support in enumerate(supports):
            check_contact(found, i, support)


def check_contact(found: BeamSolution, i: int, support: Support) -> None:
    """Hold one support against the conditions of contact."""
    force, y = found.reaction[0, i], found.at(support.x).deflection[0, 0]
    surface = y + force / support.stiffness - support.height
    little = 1e-8 * (np.abs(found.deflection).max() + 1.0)
    weak = 1e-8 * np.abs(found.reaction).max()
    if not found.in_contact[0, i]:
        assert force == 0.0
    if support.holds != "down":
        assert surface >= -support.gap / 2 - little
        assert force <= weak or surface <= -support.gap / 2 + little
    if support.holds != "up":
        assert surface <= support.gap / 2 + little
        assert force >= -weak or surface >= support.gap / 2 - little
    assert support.holds != "up" or force >= -weak
    assert support.holds != "down" or force <= weak


def can_carry(shaft: Shaft, loads: Loads, supports: list[Support]) -> bool:
    """Return whether any reactions of allowed sign balance the loads, by linear programming."""
    beam, span = shaft.beam, np.ptp(shaft.beam.x)
    weight = np.asarray(loads.distributed) * beam.length
    total = np.sum(loads.force) + weight.sum()
    moment = loads.force @ beam.x + np.sum(loads.couple) + weight @ (beam.x[1:] + beam.x[:-1]) / 2
    arms = np.array([[1.0] * len(supports), [s.x / span for s in supports]])
    sides = [(None if s.holds != "up" else 0, None if s.holds != "down" else 0) for s in supports]
    size = abs(total) + abs(moment / span)
    wanted = -np.array([total, moment / span]) / size
    return bool(linprog(np.zeros(len(supports)), A_eq=arms, b_eq=wanted, bounds=sides).status == 0)


@given(shafts())
def test_all_cases_at_once_are_the_cases_one_by_one(shaft: Shaft) -> None:
    supports = pins(shaft, gap=0.1)
    together = solve(shaft.beam, shaft.loads, supports)
    for c in range(len(together.reaction)):
        loads = Loads(
            shaft.beam.x, *(v[c] for v in (shaft.loads.force, shaft.loads.couple, shaft.loads.distributed))
        )
        alone = solve(shaft.beam, loads, supports)
        close(alone.reaction, together.reaction[c : c + 1], size(shaft).reaction[c])
        assert (alone.in_contact == together.in_contact[c]).all()


@pytest.mark.parametrize("diameter", [35.0, 120.0, 600.0])
@pytest.mark.parametrize("length", [500.0, 3000.0, 12000.0])
@pytest.mark.parametrize("offset", [100.0, 1.0, 0.008])
def test_balance_over_the_range_of_shafts(diameter: float, length: float, offset: float) -> None:
    beam = stepped([length], rigidity([diameter]), [0.3 * length, 0.3 * length + offset, 0.9 * length])
    weight = -7.85e-6 * 9.81 * np.pi / 4 * diameter**2
    loads = Loads([0.3 * length + offset, length], [[-1e4, -5e3]], distributed=weight)
    found = solve(beam, loads, [Support(0.0), Support(0.3 * length), Support(0.9 * length)])
    total = 15e3 - weight * length
    assert abs(found.residual_force[0]) < 1e-9 * total
    assert abs(found.residual_moment[0]) < 1e-9 * total * length
    assert found.misfit[0] < 1e-9


# --- one support at a time


def beam_of_two_metres() -> Beam:
    return stepped([2000.0], [5e10], [500.0, 1000.0, 1500.0])


def test_a_lifted_shaft_leaves_its_upward_supports() -> None:
    load = Loads([500.0], [[-8000.0]])
    holds = solve(beam_of_two_metres(), load, [Support(0.0), Support(1000.0), Support(2000.0)])
    lifts = solve(beam_of_two_metres(), load, [Support(0.0), Support(1000.0), Support(2000.0, holds="up")])
    np.testing.assert_allclose(holds.reaction, [[3250.0, 5500.0, -750.0]])
    np.testing.assert_allclose(lifts.reaction, [[4000.0, 4000.0, 0.0]])
    np.testing.assert_array_equal(lifts.in_contact, [[True, True, False]])
    assert lifts.deflection[0, -1] == pytest.approx(8000.0 * 1000.0**3 / (16 * 5e10))


def test_a_shaft_that_rolls_over_a_support_meets_the_next() -> None:
    """Upward supports only, all load beyond the second: the first one is left and the third one, lower, is met."""
    beam = stepped([2000.0], [5e10], [500.0, 1000.0, 1500.0])
    supports = [
        Support(0.0, holds="up"),
        Support(1000.0, holds="up"),
        Support(2000.0, height=-5.0, holds="up"),
    ]
    found = solve(beam, Loads([1500.0], [[-100.0]]), supports)
    np.testing.assert_allclose(found.reaction, [[0.0, 50.0, 50.0]])
    np.testing.assert_array_equal(found.in_contact, [[False, True, True]])
    assert found.deflection[0, 0] > 0.0


def test_loads_that_balance_each_other_need_no_support() -> None:
    """Rounding of reactions that are nothing must not send the search round in circles."""
    beam = stepped([600.0], [1e12], [100.0, 300.0, 400.0, 500.0])
    kinds = [("down", 1e6), ("down", 1e4), ("up", 1e6), ("down", 1e3), ("up", np.inf)]
    supports = [
        Support(x, holds=holds, stiffness=stiffness, gap=0.05)
        for x, (holds, stiffness) in zip((0.0, 300.0, 400.0, 500.0, 600.0), kinds, strict=True)
    ]
    found = solve(beam, Loads([0.0, 100.0, 300.0, 400.0], [[-1000.0, 1000.0, 1000.0, -1000.0]]), supports)
    np.testing.assert_allclose(found.reaction, 0.0, atol=1e-8)


def test_the_search_for_contacts_has_an_end(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a tolerance that lets go of every contact the search would never end of itself."""
    monkeypatch.setattr(contact, "ROUNDING", -10.0)
    supports = [Support(0.0), Support(1000.0, holds="up"), Support(2000.0)]
    with pytest.raises(HalfboreError, match="did not end in load case 1"):
        solve(beam_of_two_metres(), Loads([1500.0], [[-1e3]]), supports)


def test_the_gap_is_taken_up_before_the_support_carries() -> None:
    supports = [Support(0.0), Support(1000.0, gap=0.4), Support(2000.0)]
    force = np.array([[-10.0], [-5000.0], [5000.0]])
    found = solve(beam_of_two_metres(), Loads([1000.0], force), supports)
    np.testing.assert_array_equal(found.in_contact[:, 1], [False, True, True])
    np.testing.assert_allclose(found.at(1000.0).deflection[1:, 0], [-0.2, 0.2])
    assert found.reaction[0, 1] == 0.0
    np.testing.assert_allclose(found.reaction[2], -found.reaction[1])


def test_a_jack_lifts_the_shaft_off() -> None:
    """A jack at the middle raised far enough takes the whole weight on itself and leaves both bearings."""
    beam, weight = beam_of_two_metres(), -0.5
    bearings = [Support(0.0, holds="up"), Support(2000.0, holds="up")]
    heights = np.array([0.0, 20.0])
    jack = Support(1000.0, height=heights, holds="up")
    found = solve(beam, Loads(distributed=weight), [bearings[0], jack, bearings[1]])
    np.testing.assert_allclose(found.reaction[0], [187.5, 625.0, 187.5])
    assert found.reaction[1, 1] == pytest.approx(1000.0) and found.deflection[1, 2] == pytest.approx(20.0)


def test_a_clamped_support_carries_a_couple() -> None:
    clamped = [Support(0.0, tilting_stiffness=np.inf)]
    found = solve(beam_of_two_metres(), Loads([2000.0], [[-100.0]]), clamped)
    np.testing.assert_allclose([found.reaction[0, 0], found.couple[0, 0]], [100.0, 200e3])
    sprung = solve(
        beam_of_two_metres(), Loads([2000.0], [[-100.0]]), [replace(clamped[0], tilting_stiffness=1e8)]
    )
    assert sprung.slope[0, 0] == pytest.approx(-200e3 / 1e8)
    set_out = solve(beam_of_two_metres(), Loads(), [replace(clamped[0], slope=1e-3)])
    np.testing.assert_allclose(set_out.deflection[0], 1e-3 * set_out.beam.x)


def test_springs_may_differ_from_case_to_case() -> None:
    k = np.array([1e3, 1e4, np.inf])
    found = solve(
        beam_of_two_metres(), Loads([1000.0], [[-1000.0]]), [Support(0.0, stiffness=k), Support(2000.0)]
    )
    np.testing.assert_allclose(found.deflection[:, 0], [-0.5, -0.05, 0.0], atol=1e-12)


def test_per_element_spreads_over_the_elements_between_edges() -> None:
    beam = beam_of_two_metres()
    np.testing.assert_array_equal(beam.per_element([500.0, 1500.0, 2000.0], [3.0, 4.0]), [0.0, 3.0, 3.0, 4.0])
    np.testing.assert_array_equal(beam.per_element([0.0, 2000.0], [[1.0], [2.0]]), [[1.0] * 4, [2.0] * 4])


def test_stepped_puts_nodes_where_asked_and_merges_neighbours() -> None:
    beam = stepped(
        [300.0, 200.0], [1e10, 2e10], [100.0, 300.0 + 1e-7, 450.0, 100.0 + 5e-7], start=-50.0 + 50.0
    )
    np.testing.assert_array_equal(beam.x, [0.0, 100.0, 300.0, 450.0, 500.0])
    np.testing.assert_array_equal(beam.EI, [1e10, 1e10, 2e10, 2e10])
    assert stepped([10.0], [1.0], start=5.0).x.tolist() == [5.0, 15.0]


# --- flexibility


@given(shafts(cases=1), st.sampled_from([np.inf, 1e5]))
def test_flexibility_is_symmetric_and_agrees_with_a_solve(shaft: Shaft, stiffness: float) -> None:
    supports = pins(shaft, stiffness=stiffness)
    bend = flexibility(shaft.beam, supports, shaft.beam.x)
    force, couple = shaft.loads.force[0], shaft.loads.couple[0]
    found = solve(shaft.beam, Loads(shaft.beam.x, force, couple), supports)
    y = bend.deflection_by_force @ force + bend.deflection_by_couple @ couple
    slope = bend.slope_by_force @ force + bend.slope_by_couple @ couple
    floor = size(shaft)
    alone = deflection_by_force(shaft.beam, supports, shaft.beam.x)
    # a library of matrices may sum rows in another order when there are half as many
    close(alone, bend.deflection_by_force, np.abs(bend.deflection_by_force).max(), 1e-12)
    close([y], found.deflection, 100 * floor.deflection)
    close([slope], found.slope, 100 * floor.slope)
    span = np.ptp(shaft.beam.x)
    whole = np.block(
        [
            [bend.deflection_by_force, bend.deflection_by_couple * span],
            [bend.slope_by_force * span, bend.slope_by_couple * span**2],
        ]
    )
    unit = (floor.deflection / floor.reaction)[0]
    np.testing.assert_allclose(whole, whole.T, rtol=0, atol=1e-9 * np.abs(whole).max() + 1e-13 * unit)


# --- refusals


TWO = [Support(0.0), Support(2000.0)]


@pytest.mark.parametrize(
    ("loads", "supports", "words"),
    [
        (Loads(), [], "free to move"),
        (Loads(), [Support(0.0)], "free to move"),
        (Loads(), [Support(0.0), Support(0.0)], "two supports at one place"),
        (Loads(), [Support(0.0), Support(700.0)], "no node of the shaft here"),
        (Loads([700.0], [[1.0]]), TWO, "no node of the shaft here"),
        (Loads([2500.0], [[1.0]]), TWO, "no node of the shaft here"),
        (Loads([np.nan], [[1.0]]), TWO, "no node of the shaft here"),
        (Loads([500.0], [[np.nan]]), TWO, "a load is not a number"),
        (Loads([500.0], [[1.0, 2.0]]), TWO, "a load does not fit"),
        (Loads([500.0], [[1.0]], distributed=[[1.0, 2.0]]), TWO, "a load does not fit"),
        (Loads([500.0], [[1.0], [2.0]], [[0.0], [0.0], [0.0]]), TWO, "a load does not fit"),
        (Loads([500.0], [[1.0]] * 3), [Support(0.0, height=np.zeros(2)), TWO[1]], "height does not fit"),
        (Loads([500.0], [[100.0]]), [Support(0.0, holds="up"), Support(2000.0, holds="up")], "lifts off"),
        (Loads([500.0], [[1.0]]), [Support(0.0, stiffness=1e-320), TWO[1]], "too unlike"),
    ],
)
def test_what_cannot_be_solved_is_refused(loads: Loads, supports: list[Support], words: str) -> None:
    with pytest.raises(InputError, match=words) as refused:
        solve(beam_of_two_metres(), loads, supports)
    assert all(p.what and (p.accepted or p.next_step) for p in refused.value.problems)


@pytest.mark.parametrize("places", [[5000.0, 5000.001, 5000.002], [0.0, 1000.0, 5000.0, 5000.01, 5000.02]])
def test_three_supports_at_one_place_are_refused(places: list[float]) -> None:
    beam = stepped([10000.0], [5e10], places)
    with pytest.raises(InputError, match="too unlike"):
        solve(beam, Loads([10000.0], [[-1.0]]), [Support(x) for x in places])
    soft = solve(beam, Loads([10000.0], [[-1.0]]), [Support(x, stiffness=1e4) for x in places])
    assert soft.reaction[0].sum() == pytest.approx(1.0, rel=1e-6)


def test_three_rigid_supports_on_a_rigid_part_are_refused() -> None:
    beam = stepped([1000.0, 1000.0], [5e10, 5e30], [1500.0])
    with pytest.raises(InputError, match="too unlike"):
        solve(beam, Loads([1500.0], [[-1e4]]), [Support(x) for x in (0.0, 1000.0, 1500.0, 2000.0)])
    found = solve(beam, Loads([1500.0], [[-1e4]]), [Support(x) for x in (0.0, 1000.0, 2000.0)])
    np.testing.assert_allclose(found.reaction, [[0.0, 5e3, 5e3]], atol=1e-6)


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ({"stiffness": 0.0}, "stiffness"),
        ({"stiffness": -1.0}, "stiffness"),
        ({"stiffness": np.nan}, "stiffness"),
        ({"height": np.inf}, "height"),
        ({"gap": -0.1}, "gap"),
        ({"gap": np.inf}, "gap"),
        ({"slope": np.nan}, "slope"),
        ({"tilting_stiffness": -1.0}, "tilting_stiffness"),
        ({"tilting_stiffness": 1e9, "holds": "up"}, "tilting"),
        ({"tilting_stiffness": 1e9, "gap": 0.1}, "tilting"),
        ({"tilting_stiffness": np.array([0.0, 1e9])}, "tilting"),
        ({"holds": "sideways"}, "no such direction"),
    ],
)
def test_a_support_that_cannot_be_is_refused(numbers: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words) as refused:
        Support(100.0, **numbers)
    assert "x = 100 mm" in str(refused.value)


@pytest.mark.parametrize(
    ("lengths", "EI", "extra", "words"),
    [
        ([300.0, 0.0], [1e10, 1e10], [], "segment 2"),
        ([-1.0], [1e10], [], "segment 1"),
        ([300.0, np.nan], [1e10, 1e10], [], "segment 2"),
        ([300.0], [1e10, 1e10], [], "differ in number"),
        ([300.0], [0.0], [], "not positive"),
        ([300.0], [np.nan], [], "not positive"),
        ([300.0], [1e10], [301.0], "off the shaft"),
        ([300.0], [1e10], [np.nan], "off the shaft"),
    ],
)
def test_a_shaft_that_cannot_be_is_refused(
    lengths: list[float], EI: list[float], extra: list[float], words: str
) -> None:
    with pytest.raises(InputError, match=words):
        stepped(lengths, EI, extra)


def test_nodes_that_do_not_increase_are_refused() -> None:
    with pytest.raises(InputError, match="do not increase"):
        Beam(np.array([0.0, 0.0]), np.array([1.0]))
    with pytest.raises(InputError, match="do not fit together"):
        Beam(np.array([0.0, 1.0]), np.array([1.0, 1.0]))


def test_values_off_their_edges_and_points_off_the_shaft_are_refused() -> None:
    beam = beam_of_two_metres()
    with pytest.raises(InputError, match="do not fit"):
        beam.per_element([0.0, 500.0], [1.0, 2.0])
    with pytest.raises(InputError, match="no node"):
        beam.per_element([0.0, 700.0], [1.0])
    with pytest.raises(InputError, match="off the shaft"):
        solve(beam, Loads([500.0], [[1.0]]), TWO).at([2001.0])
