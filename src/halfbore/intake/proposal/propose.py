"""Write the proposal of a mapping: TOML with a comment where something is to be settled or looked at."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from textwrap import wrap

from halfbore.domain.fields import Quantity
from halfbore.domain.unit import COLUMNS
from halfbore.intake.mapping import FIELDS, NEEDED, PATHS
from halfbore.intake.proposal.fields import (
    LOOSE,
    Match,
    accepted_units,
    help_of,
    letters_of,
    matches,
    options_in,
    unit_of_cells,
    why_unread,
)
from halfbore.intake.proposal.found import Found, tables_in
from halfbore.intake.proposal.joins import Join, joins_of

_TOP = """\
# A proposal, made from headings and cells: read every line. A "?" is what they do not tell, and nothing is read
# while one is left. docs/how-to/catalogue.md says what can stand here.

format = 1
supplier = "?"
version = "?"           # of the catalogue: a date or the supplier's own
invented = false
currency = {currency}
"""
_SCHEME = """\
# How the supplier writes order codes. "listed": codes are looked up as they stand, and seals and clearance are what
# is fixed here. "tagged" and "placed" tell the parts of a code apart.
[scheme]
form = "listed"
fixed = { seal_left = "?", seal_right = "?", clearance = "?" }   # such as packing, packing, 1
"""
_CURRENCIES = ("EUR", "USD", "GBP", "CHF", "SEK", "NOK", "DKK", "PLN", "CZK", "CAD", "AUD", "JPY")


def propose_catalogue(path: Path, *more: Path) -> str:
    """Return the text of a mapping for a supplier's tables, with `"?"` wherever they do not tell.

    path, more: CSV or XLSX files, which the mapping file is to stand beside.
    Raises InputError where a file holds no table, LimitError where one is too large.
    """
    tables = tables_in([path, *more])
    joins = joins_of(tables) if len(tables) > 1 else [Join(tables[0])]
    single = len(joins) == 1
    keys = {(join.table.name, heading) for join in joins for heading in (*dict(join.keys), join.apart)}
    named = {column for join in joins for _, column in join.keys}
    found = matches([join.table for join in joins], keys)
    by_name = {join.table.name: join.table for join in joins}
    used = keys | named | {(m.table, m.heading) for best in found.values() if len(best) == 1 for m in best}
    parts = [
        _TOP.format(currency=_currency(tables)),
        "\n".join(_tables(joins, used)),
        "\n".join(_fields(found, by_name, single)),
        _SCHEME,
    ]
    return "\n".join(parts)


def quoted(text: str) -> str:
    """Return a text as TOML writes it."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _noted(line: str, *notes: str) -> str:
    """Return a line with a comment, which holds nothing that could end it."""
    text = "; ".join(note for note in notes if note)
    plain = "".join(c if c.isprintable() else " " for c in text)
    return f"{line}   # {plain}" if plain else line


def _listed(texts: Iterator[str] | tuple[str, ...] | list[str]) -> str:
    return "[" + ", ".join(quoted(text) for text in texts) + "]"


def _currency(tables: list[Found]) -> str:
    """Return the currency that headings name, `?` where they name none or several."""
    headings = (
        " ".join(h for table in tables for h in table.headings).replace("€", " EUR ").replace("$", " USD ")
    )
    named = {code for code in _CURRENCIES if code in headings.split()}
    return quoted(named.pop() if len(named) == 1 else "?")


def _tables(joins: list[Join], used: set[tuple[str, str]]) -> Iterator[str]:
    """Yield the lines of all tables; what all of them share stands once."""
    lines = [_layout(join.table) for join in joins]
    shared = [line for line in lines[0] if all(line in own for own in lines)]
    if len(joins) == 1:
        yield from ["[table]", *lines[0], *_ignored(joins[0].table, used), ""]
        return
    if shared:
        yield from ["[table]   # what all tables share", *shared, ""]
    for i, (join, own) in enumerate(zip(joins, lines, strict=True)):
        yield f"[tables.{join.table.name}]"
        yield from (line for line in own if line not in shared)
        yield from _keys(join) if i else ()
        yield from _ignored(join.table, used)
        yield ""


def _layout(table: Found) -> list[str]:
    layout = table.layout
    unsure = "the cells show both signs, or one that may part thousands" if table.decimal == "?" else ""
    lines = [f"file = {quoted(layout.file)}"]
    if layout.sheet:
        lines.append(f"sheet = {quoted(layout.sheet)}")
    else:
        lines += [f"encoding = {quoted(layout.encoding)}", f"delimiter = {quoted(layout.delimiter)}"]
    lines += [_noted(f"decimal = {quoted(table.decimal)}", unsure), f"header = {list(layout.header)}"]
    lines.append(f"blanks = {_listed(layout.blanks)}")
    return [*lines, f"skip = {_listed(layout.skip)}"] if layout.skip else lines


def _keys(join: Join) -> Iterator[str]:
    if not join.keys:
        yield 'keys = { "?" = "?" }   # no column tells the rows apart and is named by a table above'
        return
    written = (
        f"{quoted(heading)} = {quoted('?' if join.unsure else f'{table}.{other}')}"
        for heading, (table, other) in join.keys
    )
    line = f"keys = {{ {', '.join(written)} }}"
    if join.apart:
        kinds = ", ".join(sorted(set(join.table.cells(join.apart))))
        yield _noted(
            f'only = {{ {quoted(join.apart)} = "?" }}', f"one of {kinds}: make a table like this for each"
        )
    perhaps = ", ".join(f"{table}.{other}" for _, (table, other) in join.keys)
    yield _noted(line, f"perhaps {perhaps}" if join.unsure else "")


def _ignored(table: Found, used: set[tuple[str, str]]) -> Iterator[str]:
    """Yield the columns that nothing was proposed for, with what is known of them."""
    left = [h for h in table.headings if (table.name, h) not in used]
    if not left:
        return
    yield "ignored = [   # left unread: take out what you map"
    for heading in left:
        yield _noted(f"  {quoted(heading)},", why_unread(heading, table.cells(heading)))
    yield "]"


def _fields(found: dict[str, list[Match]], tables: dict[str, Found], single: bool) -> Iterator[str]:
    """Yield the lines of the fields, those with several columns in tables of their own at the end."""
    yield "[fields]"
    if "size" not in found and len(found.get("bore", ())) == 1:
        found = found | {"size": found["bore"]}
    hands = _hands(found, tables)
    if hands:
        found = found | {"hand": found["support"]}
    for name in FIELDS:
        if name not in COLUMNS and (name in found or name in NEEDED):
            letters = hands if name == "hand" else {}
            yield _field(name, name, found.get(name, []), tables, single, letters)
    for name in COLUMNS:
        paths = [p for p in PATHS if p.startswith(f"{name}.") and (p in found or p in NEEDED)]
        if paths:
            yield f"\n[fields.{name}]"
        for path in paths:
            yield _field(path.partition(".")[2], path, found.get(path, []), tables, single)
    missing = [p for p in PATHS if p not in found and p not in NEEDED and p != "hand"]
    yield from wrap(
        f"No column was found for: {', '.join(missing)}.", 116, initial_indent="\n# ", subsequent_indent="# "
    )
    yield ""


def _hands(found: dict[str, list[Match]], tables: dict[str, Found]) -> dict[str, str]:
    """Return the hands that the letters of the support tell, none where a column of its own does."""
    if "hand" in found or len(found.get("support", ())) != 1:
        return {}
    match = found["support"][0]
    cells = tables[match.table].cells(match.heading)
    supports = letters_of(cells, "support")
    if "side-entry" not in supports.values():
        return {}
    hands = letters_of(cells, "hand")
    return {
        text: hands.get(text, "?") if word in ("side-entry", "?") else "none"
        for text, word in supports.items()
    }


def _field(
    key: str,
    path: str,
    best: list[Match],
    tables: dict[str, Found],
    single: bool,
    letters: dict[str, str] | None = None,
) -> str:
    if not best:
        return _noted(
            f'{key} = "?"', f'{help_of(path)}: a column {{ heading = "…" }}, or a text for every unit'
        )
    if len(best) > 1:
        columns = "; ".join(m.heading if single else f"{m.table}.{m.heading}" for m in best)
        return _noted(f'{key} = "?"', f"{help_of(path)}: one of {columns}")
    match = best[0]
    table = tables[match.table]
    if path in ("support", "hand") and (several := options_in(table.cells(match.heading))):
        return _noted(f'{key} = "?"', f"{match.heading} {several}")
    parts = [] if single else [f"table = {quoted(match.table)}"]
    parts.append(f"heading = {quoted(match.heading)}")
    unit, open_unit = _unit(path, match, table)
    letters = letters or letters_of(table.cells(match.heading), path.partition(".")[0])
    if unit:
        parts.append(f"unit = {quoted(unit)}")
    if letters:
        parts.append(
            "letters = { " + ", ".join(f"{quoted(k)} = {quoted(v)}" for k, v in letters.items()) + " }"
        )
    unit_note = f"unit: {accepted_units(path)}" if open_unit else ""
    taken = f"look: taken for {help_of(path)}" if match.fit == LOOSE else ""
    return _noted(f"{key} = {{ {', '.join(parts)} }}", unit_note, taken)


def _unit(path: str, match: Match, table: Found) -> tuple[str, bool]:
    """Return the unit to be written, and whether it is open."""
    meta = FIELDS[path.partition(".")[0]].meta
    if not isinstance(meta, Quantity):
        return "", False
    if match.unit:
        return match.unit, False
    if unit_of_cells(table.cells(match.heading), meta.kind):
        return "", False
    return "?", True
