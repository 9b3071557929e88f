"""A proposal for one sheet: what its rows are about, where its headings stand, what each column fills."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from halfbore.domain.survey import Thing
from halfbore.domain.survey_layout import FAILURE, NEEDED_TAGS, WRONG
from halfbore.intake.book import Page, column_name
from halfbore.intake.survey.fold import folded
from halfbore.intake.survey.headings import LIKELY, SURE, Match, is_unit, matches, tied, unit_of
from halfbore.intake.survey.rows import headings_of
from halfbore.intake.survey.targets import NEEDED, paths_of, quantity_of

_LOOKED_AT = 30
"""Rows from the top in which headings are looked for."""
_WITH_UNIT = 0.1
"""What a unit in a heading adds: it tells a second row of headings, of units, from a row of data."""
_LACKING = 0.5
"""What is left of a table's worth for each column that its rows need and that is not there."""
_FAR = 0.9
"""What a column counts that fills something else than what the rows are about."""
_SHEET_NAMES = {
    Thing.POSITION: "position positions lager lagerstelle lagerstellen bearing bearings palier paliers rodamiento rodamientos",
    Thing.PART: "part parts teile bauteile element elements elemente piece pieces pieza piezas load loads lasten",
    Thing.FAILURE: "failure failures history historie ausfall ausfalle schaden panne pannes fallo fallos averia averias",
    Thing.MACHINE: "machine machines maschine maschinen anlage anlagen maquina maquinas",
    Thing.SEGMENT: "segment segments shaft welle wellen arbre eje segmento segmentos",
    Thing.CONDITION: "condition conditions duty betrieb regime condicion condiciones",
}
_ORDER = (
    Thing.POSITION,
    Thing.FAILURE,
    Thing.PART,
    Thing.SEGMENT,
    Thing.CONDITION,
    Thing.MACHINE,
    Thing.SHAFT_LINE,
)


@dataclass
class Guess:
    """What one column may fill. path: empty for none, `?` where a person must say; others: paths that are as near; note: why a
    column that is understood is not mapped."""

    at: int
    heading: str
    path: str = ""
    score: float = 0.0
    others: tuple[str, ...] = ()
    note: str = ""


@dataclass
class Draft:
    """A sheet as a table. worth: how much of it is understood, for choosing among drafts."""

    page: Page
    thing: Thing
    header: tuple[int, ...]
    guesses: list[Guess] = field(default_factory=list)
    worth: float = 0.0

    def mapped(self) -> list[Guess]:
        """Return the columns with a field."""
        return [guess for guess in self.guesses if guess.path and guess.path != "?"]

    def column(self, path: str) -> Guess | None:
        """Return the column that fills a path."""
        return next((guess for guess in self.guesses if guess.path == path), None)


def draft_of(page: Page) -> Draft | None:
    """Return the best reading of a sheet as a table, nothing where it looks like none."""
    best: Draft | None = None
    for header in _headers(page):
        headings = headings_of(page, header)
        for thing in _ORDER:
            draft = _draft(page, thing, header, headings)
            if best is None or draft.worth > best.worth + 1e-9:
                best = draft
    if best is None or sum(g.score >= LIKELY for g in best.mapped()) < 2:
        return None
    return best


def draft_as(page: Page, thing: Thing, header: tuple[int, ...]) -> Draft:
    """Return a sheet as a table about a thing whose headings stand in some rows, counted from 1.

    Raises InputError when the sheet has no such row.
    """
    return _draft(page, thing, header, headings_of(page, header))


def _headers(page: Page) -> list[tuple[int, ...]]:
    """Return rows that may hold the headings: one, or two of which the second has no number; a row of units is one of them."""
    found: list[tuple[int, ...]] = []
    for row in range(1, min(_LOOKED_AT, len(page.rows)) + 1):
        if _texts(page, row) < 2:
            continue
        if row + 1 < len(page.rows) and _is_units(page, row + 1):
            found.append((row, row + 1))
            continue
        found.append((row,))
        if row + 1 < len(page.rows) and _is_heading(page, row + 1):
            found.append((row, row + 1))
            if row + 2 < len(page.rows) and _is_units(page, row + 2):
                found[-1] = (row, row + 1, row + 2)
    return found


def _texts(page: Page, row: int) -> int:
    return sum(isinstance(cell, str) and bool(cell.strip()) for cell in page.rows[row - 1])


def _is_heading(page: Page, row: int) -> bool:
    cells = [cell for cell in page.rows[row - 1] if cell != ""]
    return bool(cells) and all(
        isinstance(c, str) and not re.match(r"\s*[-−]?\d+([.,]\d+)?\s*$", c) for c in cells
    )


def _is_units(page: Page, row: int) -> bool:
    """Whether a row below headings says in which units they are."""
    cells = [str(cell).strip() for cell in page.rows[row - 1] if cell != ""]
    units = [c for c in cells if is_unit(c.strip("[]()").removeprefix("in ").strip())]
    return len(units) > 1 and 2 * len(units) >= len(cells) and _is_heading(page, row)


def _draft(page: Page, thing: Thing, header: tuple[int, ...], headings: tuple[str, ...]) -> Draft:
    draft = Draft(page, thing, header)
    found = [() if _nameless(h, i) else matches(h, thing) for i, h in enumerate(headings)]
    draft.guesses = [Guess(i, heading) for i, heading in enumerate(headings) if heading.casefold() != WRONG]
    _assign(draft, found)
    _drop_undated(draft)
    draft.worth = sum(_worth(draft, guess) for guess in draft.guesses)
    tag = NEEDED_TAGS.get(thing)
    needed = (*((tag,) if tag else ()), *NEEDED.get(thing, ()))
    draft.worth *= _LACKING ** sum(draft.column(path) is None for path in needed)
    words = set(folded(page.name).split())
    draft.worth += 1.0 if words & set(_SHEET_NAMES.get(thing, "").split()) else 0.0
    return draft


def _nameless(heading: str, at: int) -> bool:
    return heading == column_name(at)


def _worth(draft: Draft, guess: Guess) -> float:
    if not guess.path or guess.path == "?":
        return 0.3 * guess.score
    target = paths_of(draft.thing)[guess.path]
    meta = quantity_of(target)
    unit = _WITH_UNIT if meta is not None and unit_of(guess.heading, meta.kind) else 0.0
    return guess.score * (1.0 if target.thing is draft.thing else _FAR) + unit


def _assign(draft: Draft, found: list[tuple[Match, ...]]) -> None:
    """Give each field to the column that is surest of it; a second one is not mapped, and says whose it is."""
    taken: dict[str, Guess] = {}
    order = sorted(draft.guesses, key=lambda g: (-found[g.at][0].score if found[g.at] else 0.0, g.at))
    for guess in order:
        options = found[guess.at]
        if not options:
            continue
        near = tied(options)
        free = [path for path in near if path not in taken]
        guess.score = options[0].score
        if not free:
            guess.note = f"{near[0]} is filled by {taken[near[0]].heading!r} already"
        elif len(free) > 1:
            guess.path, guess.others = "?", tuple(free)
        elif guess.score < LIKELY:
            guess.path, guess.others = "?", tuple(dict.fromkeys(match.path for match in options))[:3]
        else:
            guess.path = free[0]
            taken[guess.path] = guess


def _drop_undated(draft: Draft) -> None:
    """Take out what is told of a failure whose date no column gives."""
    if draft.thing is Thing.POSITION and draft.column(f"{FAILURE}.on") is None:
        for guess in draft.mapped():
            if guess.path.startswith(f"{FAILURE}."):
                guess.path, guess.note = "", f"{guess.path}, but no column gives its date"


def sureness(guess: Guess) -> str:
    """Return how sure a guess is, in words."""
    return "sure" if guess.score >= SURE else "likely: check it"
