"""A supplier's table through a mapping: values, places, and everything that people get wrong."""

from __future__ import annotations

import copy
import dataclasses
import tomllib
from math import isnan, nan, pi
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore import limits
from halfbore.domain.catalogue import Part, PlacedScheme, TaggedScheme
from halfbore.domain.unit import Hand, Support, UnitTable
from halfbore.errors import InputError, Problem
from halfbore.intake.catalogue import CatalogueReading, read_catalogue, read_units
from halfbore.intake.mapping import read_mapping_data, read_mapping_text
from halfbore.intake.tables import Sheet

MAPPING = """
format = 1
supplier = "Brandelow Bearings"
version = "1"
currency = "EUR"

[table]
file = "units.csv"
blanks = ["-"]
skip = ["TOTAL"]

[fields]
code = { pattern = "{Size}/{Row}{Axial}{Made}" }
size = { heading = "Size" }
bore = { heading = "Bore", unit = "in" }
row_size = { heading = "Row" }
locating = { heading = "Axial", letters = { F = "non-locating", X = "locating" } }
dynamic_rating = { heading = "C", unit = "kN" }
static_alignment = "1.2 deg"
lead_time = { heading = "Lead", letters = { stock = "3 days" }, unit = "weeks" }
[fields.seal_offered]
packing = "yes"
labyrinth = { heading = "Lab" }
closed-end = "no"
[fields.clearance_min]
1 = { heading = "Cl", unit = "µm" }

[[expand]]
heading = "Made"
separator = "+"
[expand.options.A]
support = "plain"
hand = "none"
mass = { heading = "Mass A", unit = "kg" }
[expand.options.L]
support = "side-entry"
hand = "left"
mass = { heading = "Mass L", unit = "lb" }

[scheme]
form = "tagged"
separator = "/"
words = [
  { features = ["size"], heading = "Size" },
  { features = ["row_size", "locating", "support", "hand"], letters = { 1FA = ["1", "non-locating", "plain", "none"] } },
]
fixed = { seal_left = "packing", seal_right = "packing", clearance = "1" }
spares = { "*b" = "bearing set" }
"""
HEADINGS = ("Size", "Bore", "Row", "Axial", "C", "Lead", "Lab", "Cl", "Made", "Mass A", "Mass L")
GOOD = ("k7", "4 15/16", "1", "F", "250.5", "stock", "yes", "55", "A+L", "30", "70")
BLANK = ("k8", "125 mm", "2", "X", "-", "", "no", "", "A", "31", "")


def reading(
    *rows: tuple[str, ...], mapping: str = MAPPING, headings: tuple[str, ...] = HEADINGS
) -> CatalogueReading:
    return read_units(read_mapping_text(mapping, "map.toml"), Sheet("units.csv", (headings, *rows)))


def refusal(*rows: tuple[str, ...], **more: Any) -> list[str]:
    with pytest.raises(InputError) as raised:
        reading(*rows, **more)
    return [problem.sentence() for problem in raised.value.problems]


def changed(row: tuple[str, ...], **cells: str) -> tuple[str, ...]:
    return tuple(cells.get(h.replace(" ", "_"), cell) for h, cell in zip(HEADINGS, row, strict=True))


def test_values_in_internal_units() -> None:
    units = reading(GOOD, BLANK).catalogue.units
    assert units.code.tolist() == ["k7/1FA", "k7/1FL", "k8/2XA"]
    assert units.bore.tolist() == [125.4125, 125.4125, 125.0]
    assert units.locating.tolist() == [False, False, True]
    assert units.support.tolist() == [Support.PLAIN, Support.SIDE_ENTRY, Support.PLAIN]
    assert units.hand.tolist() == [Hand.NONE, Hand.LEFT, Hand.NONE]
    assert units.dynamic_rating[0] == 250_500
    np.testing.assert_allclose(units.mass, [30, 70 * 0.45359237, 31])
    assert units.lead_time[0] == 72
    assert units.static_alignment[0] == pytest.approx(1.2 * pi / 180)
    assert units.seal_offered.tolist() == [[True, True, False]] * 2 + [[True, False, False]]
    assert units.supplier[0] == "Brandelow Bearings"
    assert units.currency[0] == "EUR"


def test_blank_is_not_a_number_and_never_zero() -> None:
    units = reading(BLANK).catalogue.units
    assert isnan(units.dynamic_rating[0])
    assert isnan(units.lead_time[0])
    np.testing.assert_array_equal(units.clearance_min, [[nan, nan, nan]])
    assert isnan(units.price[0])


def test_blank_rows_are_passed_over_and_totals_counted() -> None:
    found = reading(GOOD, ("",) * 11, ("TOTAL", "2"), BLANK).catalogue
    assert len(found.units) == 3
    assert found.notes == ("rows left out as the mapping says: 1",)


def test_places_lead_back_to_the_file() -> None:
    found = reading(GOOD, BLANK)
    assert found.place(0, "mass") == "units.csv, row 2, column 'Mass A'"
    assert found.place(1, "mass") == "units.csv, row 2, column 'Mass L'"
    assert found.place(2, "bore") == "units.csv, row 3, column 'Bore'"
    assert found.place(2, "static_alignment") == "fields.static_alignment"
    assert found.place(2, "price") == "units.csv, row 3"


def test_all_bad_cells_are_told_at_once() -> None:
    bad = changed(GOOD, Bore="4 1/0", C="1,5", Axial="Q", Mass_L="heavy", Lab="perhaps")
    told = refusal(bad, changed(BLANK, Bore="", Cl="2025-04-07", Row="half", Size=""))
    assert len(told) == 9
    assert any(t.startswith("units.csv, row 2, column 'Bore'") and "zero" in t for t in told)
    assert any(
        "column 'C': has a ','; read '1,5'; accepted: a number in kN with the decimal sign '.'" in t
        for t in told
    )
    assert any("column 'Axial': is not one of the letters; read 'Q'; accepted: F, X" in t for t in told)
    assert any("column 'Mass L'" in t and "'heavy" in t for t in told)
    assert any(
        "column 'Lab': is not one of the letters; read 'perhaps'; accepted: yes, no" in t for t in told
    )
    assert any("row 3, column 'Bore': is blank" in t for t in told)
    assert any(
        "column 'Cl': is a date; read '2025-04-07'" in t and "spreadsheet changed it" in t for t in told
    )
    assert any("column 'Row'" in t for t in told)
    assert "units.csv, row 3, column 'Size': is blank" in told


def test_a_cell_that_no_unit_rests_on_may_hold_anything() -> None:
    assert len(reading(changed(BLANK, Mass_L="not made")).catalogue.units) == 1


def test_many_bad_cells_are_counted() -> None:
    told = refusal(*(changed(GOOD, Bore="?", Size=f"k{i}") for i in range(limits.PROBLEMS + 7)))
    assert len(told) == limits.PROBLEMS + 1
    assert told[-1] == "units.csv: and 7 more bad cells"


def test_decimal_commas_as_the_mapping_says() -> None:
    mapping = MAPPING.replace("[table]", '[table]\ndecimal = ","')
    assert reading(changed(GOOD, C="250,5"), mapping=mapping).catalogue.units.dynamic_rating[0] == 250_500
    assert "has a '.'" in refusal(changed(GOOD, C="1.250"), mapping=mapping)[0]
    assert reading(changed(GOOD, C="1 250,5 N"), mapping=mapping).catalogue.units.dynamic_rating[0] == 1250.5


def test_an_option_that_is_not_known_or_named_twice() -> None:
    assert refusal(changed(GOOD, Made="A+Q")) == [
        "units.csv, row 2, column 'Made': is not an option; read 'Q'; accepted: A, L"
    ]
    assert "an option stands twice" in refusal(changed(GOOD, Made="A+A"))[0]


def test_headings() -> None:
    told = refusal(GOOD, headings=tuple(h.replace("Lead", "Lead time") for h in HEADINGS))
    assert told == ["units.csv: the heading is not there; read 'Lead'; accepted: nearest heading: Lead time"]
    twice = (*HEADINGS, "Bore")
    assert "the heading stands twice; read 'Bore'" in refusal((*GOOD, ""), headings=twice)[0]
    assert "row has more cells than headings" in refusal((*GOOD, "5"))[0]
    assert "no rows below the headings" in refusal()[0]


def test_two_heading_rows_are_joined() -> None:
    mapping = MAPPING.replace("[table]", "[table]\nheader = [1, 2]").replace('"Mass A"', '"Mass in kg A"')
    above = ("",) * 9 + ("Mass in kg", "")
    below = (*HEADINGS[:9], "A", "Mass L")
    rows = Sheet("units.csv", (above, below, GOOD))
    assert read_units(read_mapping_text(mapping), rows).catalogue.units.mass[0] == 30


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("bore = {", "bor = {", "unknown key 'bor'; accepted: nearest known key: bore"),
        ('currency = "EUR"', 'currency = "euros"', "currency: is no currency code; read 'euros'"),
        ("format = 1", "format = 2", "this version of the format is not known; read '2'; accepted: 1"),
        ('file = "units.csv"', 'file = "../units.csv"', "table.file: is a path"),
        (
            'file = "units.csv"',
            'file = "units.csv"\ndelimiter = "tab"',
            "table.delimiter: is not one character",
        ),
        (
            'file = "units.csv"',
            'file = "units.csv"\nencoding = "latin"',
            "table.encoding: is not one of the choices",
        ),
        (
            'file = "units.csv"',
            'file = "units.csv"\nheader = 0',
            "table.header: whole numbers from 1 up are wanted",
        ),
        ('size = { heading = "Size" }', "", "fields.size: is missing: every unit must have it"),
        ('size = { heading = "Size" }', "size = {}", "fields.size: needs a heading or a pattern"),
        ('supplier = "Brandelow Bearings"', "supplier = 7", "supplier: a text is wanted; read '7'"),
        (
            'heading = "C", unit = "kN"',
            'heading = "C", units = "kN"',
            "unknown key 'units'; accepted: nearest known",
        ),
        ('closed-end = "no"', 'closed = "no"', "fields.seal_offered: unknown key 'closed'"),
        ("[fields.clearance_min]", "[fields.clearance_min.x]", "fields.clearance_min: unknown key 'x'"),
        ('separator = "+"', 'separator = "+"\nfoo = 1', "expand[0]: unknown key 'foo'"),
    ],
)
def test_a_wrong_mapping_says_where(old: str, new: str, told: str) -> None:
    assert old in MAPPING
    with pytest.raises(InputError) as raised:
        read_mapping_text(MAPPING.replace(old, new), "map.toml")
    assert any(told in problem.sentence() for problem in raised.value.problems)
    assert all(problem.where.startswith("map.toml") for problem in raised.value.problems)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('heading = "C", unit = "kN"', 'heading = "C", unit = "kg"', "fields.dynamic_rating.unit"),
        ('"1.2 deg"', '"1.2 mm"', "fields.static_alignment"),
        (
            'closed-end = "no"',
            'closed-end = "never"',
            "fields.seal_offered.closed-end: is not one of the letters",
        ),
        ("{Row}", "{Rows}", "the heading is not there; read 'Rows'; accepted: nearest heading: Row"),
        ('form = "tagged"', 'form = "free"', "scheme.form: is not one of the choices; read 'free'"),
        (', clearance = "1" }', " }", "scheme: is not written once; read 'clearance'"),
        ('features = ["size"]', 'features = ["bore"]', "is no feature of a unit; read 'bore'"),
        ('heading = "Size" },\n', 'heading = "Sizes" },\n', "the heading is not there; read 'Sizes'"),
        ('"bearing set"', '"bearings"', "scheme.spares.*b: is not one of the choices"),
    ],
)
def test_a_mapping_that_does_not_fit_its_table(old: str, new: str, told: str) -> None:
    assert old in MAPPING
    assert any(told in t for t in refusal(GOOD, mapping=MAPPING.replace(old, new)))


def test_a_mapping_that_is_no_toml_names_its_line() -> None:
    with pytest.raises(InputError, match=r"map\.toml: is not TOML: .*line 2"):
        read_mapping_text("format = 1\nsupplier = \nversion = 1", "map.toml")


def test_schemes() -> None:
    tagged = reading(GOOD).catalogue.scheme
    assert isinstance(tagged, TaggedScheme)
    assert tagged.words[0].letters.table == (("k7", ("k7",)),)
    assert tagged.fixed == (("seal_left", "packing"), ("seal_right", "packing"), ("clearance", "1"))
    assert tagged.spares == (("*b", Part.BEARING),)
    front = MAPPING[: MAPPING.index("[scheme]")]
    placed = reading(GOOD, mapping=front + PLACED).catalogue.scheme
    assert isinstance(placed, PlacedScheme)
    assert [len(place) for place in placed.places] == [1, 2]
    assert placed.check.weights == (3, 5)


PLACED = """
[scheme]
form = "placed"
separator = "-"
fixed = { seal_left = "packing", seal_right = "packing", clearance = "1" }
check = { separator = "/", values = "k78AL", letters = "ABCDEFG", weights = [3, 5] }
[[scheme.places]]
parts = [{ features = ["size"], heading = "Size" }]
[[scheme.places]]
parts = [
  { features = ["row_size", "locating"], letters = { 7 = ["1", "non-locating"], 8 = ["2", "locating"] } },
  { features = ["support", "hand"], letters = { A = ["plain", "none"], L = ["side-entry", "left"] } },
]
"""


def test_from_a_folder(tmp_path: Path) -> None:
    (tmp_path / "map.toml").write_text(MAPPING, encoding="utf-8")
    (tmp_path / "units.csv").write_text(
        "\n".join(",".join(row) for row in (HEADINGS, GOOD)), encoding="utf-8"
    )
    found = read_catalogue(tmp_path / "map.toml").catalogue.units
    made = reading(GOOD).catalogue.units
    for field in dataclasses.fields(UnitTable):
        np.testing.assert_array_equal(getattr(found, field.name), getattr(made, field.name))
    with pytest.raises(InputError, match="no such mapping file"):
        read_catalogue(tmp_path / "none.toml")


CELLS = st.text(max_size=70) | st.sampled_from(
    [
        "1e999",
        "4 1/0 in",
        "1.200,5 mm",
        "−7",
        "12'",
        "０",
        "O5",
        "0 °F",
        "n/a",
        "1" * 300,
        "'=1+1",
        "{Size}",
        "nan",
        "inf",
    ]
)


@given(st.integers(0, len(HEADINGS) - 1), CELLS)
def test_no_cell_gives_a_traceback_or_loses_a_row(column: int, cell: str) -> None:
    row = (*GOOD[:column], cell, *GOOD[column + 1 :])
    try:
        units = reading(row, BLANK).catalogue.units
    except InputError as error:
        assert error.problems
    else:
        assert len(units) in (2, 3)  # the last row is one unit, the changed one makes one or two
        assert np.isfinite(units.bore).all()


def leaves(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [path] + [leaf for key, value in items for leaf in leaves(value, (*path, key))]


@given(st.data())
def test_no_mapping_gives_a_traceback(data: st.DataObject) -> None:
    mapping = copy.deepcopy(tomllib.loads(MAPPING))
    *way, last = data.draw(st.sampled_from(leaves(mapping)[1:]))
    below = mapping
    for key in way:
        below = below[key]
    below[last] = data.draw(
        st.none()
        | st.booleans()
        | st.integers(-3, 99)
        | st.text(max_size=5)
        | st.just([])
        | st.just({"x": [{}]})
    )
    problems: list[Problem] = []
    try:
        found = read_mapping_data(mapping)
        read_units(found, Sheet("units.csv", (HEADINGS, GOOD, BLANK)))
    except InputError as error:
        problems.extend(error.problems)
        assert problems
