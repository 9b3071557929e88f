"""The coverage page and the page of changes as a person reads them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from halfbore.catalogue.changes import changes, concerned
from halfbore.catalogue.coverage import coverage
from halfbore.demo.suppliers import load
from halfbore.present.catalogues import changes_text, concern_text, coverage_text


def plain(text: str) -> str:
    return " ".join(text.replace("\u202f", " ").replace("\u00a0", " ").split())


def test_the_coverage_page_says_what_is_blind_and_why() -> None:
    text = plain(coverage_text(coverage(load("first"))))
    assert text.startswith("Quernvold Split Units, version 2026-1: 3 320 units. All data invented.")
    assert (
        "row size 1 106 bores in 894 units: 43 metric, 40 mm to 560 mm; 63 inch, 1 7/16 in to 22 in" in text
    )
    assert "seals packing all, labyrinth all, closed-end 2 852" in text
    assert "lead times 1 to 16 weeks" in text
    assert "support alone none given" in text
    assert "axial chain in 1 660 of 3 320 units: flange pv limit" in text
    assert "support price in all 3 320 units: what a support costs as a spare" in text


def test_the_page_fits_a_window_and_holds_no_nan() -> None:
    units = load("first").units.take(slice(0, 9))
    blank = {
        name: np.full_like(getattr(units, name), np.nan)
        for name in ("price", "seal_price", "lead_time", "rollers")
    }
    for catalogue in (load("second"), replace(load("first"), units=replace(units, **blank))):
        text = coverage_text(coverage(catalogue))
        assert max(map(len, text.splitlines())) <= 112
        assert "nan" not in text
    assert "Ratings of all 9 units could not be checked" in plain(text)
    assert "lead times none given" in plain(text)


def test_no_check_is_blind() -> None:
    first = load("first")
    whole = replace(first.units, flange_pv_limit=np.where(first.units.locating, 20.0, np.nan))
    assert "No check is blind" in coverage_text(coverage(replace(first, units=whole)))


def test_changes_in_a_few_lines_and_in_full() -> None:
    old = load("first")
    units = old.units.take(slice(5, None))
    rating = units.dynamic_rating.copy()
    rating[7] *= 1.05
    price = units.price * np.linspace(0.95, 1.2, len(units))
    mass = units.mass + (np.arange(len(units)) < 30)
    new = replace(old, version="2027", units=replace(units, dynamic_rating=rating, price=price, mass=mass))
    found = changes(old, new)
    text = plain(changes_text(found))
    assert text.startswith(
        "Quernvold Split Units: version 2026-1 → 2027 withdrawn 5 units: d40.w1.n.uP.aJ.bJ.g1,"
    )
    assert "price of 3 315 units: −5.0 % to +20.0 %, in the middle +7.5 %" in text
    assert "ratings d40.w3.n.uP.aJ.bJ.g1: dynamic rating 112 kN → 118 kN (+5.0 %)" in text
    assert "data mass in 30 units" in text
    assert len(changes_text(found).splitlines()) < 15
    assert changes_text(found, detail=True).count("mass ") == 30
    gone, other = concerned(found, old, [str(old.units.code[0]), str(old.units.code[12])])
    assert concern_text(gone) == "d40.w1.n.uP.aJ.bJ.g1: withdrawn"
    assert plain(concern_text(other)).startswith(
        "d40.w3.n.uP.aJ.bJ.g1: dynamic rating 112 kN → 118 kN (+5.0 %)"
    )


def test_no_change_and_a_change_too_small_to_be_rounded() -> None:
    old = load("first")
    assert "nothing changed in 3" in changes_text(changes(old, replace(old, version="2027")))
    mass = old.units.mass.copy()
    mass[0] += 0.0001
    text = changes_text(
        changes(old, replace(old, version="2027", units=replace(old.units, mass=mass))), detail=True
    )
    assert f"mass {old.units.mass[0]:.6g} → {mass[0]:.6g}" in plain(text)
