"""Bolts: stress areas, strength classes and torques of published tables and worked examples."""

from __future__ import annotations

import pytest

from halfbore.mechanics import bolts

LBF, INCH = 4.4482216152605, 25.4

METRIC = [
    (8, 1.25, 36.6),
    (10, 1.5, 58.0),
    (12, 1.75, 84.3),
    (14, 2, 115),
    (16, 2, 157),
    (18, 2.5, 192),
    (20, 2.5, 245),
    (22, 2.5, 303),
    (24, 3, 353),
    (27, 3, 459),
    (30, 3.5, 561),
    (33, 3.5, 694),
    (36, 4, 817),
    (39, 4, 976),
    (42, 4.5, 1120),
    (45, 4.5, 1310),
    (48, 5, 1470),
]


@pytest.mark.parametrize(("d", "pitch", "area"), METRIC)
def test_stress_area_of_metric_coarse_threads(compare, d, pitch, area):
    compare(
        f"stress area M{d} × {pitch:g} [mm²]",
        bolts.stress_area(d, pitch),
        area,
        rtol=4e-3,
        source="ISO 898-1, stress areas of coarse threads",
        status="from memory",
        why="three printed digits",
    )


UNIFIED = [
    ("1/4", 0.25, 20, 0.0318),
    ("5/16", 0.3125, 18, 0.0524),
    ("3/8", 0.375, 16, 0.0775),
    ("7/16", 0.4375, 14, 0.1063),
    ("1/2", 0.5, 13, 0.1419),
    ("9/16", 0.5625, 12, 0.182),
    ("5/8", 0.625, 11, 0.226),
    ("3/4", 0.75, 10, 0.334),
    ("7/8", 0.875, 9, 0.462),
    ("1", 1.0, 8, 0.606),
    ("1-1/4", 1.25, 7, 0.969),
    ("1-1/2", 1.5, 6, 1.405),
]


@pytest.mark.parametrize(("size", "d", "threads", "area"), UNIFIED)
def test_stress_area_of_unified_coarse_threads(compare, size, d, threads, area):
    compare(
        f"stress area {size} in - {threads} UNC [in²]",
        bolts.stress_area_unified(d * INCH, threads) / INCH**2,
        area,
        rtol=2e-3,
        source="Shigley, Mechanical Engineering Design, Table 8-2",
        status="read",
        why="three or four printed digits",
    )


@pytest.mark.parametrize(("pitch", "area"), [(2.0, 156.7), (1.5, 167.2)])
def test_jindal_stress_areas(compare, pitch, area):
    compare(
        f"stress area M16 × {pitch:g} [mm²]",
        bolts.stress_area(16.0, pitch),
        area,
        atol=0.06,
        source="Jindal, Machine Design, example 9-1",
        status="read",
        why="one printed decimal",
    )


def test_jindal_tightening_torque(compare):
    tension = bolts.preload(bolts.proof_load(650.0, 115.0))
    compare(
        "torque for 75 % of the proof load, 115 mm², 650 MPa, 14 mm, K 0.2 [N·m]",
        bolts.tightening_torque(tension, 14.0) / 1e3,
        156.97,
        rtol=1e-4,
        source="Jindal, Machine Design, example 9-5",
        status="read",
        why="two printed decimals",
    )


def test_shigley_tightening_torque(compare):
    compare(
        "torque for 25 kip on 3/4 in, K 0.2 [lbf·in]",
        bolts.tightening_torque(25e3 * LBF, 0.75 * INCH) / (LBF * INCH),
        3750.0,
        rtol=1e-9,
        source="Shigley, Mechanical Engineering Design, example 8-3",
        status="from memory",
        why="exact",
    )


CLASSES = [
    ("4.6", 20, 400, 240, 225, "read"),
    ("4.8", 12, 420, 340, 310, "read"),
    ("5.6", 20, 500, 300, 280, "from memory"),
    ("5.8", 20, 520, 420, 380, "read"),
    ("6.8", 20, 600, 480, 440, "from memory"),
    ("8.8", 16, 800, 640, 580, "from memory"),
    ("8.8", 20, 830, 660, 600, "read"),
    ("9.8", 16, 900, 720, 650, "read"),
    ("10.9", 20, 1040, 940, 830, "read"),
    ("12.9", 20, 1220, 1100, 970, "read"),
]


@pytest.mark.parametrize(("name", "d", "tensile", "yield_stress", "proof", "status"), CLASSES)
def test_strengths_of_property_classes(compare, name, d, tensile, yield_stress, proof, status):
    row = bolts.strength_class(name, d)
    for what, computed, published in (
        ("tensile strength", row.tensile, tensile),
        ("yield point", row.yield_stress, yield_stress),
        ("proof stress", row.proof, proof),
    ):
        compare(
            f"{what} of class {name} at M{d} [MPa]",
            computed,
            published,
            rtol=1e-12,
            source="ISO 898-1:1999, mechanical properties",
            status=status,
            why="a table is copied or it is not",
        )


@pytest.mark.parametrize(("d", "pitch", "name", "force"), [(16, 2, "8.8", 91060), (24, 3, "10.9", 292990)])
def test_proof_loads(compare, d, pitch, name, force):
    compare(
        f"proof load M{d} of class {name} [N]",
        bolts.proof_load(bolts.strength_class(name, d).proof, bolts.stress_area(d, pitch)),
        force,
        rtol=4e-3,
        source="ISO 898-1, printed stress area times proof stress",
        status="from memory",
        why="printed area has three digits",
    )
