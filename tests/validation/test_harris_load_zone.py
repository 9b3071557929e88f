"""The load zone of a roller bearing against the printed table of the load distribution integral."""

from __future__ import annotations

import numpy as np
import pytest

from halfbore.mechanics.ring_joint import half_load_zone

TABLE = [
    (0.1, 0.1268),
    (0.2, 0.1737),
    (0.3, 0.2055),
    (0.4, 0.2286),
    (0.5, 0.2453),
    (0.6, 0.2568),
    (0.7, 0.2636),
    (0.8, 0.2658),
    (0.9, 0.2628),
]


@pytest.mark.parametrize(("epsilon", "J_r"), TABLE)
def test_half_zone_of_the_load_that_the_integral_gives(compare, epsilon, J_r):
    # Shift δ of the rings: clearance 2δ(1 - 2ε), largest roller load K(2εδ)^(10/9), F_r = Z·Q_max·J_r.
    shift, Z, K = 0.03, 16, 300e3
    F_r = Z * K * (2.0 * epsilon * shift) ** (10.0 / 9.0) * J_r
    compare(
        f"half load zone at ε {epsilon:g} [°]",
        np.degrees(half_load_zone(F_r, 2.0 * shift * (1.0 - 2.0 * epsilon), Z, K)),
        np.degrees(np.arccos(1.0 - 2.0 * epsilon)),
        rtol=4e-3,
        source="Harris, Rolling Bearing Analysis, load distribution integral, line contact",
        status="from memory, confirmed",
        why="printed with exponent 1.1 to four digits, here 10/9",
    )
