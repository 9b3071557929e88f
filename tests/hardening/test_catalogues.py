"""Suppliers' tables and mappings spoiled at random, seeded: each bad cell by sheet, row and column."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Callable
from dataclasses import fields
from functools import cache
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from halfbore.catalogue.admit import admitted
from halfbore.demo import quernvold, suppliers, tolvarden
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.unit import UnitTable
from halfbore.errors import InputError, Problem
from halfbore.intake.catalogue import read_catalogue, read_units
from halfbore.intake.mapping import Mapping, read_mapping_text
from halfbore.intake.tables import Sheet
from tests.hardening.mutations import MAPPINGS, NASTY, spoiled, spoiled_text
from tests.hardening.plain_toml import dumped

Rows = list[list[str]]
MADE_BY = {"first": quernvold, "second": tolvarden}
BODY = 8
"""Rows below the headings: enough for every kind of column."""


@cache
def mapping(name: str) -> Mapping:
    return read_mapping_text(suppliers.mapping_text(MADE_BY[name]))


@cache
def _table(name: str) -> tuple[tuple[str, ...], ...]:
    maker: ModuleType = MADE_BY[name]
    rows = tuple(maker.rows(maker.columns()))
    above = max(mapping(name).layout.header)
    spread = rows[above :: (len(rows) - above) // BODY][:BODY]
    return (*rows[:above], *(row for row in spread if len(row) == len(rows[above])))


def table(name: str) -> Rows:
    return [list(row) for row in _table(name)]


def admit(name: str, rows: Rows, by: Mapping | None = None) -> Catalogue:
    by = by or mapping(name)
    reading = read_units(by, Sheet(by.layout.file, tuple(map(tuple, rows))))
    return admitted(reading.catalogue, reading.place)


def sound(catalogue: Catalogue) -> bool:
    """Whether every number is finite or openly missing, and every unit has a bore and a code of its own."""
    units = catalogue.units
    columns = [getattr(units, f.name) for f in fields(UnitTable)]
    finite = not any(np.isinf(c).any() for c in columns if c.dtype.kind == "f")
    return finite and bool((units.bore > 0).all()) and len(set(units.code.tolist())) == len(units)


def headings(name: str) -> list[str]:
    """Return the headings that the mapping reads, each a column."""
    above = [_table(name)[n - 1] for n in mapping(name).layout.header]
    return [" ".join(dict.fromkeys(part for part in column if part)) for column in zip(*above, strict=True)]


@pytest.mark.parametrize("name", MADE_BY)
def test_the_slice_of_the_table_is_sound_as_it_stands(name: str) -> None:
    assert sound(admit(name, table(name)))


def _mapped(name: str) -> list[int]:
    """Return the columns that some field of a unit rests on."""
    by, titles = mapping(name), headings(name)
    overlaid = [spec for e in by.expansions for option in e.options.values() for spec in option.values()]
    used = {spec.heading for spec in (*by.fields.values(), *overlaid)}
    return [i for i, title in enumerate(titles) if title in used]


AGAINST_OTHERS = (
    "the ends are exchanged",
    "the rollers do not go round",
    "the rollers run into the shaft",
    "the rating is not what its rollers yield",
)
"""What two cells of a row say against each other is told at one of them."""
CELLS = [(name, seed) for name in MADE_BY for seed in range(60)]


@pytest.mark.parametrize(("name", "seed"), CELLS)
def test_a_spoiled_cell_is_named_by_sheet_row_and_column_or_read(name: str, seed: int) -> None:
    draw, rows = random.Random(seed), table(name)
    column, row = draw.choice(_mapped(name)), draw.randrange(max(mapping(name).layout.header), len(rows))
    odd = ["", "-1", "0", "9e30", "1e31", "2026-03-16", rows[row][column] + "0"]
    rows[row][column] = draw.choice([*NASTY, *odd])
    try:
        assert sound(admit(name, rows))
    except InputError as refused:
        assert all(_placed(p, name, row, headings(name)[column]) for p in refused.problems), str(refused)


def _placed(problem: Problem, name: str, row: int, heading: str) -> bool:
    """Whether a problem names the spoiled cell, or one of its row that it contradicts, or the scheme."""
    if problem.where == "scheme":
        return True  # the cell is read; it is the order code that has no letters for it
    at_row = problem.where.startswith(f"{mapping(name).layout.file}, row {row + 1}, column ")
    return at_row and (problem.what in AGAINST_OTHERS or problem.where.endswith(repr(heading)))


def _doubled(draw: random.Random, rows: Rows) -> None:
    rows.append(list(draw.choice(rows[3:])))


def _long(draw: random.Random, rows: Rows) -> None:
    draw.choice(rows[3:]).append("9")


def _short(draw: random.Random, rows: Rows) -> None:
    del draw.choice(rows[3:])[-20:]


def _total(draw: random.Random, rows: Rows) -> None:
    rows.insert(draw.randrange(3, len(rows)), ["TOTAL", "", "123"])


def _blank(draw: random.Random, rows: Rows) -> None:
    rows.insert(draw.randrange(3, len(rows)), [""] * len(rows[3]))


def _headless(_draw: random.Random, rows: Rows) -> None:
    del rows[:3]


def _renamed(draw: random.Random, rows: Rows) -> None:
    row = rows[draw.randrange(2)]
    row[draw.randrange(len(row))] = "Seat"


def _moved(draw: random.Random, rows: Rows) -> None:
    row = draw.choice(rows[3:])
    row.insert(draw.randrange(len(row)), row.pop())


ROWS: tuple[Callable[[random.Random, Rows], None], ...] = (
    _doubled,
    _long,
    _short,
    _total,
    _blank,
    _headless,
    _renamed,
    _moved,
)


@pytest.mark.parametrize("name", MADE_BY)
@pytest.mark.parametrize("spoil", ROWS)
@pytest.mark.parametrize("seed", range(3))
def test_a_spoiled_row_or_heading_is_refused_in_the_sheet_or_read(
    name: str, spoil: Callable[[random.Random, Rows], None], seed: int
) -> None:
    rows = table(name)
    spoil(random.Random(seed), rows)
    try:
        assert sound(admit(name, rows))
    except InputError as refused:
        assert all(mapping(name).layout.file in p.where or "scheme" in p.where for p in refused.problems)


def test_a_row_that_stands_twice_names_both_places() -> None:
    rows = table("second")
    rows.append(list(rows[4]))
    with pytest.raises(InputError, match="two units have one code") as refused:
        admit("second", rows)
    problem = refused.value.problems[0]
    assert problem.where == f"tolvarden.xlsx, row {len(rows)}, column 'Unidad Clave'"
    assert problem.accepted == "see tolvarden.xlsx, row 5, column 'Unidad Clave'"


@pytest.mark.parametrize(("name", "seed"), [(name, seed) for name in MADE_BY for seed in range(40)])
def test_a_spoiled_mapping_is_refused_by_place_or_read(name: str, seed: int) -> None:
    data, how = spoiled(tomllib.loads(suppliers.mapping_text(MADE_BY[name])), seed, MAPPINGS)
    try:
        by = read_mapping_text(dumped(data), "mine.toml")
        assert sound(admit(name, table(name), by)), how
    except InputError as refused:
        assert all(p.what and (p.where or p.value) for p in refused.problems), how


@pytest.mark.parametrize("seed", range(20))
def test_a_spoiled_text_of_a_mapping_is_refused_or_read(seed: int) -> None:
    name = tuple(MADE_BY)[seed % 2]
    text = spoiled_text(suppliers.mapping_text(MADE_BY[name]), random.Random(seed))
    try:
        assert sound(admit(name, table(name), read_mapping_text(text)))
    except InputError as refused:
        assert all(p.what for p in refused.problems)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("catalogues")
    suppliers.write_catalogues(made)
    return made


def _bytes(folder: Path, file: str, change: Callable[[bytes], bytes]) -> Path:
    """Return the mapping beside a file whose bytes are changed."""
    path = folder / file
    path.write_bytes(change(path.read_bytes()))
    return path.with_suffix(".toml")


@pytest.mark.parametrize(
    "change",
    [
        lambda _: b"",
        lambda b: b[: len(b) // 2],
        lambda b: b"PK\x03\x04" + b[4:200],
        lambda b: b[:1000] + bytes(200) + b[1200:],
        lambda _: b"<html><body>404</body></html>",
        lambda b: b.replace(b"xl/worksheets/sheet1.xml", b"xl/worksheets/sheet9.xml"),
    ],
)
def test_a_broken_workbook_is_refused(change: Callable[[bytes], bytes], folder: Path, tmp_path: Path) -> None:
    for file in ("tolvarden.xlsx", "tolvarden.toml"):
        (tmp_path / file).write_bytes((folder / file).read_bytes())
    with pytest.raises(InputError) as refused:
        read_catalogue(_bytes(tmp_path, "tolvarden.xlsx", change))
    assert "tolvarden.xlsx" in refused.value.problems[0].where


@pytest.mark.parametrize(
    "change",
    [
        lambda _: b"",
        lambda b: b[:5000] + b"\xff\xfe" + b[5000:],
        lambda b: b.decode().encode("utf-16"),
        lambda b: b.replace(b",", b";"),
        lambda b: b[:3000] + b'"' + b[3000:],
        lambda b: b.replace(b"40 mm", b"40\x00 mm", 1),
        lambda b: b.replace(b"\n", b"\x1b\n"),
    ],
)
def test_a_broken_csv_is_refused(change: Callable[[bytes], bytes], folder: Path, tmp_path: Path) -> None:
    for file in ("quernvold.csv", "quernvold.toml"):
        (tmp_path / file).write_bytes((folder / file).read_bytes())
    with pytest.raises(InputError) as refused:
        read_catalogue(_bytes(tmp_path, "quernvold.csv", change))
    assert "quernvold.csv" in refused.value.problems[0].where
