"""Page one of every proposal of the demo plant: nothing of it runs over its page or into its footer."""

from __future__ import annotations

import tomllib
from functools import cache

import pytest

from halfbore.demo import plant, suppliers
from halfbore.documents.precautions import TITLE
from halfbore.documents.proposal import PAGES, proposal_pdf
from halfbore.domain.study import Study
from halfbore.intake.jobfile import read_job_data
from halfbore.numbers import INCH, METRIC, Style
from halfbore.study import study
from tests.documents.studies import WHEN, pages, runs_over

LINES = [
    *(("F1", ""), ("F2", ""), ("F3", ""), ("C1", ""), ("E1", "head"), ("E1", "boot")),
    *(("L1", ""), ("H1", ""), ("S1", ""), ("T1", ""), ("K1", "")),
]


@cache
def worked(machine: str, line: str) -> Study:
    told = tomllib.loads(plant.job_text(machine, line))
    told["value"]["draws"] = 1000
    return study(read_job_data(told), [suppliers.load(name) for name in ("first", "second")], on=WHEN)


@pytest.mark.parametrize("style", [METRIC, INCH], ids=["metric", "inch"])
@pytest.mark.parametrize(("machine", "line"), LINES)
def test_page_one_stays_on_its_page(machine: str, line: str, style: Style) -> None:
    content = proposal_pdf(worked(machine, line), WHEN, style)
    assert runs_over(content) == ""
    told = pages(content)
    assert TITLE in told[0] and len(told) <= PAGES
