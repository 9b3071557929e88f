"""What a workbook says of its cells beside their values: formulas, errors, percent signs, hidden rows and columns.

Read from the XML of the sheets by a parser that takes no document type and no entities; the members were counted
while they were inflated before (`workbook.refuse_hostile`).
"""

from __future__ import annotations

import posixpath
import re
import zipfile
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from xml.parsers import expat

from halfbore.errors import InputError, Problem
from halfbore.intake.workbook import inflated

Place = tuple[int, int]
"""Row and column of a cell, counted from 0."""
_SHEET = "xl/workbook.xml"
_BUILT_IN_PERCENT = {"9", "10"}
_CELL = re.compile(r"([A-Z]{1,3})([1-9]\d{0,6})")
_LITERAL = re.compile(r'"[^"]*"|\\.')
_ATTRIBUTES = dict[str, str]


@dataclass
class Marks:
    """The marks of one sheet; rows and columns are counted from 0.

    errors: the error that a cell shows, such as #REF!; empty: formulas that give an empty text.
    """

    formulas: set[Place] = field(default_factory=set)
    empty: set[Place] = field(default_factory=set)
    errors: dict[Place, str] = field(default_factory=dict)
    percents: set[Place] = field(default_factory=set)
    hidden_rows: list[int] = field(default_factory=list)
    hidden_columns: list[int] = field(default_factory=list)


def marks_of(path: Path) -> tuple[str, dict[str, Marks]]:
    """Return the origin of the workbook's dates, "1900" or "1904", and the marks of each sheet by its name.

    path: XLSX file that `refuse_hostile` has let pass. Raises InputError when it is no XLSX.
    """
    with zipfile.ZipFile(path) as archive:
        members = {info.filename.casefold(): info for info in archive.infolist()}

    def parse(member: str, started: _Started, ended: _Ended = lambda _: None) -> None:
        found = members.get(member.casefold())
        if found is None:
            raise _no_xlsx(path, f"{member} is missing")
        with path.open("rb") as file:
            _parse(path, b"".join(inflated(file, found)), started, ended)

    book = _Book()
    parse(_SHEET, book.started)
    links: dict[str, str] = {}
    parse("xl/_rels/workbook.xml.rels", lambda tag, a: _link(links, a) if tag == "Relationship" else None)
    percent = _Percent()
    if "xl/styles.xml" in members:
        parse("xl/styles.xml", percent.started, percent.ended)
    found = {}
    for name, link in book.sheets.items():
        member = links.get(link, "")
        if member.casefold() in members and "/worksheets/" in member:
            reader = _Sheet(percent.styles)
            parse(member, reader.started, reader.ended)
            found[name] = reader.marks
    return book.serials, found


_Started = Callable[[str, _ATTRIBUTES], None]
_Ended = Callable[[str], None]


def _no_xlsx(path: Path, why: str) -> InputError:
    return InputError(Problem(f"is no readable workbook: {why}", path.name, accepted="XLSX"))


def _parse(path: Path, data: bytes, started: _Started, ended: _Ended) -> None:
    """Run a parser over one member; it refuses a document type, and so every entity of the file's own."""
    parser = expat.ParserCreate()

    def refuse(*_: object) -> None:
        raise InputError(Problem("defines XML entities", path.name, accepted="plain XLSX"))

    parser.StartDoctypeDeclHandler = refuse
    parser.StartElementHandler = lambda tag, a: started(tag.rpartition(":")[2] if ":" in tag else tag, a)
    parser.EndElementHandler = lambda tag: ended(tag.rpartition(":")[2] if ":" in tag else tag)
    if isinstance(owner := getattr(started, "__self__", None), _Sheet):
        parser.CharacterDataHandler = owner.text
    try:
        parser.Parse(data, True)
    except (expat.ExpatError, ValueError) as error:
        raise _no_xlsx(path, str(error)) from None


def _link(links: dict[str, str], attributes: _ATTRIBUTES) -> None:
    target = attributes.get("Target", "")
    member = target[1:] if target.startswith("/") else posixpath.normpath(posixpath.join("xl", target))
    links[attributes.get("Id", "")] = member


@dataclass
class _Book:
    serials: str = "1900"
    sheets: dict[str, str] = field(default_factory=dict)

    def started(self, tag: str, attributes: _ATTRIBUTES) -> None:
        if tag == "workbookPr" and attributes.get("date1904") in ("1", "true"):
            self.serials = "1904"
        elif tag == "sheet":
            link = next((value for key, value in attributes.items() if key.rpartition(":")[2] == "id"), "")
            self.sheets[attributes.get("name", "")] = link


@dataclass
class _Percent:
    """Numbers of the cell styles that show a percent sign."""

    styles: set[str] = field(default_factory=set)
    formats: set[str] = field(default_factory=lambda: set(_BUILT_IN_PERCENT))
    inside: bool = False
    count: int = 0

    def started(self, tag: str, attributes: _ATTRIBUTES) -> None:
        if tag == "numFmt" and "%" in _LITERAL.sub("", attributes.get("formatCode", "")):
            self.formats.add(attributes.get("numFmtId", ""))
        elif tag == "cellXfs":
            self.inside = True
        elif tag == "xf" and self.inside:
            if attributes.get("numFmtId") in self.formats:
                self.styles.add(str(self.count))
            self.count += 1

    def ended(self, tag: str) -> None:
        if tag == "cellXfs":
            self.inside = False


class _Sheet:
    """Notes the marks of one sheet while it is parsed; a cell without a reference follows the one before."""

    def __init__(self, percents: set[str]) -> None:
        self.marks, self.percents = Marks(), percents
        self.row, self.column = -1, -1
        self.error: list[str] | None = None
        self.kind = ""
        self.formula = False

    def started(self, tag: str, attributes: _ATTRIBUTES) -> None:
        if tag == "c":
            self._cell(attributes)
        elif tag == "f":
            self.formula = True
            self.marks.formulas.add((self.row, self.column))
        elif tag == "row":
            number = attributes.get("r", "")
            self.row = int(number) - 1 if number.isdecimal() and len(number) < 8 else self.row + 1
            self.column = -1
            if attributes.get("hidden") in ("1", "true"):
                self.marks.hidden_rows.append(self.row)
        elif tag == "col" and attributes.get("hidden") in ("1", "true"):
            first, last = int(attributes.get("min", 1)), int(attributes.get("max", 1))
            self.marks.hidden_columns.extend(range(first - 1, min(last, first + 1000)))

    def _cell(self, attributes: _ATTRIBUTES) -> None:
        self.kind, self.formula = attributes.get("t", "n"), False
        self._place(attributes.get("r", ""))
        if self.kind == "e":
            self.error = []
        elif self.kind == "n" and attributes.get("s") in self.percents:
            self.marks.percents.add((self.row, self.column))

    def _place(self, reference: str) -> None:
        if found := _CELL.fullmatch(reference):
            self.column = column_number(found[1])
            self.row = int(found[2]) - 1
        else:
            self.column += 1

    def text(self, piece: str) -> None:
        if self.error is not None:
            self.error.append(piece)

    def ended(self, tag: str) -> None:
        if tag != "c":
            if tag == "f" and self.error is not None:
                self.error = []  # what stood there was the formula
            return
        place = (self.row, self.column)
        if self.error is not None:
            self.marks.errors[place] = "".join(self.error).strip()
            self.error = None
        elif self.formula and self.kind == "str":
            self.marks.empty.add(place)


def column_number(letters: str) -> int:
    """Return the number of a column, counted from 0, of its letters."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number - 1


def column_letters(number: int) -> str:
    """Return the letters of a column of its number, counted from 0."""
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
