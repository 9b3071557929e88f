"""Ranges in cells, as people write them in four languages."""

from __future__ import annotations

import pytest

from halfbore.domain.survey import Thing
from halfbore.intake.survey.cells import CellReader
from halfbore.intake.survey.mapping import Cells, Column
from halfbore.intake.survey.targets import target_of
from halfbore.units import Span

MEASURED = Column("Sitz [mm]", target_of(Thing.POSITION, "seat.diameter"), "seat.diameter", "mm")


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("98,5 bis 99", "98,5 to 99 mm"),
        ("98,5 mm Bis 99 mm", "98,5 mm to 99 mm"),
        ("98,5 à 99", "98,5 to 99 mm"),
        ("98,5 a 99 mm", "98,5 to 99 mm"),
        ("98,5 hasta 99", "98,5 to 99 mm"),
        ("98,5 to 99", "98,5 to 99 mm"),
    ],
)
def test_a_range_is_read_in_four_languages(text: str, kept: str) -> None:
    found = CellReader(MEASURED, Cells(decimal=",")).read(text)
    assert (found.plain, found.value) == (kept, Span(98.5, 98.75, 99.0))


@pytest.mark.parametrize("text", ["bis 99", "98,5 bis", "98,5 bis ca. 99", "98,5 abis 99"])
def test_half_a_range_is_refused(text: str) -> None:
    assert CellReader(MEASURED, Cells(decimal=",")).read(text).problem is not None
