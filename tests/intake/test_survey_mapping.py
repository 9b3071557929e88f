"""Mapping files of surveys: strict, every fault by its place, nothing unsettled."""

from __future__ import annotations

from pathlib import Path

import pytest

from halfbore.domain.survey import Thing
from halfbore.errors import InputError
from halfbore.intake.survey.mapping import read_mapping_file, read_mapping_text
from halfbore.intake.survey.targets import paths_of
from tests.intake.survey_files import MAPPING


def refused(text: str) -> str:
    with pytest.raises(InputError) as raised:
        read_mapping_text(text, "m.toml")
    return str(raised.value)


def test_a_mapping_as_read() -> None:
    mapping = read_mapping_text(MAPPING)
    table = mapping.tables[0]
    assert (table.sheet, table.thing, table.header, table.machine_before) == (
        "Lager",
        Thing.POSITION,
        (3,),
        "-",
    )
    assert table.cells.dates == "dmy" and table.cells.blanks == ("-", "k.A.")
    assert [(c.heading, c.path, c.unit) for c in table.columns][2] == ("Welle Ø [mm]", "seat.diameter", "mm")
    assert table.columns[4].target.thing is Thing.FAILURE and table.columns[4].target.path == "on"


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (
            "format = 1",
            "format = 2",
            "format: this version of the format is not known; read '2'; accepted: 1",
        ),
        ("ignored", "ignord", "table[0]: unknown key 'ignord'; accepted: nearest known key: ignored"),
        ("blanks", "blank", "cells: unknown key 'blank'; accepted: nearest known key: blanks"),
        (
            'dates = "dmy"',
            'dates = "dym"',
            "cells.dates: is not one of the choices; read 'dym'; accepted: , dmy, mdy",
        ),
        ('dates = "dmy"', 'dates = "?"', "cells.dates: is not settled; read '?'; put what it is in place"),
        ('dates = "dmy"', 'thousands = "."', "cells.thousands: is the decimal sign as well"),
        ('rows = "position"', 'rows = "bearing"', "table[0].rows: is not one of the choices; read 'bearing'"),
        ("header = 3", "header = 0", "table[0].header: whole numbers from 1 up are wanted"),
        ("header = 3", "header = [3, 2]", "headings stand in rows that follow each other"),
        ('"TOTAL"', '""', "table[0].skip: an empty text would skip every row"),
        ('before = "-"', 'befor = "-"', "table[0].machine.before: is missing"),
        ('from = "position"', 'from = "sheet"', "table[0].machine.from: is not one of the choices"),
        (
            'ignored = ["Bem."]',
            'ignored = ["Kran"]',
            "table[0].ignored: the column is mapped and ignored; read 'Kran'",
        ),
        ('"seat.diameter"', '"seat.diamter"', "a table of positions has no such field; read 'seat.diamter'"),
        ('"seat.diameter"', '"x"', "two columns fill one field; read 'x'"),
        ('unit = "mm"', 'unit = "kg"', "unit: 'kg' is a unit of mass, not of length; read 'kg'"),
        ('unit = "mm"', 'units = "mm"', "unknown key 'units'; accepted: nearest known key: unit"),
        ('"room.hoist"', '"room.hoist", unit = "mm"', "unit: the field takes no unit"),
        (
            '"locating"',
            '"locked"',
            "words.fest: is not one of the choices; read 'locked'; accepted: locating",
        ),
        (
            'field = "tag.position"',
            'field = "seat.note"',
            "table[0].columns: a column must fill tag.position",
        ),
        ('sheet = "Lager"', 'sheet = "Lager"\nnote = "=1+1"', "unknown key 'note'"),
        ('field = "x"', 'fild = "x"', "field: is missing"),
        ("[[table]]", "[other]", "table: is missing: nothing would be read"),
    ],
)
def test_faults_are_told_by_place(old: str, new: str, told: str) -> None:
    assert old in MAPPING
    text = refused(MAPPING.replace(old, new, 1))
    assert text.startswith("m.toml")
    assert told in text


def test_two_tables_are_not_on_one_sheet() -> None:
    text = MAPPING + MAPPING[MAPPING.index("[[table]]") :]
    assert "two tables are on one sheet; read 'Lager'" in refused(text)


def test_what_is_told_of_a_machine_needs_its_name_and_condition() -> None:
    text = MAPPING.replace('{ field = "x", unit = "in" }', '{ field = "condition.speed", unit = "r/min" }')
    assert "a column, or fixed, must fill condition.name" in refused(text)
    named = text + '[table.fixed]\n"condition.name" = "running"\n'
    assert read_mapping_text(named).tables[0].fixed[0][1] == "running"
    assert "fixed.condition.share" in refused(named + '"condition.share" = "twice"\n')


def test_files_that_are_no_mapping(tmp_path: Path) -> None:
    path = tmp_path / "m.toml"
    with pytest.raises(InputError, match="no such mapping file"):
        read_mapping_file(path)
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(InputError, match="accepted: TOML in UTF-8"):
        read_mapping_file(path)
    path.write_bytes(b"\xef\xbb\xbf" + MAPPING.encode())
    assert read_mapping_file(path).tables[0].sheet == "Lager"
    assert "is not TOML" in refused("[[table")
    assert "is not TOML" in refused("a = " + "9" * 5000)


def test_every_path_of_a_position_fills_one_thing() -> None:
    paths = paths_of(Thing.POSITION)
    assert paths["machine.name_plate.power"].thing is Thing.MACHINE
    assert paths["shaft.material"].thing is Thing.SHAFT_LINE
    assert paths["failure.why"].thing is Thing.FAILURE
    assert "name" not in paths and "shaft.name" not in paths
