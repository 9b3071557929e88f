"""Whole studies for the documents: the demo machines with few draws, and one with five supports and endless names."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pypdf

from halfbore.demo.suppliers import load_catalogue
from halfbore.documents.proposal import proposal_pdf
from halfbore.domain.job import Job, JobReading
from halfbore.domain.study import Study
from halfbore.intake.jobfile import read_job
from halfbore.present.wording import CALCULATION_AID, SITE_RULES
from halfbore.study import study
from halfbore.units import Span
from tests.samples_jobs import JOBS

WHEN = date(2026, 3, 2)
DRAWS = 1_000
CASES = ("fan", "head_shaft", "line_shaft", "five")
LONG = "Line shaft of the bagging and palletising plant, second floor, north side, near the {} pillar"


@cache
def studied(name: str) -> Study:
    """Return the study of a demo machine, or of the one on five supports."""
    if name == "five":
        return of_reading(_five(_reading("line_shaft")))
    return of_reading(_reading(name))


def _reading(name: str) -> JobReading:
    reading = read_job(JOBS / f"{name}.toml")
    assert reading.job.value is not None
    return replace(reading, job=replace(reading.job, value=replace(reading.job.value, draws=DRAWS)))


def of_reading(reading: JobReading) -> Study:
    """Return the study of a job with the catalogues that it names."""
    catalogues = [load_catalogue(c, Path()) for c in reading.job.catalogues]
    return study(reading, catalogues, on=WHEN)


def _five(reading: JobReading) -> JobReading:
    """Return a line shaft on five supports that mostly pay, with long names everywhere."""
    job = reading.job
    first, second, third, last = job.positions
    places = ((first, 200.0), (second, 1800.0), (third, 3500.0), (third, 4100.0), (last, 5100.0))
    positions = tuple(
        replace(p, name=LONG.format(word), x=x, trapped_between=("one", "two"), base=replace(p.base, height_error=Span.of(0.0)))
        for (p, x), word in zip(places, ("first", "second", "third", "fourth", "fifth"), strict=True)
    )  # fmt: skip
    named = tuple(
        replace(load, name=f"{load.name} of the drive with a name that goes on and on") for load in job.loads
    )
    return replace(reading, job=_expensive(replace(job, positions=positions, loads=named)))


def _expensive(job: Job) -> Job:
    """Return a job whose lost production makes a split unit pay, and whose title and customer do not end."""
    assert job.value is not None
    steps = tuple(replace(s, after=0.0, rate=Span(9e3, 12e3, 15e3)) for s in job.value.stopped_production)
    value = replace(job.value, stopped_production=steps)
    words = {
        "title": "A very long title " * 8,
        "customer": "A customer without end " * 8,
        "number": "P-" + "0123456789" * 6,
    }
    return replace(job, value=value, **words)  # type: ignore[arg-type]


@cache
def pdf(name: str) -> bytes:
    """Return the proposal of a study."""
    return proposal_pdf(studied(name), WHEN)


def pages(content: bytes) -> list[str]:
    """Return the text of each page with usual spaces."""
    return [flat(page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(content)).pages]


def flat(text: str) -> str:
    """Return a text on one line with usual spaces, without marks where it may break."""
    return re.sub(
        r"\s+", " ", text.replace("\u200b", "").replace("\u202f", " ").replace("\u00a0", " ")
    ).strip()


FOOT = 48.2
"""Height of the lower margin, in which only the footer stands [pt]."""
FOOTER = ("published", "from memory", "common practice", "inputs")


def runs_over(content: bytes) -> str:
    """Return what of page one stands in its lower margin beside the footer; its last words where they are not on it."""
    told: list[str] = []

    def low(words: str, place: list[float], _line: object, _font: object, _size: object) -> None:
        if words.strip() and place[5] < FOOT and not words.strip().startswith(FOOTER):
            told.append(words.strip())

    first = pypdf.PdfReader(io.BytesIO(content)).pages[0]
    on_it = flat(first.extract_text(visitor_text=low))
    return " ".join([*told, *(words for words in (CALCULATION_AID, SITE_RULES) if words not in on_it)])
