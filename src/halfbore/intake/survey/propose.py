"""Propose a mapping for a survey that nobody has seen before: what is found, how sure it is, and what to settle."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from pathlib import Path

from halfbore.domain.fields import FieldInfo, Quantity
from halfbore.domain.survey import Thing
from halfbore.domain.survey_layout import SEPARATOR, TAG_MACHINE, TAG_POSITION
from halfbore.errors import InputError, Problem
from halfbore.intake.book import Book, Page, read_book
from halfbore.intake.check import check_text
from halfbore.intake.survey.columns import Draft, Guess, draft_as, draft_of
from halfbore.intake.survey.dates import NUMBERS, only_order
from halfbore.intake.survey.evidence import BLANK, carried, is_aside, kind_once, samples_of, weigh
from halfbore.intake.survey.headings import unit_of
from halfbore.intake.survey.mapping import BLANKS, OPEN
from halfbore.intake.survey.proposal import ColumnProposal, Proposal, TableProposal
from halfbore.intake.survey.proposal_text import written
from halfbore.intake.survey.rows import headings_of
from halfbore.intake.survey.shapes import on_its_side, two_in_a_row
from halfbore.intake.survey.targets import CONDITION, field_of, paths_of
from halfbore.intake.survey.words import choice_of, meaning_of, thread
from halfbore.intake.totals import TOTALS, first_word
from halfbore.units import Kind

_SAMPLES, _WORDS_SHOWN = 2000, 60
_DECIMAL = re.compile(r"(?<![\d.,])(\d+)([.,])(\d+)(?![\d.,])", re.ASCII)
_SEPARATORS = (";", "/", "+", ",")
_BEFORE = ("-", ".", "/", "_")
_BARE = (Kind.NUMBER, Kind.COUNT)


def propose(path: Path) -> Proposal:
    """Propose a mapping for a survey.

    path: CSV or XLSX file. Returns the text of a mapping file and what is left to settle.
    Raises InputError, LimitError when the file cannot be read or nothing in it looks like a table.
    """
    return proposal_of(read_book(path))


def proposal_of(book: Book, told: Mapping[str, tuple[Thing, tuple[int, ...]]] | None = None) -> Proposal:
    """Propose a mapping for a survey that is already there, as `propose` does.

    told: sheets of which a person has said what their rows are about and where their headings stand.
    """
    tables, rest = [], []
    turned: list[Problem] = []
    for page in book.pages:
        known = (told or {}).get(page.name)
        draft = draft_of(page) if known is None else draft_as(page, *known)
        if known is None and (wrong := on_its_side(page, len(draft.mapped()) if draft else 0)):
            turned.append(wrong)
            draft = None
        if known is None and draft is not None and (wrong := two_in_a_row(draft)):
            raise InputError(wrong)
        if draft is not None:
            weigh(draft)
            tables.append(_table(book, page, draft))
        elif any(any(row) for row in page.rows):
            rest.append(page.name)
    if not tables and turned:
        raise InputError(turned)
    if not tables:
        step = "check that it has a row of headings, such as bearing, shaft diameter, role; or write the mapping by hand"
        raise InputError(
            Problem("nothing in the file looks like a table of a survey", book.file, next_step=step)
        )
    return written(book, tables, rest)


def table_as(
    book: Book, page: Page, thing: Thing, header: tuple[int, ...], paths: Mapping[int, str]
) -> TableProposal:
    """Return what is proposed for a sheet whose columns a person has given their fields.

    header: rows of the headings, counted from 1; paths: column, counted from 0 → the field that it fills.
    Raises InputError when the headings are not there.
    """
    draft = Draft(page, thing, header)
    draft.guesses = [Guess(at, h, paths.get(at, ""), 1.0) for at, h in enumerate(headings_of(page, header))]
    return _table(book, page, draft)


def _table(book: Book, page: Page, draft: Draft) -> TableProposal:
    first = max(draft.header)
    texts = {g.at: samples_of(page, g.at, first) for g in draft.guesses}
    blanks = tuple(
        sorted({t for column in texts.values() for t in column if BLANK.fullmatch(t)} - set(BLANKS))
    )
    columns = [
        _column(draft, g, tuple(t for t in texts[g.at] if not BLANK.fullmatch(t))) for g in draft.guesses
    ]
    table = TableProposal(draft, columns, _filled(page, first), _totals(page, first), {})
    quantities = [c for c in columns if isinstance(_meta(draft, c.guess), Quantity)]
    dates = [c for c in columns if _is_date(draft, c.guess)]
    table.cells = _signs(_typed(page, quantities, first)) | _dates(book, dates)
    table.carry_down = carried(draft)
    table.kind_once = kind_once(draft)
    asked = {c.guess.at for c in columns if c.guess.path and c.guess.heading not in table.carry_down}
    if any(row >= first and at in asked for (row, at), _ in page.covered()):
        table.cells["merged"] = OPEN
    table.cells["blanks"] = "\n".join(blanks)
    _rules(table)
    return table


def _filled(page: Page, first: int) -> int:
    rows = range(first, len(page.rows))
    return sum(any(cell != "" for cell in page.rows[row]) and not is_aside(page, row) for row in rows)


def _totals(page: Page, first: int) -> tuple[str, ...]:
    """Return the words that rows of totals begin with."""
    found = []
    for row in range(first, len(page.rows)):
        text = next((t for c in range(len(page.rows[row])) if (t := page.text(row, c))), "")
        found.append(first_word(text, TOTALS))
    return tuple(dict.fromkeys(word for word in found if word))


def _info(draft: Draft, guess: Guess) -> FieldInfo | None:
    """Return the field of a column; where it is asked about, the first that it may be if all are of one kind."""
    targets = [
        paths_of(draft.thing)[path] for path in ((guess.path,), guess.others)[guess.path == OPEN] if path
    ]
    if not targets or any(target.tag for target in targets):
        return None
    infos = [field_of(target) for target in targets]
    kinds = {(str(i.type), getattr(i.meta, "kind", None)) for i in infos}
    return infos[0] if len(kinds) == 1 else None


def _meta(draft: Draft, guess: Guess) -> object:
    info = _info(draft, guess)
    return info.meta if info else None


def _is_date(draft: Draft, guess: Guess) -> bool:
    info = _info(draft, guess)
    return info is not None and info.type is date


def _column(draft: Draft, guess: Guess, samples: tuple[str, ...]) -> ColumnProposal:
    found = ColumnProposal(guess, samples)
    info = _info(draft, guess)
    if info is None:
        return found
    if isinstance(info.meta, Quantity):
        unit = _unit(guess.heading, info, info.meta, samples)
        found.unit = "" if unit == guess.path == OPEN else unit
        found.words = {t: thread(t) for t in samples if info.meta.kind is Kind.LENGTH and thread(t)}
    elif choices := choice_of(info):
        for text in samples[:_WORDS_SHOWN]:
            if not _reads(info, text):
                found.words[text] = meaning_of(text, choices) or OPEN
        if guess.path == OPEN:  # the words are asked when the field is known
            found.words = {text: meaning for text, meaning in found.words.items() if meaning != OPEN}
    if info.type == tuple[str, ...]:
        found.separator = next((s for s in _SEPARATORS if any(s in text for text in samples)), SEPARATOR)
    return found


def _unit(heading: str, info: FieldInfo, meta: Quantity, samples: tuple[str, ...]) -> str:
    """Return the unit of a heading, a question mark where neither it nor the cells have one."""
    if meta.kind in _BARE:
        return ""
    if unit := unit_of(heading, meta.kind):
        return unit
    bare = [text for text in samples if re.fullmatch(r"[-−]?[\d.,/ -]+", text)]
    if meta.kind is Kind.FRACTION:
        bare = [text for text in bare if not _reads(info, text)]
    return OPEN if bare else ""


def _reads(info: FieldInfo, text: str) -> bool:
    try:
        check_text(info, text, "")
    except InputError:
        return False
    return True


def _typed(page: Page, columns: list[ColumnProposal], first: int) -> list[str]:
    """Return the cells of columns that somebody typed as text."""
    return [
        cell
        for column in columns
        for row in page.rows[first : first + _SAMPLES]
        if column.guess.at < len(row) and isinstance(cell := row[column.guess.at], str)
    ]


def _signs(texts: list[str]) -> dict[str, str]:
    """Return the decimal sign and the sign of thousands that numbers show, question marks where they leave two readings."""
    clear: set[str] = set()
    open_: set[str] = set()
    for text in texts:
        for whole, mark, rest in _DECIMAL.findall(text):
            two = len(rest) == 3 and len(whole) <= 3 and not whole.startswith("0")
            (open_ if two else clear).add(mark)
    if not clear:
        return {"decimal": OPEN if open_ else "."}
    if len(clear) == 2:
        return {"decimal": OPEN if open_ else "."}
    sign = clear.pop()
    return {"decimal": sign} | ({"thousands": OPEN} if open_ - {sign} else {})


def _dates(book: Book, columns: list[ColumnProposal]) -> dict[str, str]:
    """Return the order of dates in numbers and the origin of day numbers, as far as cells need them."""
    found: dict[str, str] = {}
    texts = [t for c in columns for t in c.samples]
    numbers = [t for t in texts if NUMBERS.fullmatch(t) and not re.match(r"\d{4}", t)]
    orders = {only_order(t) for t in numbers if len(set(re.split(r"\D+", t)[:2])) > 1} - {""}
    if numbers:
        dots = all("." in t for t in numbers)
        found["dates"] = orders.pop() if len(orders) == 1 else "dmy" if dots and not orders else OPEN
    if any(re.fullmatch(r"\d{5}", t) for t in texts):
        found["serials"] = book.serials or OPEN
    return found


def _rules(table: TableProposal) -> None:
    """Add how the machine follows from the position, and what holds for every row."""
    draft = table.draft
    tags = next((c.samples for c in table.columns if c.guess.path == TAG_POSITION), ())
    if tags and draft.column(TAG_MACHINE) is None and draft.thing in (Thing.POSITION, Thing.FAILURE):
        skip = tuple(word.casefold() for word in table.skip)
        named = [tag for tag in tags if not tag.casefold().startswith(skip or ("\0",))]
        table.before = next((b for b in _BEFORE if named and all(b in tag.strip(b) for tag in named)), "")
    told = [g.path for g in draft.mapped() if g.path.startswith(f"{CONDITION}.")]
    if told and draft.thing is not Thing.CONDITION:
        if f"{CONDITION}.name" not in told:
            table.fixed[f"{CONDITION}.name"] = "running"
        if f"{CONDITION}.share" not in told:
            table.fixed[f"{CONDITION}.share"] = "1"
