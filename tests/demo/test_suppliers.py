"""The invented suppliers: what their catalogues hold, leave out, and that they are plausible."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from halfbore.catalogue.validate import dynamic_by_geometry, static_by_geometry
from halfbore.demo.suppliers import load, load_catalogue, write_catalogues
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.unit import Hand, Support, UnitTable, joined
from halfbore.errors import InputError

NAMES = ("first", "second")


@pytest.fixture(params=NAMES)
def catalogue(request: pytest.FixtureRequest) -> Catalogue:
    return load(request.param)


def test_each_catalogue_says_that_it_is_invented(catalogue: Catalogue) -> None:
    assert catalogue.invented
    assert catalogue.currency == "EUR"
    assert len(set(catalogue.units.code.tolist())) == len(catalogue.units)


def test_each_catalogue_has_three_hundred_base_units(catalogue: Catalogue) -> None:
    u = catalogue.units
    assert len(set(zip(u.size.tolist(), u.row_size.tolist(), u.locating.tolist(), strict=True))) >= 300


def test_the_catalogues_join() -> None:
    both = joined([load(name).units for name in NAMES])
    assert len(both) == sum(len(load(name).units) for name in NAMES)
    assert set(both.supplier.tolist()) == {"Quernvold Split Units", "Tolvarden Rollerworks"}


def test_bores_reach_as_far_as_the_suppliers_say() -> None:
    first, second = load("first").units, load("second").units
    metric = np.array([text.endswith("mm") for text in first.size.tolist()])
    assert (first.bore[metric].min(), first.bore[metric].max()) == (40, 560)
    assert (first.bore[~metric].min(), first.bore[~metric].max()) == pytest.approx((1.4375 * 25.4, 22 * 25.4))
    metric = np.array([text.endswith("mm") for text in second.size.tolist()])
    assert (second.bore[metric].min(), second.bore[metric].max()) == (50, 500)
    assert (second.bore[~metric].min(), second.bore[~metric].max()) == pytest.approx((1.5 * 25.4, 20 * 25.4))


@pytest.mark.parametrize(
    ("name", "missing"),
    [
        ("first", {"flange_pv_limit", "support_price"}),
        ("second", {"clearance_max", "joint_clear", "joint_eased"}),
    ],
)
def test_each_catalogue_leaves_out_what_it_shall(name: str, missing: set[str]) -> None:
    assert {hole.field for hole in load(name).holes} == missing


def test_a_computed_fatigue_limit_is_told() -> None:
    assert any("ISO 281:2007, B.3.3.3" in note for note in load("second").notes)
    assert not any("B.3.3.3" in note for note in load("first").notes)


def test_printed_ratings_are_those_of_the_rollers(catalogue: Catalogue) -> None:
    u = catalogue.units
    np.testing.assert_allclose(
        u.dynamic_rating, dynamic_by_geometry(u), rtol=0.006
    )  # three digits are printed
    np.testing.assert_allclose(u.static_rating, static_by_geometry(u), rtol=0.006)
    assert (u.rollers % 2 == 0).all()  # the cage is in two like halves


def test_a_heavier_row_bears_more_and_turns_slower(catalogue: Catalogue) -> None:
    u = catalogue.units
    plain = u.take((u.support == Support.PLAIN) & u.locating)
    for size in dict.fromkeys(plain.size.tolist()):
        rows = plain.take(plain.size == size)
        order = np.argsort(rows.row_size)
        assert (np.diff(rows.dynamic_rating[order]) > 0).all()
        assert (np.diff(rows.speed_limit[order]) <= 0).all()
        assert (np.diff(rows.mass[order]) > 0).all()


@pytest.mark.parametrize(
    ("field", "low", "high"),
    [
        # what an engineer expects of a medium unit at 100 mm; common practice, no source
        ("dynamic_rating", 250e3, 450e3),
        ("mass", 28, 50),
        ("price", 1500, 3500),
        ("axial_capacity", 3e3, 40e3),
        ("length", 160, 230),
        ("speed_limit", 1500, 3000),
        ("clamp_grip", 15e3, 60e3),
        ("heaviest_half", 8, 25),
    ],
)
@pytest.mark.parametrize("name", NAMES)
def test_a_medium_unit_of_100_mm_is_plausible(name: str, field: str, low: float, high: float) -> None:
    u = load(name).units
    unit = u.take((u.size == "100 mm") & (u.row_size == 2) & u.locating & (u.support == Support.PLAIN))
    assert low <= getattr(unit, field)[0] <= high


def test_parts_weigh_and_cost_less_than_the_whole(catalogue: Catalogue) -> None:
    u = catalogue.units
    assert (u.bearing_mass + u.support_mass < u.mass).all()
    assert (u.bearing_price < u.price).all()
    assert (u.heaviest_half < u.mass).all()
    assert (u.hand[u.support != Support.SIDE_ENTRY] == Hand.NONE).all()
    assert set(u.hand[u.support == Support.SIDE_ENTRY].tolist()) == {Hand.LEFT, Hand.RIGHT}


def test_written_catalogues_read_back_the_same(tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("catalogues")
    for name, mapping in zip(NAMES, write_catalogues(folder), strict=True):
        made, read = load(name), load_catalogue(mapping.name, folder)
        assert (read.scheme, read.holes, read.notes) == (made.scheme, made.holes, made.notes)
        for field in dataclasses.fields(UnitTable):
            np.testing.assert_array_equal(getattr(read.units, field.name), getattr(made.units, field.name))


def test_an_unknown_demo_catalogue_is_refused(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.raises(InputError, match="demo:first, demo:second"):
        load_catalogue("demo:third", tmp_path_factory.mktemp("empty"))
    with pytest.raises(InputError, match="no such mapping file"):
        load_catalogue("mine.toml", tmp_path_factory.mktemp("none"))
