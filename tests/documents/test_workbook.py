"""The workbook: raw numbers as the records have them, text stays text, the same bytes."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import python_calamine

from halfbore.documents.workbook import workbook_xlsx, write_workbook
from halfbore.domain.study import Study
from tests.documents.studies import WHEN, studied

SHEETS = ["summary", "reactions", "checks", "candidates", "order", "plans", "value", "assumptions", "sources"]
Rows = list[list[Any]]


def sheets(study: Study) -> dict[str, Rows]:
    """Return what a workbook holds, read back."""
    book = python_calamine.load_workbook(io.BytesIO(workbook_xlsx(study, WHEN)))
    return {name: book.get_sheet_by_name(name).to_python() for name in book.sheet_names}


@pytest.mark.parametrize("name", ["fan", "line_shaft", "five"])
def test_all_sheets_are_there(name: str) -> None:
    found = sheets(studied(name))
    assert list(found) == SHEETS
    assert all(len({len(row) for row in rows}) == 1 and len(rows) > 1 for rows in found.values())


def test_reactions_are_the_records_numbers() -> None:
    study = studied("head_shaft")
    rows = sheets(study)["reactions"][1:]
    assert len(rows) == len(study.response.reactions)
    for row, r in zip(rows, study.response.reactions, strict=True):
        assert row[:2] == [r.position, r.condition]
        assert row[2:7] == pytest.approx([r.y, r.z, r.low, r.high, r.axial], rel=1e-15, abs=0)


def test_checks_carry_both_ends_and_the_unit() -> None:
    study = studied("fan")
    findings = [f for p in study.positions if p.choice is not None for f in p.choice.findings]
    rows = sheets(study)["checks"][1:]
    assert len(rows) == len(findings)
    for row, f in zip(rows, findings, strict=True):
        assert row[1:3] == [f.title, f.verdict.word]
        ends = [f.value.low, f.value.high] if f.value else ["not known"] * 2
        used = [f.used.low, f.used.high] if f.used else ["not known"] * 2
        for read, own in zip([*row[3:5], *row[9:11]], [*ends, *used], strict=True):
            assert read == (own if isinstance(own, str) else pytest.approx(own, rel=1e-15, abs=0))


def test_value_and_clocks_are_raw() -> None:
    study = studied("fan")
    p = study.positions[0]
    assert p.value is not None and p.plans is not None
    found = sheets(study)
    saved = next(r for r in found["value"] if r[:2] == [p.position, "saved, present value"])
    assert saved[2:5] == pytest.approx(
        [p.value.saving.p10, p.value.saving.p50, p.value.saving.p90], rel=1e-15
    )
    clock = next(r for r in found["plans"] if r[2] == "clock: outage")
    out = p.plans.one_piece.outage
    assert clock[7:10] == pytest.approx([out.p10, out.p50, out.p90], rel=1e-15)


def test_what_is_not_known_is_a_word() -> None:
    rows = sheets(studied("fan"))["order"]
    assert any("not known" in row for row in rows)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "=cmd|' /C calc'!A0", "http://a.b", "{=1}"])
def test_text_never_becomes_a_formula_or_a_link(text: str) -> None:
    study = studied("fan")
    reading = replace(study.reading, job=replace(study.reading.job, title=text))
    nasty = replace(study, reading=reading)
    rows = sheets(nasty)["summary"]
    assert ["Title", text] in rows
    with zipfile.ZipFile(io.BytesIO(workbook_xlsx(nasty, WHEN))) as book:
        pages = [book.read(n) for n in book.namelist() if n.startswith("xl/worksheets/sheet")]
    assert not any(b"<f>" in page or b"<hyperlink" in page for page in pages)


def test_the_same_study_and_date_give_the_same_bytes() -> None:
    assert workbook_xlsx(studied("fan"), WHEN) == workbook_xlsx(studied("fan"), WHEN)


def test_the_file_is_written_whole(tmp_path: Path) -> None:
    path = write_workbook(studied("fan"), WHEN, tmp_path / "proposal.xlsx")
    assert path.read_bytes() == workbook_xlsx(studied("fan"), WHEN)
    assert [p.name for p in tmp_path.iterdir()] == ["proposal.xlsx"]
