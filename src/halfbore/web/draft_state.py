"""How far the bringing in of a survey is, as plain data and back."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from halfbore.domain.survey import Plain, Reject, SurveyReading
from halfbore.domain.workspace import Batch
from halfbore.errors import Problem
from halfbore.present.plain import plain_data
from halfbore.workspace.survey import SurveyImport

Rows = tuple[Reject, ...]


def state_of(
    mapping: Plain | None, done: SurveyImport | None = None, rejects: Rows = (), aside: Rows = ()
) -> Plain:
    """Return how far a survey is: its mapping, what came of it, rows that wait and rows that were put aside."""
    headings = list(dict.fromkeys(row.headings for row in (*rejects, *aside)))  # once, not with each row
    return {
        "mapping": mapping,
        "done": None if done is None else _done(done),
        "headings": [list(one) for one in headings],
        "rejects": _rows(rejects, headings),
        "aside": _rows(aside, headings),
    }


def _done(done: SurveyImport) -> Plain:
    reading = {name: plain_data(getattr(done.reading, name)) for name in ("remarks", "rows", "passed")}
    return {"batch": plain_data(done.batch), "new": done.new, "changed": done.changed, **reading}


def _rows(rows: Iterable[Reject], headings: list[tuple[str, ...]]) -> list[Plain]:
    return [
        {
            "sheet": row.sheet,
            "row": row.row,
            "headings": headings.index(row.headings),
            "cells": row.cells,
            "problems": plain_data(row.problems),
        }
        for row in rows
    ]


def of_state(state: Plain) -> tuple[Plain | None, SurveyImport | None, Rows, Rows]:
    """Return mapping, what came of it, rows that wait, rows that were put aside."""
    rejects, aside = (_rejects(state[name], state["headings"]) for name in ("rejects", "aside"))
    done = state["done"]
    return state["mapping"], None if done is None else _import(done, rejects), rejects, aside


def _rejects(rows: list[Plain], headings: list[list[str]]) -> Rows:
    return tuple(
        Reject(
            row["sheet"],
            row["row"],
            tuple(headings[row["headings"]]),
            tuple(row["cells"]),
            tuple(Problem(**problem) for problem in row["problems"]),
        )
        for row in rows
    )


def _import(done: dict[str, Any], rejects: Rows) -> SurveyImport:
    passed = tuple((place, reason) for place, reason in done["passed"])
    reading = SurveyReading((), rejects, tuple(done["remarks"]), done["rows"], passed)
    batch = done["batch"]
    made = None if batch is None else Batch(**{**batch, "at": datetime.fromisoformat(batch["at"])})
    return SurveyImport(reading, made, tuple(done["new"]), tuple(done["changed"]), None)
