"""The survey sheet of a machine that is known: it says all that is known, and brought in again it changes nothing."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from halfbore import store
from halfbore.demo import plant
from halfbore.documents.survey_workbook import write_survey_workbook
from halfbore.domain.survey_form import SheetKind
from halfbore.workspace.demo_plant import DemoPlant
from halfbore.workspace.known import known_of, sheet_kind
from halfbore.workspace.survey import import_survey

KINDS = {
    ("F1", ""): SheetKind.FAN,
    ("F2", ""): SheetKind.OVERHUNG_FAN,
    ("C1", ""): SheetKind.HEAD_SHAFT,
    ("E1", "head"): SheetKind.ELEVATOR_HEAD,
    ("E1", "boot"): SheetKind.ELEVATOR_BOOT,
    ("K1", ""): SheetKind.JACKSHAFT,
}


@pytest.mark.parametrize("line", KINDS)
def test_each_line_takes_the_sheet_of_its_kind(line: tuple[str, str], made: DemoPlant) -> None:
    with store.open(made.workspace) as workspace:
        assert sheet_kind(workspace, line) is KINDS[line]


@pytest.mark.parametrize("line", plant.LINES)
def test_what_is_known_comes_back_unchanged(
    line: tuple[str, str], copied: Callable[[], Path], tmp_path: Path
) -> None:
    with store.open(copied()) as workspace:
        before = workspace.contents()
        sheet = write_survey_workbook(tmp_path / "sheet.xlsx", known_of(workspace, line), date(2026, 3, 2))
        done = import_survey(workspace, sheet, None, "me")
        assert done.reading.rejects == ()
        assert workspace.contents() == before
        assert done.batch is None


def test_into_an_empty_workspace_the_sheet_brings_the_same_job(made: DemoPlant, tmp_path: Path) -> None:
    with store.open(made.workspace) as workspace:
        sheet = write_survey_workbook(tmp_path / "k1.xlsx", known_of(workspace, ("K1", "")), date(2026, 3, 2))
        wanted = workspace.contents()
    with store.create(tmp_path / "other.halfbore", "other") as other:
        import_survey(other, sheet, None, "me")
        found = other.contents()
    for address in (("K1", ""), ("K1", "", "K1-A"), ("K1", "", "K1-B")):
        assert found[address] == wanted[address]
    assert found[("K1",)]["machine"] == wanted[("K1",)]["machine"]
