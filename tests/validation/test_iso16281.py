"""Rollers under load against an independent computation by ISO/TS 16281, the printed load integral and Hertz."""

from __future__ import annotations

import numpy as np
import pytest

from halfbore.mechanics.roller_loads import contact_radius, line_pressure, roller_loads
from halfbore.mechanics.stiffness import roller_stiffness

Z, D_WE, L_WE, F_R = 14, 10.0, 9.6, 4450.0
SOURCE = "bearing of the 209 type by ISO/TS 16281:2008, 41 laminae, one roller on the load line"
CASES = [
    # clearance [mm], tilt [rad], approach [mm], heaviest roller [N], moment [N·mm], heaviest lamina [N]
    (0.0, 0.0, 0.012222998571215305, 1378.5563053227843, 0.0, 49.052688785152256),
    (0.041, 0.0, 0.036040323403636346, 1929.1753023591036, 0.0, 64.05190202307638),
    (0.041, 0.5e-3, 0.036005983229857014, 1927.4058662061677, -1379.0077047970676, 64.8095429453068),
    (0.041, 1e-3, 0.035873227446873844, 1918.8746048746902, -2729.486025448339, 66.85557614566667),
    (0.041, 2e-3, 0.035341005275139635, 1897.2410050624371, -5220.838769871684, 73.65210841394494),
]


@pytest.mark.parametrize(("s", "tilt", "approach", "heaviest", "moment", "lamina"), CASES)
def test_a_row_of_rollers(compare, s, tilt, approach, heaviest, moment, lamina):
    found = roller_loads(F_R, s, tilt, Z, D_WE, L_WE)
    how = f"s {s:g} mm, tilt {1e3 * tilt:g} mrad"
    pairs = [
        (f"approach of the rings, {how} [mm]", found.approach, approach),
        (f"heaviest roller, {how} [N]", found.load.max(), heaviest),
        (f"heaviest lamina, {how} [N]", found.per_length.max() * L_WE / 41, lamina),
    ]
    for what, computed, expected in pairs:
        compare(what, computed, expected, rtol=1e-8, source=SOURCE, status="computed", why="two solvers")
    compare(
        f"moment by the tilt, {how} [N·mm]",
        found.moment,
        moment,
        rtol=1e-6 if moment else 0.0,
        atol=0.0 if moment else 1e-6,
        source=SOURCE,
        status="computed",
        why="two solvers",
    )


@pytest.mark.parametrize(
    ("epsilon", "J_r"), [(0.2, 0.1737), (0.3, 0.2055), (0.4, 0.2286), (0.5, 0.2453), (0.6, 0.2568)]
)
def test_many_rollers_share_a_load_as_the_printed_integral_says(compare, epsilon, J_r):
    # A straight roller: the profile falls back by no more than the rounding of the table where it is long and thin.
    count, diameter, length, shift = 400, 1e-3, 30.0, 0.03
    s = 2.0 * shift * (1.0 - 2.0 * epsilon)
    peak = float(roller_stiffness(length)) * (2.0 * epsilon * shift) ** (10.0 / 9.0)
    found = roller_loads(count * peak * J_r, s, 0.0, count, diameter, length)
    compare(
        f"heaviest of 400 rollers over the load, ε {epsilon:g}",
        found.load.max() * count / (count * peak * J_r),
        1.0 / J_r,
        rtol=4e-3,
        source="Harris, Rolling Bearing Analysis, load distribution integral, line contact",
        status="from memory, confirmed",
        why="printed with exponent 1.1 to four digits, here 10/9",
    )


@pytest.mark.parametrize(("raceway", "published"), [(64.0, 1304.3), (-96.0, 1065.0)])
def test_pressure_of_a_roller(compare, raceway, published):
    compare(
        f"largest pressure on a raceway of {abs(raceway):g} mm [MPa]",
        line_pressure(300.0, contact_radius(16.0, raceway), 114_000.0),
        published,
        rtol=5e-4,
        source="Hertz line contact; geometry of the cylindrical roller problem in Hamrock, NASA RP-1255",
        status="formula read, geometry from memory, number computed",
        why="printed to four digits",
    )


def test_stribeck_factor_without_clearance(compare):
    found = roller_loads(1000.0, 0.0, 0.0, 400, 1e-3, 30.0)
    compare(
        "heaviest roller, Z·Q_max/F_r without clearance",
        found.load.max() * 400 / 1000.0,
        4.08,
        rtol=4e-3,
        source="Harris, Rolling Bearing Analysis, line contact without clearance",
        status="from memory, confirmed",
        why="printed to three digits with exponent 1.1",
    )


def test_rollers_balance_the_load():
    for s in (-0.02, 0.0, 0.05, 0.3):
        found = roller_loads(30e3, s, 3e-4, 19, 22.0, 34.0, phase=0.1)
        assert np.cos(found.angle) @ found.load == pytest.approx(30e3, rel=1e-9)
