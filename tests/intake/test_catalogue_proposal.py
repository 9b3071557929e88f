"""Mappings proposed from headings and cells: nothing wrong, nothing guessed, `?` for what they do not tell."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.demo import quernvold, suppliers, tolvarden
from halfbore.domain.unit import COLUMNS
from halfbore.errors import InputError
from halfbore.intake.catalogue import read_catalogue
from halfbore.intake.headings import symbol_of, unit_in, words_of
from halfbore.intake.mapping import read_mapping_text
from halfbore.intake.proposal.fields import matches
from halfbore.intake.proposal.found import decimal_of, header_of, tables_in
from halfbore.intake.proposal.propose import propose_catalogue
from halfbore.intake.tables import Sheet
from halfbore.units import Kind
from tests.hardening.plain_toml import dumped
from tests.intake.test_catalogue_tables import apart, workbook


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("proposals")
    suppliers.write_catalogues(made)
    (made / "five").mkdir()
    workbook(made / "five" / "tolvarden.xlsx", apart("second")[1])
    return made


proposal = cache(propose_catalogue)
"""Made once for each file of the module's folder."""


def columns_of(data: dict[str, Any]) -> Iterator[tuple[str, Any]]:
    """Yield field and column of a mapping's fields."""
    for name, value in data["fields"].items():
        if name in COLUMNS:
            yield from ((f"{name}.{c}", v) for c, v in value.items())
        else:
            yield name, value


@pytest.mark.parametrize(
    ("file", "maker", "least"), [("quernvold.csv", quernvold, 34), ("tolvarden.xlsx", tolvarden, 48)]
)
def test_what_is_proposed_for_a_demo_catalogue_is_right(
    file: str, maker: Any, least: int, folder: Path
) -> None:
    proposed = tomllib.loads(proposal(folder / file))
    right = tomllib.loads(suppliers.mapping_text(maker))
    known = dict(columns_of(right))
    settled = {path: spec for path, spec in columns_of(proposed) if spec != "?"}
    for path, spec in settled.items():
        assert spec["heading"] == known[path]["heading"], path
        unit = spec.get("unit", "").replace("um", "µm")
        assert unit == known[path].get("unit", "") or (path, unit) == ("bore", ""), path  # its cells say it
        for text, word in spec.get("letters", {}).items():
            assert word in ("?", known[path]["letters"][text])
    assert len(settled) >= least
    for key in ("file", "header", "skip", "encoding", "delimiter"):
        if key in right["table"] and key in proposed["table"]:
            assert (
                proposed["table"][key] == right["table"][key]
                or [right["table"][key]] == proposed["table"][key]
            )


def test_a_proposal_is_not_read_before_it_is_settled(folder: Path) -> None:
    text = proposal(folder / "quernvold.csv")
    with pytest.raises(InputError) as refused:
        read_mapping_text(text, "map.toml")
    places = [problem.where for problem in refused.value.problems]
    assert len(places) == text.count('"?"') - 1  # the comment at the top says what a "?" is
    assert "map.toml, fields.price" in places
    assert "map.toml, scheme.fixed.seal_left" in places


def settle(data: dict[str, Any]) -> dict[str, Any]:
    data |= {"supplier": "Tolvarden Rollerworks", "version": "7"}
    data["scheme"]["fixed"] = {"seal_left": "packing", "seal_right": "packing", "clearance": "1"}
    data["fields"]["seal_offered"] |= {"packing": "yes", "labyrinth": "yes"}
    return data


@pytest.mark.parametrize("shape", [".", "five"])
def test_a_settled_proposal_reads_the_same_values(shape: str, folder: Path) -> None:
    data = tomllib.loads(proposal(folder / shape / "tolvarden.xlsx"))
    (folder / shape / "map.toml").write_text(dumped(settle(data)), encoding="utf-8")
    found, right = read_catalogue(folder / shape / "map.toml").catalogue.units, suppliers.load("second").units
    order = {code: i for i, code in enumerate(right.code.tolist())}
    right = right.take([order[code] for code in found.code.tolist()])
    assert len(found) == 1944
    for name in (
        "bore",
        "dynamic_rating",
        "price",
        "lead_time",
        "clearance_min",
        "limit_side",
        "support",
        "hand",
    ):
        np.testing.assert_array_equal(getattr(found, name), getattr(right, name), name)


def test_keys_that_sheets_share_are_proposed_as_joins(folder: Path) -> None:
    tables = tomllib.loads(proposal(folder / "five" / "tolvarden.xlsx"))["tables"]
    assert next(iter(tables)) == "units"
    assert tables["bearings"]["keys"] == {
        "Unidad Eje": "units.Unidad Eje",
        "Unidad Fila": "units.Unidad Fila",
    }
    assert len(tables["inside"]["keys"]) == 3


SMALL = {
    "Zuordnung": [["Lager", "Stütze"], ["L1", "S1"], ["L2", "S1"], ["L2", "S2"]],
    "Lager": [["Nr", "Welle mm"], ["L1", "100"], ["L2", "120"]],
    "Stützen": [["Nr.", "Masse kg"], ["S1", "40"], ["S2", "55"]],
    "Dichtungen": [
        ["Für Welle", "Art", "Preis"],
        ["100", "P", "6"],
        ["100", "W", "9"],
        ["120", "P", "7"],
        ["120", "W", "8"],
    ],
    "Notizen": [["nur ein Text"]],
}


def test_joins_by_other_headings_and_a_table_of_several_kinds(tmp_path: Path) -> None:
    workbook(tmp_path / "vier.xlsx", SMALL)
    text = propose_catalogue(tmp_path / "vier.xlsx")
    tables = tomllib.loads(text)["tables"]
    assert list(tables) == ["zuordnung", "lager", "stutzen", "dichtungen"]
    assert tables["lager"]["keys"] == {"Nr": "zuordnung.Lager"}
    assert tables["stutzen"]["keys"] == {"Nr.": "zuordnung.Stütze"}
    assert tables["dichtungen"]["keys"] == {"Für Welle": "lager.Welle mm"}
    assert tables["dichtungen"]["only"] == {"Art": "?"}
    assert "one of P, W" in text


def test_a_join_with_two_readings_is_left_open(tmp_path: Path) -> None:
    rows = {
        "pairs": [["one", "two"], ["a", "b"], ["b", "a"], ["c", "c"]],
        "parts": [["left", "right", "m kg"], ["a", "c", "1"], ["b", "a", "2"], ["c", "b", "3"]],
    }
    workbook(tmp_path / "t.xlsx", rows)
    text = propose_catalogue(tmp_path / "t.xlsx")
    assert tomllib.loads(text)["tables"]["parts"]["keys"] == {"left": "?"}
    assert "# perhaps pairs.one" in text


def test_tables_that_nothing_joins_are_left_open(tmp_path: Path) -> None:
    workbook(
        tmp_path / "t.xlsx",
        {"a": [["x", "y"], ["1x", "2y"], ["1z", "2w"]], "b": [["p", "q"], ["7p", "8q"], ["9p", "1q"]]},
    )
    assert tomllib.loads(propose_catalogue(tmp_path / "t.xlsx"))["tables"]["b"]["keys"] == {"?": "?"}


GERMAN = """Preisliste;;;;;;;;;;
Bestellnummer;Bohrung d [mm];Rollenreihe;Lagerung;Tragzahl dynamisch;C0 (kN);Gewicht;Lieferzeit Wochen;Preis EUR;B;Farbe
A1;100;1;Fest;170,5;239;40,2 kg;2;1 610;55;grün
A2;120;2;Los;210,5;301;k.A.;3;1 810;60;grün
Summe;;;;;;;;;;
"""


def test_german_headings_signs_and_blanks(tmp_path: Path) -> None:
    (tmp_path / "liste.csv").write_bytes(GERMAN.encode("cp1252"))
    text = propose_catalogue(tmp_path / "liste.csv")
    data = tomllib.loads(text)
    assert data["currency"] == "EUR"
    table = {k: v for k, v in data["table"].items() if k != "ignored"}
    assert table == {
        "file": "liste.csv",
        "encoding": "cp1252",
        "delimiter": ";",
        "decimal": ",",
        "header": [2],
        "blanks": ["", "k.A."],
        "skip": ["Summe"],
    }
    assert data["table"]["ignored"] == ["B", "Farbe"]
    assert '"B",   # perhaps length or width, or the ring alone' in text
    fields = data["fields"]
    assert fields["code"] == {"heading": "Bestellnummer"}
    assert fields["size"] == {"heading": "Bohrung d [mm]"}
    assert fields["bore"] == {"heading": "Bohrung d [mm]", "unit": "mm"}
    assert fields["locating"]["letters"] == {"Fest": "locating", "Los": "non-locating"}
    assert fields["dynamic_rating"] == {"heading": "Tragzahl dynamisch", "unit": "?"}
    assert "# unit: N, kN," in text
    assert fields["static_rating"] == {"heading": "C0 (kN)", "unit": "kN"}
    assert fields["mass"] == {"heading": "Gewicht"}  # its cells say their unit themselves
    assert fields["lead_time"] == {"heading": "Lieferzeit Wochen", "unit": "weeks"}
    assert fields["support"] == "?"


@pytest.mark.parametrize(
    ("heading", "path", "unit"),
    [
        ("Rollen", "rollers", ""),
        ("Rollen-Ø [mm]", "roller_diameter", "mm"),
        ("Ausführung", "locating", ""),
        ("Luft min µm", "clearance_min.1", "µm"),
        ("Luft max [µm]", "clearance_max.1", "µm"),
        ("Luft 2 max µm", "clearance_max.2", "µm"),
        ("Fuge °", "joint_angle", "°"),
        ("geschlossen", "seal_offered.closed-end", ""),
        ("Preis geschlossen", "seal_price.closed-end", ""),
    ],
)
def test_german_headings_of_rollers_clearance_and_joint(
    heading: str, path: str, unit: str, tmp_path: Path
) -> None:
    (tmp_path / "liste.csv").write_text(f"Bestellnummer;{heading};Gewicht kg\nA;1;20\nB;2;30\n")
    found = matches(tables_in([tmp_path / "liste.csv"]), set())
    assert {p: [m.unit for m in best] for p, best in found.items() if best[0].heading == heading} == {
        path: [unit]
    }


def test_several_columns_for_one_field_are_named_and_none_is_taken(folder: Path) -> None:
    text = proposal(folder / "quernvold.csv")
    assert re.search(r'^price = "\?"   # .*: one of Price P; Price V; Price G; Price Y$', text, re.MULTILINE)
    assert '"Supports",   # lists G, P, Vl, Vr, Y parted by /: [[expand]] makes a unit of each' in text
    assert '"l" = "?", "n" = "?"' in text  # a single letter is not guessed
    assert "# No column was found for: " in text


@pytest.mark.parametrize(
    ("heading", "kind", "unit"),
    [
        ("C (kN)", Kind.FORCE, "kN"),
        ("C [kN]", Kind.FORCE, "kN"),
        ("C kN", Kind.FORCE, "kN"),
        ("Down kN P", Kind.FORCE, "kN"),
        ("C", Kind.FORCE, ""),
        ("Masa total lb", Kind.MASS, "lb"),
        ("Juego radial mín in 1", Kind.LENGTH, "in"),
        ("Länge in mm", Kind.LENGTH, "mm"),
        ("d mm oder in", Kind.LENGTH, "in"),
        ("h", Kind.LENGTH, ""),
        ("Lieferzeit Wochen", Kind.DURATION, "Wochen"),
        ("n min⁻¹", Kind.SPEED, "min⁻¹"),
        ("Temp. °C", Kind.TEMPERATURE, "°C"),
        ("C (kN) or (lbf)", Kind.FORCE, ""),
    ],
)
def test_the_unit_that_a_heading_names(heading: str, kind: Kind, unit: str) -> None:
    assert unit_in(heading, kind) == unit


def test_words_and_symbols_of_headings() -> None:
    assert words_of("Precio unidad EUR") == ("precio", "unidad")
    assert words_of("Länge mm", "mm") == ("lange",)
    assert symbol_of("C_0 [kN]", "kN") == "C0"
    assert symbol_of("D kN", "kN") == "D"


@pytest.mark.parametrize(
    ("cells", "sign"),
    [
        (["1,5", "2"], ","),
        (["1.5", "2"], "."),
        (["1.5", "2,5"], "?"),
        (["1,250"], "?"),
        (["1.250,5"], "?"),
        (["12", "x,y"], "."),
        ([], "."),
    ],
)
def test_the_decimal_sign(cells: list[str], sign: str) -> None:
    assert decimal_of(cells) == sign


def test_the_row_of_the_headings() -> None:
    rows = (("Title", "", ""), ("", "", ""), ("Bore", "Mass", "Price"), ("100", "4", "5"))
    assert header_of(Sheet("s", rows)) == (3,)
    grouped = (
        ("Title",) * 4,
        ("Load", "Load", "Size", "Size"),
        ("C kN", "C0 kN", "d", "L"),
        ("1", "2", "3", "4"),
    )
    assert header_of(Sheet("s", grouped)) == (2, 3)
    assert header_of(Sheet("s", (("1", "2"), ("3", "4")))) == ()
    units = (("Title", "", ""), ("Code", "Bore", "Mass"), ("", "mm", "[kg]"), ("A1", "100", "4"))
    assert header_of(Sheet("s", units)) == (2, 3)
    named = (("Order", "", "Ratings"), ("code", "d mm", "Cr kN"), ("A1", "100", "4"), ("A2", "-", "5"))
    assert header_of(Sheet("s", named)) == (1, 2)
    silent = (("Code", "Mass", "Price"), ("A1", "k.A.", "-"), ("A2", "4", "5"), ("A3", "4", "5"))
    assert header_of(Sheet("s", silent)) == (1,)
    assert header_of(Sheet("s", (("Bearing", "Kind"), ("B100", "P")))) == (1,)


def test_a_symbol_behind_the_name_of_its_group_is_proposed_to_be_looked_at(tmp_path: Path) -> None:
    rows = "Order;Ratings;Ratings;Rollers\ncode;Cr kN;C0r kN;Dw mm\nA;200;300;20\nB;210;310;20\n"
    (tmp_path / "list.csv").write_text(rows)
    text = propose_catalogue(tmp_path / "list.csv")
    assert (
        'dynamic_rating = { heading = "Ratings Cr kN", unit = "kN" }   # look: taken for basic dynamic'
        in text
    )
    fields = tomllib.loads(text)["fields"]
    assert fields["static_rating"] == {"heading": "Ratings C0r kN", "unit": "kN"}
    assert fields["roller_diameter"] == {"heading": "Rollers Dw mm", "unit": "mm"}


def test_a_file_without_a_table_is_told(tmp_path: Path) -> None:
    (tmp_path / "t.csv").write_text("1,2\n3,4\n", encoding="utf-8")
    with pytest.raises(InputError, match=r"t\.csv: holds no table with a row of headings"):
        propose_catalogue(tmp_path / "t.csv")
    with pytest.raises(InputError, match="no such file"):
        propose_catalogue(tmp_path / "none.csv")


WORDS = st.sampled_from(
    [
        "d",
        "Bore mm",
        "C kN",
        '"',
        "=",
        "B",
        "Preis",
        "1,5",
        "",
        "100",
        "x" * 600,
        "Größe",
        "]",
        "#",
        "\\",
        "a/b",
        "a\n/c",
        "\x07/b",
    ]
)


@given(st.lists(st.lists(WORDS, max_size=6), max_size=6))
def test_any_table_gives_toml_or_is_refused(rows: list[list[str]]) -> None:
    import csv
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "t.csv"
        with path.open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows(rows)
        try:
            assert tomllib.loads(propose_catalogue(path))["format"] == 1
        except InputError as refused:
            assert refused.problems


def test_several_files_are_proposed_as_tables(tmp_path: Path) -> None:
    (tmp_path / "made.csv").write_text("Bearing;Kind\nB1;P\nB2;P\nB2;S\n", encoding="utf-8")
    (tmp_path / "bearings.csv").write_text("No,Bore mm\nB1,100\nB2,120.5\n", encoding="utf-8")
    data = tomllib.loads(propose_catalogue(tmp_path / "made.csv", tmp_path / "bearings.csv"))
    assert data["tables"]["bearings"]["keys"] == {"No": "made.Bearing"}
    assert [t["file"] for t in data["tables"].values()] == ["made.csv", "bearings.csv"]
    assert [t["delimiter"] for t in data["tables"].values()] == [";", ","]


def test_a_support_column_that_lists_several_is_to_be_expanded(tmp_path: Path) -> None:
    (tmp_path / "t.csv").write_text("Code,Feet,Bore mm\na,P+S,100\nb,P,120\n", encoding="utf-8")
    text = propose_catalogue(tmp_path / "t.csv")
    assert 'support = "?"   # Feet lists P, S parted by +: [[expand]] makes a unit of each' in text
