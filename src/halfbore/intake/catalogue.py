"""Read a supplier's tables through their mapping: units as columns, and the place that each value came from."""

from __future__ import annotations

from collections.abc import Iterable
from collections.abc import Mapping as AnyMapping
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.catalogue import Catalogue
from halfbore.domain.unit import COLUMNS, UnitTable
from halfbore.errors import InputError, Problem
from halfbore.intake.body import body_of
from halfbore.intake.cells import Column, column_of
from halfbore.intake.joining import NOTHING, Combination, Units, counted, joined_units
from halfbore.intake.layout import Ref, reference
from halfbore.intake.mapping import (
    CURRENCY,
    FIELDS,
    NEEDED,
    PATHS,
    PLACEHOLDER,
    Mapping,
    Spec,
    read_mapping,
    read_mapping_text,
)
from halfbore.intake.proposal.propose import propose_catalogue
from halfbore.intake.schemes import scheme_of
from halfbore.intake.sheets import MarkedSheet, sheets_of
from halfbore.intake.tables import Sheet

__all__ = [
    "CatalogueReading",
    "catalogue_from",
    "files_of",
    "propose_catalogue",
    "read_catalogue",
    "read_tables",
    "read_units",
]
_CURRENCY = "currency"


@dataclass(frozen=True)
class CatalogueReading:
    """A catalogue as read, and where each of its units stands in the files."""

    catalogue: Catalogue
    source: _Source

    def place(self, unit: int, path: str = "") -> str:
        """Return the sheet, row and column that a value of a unit was read from."""
        return self.source.place(unit, path)


def read_catalogue(path: Path) -> CatalogueReading:
    """Read a catalogue.

    path: mapping file; its tables stand beside it.
    Returns units, scheme and places. Raises InputError with every bad cell by sheet, row and column.
    """
    mapping = read_mapping(path)
    return read_tables(mapping, sheets_of(mapping.tables, path.parent))


def catalogue_from(mapping_text: str, files: AnyMapping[str, bytes]) -> CatalogueReading:
    """Read a catalogue that is kept whole, as `read_catalogue` does.

    mapping_text: the mapping file; files: the files that it names, by name. No other file is touched.
    """
    mapping = read_mapping_text(mapping_text)
    with TemporaryDirectory(prefix="halfbore-") as folder:
        for name in files_of(mapping):
            if name in files:
                _keep(Path(folder) / name, files[name])
        return read_tables(mapping, sheets_of(mapping.tables, Path(folder)))


def files_of(mapping: Mapping) -> tuple[str, ...]:
    """Return the names of the files that a mapping reads, each once."""
    return tuple(dict.fromkeys(table.layout.file for table in mapping.tables.values()))


def _keep(path: Path, data: bytes) -> None:
    try:
        path.write_bytes(data)
    except OSError as error:
        raise InputError(Problem(f"cannot be kept: {error.strerror}", path.name)) from None


def read_units(mapping: Mapping, sheet: Sheet) -> CatalogueReading:
    """Read a catalogue of one table from a sheet that is already there, as `read_catalogue` does."""
    return read_tables(mapping, dict.fromkeys(mapping.tables, sheet))


def read_tables(mapping: Mapping, sheets: AnyMapping[str, Sheet]) -> CatalogueReading:
    """Read a catalogue from sheets that are already there, one for each table of the mapping."""
    bodies = {name: body_of(sheets[name], table) for name, table in mapping.tables.items()}
    source = _Source(mapping, joined_units(mapping, bodies))
    columns = {path: source.values(path) for path in PATHS}
    currency = source.currency()
    source.finish()
    units = _table(mapping, columns, currency)
    scheme = scheme_of(mapping.scheme, source.units, units, mapping.tables)
    catalogue = Catalogue(
        mapping.supplier,
        mapping.version,
        mapping.invented,
        currency,
        units,
        scheme,
        notes=tuple(source.notes()),
    )
    return CatalogueReading(catalogue, source)


class _Source:
    """Where the values of all units come from: rows of the tables, and specs that hold for a combination."""

    def __init__(self, mapping: Mapping, units: Units) -> None:
        self.mapping, self.units = mapping, units
        columns = [units.taken[e.column] for e in mapping.expansions]
        taken: list[Combination] = list(zip(*columns, strict=True)) if columns else [()] * len(units)
        self.combinations = list(dict.fromkeys(taken))
        number = {c: i for i, c in enumerate(self.combinations)}
        self.combination = np.array([number[c] for c in taken], dtype=np.intp)
        self.specs = [self._overlaid(c) for c in self.combinations]
        self.problems: list[Problem] = []
        self.first = next(iter(mapping.tables))

    def _overlaid(self, combination: Combination) -> dict[str, Spec]:
        specs = self.mapping.fields | {_CURRENCY: self.mapping.currency}
        for expansion, option in zip(self.mapping.expansions, combination, strict=True):
            specs |= expansion.options[option]
        return specs

    def place(self, unit: int, path: str = "") -> str:
        spec: Spec | None = self.specs[int(self.combination[unit])].get(path)
        if spec and spec.constant:
            return spec.where
        if spec and spec.heading:
            return self.units.place(unit, Ref(spec.table, spec.heading))
        return self.units.place(unit, Ref(self.first, spec.pattern if spec else ""))

    def values(self, path: str) -> NDArray[Any]:
        """Return the values of one field for all units; bad cells go to the problems."""
        specs = [s.get(path, _unmapped(path)) for s in self.specs]
        parts = []
        for spec in dict.fromkeys(specs):
            where = np.isin(self.combination, [i for i, other in enumerate(specs) if other == spec])
            parts.append((where, self._part(path, spec, where)))
        values = np.empty(len(self.units), np.result_type(*(part for _, part in parts)))
        for where, part in parts:
            values[where] = part
        return values

    def currency(self) -> str:
        """Return the currency of all prices; several, or a cell that is none, go to the problems."""
        spec = self.mapping.currency
        if spec.constant:
            return spec.constant
        before = len(self.problems)
        codes = [str(code) for code in self.values(_CURRENCY).tolist()]
        first = {code: unit for unit, code in reversed(list(enumerate(codes)))}
        if len(self.problems) > before:
            return ""
        for code, unit in first.items():
            if not CURRENCY.fullmatch(code):
                what, accepted = "is no currency code", "three capitals, such as EUR"
                self.problems.append(Problem(what, self.place(unit, _CURRENCY), code[:64], accepted))
        if len(first) > 1:
            counts = ", ".join(f"{codes.count(code)} × {code}" for code in sorted(first))
            where = self.place(max(first.values()), _CURRENCY)
            step = (
                "one catalogue counts in one currency: make a catalogue of each, or convert by a dated rate"
            )
            self.problems.append(
                Problem("the prices are in several currencies", where, counts, next_step=step)
            )
        return codes[0]

    def _part(self, path: str, spec: Spec, where: NDArray[np.bool_]) -> NDArray[Any]:
        """Return the values of one field for the units that one spec serves."""
        layout = self.mapping.tables[spec.table or self.first].layout
        shape = (int(where.sum()),)
        try:
            if not spec.heading:
                cells = self._patterned(spec, where) if spec.pattern else [spec.constant]
                column = column_of(cells, path, spec, layout)
                self.problems.extend(replace(problem, where=spec.where) for problem in column.bad.values())
                return np.broadcast_to(column.values, shape)
            column = column_of(self.units.column(Ref(spec.table, spec.heading)), path, spec, layout)
        except InputError as error:
            self.problems.extend(error.problems)
            return np.broadcast_to(column_of([""], path, Spec(), layout).values, shape)
        rows = self.units.rows[spec.table][where]
        self._note_bad(path, spec, column, rows)
        return self._without_row(path, spec, where, rows, np.asarray(column.values[rows]))

    def _without_row(
        self, path: str, spec: Spec, where: NDArray[np.bool_], rows: NDArray[np.intp], values: NDArray[Any]
    ) -> NDArray[Any]:
        """Return the values with what is blank where a unit has no row; a field that may not be blank is a problem."""
        none = rows == NOTHING
        if not none.any():
            return values
        blank = column_of([""], path, Spec(), self.mapping.tables[spec.table].layout)
        if path in NEEDED or blank.bad:
            what = f"is blank: table {spec.table!r} has no row for this unit"
            missing = np.flatnonzero(where)[none].tolist()
            self.problems.extend(Problem(what, self.place(unit, path), path) for unit in missing)
        return np.where(none, blank.values, values)

    def _patterned(self, spec: Spec, where: NDArray[np.bool_]) -> list[str]:
        """Return the pattern with the cells of each unit."""
        parts = PLACEHOLDER.split(spec.pattern)
        refs = [reference(text, self.mapping.tables, spec.table) for text in parts[1::2]]
        for ref in refs:
            self._note_faults(ref, where)
        cells = [self.units.cells(ref) for ref in refs]
        texts = parts[::2]
        return [
            texts[0] + "".join(c[unit] + text for c, text in zip(cells, texts[1:], strict=True))
            for unit in np.flatnonzero(where).tolist()
        ]

    def _note_faults(self, ref: Ref, where: NDArray[np.bool_]) -> None:
        """Note the cells of a pattern that have no value, where a unit rests on them."""
        body = self.units.bodies[ref.table]
        faults = body.faults(ref.heading)
        for i in set(self.units.rows[ref.table][where].tolist()) & set(faults) if faults else ():
            self.problems.append(replace(faults[i], where=body.place(i, ref.heading)))

    def _note_bad(self, path: str, spec: Spec, column: Column, rows: NDArray[np.intp]) -> None:
        """Note the bad cells that a unit rests on, and the blank ones where nothing may be blank."""
        body = self.units.bodies[spec.table]
        bad = column.bad | body.faults(spec.heading)
        if path in NEEDED and column.values.dtype.kind == "f":
            bad = {int(i): Problem("is blank") for i in np.flatnonzero(np.isnan(column.values))} | bad
        used = set(rows.tolist())
        self.problems.extend(
            replace(problem, where=body.place(i, spec.heading)) for i, problem in bad.items() if i in used
        )

    def finish(self) -> None:
        """Raise one error with the problems, past the limit their count."""
        if self.problems:
            raise InputError(counted(self.problems, self.units.bodies[self.first].sheet.name))

    def notes(self) -> Iterable[str]:
        """Yield what was left out and what no unit rests on."""
        sheets = {body.sheet.name: body for body in self.units.bodies.values()}
        if skipped := sum(len(body.skipped) for body in sheets.values()):
            yield f"rows left out as the mapping says: {skipped}"
        for body in sheets.values():
            yield from body.sheet.remarks if isinstance(body.sheet, MarkedSheet) else ()
        yield from self.units.remarks
        read = self.units.read | set(self._mapped())
        unread: dict[str, set[str]] = {}
        for name, body in self.units.bodies.items():
            known = {ref.heading for ref in read if ref.table == name} | set(
                self.mapping.tables[name].layout.ignored
            )
            others = set(body.headings) - known
            unread[body.sheet.name] = unread.get(body.sheet.name, others) & others
        for place, headings in unread.items():
            if headings:
                yield f"{place}: columns that the mapping does not read: {', '.join(sorted(headings))}"

    def _mapped(self) -> Iterable[Ref]:
        """Yield the columns that a field names, also where no unit takes that option."""
        overlaid = (
            spec for e in self.mapping.expansions for option in e.options.values() for spec in option.values()
        )
        for spec in (*self.mapping.fields.values(), *overlaid):
            if spec.heading:
                yield Ref(spec.table, spec.heading)


def _unmapped(path: str) -> Spec:
    """Return what stands for a field that the mapping leaves out: nothing, and no hand."""
    return Spec(constant="none" if path == "hand" else "")


def _table(mapping: Mapping, columns: dict[str, NDArray[Any]], currency: str) -> UnitTable:
    fields = {
        name: np.stack([columns[f"{name}.{c}"] for c in COLUMNS[name]], axis=1)
        if name in COLUMNS
        else columns[name]
        for name in FIELDS
    }
    count = len(columns["code"])
    return UnitTable(supplier=np.full(count, mapping.supplier), currency=np.full(count, currency), **fields)
