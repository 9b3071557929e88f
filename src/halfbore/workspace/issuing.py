"""Documents that leave the house, made from a workspace and kept whole in it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Any

from halfbore.documents.files import file_name
from halfbore.documents.order_sheet import order_sheet_pdf, order_sheet_xlsx
from halfbore.documents.proposal import proposal_pdf
from halfbore.documents.ranking import ranking_xlsx
from halfbore.documents.survey_sheet import survey_sheet_pdf
from halfbore.documents.survey_workbook import survey_workbook
from halfbore.documents.workbook import workbook_xlsx
from halfbore.domain.study import Study
from halfbore.domain.survey import Thing
from halfbore.domain.workspace import Address, KeptDocument, named
from halfbore.errors import HalfboreError, InputError, Problem, shown
from halfbore.narrowing import answered
from halfbore.numbers import METRIC, Style
from halfbore.present.plain import plain_data
from halfbore.store import Workspace
from halfbore.study import Stage
from halfbore.workspace.catalogues import catalogues_of
from halfbore.workspace.known import known_of, sheet_kind
from halfbore.workspace.lines import job_data, kept_worths, lines_at
from halfbore.workspace.machine_file import job_text
from halfbore.workspace.ranking import ranked
from halfbore.workspace.running import reading_of


class Paper(StrEnum):
    """Kinds of documents."""

    PROPOSAL = "proposal"
    WORKBOOK = "workbook"
    ORDER = "order sheet"
    JOB = "job file"
    SURVEY = "survey sheet"
    RANKING = "ranking"

    @property
    def tags(self) -> int:
        """How many tags the address has of what it is about: a position 3, a shaft line 2, the plant none."""
        return {Paper.ORDER: 3, Paper.RANKING: 0}.get(self, 2)


@dataclass(frozen=True)
class Wanted:
    """A document that is wanted: of what, on whose behalf, in which units, with which date."""

    paper: Paper
    about: Address
    who: str
    style: Style = METRIC
    when: date = field(default_factory=date.today)


@dataclass(frozen=True)
class Issued:
    """What came of a document that was wanted: the files that are kept, or why there are none."""

    wanted: Wanted
    kept: tuple[KeptDocument, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class _File:
    """One file: what its name ends in, its content, its title, the record that it shows."""

    ending: str
    content: bytes
    title: str
    record: Any = None


def wanted_of(
    workspace: Workspace, paper: str, tag: str, who: str, style: Style = METRIC
) -> tuple[Wanted, ...]:
    """Return the documents of a kind that a tag means: of a machine those of all its shaft lines.

    paper: kind in words; tag: of a machine, shaft line or position, empty for a ranking.
    Raises InputError for what there is not.
    """
    known = {kind.value: kind for kind in Paper}
    if paper not in known:
        raise InputError(Problem("there is no such document", "paper", shown(paper), ", ".join(known)))
    kind = known[paper]
    if kind.tags == 0:
        return (Wanted(kind, (), who, style),)
    if not tag.strip():
        raise InputError(
            Problem("says not of what", "tag", next_step="name a machine, shaft line or position")
        )
    lines = lines_at(workspace, tag)
    if kind.tags == 2:
        return tuple(Wanted(kind, line, who, style) for line in lines)
    positions = [address for address in workspace.find(tag) if len(address) == 3]
    if not positions:
        raise InputError(Problem("an order is of one position", "tag", shown(tag), "tag of a position"))
    return tuple(Wanted(kind, address, who, style) for address in positions)


def issue(workspace: Workspace, wanted: Wanted) -> Issued:
    """Make a document and keep it for good, in one file or several; tell why where it cannot be made."""
    try:
        return Issued(wanted, _kept(workspace, wanted), ())
    except HalfboreError as error:
        return Issued(wanted, (), error.problems)


def _kept(workspace: Workspace, wanted: Wanted) -> tuple[KeptDocument, ...]:
    if len(wanted.about) != wanted.paper.tags:
        what = {0: "the plant as a whole", 2: "a shaft line", 3: "a position"}[wanted.paper.tags]
        raise InputError(Problem(f"this document is of {what}", wanted.paper, named(wanted.about)))
    files = list(_MADE[wanted.paper](workspace, wanted))
    stem = file_name("-".join(filter(None, wanted.about)) or workspace.path.stem)
    number = str(job_data(workspace, wanted.about[:2]).get("number", "")) if wanted.about else ""
    return tuple(
        workspace.keep_document(
            wanted.about,
            number=number,
            title=file.title,
            kind=wanted.paper.value,
            file_name=f"{stem}-{file.ending}",
            content=file.content,
            who=wanted.who,
            record=file.record,
        )
        for file in files
    )


def _studied(workspace: Workspace, line: Address, upto: Stage, when: date) -> Study:
    return answered(reading_of(workspace, line), catalogues_of(workspace), upto, when)[0]


def _proposal(workspace: Workspace, wanted: Wanted) -> Iterator[_File]:
    found = _studied(workspace, wanted.about, Stage.VALUE, wanted.when)
    pdf = proposal_pdf(found, wanted.when, wanted.style)
    yield _File("proposal.pdf", pdf, found.reading.job.title, plain_data(found))


def _workbook(workspace: Workspace, wanted: Wanted) -> Iterator[_File]:
    found = _studied(workspace, wanted.about, Stage.VALUE, wanted.when)
    yield _File(
        "proposal.xlsx", workbook_xlsx(found, wanted.when), found.reading.job.title, plain_data(found)
    )


def _order(workspace: Workspace, wanted: Wanted) -> Iterator[_File]:
    found, position = _studied(workspace, wanted.about[:2], Stage.ORDER, wanted.when), wanted.about[2]
    pdf, record = order_sheet_pdf(found, position, wanted.when, wanted.style), plain_data(found)
    title = f"Order for {position}"
    yield _File("order.pdf", pdf, title, record)
    yield _File("order.xlsx", order_sheet_xlsx(found, position, wanted.when), title, record)


def _job(workspace: Workspace, wanted: Wanted) -> Iterator[_File]:
    data = job_data(workspace, wanted.about)
    yield _File("job.toml", job_text(workspace, wanted.about).encode(), str(data.get("title", "")), data)


def _survey(workspace: Workspace, wanted: Wanted) -> Iterator[_File]:
    line = wanted.about
    kind, told = sheet_kind(workspace, line), known_of(workspace, line)
    count = sum(t.thing is Thing.POSITION for t in told)
    title, record = f"Survey sheet of {named(line)}", job_data(workspace, line)
    yield _File("survey.pdf", survey_sheet_pdf(kind, wanted.when, line[0], count, told), title, record)
    yield _File("survey.xlsx", survey_workbook(told, wanted.when), title, record)


def _ranking(workspace: Workspace, wanted: Wanted) -> Iterator[_File]:
    rows, never = kept_worths(workspace)
    if not rows:
        raise InputError(Problem("no shaft line was run yet", next_step="run the shaft lines first"))
    order = ranked(rows)
    invented = workspace.document(()).get("invented") is True
    content = ranking_xlsx(order, [named(line) for line in never], wanted.when, invented)
    yield _File("ranking.xlsx", content, "Ranking of all positions", plain_data(order))


_MADE: dict[Paper, Callable[[Workspace, Wanted], Iterator[_File]]] = {
    Paper.PROPOSAL: _proposal,
    Paper.WORKBOOK: _workbook,
    Paper.ORDER: _order,
    Paper.JOB: _job,
    Paper.SURVEY: _survey,
    Paper.RANKING: _ranking,
}
