"""Read a job file of one machine, and refuse what contradicts itself."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from itertools import pairwise
from pathlib import Path
from typing import Any

from halfbore.domain.job import Job, JobReading
from halfbore.domain.machine import Drum, FanWheel
from halfbore.domain.position import Role
from halfbore.errors import InputError, LimitError, Problem
from halfbore.intake.records import Report, finish, read_record

SIZE_LIMIT = 1_000_000


def read_job(path: Path) -> JobReading:
    """Read a job file.

    path: TOML file of one machine.
    Returns the job with what was typed, assumed and odd.
    Raises InputError with every problem in the file, by its place.
    """
    try:
        if path.stat().st_size > SIZE_LIMIT:
            raise LimitError(Problem("the job file is too large", str(path), accepted="up to 1 MB"))
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise InputError(
            Problem("no such file", str(path), next_step="check the name and the folder")
        ) from None
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(
            Problem(f"the file cannot be read: {error}", str(path), accepted="TOML in UTF-8")
        ) from None
    return read_job_text(text, path.name)


def read_job_text(text: str, name: str = "the job file") -> JobReading:
    """Read a job from TOML text, as `read_job` does."""
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise InputError(
            Problem(f"is not TOML: {error}", name, next_step="text stands in quotes, one key a line")
        ) from None
    return read_job_data(data)


def read_job_data(data: dict[str, Any]) -> JobReading:
    """Read a job from plain data, as `read_job` does."""
    report = Report()
    job = read_record(Job, data, "", report)
    if job is not None:
        report.problems.extend(_contradictions(job))
    finish(report)
    assert job is not None
    return JobReading(job, report.typed, tuple(report.assumptions), tuple(report.questions))


def _contradictions(job: Job) -> Iterable[Problem]:
    yield from _shaft_and_places(job)
    yield from _positions(job)
    yield from _duty(job)
    yield from _loads(job)


def _shaft_and_places(job: Job) -> Iterable[Problem]:
    if not job.shaft.segments:
        yield Problem(
            "the shaft has no segment", "shaft.segments", accepted="at least one length and diameter"
        )
    total = sum(s.length for s in job.shaft.segments)
    for i, s in enumerate(job.shaft.segments):
        if s.bore >= s.diameter:
            yield Problem(
                "the bore is not smaller than the diameter", f"shaft.segments[{i}]", f"{s.bore:g} mm"
            )
    places = [(f"loads[{i}].x", load.x) for i, load in enumerate(job.loads)]
    places += [(f"positions[{i}].x", p.x) for i, p in enumerate(job.positions)]
    for where, x in places:
        if x > total + 1e-6:
            yield Problem("lies beyond the end of the shaft", where, f"{x:g} mm", f"0 to {total:g} mm")


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
    xs = [p.x for p in job.positions]
    for i, (a, b) in enumerate(pairwise(xs)):
        if b <= a:
            yield Problem(
                "positions stand in order from the drive end",
                f"positions[{i + 1}].x",
                f"{b:g} mm",
                f"over {a:g} mm",
            )
    locating = [p.name for p in job.positions if p.role is Role.LOCATING]
    if len(locating) > 1:
        yield Problem(
            "two positions locate the shaft: growth has nowhere to go",
            "positions",
            " and ".join(locating),
            "one locating position, or none where a gear unit, thrust block or motor locates",
            'set role = "non-locating" at all but one',
        )
    yield from _steps(job)


def _steps(job: Job) -> Iterable[Problem]:
    ends, x = [], 0.0
    for s in job.shaft.segments[:-1]:
        x += s.length
        ends.append(x)
    for i, p in enumerate(job.positions):
        for end in ends:
            if abs(end - p.x) < 1e-6 and _diameter(job, end - 1e-3) != _diameter(job, end + 1e-3):
                yield Problem(
                    "the position stands on a step of the shaft", f"positions[{i}].x", f"{p.x:g} mm"
                )


def _diameter(job: Job, x: float) -> float:
    at = 0.0
    for s in job.shaft.segments:
        at += s.length
        if x <= at:
            return s.diameter
    return job.shaft.segments[-1].diameter


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


def _loads(job: Job) -> Iterable[Problem]:
    for i, load in enumerate(job.loads):
        if isinstance(load, FanWheel) and load.axial_thrust is not None and load.thrust_towards is None:
            yield Problem(
                "the thrust has no direction", f"loads[{i}].thrust_towards", accepted="drive end, free end"
            )
        if isinstance(load, Drum):
            yield from _drum(i, load)
        if getattr(load, "power", None) is not None and max(c.speed for c in job.duty) <= 0:
            yield Problem("power without a speed gives no torque", f"loads[{i}].power")


def _drum(i: int, drum: Drum) -> Iterable[Problem]:
    given = (drum.tight_strand is not None, drum.slack_strand is not None)
    if any(given) and not all(given):
        yield Problem(
            "one strand is given and the other is not", f"loads[{i}]", accepted="both strands, or power"
        )
    if not any(given) and drum.power is None:
        yield Problem(
            "neither strands nor power are given",
            f"loads[{i}]",
            accepted="tight_strand and slack_strand, or power",
        )
