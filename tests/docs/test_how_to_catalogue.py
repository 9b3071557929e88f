"""The examples of docs/how-to/catalogue.md are catalogues, and one table or four give the very same units."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from halfbore.demo.suppliers import load_catalogue
from halfbore.domain.unit import SealKind
from halfbore.intake.catalogue import propose_catalogue, read_catalogue
from halfbore.ordering.parts import specification_of
from halfbore.ordering.scheme import read_code, write_code
from tests.hardening.plain_toml import dumped
from tests.intake.test_catalogue_tables import the_same, workbook

TEXT = (Path(__file__).parents[2] / "docs" / "how-to" / "catalogue.md").read_text(encoding="utf-8")


def block(language: str) -> str:
    (found,) = re.findall(rf"```{language}\n(.*?)```", TEXT, re.DOTALL)
    return str(found)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, language in (("brandelow.csv", "csv"), ("brandelow.toml", "toml")):
        (tmp_path / name).write_text(block(language), encoding="utf-8")
    return tmp_path


def test_the_example_reads(folder: Path) -> None:
    catalogue = load_catalogue("brandelow.toml", folder)
    units = catalogue.units
    assert units.code.tolist() == ["A10-1FPJJ", "A10-1FSJJ", "A10-1XPJJ"]
    assert units.roller_length[0] == 18.5
    assert units.clearance_max[0, 0] == 0.095
    assert any("rows left out" in note for note in catalogue.notes)
    assert "speed_limit" in {hole.field for hole in catalogue.holes}
    ordered = specification_of(units.row(1), SealKind.PACKING, SealKind.PACKING, 0)
    code = write_code(ordered, catalogue.scheme)
    assert code.startswith("A10-1FSJJ/")
    assert read_code(code, catalogue.scheme, catalogue.supplier) == ordered


def sheets() -> dict[str, list[list[str]]]:
    """Return the sheets that stand side by side on the page."""
    names, *lines = block("text").splitlines()
    starts = [(m.group(), m.start()) for m in re.finditer(r"\S+", names)]
    ends = [start for _, start in starts[1:]] + [999]
    return {
        name: [line[start:end].split() for line in lines if line[start:end].strip()]
        for (name, start), end in zip(starts, ends, strict=True)
    }


def test_several_tables_give_the_very_same_units(folder: Path) -> None:
    workbook(folder / "brandelow.xlsx", sheets())
    one: dict[str, Any] = tomllib.loads(block("toml"))
    several = {k: v for k, v in one.items() if k != "expand"} | tomllib.loads(block("toml several"))
    size = several["scheme"]["places"][0]["parts"][0]
    size["table"] = "bearings"
    (folder / "several.toml").write_text(dumped(several), encoding="utf-8")
    found = load_catalogue("several.toml", folder)
    the_same(found.units, load_catalogue("brandelow.toml", folder).units)
    assert found.scheme == load_catalogue("brandelow.toml", folder).scheme
    assert (
        read_catalogue(folder / "several.toml")
        .place(1, "price")
        .endswith("sheet 'Supports', row 3, column 'Price'")
    )


def test_what_is_proposed_for_the_example(folder: Path) -> None:
    fields = tomllib.loads(propose_catalogue(folder / "brandelow.csv"))["fields"]
    right = tomllib.loads(block("toml"))["fields"]
    for name in ("rollers", "row_size", "price"):
        assert fields[name] == right[name]
    assert fields["dynamic_rating"] == {"heading": "C", "unit": "?"}
    assert fields["clearance_min"]["1"] == {"heading": "Cl min", "unit": "?"}


def test_the_links_of_the_page_and_to_it() -> None:
    root = Path(__file__).parents[2]
    assert "(docs/how-to/catalogue.md)" in (root / "README.md").read_text(encoding="utf-8")
    assert (root / "docs" / "fields.md").exists()
