"""Read a job file of one machine, and refuse what contradicts itself."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from halfbore.domain.job import Job, JobReading
from halfbore.errors import InputError, LimitError, Problem, shown
from halfbore.intake.contradictions import contradictions
from halfbore.intake.oddities import oddities
from halfbore.intake.records import Report, finish, read_record
from halfbore.intake.texts import steering

SIZE_LIMIT = 1_000_000


def read_job(path: Path) -> JobReading:
    """Read a job file.

    path: TOML file of one machine.
    Returns the job with what was typed, assumed and odd.
    Raises InputError with every problem in the file, by its place.
    """
    return read_job_data(plain_job(path))


def plain_job(path: Path) -> dict[str, Any]:
    """Return a job file as plain data, as typed. Raises InputError for one that cannot be read or is no TOML."""
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
    return _plain_text(text, path.name)


def read_job_text(text: str, name: str = "the job file") -> JobReading:
    """Read a job from TOML text, as `read_job` does."""
    return read_job_data(_plain_text(text, name))


def _plain_text(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # a number of thousands of digits is a ValueError
        raise InputError(
            Problem(f"is not TOML: {error}", name, next_step="text stands in quotes, one key a line")
        ) from None


def read_job_data(data: dict[str, Any]) -> JobReading:
    """Read a job from plain data, as `read_job` does."""
    report = Report()
    job = read_record(Job, data, "", report)
    if job is not None:
        report.problems.extend(contradictions(job))
    report.problems = [_named(problem, data) for problem in report.problems]
    finish(report)
    assert job is not None
    questions = (*report.questions, *oddities(job))
    return JobReading(job, report.typed, tuple(report.assumptions), questions)


_ENTRY = re.compile(r"(positions|loads|duty)\[(\d+)\]")


def _named(problem: Problem, data: dict[str, Any]) -> Problem:
    """Return a problem whose place also says the name of the position, load or condition."""
    place = _ENTRY.match(problem.where)
    entry = _entry(data.get(place[1]), int(place[2])) if place else None
    name = entry.get("name") if isinstance(entry, Mapping) else None
    if not isinstance(name, str) or not name or steering(name):
        return problem
    return replace(problem, where=f"{problem.where} ({shown(name)})")


def _entry(entries: object, index: int) -> object:
    if isinstance(entries, list):
        return entries[index]
    return entries if index == 0 else None
