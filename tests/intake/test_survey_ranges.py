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


@pytest.mark.parametrize(
    ("text", "decimal", "readings"),
    [("1.200,5", ".", ("1200.5", "1.2005")), ("1,200.5", ",", ("1200.5", "1.2005"))],
)
def test_a_number_against_the_decimal_sign_is_refused_with_both_readings(
    text: str, decimal: str, readings: tuple[str, str]
) -> None:
    problem = CellReader(MEASURED, Cells(decimal=decimal)).read(text).problem
    assert problem is not None
    assert all(reading in problem.what for reading in readings)


@pytest.mark.parametrize(("text", "decimal"), [("1.200,5", ","), ("1,200.5", ".")])
def test_a_number_with_the_decimal_sign_of_its_mapping_is_read(text: str, decimal: str) -> None:
    found = CellReader(MEASURED, Cells(decimal=decimal)).read(text)
    assert found.value == Span.of(1200.5)
