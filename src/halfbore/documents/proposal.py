"""The proposal of one machine: an A4 document that a manager signs and an engineer can check."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path
from typing import Any

from halfbore.documents.blocks import Block, plain, shortened
from halfbore.documents.changeover_pages import changeover_pages
from halfbore.documents.files import replace_file
from halfbore.documents.front import front_page
from halfbore.documents.ground_pages import assumptions_pages, loads_pages, sources_pages
from halfbore.documents.order_pages import order_pages
from halfbore.documents.selection_pages import checks_pages, choice_pages
from halfbore.documents.subject import Subject
from halfbore.documents.typeset import typeset
from halfbore.documents.value_pages import value_pages
from halfbore.domain.study import Study
from halfbore.numbers import METRIC, Style
from halfbore.present.labels import cut
from halfbore.present.palette import LIGHT
from halfbore.present.styled import styled
from halfbore.present.wording import INVENTED, PLANT_INVENTED, SUPPLIERS_INVENTED, Mark, day, prose

PAGES = 8
"""Pages at most."""


@dataclass(frozen=True)
class _Detail:
    """How much is told: rows of candidates and relaxations, plans drawn, positions together in one table."""

    candidates: int
    relaxations: int
    charts: int
    compact: bool


_DETAILS = (
    *(_Detail(10, 6, 2, False), _Detail(6, 3, 1, False), _Detail(3, 1, 1, False)),
    *(_Detail(0, 0, 1, True), _Detail(0, 0, 0, True)),
)


def write_proposal(study: Study, when: date, path: Path, style: Style = METRIC) -> Path:
    """Write the proposal as a PDF file beside its place, then put it there.

    study: the whole answer; when: the date that it bears; path: where it shall stand. Returns the path.
    Raises InputError when the place cannot be written.
    """
    return replace_file(path, proposal_pdf(study, when, style))


def proposal_pdf(study: Study, when: date, style: Style = METRIC) -> bytes:
    """Return the proposal as PDF; the same study and date give the same bytes.

    study: the whole answer; when: the date that it bears; style: units and decimal sign.
    """
    return typeset(proposal_data(study, when, style), when, PAGES)


def proposal_data(study: Study, when: date, style: Style = METRIC) -> dict[str, Any]:
    """Return all that the proposal shows as plain data: page one, the parts of the rest, and which of them a detail has."""
    subject = Subject(styled(study, style), style)
    parts: dict[str, Any] = {}
    rest = [list(_parts(subject, detail, parts)) for detail in _DETAILS]
    return {
        "title": cut(shortened(f"Proposal: {prose(study.sentence)}", subject.long_names), 300.0, 1.0),
        "date": [when.year, when.month, when.day],
        "colours": asdict(LIGHT),
        "marks": [{"mark": m.value, "word": m.word} for m in Mark],
        "head": _head(subject, when),
        "front": shortened(plain(front_page(subject)), subject.long_names),
        "parts": shortened(parts, subject.long_names),
        "rest": rest,
    }


def _head(subject: Subject, when: date) -> dict[str, str]:
    study = subject.study
    number = study.reading.job.number
    name = cut(f"Proposal {number}".strip(), 170.0, 9.0)
    return {
        "name": f"{name}, {day(when)}",
        "demo": _INVENTED.get(subject.invented, ""),
        "inputs": f"inputs {study.provenance.inputs_hash[:12]}",
    }


_INVENTED = {
    INVENTED: "Demo data, all invented",
    PLANT_INVENTED: "Demo data, plant invented",
    SUPPLIERS_INVENTED: "Supplier data invented",
}


def _parts(subject: Subject, detail: _Detail, made: dict[str, Any]) -> Iterator[str]:
    """Yield the names of the parts of one detail; make those that are not made yet."""
    charts, compact = min(detail.charts, len(subject.full)), detail.compact
    brief = detail.candidates <= 3
    wanted: dict[str, Callable[[], Iterator[Block]]] = {
        f"checks {compact}": lambda: checks_pages(subject, compact),
        f"choice {detail.candidates} {compact}": lambda: choice_pages(
            subject, detail.candidates, detail.relaxations, compact
        ),
        f"order {compact}": lambda: order_pages(subject, compact),
        f"changeover {charts}": lambda: changeover_pages(subject, charts),
        f"value {brief}": lambda: value_pages(subject, brief),
        "loads": lambda: loads_pages(subject),
        "assumptions": lambda: assumptions_pages(subject),
        "sources": lambda: sources_pages(subject),
    }
    for name, make in wanted.items():
        if name not in made:
            made[name] = plain(list(make()))
        yield name
