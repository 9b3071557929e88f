"""A proposal in inches holds no metric unit and a metric one no inch, but where a name or a supplier's size does."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from halfbore.demo import plant
from halfbore.demo.suppliers import load
from halfbore.documents.proposal import proposal_data
from halfbore.domain.study import Study
from halfbore.intake.jobfile import read_job_data
from halfbore.numbers import INCH, METRIC, Style
from halfbore.present.plain import plain_data
from halfbore.study import study
from tests.documents.studies import WHEN

LINES = (("F1", ""), ("C1", ""), ("L1", ""), ("F2", ""), ("E1", "head"), ("K1", ""))
METRIC_UNIT = re.compile(r"\d\)?\s?(?:mm(?!²)|µm|cm|m|kN|N|N·m|kN·m|kg|°C|K|kW|W|MPa|GPa|m/s)(?![\w²/·-])")
INCH_UNIT = re.compile(r"\d\s?(?:lbf|lb|°F|psi|ksi|hp|ft/min)\b|\d\.\d+ in\b")
FIXED = ("up to 1 mm per m, common practice",)
"""Fixed wording that is metric by nature: a slope."""
SIZE = re.compile(r"(?:Units|Rollerworks|bore) [\d /]+ (?:mm|in)\b|\b[\w./]+-\w+-[\w./-]+")
"""The size of a unit as its supplier writes it, and order codes."""


@cache
def studied(machine: str, line: str) -> Study:
    reading = read_job_data(tomllib.loads(plant.job_text(machine, line)))
    assert reading.job.value is not None
    reading = replace(reading, job=replace(reading.job, value=replace(reading.job.value, draws=300)))
    return study(reading, [load(name) for name in ("first", "second")], on=WHEN)


def texts(data: Any) -> Iterator[str]:
    """Yield every text of plain data, a drawing as the texts in it."""
    if isinstance(data, str):
        yield from re.findall(r">([^<]+)<", data) if data.startswith("<svg") else [data]
    for inner in data.values() if isinstance(data, dict) else data if isinstance(data, list) else ():
        yield from texts(inner)


def told(found: Study, style: Style) -> list[str]:
    """Return the texts of a proposal without what was typed, suppliers' sizes and fixed wording."""
    typed = sorted({t for t in texts(plain_data(found.reading.job)) if re.search(r"\d", t)}, key=len)
    left = []
    for text in texts(proposal_data(found, WHEN, style)):
        words = re.sub(r"[\u00a0\u202f]", " ", text.replace("\u200b", ""))
        for known in (*FIXED, *reversed(typed)):
            words = words.replace(known, "")
        left.append(SIZE.sub("", words))
    return left


@pytest.mark.parametrize(("machine", "line"), LINES)
def test_one_system_of_units_in_a_proposal(machine: str, line: str) -> None:
    found = studied(machine, line)
    assert [t for t in told(found, INCH) if METRIC_UNIT.search(t)] == []
    assert [t for t in told(found, METRIC) if INCH_UNIT.search(t)] == []
    assert any(INCH_UNIT.search(t) for t in told(found, INCH))
    assert any(METRIC_UNIT.search(t) for t in told(found, METRIC))
