"""A catalogue in several tables: the same units as in one, every row accounted for, every lost key named."""

from __future__ import annotations

import dataclasses
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xlsxwriter

from halfbore import limits
from halfbore.catalogue.admit import admitted
from halfbore.demo import quernvold, suppliers, tolvarden
from halfbore.domain.catalogue import Part
from halfbore.domain.unit import UnitTable
from halfbore.errors import InputError, LimitError
from halfbore.intake.catalogue import CatalogueReading, catalogue_from, read_catalogue, read_tables
from halfbore.intake.mapping import read_mapping_data, read_mapping_text
from halfbore.intake.tables import Sheet
from halfbore.ordering.scheme import read_code, write_code
from tests.hardening.plain_toml import dumped
from tests.intake.split_tables import Rows, joined_mapping, taken_apart

KEYS = {
    "second": {
        "housings": ("Unidad Eje",),
        "bearings": ("Unidad Eje", "Unidad Fila"),
        "supports": ("Unidad Eje", "Unidad Soporte"),
        "inside": ("Unidad Eje", "Unidad Fila", "Unidad Fijación"),
    },
    "first": {
        "housings": ("Seat",),
        "bearings": ("Seat", "Row"),
    },
}


def apart(name: str) -> tuple[dict[str, Any], dict[str, Rows]]:
    """Return mapping and tables of a demo supplier whose one table is taken apart."""
    maker = {"first": quernvold, "second": tolvarden}[name]
    plain = tomllib.loads(suppliers.mapping_text(maker))
    columns = maker.columns()
    headings = [" ".join(column.heading) for column in columns]
    rows = [list(cells) for cells in zip(*(column.cells for column in columns), strict=True)]
    tables, home = taken_apart(headings, rows, KEYS[name], "units")
    return joined_mapping(plain, home, KEYS[name], "units"), tables


def the_same(one: UnitTable, other: UnitTable) -> None:
    for field in dataclasses.fields(UnitTable):
        np.testing.assert_array_equal(getattr(one, field.name), getattr(other, field.name), field.name)


@pytest.mark.parametrize("name", KEYS)
def test_one_table_and_several_give_the_very_same_units(name: str) -> None:
    data, tables = apart(name)
    assert len(tables["housings"]) < len(tables["bearings"]) < len(tables["units"])
    sheets = {table: Sheet(table, tuple(map(tuple, rows))) for table, rows in tables.items()}
    reading = read_tables(read_mapping_data(data), sheets)
    found, whole = admitted(reading.catalogue, reading.place), suppliers.load(name)
    the_same(found.units, whole.units)
    assert found.scheme == whole.scheme
    assert found.holes == whole.holes


def workbook(path: Path, tables: dict[str, Rows]) -> None:
    with xlsxwriter.Workbook(str(path), {"strings_to_numbers": False}) as book:
        for name, rows in tables.items():
            sheet = book.add_worksheet(name)
            for i, row in enumerate(rows):
                sheet.write_row(i, 0, row)


def test_five_sheets_of_a_workbook_and_of_bytes(tmp_path: Path) -> None:
    data, tables = apart("second")
    workbook(tmp_path / "tolvarden.xlsx", tables)
    (tmp_path / "map.toml").write_text(dumped(data), encoding="utf-8")
    reading = read_catalogue(tmp_path / "map.toml")
    the_same(
        reading.catalogue.units,
        dataclasses.replace(
            suppliers.load("second").units, fatigue_limit=reading.catalogue.units.fatigue_limit
        ),
    )
    files = {"tolvarden.xlsx": (tmp_path / "tolvarden.xlsx").read_bytes(), "other.csv": b"never looked at"}
    the_same(catalogue_from(dumped(data), files).catalogue.units, reading.catalogue.units)
    assert reading.place(7, "bore") == "tolvarden.xlsx, sheet 'units', row 9, column 'Unidad Eje'"
    assert "sheet 'bearings'" in reading.place(7, "rollers")


# A small supplier in five tables

MAPPING = """
format = 1
supplier = "Brandelow"
version = "1"
currency = "EUR"

[table]
file = "brandelow.xlsx"
blanks = ["", "-"]

[tables.made]
[tables.bearings]
keys = { "Bearing" = "made.Bearing" }
[tables.housings]
keys = { "No" = "bearings.Housing" }
[tables.supports]
keys = { "Housing" = "housings.No", "Kind" = "made.Kind" }
[tables.packing]
only = { "Seal" = "P" }
keys = { "Shaft" = "bearings.Bore" }
missing = "blank"

[fields]
code = { pattern = "{made.Bearing}-{made.Kind}" }
size = { table = "bearings", heading = "Bore" }
bore = { table = "bearings", heading = "Bore", unit = "mm" }
row_size = "1"
locating = "non-locating"
dynamic_rating = { table = "bearings", heading = "C", unit = "kN" }
length = { table = "housings", heading = "L", unit = "mm" }
mass = { table = "supports", heading = "Mass", unit = "kg" }
[fields.support]
table = "made"
heading = "Kind"
letters = { P = "plain", G = "flange" }
[fields.seal_offered]
packing = "yes"
labyrinth = "no"
closed-end = "no"
[fields.seal_price]
packing = { table = "packing", heading = "Price" }

[scheme]
form = "listed"
fixed = { seal_left = "packing", seal_right = "packing", clearance = "1" }
"""
TABLES: dict[str, Rows] = {
    "made": [["Bearing", "Kind"], ["B100", "P"], ["B100", "G"], ["B120", "P"]],
    "bearings": [
        ["Bearing", "Bore", "Housing", "C"],
        ["B100", "100", "H1", "170"],
        ["B120", "120", "H2", "210"],
    ],
    "housings": [["No", "L"], ["H1", "180"], ["H2", "-"]],
    "supports": [["Housing", "Kind", "Mass"], ["H1", "P", "40"], ["H1", "G", "30"], ["H2", "P", "55"]],
    "packing": [["Shaft", "Seal", "Price"], ["100.0", "P", "60"], ["100", "W", "140"], ["140", "P", "70"]],
}


def read(mapping: str = MAPPING, **changed: Rows) -> CatalogueReading:
    sheets = {n: Sheet(f"sheet {n}", tuple(map(tuple, rows))) for n, rows in (TABLES | changed).items()}
    return read_tables(read_mapping_text(mapping, "map.toml"), sheets)


def refusal(mapping: str = MAPPING, **changed: Rows) -> list[str]:
    with pytest.raises(InputError) as raised:
        read(mapping, **changed)
    return [problem.sentence() for problem in raised.value.problems]


def test_joined_on_keys_and_a_blank_is_not_zero() -> None:
    units = read().catalogue.units
    assert units.code.tolist() == ["B100-P", "B100-G", "B120-P"]
    assert units.mass.tolist() == [40, 30, 55]
    np.testing.assert_array_equal(units.length, [180, 180, np.nan])
    np.testing.assert_array_equal(units.seal_price[:, 0], [60, 60, np.nan])


def test_rows_that_no_unit_rests_on_are_told_with_their_keys() -> None:
    assert read().catalogue.notes == (
        "no row of table 'packing' for 1 row, fields left blank: sheet bearings, row 3, column 'Bore' (120)",
        "1 row of table 'packing' that no unit uses: sheet packing, row 4 (140)",
        "1 row of no table of the mapping: sheet packing, row 3",
    )


def test_places_name_the_sheet_of_each_value() -> None:
    reading = read()
    assert reading.place(2, "bore") == "sheet bearings, row 3, column 'Bore'"
    assert reading.place(1, "mass") == "sheet supports, row 3, column 'Mass'"
    assert reading.place(2, "seal_price.packing") == "sheet made, row 4"
    assert refusal(bearings=[*TABLES["bearings"][:2], ["B120", "12O", "H2", "210"]])[0].startswith(
        "sheet bearings, row 3, column 'Bore'"
    )


def test_a_combination_that_names_a_missing_part_is_refused() -> None:
    assert refusal(made=[*TABLES["made"], ["X100", "P"]]) == [
        "sheet made, row 5, column 'Bearing': names no row of table 'bearings'; read 'X100'; "
        "accepted: a key of table 'bearings', the nearest is B100"
    ]
    assert (
        "sheet made, row 5, column 'Bearing': the key is blank"
        in refusal(made=[*TABLES["made"], ["", "P"]])[0]
    )


def test_keys_that_stand_twice_or_nowhere_are_refused() -> None:
    told = refusal(housings=[*TABLES["housings"], ["H1", "190"], ["", "5"]])
    assert told == [
        "sheet housings, row 4, column 'No': two rows have one key; read 'H1'; "
        "accepted: one row a key: see sheet housings, row 2",
        "sheet housings, row 5, column 'No': the key is blank; no unit can find this row of table 'housings'",
    ]


def test_a_name_is_no_number_and_a_number_is_its_value() -> None:
    """100 and 100.0 are one shaft (see `packing`); 007 and 7 are two names, and so is every pair of these."""
    for one, other in (("1E5", "100000"), ("1234567890123456", "1234567890123457"), ("7", "7.0x")):
        bearings = [["Bearing", "Bore", "Housing", "C"], [other, "100", "H1", "170"]]
        assert "names no row" in refusal(made=[["Bearing", "Kind"], [one, "P"]], bearings=bearings)[0]
    made = [["Bearing", "Kind"], ["007", "P"]]
    assert (
        "names no row"
        in refusal(made=made, bearings=[["Bearing", "Bore", "Housing", "C"], ["7", "100", "H1", "170"]])[0]
    )


WITHOUT_COMBINATIONS = (
    MAPPING.replace("[tables.made]\n", "")
    .replace('[tables.bearings]\nkeys = { "Bearing" = "made.Bearing" }', "[tables.bearings]")
    .replace("[tables.housings]\n", '[tables.housings]\nmissing = "leave out"\n')
    .replace(
        'keys = { "Housing" = "housings.No", "Kind" = "made.Kind" }',
        'keys = { "Housing" = "housings.No" }\nmatches = "each"',
    )
    .replace("{made.Bearing}-{made.Kind}", "{bearings.Bearing}-{supports.Kind}")
    .replace('table = "made"', 'table = "supports"')
)


def test_without_combinations_every_support_of_a_housing_makes_a_unit() -> None:
    units = read(WITHOUT_COMBINATIONS).catalogue.units
    assert units.code.tolist() == ["B100-P", "B100-G", "B120-P"]
    the_same(units, read().catalogue.units)


def test_a_bearing_without_a_housing_is_a_remark_with_its_count() -> None:
    more = [*TABLES["bearings"], ["B140", "140", "H9", "260"], ["B160", "160", "", "300"]]
    reading = read(WITHOUT_COMBINATIONS, bearings=more)
    assert len(reading.catalogue.units) == 3
    assert reading.catalogue.notes[0] == (
        "no row of table 'housings' for 2 rows, no unit made: "
        "sheet bearings, row 4, column 'Housing' (H9); sheet bearings, row 5, column 'Housing' (blank)"
    )


def test_no_unit_at_all_is_refused_with_the_reason() -> None:
    told = refusal(WITHOUT_COMBINATIONS, housings=[["No", "L"], ["X", "1"]])
    assert "no row makes a unit" in told[0]
    assert "no row of table 'housings' for 2 rows" in told[0]


def test_a_field_that_no_unit_may_lack_is_told_where_its_table_has_no_row() -> None:
    mapping = MAPPING.replace('packing = "yes"', 'packing = { table = "packing", heading = "Made" }')
    rows = [["Shaft", "Seal", "Price", "Made"], ["100", "P", "60", "yes"]]
    told = refusal(mapping, packing=rows)
    assert told == [
        "sheet made, row 4: is blank: table 'packing' has no row for this unit; read 'seal_offered.packing'"
    ]


def test_the_units_are_counted_before_they_are_made() -> None:
    many = [["Housing", "Kind", "Mass"], *([["H1", "P", "40"]] * (limits.UNITS // 50))]
    bearings = [TABLES["bearings"][0], *([f"B{i}", "100", "H1", "170"] for i in range(60))]
    with pytest.raises(LimitError, match="too many units; read '120000'; accepted: up to 100000"):
        read(WITHOUT_COMBINATIONS, bearings=bearings, supports=many)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (
            '"made.Bearing" }',
            '"mad.Bearing" }',
            "tables.bearings.keys.Bearing: names no table above; read 'mad.Bearing'; accepted: made.heading",
        ),
        ('keys = { "No" = "bearings.Housing" }', "", "tables.housings.keys: needs keys that join it"),
        ('missing = "blank"', 'missing = "zero"', "tables.packing.missing: is not one of the choices"),
        (
            "[tables.housings]",
            '[tables.housings]\nmatches = "all"',
            "tables.housings.matches: is not one of the choices",
        ),
        ("[tables.made]", '[tables."Made here"]', "is no name of a table"),
        ("[tables.made]", '[tables.made]\nkeys = { "A" = "bearings.B" }', "tables.made: unknown key 'keys'"),
        (
            'blanks = ["", "-"]',
            'blanks = ["", "-"]\ndecimal = "x"',
            "table.decimal: is not one of the choices",
        ),
        ("[tables.made]", '[tables.made]\ndecimal = "x"', "tables.made.decimal: is not one of the choices"),
        (
            'length = { table = "housings", heading',
            "length = { heading",
            "fields.length.table: is missing; accepted: made, bearings",
        ),
        (
            'length = { table = "housings"',
            'length = { table = "house"',
            "fields.length.table: is not one of the choices; read 'house'",
        ),
        (
            'only = { "Seal" = "P" }',
            'only = { "Seal" = "Q" }',
            "no row belongs to the table; accepted: Seal: Q",
        ),
        (
            'only = { "Seal" = "P" }',
            'only = { "Kind" = "P" }',
            "sheet packing: the heading is not there; read 'Kind'",
        ),
        (
            '"No" = "bearings.Housing"',
            '"No" = "bearings.House"',
            "sheet bearings: the heading is not there; read 'House'; accepted: nearest heading: Housing",
        ),
        (
            '"No" = "bearings.Housing"',
            '"Nr" = "bearings.Housing"',
            "sheet housings: the heading is not there; read 'Nr'",
        ),
        ("{made.Kind}", "{made.Kinds}", "sheet made: the heading is not there; read 'Kinds'"),
        ("{made.Kind}", "{Kind}", "fields.code.pattern: names no table"),
        ('file = "brandelow.xlsx"', 'file = ".."', "table.file: is a path"),
    ],
)
def test_a_mapping_of_tables_says_where_it_is_wrong(old: str, new: str, told: str) -> None:
    assert old in MAPPING
    assert [t for t in refusal(MAPPING.replace(old, new)) if told in t], refusal(MAPPING.replace(old, new))


def test_a_shared_fault_is_told_once() -> None:
    assert len(refusal(MAPPING.replace('blanks = ["", "-"]', 'decimal = "x"'))) == 1


def test_a_mapping_that_still_holds_a_question_mark_is_refused_at_each_place() -> None:
    told = refusal(MAPPING.replace('"kN"', '"?"').replace('"bearings.Housing"', '"?"'))
    assert told == [
        "map.toml, tables.housings.keys.No: is not settled; read '?'; put what it is in place of the question mark",
        "map.toml, fields.dynamic_rating.unit: is not settled; read '?'; put what it is in place of the question mark",
    ]


def test_prices_in_one_currency_or_not_at_all() -> None:
    mapping = MAPPING.replace('currency = "EUR"', 'currency = { table = "bearings", heading = "Cur" }')
    bearings = [[*row, cur] for row, cur in zip(TABLES["bearings"], ("Cur", "USD", "USD"), strict=True)]
    assert read(mapping, bearings=bearings).catalogue.currency == "USD"
    assert set(read(mapping, bearings=bearings).catalogue.units.currency.tolist()) == {"USD"}
    bearings[2][-1] = "EUR"
    (told,) = refusal(mapping, bearings=bearings)
    assert "sheet bearings, row 3, column 'Cur': the prices are in several currencies" in told
    assert "read '1 × EUR, 2 × USD'" in told
    assert "dated rate" in told
    bearings[2][-1] = "euro"
    assert any("is no currency code; read 'euro'" in t for t in refusal(mapping, bearings=bearings))


def test_columns_that_nobody_reads_are_told_unless_they_are_named() -> None:
    more = [[*row, extra] for row, extra in zip(TABLES["housings"], ("Paint", "grey", "grey"), strict=True)]
    note = "sheet housings: columns that the mapping does not read: Paint"
    assert note in read(housings=more).catalogue.notes
    ignored = MAPPING.replace("[tables.housings]", '[tables.housings]\nignored = ["Paint"]')
    assert note not in read(ignored, housings=more).catalogue.notes


def test_listed_codes_are_read_and_written_whole() -> None:
    catalogue = read().catalogue
    ordered = read_code("B100-G", catalogue.scheme, catalogue.supplier)
    assert (ordered.size, ordered.support, ordered.seal_left, ordered.clearance) == (
        "100",
        "flange",
        "packing",
        1,
    )
    assert write_code(ordered, catalogue.scheme) == "B100-G"
    with pytest.raises(InputError):
        read_code("B100-X", catalogue.scheme, catalogue.supplier)


def test_listed_codes_with_words_for_the_rest() -> None:
    words = """
form = "listed"
separator = "."
fixed = { clearance = "1" }
words = [
  { tag = "a", features = ["seal_left"], letters = { J = "packing", W = "labyrinth" } },
  { tag = "b", features = ["seal_right"], letters = { J = "packing", W = "labyrinth" } },
]
spares = { "!k" = "bearing set" }
"""
    catalogue = read(MAPPING[: MAPPING.index('form = "listed"')] + words).catalogue
    ordered = read_code("B100-P.aW.bJ!k", catalogue.scheme, catalogue.supplier)
    assert (ordered.part, ordered.seal_left, ordered.seal_right) == (Part.BEARING, "labyrinth", "packing")
    assert write_code(ordered, catalogue.scheme) == "B100-P.aW.bJ!k"


def test_letters_stand_for_texts_too() -> None:
    mapping = MAPPING.replace(
        'size = { table = "bearings", heading = "Bore" }',
        'size = { table = "bearings", heading = "Bore", letters = { 100 = "100 mm", 120 = "120 mm" } }',
    )
    assert read(mapping).catalogue.units.size.tolist() == ["100 mm", "100 mm", "120 mm"]
    (told,) = refusal(mapping.replace("120 = ", "125 = "))
    assert (
        "sheet bearings, row 3, column 'Bore': is not one of the letters; read '120'; accepted: 100, 125"
        in told
    )
