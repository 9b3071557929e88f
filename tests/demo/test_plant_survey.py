"""The messy survey of the demo plant: what is refused, what is mended, and that the jobs of the plant follow from it."""

from __future__ import annotations

import dataclasses
import tomllib
from collections.abc import Iterator
from math import isclose
from typing import Any

import pytest

from halfbore.demo import plant, survey
from halfbore.domain.survey import Plain, SurveyReading, Thing
from halfbore.domain.survey_layout import WRONG
from halfbore.domain.workspace import Address
from halfbore.intake.jobfile import read_job_data
from halfbore.intake.survey.mapping import SurveyMapping, read_mapping_file, read_mapping_text
from halfbore.intake.survey.read import read_survey
from halfbore.store.plain import merged
from halfbore.workspace.told import added

EXACT = 1e-9
"""Two ways to write one size may differ by rounding."""


@dataclasses.dataclass(frozen=True)
class Made:
    """The survey as read, its mended rows as read, and the documents of the plant that both and the office give."""

    reading: SurveyReading
    mended: SurveyReading
    documents: dict[Address, Plain]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    folder = tmp_path_factory.mktemp("survey")
    path, mapping_file = survey.write_survey(folder)
    mapping = read_mapping_file(mapping_file)
    reading = read_survey(path, mapping)
    survey.write_mended(folder / survey.MENDED, reading, mapping)
    mended = read_survey(folder / survey.MENDED, mapping)
    documents, lost = added({}, (*survey.office(), *reading.told))
    waiting = [told for told in reading.told if told.place in lost]
    assert {told.thing for told in waiting} == {Thing.FAILURE}  # history of the positions that were rejected
    documents, lost = added(documents, (*mended.told, *waiting))
    assert lost == {}
    return Made(reading, mended, documents)


def job_of(documents: dict[Address, Plain], machine: str, line: str) -> Plain:
    """Return the job of a shaft line: what plant, machine and line say, each over the one before, and its positions."""
    data: Plain = {}
    for address in ((), (machine,), (machine, line)):
        data = merged(data, documents[address])
    named: Plain = {"format": 1, "machine": {"name": machine}, "shaft": {"name": line} if line else {}}
    below = [a for a in documents if len(a) == 3 and a[:2] == (machine, line)]
    return merged(data, named) | {"positions": [{**documents[a], "name": a[2]} for a in below]}


def differences(one: Any, other: Any, path: str = "") -> Iterator[tuple[str, Any, Any]]:
    """Yield where two records differ by more than rounding."""
    if dataclasses.is_dataclass(one) and type(one) is type(other):
        for field in dataclasses.fields(one):
            yield from differences(
                getattr(one, field.name), getattr(other, field.name), f"{path}.{field.name}"
            )
    elif isinstance(one, tuple) and isinstance(other, tuple) and len(one) == len(other):
        for i, (a, b) in enumerate(zip(one, other, strict=True)):
            yield from differences(a, b, f"{path}[{i}]")
    elif isinstance(one, float) and isinstance(other, float):
        if not isclose(one, other, rel_tol=EXACT):
            yield path, one, other
    elif one != other:
        yield path, one, other


@pytest.mark.parametrize("line", plant.LINES, ids=" ".join)
def test_survey_mends_and_office_give_the_job_of_every_shaft_line(made: Made, line: tuple[str, str]) -> None:
    wanted = read_job_data(tomllib.loads(plant.job_text(*line))).job
    assert list(differences(read_job_data(job_of(made.documents, *line)).job, wanted)) == []


@pytest.mark.parametrize(
    ("sheet", "cell", "why"),
    [
        ("Bearings", "3,850", "has two readings"),
        ("Bearings", "2023", "a day is wanted"),
        ("Lagerstellen", "4450", "position S1-B: x is told in two ways"),
        ("Lagerstellen", "4540", "position S1-B: x is told in two ways"),
        ("Wellen", "2016-04-07", "4-7 becomes a day"),
        ("Betrieb", "ca. 60", "it does not begin with a number"),
        ("Parts", "#REF!", "the cell shows an error"),
    ],
)
def test_every_slip_is_refused_with_its_reason(made: Made, sheet: str, cell: str, why: str) -> None:
    (reject,) = [r for r in made.reading.rejects if r.sheet == sheet and cell in r.cells]
    (problem,) = reject.problems
    assert why in problem.sentence()
    assert f"row {reject.row}" in problem.where


def test_nothing_is_lost_and_nothing_else_is_refused(made: Made) -> None:
    told = {t.place for t in made.reading.told}
    assert len(made.reading.rejects) == 7
    # One row is a total.
    assert len(told) + len(made.reading.rejects) + 1 == made.reading.rows
    assert any(
        "row 19: passed over, as skip of the mapping says" in remark for remark in made.reading.remarks
    )


@pytest.mark.parametrize(
    "words",
    [
        "sheet 'History', row 8: hidden, and read like the others",
        "column 'Plain right [mm]', row 11: the stored values of formulas are used",
        "merged cells, the value holds for each",
        "18 mm is unusual",
    ],
)
def test_what_is_odd_is_read_and_said(made: Made, words: str) -> None:
    assert any(words in remark for remark in made.reading.remarks)


def test_the_mended_rows_are_read_and_the_row_that_was_wrong_is_gone(made: Made) -> None:
    assert made.mended.rejects == ()
    assert made.mended.rows == len(made.reading.rejects) - 1
    found = {t.tags[-1] for t in made.mended.told if t.thing is Thing.POSITION}
    assert found == {"F1-B", "C1-B", "S1-B"}


def test_every_mend_meets_a_row(made: Made) -> None:
    bad = {(r.sheet, h, c) for r in made.reading.rejects for h, c in zip(r.headings, r.cells, strict=True)}
    assert survey.MENDS.keys() <= bad


def test_a_blank_is_no_zero(made: Made) -> None:
    tail, jack = made.documents["T1", "", "T1-A"], made.documents["F2", "", "F2-A"]
    assert "headroom" not in tail["room"]
    assert "stud_stick_out" not in jack["base"]
    assert "stud_stick_out" in made.documents["F1", "", "F1-A"]["base"]


@pytest.mark.parametrize(
    ("position", "path", "typed"),
    [
        ("L1-1", "nominal", "4-7/16 in"),
        ("L1-2", "nominal", "4.4375 in"),
        ("L1-3", "nominal", "4 7/16 in"),
        ("L1-4", "diameter", "112,7 mm"),
    ],
)
def test_what_was_typed_is_kept(made: Made, position: str, path: str, typed: str) -> None:
    assert made.documents["L1", "", position]["seat"][path] == typed


def test_two_logs_write_their_dates_in_two_orders(made: Made) -> None:
    days = [entry["on"] for entry in made.documents["C1", "", "C1-A"]["history"]]
    assert days == ["2021-10-08", "2025-06-19"]  # 10/8/2021 with the month first
    days = [entry["on"] for entry in made.documents["E1", "head", "E1-A"]["history"]]
    assert days == ["2020-12-01", "2023-09-14"]  # 01.12.2020 with the day first


def test_the_mapping_reads_every_sheet_but_the_notes() -> None:
    mapping: SurveyMapping = read_mapping_text(survey.mapping_text())
    assert len(mapping.tables) == 9
    assert mapping.not_read == ("Notes", "old list")
    assert not any(c.heading == WRONG for t in mapping.tables for c in t.columns)
