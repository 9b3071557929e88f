"""The survey of the demo plant as two people wrote it: its facts through the mapping, backwards, and their slips."""

from __future__ import annotations

import dataclasses
import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from importlib.resources import files
from math import isclose
from pathlib import Path
from typing import Any

from halfbore.demo import plant
from halfbore.domain.survey import Plain, Reject, SurveyReading, Thing, Told
from halfbore.domain.survey_layout import KIND, NO, TAG_MACHINE, TAG_POSITION, TAG_SHAFT_LINE, YES
from halfbore.intake.survey.mapping import Column, SurveyMapping, Table, read_mapping_text
from halfbore.intake.survey.rejects import write_rejects
from halfbore.intake.survey.targets import quantity_of
from halfbore.units import Kind, convert, parse

SURVEY, MAPPING, MENDED = (
    "ostrindale-survey.xlsx",
    "ostrindale-survey.mapping.toml",
    "ostrindale-survey.mended.xlsx",
)
"""Names of the survey, of how it is read, and of its rejected rows once they are mended."""
OFFICE = "plant.toml"
"""What no survey tells, beside the job files of the plant."""

IN_GERMAN = ("E1", "H1", "S1", "T1", "K1")
"""Machines that the second person surveyed."""
TITLES = {
    "Bearings": "Ostrindale Lime (invented): bearings, kiln, stone and bagging, 2 March 2026",
    "Lagerstellen": "Ostrindale Lime (erfunden): Lagerstellen Hydrator, Brecher, Becherwerk, 02.03.2026",
    "History": "Kiln log book, bearings taken out (month first)",
    "Historie": "Schichtbuch, ausgebaute Lager",
    "Parts": "What sits on the shafts; distances by steel tape",
    "Machines": "Machines",
}
"""What stands above the headings of a sheet."""


@dataclass(frozen=True)
class Formula:
    """A cell that is worked out by the spreadsheet, with the value that it has stored."""

    text: str
    value: float | str


Cell = str | float | date | Formula | None

SLIPS: dict[tuple[str, str, str], Cell] = {
    # Read as it stands.
    ("Bearings", "L1-1", "Shaft nominal [in]"): "4-7/16",
    ("Bearings", "L1-2", "Shaft nominal [in]"): 4.4375,
    ("Bearings", "L1-4", "Shaft measured [mm]"): "112,7 mm",
    ("Bearings", "F3-A", "Plain right [mm]"): Formula("=290/2", 145.0),
    ("Bearings", "L1-1", "Headroom [m]"): "n/a",
    ("Bearings", "F2-A", "Studs above base [mm]"): "-",
    ("Lagerstellen", "T1-A", "Höhe frei [m]"): "k.A.",
    ("Lagerstellen", "T1-B", "Höhe frei [m]"): "?",
    # Refused until it is mended.
    ("Bearings", "F1-B", "x from drive end [mm]"): "3,850",
    ("Bearings", "C1-B", "Fitted"): "2023",
    ("Wellen", "L1", "Durchmesser [mm]"): date(2016, 4, 7),
    ("Betrieb", "feeding", "Drehzahl [1/min]"): "ca. 60",
    ("Parts", "tail drum", "Mass [kg]"): Formula("=#REF!", "#REF!"),
}
"""What was written in a cell, by sheet, what the row is about, and heading."""
TWICE = {("Lagerstellen", "S1-B", "Abstand Antriebsende [mm]"): 4540.0}
"""Rows that stand there a second time, with another value in one cell."""
HIDDEN = (("History", "F2-A", "11/22/2021"),)
MENDS: dict[tuple[str, str, str], str | None] = {
    ("Bearings", "x from drive end [mm]", "3,850"): "3850",
    ("Bearings", "Fitted", "2023"): "2023-05-03",
    ("Wellen", "Durchmesser [mm]", "2016-04-07"): "4 7/16 in",
    ("Betrieb", "Drehzahl [1/min]", "ca. 60"): "60",
    ("Parts", "Mass [kg]", "#REF!"): "420",
    ("Lagerstellen", "Abstand Antriebsende [mm]", "4540"): None,
}
"""How a rejected row is mended: sheet, heading and bad cell → what should stand there, None for a row that goes."""


def mapping_text() -> str:
    """Return the mapping file of the survey."""
    return files("halfbore.demo").joinpath("plant/survey.mapping.toml").read_text(encoding="utf-8")


def write_survey(folder: Path) -> tuple[Path, Path]:
    """Write the survey as a workbook, and its mapping file.

    folder: is there. Returns both files.
    """
    import xlsxwriter  # takes its time, and only this needs it

    mapping = read_mapping_text(mapping_text())
    path, beside = folder / SURVEY, folder / MAPPING
    options = {"strings_to_formulas": False, "strings_to_numbers": False, "strings_to_urls": False}
    with xlsxwriter.Workbook(str(path), options) as book:
        for table in mapping.tables:
            _Sheet(book, table).write()
        notes = book.add_worksheet("Notes")
        notes.write_string(0, 0, "Plant, people and measurements are invented.")
        notes.write_string(1, 0, "L1: second support looks low, seen against a string: 0.6 mm.")
        old = book.add_worksheet("old list")
        old.write_string(0, 0, "superseded")
        old.hide()
    beside.write_text(mapping_text(), encoding="utf-8")
    return path, beside


def write_mended(path: Path, reading: SurveyReading, mapping: SurveyMapping) -> int:
    """Write the rejected rows of the survey as the engineer mended them, to be imported with the same mapping.

    path: XLSX file to be written; reading, mapping: of the survey. Returns how many rows were written.
    """
    rejects = tuple(row for reject in reading.rejects if (row := _mended(reject)) is not None)
    return write_rejects(path, dataclasses.replace(reading, rejects=rejects), mapping)


def _mended(reject: Reject) -> Reject | None:
    """Return a rejected row as it should be; nothing for one that should not be there."""
    cells = list(reject.cells)
    for at, heading in enumerate(reject.headings):
        place = (reject.sheet, heading, cells[at])
        if place in MENDS:
            mend = MENDS[place]
            if mend is None:
                return None
            cells[at] = mend
    return dataclasses.replace(reject, cells=tuple(cells), problems=())


def office() -> tuple[Told, ...]:
    """Return what the office of the plant tells, from the plant down."""
    text = files("halfbore.demo").joinpath(f"plant/{OFFICE}").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    areas, machines, lines = (data.pop(key) for key in ("areas", "machines", "lines"))
    of_areas = [(machine, area) for area in areas.values() for machine in area.pop("machines")]
    of_lines = [((machine, line), told) for machine, below in lines.items() for line, told in below.items()]
    order = [machine for machine, _ in plant.LINES]
    of_machines = sorted((*of_areas, *machines.items()), key=lambda told: order.index(told[0]))
    return (
        Told(Thing.PLANT, (), data, OFFICE),
        *(Told(Thing.MACHINE, (tag,), told, OFFICE) for tag, told in of_machines),
        *(Told(Thing.SHAFT_LINE, tags, told, OFFICE) for tags, told in of_lines),
    )


# The facts of the job files, row by row.

Facts = dict[str, Any]
"""Path in the mapping → what the job file says there."""


def _facts(table: Table) -> Iterator[Facts]:
    """Yield what each row of a table tells."""
    seen = set()
    for machine, line in plant.LINES:
        job = tomllib.loads(plant.job_text(machine, line))
        tags = {TAG_MACHINE: machine, TAG_SHAFT_LINE: line}
        if table.thing is Thing.MACHINE:
            if machine not in seen:
                yield tags | _flat(job, "")
            seen.add(machine)
            continue
        german = table.sheet in ("Lagerstellen", "Historie")
        if table.thing in (Thing.POSITION, Thing.FAILURE) and german != (machine in IN_GERMAN):
            continue
        yield from (tags | row for row in _ROWS[table.thing](job) if _belongs(table, row))


def _positions(job: Plain) -> Iterator[Facts]:
    for entry in job["positions"]:
        yield {TAG_POSITION: entry["name"], **_flat(entry, "")}


def _failures(job: Plain) -> Iterator[Facts]:
    for entry in job["positions"]:
        for failure in entry.get("history", ()):
            yield {TAG_POSITION: entry["name"], **failure}


_ROWS: dict[Thing, Callable[[Plain], Iterator[Facts]]] = {
    Thing.POSITION: _positions,
    Thing.FAILURE: _failures,
    Thing.PART: lambda job: iter(job["loads"]),
    Thing.SEGMENT: lambda job: iter(job["shaft"]["segments"]),
    Thing.CONDITION: lambda job: iter(job["duty"]),
}


def _belongs(table: Table, row: Facts) -> bool:
    """Return whether a part stands on this sheet: sheaves have one of their own."""
    fixed = {target.path: text for target, text in table.fixed}
    return table.thing is not Thing.PART or (row[KIND] == "sheave") == (fixed.get(KIND) == "sheave")


def _flat(data: Mapping[str, Any], above: str) -> Facts:
    """Return plain data by dotted path; lists of tables are left out."""
    found: Facts = {}
    for key, value in data.items():
        if isinstance(value, Mapping):
            found |= _flat(value, f"{above}{key}.")
        elif not (isinstance(value, list) and value and isinstance(value[0], Mapping)):
            found[above + key] = value
    return found


def _about(row: Facts) -> str:
    """Return what a row is about, as people would point at it."""
    return str(row.get(TAG_POSITION) or row.get("name") or row[TAG_MACHINE])


# From a fact to what people write in a cell.


def _cell(column: Column, table: Table, value: Any) -> Cell:
    """Return a fact as the cell of a column."""
    if value is None:
        return None
    said = {meaning: text for text, meaning in column.words if meaning}
    if isinstance(value, date):
        return _day(value, table)
    if isinstance(value, list):
        return f" {column.separator} ".join(value)
    if isinstance(value, bool):
        value = YES if value else NO
    if value in said:
        return said[value]
    meta = quantity_of(column.target)
    if meta is None:
        return str(value) or None
    if meta.kind is Kind.FRACTION and not isinstance(value, str):
        return float(f"{100 * value:.10g}")
    return _quantity(str(value), meta.kind, column.unit, table.cells.decimal)


_PLAIN = re.compile(r"\d+(?:\.\d+)?")
_EXACT = 1e-9


def _quantity(text: str, kind: Kind, unit: str, decimal: str) -> Cell:
    """Return a quantity without the unit that its heading names; a plain number is one for the spreadsheet too."""
    bare = re.sub(rf"(?<=\d)\s*{re.escape(unit)}(?=$| to )", "", text) if unit else text
    if _PLAIN.fullmatch(bare):
        return float(bare)
    if bare == text and unit and " to " not in text:
        here = float(f"{convert(parse(text, kind), kind, unit):.6g}")
        if isclose(parse(f"{here} {unit}", kind), parse(text, kind), rel_tol=_EXACT):
            return here
    return bare.replace(".", decimal).replace(" to ", " bis ") if decimal == "," else bare


def _day(day: date, table: Table) -> Cell:
    """Return a day as its writer writes it: a few as the spreadsheet's own dates."""
    if day.day % 5 == 0:
        return day
    if table.cells.dates == "dmy":
        return f"{day:%d.%m.%Y}"
    return f"{day.month}/{day.day}/{day.year}"


class _Sheet:
    """Writes one sheet of the workbook."""

    def __init__(self, book: Any, table: Table) -> None:
        self.table, self.sheet = table, book.add_worksheet(table.sheet)
        self.headings = [column.heading for column in table.columns] + list(table.ignored)
        self.bold, self.day = book.add_format({"bold": True}), book.add_format({"num_format": "yyyy-mm-dd"})
        self.short = book.add_format({"num_format": "d-mmm"})
        self.row = max(table.header)
        self.machines: list[tuple[int, str]] = []
        self.mass = 0.0

    def write(self) -> None:
        """Write title, headings and rows, and what people do around them."""
        self._headings()
        before = ""
        for facts in _facts(self.table):
            machine = facts[TAG_MACHINE]
            if self.table.sheet == "Bearings" and before not in ("", machine):
                self.row += 1  # an empty row between machines
            before = machine
            self._line(facts)
        self._merge_machines()
        if self.table.skip:
            self._total()

    def _headings(self) -> None:
        if self.table.header[0] > 1:
            self.sheet.write_string(0, 0, TITLES[self.table.sheet], self.bold)
        for at, heading in enumerate(self.headings):
            parts = heading.split(" [") if len(self.table.header) > 1 else [heading]
            for row, part in zip(self.table.header, parts, strict=False):
                self.sheet.write_string(row - 1, at, part if part == parts[0] else f"[{part}", self.bold)

    def _line(self, facts: Facts) -> None:
        about = _about(facts)
        row = [_cell(c, self.table, facts.get(_path(c))) for c in self.table.columns]
        for at, heading in enumerate(self.headings[: len(row)]):
            row[at] = SLIPS.get((self.table.sheet, about, heading), row[at])
        self._put(row, facts[TAG_MACHINE])
        for (sheet, tag, heading), other in TWICE.items():
            if (sheet, tag) == (self.table.sheet, about):
                row[self.headings.index(heading)] = other
                self._put(row, facts[TAG_MACHINE])

    def _put(self, row: list[Cell], machine: str) -> None:
        for at, cell in enumerate(row):
            self._write(at, cell)
        if self.table.ignored:
            self.sheet.write_string(self.row, len(row), f"IMG_{340 + self.row}")
        if any((self.table.sheet, row[0], cell) in HIDDEN for cell in row):
            self.sheet.set_row(self.row, None, None, {"hidden": True})
        masses = (c for c, h in zip(row, self.headings, strict=False) if h == "Mass [kg]")
        self.mass += sum(mass for mass in masses if isinstance(mass, float))
        self.machines.append((self.row, machine))
        self.row += 1

    def _write(self, at: int, cell: Cell) -> None:
        if isinstance(cell, Formula):
            self.sheet.write_formula(self.row, at, cell.text, None, cell.value)
        elif isinstance(cell, date):
            short = quantity_of(self.table.columns[at].target) is not None
            self.sheet.write_datetime(self.row, at, cell, self.short if short else self.day)
        elif isinstance(cell, float):
            self.sheet.write_number(self.row, at, cell)
        elif cell:
            self.sheet.write_string(self.row, at, cell)

    def _merge_machines(self) -> None:
        """Merge the cells of one machine where its tag stands in the first column of the bearings."""
        if self.table.thing is not Thing.POSITION or self.table.machine_before:
            return
        for machine in dict.fromkeys(m for _, m in self.machines):
            rows = [row for row, m in self.machines if m == machine]
            self.sheet.merge_range(rows[0], 0, rows[-1], 0, machine)

    def _total(self) -> None:
        at = self.headings.index("Mass [kg]")
        column = chr(ord("A") + at)
        self.sheet.write_string(self.row, 0, "TOTAL", self.bold)
        first = max(self.table.header) + 1
        self.sheet.write_formula(self.row, at, f"=SUM({column}{first}:{column}{self.row})", None, self.mass)


def _path(column: Column) -> str:
    """Return where a fact of a column stands among the facts of its row."""
    return column.target.path if column.target.tag or not column.path else column.path


__all__ = ["MAPPING", "MENDED", "OFFICE", "SURVEY", "mapping_text", "office", "write_mended", "write_survey"]
