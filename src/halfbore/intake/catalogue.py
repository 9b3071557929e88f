"""Read a supplier's table through its mapping: units as columns, and the place that each value came from."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from halfbore import limits
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.unit import COLUMNS, UnitTable
from halfbore.errors import InputError, Problem
from halfbore.intake.body import Body, Combination, body_of, units_in
from halfbore.intake.cells import Column, column_of
from halfbore.intake.mapping import FIELDS, NEEDED, PATHS, Mapping, Spec, read_mapping
from halfbore.intake.schemes import scheme_of
from halfbore.intake.tables import Sheet, read_csv, read_xlsx

_PLACEHOLDER = re.compile(r"\{([^{}]+)\}")
"""What stands in a pattern for a cell."""


@dataclass(frozen=True)
class CatalogueReading:
    """A catalogue as read, and where each of its units stands in the file."""

    catalogue: Catalogue
    source: _Source

    def place(self, unit: int, path: str = "") -> str:
        """Return the sheet, row and column that a value of a unit was read from."""
        return self.source.place(unit, path)


def read_catalogue(path: Path) -> CatalogueReading:
    """Read a catalogue.

    path: mapping file; the table stands beside it.
    Returns units, scheme and places. Raises InputError with every bad cell by sheet, row and column.
    """
    mapping = read_mapping(path)
    layout = mapping.layout
    file = path.parent / layout.file
    if file.suffix.lower() in (".xlsx", ".xlsm"):
        return read_units(mapping, read_xlsx(file, layout.sheet, layout.decimal))
    return read_units(mapping, read_csv(file, layout.encoding, layout.delimiter))


def read_units(mapping: Mapping, sheet: Sheet) -> CatalogueReading:
    """Read a catalogue from a sheet that is already there, as `read_catalogue` does."""
    body = body_of(sheet, mapping.layout)
    source = _Source(mapping, body, units_in(body, mapping.expansions))
    columns = {path: source.values(path) for path in PATHS}
    source.finish()
    units = _table(mapping, columns, len(source.rows))
    scheme = scheme_of(mapping.scheme, body, units, source.rows)
    notes = (f"rows left out as the mapping says: {len(body.skipped)}",) if body.skipped else ()
    catalogue = Catalogue(
        mapping.supplier, mapping.version, mapping.invented, mapping.currency, units, scheme, notes=notes
    )
    return CatalogueReading(catalogue, source)


class _Source:
    """Where the values of all units come from: rows of the body, and specs that hold for a combination."""

    def __init__(self, mapping: Mapping, body: Body, units: list[tuple[int, Combination]]) -> None:
        self.mapping, self.body = mapping, body
        self.rows = np.array([row for row, _ in units], dtype=np.intp)
        self.combinations = list(dict.fromkeys(c for _, c in units))
        number = {c: i for i, c in enumerate(self.combinations)}
        self.combination = np.array([number[c] for _, c in units], dtype=np.intp)
        self.specs = [self._overlaid(c) for c in self.combinations]
        self.problems: list[Problem] = []

    def _overlaid(self, combination: Combination) -> dict[str, Spec]:
        specs = dict(self.mapping.fields)
        for expansion, option in zip(self.mapping.expansions, combination, strict=True):
            specs |= expansion.options[option]
        return specs

    def place(self, unit: int, path: str = "") -> str:
        spec: Spec | None = self.specs[int(self.combination[unit])].get(path)
        if spec and spec.constant:
            return spec.where
        heading = spec.heading or spec.pattern if spec else ""
        return self.body.place(int(self.rows[unit]), heading)

    def values(self, path: str) -> NDArray[Any]:
        """Return the values of one field for all units; bad cells go to the problems."""
        specs = [s.get(path, _unmapped(path)) for s in self.specs]
        parts = []
        for spec in dict.fromkeys(specs):
            where = np.isin(self.combination, [i for i, other in enumerate(specs) if other == spec])
            parts.append((where, self._part(path, spec, where)))
        values = np.empty(len(self.rows), np.result_type(*(part for _, part in parts)))
        for where, part in parts:
            values[where] = part
        return values

    def _part(self, path: str, spec: Spec, where: NDArray[np.bool_]) -> NDArray[Any]:
        """Return the values of one field for the units that one spec serves."""
        rows = self.rows[where]
        try:
            if not spec.heading:
                cells = self._patterned(spec.pattern, where) if spec.pattern else [spec.constant]
                column = column_of(cells, path, spec, self.mapping.layout)
                self.problems.extend(replace(problem, where=spec.where) for problem in column.bad.values())
                return np.broadcast_to(column.values, rows.shape)
            column = column_of(self.body.column(spec.heading), path, spec, self.mapping.layout)
        except InputError as error:
            self.problems.extend(error.problems)
            return np.broadcast_to(column_of([""], path, Spec(), self.mapping.layout).values, rows.shape)
        self._note_bad(path, spec, column, rows)
        return np.asarray(column.values[rows])

    def _patterned(self, pattern: str, where: NDArray[np.bool_]) -> list[str]:
        """Return the pattern with the cells of each unit; in an expanded column that is the option taken."""
        parts = _PLACEHOLDER.split(pattern)
        options = {e.heading: i for i, e in enumerate(self.mapping.expansions)}
        cells = {h: self.body.column(h) for h in parts[1::2] if h not in options}

        def part(i: int, text: str, row: int, combination: Combination) -> str:
            if i % 2 == 0:
                return text
            return combination[options[text]] if text in options else cells[text][row]

        units = zip(self.rows[where].tolist(), self.combination[where].tolist(), strict=True)
        return [
            "".join(part(i, t, row, self.combinations[c]) for i, t in enumerate(parts)) for row, c in units
        ]

    def _note_bad(self, path: str, spec: Spec, column: Column, rows: NDArray[np.intp]) -> None:
        """Note the bad cells that a unit rests on, and the blank ones where nothing may be blank."""
        bad = dict(column.bad)
        if path in NEEDED and column.values.dtype.kind == "f":
            bad = {int(i): Problem("is blank") for i in np.flatnonzero(np.isnan(column.values))} | bad
        used = set(rows.tolist())
        self.problems.extend(
            replace(problem, where=self.body.place(i, spec.heading))
            for i, problem in bad.items()
            if i in used
        )

    def finish(self) -> None:
        """Raise one error with the problems, past the limit their count."""
        if not self.problems:
            return
        unique = list(dict.fromkeys(self.problems))
        more = len(unique) - limits.PROBLEMS
        if more > 0:
            unique = [*unique[: limits.PROBLEMS], Problem(f"and {more} more bad cells", self.body.sheet.name)]
        raise InputError(unique)


def _unmapped(path: str) -> Spec:
    """Return what stands for a field that the mapping leaves out: nothing, and no hand."""
    return Spec(constant="none" if path == "hand" else "")


def _table(mapping: Mapping, columns: dict[str, NDArray[Any]], count: int) -> UnitTable:
    fields = {
        name: np.stack([columns[f"{name}.{c}"] for c in COLUMNS[name]], axis=1)
        if name in COLUMNS
        else columns[name]
        for name in FIELDS
    }
    supplier, currency = np.full(count, mapping.supplier), np.full(count, mapping.currency)
    return UnitTable(supplier=supplier, currency=currency, **fields)
