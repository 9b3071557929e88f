"""Surveys for tests: written as workbooks, or as books in memory where the file itself is not what is tested."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any

import xlsxwriter

from halfbore.domain.survey import SurveyReading, Thing, Told
from halfbore.intake.book import Book, Page
from halfbore.intake.survey.mapping import SurveyMapping, read_mapping_text

Rows = Sequence[Sequence[Any]]

HEADINGS = (
    "Lagerstelle",
    "Fest/Los",
    "Welle Ø [mm]",
    "Abstand (in)",
    "Wechsel",
    "Ursache",
    "zwischen",
    "Kran",
    "Bem.",
)
MAPPING = """
format = 1
[cells]
blanks = ["-", "k.A."]
dates = "dmy"
[[table]]
sheet = "Lager"
rows = "position"
header = 3
skip = ["TOTAL", "Summe"]
machine = { from = "position", before = "-" }
ignored = ["Bem."]
[table.columns]
"Lagerstelle" = { field = "tag.position" }
"Fest/Los" = { field = "role", words = { fest = "locating", los = "non-locating" } }
"Welle Ø [mm]" = { field = "seat.diameter", unit = "mm" }
"Abstand (in)" = { field = "x", unit = "in" }
"Wechsel" = { field = "failure.on" }
"Ursache" = { field = "failure.why", words = { Staub = "abrasive wear" } }
"zwischen" = { field = "trapped_between", separator = "/" }
"Kran" = { field = "room.hoist", words = { ja = "yes", nein = "no" } }
"""
"""How SURVEY is read."""
GOOD: Rows = (
    ("F1-A", "fest", 160.0, 0.0, "11.04.2019", "Staub", "coupling / wheel", "ja", "dry"),
    ("F1-B", "los", "159,98", "133 7/8", "", "", "wheel", "nein", ""),
    ("F2-A", "los", "112,7 mm", 12.125, "2023-02-14", "fretting corrosion", "sheave/wheel", "", ""),
)
TITLE: Rows = (("Ostrindale Lime (invented)",), ())


def mapping(text: str = MAPPING, **changed: str) -> SurveyMapping:
    """Return a mapping of a text in which pieces are replaced: `mapping(dates='dates = "mdy"')`."""
    for old, new in changed.items():
        line = next(line for line in text.splitlines() if line.startswith(old))
        text = text.replace(line, new)
    return read_mapping_text(text)


def page(*rows: Sequence[Any], name: str = "Lager", **odd: Any) -> Page:
    """Return a sheet of the survey with these rows below title and headings."""
    return Page("s.xlsx", name, tuple(tuple(r) for r in (*TITLE, HEADINGS, *rows)), **odd)


def book(*rows: Sequence[Any], **odd: Any) -> Book:
    """Return the survey with these rows as a file in memory."""
    return Book("s.xlsx", (page(*rows, **odd),))


def write(path: Path, rows: Rows, sheet: str = "Lager") -> Path:
    """Write rows as a workbook: dates as dates, numbers as numbers, all else as text."""
    with xlsxwriter.Workbook(str(path), {"strings_to_formulas": False}) as made:
        day = made.add_format({"num_format": "d mmm"})
        at = made.add_worksheet(sheet)
        for r, row in enumerate(rows):
            for c, cell in enumerate(row):
                if isinstance(cell, (date, datetime)):
                    at.write_datetime(r, c, cell, day)
                elif isinstance(cell, (int, float)):
                    at.write_number(r, c, cell)
                elif cell:
                    at.write_string(r, c, cell)
    return path


def told(reading: SurveyReading, thing: Thing = Thing.POSITION) -> list[Told]:
    """Return what a reading tells of one kind of thing."""
    return [t for t in reading.told if t.thing is thing]


def data(reading: SurveyReading, thing: Thing = Thing.POSITION) -> list[Any]:
    """Return the plain data that a reading tells of one kind of thing."""
    return [t.data for t in told(reading, thing)]
