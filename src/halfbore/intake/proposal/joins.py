"""How tables may join: a column of one names the rows of another."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, islice, product

from halfbore.intake.joining import keys_of
from halfbore.intake.proposal.found import Found

_HELD = 0.8
"""Part of the different cells of a column that the key column of another table must hold."""
_MOST = 40
"""Columns of a table that are looked at as keys."""
_KEYS = 8
"""Columns that are tried with one another as a key."""
_SEVERAL = 6
"""Kinds that one table holds side by side at most."""
Column = tuple[str, str]
"""Name of a table and heading."""


@dataclass(frozen=True)
class Join:
    """How one table joins those before it.

    keys: own heading → column; unsure: another way is as good; apart: a heading by whose cells the table is several
    tables in one, such as the kind in a table of seals.
    """

    table: Found
    keys: tuple[tuple[str, Column], ...] = ()
    unsure: bool = False
    apart: str = ""


def joins_of(tables: list[Found]) -> list[Join]:
    """Return the tables in an order in which each can join those before it; one without keys joins none.

    The first is the one that names the most of the others.
    """
    named = _named(tables)
    order = max((_from(t, tables, named) for t in tables), key=lambda joins: len(joins))
    done = {join.table.name for join in order}
    return [*order, *(Join(table) for table in tables if table.name not in done)]


_Named = dict[Column, list[Column]]


def _from(first: Found, tables: list[Found], named: _Named) -> list[Join]:
    """Return the tables that join, one after the other, when this one is the first."""
    joins, left = [Join(first)], [t for t in tables if t is not first]
    while join := next((j for t in left if (j := _join(t, joins, named)).keys), None):
        joins.append(join)
        left = [t for t in left if t is not join.table]
    return joins


def _join(table: Found, above: list[Join], named: _Named) -> Join:
    """Return the keys by which a table joins: as few columns that tell its rows apart as can be."""
    own_keys = {(join.table.name, heading) for join in above for heading, _ in join.keys}
    names = [join.table.name for join in above]
    matches: dict[str, list[Column]] = {}
    for heading in table.headings[:_MOST]:
        columns = named.get((table.name, heading), ())
        found = [c for name in names for c in columns if c[0] == name and c not in own_keys]
        matches[heading] = [c for c in found if c[1] == heading] or found
    usable = [h for h, found in matches.items() if found]
    usable.sort(key=lambda h: matches[h][0][1] != h)  # headings that are alike first
    for count in (1, 2, 3):
        fits = [key for key in combinations(usable[:_KEYS], count) if _unique(table, key)]
        if fits:
            alike = [key for key in fits if all(matches[h][0][1] == h for h in key)]
            unsure = not alike and (len(fits) > 1 or any(len(matches[h]) > 1 for h in fits[0]))
            return Join(table, tuple((h, matches[h][0]) for h in fits[0]), unsure)
    for key, other in product(usable[:_KEYS], table.headings[:_MOST]):
        if other != key and len(set(table.cells(other))) <= _SEVERAL and _unique(table, (key, other)):
            return Join(table, ((key, matches[key][0]),), False, other)
    return Join(table)


def _named(tables: list[Found]) -> _Named:
    """Return for every column the columns of other tables whose cells stand in it."""
    values = {(t.name, h): _values(t, h) for t in tables for h in t.headings[:_MOST]}
    return {
        own: [
            column
            for column, cells in values.items()
            if column[0] != own[0]
            and _hold(known, cells)
            and (column[1] == own[1] or not _counts(known | cells))
        ]
        for own, known in values.items()
        if len(known) > 1
    }


def _values(table: Found, heading: str) -> frozenset[str]:
    return frozenset(key for key in keys_of(table.cells(heading), table.layout) if key)


def _hold(known: frozenset[str], cells: frozenset[str]) -> bool:
    """Whether most of the cells are known; a few of them are asked first, which settles most questions."""
    few = list(islice(cells, 10))
    return (
        len(cells) > 1
        and sum(cell in known for cell in few) > 0.4 * len(few)
        and len(cells & known) >= _HELD * len(cells)
    )


def _counts(cells: frozenset[str]) -> bool:
    """Whether cells are small whole numbers, which stand in any column: row 1 is no housing 1."""
    return all(cell.isdigit() and len(cell) < 2 for cell in cells)


def _unique(table: Found, key: tuple[str, ...]) -> bool:
    rows = list(zip(*(table.body.column(h) for h in key), strict=True))
    return len(set(rows)) == len(rows)
