"""Sheets whose shape is another than a row for each bearing: two bearings side by side, or a sheet on its side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from halfbore.domain.survey import Thing
from halfbore.errors import Problem
from halfbore.intake.book import Page
from halfbore.intake.survey.columns import Draft
from halfbore.intake.survey.fold import folded
from halfbore.intake.survey.headings import LIKELY, matches
from halfbore.limits import COLUMNS

_SIDES = (
    ("de", "nde"),
    ("drive end", "non drive end"),
    ("drive side", "non drive side"),
    ("drive side", "free side"),
    ("drive end", "free end"),
    ("inboard", "outboard"),
    ("left", "right"),
    ("links", "rechts"),
    ("gauche", "droite"),
    ("izquierda", "derecha"),
    ("as", "bs"),
    ("a", "b"),
    ("l", "r"),
    ("1", "2"),
)
"""How two bearings of a shaft are told apart, common practice, no source; longer words of a side come last in a pair."""
_DOUBLED, _DOWN = 2, 4
"""Fields that stand twice, fields down the first column, from which on a sheet is taken for such a one."""


def two_in_a_row(draft: Draft) -> Problem | None:
    """Return what is wrong with a sheet whose rows hold two bearings each, nothing for any other."""
    headings = [guess.heading for guess in draft.guesses]
    for pair in _SIDES:
        doubled = list(_doubled(headings, pair))
        if len(doubled) >= _DOUBLED:
            one, other = doubled[0]
            return Problem(
                "a row holds two bearings",
                draft.page.place,
                f"{one[:28]} | {other[:28]}",
                "a row for each bearing",
                f"give each bearing a row and a tag of its own: copy the rows below themselves, keep the columns of "
                f"{pair[0].upper()} in the first and those of {pair[1].upper()} in the second, under one heading each",
            )
    return None


def _doubled(headings: Sequence[str], pair: tuple[str, str]) -> Iterator[tuple[str, str]]:
    """Yield the headings of a position's field that differ by the words of two sides alone."""
    rest: dict[str, str] = {}
    for heading in headings:
        if (base := _without(heading, pair[0])) and not _without(heading, pair[1]):
            rest[base] = heading
    for heading in headings:
        base = _without(heading, pair[1])
        if base in rest and _likely(base):
            yield rest[base], heading


def _without(heading: str, side: str) -> str:
    """Return a heading as compared without the words of a side, nothing where it does not have them."""
    words = f" {folded(heading)} "
    return " ".join(words.replace(f" {side} ", " ", 1).split()) if f" {side} " in words else ""


def _likely(heading: str) -> bool:
    return any(match.score >= LIKELY for match in matches(heading, Thing.POSITION))


def on_its_side(page: Page, mapped: int) -> Problem | None:
    """Return what is wrong with a sheet whose fields stand down it, nothing for any other.

    mapped: columns that are understood where its headings are taken to stand in a row.
    """
    width = max(map(len, page.rows), default=0)
    texts = list(
        dict.fromkeys(page.text(row, 0) for row in range(min(len(page.rows), COLUMNS)) if page.rows[row])
    )
    down = [text for text in texts if text and _likely(text)]
    if width < 2 or len(down) < max(_DOWN, mapped + 1):
        return None
    return Problem(
        "fields stand down the sheet and bearings across it",
        page.place,
        " | ".join(text[:20] for text in down[:3]),
        "fields across, a row for each bearing",
        "transpose it: copy all of it, paste it into a new sheet with 'transpose' chosen, and import that",
    )
