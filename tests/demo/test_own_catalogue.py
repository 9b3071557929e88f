"""The example of docs/own-catalogue.md is a catalogue."""

from __future__ import annotations

import re
from pathlib import Path

from halfbore.demo.suppliers import load_catalogue
from halfbore.domain.unit import SealKind
from halfbore.ordering.parts import specification_of
from halfbore.ordering.scheme import read_code, write_code

DOC = Path(__file__).parents[2] / "docs" / "own-catalogue.md"


def test_the_example_reads(tmp_path: Path) -> None:
    text = DOC.read_text(encoding="utf-8")
    for name, language in (("brandelow.csv", "csv"), ("brandelow.toml", "toml")):
        (block,) = re.findall(rf"```{language}\n(.*?)```", text, re.DOTALL)
        (tmp_path / name).write_text(block, encoding="utf-8")
    catalogue = load_catalogue("brandelow.toml", tmp_path)
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
