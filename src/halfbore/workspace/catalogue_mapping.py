"""The mapping of a supplier's tables while a person works on it: field by field, and the rest as text."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from halfbore import limits
from halfbore.domain.fields import Quantity
from halfbore.domain.survey import Plain
from halfbore.errors import InputError, LimitError, Problem
from halfbore.intake.mapping import FIELDS, NEEDED, PATHS, read_mapping_data
from halfbore.intake.mapping_file import mapping_data
from halfbore.intake.proposal.found import tables_in
from halfbore.intake.proposal.propose import propose_catalogue
from halfbore.workspace.toml_text import toml_text
from halfbore.workspace.uploads import shown_name

OPEN = "?"
TOP = {"supplier": "supplier", "version": "version of the catalogue", "currency": "currency of all prices"}
_SAMPLES = 3
_SECTION = re.compile(r"\[fields(?:\.(\w+))?\]")
_HINT = re.compile(r"\"?([\w-]+)\"? = .*?   # (.*)")


@dataclass(frozen=True)
class Columns:
    """A table that was found in the files: its name in a proposal, heading → some of its cells, where it stands."""

    name: str
    cells: Mapping[str, tuple[str, ...]]
    file: str = ""
    sheet: str = ""


@dataclass(frozen=True)
class FieldView:
    """A field of a unit: the column that fills it, or a text for all units; fixed: a pattern, left to the text."""

    path: str
    help: str
    needed: bool
    table: str
    heading: str
    constant: str
    unit: str
    takes_unit: bool
    letters: tuple[tuple[str, str], ...]
    samples: tuple[str, ...]
    hint: str
    fixed: str

    @property
    def open(self) -> bool:
        """Whether a person must settle something of it."""
        letters = [meaning for _, meaning in self.letters]
        return OPEN in (self.constant, self.heading, self.unit, self.table, *letters)


def file_names(names: Sequence[str]) -> list[str]:
    """Return the names of uploads as they may be in a folder of ours, no two alike."""
    found: list[str] = []
    for name in names:
        plain = re.sub(r"[^\w .()+-]", "_", shown_name(name)).lstrip(". ") or "table"
        stem, dot, end = plain.rpartition(".")
        number = 2
        while plain in found:
            plain = f"{stem or end} {number}{dot}{end if dot else ''}"
            number += 1
        found.append(plain)
    return found


def refuse_large(files: Mapping[str, bytes]) -> None:
    """Raise LimitError where the tables are too many or too large, InputError where there is none."""
    if not files:
        raise InputError(Problem("no table was chosen", "file", accepted="CSV, XLSX", next_step="choose one"))
    if len(files) > limits.TABLES or sum(map(len, files.values())) > limits.FILE_SIZE:
        most = f"up to {limits.TABLES} files, {limits.FILE_SIZE / 1e6:.0f} MB together"
        raise LimitError(Problem("the tables are too many or too large", "file", accepted=most))


def proposed(files: Mapping[str, bytes]) -> str:
    """Return the text of the mapping that is proposed for the tables of a supplier. Raises InputError, LimitError."""
    with TemporaryDirectory(prefix="halfbore-") as folder:
        return propose_catalogue(*_put_down(files, Path(folder)))


def columns_of(files: Mapping[str, bytes]) -> tuple[Columns, ...]:
    """Return the tables that show in the files, with some cells of each column; none where nothing shows."""
    with TemporaryDirectory(prefix="halfbore-") as folder:
        try:
            found = tables_in(_put_down(files, Path(folder)))
        except InputError:
            return ()
    return tuple(
        Columns(
            t.name,
            {h: tuple(dict.fromkeys(t.cells(h)))[:_SAMPLES] for h in t.headings},
            t.layout.file,
            t.layout.sheet,
        )
        for t in found
    )


def _put_down(files: Mapping[str, bytes], folder: Path) -> list[Path]:
    paths = []
    for name, data in files.items():
        paths.append(folder / name)
        paths[-1].write_bytes(data)
    return paths


def hints_of(text: str) -> dict[str, str]:
    """Return what the text of a proposal says beside each field."""
    found: dict[str, str] = {}
    above: str | None = None
    for line in text.splitlines():
        if line.startswith("["):
            section = _SECTION.match(line)
            above = None if section is None else section[1] or ""
        elif above is not None and (hint := _HINT.match(line)):
            found[f"{above}.{hint[1]}" if above else hint[1]] = hint[2]
    return found


def data_of(text: str) -> Plain:
    """Return the text of a mapping as plain data. Raises InputError where it is none."""
    if len(text.encode()) > limits.MAPPING_SIZE:
        raise LimitError(Problem("the mapping is too large", "mapping", accepted="up to 1 MB"))
    data = mapping_data(text, "the mapping")
    if not isinstance(data.get("fields", {}), dict):
        raise InputError(Problem("is no mapping of a catalogue", "fields", accepted="[fields]"))
    return data


def open_in(text: str) -> list[Problem]:
    """Return what stands open or is wrong in a mapping."""
    try:
        read_mapping_data(data_of(text), "")
    except InputError as error:
        return list(error.problems)
    return []


def top_of(data: Plain) -> dict[str, str]:
    """Return what holds for the whole catalogue, as far as it is a text."""
    return {key: text for key in TOP if isinstance(text := data.get(key, ""), str)}


def fields_of(data: Plain, tables: Sequence[Columns], hints: Mapping[str, str]) -> list[FieldView]:
    """Return every field of a unit as the mapping fills it, those that stand open or are needed first."""
    views = [_field(path, data.get("fields", {}), tables, hints) for path in PATHS]
    return sorted(views, key=lambda view: (not view.open, not (view.heading or view.constant or view.fixed)))


def _field(path: str, fields: Plain, tables: Sequence[Columns], hints: Mapping[str, str]) -> FieldView:
    name, _, column = path.partition(".")
    given: Any = fields.get(name, "")
    if column:
        given = given.get(column, "") if isinstance(given, dict) else ""
    meta = FIELDS[name].meta
    spec = given if isinstance(given, dict) else {}
    heading, table = str(spec.get("heading", "")), str(spec.get("table", ""))
    samples = next((t.cells[heading] for t in tables if heading in t.cells and table in ("", t.name)), ())
    letters = spec.get("letters", {})
    return FieldView(
        path,
        meta.help,
        path in NEEDED,
        table,
        heading,
        given if isinstance(given, str) else "",
        str(spec.get("unit", "")),
        isinstance(meta, Quantity),
        tuple((str(k), str(v)) for k, v in letters.items()) if isinstance(letters, dict) else (),
        samples,
        hints.get(path, ""),
        str(spec.get("pattern", "")),
    )


@dataclass(frozen=True)
class FieldGiven:
    """What a person has given for one field."""

    path: str
    heading: str
    constant: str
    unit: str
    table: str
    letters: Mapping[str, str]


def with_fields(data: Plain, top: Mapping[str, str], given: Sequence[FieldGiven]) -> str:
    """Return the text of the mapping with what a person has given; the rest of it stays as it was."""
    new = deepcopy(data)
    new.update({key: text for key, text in top.items() if key in TOP})
    fields = new.setdefault("fields", {})
    headings = set()
    for field in given:
        name, _, column = field.path.partition(".")
        if field.path not in PATHS:
            raise InputError(Problem("a unit has no such field", "fields", field.path[:64]))
        holder = fields.setdefault(name, {}) if column else fields
        key = column or name
        before = holder.get(key) if isinstance(holder, dict) else None
        if isinstance(before, dict) and "pattern" in before:
            continue
        entry = _entry(field)
        if entry:
            holder[key] = entry
            headings.add(field.heading)
        else:
            holder.pop(key, None)
            if column and not holder:
                fields.pop(name)
    for table in [new.get("table", {}), *_tables(new)]:
        if isinstance(table, dict) and isinstance(table.get("ignored"), list):
            table["ignored"] = [heading for heading in table["ignored"] if heading not in headings]
    return toml_text(new)


def _tables(data: Plain) -> list[Any]:
    tables = data.get("tables", {})
    return list(tables.values()) if isinstance(tables, dict) else []


def _entry(field: FieldGiven) -> Plain | str:
    if field.constant and not field.heading:
        return field.constant
    if not field.heading:
        return ""
    entry: Plain = {"table": field.table} if field.table else {}
    entry["heading"] = field.heading
    if field.unit:
        entry["unit"] = field.unit
    if field.letters:
        entry["letters"] = dict(field.letters)
    return entry
