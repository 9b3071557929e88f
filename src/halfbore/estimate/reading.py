"""Read a job that may be incomplete: filled in from its name plate, every estimate shown as an assumption."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from halfbore.domain.estimate import Estimate
from halfbore.domain.job import Assumption, JobReading
from halfbore.errors import InputError, Problem
from halfbore.estimate.complete import completed
from halfbore.intake.jobfile import plain_job, read_job_data


def read_completed_file(path: Path) -> JobReading:
    """Read a job file, filled in from its name plate where it has one.

    path: TOML file of one machine.
    Returns the job as `read_completed` does. Raises InputError with every problem in the file, by its place.
    """
    return read_completed(plain_job(path))


def read_completed(data: Mapping[str, Any]) -> JobReading:
    """Read a job from plain data, filled in from its name plate where it has one.

    data: plain data of a job, as typed; a job that gives everything is read as it stands.
    Returns the job with every estimate among its assumptions.
    Raises InputError with every problem by its place; where the plate lacks what is needed, what to read off which.
    """
    done = completed(data)
    try:
        reading = read_job_data(done.data)
    except InputError as error:
        raise InputError((*error.problems, *_hint(data, error.problems))) from None
    places = {place_of(e.path, done.data): e for e in done.estimates}
    return replace(
        reading,
        typed={path: text for path, text in reading.typed.items() if path not in places},
        assumptions=(*reading.assumptions, *(_assumption(place, e) for place, e in places.items())),
        questions=tuple(q for q in reading.questions if q.path not in places),
        estimates=done.estimates,
        widening=done.widening,
        frame=done.frame,
    )


def _assumption(place: str, estimate: Estimate) -> Assumption:
    one = estimate.span is not None and not estimate.span.exact and " to " not in estimate.text
    why = f"{estimate.why} ({estimate.source.status})"
    return Assumption(place, estimate.text, why, carried=one or bool(estimate.arcs))


_ESTIMATED = re.compile(r"loads|duty|shaft(\.segments)?|(loads|shaft\.segments|positions)\[\d+\]")


def _hint(data: Mapping[str, Any], problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Return the way out where a job without a name plate lacks what one would give."""
    machine = data.get("machine")
    if isinstance(machine, dict) and "name_plate" in machine:
        return ()
    lacking = [p for p in problems if p.what == "is missing" or p.what.startswith("neither ")]
    if not any(_ESTIMATED.match(p.where) for p in lacking):
        return ()
    return (
        Problem(
            "no name plate is given from which the missing values could be estimated",
            "machine.name_plate",
            accepted='{ power = "55 kW", motor_speed = "1480 r/min", ratio = 24 }',
            next_step="read power and speed off the motor's plate and the ratio off the gear unit's, or measure",
        ),
    )


_NAMED = re.compile(r"(\w+)\[([^\]]*)\]")


def place_of(path: str, data: Mapping[str, Any]) -> str:
    """Return a path whose list entries are named as one that counts them, as the reader of jobs does."""

    def counted(match: re.Match[str]) -> str:
        entries = data.get(match[1])
        names = [e.get("name") for e in entries if isinstance(e, dict)] if isinstance(entries, list) else []
        return f"{match[1]}[{names.index(match[2])}]" if match[2] in names else match[0]

    return _NAMED.sub(counted, path)
