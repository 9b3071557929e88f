"""What a job must not say of itself, each contradiction by its place."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import accumulate, pairwise

from halfbore.domain.job import Job
from halfbore.domain.machine import Paddles, ScrewFlight
from halfbore.domain.position import Role
from halfbore.errors import Problem
from halfbore.intake.contradictions_of_loads import contradictions_of

CLOSEST = 0.8
"""Least distance of two positions in shaft diameters: no bearing unit is shorter (common practice, no source)."""
SAME = 1e-6
"""Places closer than this are one place [mm]."""


def contradictions(job: Job) -> Iterable[Problem]:
    """Yield everything in a job that contradicts itself."""
    yield from _shaft_and_places(job)
    yield from _positions(job)
    yield from _duty(job)
    for i, load in enumerate(job.loads):
        yield from contradictions_of(job, load, f"loads[{i}]")
    yield from _lubricant(job)


def _shaft_and_places(job: Job) -> Iterable[Problem]:
    if not job.shaft.segments:
        yield Problem(
            "the shaft has no segment", "shaft.segments", accepted="at least one length and diameter"
        )
        return
    for i, s in enumerate(job.shaft.segments):
        if s.bore >= s.diameter:
            yield Problem(
                "the bore is not smaller than the diameter", f"shaft.segments[{i}]", f"{s.bore:g} mm"
            )
    total = job.shaft.length
    for where, x in _places(job):
        if not -SAME <= x <= total + SAME:
            yield Problem("lies beyond the end of the shaft", where, f"{x:g} mm", f"0 to {total:g} mm")


def _places(job: Job) -> Iterable[tuple[str, float]]:
    """Yield every place along the shaft that a job names, with its path."""
    for i, load in enumerate(job.loads):
        yield f"loads[{i}].x", load.x
        name = "length" if isinstance(load, (Paddles, ScrewFlight)) else "hub_spacing"
        reach = getattr(load, name, 0.0) / 2
        if reach > 0:
            yield f"loads[{i}].{name}", load.x - reach
            yield f"loads[{i}].{name}", load.x + reach
    for i, p in enumerate(job.positions):
        yield f"positions[{i}].x", p.x
        if p.lift.jack_x is not None:
            yield f"positions[{i}].lift.jack_x", p.lift.jack_x


def _positions(job: Job) -> Iterable[Problem]:
    if len(job.positions) < 2:
        yield Problem(
            "a shaft line needs two bearings or more",
            "positions",
            str(len(job.positions)),
            next_step="add a position",
        )
    yield from _same_names("positions", [p.name for p in job.positions])
    yield from _same_names("loads", [x.name for x in job.loads])
    yield from _same_names("duty", [c.name for c in job.duty])
    yield from _order(job)
    locating = [p.name for p in job.positions if p.role is Role.LOCATING]
    if len(locating) > 1:
        yield Problem(
            "two positions locate the shaft: growth has nowhere to go",
            "positions",
            " and ".join(locating),
            "one locating position, or none where a gear unit, thrust block or motor locates",
            'set role = "non-locating" at all but one',
        )
    for i, p in enumerate(job.positions):
        if any(abs(step - p.x) < SAME for step in steps(job)):
            yield Problem("the position stands on a step of the shaft", f"positions[{i}].x", f"{p.x:g} mm")
        yield from _jack(job, i)


def _order(job: Job) -> Iterable[Problem]:
    for i, (a, b) in enumerate(pairwise(job.positions)):
        where, read = f"positions[{i + 1}].x", f"{b.x:g} mm"
        least = CLOSEST * (job.shaft.segment_at(b.x).diameter if job.shaft.segments else 0.0)
        if b.x <= a.x:
            yield Problem("positions stand in order from the drive end", where, read, f"over {a.x:g} mm")
        elif b.x - a.x < least:
            yield Problem(
                "two positions stand within one bearing width of each other",
                where,
                read,
                f"from {a.x + least:g} mm, {CLOSEST:g} shaft diameters from {a.name}",
            )


def _jack(job: Job, i: int) -> Iterable[Problem]:
    x = job.positions[i].lift.jack_x
    others = [p for j, p in enumerate(job.positions) if j != i]
    if x is not None and any(abs(p.x - x) < SAME for p in others):
        yield Problem(
            "the jack stands at another position", f"positions[{i}].lift.jack_x", f"{x:g} mm", "a free place"
        )


def steps(job: Job) -> list[float]:
    """Return where the diameter of the shaft changes [mm]."""
    ends = accumulate(s.length for s in job.shaft.segments)
    pairs = zip(ends, pairwise(job.shaft.segments), strict=False)
    return [end for end, (a, b) in pairs if a.diameter != b.diameter]


def _same_names(what: str, names: list[str]) -> Iterable[Problem]:
    for name in sorted({n for n in names if names.count(n) > 1}):
        yield Problem("a name stands twice", what, name, "names that differ")


def _duty(job: Job) -> Iterable[Problem]:
    if not job.duty:
        yield Problem("there is no condition", "duty", accepted="at least one with a share and a speed")
        return
    total = sum(c.share for c in job.duty)
    if abs(total - 1.0) > 0.001:
        yield Problem(
            "the shares do not add up to 1",
            "duty",
            f"{total:g}",
            "1 within 0.001; share 0 for start-up or standing",
        )
    for i, c in enumerate(job.duty):
        if c.share > 0 and c.speed <= 0:
            yield Problem("a running condition has no speed", f"duty[{i}].speed", f"{c.speed:g} r/min")


def _lubricant(job: Job) -> Iterable[Problem]:
    oil = job.lubricant
    if oil is None or oil.viscosity_40 is None or oil.viscosity_100 is None:
        return
    if oil.viscosity_100.high >= oil.viscosity_40.low:
        yield Problem(
            "the lubricant is not thinner at 100 °C than at 40 °C",
            "lubricant.viscosity_100",
            f"{oil.viscosity_100.high:g} mm²/s",
            f"below {oil.viscosity_40.low:g} mm²/s",
        )
