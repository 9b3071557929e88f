"""How our own survey sheets are laid out: forms are written by this, and it is how they are read again.

A workbook of ours holds one sheet for each thing that is asked about. On every sheet, rows counted from 1 as a
spreadsheet does: row 1 a title (on the first sheet the marker in A1), row 2 the field that each column fills (it may
be hidden), row 3 the heading for people, with the unit in brackets at its end, from row 4 the data. A cell without a
unit takes the unit of its heading; a unit in the cell wins; a blank says nothing.
"""

from __future__ import annotations

import re

from halfbore.domain.survey import Thing

MARKER = "halfbore survey 1"
"""What stands in A1 of the first sheet of a workbook that needs no mapping."""
MARKER_ROW, PATHS_ROW, HEADINGS_ROW, DATA_ROW = 1, 2, 3, 4

SHEETS: dict[str, Thing] = {
    "positions": Thing.POSITION,
    "failures": Thing.FAILURE,
    "parts": Thing.PART,
    "segments": Thing.SEGMENT,
    "conditions": Thing.CONDITION,
    "shaft lines": Thing.SHAFT_LINE,
    "machines": Thing.MACHINE,
    "plant": Thing.PLANT,
}
"""Name of a sheet → what its rows are about; a workbook holds those that it needs, in any order."""

TAG_MACHINE, TAG_SHAFT_LINE, TAG_POSITION = "tag.machine", "tag.shaft_line", "tag.position"
TAGS = (TAG_MACHINE, TAG_SHAFT_LINE, TAG_POSITION)
"""Paths of the columns that say which thing a row is about; the others are paths into its document."""
NEEDED_TAGS: dict[Thing, str] = {
    Thing.POSITION: TAG_POSITION,
    Thing.FAILURE: TAG_POSITION,
    Thing.PART: TAG_MACHINE,
    Thing.SEGMENT: TAG_MACHINE,
    Thing.CONDITION: TAG_MACHINE,
    Thing.SHAFT_LINE: TAG_MACHINE,
    Thing.MACHINE: TAG_MACHINE,
}
"""The tag that every row of a sheet must give; of the plant there is one, and it needs none."""

KIND = "kind"
"""Path of the column of the sheet of parts that says which kind of part a row is."""
FAILURE = "failure"
"""A sheet of positions may tell one bearing that was taken out: `failure.on`, `failure.why` and so on."""
SEPARATOR = ";"
"""Parts the entries of a cell that holds a list of texts, such as what a position is trapped between."""
YES, NO = "yes", "no"
"""The words for a field that is either; `true` and `false` are read as well."""
WRONG = "what is wrong"
"""Heading of the last column of a file of rejected rows; the reader passes it over."""

_UNIT = re.compile(r"\[([^\[\]]*)\]$")


def heading(text: str, unit: str = "") -> str:
    """Return a heading with its unit where the reader looks for it."""
    return f"{text} [{unit}]" if unit else text


def unit_of(heading: str) -> str:
    """Return the unit that a heading names, empty where it names none."""
    found = _UNIT.search(heading.strip())
    return found[1].strip() if found else ""
