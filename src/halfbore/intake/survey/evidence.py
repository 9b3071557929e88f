"""What the cells of a proposed table say beyond its headings: yes and no, words of a field, tags that hold for a group."""

from __future__ import annotations

import re
from collections.abc import Iterator

from halfbore.domain.survey import Thing
from halfbore.domain.survey_layout import TAG_MACHINE, TAG_POSITION, TAG_SHAFT_LINE
from halfbore.intake.book import Page
from halfbore.intake.survey.columns import Draft, Guess
from halfbore.intake.survey.mapping import OPEN
from halfbore.intake.survey.targets import TAGS_OF, field_of, paths_of
from halfbore.intake.survey.words import choice_of, meaning_of
from halfbore.intake.totals import is_note, is_total

BLANK = re.compile(
    r"[-–—.?]+|n\.?\s?/?\s?a\.?|k\.\s?a\.?|s\.\s?o\.|n\.\s?d\.|tbd|tbc|unknown|unbekannt|inconnu|desconocido",
    re.I,
)
"""Cells that say nothing."""
_SAMPLES, _PERHAPS = 2000, 6
_OWN_TAG = {
    Thing.MACHINE: TAG_MACHINE,
    Thing.SHAFT_LINE: TAG_SHAFT_LINE,
    Thing.POSITION: TAG_POSITION,
}
_KIND = "machine.kind"


def samples_of(page: Page, at: int, first: int) -> tuple[str, ...]:
    """Return the different texts of a column, in their order, from a row on, counted from 0; totals and notes left out."""
    rows = range(first, min(len(page.rows), first + _SAMPLES))
    texts = (_cell(page, row, at) for row in rows if not is_aside(page, row))
    return tuple(dict.fromkeys(text for text in texts if text))


def is_aside(page: Page, row: int) -> bool:
    """Whether a row, counted from 0, is one of totals or a note alone."""
    cells = [cell for cell in page.rows[row] if cell != ""]
    first = cells[0] if cells else ""
    return isinstance(first, str) and (
        is_total(first.strip()) or (len(cells) == 1 and is_note(first.strip()))
    )


def weigh(draft: Draft) -> None:
    """Ask about columns whose cells say what their headings do not, and about those whose cells speak against them."""
    for guess in draft.guesses:
        texts = samples_of(draft.page, guess.at, max(draft.header))
        cells = tuple(text for text in texts if not BLANK.fullmatch(text))
        if not cells:
            continue
        if not guess.path and not guess.note and (paths := _answered(draft, cells)):
            guess.path, guess.others = OPEN, paths
        elif _speak_against(draft, guess, cells):
            guess.path, guess.others = OPEN, (guess.path,)


def _answered(draft: Draft, cells: tuple[str, ...]) -> tuple[str, ...]:
    """Return the fields that a column of marks of yes and no may fill, those of the rows' own thing first."""
    if not all(meaning_of(text, bool) for text in cells):
        return ()
    paths = paths_of(draft.thing)
    free = [p for p, target in paths.items() if not target.tag and draft.column(p) is None]
    flags = [p for p in free if choice_of(field_of(paths[p])) is bool]
    return tuple(sorted(flags, key=lambda p: paths[p].thing is not draft.thing)[:_PERHAPS])


def _speak_against(draft: Draft, guess: Guess, cells: tuple[str, ...]) -> bool:
    """Whether no cell of a column is a word of the field that it would fill of another thing than its rows."""
    target = paths_of(draft.thing).get(guess.path)
    if target is None or target.tag or target.thing is draft.thing:
        return False
    choices = choice_of(field_of(target))
    return choices is not None and not any(meaning_of(text, choices) for text in cells)


def carried(draft: Draft) -> tuple[str, ...]:
    """Return the headings of tags that stand in the first row of each group and are empty below it."""
    above = [tag for tag in TAGS_OF[draft.thing] if tag != _OWN_TAG.get(draft.thing)]
    columns = [(tag, guess) for tag in above if (guess := draft.column(tag)) is not None]
    found = []
    machine = next((guess.at for tag, guess in columns if tag == TAG_MACHINE), None)
    for tag, guess in columns:
        groups = None if tag == TAG_MACHINE else machine
        if _holds_below(draft, guess.at, groups):
            found.append(guess.heading)
    return tuple(found)


def _holds_below(draft: Draft, at: int, groups: int | None) -> bool:
    """Whether a column is somewhere empty below a filled cell, never above the first one of a group, and never a dash.

    groups: column that begins a group where it is filled with another text, none where the table is one group.
    """
    below = above = False
    begun, group = False, ""
    for row in _told_rows(draft):
        if groups is not None and (text := _cell(draft.page, row, groups)) and text != group:
            begun, above, group = False, False, text
        text = _cell(draft.page, row, at)
        if BLANK.fullmatch(text) or (text and above):
            return False
        begun = begun or bool(text)
        above = not begun
        below = below or (begun and not text)
    return below


def _told_rows(draft: Draft) -> Iterator[int]:
    """Yield the rows, counted from 0, that tell of a thing in more than one column."""
    page = draft.page
    for row in range(max(draft.header), len(page.rows)):
        if sum(cell != "" for cell in page.rows[row]) > 1 and not is_aside(page, row):
            yield row


def _cell(page: Page, row: int, at: int) -> str:
    return page.text(row, at) if at < len(page.rows[row]) else ""


def kind_once(draft: Draft) -> str:
    """Return the heading of a machine's kind that is filled in the first row and empty below in rows of other machines."""
    kind, machine = draft.column(_KIND), draft.column(TAG_MACHINE)
    if kind is None or machine is None or not _holds_below(draft, kind.at, None):
        return ""
    last = ""
    for row in _told_rows(draft):
        other = _cell(draft.page, row, machine.at)
        if other and other != last and not _cell(draft.page, row, kind.at):
            return kind.heading
        last = other or last
    return ""
