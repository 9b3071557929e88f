"""The critical speed by point masses: against consistent-mass elements, and what must hold for every shaft."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import eigh

from halfbore.errors import InputError
from halfbore.numerics.beam import Beam, Support, stepped
from halfbore.numerics.critical_speed import critical_speed

STEEL, DENSITY = 206e3, 7.85e-6


def shaft(lengths: list[float], diameters: list[float]) -> tuple[Beam, Any]:
    """Return a round steel shaft and its mass per length in each element (kg/mm)."""
    area = np.pi / 4 * np.array(diameters) ** 2
    return stepped(lengths, STEEL * area * np.array(diameters) ** 2 / 16), DENSITY * area


def by_elements(beam: Beam, line: Any, disc: tuple[int, float], springs: dict[int, float]) -> float:
    """Return the first critical speed (r/min) by cubic elements with consistent masses, each cut into eight."""
    x = np.interp(np.arange(8 * beam.EI.size + 1) / 8, np.arange(beam.x.size), beam.x)
    n = x.size
    K, M = np.zeros((2 * n, 2 * n)), np.zeros((2 * n, 2 * n))
    for e, a in enumerate(np.diff(x)):
        at = np.ix_(range(2 * e, 2 * e + 4), range(2 * e, 2 * e + 4))
        turn = np.diag([1.0, a, 1.0, a])
        k = np.array([[12, 6, -12, 6], [6, 4, -6, 2], [-12, -6, 12, -6], [6, 2, -6, 4]])
        m = np.array([[156, 22, 54, -13], [22, 4, 13, -3], [54, 13, 156, -22], [-13, -3, -22, 4]])
        K[at] += beam.EI[e // 8] / a**3 * turn @ k @ turn
        M[at] += line[e // 8] * a / 420 * turn @ m @ turn
    for node, stiffness in springs.items():
        K[16 * node, 16 * node] += stiffness
    M[16 * disc[0], 16 * disc[0]] += disc[1]
    return float(np.sqrt(1e3 * eigh(K, M, eigvals_only=True, subset_by_index=[0, 0])[0]) * 30 / np.pi)


@given(
    st.lists(st.floats(200.0, 1200.0), min_size=3, max_size=5),
    st.lists(st.floats(60.0, 200.0), min_size=5, max_size=5),
    st.floats(0.0, 500.0),
    st.sampled_from([1e4, 1e6]),
)
def test_consistent_mass_elements_give_the_same(
    lengths: list[float], diameters: list[float], mass: float, stiffness: float
) -> None:
    beam, line = shaft(lengths, diameters[: len(lengths)])
    last = len(lengths) - 1
    supports = [Support(float(beam.x[i]), stiffness=stiffness) for i in (0, last)]
    found = critical_speed(beam, supports, line, [beam.x[-1]], [mass])
    expected = by_elements(beam, line, (last + 1, mass), {0: stiffness, last: stiffness})
    assert found.exact == pytest.approx(expected, rel=1e-4)
    assert found.dunkerley < found.exact < found.rayleigh


def test_size_and_disc_move_the_speed_as_they_must() -> None:
    """Twice the size in all directions halves the speed; a disc on a support changes nothing."""
    supports = [Support(0.0), Support(1000.0)]
    beam, line = shaft([400.0, 600.0], [80.0, 60.0])
    large, heavy = shaft([800.0, 1200.0], [160.0, 120.0])
    small = critical_speed(beam, supports, line)
    assert critical_speed(large, [Support(0.0), Support(2000.0)], heavy).exact == pytest.approx(
        small.exact / 2
    )
    assert critical_speed(beam, supports, line, [0.0], [100.0]).exact == pytest.approx(small.exact)
    assert critical_speed(beam, supports, line, [400.0], [100.0]).exact < small.exact


def test_heights_gaps_and_one_sidedness_leave_the_speed_alone() -> None:
    beam, line = shaft([500.0, 500.0], [80.0, 60.0])
    plain = critical_speed(beam, [Support(0.0), Support(1000.0)], line)
    fitted = [Support(0.0, height=0.5, holds="up"), Support(1000.0, gap=0.2)]
    assert critical_speed(beam, fitted, line) == plain


@pytest.mark.parametrize(
    ("line", "places", "masses", "words"),
    [
        (0.0, [], [], "no mass"),
        (0.0, [0.0], [10.0], "no mass"),
        (-1.0, [], [], "mass per length"),
        (np.nan, [], [], "mass per length"),
        ([0.1, 0.1, 0.1], [], [], "mass per length"),
        (0.1, [500.0], [-1.0], "disc"),
        (0.1, [500.0], [np.nan], "disc"),
        (0.1, [500.0], [], "disc"),
        (0.1, [501.0], [1.0], "no node"),
    ],
)
def test_masses_that_cannot_be_are_refused(
    line: Any, places: list[float], masses: list[float], words: str
) -> None:
    beam, _ = shaft([500.0, 500.0], [80.0, 60.0])
    with pytest.raises(InputError, match=words):
        critical_speed(beam, [Support(0.0), Support(1000.0)], line, places, masses)


def test_a_shaft_that_is_free_to_move_is_refused() -> None:
    beam, line = shaft([500.0, 500.0], [80.0, 60.0])
    with pytest.raises(InputError, match="free to move"):
        critical_speed(beam, [Support(0.0)], line)
