"""Which column fills which field of a unit, by its heading; and what its cells mean where they are letters."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from halfbore.domain.fields import Quantity
from halfbore.errors import UnitError
from halfbore.intake.headings import spelt, symbol_of, unit_in, words_of
from halfbore.intake.mapping import FIELDS, PATHS
from halfbore.intake.proposal.found import Found, looks_like_a_number
from halfbore.intake.proposal.words import LETTERS, SYMBOLS, SYNONYMS, UNSURE
from halfbore.intake.survey.fold import folded
from halfbore.units import Kind, parse, units_of

EXACT, LOOSE = 2, 1
_BARE = (Kind.NUMBER, Kind.COUNT)
_LETTERS_MOST = 12
_KINDS = tuple(dict.fromkeys(i.meta.kind for i in FIELDS.values() if isinstance(i.meta, Quantity)))


@dataclass(frozen=True)
class Match:
    """A column that may fill a field: how well its heading fits, and the unit that it names."""

    table: str
    heading: str
    fit: int
    words: int
    unit: str


def matches(tables: Iterable[Found], keys: set[tuple[str, str]]) -> dict[str, list[Match]]:
    """Return the columns that fit each field best, several where they fit equally well.

    keys: own key columns of joined tables, which the tables above hold as well.
    """
    by_column: list[tuple[str, Match]] = []
    for table in tables:
        for heading in table.headings:
            if (table.name, heading) not in keys:
                by_column.extend(_fields_of(table.name, heading))
    found: dict[str, list[Match]] = defaultdict(list)
    for path, match in by_column:
        found[path].append(match)
    return {path: _best(found[path]) for path in PATHS if path in found}


def _best(found: list[Match]) -> list[Match]:
    most = max((m.fit, m.words) for m in found)
    return [m for m in found if (m.fit, m.words) == most]


def _fields_of(table: str, heading: str) -> list[tuple[str, Match]]:
    """Return the fields that a heading fits best: one, or several that fit equally well."""
    fits = [(path, match) for path in PATHS if (match := _match(table, heading, path))]
    if not fits:
        return []
    most = max((m.fit, m.words) for _, m in fits)
    best = [(path, m) for path, m in fits if (m.fit, m.words) == most]
    return best if len(best) == 1 else []


def _match(table: str, heading: str, path: str) -> Match | None:
    meta = FIELDS[path.partition(".")[0]].meta
    unit = unit_in(heading, meta.kind) if isinstance(meta, Quantity) and meta.kind not in _BARE else ""
    symbol = symbol_of(heading, unit)
    words = frozenset(words_of(heading, unit))
    unit = spelt(unit, meta.kind) if isinstance(meta, Quantity) else ""
    if symbol in SYMBOLS:
        return Match(table, heading, EXACT, 9, unit) if SYMBOLS[symbol] == path else None
    if SYMBOLS.get(last := _last_symbol(heading, unit)) == path and len(words) > 1:
        return Match(table, heading, LOOSE, len(last), unit)
    if not words and unit and path == "mass":
        return Match(table, heading, EXACT, 1, unit)
    named = [s for s in SYNONYMS.get(path, ()) if s <= words and (len(s) > 1 or len(words) <= 2)]
    if not named:
        return None
    count = max(map(len, named))
    return Match(table, heading, EXACT if any(s == words for s in named) else LOOSE, count, unit)


def _last_symbol(heading: str, unit: str) -> str:
    """Return a symbol of two letters or more behind the name of its group: Cr of `Ratings Cr kN`."""
    words = (heading.rpartition(unit)[0] if unit else heading).rstrip(" [(,").split()
    last = symbol_of(words[-1]) if words else ""
    return last if len(last) > 1 else ""


def unit_of_cells(cells: list[str], kind: Kind) -> bool:
    """Return whether cells carry their own units."""
    if kind in _BARE:
        return True
    try:
        for cell in dict.fromkeys(cells[:200]):
            parse(cell, kind)
    except UnitError:
        return False
    return bool(cells)


def letters_of(cells: Iterable[str], name: str) -> dict[str, str]:
    """Return the letters that cells use for the words of a field, `?` for what is not known.

    Empty where the cells are those words, or differ too much to be letters.
    """
    known = LETTERS.get(name, {})
    texts = sorted(set(cells))
    if not known or len(texts) > _LETTERS_MOST or all(text in known for text in texts):
        return {}
    spelt = {
        folded(t) or t: word for word, words in known.items() for t in (s.strip() for s in words.split(";"))
    }

    def word(text: str) -> str:
        if exact := spelt.get(folded(text) or text):
            return exact
        inside = {spelt[w] for w in folded(text).split() if w in spelt and len(w) > 2}
        return inside.pop() if len(inside) == 1 else "?"

    return {text: word(text) for text in texts}


def accepted_units(path: str) -> str:
    """Return the units that a field may have, for a comment."""
    meta = FIELDS[path.partition(".")[0]].meta
    return ", ".join(units_of(meta.kind)) if isinstance(meta, Quantity) else ""


def why_unread(heading: str, cells: list[str]) -> str:
    """Return what a column may stand for where nothing was proposed, empty where nothing is known of it."""
    if several := options_in(cells):
        return several
    symbol = next((s for kind in _KINDS if (s := symbol_of(heading, unit_in(heading, kind))) in UNSURE), "")
    return f"perhaps {UNSURE[symbol]}" if symbol else ""


def options_in(cells: list[str]) -> str:
    """Return what to do where cells list several options each, empty where they do not."""
    for separator in "/+;,|":
        options = {option.strip() for cell in cells for option in cell.split(separator)}
        parted = any(separator in cell for cell in cells)
        if parted and 1 < len(options) <= _LETTERS_MOST and not any(map(looks_like_a_number, options)):
            return (
                f"lists {', '.join(sorted(options))} parted by {separator}: [[expand]] makes a unit of each"
            )
    return ""


def help_of(path: str) -> str:
    """Return what a field is."""
    name, _, column = path.partition(".")
    text = FIELDS[name].meta.help.replace(" (n, 3)", "").partition(", see ")[0]
    return f"{text}{f', {column}' if column else ''}"
