"""The ranking as a workbook: the notes of the screen, what a worth rests on, chances that are neither none nor all."""

from __future__ import annotations

import io
import zipfile
from datetime import date

import pytest
from python_calamine import CalamineWorkbook

from halfbore.cli import show_plant
from halfbore.documents.ranking import ranking_xlsx
from halfbore.domain.study import Decision
from halfbore.domain.value import Estimate
from halfbore.domain.worth import Worth, notes

SAVED = Estimate(1e3, 2e3, 3e3, 2e3)


def row(position: str, decision: Decision, chance: float, *caveats: str) -> Worth:
    return Worth("M", "", position, decision, "why", "U", SAVED, "EUR", chance, SAVED, "", caveats=caveats)


ROWS = (
    row("A", Decision.CONVERT_IF, 0.998, "5 stops on record took 8 to 11 h."),
    row("B", Decision.CONVERT, 0.15),
    row("C", Decision.CONVERT, 0.002),
)
BOOK = ranking_xlsx(ROWS, (), date(2026, 3, 2))


def cells(sheet: str) -> list[list[object]]:
    return [
        list(line)
        for line in CalamineWorkbook.from_filelike(io.BytesIO(BOOK)).get_sheet_by_name(sheet).to_python()
    ]


def test_a_chance_near_an_end_is_a_number_that_is_shown_as_near_it() -> None:
    assert [line[10] for line in cells("ranking")] == ["chance that it pays", 0.998, 0.15, 0.002]
    with zipfile.ZipFile(io.BytesIO(BOOK)) as archive:
        styles = archive.read("xl/styles.xml").decode()
    for shown in ("&gt;99\u00a0%", "&lt;1\u00a0%"):
        assert f"&quot;{shown}&quot;" in styles


def test_notes_and_caveats_stand_in_the_book() -> None:
    told = [line[0] for line in cells("notes")]
    assert told[1:4] == list(notes(ROWS))
    assert told[2] == "Convert if it holds: worth and chance are those of a unit that is shown to hold."
    assert len(list(notes(ROWS[1:]))) == 2
    assert "5 stops on record took 8 to 11 h." in [
        str(cell).replace("\u00a0", " ") for cell in cells("ranking")[1]
    ]


def test_the_screen_tells_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    show_plant.ranking(ROWS)
    out = " ".join(capsys.readouterr().out.split())
    for note in (
        *notes(ROWS),
        ">99 %",
        "<1 %",
        "What the worth rests on A 5 stops on record took 8 to 11 h.",
    ):
        assert note in out
