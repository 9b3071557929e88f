"""The survey sheet as a workbook that is imported without a mapping: one sheet for each thing that is asked about."""

from __future__ import annotations

import io
import math
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

import xlsxwriter

from halfbore.documents.files import replace_file
from halfbore.documents.survey_fields import (
    CONDITION,
    DECISIVE,
    FAILURE,
    HOW_MANY,
    MACHINE,
    PLANT,
    POSITION,
    SEGMENT,
    SHAFT_LINE,
    TRAPS,
    part_asks,
)
from halfbore.documents.survey_known import paths_of, text_at
from halfbore.domain.survey import Thing, Told
from halfbore.domain.survey_form import PARTS, Ask, SheetKind, choices_of, field_of, label_of
from halfbore.domain.survey_layout import (
    DATA_ROW,
    HEADINGS_ROW,
    KIND,
    MARKER,
    PATHS_ROW,
    SHEETS,
    TAG_MACHINE,
    TAG_POSITION,
    TAG_SHAFT_LINE,
    TAGS,
    heading,
)
from halfbore.errors import InputError, Problem
from halfbore.present.survey_details import LETTERS
from halfbore.present.survey_layouts import layout_of
from halfbore.present.survey_words import can_write, first_line, heading_unit

SPARE = 40
"""Empty rows below the filled ones that have drop-down lists and hints."""
LONGEST_LIST, LONGEST_HINT, LONGEST_TITLE = 255, 255, 32
"""Characters that a spreadsheet takes in a drop-down list, a hint and the hint's title."""
LONG, WIDE = 60, 26.0
"""A label of more characters makes its column this wide [characters]."""
LABELS = 150
"""The labels that kinds of parts have for one column stand in its heading up to so many characters."""
LINE = 15.5
"""Height of a line of a heading [pt]."""
FIRST = "how to fill"
_ORDER = ("machines", "shaft lines", "conditions", "segments", "parts", "positions", "failures", "plant")
_TITLES = {
    Thing.MACHINE: "Machines: one row a machine",
    Thing.SHAFT_LINE: "Shaft lines: one row a shaft",
    Thing.CONDITION: "What the machine does: one row a condition; the shares add up to 100 %",
    Thing.SEGMENT: "Steps of the shaft from the drive end: one row a step, in order",
    Thing.PART: "What sits on the shaft: one row a part; grey cells are not asked of that kind",
    Thing.POSITION: "Bearing positions: one row a position; letters as on the paper sheet",
    Thing.FAILURE: "Bearings taken out: one row each, oldest first",
    Thing.PLANT: "The plant: one row",
}
_DEPTH = {Thing.PLANT: 0, Thing.MACHINE: 1, Thing.POSITION: 3, Thing.FAILURE: 3}
"""How many tags, from the plant down, say what a row is about; two where nothing stands here."""
_TAG_WORDS = {
    TAG_MACHINE: ("machine", "Tag of the machine, the same on every sheet."),
    TAG_SHAFT_LINE: ("shaft line", "Only where the machine has several, such as head and boot."),
    TAG_POSITION: ("position", "Tag of the position, unique in the plant, such as F1-A."),
}
_HELP = (
    "Fill the sheets behind this one; each has one row for each thing. Leave this sheet and rows 1 to 3 as they are.",
    "Blank means not measured. Write 0 only for a measured zero.",
    "A number takes the unit in its heading; another unit is written behind it: 4 15/16 in, 75 hp, 180 °F.",
    "A range is written with to: 500 to 700 kg. Where a list drops down, take one of its words.",
    f"Yellow cells are the {HOW_MANY} that decide and are still missing: fill these first.",
    "Left is towards the drive end, right towards the free end. Directions, seen from the drive end: up 0°, right 90°, "
    "down 180°, left 270°.",
    "Before anyone measures: locked out, blocked and proved by the site's own procedure, which comes first.",
)


@dataclass(frozen=True)
class Column:
    """A column of a sheet: the path that it fills, its heading, what a hint says, the words that it takes."""

    path: str
    heading: str
    hint: str = ""
    words: tuple[str, ...] = ()
    decisive: bool = False
    width: float = 17.0


def write_survey_workbook(path: Path, told: Sequence[Told], when: date) -> Path:
    """Write a survey workbook beside its place, then put it there.

    told: what is known, which stands filled in; when: the date that it bears. Returns the path.
    Raises InputError when the place cannot be written.
    """
    return replace_file(path, survey_workbook(told, when))


def survey_sheet_xlsx(kind: SheetKind, when: date, machine: str, positions: int = 0) -> bytes:
    """Return the survey workbook of a shaft line with its usual parts named, ready to be filled.

    machine: its tag, which every row needs; positions: bearings on the shaft, 0 for the usual number.
    Raises InputError without a tag, or for a number of positions that the sheet does not have.
    """
    return survey_workbook(start_of(kind, machine, positions), when)


def start_of(kind: SheetKind, machine: str, positions: int = 0) -> tuple[Told, ...]:
    """Return what an empty survey of a shaft line already tells: its kind, parts and positions by name.

    Arguments and errors as for `survey_sheet_xlsx`.
    """
    if not machine.strip():
        raise InputError(
            Problem("a survey workbook needs the tag of its machine", next_step="give one, such as F1")
        )
    layout = layout_of(kind, positions)
    line = {SheetKind.ELEVATOR_HEAD: "head", SheetKind.ELEVATOR_BOOT: "boot"}.get(kind, "")
    shaft = (machine, line)
    # An elevator has two lines, each of a kind of its own.
    told_of = Thing.SHAFT_LINE if line else Thing.MACHINE
    return (
        Told(told_of, shaft if line else (machine,), {"machine": {"kind": kind.machine.value}}, ""),
        Told(Thing.CONDITION, shaft, {"name": "normal"}, ""),
        *(Told(Thing.PART, shaft, {KIND: part.kind, "name": part.name}, "") for part in layout.parts),
        *(Told(Thing.POSITION, (*shaft, f"{machine}-{b.letter}"), {}, "") for b in layout.bearings),
    )


def survey_workbook(told: Sequence[Told], when: date) -> bytes:
    """Return a survey workbook that is imported without a mapping; the same rows and date give the same bytes.

    told: what is known, which stands filled in; when: the date that it bears.
    """
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    created = datetime(when.year, when.month, when.day)
    book.set_properties({"title": "Survey", "author": "halfbore", "created": created})
    looks = _looks(book)
    _first_page(book.add_worksheet(FIRST), looks)
    for name in _ORDER:
        thing = SHEETS[name]
        rows = [t for t in told if t.thing is thing]
        _page(book, name, columns_of(thing, rows), rows, told, looks)
    book.close()
    return out.getvalue()


def _looks(book: Any) -> dict[str, Any]:
    text = {"num_format": "@", "valign": "top", "text_wrap": True}
    lined = {**text, "border": 1, "border_color": "#999999"}
    return {
        "title": book.add_format({"bold": True, "font_size": 13}),
        "path": book.add_format({"font_color": "#999999", "font_size": 8}),
        "head": book.add_format(
            {"bold": True, "text_wrap": True, "valign": "top", "border": 1, "bg_color": "#E6E6E6"}
        ),
        "decisive head": book.add_format(
            {
                "bold": True,
                "text_wrap": True,
                "valign": "top",
                "border": 1,
                "bg_color": "#000000",
                "font_color": "#FFFFFF",
            }
        ),
        "cell": book.add_format(lined),
        "missing": book.add_format({**lined, "bg_color": "#FFF2B3"}),
        "not asked": book.add_format({**lined, "bg_color": "#D0D0D0"}),
        "text": book.add_format(text),
        "wrapped": book.add_format({"text_wrap": True, "valign": "top"}),
    }


def _first_page(page: Any, looks: dict[str, Any]) -> None:
    page.set_column(0, 0, 110)
    page.write_string(0, 0, MARKER, looks["path"])
    page.write_string(1, 0, "Survey of a shaft line", looks["title"])
    for row, words in enumerate(_HELP, start=2):
        page.write_string(row, 0, words, looks["wrapped"])


def columns_of(thing: Thing, rows: Sequence[Told] = ()) -> tuple[Column, ...]:
    """Return the columns of a sheet: the tags, what is asked, and what else is known in its rows."""
    found = [Column(tag, *_TAG_WORDS[tag]) for tag in TAGS[: _DEPTH.get(thing, 2)]]
    kinds = tuple(dict.fromkeys(str(t.data.get(KIND)) for t in rows)) if thing is Thing.PART else ()
    asks = list(_asked(thing, kinds or tuple(PARTS)))
    known = dict.fromkeys(path for t in rows for path in paths_of(t.data))
    asks += [ask for path in known if (ask := Ask(thing, path)) not in asks and path not in ("name", KIND)]
    if thing is Thing.PART:
        found += [
            Column(KIND, "kind", "What the part is.", tuple(PARTS)),
            Column("name", "name", "Name on the drawing."),
        ]
    return (*found, *(_column(ask, kinds or tuple(PARTS)) for ask in asks))


def _asked(thing: Thing, kinds: Iterable[str]) -> Iterable[Ask]:
    if thing is Thing.PART:
        return dict.fromkeys(ask for kind in kinds for ask in part_asks(kind))
    if thing is Thing.POSITION:
        groups = (Ask(thing, path) for path in ("x", *LETTERS))
        return (*groups, *(ask for group in POSITION for ask in group.asks))
    groups_of = {
        Thing.PLANT: (PLANT,),
        Thing.MACHINE: MACHINE,
        Thing.SHAFT_LINE: SHAFT_LINE,
        Thing.CONDITION: (CONDITION,),
        Thing.SEGMENT: (SEGMENT,),
        Thing.FAILURE: (FAILURE,),
    }
    return (ask for group in groups_of[thing] for ask in group.asks)


def _column(ask: Ask, kinds: tuple[str, ...]) -> Column:
    parts = [k for k in kinds if _has(ask, k)] if ask.thing is Thing.PART else [""]
    info = field_of(ask, parts[0])
    labels = list(dict.fromkeys(label_of(ask, part) for part in parts))
    label = " / ".join(labels)
    if len(label) > LABELS:
        label = Counter(label_of(ask, part) for part in parts).most_common(1)[0][0]
    entry = re.search(r"\[(\d+)\]", ask.path)
    letter = f"{LETTERS[ask.path]}: " if ask.thing is Thing.POSITION and ask.path in LETTERS else ""
    number = f", {int(entry[1]) + 1}" if entry else ""
    others = "; ".join(other for other in labels if other not in label)
    hint = " ".join(w for w in (can_write(info), TRAPS.get(ask, ""), others and f"Or: {others}.") if w)
    return Column(
        ask.path,
        heading(f"{letter}{first_line(label)}{number}", heading_unit(info)),
        hint,
        choices_of(info),
        ask in DECISIVE,
        WIDE if len(label) > LONG else 17.0,
    )


def _has(ask: Ask, kind: str) -> bool:
    return any(ask.path == other.path for other in part_asks(kind))


def _page(
    book: Any,
    name: str,
    columns: tuple[Column, ...],
    rows: list[Told],
    told: Sequence[Told],
    looks: dict[str, Any],
) -> None:
    page, thing = book.add_worksheet(name), SHEETS[name]
    page.write_string(0, 0, _TITLES[thing], looks["title"])
    page.set_row(PATHS_ROW - 1, 11)
    page.set_row(HEADINGS_ROW - 1, LINE * max(_lines(column) for column in columns))
    last = DATA_ROW - 2 + len(rows) + SPARE
    for i, column in enumerate(columns):
        page.set_column(i, i, column.width, looks["text"])
        page.write_string(PATHS_ROW - 1, i, column.path, looks["path"])
        look = looks["decisive head" if column.decisive else "head"]
        page.write_string(HEADINGS_ROW - 1, i, column.heading, look)
        page.data_validation(DATA_ROW - 1, i, last, i, _validation(column, told))
    for row, t in enumerate(rows, start=DATA_ROW - 1):
        for i, column in enumerate(columns):
            _cell(page, row, i, _text(t, column), column, t, looks)
    tags = sum(column.path in (*TAGS, KIND, "name") for column in columns)
    page.freeze_panes(DATA_ROW - 1, tags)


def _lines(column: Column) -> int:
    """Return how many lines a heading takes, bold letters being wider and words not broken."""
    return math.ceil(1.2 * len(column.heading) / column.width)


def _validation(column: Column, told: Sequence[Told]) -> dict[str, Any]:
    """Return the hint of a column, and its drop-down list where it takes one of some words."""
    words = column.words or _tags_of(column.path, told)
    listed = bool(words) and len(",".join(words)) <= LONGEST_LIST
    rule: dict[str, Any] = {"validate": "list", "source": list(words)} if listed else {"validate": "any"}
    if listed and not column.words:  # a tag that is not there yet may be typed
        rule |= {"error_type": "information"}
    title = (
        column.heading if len(column.heading) <= LONGEST_TITLE else f"{column.heading[: LONGEST_TITLE - 1]}…"
    )
    hint = column.hint if len(column.hint) <= LONGEST_HINT else f"{column.hint[: LONGEST_HINT - 1]}…"
    return {**rule, "ignore_blank": True, "input_title": title, "input_message": hint}


def _tags_of(path: str, told: Sequence[Told]) -> tuple[str, ...]:
    if path not in TAGS:
        return ()
    at = TAGS.index(path)
    return tuple(dict.fromkeys(tag for t in told if len(t.tags) > at and (tag := t.tags[at])))


def _text(told: Told, column: Column) -> str:
    if column.path in TAGS:
        at = TAGS.index(column.path)
        return (told.tags[at] if len(told.tags) > at else "") or ""
    return text_at(told.data, column.path)


def _cell(page: Any, row: int, i: int, text: str, column: Column, told: Told, looks: dict[str, Any]) -> None:
    """Write one cell as text; what decides and is missing is yellow, what is not asked of a kind of part is grey."""
    kind = str(told.data.get(KIND)) if told.thing is Thing.PART else ""
    asked = not kind or column.path in (*TAGS, KIND, "name") or _has(Ask(Thing.PART, column.path), kind)
    if text:
        page.write_string(row, i, text, looks["cell"])
    else:
        page.write_blank(
            row, i, None, looks["not asked" if not asked else "missing" if column.decisive else "cell"]
        )
