"""The tables of a catalogue joined: which row of each table every unit rests on, and what became of every row."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from difflib import get_close_matches

import numpy as np
from numpy.typing import NDArray

from halfbore import limits
from halfbore.errors import InputError, LimitError, Problem, UnitError
from halfbore.intake.body import Body
from halfbore.intake.cells import plain_number
from halfbore.intake.layout import Layout, Missing, Ref, Table
from halfbore.intake.mapping import Expansion, Mapping

Rows = NDArray[np.intp]
Key = tuple[str, ...]
Combination = tuple[str, ...]
"""The option that is taken in each expansion, in their order."""
NOTHING = -1
"""Stands for the row of a table in which a unit has none."""
_NAME = re.compile(r"0\d|.*[eE]|.{16}")
"""Digits that are a name and no number: 007 is not 7, 1E5 not 100000, and past 15 digits two names become one."""
_LISTED = 8
"""Rows that a remark names one by one."""


@dataclass
class Units:
    """Units as rows of the tables.

    rows: table → its row for each unit; taken: expanded column → the option of each unit; remarks: rows that make
    no unit or are used by none; told: the rows of those that make no unit; read: the columns that were looked at.
    """

    bodies: dict[str, Body]
    rows: dict[str, Rows]
    taken: dict[Ref, list[str]] = field(default_factory=dict)
    remarks: list[str] = field(default_factory=list)
    told: set[tuple[str, int]] = field(default_factory=set)
    read: set[Ref] = field(default_factory=set)

    def __len__(self) -> int:
        return len(next(iter(self.rows.values())))

    def column(self, ref: Ref) -> list[str]:
        """Return the cells of a column of one table, a row of that table each.

        Raises InputError when the table has no such heading, or has it twice.
        """
        self.read.add(ref)
        return self.bodies[ref.table].column(ref.heading)

    def cells(self, ref: Ref) -> list[str]:
        """Return the cell of a column for each unit; in an expanded column that is the option taken."""
        if ref in self.taken:
            return self.taken[ref]
        cells = [*self.column(ref), ""]  # the last one serves the units without a row
        return [cells[row] for row in self.rows[ref.table].tolist()]

    def place(self, unit: int, ref: Ref) -> str:
        """Return where the cell of a unit stands; where it has no row, the row that begins the unit."""
        row = int(self.rows[ref.table][unit])
        if row != NOTHING:
            return self.bodies[ref.table].place(row, ref.heading)
        first = next(iter(self.rows))
        return self.bodies[first].place(int(self.rows[first][unit]))

    def pick(self, units: Rows) -> None:
        """Keep these units, each as often as it is named."""
        self.rows = {table: rows[units] for table, rows in self.rows.items()}
        index = units.tolist()
        self.taken = {ref: [texts[i] for i in index] for ref, texts in self.taken.items()}


def joined_units(mapping: Mapping, bodies: dict[str, Body]) -> Units:
    """Return the units that the tables of a mapping stand for.

    Raises InputError with every key that finds nothing or too much and every cell that names an option that the
    mapping does not know; LimitError when the rows stand for too many units.
    """
    first = next(iter(mapping.tables))
    units = Units(bodies, {first: np.arange(len(bodies[first].rows))})
    for name, table in mapping.tables.items():
        units.read.update(Ref(name, heading) for heading, _ in table.only)
        if name != first:
            _join(units, name, table, mapping)
        for expansion in mapping.expansions:
            if expansion.column.table == name:
                _expand(units, expansion)
    if not len(units):
        raise InputError(
            Problem("no row makes a unit", bodies[first].sheet.name, accepted="; ".join(units.remarks))
        )
    units.remarks.extend(_unused(units, mapping))
    return units


def _join(units: Units, name: str, table: Table, mapping: Mapping) -> None:
    """Give every unit its row of one more table, or one unit for each row of its key."""
    known = _index(units, name, table)
    columns = [keys_of(units.cells(ref), mapping.tables[ref.table].layout) for _, ref in table.keys]
    asked: list[Key] = list(zip(*columns, strict=True))
    without = [i for i, key in enumerate(asked) if key not in known]
    if table.missing is Missing.REFUSE and without:
        raise _refusal(_lost(units, name, table, asked, known, without), units.bodies[name])
    if without:
        units.remarks.append(_without(units, name, table, asked, without))
    none = [NOTHING] if table.missing is Missing.BLANK else []
    found = [known.get(key, none) for key in asked]
    counts = np.array([len(rows) for rows in found], dtype=np.intp)
    _refuse_many(int(counts.sum()), units.bodies[name])
    units.pick(np.repeat(np.arange(len(found)), counts))
    units.rows[name] = np.array([row for rows in found for row in rows], dtype=np.intp)


def _index(units: Units, name: str, table: Table) -> dict[Key, list[int]]:
    """Return the rows of a table by their key; a blank key, or one that stands twice where it may not, is refused."""
    body = units.bodies[name]
    columns = [keys_of(units.column(Ref(name, heading)), table.layout) for heading, _ in table.keys]
    heading = table.keys[0][0]
    known: dict[Key, list[int]] = {}
    problems = []
    for i, key in enumerate(zip(*columns, strict=True)):
        rows = known.setdefault(key, [])
        if not all(key):
            step = f"no unit can find this row of table {name!r}"
            problems.append(Problem("the key is blank", body.place(i, heading), next_step=step))
        elif rows and not table.each:
            accepted = f"one row a key: see {body.place(rows[0])}"
            problems.append(Problem("two rows have one key", body.place(i, heading), _shown(key), accepted))
        rows.append(i)
    if problems:
        raise _refusal(problems, body)
    return known


def keys_of(cells: Iterable[str], layout: Layout) -> list[str]:
    """Return cells as keys: a number by its value, any other text as it stands, a blank as nothing."""
    cells = list(cells)
    keys = {cell: _key(cell, layout) for cell in dict.fromkeys(cells)}
    return [keys[cell] for cell in cells]


def _key(cell: str, layout: Layout) -> str:
    if cell in layout.blanks:
        return ""
    if _NAME.match(cell):
        return " ".join(cell.split())
    try:
        value = plain_number(cell, layout)
    except UnitError:
        value = None
    return " ".join(cell.split()) if value is None else f"{value:.15g}"


def _lost(
    units: Units, name: str, table: Table, asked: list[Key], known: dict[Key, list[int]], without: list[int]
) -> Iterator[Problem]:
    """Yield the cells that name a row which a table does not have."""
    names = [_shown(key) for key in known]
    ref = table.keys[0][1]
    for count, i in enumerate(without):
        text = _shown(asked[i])
        near = get_close_matches(text, names, 1, 0.3) if count < limits.PROBLEMS else []
        accepted = f"a key of table {name!r}" + (f", the nearest is {near[0]}" if near else "")
        what = f"names no row of table {name!r}" if all(asked[i]) else "the key is blank"
        yield Problem(what, units.place(i, ref), text, accepted)


def _without(units: Units, name: str, table: Table, asked: list[Key], without: list[int]) -> str:
    """Return the remark about units that have no row in a table."""
    ref = table.keys[0][1]
    rows = {units.place(i, ref): _shown(asked[i]) or "blank" for i in without}
    left_out = table.missing is Missing.LEAVE_OUT
    if left_out:
        units.told.update((ref.table, int(units.rows[ref.table][i])) for i in without)
    end = "no unit made" if left_out else "fields left blank"
    return f"no row of table {name!r} for {_counted(len(rows), 'row')}, {end}: {_listed(rows)}"


def _expand(units: Units, expansion: Expansion) -> None:
    """Make a unit of every option that the cell of a column lists."""
    cells = [*units.column(expansion.column), ""]
    rows = units.rows[expansion.column.table].tolist()
    options: dict[int, list[str]] = {}
    problems = []
    for unit, row in enumerate(rows):
        if row in options:
            continue
        options[row] = [o.strip() for o in cells[row].split(expansion.separator)]
        unknown = [o for o in options[row] if o not in expansion.options]
        if unknown or len(set(options[row])) < len(options[row]):
            what = "is not an option" if unknown else "an option stands twice"
            where = units.place(unit, expansion.column)
            problems.append(Problem(what, where, "".join(unknown[:1])[:64], ", ".join(expansion.options)))
    if problems:
        raise _refusal(problems, units.bodies[expansion.column.table])
    counts = np.array([len(options[row]) for row in rows], dtype=np.intp)
    _refuse_many(int(counts.sum()), units.bodies[expansion.column.table])
    units.pick(np.repeat(np.arange(len(rows)), counts))
    units.taken[expansion.column] = [option for row in rows for option in options[row]]


def _refuse_many(count: int, body: Body) -> None:
    if count > limits.UNITS:
        accepted = f"up to {limits.UNITS}: more keys, or fewer options"
        raise LimitError(Problem("the rows stand for too many units", body.sheet.name, str(count), accepted))


def _unused(units: Units, mapping: Mapping) -> Iterator[str]:
    """Yield remarks about rows that no unit rests on, and rows of a sheet that belong to no table."""
    for name, rows in units.rows.items():
        body, table = units.bodies[name], mapping.tables[name]
        left = [
            i for i in np.setdiff1d(np.arange(len(body.rows)), rows).tolist() if (name, i) not in units.told
        ]
        if left:
            keys = [body.column(heading) for heading, _ in table.keys]
            named = {body.place(i): _shown(tuple(cells[i] for cells in keys)) for i in left}
            yield f"{_counted(len(left), 'row')} of table {name!r} that no unit uses: {_listed(named)}"
    yield from _of_no_table(units.bodies.values())


def _of_no_table(bodies: Iterable[Body]) -> Iterator[str]:
    elsewhere: dict[str, set[int]] = {}
    sheets = {}
    for body in bodies:
        sheets[body.sheet.name] = body.sheet
        others = set(body.elsewhere)
        elsewhere[body.sheet.name] = elsewhere.get(body.sheet.name, others) & others
    for name, numbers in elsewhere.items():
        if numbers:
            places = {sheets[name].place(n): "" for n in sorted(numbers)}
            yield f"{_counted(len(numbers), 'row')} of no table of the mapping: {_listed(places)}"


def _listed(rows: dict[str, str]) -> str:
    named = [f"{place} ({key})" if key else place for place, key in rows.items()]
    more = f" and {len(named) - _LISTED} more" if len(named) > _LISTED else ""
    return "; ".join(named[:_LISTED]) + more


def _counted(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _shown(key: Key) -> str:
    return ", ".join(part[: limits.QUANTITY_LENGTH] for part in key if part)


def _refusal(problems: Iterable[Problem], body: Body) -> InputError:
    return InputError(counted(problems, body.sheet.name))


def counted(problems: Iterable[Problem], where: str) -> list[Problem]:
    """Return the problems, each once; past the limit their count."""
    unique = list(dict.fromkeys(problems))
    more = len(unique) - limits.PROBLEMS
    if more > 0:
        return [*unique[: limits.PROBLEMS], Problem(f"and {more} more bad cells", where)]
    return unique
