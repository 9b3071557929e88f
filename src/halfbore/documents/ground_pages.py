"""What the numbers rest on: loads, reactions, assumptions, questions, sources, editions, seed, catalogues; signatures."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator

from halfbore.documents.blocks import (
    Beside,
    Block,
    Cell,
    Heading,
    Items,
    Para,
    Signatures,
    Square,
    Table,
    columns,
    text,
)
from halfbore.documents.subject import Subject
from halfbore.domain.job import Assumption
from halfbore.domain.shaftline import AppliedLoad, Nature
from halfbore.numbers import write
from halfbore.phrases import listed
from halfbore.present.shaft_forces import LIKELY, main_condition
from halfbore.present.wording import (
    Mark,
    axial_reaction,
    cited,
    counted,
    direction,
    mark_of,
    prose,
    reaction_direction,
    sentence,
)
from halfbore.sources import Source
from halfbore.units import Kind


def loads_pages(subject: Subject) -> Iterator[Block]:
    """Yield every load with its source, the reactions in every condition, balance, axial paths, lifting."""
    response, style = subject.study.response, subject.style
    condition = main_condition(response)
    name = response.curves[condition].condition
    yield Heading("Loads and reactions", level=1, note=f"loads in {name}, low to high")
    yield Table(
        columns(
            ("Load", "1fr"),
            ("x", "auto", "right"),
            ("Force", "auto", "right"),
            ("Direction", "1fr"),
            ("Source", "1.4fr"),
        ),
        tuple(_load(load, condition, subject) for load in response.loads),
    )
    yield _reactions(subject)
    told = [
        f"{b.body}: {write(abs(b.force), Kind.FORCE, style)} and {write(abs(b.moment), Kind.TORQUE, style)} left over"
        for b in response.balances
    ]
    paths = [f"towards {p.towards}: {listed(p.holders) if p.holders else 'nobody'}" for p in response.paths]
    lines = [
        f"Balance: {'; '.join(told)}.",
        f"Held axially {'; '.join(paths)}.",
        f"First critical speed {write(response.first_critical_speed, Kind.SPEED, style)} on rigid supports; highest "
        f"bending stress {write(response.max_stress, Kind.STRESS, style)} at x = "
        f"{write(response.max_stress_x, Kind.LENGTH, style)}.",
        *(sentence(note) for note in response.notes),
        *_confirmed(subject),
        *_lifts(subject),
    ]
    yield Items(tuple(text(line) for line in lines))


def _load(load: AppliedLoad, condition: int, subject: Subject) -> tuple[Cell, ...]:
    style = subject.style
    y, z = load.force_y[condition], load.force_z[condition]
    sizes = sorted(float(v) for v in (y**2 + z**2) ** 0.5)
    along = sorted(abs(float(v)) for v in load.axial[condition])
    axial_only = sizes[-1] < 1e-9
    force = along if axial_only else sizes
    way = load.direction
    if load.turned:
        way = load.turned
    elif load.nature is Nature.STATIONARY and not axial_only:
        way = direction(float(y[LIKELY]), float(z[LIKELY]))
    note = f"; {load.source.note}" if load.source.note else ""
    return (
        text(load.name),
        text(write(load.x, Kind.LENGTH, style)),
        text(write((force[0], force[-1]), Kind.FORCE, style), bold=True),
        text(way),
        (Square(mark_of(load.source)), *text(f"{cited(load.source)}{note}")),
    )


def _reactions(subject: Subject) -> Table:
    """Return the reactions, a row a position and condition: likely, range, direction, axial."""
    style = subject.style
    rows = []
    for p in subject.study.reading.job.positions:
        for r in subject.study.response.reactions:
            if r.position == p.name:
                likely = (r.y**2 + r.z**2) ** 0.5
                rows.append(
                    (
                        subject.named(p.name),
                        text(r.condition),
                        text(write(likely, Kind.FORCE, style), bold=True),
                        text(write((r.low, r.high), Kind.FORCE, style)),
                        text(reaction_direction(r)),
                        text(axial_reaction(r, style)),
                    )
                )
    return Table(
        columns(
            "Reaction at",
            ("Condition", "1fr"),
            ("Likely", "auto", "right"),
            ("Low to high", "auto", "right"),
            ("Direction on the shaft", "1fr"),
            ("Axial", "auto", "right"),
        ),
        tuple(rows),
    )


def _confirmed(subject: Subject) -> Iterator[str]:
    found = subject.study.confirmation
    if found is not None:
        change = write(found.largest, Kind.FRACTION, subject.style)
        state = (
            "no choice changed in the last one" if found.settled else "choices still changed in the last one"
        )
        yield (
            f"Solved again on the give and clearance of the chosen bearings, {counted(found.rounds, 'time')}: {state}; "
            f"a reaction moved by {change} of the largest at most."
        )
        yield from (sentence(words) for words in found.changed)


def _lifts(subject: Subject) -> Iterator[str]:
    for p in subject.study.positions:
        if p.lift is not None:
            force = write(abs(p.lift.force), Kind.FORCE, subject.style)
            at = write(p.lift.jack_x, Kind.LENGTH, subject.style)
            up = write(p.lift.lift, Kind.LENGTH, subject.style)
            yield f"Lift at {p.position}: {up} needs {force} at x = {at}; {p.lift.holding}."


def assumptions_pages(subject: Subject) -> Iterator[Block]:
    """Yield what was assumed, alike at several places in one line, and what looks odd."""
    reading = subject.study.reading
    if reading.questions:
        yield Heading("Questions", level=1, note="used as it stands, and asked about")
        yield Items(tuple(text(f"{_spoken(q.path)}: {q.text}.") for q in reading.questions))
    lines = _grouped(reading.assumptions, subject)
    yield Heading(
        "Assumptions", level=1, note=f"{len(reading.assumptions)} values that the job file left out"
    )
    half = (len(lines) + 1) // 2
    yield Beside(((_pairs(lines[:half]),), (_pairs(lines[half:]),)), ("1fr", "1fr"))


_INDEX = re.compile(r"\[(\d+)\]")


def _grouped(assumptions: Iterable[Assumption], subject: Subject) -> list[tuple[str, str, str]]:
    """Return assumptions that are alike at several places as one: where, what, why."""
    groups: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for a in assumptions:
        groups[_INDEX.sub("", a.path), a.value, a.why].append(_where(a.path, subject))
    return [
        (f"{_spoken(path)} {', '.join(dict.fromkeys(w for w in where if w))}".strip(), value, why)
        for (path, value, why), where in groups.items()
    ]


def _where(path: str, subject: Subject) -> str:
    """Return which of several is meant: the tag of a position, or the number in the list."""
    indices = [int(i) for i in _INDEX.findall(path)]
    if not indices:
        return ""
    if path.startswith("positions["):
        return list(subject.tags.values())[indices[0]]
    return ".".join(str(i + 1) for i in indices)


def _spoken(path: str) -> str:
    """Return a path of the job file in words; places count from 1."""
    told = _INDEX.sub(lambda m: f" {int(m[1]) + 1}", path)
    return told.replace(".", ", ").replace("_", " ")


def _pairs(lines: list[tuple[str, str, str]]) -> Table:
    rows = tuple(
        (
            text(where, colour="ink2"),
            (*text(value, bold=True), *text(f"  {why}" if why != value else "", colour="ink2")),
        )
        for where, value, why in lines
    )
    return Table(columns(("", "1fr"), ("", "1.1fr")), rows, headed=False)


def sources_pages(subject: Subject) -> Iterator[Block]:
    """Yield all sources with their standing, editions, catalogues and what makes the run repeatable; signatures."""
    yield Heading("What these numbers rest on", level=1)
    if subject.invented:
        yield Para(text(subject.invented, bold=True))
    found = sources_of(subject)
    half = (len(found) + 1) // 2
    yield Beside(((_source_list(found[:half]),), (_source_list(found[half:]),)), ("1fr", "1fr"))
    p = subject.study.provenance
    used = [
        f"{c.supplier}, version {c.version}, {write(c.units, Kind.COUNT, subject.style)} units"
        f"{', invented' if c.invented else ''}"
        + (f"; leaves out {listed([h.replace('_', ' ') for h in c.holes])}" if c.holes else "")
        for c in p.catalogues
    ]
    yield Para(
        text(
            f"Catalogues: {'. '.join(used)}. Editions: {listed(p.editions) if p.editions else 'none'}. "
            f"Program halfbore {p.version}, seed {p.seed}, bearings taken as running on {p.on.isoformat()}, "
            f"inputs {p.inputs_hash}."
        ),
        small=True,
    )
    yield Signatures(("Worked out by", "Checked by", "Accepted for the plant"))


def sources_of(subject: Subject) -> list[Source]:
    """Return every source behind a number of this document once, the best founded first."""
    found: list[Source] = [load.source for load in subject.study.response.loads]
    for p in subject.full:
        if p.choice is not None:
            found += [s for f in p.choice.findings for s in f.sources]
        if p.value is not None:
            found += [basis.source for basis in p.value.lives]
        if p.plans is not None:
            found += [t.task.source for t in (*p.plans.one_piece.tasks, *p.plans.split_first.tasks)]
    once = {(s.title, s.place, s.status): s for s in found}
    order = list(Mark)
    return sorted(once.values(), key=lambda s: (order.index(mark_of(s)), s.title, s.place))


def _source_list(sources: list[Source]) -> Table:
    rows = tuple(((Square(mark_of(s)),), text(_source_words(s))) for s in sources)
    return Table(columns("", ("", "1fr")), rows, headed=False)


def _source_words(source: Source) -> str:
    return prose(f"{cited(source)}: {source.status.value}")
