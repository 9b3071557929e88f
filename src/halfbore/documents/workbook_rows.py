"""The sheets of the workbook as rows of text and raw numbers in internal units."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from halfbore.documents.ground_pages import sources_of
from halfbore.documents.subject import Subject
from halfbore.domain.check import Finding
from halfbore.domain.plan import Clock, Plan
from halfbore.domain.value import Estimate
from halfbore.domain.value import Value as Worth
from halfbore.present.gantt import plan_title
from halfbore.present.wording import CALCULATION_AID, cited, day, reaction_direction
from halfbore.units import INTERNAL, Kind, Span


@dataclass(frozen=True)
class Number:
    """A raw number with what it measures; NaN is not known."""

    value: float
    kind: Kind


Value = str | Number
Row = tuple[Value, ...]


@dataclass(frozen=True)
class Sheet:
    """One sheet: a row of heads, rows below it."""

    name: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]


def _n(value: float | None, kind: Kind) -> Number:
    return Number(float("nan") if value is None else float(value), kind)


def _span(span: Span | None, kind: Kind) -> tuple[Number, Number]:
    return (_n(None, kind), _n(None, kind)) if span is None else (_n(span.low, kind), _n(span.high, kind))


def _estimate(e: Estimate | Clock, kind: Kind) -> tuple[Number, Number, Number]:
    return _n(e.p10, kind), _n(e.p50, kind), _n(e.p90, kind)


def _three(words: str, unit: str) -> tuple[str, str, str]:
    return f"{words} P10, {unit}", f"{words} P50, {unit}", f"{words} P90, {unit}"


def sheets_of(subject: Subject, when: date) -> tuple[Sheet, ...]:
    """Return all sheets of a study; when: the date that the workbook bears."""
    return (
        _summary(subject, when),
        _reactions(subject),
        _checks(subject),
        _candidates(subject),
        _order(subject),
        _plans(subject),
        _value(subject),
        _assumptions(subject),
        _sources(subject),
    )


def _summary(subject: Subject, when: date) -> Sheet:
    study = subject.study
    job, p = study.reading.job, study.provenance
    rows: list[Row] = [
        ("Answer", study.sentence),
        ("Title", job.title),
        ("Customer", job.customer or "not named"),
        ("Proposal", job.number or "not numbered"),
        ("Date", day(when)),
        ("Standing", CALCULATION_AID),
        *([("Data", subject.invented)] if subject.invented else []),
        ("Program", f"halfbore {p.version}"),
        ("Inputs", p.inputs_hash),
        ("Seed", _n(p.seed, Kind.COUNT)),
        *((f"Catalogue {c.supplier}", f"version {c.version}, {c.units} units") for c in p.catalogues),
        *((f"Position {s.position}", f"{s.decision.value}: {s.because}") for s in study.positions),
    ]
    return Sheet("summary", ("what", "answer"), tuple(rows))


def _reactions(subject: Subject) -> Sheet:
    newton = INTERNAL[Kind.FORCE]
    rows: tuple[Row, ...] = tuple(
        (
            r.position,
            r.condition,
            *(_n(v, Kind.FORCE) for v in (r.y, r.z, r.low, r.high, r.axial, r.axial_low, r.axial_high)),
            reaction_direction(r),
        )
        for r in subject.study.response.reactions
    )
    along = "axial, towards the free end"
    heads = ("up", "right", "least", "most", along, f"{along}, low", f"{along}, high")
    return Sheet(
        "reactions",
        ("position", "condition", *(f"{h}, {newton}" for h in heads), "direction on the shaft"),
        rows,
    )


def _checks(subject: Subject) -> Sheet:
    rows = tuple(
        (p.position, *_finding(f))
        for p in subject.study.positions
        if p.choice is not None
        for f in p.choice.findings
    )
    return Sheet(
        "checks",
        (
            *(
                "position",
                "check",
                "verdict",
                "found, low",
                "found, high",
                "sense",
                "limit, low",
                "limit, high",
            ),
            *("unit", "used, good end", "used, bad end", "reason", "asked for", "sources"),
        ),
        rows,
    )


def _finding(f: Finding) -> Row:
    return (
        f.title,
        f.verdict.word,
        *_span(f.value, f.kind),
        f.sense.value,
        *_span(f.limit, f.kind),
        INTERNAL[f.kind],
        *_span(f.used, Kind.FRACTION),
        f.reason,
        f.datum,
        "; ".join(f"{cited(s)} ({s.status.value})" for s in f.sources),
    )


def _candidates(subject: Subject) -> Sheet:
    rows: list[Row] = []
    for p in subject.study.positions:
        if p.choice is None:
            continue
        for c in p.choice.candidates:
            place = {p.choice.chosen: "chosen", p.choice.next: "next"}.get(c, "")
            rows.append(
                (
                    p.position,
                    place,
                    c.supplier,
                    c.code,
                    c.name,
                    c.first_check or "holds",
                    c.reason,
                    _n(c.cost, Kind.MONEY),
                    _n(c.price, Kind.MONEY),
                    c.currency,
                    _n(c.lead_time, Kind.DURATION),
                )
            )
    return Sheet(
        "candidates",
        (
            *("position", "place", "supplier", "code", "unit", "turned away by", "why"),
            *("cost over the horizon", "price", "currency", "lead time, h"),
        ),
        tuple(rows),
    )


def _order(subject: Subject) -> Sheet:
    rows: list[Row] = []
    for p in subject.study.positions:
        if p.order is None:
            continue
        state = p.order.standing
        blank = ("",) * 4
        rows.append((p.position, "order", "", p.order.code, p.order.words, *blank, state))
        for item, what in (*((i, "part") for i in p.order.items), *((i, "spare") for i in p.order.spares)):
            numbers = (_n(item.mass, Kind.MASS), _n(item.price, Kind.MONEY))
            lead = _n(item.lead_time, Kind.DURATION)
            count = _n(item.quantity, Kind.COUNT)
            rows.append(
                (p.position, what, count, item.code, item.words, *numbers, item.currency, lead, item.part)
            )
        rows += [
            (p.position, "question", "", a.question, a.answer, *blank, a.state.value) for a in p.order.answers
        ]
    return Sheet(
        "order",
        (
            *("position", "what", "quantity", "code or question", "words or answer"),
            *("mass, kg", "price each", "currency", "lead time, h", "part or state"),
        ),
        tuple(rows),
    )


def _plans(subject: Subject) -> Sheet:
    rows: list[Row] = []
    for p in subject.study.positions:
        if p.plans is not None:
            pair = p.plans
            for plan in dict.fromkeys(
                (pair.one_piece, pair.split_first, pair.split_repeat, pair.one_piece_seized)
            ):
                rows += _plan_rows(plan)
    hours = INTERNAL[Kind.DURATION]
    return Sheet(
        "plans",
        (
            *(
                "position",
                "plan",
                "task or clock",
                f"start, {hours}",
                f"finish, {hours}",
                "persons",
                "hazards",
            ),
            *(f"low or P10, {hours}", f"likely or P50, {hours}", f"high or P90, {hours}", f"slack, {hours}"),
            *("waits for", "source"),
        ),
        tuple(rows),
    )


def _plan_rows(plan: Plan) -> Iterator[Row]:
    title = plan_title(plan)
    for t in plan.tasks:
        yield (
            plan.position,
            title,
            t.task.name,
            _n(t.start, Kind.DURATION),
            _n(t.finish, Kind.DURATION),
            _n(t.task.persons, Kind.COUNT),
            ", ".join(h.value for h in t.task.hazards),
            *(_n(h, Kind.DURATION) for h in (t.task.hours.low, t.task.hours.likely, t.task.hours.high)),
            _n(t.slack, Kind.DURATION),
            ", ".join(t.after),
            f"{cited(t.task.source)} ({t.task.source.status.value})",
        )
    for clock in (plan.exchange, plan.mechanical, plan.outage, plan.crew_hours):
        numbers = _estimate(clock, Kind.DURATION)
        yield (plan.position, title, f"clock: {clock.name}", "", "", "", "", *numbers, "", "", "")


def _value(subject: Subject) -> Sheet:
    rows: list[Row] = []
    for p in subject.study.positions:
        if p.value is not None:
            rows += [(p.position, *row) for row in _worth(p.value)]
    return Sheet(
        "value", ("position", "what", "P10 or one-piece", "P50 or split", "P90", "unit", "note"), tuple(rows)
    )


def _worth(v: Worth) -> Iterator[Row]:
    hours, share = Kind.DURATION, Kind.FRACTION
    yield ("saved, present value", *_estimate(v.saving, Kind.MONEY), v.currency, v.sentence)
    yield (
        "saved were nothing cured",
        *_estimate(v.saving_without_cure, Kind.MONEY),
        v.currency,
        " ".join(v.caveats),
    )
    was, will = (_n(each.mean, Kind.NUMBER) for each in v.replacements)
    yield ("replacements after the next change", was, will, "", "", "mean; one-piece, split")
    yield (
        "part of a stop that counts here",
        "",
        _n(v.stop_share, share),
        "",
        "share",
        ", ".join(v.shared_with),
    )
    yield ("outage saved over the horizon", *_estimate(v.hours_saved, hours), "h", "")
    yield ("outage saved at the next change", *_estimate(v.hours_saved_next, hours), "h", "")
    yield ("outage saved at a later planned change", *_estimate(v.hours_saved_later, hours), "h", "")
    yield ("runs in which it pays", "", _n(v.chance, share), "", "share", f"{v.draws} runs, seed {v.seed}")
    yield ("pays back after", "", _n(v.payback, Kind.NUMBER), "", "years", "")
    yield (
        "turns at a cost of lost production of",
        "",
        _n(v.breakeven, Kind.MONEY_RATE),
        "",
        f"{v.currency}/h",
        v.no_when,
    )
    least, most = (_n(r, Kind.MONEY_RATE) for r in v.plant_rate)
    yield ("the plant says", least, "", most, f"{v.currency}/h", "least and most")
    was, will = (_n(h, hours) for h in v.exposed_hours)
    yield ("person-hours exposed, P50", was, will, "", "h", "one-piece, split")
    for c in v.costs:
        yield (
            f"cost: {c.name}",
            _n(c.one_piece, Kind.MONEY),
            _n(c.split, Kind.MONEY),
            "",
            v.currency,
            "mean",
        )
    for s in v.swings:
        ends = (_n(s.at_low, Kind.MONEY), "", _n(s.at_high, Kind.MONEY))
        yield (
            f"mean saving with {s.name} at its P10 and P90",
            *ends,
            v.currency,
            f"{s.low:g} to {s.high:g} {s.unit}",
        )
    for b in v.lives:
        note = f"shape {b.beta:g}; {cited(b.source)} ({b.source.status.value})"
        yield (f"field life, {b.way}: {b.cause}", *_estimate(b.eta, hours), "h", note)


def _assumptions(subject: Subject) -> Sheet:
    reading = subject.study.reading
    rows = [("assumed", a.path, a.value, a.why) for a in reading.assumptions]
    rows += [("asked", q.path, q.text, "") for q in reading.questions]
    rows += [("typed", path, text, "") for path, text in reading.typed.items()]
    return Sheet("assumptions", ("how", "place in the job file", "value", "why"), tuple(rows))


def _sources(subject: Subject) -> Sheet:
    rows = tuple((s.title, s.place, s.status.value, s.note) for s in sources_of(subject))
    return Sheet("sources", ("source", "place", "standing", "note"), rows)
