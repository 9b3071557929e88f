"""The parts that pages are made of, as plain records that become JSON; the template knows how each one looks."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from halfbore.domain.check import Verdict
from halfbore.present.bars import verdict_mark
from halfbore.present.svg import Drawing, to_svg
from halfbore.present.wording import Mark, prose

LONGEST_WORD = 24
"""Longer words, such as codes, may be broken after so many characters."""
_LONG = re.compile(rf"\S{{{LONGEST_WORD}}}(?=\S)")


@dataclass(frozen=True)
class Run:
    """Text within a line; whole: long names of positions stay in it."""

    text: str
    bold: bool = False
    colour: str = "ink"
    whole: bool = False


@dataclass(frozen=True)
class Square:
    """The source mark, a small square."""

    mark: Mark


@dataclass(frozen=True)
class Badge:
    """The letter of a position, filled where a split unit is chosen."""

    letter: str
    filled: bool


@dataclass(frozen=True)
class Picture:
    """A drawing within a line or on its own."""

    svg: str
    alt: str
    width: float
    height: float


@dataclass(frozen=True)
class PageOf:
    """The number of the page on which a heading of a place stands."""

    place: str


Inline = Run | Square | Badge | Picture | PageOf
Cell = tuple[Inline, ...]


@dataclass(frozen=True)
class Heading:
    """A title: 1 begins a subject, 2 a part of it; note stands behind it; small looks like a part; place: see PageOf."""

    text: str
    level: int = 2
    note: str = ""
    small: bool = False
    place: str = ""


@dataclass(frozen=True)
class Para:
    """A paragraph; small is for captions and notes."""

    runs: Cell
    small: bool = False


@dataclass(frozen=True)
class Answer:
    """The answer in one sentence, under the place that it is about; size: of its letters [pt]."""

    place: str
    sentence: str
    size: float = 19.0


@dataclass(frozen=True)
class Figure:
    """One of the figures at the head of page one."""

    label: str
    value: str
    note: str


@dataclass(frozen=True)
class Figures:
    """The figures at the head of page one, side by side."""

    items: tuple[Figure, ...]


@dataclass(frozen=True)
class Column:
    """A column of a table: width is auto, a number of fractions as 1fr, or points as 60pt; align left or right."""

    head: str
    width: str = "auto"
    align: str = "left"


@dataclass(frozen=True)
class Table:
    """Rows under a head, or pairs without one."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    headed: bool = True


@dataclass(frozen=True)
class Items:
    """A list with dots; small where it stands among tables."""

    rows: tuple[Cell, ...]
    small: bool = False


@dataclass(frozen=True)
class Notice:
    """A box with a heavy edge: what can hurt someone."""

    title: str
    runs: Cell


@dataclass(frozen=True)
class Beside:
    """Blocks side by side."""

    parts: tuple[tuple[Block, ...], ...]
    widths: tuple[str, ...]


@dataclass(frozen=True)
class Signatures:
    """Lines to sign on."""

    who: tuple[str, ...]


@dataclass(frozen=True)
class Together:
    """Blocks that stay on one page."""

    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Fitted:
    """The same page several times, largest first: the first that fits on one page is shown."""

    options: tuple[tuple[Block, ...], ...]


Block = (
    Answer
    | Heading
    | Para
    | Figures
    | Picture
    | Table
    | Items
    | Notice
    | Beside
    | Signatures
    | Together
    | Fitted
)


def text(words: object, bold: bool = False, colour: str = "ink") -> Cell:
    """Return text as a cell: true minus signs, thin spaces, long words that may break."""
    return (Run(breakable(prose(str(words))), bold, colour),)


def breakable(words: str) -> str:
    """Return a text in which words longer than a column may be broken."""
    return _LONG.sub(lambda found: found[0] + "\u200b", words)


def picture(drawing: Drawing) -> Picture:
    """Return a drawing with its words for those who do not see it."""
    return Picture(to_svg(drawing), f"{drawing.title}. {drawing.description}", drawing.width, drawing.height)


def verdict_cell(verdict: Verdict) -> Cell:
    """Return a verdict as its mark and its word."""
    colour = "past" if verdict is Verdict.FAILS else "ink"
    return (
        picture(verdict_mark(verdict)),
        Run(verdict.word, verdict is not Verdict.NOT_APPLICABLE, colour),
    )


def columns(*given: str | tuple[str, str] | tuple[str, str, str]) -> tuple[Column, ...]:
    """Return columns from their heads, with width and alignment where these are not the usual ones."""
    return tuple(Column(g) if isinstance(g, str) else Column(*g) for g in given)


def shortened(data: Any, names: Mapping[str, str]) -> Any:
    """Return plain data in which names give way to their tags, except where they are to stay whole.

    names: name → tag.
    """
    if isinstance(data, str):
        for name in sorted(names, key=len, reverse=True):
            data = data.replace(name, names[name])
        return data
    if isinstance(data, list):
        return [shortened(item, names) for item in data]
    if isinstance(data, dict):
        return data if data.get("whole") else {key: shortened(item, names) for key, item in data.items()}
    return data


def plain(block: object) -> Any:
    """Return a block as what JSON can hold, each record with the name of its kind."""
    if isinstance(block, Mark):
        return block.value
    if dataclasses.is_dataclass(block) and not isinstance(block, type):
        fields = {f.name: plain(getattr(block, f.name)) for f in dataclasses.fields(block)}
        return {"kind": type(block).__name__, **fields}
    if isinstance(block, Sequence) and not isinstance(block, str):
        return [plain(item) for item in block]
    return block
