"""Page one, for the signature: the answer, three figures, the drawing, what decides, what would make it no."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from enum import IntEnum

from halfbore.documents.blocks import (
    Answer,
    Beside,
    Block,
    Cell,
    Figures,
    Fitted,
    Heading,
    Items,
    Para,
    Picture,
    Run,
    Square,
    Table,
    breakable,
    columns,
    picture,
    text,
    verdict_cell,
)
from halfbore.documents.front_figures import figures, next_change, share
from halfbore.documents.front_notes import consequences, no_value, ordered_price
from halfbore.documents.precautions import notice
from halfbore.documents.subject import TOLD, Subject, counted_findings, nearest
from halfbore.domain.check import Finding
from halfbore.domain.selection import Candidate
from halfbore.domain.study import Decision, PositionStudy
from halfbore.numbers import NO_BREAK, percent, write
from halfbore.phrases import listed
from halfbore.present.bars import check_bar, used_words
from halfbore.present.labels import cut
from halfbore.present.shaft_drawing import shaft_drawings
from halfbore.present.wording import (
    CALCULATION_AID,
    Mark,
    cited,
    counted,
    limit_of,
    mark_of,
    prose,
    sentence,
    short_source,
    value_of,
    weakest,
)
from halfbore.units import Kind

BAR = 62.0
"""Width of a bar in a table [px]."""
PLACE = 500.0
"""Width of the place on its line [pt]."""
SOURCE = 86.0
"""Width of a source on one line [pt]."""
MOST_REASONS = 2
"""Positions without a unit whose reason stands on page one; page two has all."""
TALLEST = 560.0
"""Most height of the drawing on page one [px]."""


SCALES = (1.0, 0.85, 0.7, 0.5)
"""Parts of its size in which the smallest drawing stands where even the briefest texts are long."""


def front_page(subject: Subject) -> Fitted:
    """Return page one, with the drawing as large as the rest of the page leaves room for."""
    study = subject.study
    place, answer = _place(subject), prose(study.sentence)
    head = Figures(tuple(figures(subject)))
    caption = Para((Run("Shaft line to scale. ", bold=True), *text(_caption(subject))), small=True)
    table = positions_table(subject)
    drawings = list(shaft_drawings(study.reading.job, study.response, subject.units, subject.style))
    pictures = [
        picture(drawing) for drawing in drawings if drawing.height <= TALLEST or drawing is drawings[-1]
    ]
    whole, brief, briefer, briefest = ((caption, table, *_end(subject, told)) for told in _Told)
    return Fitted(
        (
            *((Answer(place, answer), head, p, *whole) for p in pictures),
            *((Answer(place, answer), head, p, *brief) for p in pictures[-2:]),
            *(
                (Answer(place, answer, 15.5), head, _scaled(pictures[-1], s), *end)
                for end in (brief, briefer)
                for s in SCALES[:3]
            ),
            *((Answer(place, answer, 15.5), head, _scaled(pictures[-1], s), *briefest) for s in SCALES),
        )
    )


def _scaled(drawing: Picture, scale: float) -> Picture:
    return replace(drawing, width=drawing.width * scale, height=drawing.height * scale)


class _Told(IntEnum):
    """How much page one tells: all; without the next unit and the others' answers; fewer checks; work only."""

    WHOLE = 0
    BRIEF = 1
    BRIEFER = 2
    BRIEFEST = 3


def _end(subject: Subject, told: _Told) -> Iterator[Block]:
    whole = told is _Told.WHOLE
    if subject.lead is not None:
        yield from _deciding(subject, subject.lead, whole, 2 if told >= _Told.BRIEFER else 3)
    notes = (*_beside_the_money(subject), *consequences(subject, told is not _Told.BRIEFEST))
    if notes:
        yield Items(notes, small=True)
    founded = Para(text(f"{_founded(subject)} {CALCULATION_AID}"), small=True)
    yield Beside(((*_no(subject, whole), founded), (notice(subject),)), ("1fr", "1.05fr"))


def _beside_the_money(subject: Subject) -> Iterator[Cell]:
    """Yield what must stand beside the money saved at the position that leads."""
    value = subject.lead.value if subject.lead is not None else None
    for words in value.caveats if value is not None else ():
        yield (Run("Money saved: ", bold=True), *text(sentence(words)))


def _place(subject: Subject) -> str:
    job = subject.study.reading.job
    named = dict.fromkeys(w for w in (job.title, job.customer or job.machine.plant) if w)
    return cut(prose("; ".join(breakable(w) for w in named)), PLACE, 10.5)


def _caption(subject: Subject) -> str:
    response = subject.study.response
    balances = response.balances
    style = subject.style
    left = max(abs(b.force) for b in balances), max(abs(b.moment) for b in balances)
    return (
        "Solid arrows act, open arrows hold; hatched: kept clear. "
        f"Balance left over {write(left[0], Kind.FORCE, style)}, {write(left[1], Kind.TORQUE, style)}. "
        f"Bending stress at most {write(response.max_stress, Kind.STRESS, style)}."
    )


def positions_table(subject: Subject) -> Table:
    """Return one row a position: what is advised, the unit, what is nearest to its limit, hours, money, chance."""
    rows = []
    done = {p.position: p for p in subject.study.positions}
    for position in subject.study.reading.job.positions:
        p = done.get(position.name)
        head = (subject.named(position.name), text(p.decision.short if p else "not asked", bold=True))
        rows.append((*head, *(_row(p, subject) if p else (text("loads only"), *[text("")] * 4))))
    return Table(
        columns(
            "Position",
            ("Advice", "62pt"),
            ("Unit", "1fr"),
            ("Nearest to its limit", "100pt"),
            ("Next change", "92pt", "right"),
            ("Money saved", "59pt", "right"),
            ("Pays in", "33pt", "right"),
        ),
        tuple(rows),
    )


def _row(p: PositionStudy, subject: Subject) -> tuple[Cell, ...]:
    if p.choice is None or p.choice.chosen is None:
        return (text("keeps its bearing" if p.choice is None else "none"), *[text("–", colour="ink3")] * 4)
    closest = next(iter(nearest(p, 1)), None)
    near = f"{closest.title}, {share(closest, subject)}" if closest else ""
    told = (text(short_name(p) if p.decision in TOLD else "keeps its bearing"), text(near))
    if p.value is None:
        return (*told, text(""), text(no_value(p, subject), colour="ink3"), text(""))
    v, style = p.value, subject.style
    money = write((v.saving.p10, v.saving.p90), Kind.MONEY, style, currency=v.currency)
    chance = percent(v.chance, style)
    return (*told, text(next_change(v, subject, brief=True)), text(money), text(chance))


def short_name(p: PositionStudy) -> str:
    """Return supplier and size of the chosen unit."""
    unit = p.choice.chosen_unit if p.choice is not None else None
    return f"{unit.supplier[0]} {str(unit.size[0]).replace(' ', NO_BREAK)}" if unit is not None else ""


def unit_words(unit: Candidate) -> str:
    """Return a unit in words without what the position says already."""
    return unit.name.replace(", locating", "").replace(", non-locating", "")


def _deciding(subject: Subject, lead: PositionStudy, with_next: bool, most: int) -> Iterator[Block]:
    choice = lead.choice
    if choice is None or choice.chosen is None:
        return
    one = choice.chosen
    following = f" Next: {choice.next.name}, {choice.next_because}." if choice.next and with_next else ""
    yield Heading(f"Chosen for {lead.position}: {short_name(lead)}", level=1)
    verb = "holds" if choice.holding == 1 else "hold"
    yield Para(
        text(
            f"{one.name}: {ordered_price(one, lead.order, subject)}, {weeks_of(one, subject)}; {choice.holding} of "
            f"{write(choice.total, Kind.COUNT, subject.style)} units {verb}.{following} "
            "Nearest to their limits:"
        )
    )
    yield checks_table(nearest(lead, most), subject, one_line=True)


def weeks_of(unit: Candidate, subject: Subject) -> str:
    """Return a unit's lead time."""
    return write(unit.lead_time, Kind.DURATION, subject.style, unit="weeks")


def checks_table(findings: tuple[Finding, ...], subject: Subject, one_line: bool = False) -> Table:
    """Return checks as rows: found, limit, bar, part used, verdict, source; one_line: long sources are cut."""
    style = subject.style
    rows = tuple(
        (
            text(f.title),
            text(value_of(f, style), bold=True),
            text(limit_of(f, style)),
            (picture(check_bar(f, BAR, style)),),
            text(used_words(f, style)),
            verdict_cell(f.verdict),
            source_cell(f, one_line),
        )
        for f in findings
    )
    return Table(
        columns(
            ("Check", "92pt"),
            ("Found", "88pt", "right"),
            ("Limit", "80pt"),
            ("Limit used", "55pt"),
            ("", "34pt", "right"),
            ("Verdict", "57pt"),
            ("Source", "1fr"),
        ),
        rows,
    )


def source_cell(finding: Finding, one_line: bool) -> Cell:
    """Return the weakest source of a check, the mark first; the table at the end has all."""
    worst = weakest(finding.sources)
    told = next((cited(s) for s in finding.sources if mark_of(s) is worst), "")
    words = short_source(told, SOURCE, 9.0) if one_line else told
    return (Square(worst), *text(words))


def _no(subject: Subject, all_answers: bool) -> Iterator[Block]:
    """Yield when the answer is no, at the position that leads or at all, and what is to be settled first."""
    asked = [p for p in subject.full if p.value is not None and (all_answers or p is subject.lead)]
    several = len(asked) > 1
    told = [f"{p.position}: {_no_when(p)}" if several else _no_when(p) for p in asked]
    first = [p.first or f"{p.position}: {p.because}" for p in subject.study.positions if _comes_first(p)]
    if subject.full:
        yield Heading("What would make the answer no", level=1, small=True)
    for words in dict.fromkeys([*first, *told]):
        yield Para(text(sentence(words)))
    if not told and subject.full:
        yield from _no_value(subject)
    without = [p for p in subject.study.positions if p.choice is not None and p.choice.chosen is None]
    if without:
        yield Heading("Why no unit is chosen", level=1, small=True)
    for p in without[:MOST_REASONS]:
        yield Para(text(sentence(p.because)))


def _comes_first(p: PositionStudy) -> bool:
    return bool(p.first) or p.decision is Decision.SETTLE_FIRST


def _no_value(subject: Subject) -> Iterator[Block]:
    """Yield why nothing says that it pays."""
    if subject.study.reading.job.value is None:
        yield Para(text("The value was not asked for: nothing here says that it pays."))
        return
    for p in subject.full:
        yield Para(text(f"{p.position}: {sentence(p.because)}"))
    yield Para(text("Nothing here says that it pays."))


def _no_when(p: PositionStudy) -> str:
    return p.value.no_when if p.value is not None else ""


def _founded(subject: Subject) -> str:
    """Return how many verdicts of the units that go in rest on values that nobody published."""
    findings = [f for p in subject.full for f in counted_findings(p)]
    marks = [weakest(f.sources) for f in findings]
    memory, practice = marks.count(Mark.MEMORY), marks.count(Mark.PRACTICE)
    kept = [p.position for p in subject.short if p.decision not in TOLD]
    told = []
    if findings:
        told.append(
            f"Of {counted(len(findings), 'verdict')} at {listed([p.position for p in subject.full])}, {memory} "
            f"{_rests(memory)} on a value from memory and {practice} on common practice or an estimate."
        )
    if kept:
        told.append(f"{listed(kept)}: see page two.")
    return " ".join((*told, *_estimated(subject)))


def _estimated(subject: Subject) -> Iterator[str]:
    """Yield that loads are estimates, where they are."""
    count = sum(e.path.startswith("loads[") for e in subject.study.reading.estimates)
    if count:
        yield f"Loads are estimated from the name plate: {counted(count, 'value')}, each among the assumptions."


def _rests(count: int) -> str:
    return "rests" if count == 1 else "rest"
