"""The parts of a printed form, as plain records that become JSON; the template knows how each one looks."""

from __future__ import annotations

from dataclasses import dataclass

from halfbore.documents.blocks import Picture


@dataclass(frozen=True)
class Box:
    """A box with a label, to write in; known: what stands there already."""

    label: str
    width: float = 1.0
    known: str = ""


@dataclass(frozen=True)
class Boxes:
    """Boxes side by side."""

    items: tuple[Box, ...]


@dataclass(frozen=True)
class Section:
    """A title within a page."""

    text: str
    note: str = ""


@dataclass(frozen=True)
class Words:
    """A paragraph; lead stands bold before it."""

    text: str
    lead: str = ""


@dataclass(frozen=True)
class Caution:
    """A box with a heavy edge: what can hurt someone."""

    title: str
    text: str


@dataclass(frozen=True)
class Row:
    """One question with room for its answers.

    mark: number or letter on the sketch; place: where it is measured; trap: what goes wrong there; units: to ring;
    choices: words to tick; black: one of those that decide; readings: four readings at two places; known: an answer a
    column.
    """

    label: str
    mark: str = ""
    place: str = ""
    trap: str = ""
    units: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    black: bool = False
    readings: bool = False
    known: tuple[str, ...] = ()


@dataclass(frozen=True)
class Questions:
    """Rows of questions with one or more columns of answers, headed where there are several."""

    rows: tuple[Row, ...]
    columns: tuple[str, ...] = ("",)


@dataclass(frozen=True)
class Cells:
    """Questions in boxes, three beside each other."""

    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Grid:
    """A table to write in; widths in parts of the page; rows: texts that stand there already."""

    heads: tuple[str, ...]
    widths: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Side:
    """Blocks beside each other, widths in parts of the page."""

    parts: tuple[tuple[Block, ...], ...]
    widths: tuple[float, ...]


@dataclass(frozen=True)
class NewPage:
    """What follows begins on a new page."""


@dataclass(frozen=True)
class Free:
    """Free room to write and sketch; height [mm]."""

    label: str
    height: float


Block = Boxes | Section | Words | Caution | Questions | Cells | Grid | Side | NewPage | Free | Picture
