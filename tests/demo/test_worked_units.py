"""The demo catalogues against three units worked by hand in docs/demo-units.md (ISO 281:2007, ISO 76:2006)."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from halfbore.catalogue.validate import dynamic_by_geometry, static_by_geometry
from halfbore.demo.suppliers import load
from halfbore.standards import iso281_2007

DOC = Path(__file__).parents[2] / "docs" / "demo-units.md"
WORKED = [
    # catalogue, code, (Z, D_we, L_we, D_pw), f_c, C_r, C_0r, C_u by hand; ratings as printed
    (
        "first",
        "d100.w2.l.uP.aJ.bJ.g1",
        (18, 20, 27.2, 140),
        87.843,
        (275_250, 369_300, 40_680),
        (275e3, 369e3),
    ),
    (
        "first",
        "d40.w3.l.uP.aJ.bJ.g1",
        (12, 14, 20.6, 66.8),
        88.508,
        (112_380, 120_360, 14_630),
        (112e3, 120e3),
    ),
    (
        "second",
        "79-31-1N-001/D",
        (16, 28.0, 45.7, 179.41),
        88.382,
        (544_800, 760_200, 77_840),
        (542_683, 760_646),
    ),
]


@pytest.mark.parametrize(("name", "code", "geometry", "f_c", "by_hand", "printed"), WORKED)
def test_ratings_are_those_worked_by_hand(name, code, geometry, f_c, by_hand, printed):  # type: ignore[no-untyped-def]
    units = load(name).units
    unit = units.take(units.code == code)
    assert len(unit) == 1
    read = (unit.rollers[0], unit.roller_diameter[0], unit.roller_length[0], unit.pitch_diameter[0])
    np.testing.assert_allclose(read, geometry, rtol=1e-4)  # four decimals of an inch
    gamma = unit.roller_diameter[0] / unit.pitch_diameter[0]
    assert float(np.asarray(iso281_2007.f_c(gamma))) == pytest.approx(f_c, abs=6e-4)
    dynamic, static = float(dynamic_by_geometry(unit)[0]), float(static_by_geometry(unit)[0])
    assert (dynamic, static) == pytest.approx(by_hand[:2], rel=2e-4)  # by hand to four or five digits
    assert (unit.dynamic_rating[0], unit.static_rating[0]) == pytest.approx(printed, rel=1e-5)
    assert unit.fatigue_limit[0] == pytest.approx(by_hand[2], rel=2.5e-3)  # the catalogue prints three digits


@pytest.mark.parametrize(("code", "by_hand"), [(row[1], row[4]) for row in WORKED])
def test_the_document_shows_the_same_figures(code, by_hand):  # type: ignore[no-untyped-def]
    text = DOC.read_text(encoding="utf-8")
    assert f"`{code}`" in text
    for figure in by_hand:
        assert f"**{figure:,} N**".replace(",", " ") in text
