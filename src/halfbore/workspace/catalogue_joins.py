"""How the tables of a catalogue join, as choices among their columns while a person works on the mapping."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

from halfbore.domain.survey import Plain
from halfbore.errors import InputError, Problem, shown
from halfbore.intake.layout import Missing
from halfbore.workspace.catalogue_mapping import OPEN, Columns
from halfbore.workspace.toml_text import toml_text

MATCHES = {"one": "one row", "each": "every row is a unit of its own"}
MISSING = {
    "": "as usual",
    Missing.REFUSE.value: "refuse the catalogue",
    Missing.LEAVE_OUT.value: "leave the unit out, and count it",
    Missing.BLANK.value: "leave its cells blank",
}
"""What may become of a unit without a row, by the word of the mapping file."""


@dataclass(frozen=True)
class JoinView:
    """How one table joins those above it.

    keys: own column and the column, of a table above, whose cell it must be; own, others: columns to choose from.
    """

    name: str
    keys: tuple[tuple[str, str], ...]
    matches: str
    missing: str
    own: tuple[str, ...]
    others: tuple[str, ...]

    @property
    def open(self) -> bool:
        """Whether a person must settle something of it."""
        return not self.keys or any(OPEN in key for key in self.keys)


@dataclass(frozen=True)
class JoinGiven:
    """What a person has given for the join of one table."""

    keys: Sequence[tuple[str, str]]
    matches: str
    missing: str


def joins_of(data: Plain, tables: Sequence[Columns]) -> list[JoinView]:
    """Return how each table but the first joins those above it; none where there is one table."""
    views: list[JoinView] = []
    above: list[str] = []
    for number, (name, table) in enumerate(_tables(data).items()):
        own = _columns(data, table, tables)
        if number:
            keys = table.get("keys", {})
            pairs = tuple((str(k), str(v)) for k, v in keys.items()) if isinstance(keys, dict) else ()
            words = str(table.get("matches", "one")), str(table.get("missing", ""))
            views.append(JoinView(name, pairs, *words, own, tuple(above)))
        above += [f"{name}.{heading}" for heading in own]
    return views


def _tables(data: Plain) -> dict[str, Plain]:
    found = data.get("tables", {})
    named = found.items() if isinstance(found, dict) else ()
    return {name: table for name, table in named if isinstance(table, dict)}


def _columns(data: Plain, table: Plain, tables: Sequence[Columns]) -> tuple[str, ...]:
    """Return the columns of a table of the mapping, as far as they show in its file."""
    shared = data.get("table", {})
    whole: dict[str, Any] = {**(shared if isinstance(shared, dict) else {}), **table}
    file, sheet = whole.get("file", ""), whole.get("sheet", "")
    same = [t for t in tables if t.file == file] or tables  # a mapping of another year names another file
    return next((tuple(t.cells) for t in same if sheet in ("", t.sheet)), ())


def with_joins(data: Plain, given: Mapping[str, JoinGiven]) -> str:
    """Return the text of the mapping with the joins that a person has given; the rest of it stays as it was.

    Raises InputError for a table that joins nothing, half a key, a column that is named twice, and unknown words.
    """
    new = deepcopy(data)
    tables = _tables(new)
    problems: list[Problem] = []
    for name, join in given.items():
        if name not in list(tables)[1:]:
            problems.append(Problem("is no table that joins another", "tables", shown(name)))
            continue
        problems += _wrong(name, join)
        table = tables[name]
        table["keys"] = dict(join.keys)
        _word(table, "matches", join.matches, "one")
        _word(table, "missing", join.missing, "")
    if problems:
        raise InputError(problems)
    return toml_text(new)


def _word(table: Plain, key: str, word: str, usual: str) -> None:
    if word != usual:
        table[key] = word
    elif key in table:
        del table[key]


def _wrong(name: str, join: JoinGiven) -> list[Problem]:
    where = f"tables.{name}"
    own = [heading for heading, _ in join.keys]
    problems = [
        Problem("half a key", where, shown(" = ".join(key)), "a column on both sides")
        for key in join.keys
        if not all(key)
    ]
    twice = {heading for heading in own if own.count(heading) > 1 and heading}
    problems += [Problem("the column is named twice", where, shown(heading)) for heading in sorted(twice)]
    for key, word, known in (("matches", join.matches, MATCHES), ("missing", join.missing, MISSING)):
        if word not in known:
            accepted = ", ".join(filter(None, known))
            problems.append(Problem("is none of the choices", f"{where}.{key}", shown(word), accepted))
    return problems


def given_of(form: Mapping[str, str]) -> dict[str, JoinGiven]:
    """Return the joins that a form gives: fields j0 (the table), j0.own0 and j0.other0, j0.matches, j0.missing."""
    found: dict[str, JoinGiven] = {}
    number = 0
    while (name := form.get(f"j{number}")) is not None:
        own, other = (_numbered(form, f"j{number}.{side}") for side in ("own", "other"))
        keys = [pair for pair in zip_longest(own, other, fillvalue="") if any(pair)]
        found[name] = JoinGiven(
            keys, form.get(f"j{number}.matches", "one"), form.get(f"j{number}.missing", "")
        )
        number += 1
    return found


def _numbered(form: Mapping[str, str], name: str) -> list[str]:
    found: list[str] = []
    while (text := form.get(f"{name}{len(found)}")) is not None:
        found.append(text)
    return found
