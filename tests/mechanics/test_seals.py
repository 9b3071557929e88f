"""Seals by custom."""

from __future__ import annotations

import numpy as np
import pytest

from halfbore.mechanics import seals
from halfbore.mechanics.seals import Dust, Water
from halfbore.sources import Status

PACKING, LABYRINTH, CLOSED, FELT = range(4)


def test_surface_speed_by_hand():
    # π·0.140 m·1480/60 = 10.85 m/s; 0.151 m at 62 r/min: 0.49 m/s
    np.testing.assert_allclose(
        seals.surface_speed(np.array([140.0, 151.0]), np.array([1480.0, 62.0])), [10.849, 0.4902], rtol=1e-4
    )


def test_a_contact_seal_has_a_speed_limit_and_a_gap_has_none():
    limits = seals.speed_limit_fallback(np.arange(4))
    contact = seals.limits_of("contact") > 0.0
    assert np.isfinite(limits[contact]).all()
    assert np.isinf(limits[~contact]).all()
    assert seals.speed_limit_fallback(PACKING) < seals.surface_speed(140.0, 1480.0)


def test_a_kind_that_is_not_there_gives_no_number():
    np.testing.assert_array_equal(seals.speed_limit_fallback(np.array([-1, 4])), [np.nan, np.nan])
    assert np.isnan(seals.temperature_limit_fallback(9))
    assert not seals.keeps_out(9, Dust.NONE, Water.NONE)


@pytest.mark.parametrize(
    ("dust", "water", "pressure", "expected"),
    [
        (Dust.DUST, Water.SPLASH, False, [True, True, True, False]),
        (Dust.HEAVY, Water.NONE, False, [True, False, True, False]),
        (Dust.NONE, Water.STANDING, False, [True, False, True, False]),
        (Dust.DUST, Water.NONE, True, [True, False, True, False]),
        (Dust.DUST, Water.NONE, False, [True, True, True, True]),
    ],
)
def test_what_each_kind_keeps_out(dust, water, pressure, expected):
    np.testing.assert_array_equal(seals.keeps_out(np.arange(4), dust, water, pressure), expected)
    assert [bool(seals.keeps_out(k, dust, water, pressure)) for k in range(4)] == expected


def test_only_the_closed_end_lets_no_shaft_through():
    np.testing.assert_array_equal(seals.limits_of("shaft_through"), [1.0, 1.0, 0.0, 1.0])


def test_nothing_here_claims_to_be_published():
    rows = (*seals.SEALS, *seals.RING_MATERIALS)
    assert {row.source.status for row in rows} == {Status.COMMON_PRACTICE, Status.FROM_MEMORY}
