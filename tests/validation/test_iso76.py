"""ISO 76:2006 against the contact stress that it rests on."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from halfbore.standards.iso76_2006 import (
    basic_static_radial_load_rating,
    static_equivalent_radial_load,
    static_safety_factor,
)

E, POISSON = 2.07e5, 0.3
STRESS = 4000.0


@pytest.mark.parametrize(
    ("Z", "L_we", "D_we", "D_pw"), [(14, 9.6, 10.0, 65.0), (18, 40.0, 38.0, 260.0), (24, 12.0, 9.0, 90.0)]
)
def test_rating_is_the_load_of_4000_mpa(
    compare: Callable[..., None], Z: int, L_we: float, D_we: float, D_pw: float
) -> None:
    # Hertz, line contact of roller and inner raceway: p² = w E'/(2 π R'), steel on steel, w = Q/L.
    curvature = 2 / D_we + 2 / (D_pw - D_we)
    load_per_length = STRESS**2 * 2 * np.pi * (1 - POISSON**2) / (E * curvature)
    heaviest_roller = load_per_length * L_we
    compare(
        f"C_0r of {Z} rollers {D_we:g} x {L_we:g} on {D_pw:g} mm",
        basic_static_radial_load_rating(1, Z, L_we, D_we, 0.0, D_pw),
        heaviest_roller * Z / 5,
        rtol=0.006,
        source="ISO 76:2006, radial roller bearings; Hertz, heaviest roller 5F/Z",
        status="from memory, confirmed",
        why="the constant 44 is 44.24 before rounding",
    )


def test_static_safety_is_rating_over_load() -> None:
    assert static_safety_factor(30_000.0, static_equivalent_radial_load(12_000.0)) == 2.5
    assert static_safety_factor(30_000.0, 0.0) == np.inf
