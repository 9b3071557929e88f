"""Catalogues in several tables spoiled at random, seeded; and what workbooks hold besides plain cells."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xlsxwriter

from halfbore.catalogue.admit import admitted
from halfbore.domain.catalogue import Catalogue
from halfbore.errors import InputError, LimitError
from halfbore.intake.catalogue import CatalogueReading, catalogue_from, read_catalogue, read_tables
from halfbore.intake.mapping import read_mapping_data, read_mapping_text
from halfbore.intake.tables import Sheet
from tests.hardening.mutations import MAPPINGS, NASTY, spoiled, spoiled_text
from tests.hardening.plain_toml import dumped
from tests.hardening.test_catalogues import sound
from tests.intake.test_catalogue_tables import MAPPING, WITHOUT_COMBINATIONS

Rows = list[list[str]]
Tables = dict[str, Rows]
BORES = (100, 110, 120, 125, 140)
SHAPES = {"combinations": MAPPING, "cross join": WITHOUT_COMBINATIONS}


def tables() -> Tables:
    """Return five tables in which every bearing goes into one housing on two supports."""
    return {
        "made": [["Bearing", "Kind"], *([f"B{d}", k] for d in BORES for k in "PG")],
        "bearings": [
            ["Bearing", "Bore", "Housing", "C"],
            *([f"B{d}", str(d), f"H{d}", str(1.7 * d)] for d in BORES),
        ],
        "housings": [["No", "L"], *([f"H{d}", str(2 * d - 20)] for d in BORES)],
        "supports": [
            ["Housing", "Kind", "Mass"],
            *([f"H{d}", k, str(d // 3)] for d in BORES for k in "PG"),
        ],
        "packing": [["Shaft", "Seal", "Price"], *([str(d), k, str(d // 2)] for d in BORES for k in "PW")],
    }


def read(data: dict[str, Any], spoilt: Tables) -> CatalogueReading:
    mapping = read_mapping_data(data, "map.toml")
    sheets = {name: Sheet(f"sheet {name}", tuple(map(tuple, spoilt[name]))) for name in mapping.tables}
    return read_tables(mapping, sheets)


def lost(reading: CatalogueReading, spoilt: Tables) -> list[str]:
    """Return the rows that make no unit, serve none and are not told."""
    units, told = reading.source.units, "\n".join(reading.catalogue.notes)
    missing = []
    for name, body in units.bodies.items():
        filled = {i for i, row in enumerate(spoilt[name]) if i and any(cell.strip() for cell in row)}
        used = {body.numbers[row] for row in units.rows[name].tolist() if row >= 0}
        left = filled - used - set(body.skipped)
        missing += [p for i in sorted(left) if (p := f"sheet {name}, row {i + 1}") not in told]
    return missing


def names_a_place(refused: InputError) -> bool:
    return all(p.what and (p.where or p.value) for p in refused.problems)


@pytest.mark.parametrize("shape", SHAPES)
def test_as_they_stand_the_tables_are_sound_and_account_for_every_row(shape: str) -> None:
    reading = read(tomllib.loads(SHAPES[shape]), tables())
    assert len(admitted(reading.catalogue, reading.place).units) == 10
    assert lost(reading, tables()) == []


def _nasty(draw: random.Random, rows: Rows) -> None:
    row = draw.choice(rows[1:])
    row[draw.randrange(len(row))] = draw.choice(NASTY)


def _blank(draw: random.Random, rows: Rows) -> None:
    row = draw.choice(rows[1:])
    row[draw.randrange(len(row))] = ""


def _other(draw: random.Random, rows: Rows) -> None:
    """Put the cell of another row into one: a key that stands twice, a value that is not its own."""
    column = draw.randrange(len(rows[0]))
    draw.choice(rows[1:])[column] = draw.choice(rows[1:])[column]


def _misspelt(draw: random.Random, rows: Rows) -> None:
    row = draw.choice(rows[1:])
    i = draw.randrange(len(row))
    row[i] = row[i].replace("0", "O", 1) if "0" in row[i] else row[i].lower() + " "


def _doubled(draw: random.Random, rows: Rows) -> None:
    rows.insert(draw.randrange(1, len(rows)), list(draw.choice(rows[1:])))


def _removed(draw: random.Random, rows: Rows) -> None:
    del rows[draw.randrange(1, len(rows))]


def _empty_row(draw: random.Random, rows: Rows) -> None:
    rows.insert(draw.randrange(1, len(rows)), [""] * len(rows[0]))


def _total(_draw: random.Random, rows: Rows) -> None:
    rows.append(["TOTAL", "10"])


def _short(draw: random.Random, rows: Rows) -> None:
    draw.choice(rows[1:]).pop()


def _long(draw: random.Random, rows: Rows) -> None:
    draw.choice(rows[1:]).append(draw.choice(["", "x"]))


def _renamed(draw: random.Random, rows: Rows) -> None:
    rows[0][draw.randrange(len(rows[0]))] = draw.choice(["", "Bore", "Seal", "?"])


def _headless(_draw: random.Random, rows: Rows) -> None:
    del rows[0]


def _nothing(_draw: random.Random, rows: Rows) -> None:
    del rows[1:]


def _moved(draw: random.Random, rows: Rows) -> None:
    i, j = draw.sample(range(len(rows[0])), 2)
    for row in rows:
        if len(row) > max(i, j):
            row[i], row[j] = row[j], row[i]


SPOIL: tuple[Callable[[random.Random, Rows], None], ...] = (
    _nasty,
    _nasty,
    _nasty,
    _blank,
    _blank,
    _other,
    _other,
    _misspelt,
    _misspelt,
    _doubled,
    _removed,
    _removed,
    _empty_row,
    _total,
    _short,
    _long,
    _renamed,
    _headless,
    _nothing,
    _moved,
)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("seed", range(60))
def test_spoiled_tables_are_refused_by_place_or_account_for_every_row(shape: str, seed: int) -> None:
    draw, spoilt, data = random.Random(seed), tables(), tomllib.loads(SHAPES[shape])
    where = [draw.choice(sorted(data["tables"])) for _ in range(draw.choice([1, 1, 2, 3]))]
    for name in where:
        draw.choice(SPOIL)(draw, spoilt[name] if len(spoilt[name]) > 1 else spoilt["made"])
    try:
        reading = read(data, spoilt)
        assert sound(admitted(reading.catalogue, reading.place)), where
        assert lost(reading, spoilt) == [], where
    except InputError as refused:
        assert names_a_place(refused), where
        assert all("sheet " in p.where or p.where.startswith(("scheme", "fields")) for p in refused.problems)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("seed", range(40))
def test_spoiled_mappings_of_tables_are_refused_by_place_or_read(shape: str, seed: int) -> None:
    data, how = spoiled(tomllib.loads(SHAPES[shape]), seed, MAPPINGS)
    try:
        by = tomllib.loads(dumped(data))
        mapping = read_mapping_data(by, "map.toml")
        sheets = {n: Sheet(f"sheet {n}", tuple(map(tuple, tables().get(n, [])))) for n in mapping.tables}
        reading = read_tables(mapping, sheets)
        assert sound(admitted(reading.catalogue, reading.place)), how
    except InputError as refused:
        assert names_a_place(refused), how


@pytest.mark.parametrize("seed", range(20))
def test_spoiled_texts_of_mappings_of_tables_are_refused_or_read(seed: int) -> None:
    text = spoiled_text(MAPPING, random.Random(seed))
    try:
        mapping = read_mapping_text(text)
        sheets = {n: Sheet(f"sheet {n}", tuple(map(tuple, tables().get(n, [])))) for n in mapping.tables}
        reading = read_tables(mapping, sheets)
        assert sound(admitted(reading.catalogue, reading.place))
    except InputError as refused:
        assert all(p.what for p in refused.problems)


# Workbooks

Write = Callable[[Any, Any], None]


def workbook(folder: Path, change: Write) -> Path:
    """Return the mapping beside a workbook of the five tables that something was done to."""
    with xlsxwriter.Workbook(str(folder / "brandelow.xlsx")) as book:
        sheets = {}
        for name, rows in tables().items():
            sheets[name] = book.add_worksheet(name)
            for i, row in enumerate(rows):
                sheets[name].write_row(i, 0, row)
        change(book, sheets)
    text = MAPPING
    for name in tables():
        text = text.replace(f"[tables.{name}]", f'[tables.{name}]\nsheet = "{name}"')
    (folder / "map.toml").write_text(text, encoding="utf-8")
    return folder / "map.toml"


def catalogue(folder: Path, change: Write) -> Catalogue:
    reading = read_catalogue(workbook(folder, change))
    return admitted(reading.catalogue, reading.place)


def test_formulas_give_their_stored_value_and_are_told(tmp_path: Path) -> None:
    found = catalogue(tmp_path, lambda _, s: s["bearings"].write_formula("D2", "=17*10", value=170))
    assert found.units.dynamic_rating[0] == 170e3
    note = "brandelow.xlsx, sheet 'bearings': cells with a formula, read by their stored value: 1"
    assert note in found.notes


@pytest.mark.parametrize(
    ("cell", "value", "told"),
    [
        ("D2", "", "is a formula without a stored value"),
        ("D2", "#DIV/0!", "is an error of the spreadsheet"),
        ("B3", "", "is a formula without a stored value"),
    ],
)
def test_a_formula_without_a_value_is_a_bad_cell(cell: str, value: str, told: str, tmp_path: Path) -> None:
    with pytest.raises(InputError) as refused:
        catalogue(tmp_path, lambda _, s: s["bearings"].write_formula(cell, "=1/0", value=value))
    problem = refused.value.problems[0]
    assert problem.what == told
    assert (
        problem.where
        == f"brandelow.xlsx, sheet 'bearings', row {cell[1]}, column '{'C' if cell[0] == 'D' else 'Bore'}'"
    )


def test_a_formula_without_a_value_in_a_key_names_nothing(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="row 3, column 'No': the key is blank"):
        catalogue(tmp_path, lambda _, s: s["housings"].write_formula("A3", '="H"&1', value=""))


def test_a_merged_cell_has_its_value_in_every_row_and_is_told(tmp_path: Path) -> None:
    found = catalogue(tmp_path, lambda _, s: s["supports"].merge_range("C2:C3", 44))
    assert found.units.mass[:2].tolist() == [44, 44]
    assert any("cells merged over rows 2 to 3" in note for note in found.notes)


def test_merged_keys_that_stand_twice_are_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="two rows have one key"):
        catalogue(tmp_path, lambda _, s: s["housings"].merge_range("A2:A3", "H100"))


def test_hidden_rows_are_read_and_told(tmp_path: Path) -> None:
    found = catalogue(tmp_path, lambda _, s: s["made"].set_row(2, None, None, {"hidden": True}))
    assert len(found.units) == 10
    assert any("hidden rows, read like any other: 1" in note for note in found.notes)


def test_a_cell_of_ten_thousand_characters_is_past_the_limit(tmp_path: Path) -> None:
    with pytest.raises(LimitError, match=r"sheet 'supports', row 2, column '3': the cell is too long"):
        catalogue(tmp_path, lambda _, s: s["supports"].write_string("C2", "4" * 10_000))


def test_a_date_that_a_spreadsheet_made_is_told(tmp_path: Path) -> None:
    def write(book: Any, sheets: Any) -> None:
        sheets["bearings"].write_datetime(
            "B2", np.datetime64("2026-04-07").item(), book.add_format({"num_format": "d-m"})
        )

    with pytest.raises(InputError, match="the spreadsheet changed it"):
        catalogue(tmp_path, write)


def test_two_units_of_one_code_name_both_rows(tmp_path: Path) -> None:
    with pytest.raises(InputError) as refused:
        catalogue(tmp_path, lambda _, s: s["made"].write_row(11, 0, ["B100", "P"]))
    (problem,) = [p for p in refused.value.problems if p.what == "two units have one code"]
    assert "sheet 'made', row 12" in problem.where
    assert "sheet 'made', row 2" in problem.accepted


def test_a_sheet_that_is_not_there_names_those_that_are(tmp_path: Path) -> None:
    path = workbook(tmp_path, lambda _, __: None)
    path.write_text(
        path.read_text(encoding="utf-8").replace('"supports"\nkeys', '"stands"\nkeys'), encoding="utf-8"
    )
    with pytest.raises(InputError, match="no such sheet; read 'stands'; accepted: one of: made, bearings"):
        read_catalogue(path)


@pytest.mark.parametrize("name", ["../brandelow.xlsx", "/etc/passwd", "..", "a\\b.csv", "C:/x.csv", ""])
def test_no_path_leaves_the_folder(name: str) -> None:
    text = MAPPING.replace("brandelow.xlsx", name.replace("\\", "\\\\"))
    with pytest.raises(InputError) as refused:
        catalogue_from(text, {name: b"root:x"})
    assert any("table.file" in p.where for p in refused.value.problems)


def test_a_file_that_was_not_kept_is_told(tmp_path: Path) -> None:
    workbook(tmp_path, lambda _, __: None)
    with pytest.raises(InputError, match="no such file") as refused:
        catalogue_from((tmp_path / "map.toml").read_text(encoding="utf-8"), {})
    assert "brandelow.xlsx" in str(refused.value)
