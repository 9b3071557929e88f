"""One cell of a survey: checked by its field, kept as it was typed, with the unit of its column where it has none."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from halfbore import limits
from halfbore.domain.fields import FieldInfo, Quantity
from halfbore.errors import InputError, Problem, shown
from halfbore.intake.book import DATE, ERROR, LOST, TIME
from halfbore.intake.check import Checked, check_text
from halfbore.intake.records import MONEY
from halfbore.intake.survey.dates import LIKE_A_DATE, is_named_month, read_date
from halfbore.intake.survey.mapping import Cells, Column
from halfbore.intake.survey.numerals import standalone
from halfbore.intake.survey.targets import field_of
from halfbore.intake.texts import steering
from halfbore.units import Kind, Span, parse

LOST_TEXT, MERGED_TEXT = "#NO STORED VALUE!", "#MERGED!"
"""What a rejected cell says where there is nothing else to say, so that it is refused again until it is mended."""
TAG_LENGTH = 60
MERGED = "merged"
_ERROR = re.compile(r"#(?:[A-ZÄÖÜÉÀ¡ /0-9?]+[!?]|N/A|NV|NA)")
_PLAIN = re.compile(r"[-−]?\d+(?:[.,]\d+)?", re.ASCII)
_DIGITS = re.compile(r"\d+(?:\.\d+)?", re.ASCII)
_FRACTION = re.compile(r"(?:\d+[ -])?\d+/\d+", re.ASCII)
_SHORT = 12
_NO_UNIT = "the number has no unit"


@dataclass(frozen=True)
class Outcome:
    """What a cell gave: a value to be kept and as a record holds it, or a problem; and what is odd about it."""

    plain: Any = None
    value: Any = None
    problem: Problem | None = None
    odd: str = ""


class CellReader:
    """Reads the cells of one column; equal cells are read once."""

    def __init__(self, column: Column, cells: Cells) -> None:
        self.column, self.cells = column, cells
        self.words = dict(column.words)
        self.folded = {text.casefold(): meaning for text, meaning in column.words}
        self.known: dict[tuple[str, str, str], Outcome] = {}
        self.common: dict[str, _Common | None] = {}

    def read(self, text: str, kind: str = "", part: str = "") -> Outcome:
        """Return what a cell gives.

        text: of the cell, not blank; kind: what the workbook says it is; part: kind of part that the row is about.
        """
        key = (text, kind, part)
        if key not in self.known and (plain := self._plain_number(text, kind, part)):
            self.known[key] = plain
        elif key not in self.known:
            try:
                self.known[key] = self._read(text, kind, part)
            except InputError as error:
                problem = error.problems[0]
                self.known[key] = Outcome(
                    problem=replace(problem, where="", value=problem.value or shown(text))
                )
        return self.known[key]

    def _read(self, text: str, kind: str, part: str) -> Outcome:
        if kind == MERGED or text == MERGED_TEXT:
            step = "unmerge and fill each cell in, or write under [cells] of the mapping merged = "
            step += '"repeat" (it holds for each row) or merged = "blank" (for the first row only)'
            raise InputError(Problem("the cell is merged with another", next_step=step))
        if kind in (ERROR, LOST) or _ERROR.fullmatch(text):
            what = "the formula has no stored value" if text == LOST_TEXT else "the cell shows an error"
            raise InputError(Problem(what, value=text, next_step="type the value"))
        text = self.words.get(text) or self.folded.get(text.casefold()) or text
        if self.column.target.tag:
            return _tag(text, kind)
        info = field_of(self.column.target, part)
        if info.type is date:
            day, time = read_date(text, self.cells.dates, self.cells.serials)
            return Outcome(day.isoformat(), day, odd=f"the time of day {time} is left out" if time else "")
        if isinstance(info.meta, Quantity):
            return _outcome(self._quantity(info, info.meta, text, kind))
        if kind in (DATE, TIME):
            if info.type is not str:
                raise InputError(_a_date(text, info.meta.help))
            return replace(
                _outcome(check_text(info, text, "")), odd="a date or time that the spreadsheet wrote its way"
            )
        return _outcome(check_text(info, text, "", self.column.separator))

    def _plain_number(self, text: str, kind: str, part: str) -> Outcome | None:
        """Return a number and nothing else that lies in the common range, which most cells do; nothing for any other."""
        if kind or self.words or not _DIGITS.fullmatch(text) or len(text) > _SHORT:
            return None
        if part not in self.common:
            self.common[part] = _common(self.column, part)
        common = self.common[part]
        if common is None or (self.cells.decimal != "." and "." in text):
            return None
        value = float(text) * common.one + common.zero
        if not common.low < value < common.high:
            return None
        return Outcome(f"{text} {self.column.unit}", Span.of(value) if common.span else value)

    def _quantity(self, info: FieldInfo, meta: Quantity, text: str, kind: str) -> Checked:
        if kind in (DATE, TIME):
            raise InputError(_a_date(text, meta.help))
        typed = text
        if len(text) <= limits.QUANTITY_LENGTH:
            text = standalone(text, self.cells.decimal, self.cells.thousands, meta.kind in MONEY)
        try:
            return self._with_unit(info, meta, text)
        except InputError as error:
            if LIKE_A_DATE.fullmatch(typed) and (not re.search(r"[^\W\dT_]", typed) or is_named_month(typed)):
                raise InputError(_a_date(typed, meta.help)) from None
            problem = error.problems[0]
            if _FRACTION.fullmatch(text) and self.column.unit and meta.kind is Kind.LENGTH:
                problem = _inch_size(typed, self.column.unit, problem)
            if problem.what == _NO_UNIT:
                step = "write it behind the number, or name the unit of the column in the mapping"
                problem = replace(problem, next_step=step)
            raise InputError(
                replace(problem, value=problem.value if typed == text else shown(typed))
            ) from None

    def _with_unit(self, info: FieldInfo, meta: Quantity, text: str) -> Checked:
        """Return a quantity as typed where it has a unit of its own, else with the unit of the column."""
        unit = self.column.unit
        if not unit:
            return check_text(info, text, "")
        if meta.kind is Kind.FRACTION:  # a bare number is one by itself, and the column says in what
            return check_text(info, text if "%" in text else f"{text} {unit}", "")
        if _PLAIN.fullmatch(text):
            return check_text(info, f"{text} {unit}", "")
        try:
            return check_text(info, text, "")
        except InputError as error:
            if error.problems[0].what != _NO_UNIT and meta.kind not in MONEY:
                raise
        return check_text(info, f"{text} {unit}", "")


@dataclass(frozen=True)
class _Common:
    """What a plain number of a column is in units inside, and between which ends it is common."""

    one: float
    zero: float
    low: float
    high: float
    span: bool


def _common(column: Column, part: str) -> _Common | None:
    """Return how plain numbers of a column are read, nothing where they are no quantity with a unit of the column."""
    if column.target.tag or not column.unit:
        return None
    try:
        info = field_of(column.target, part)
        meta = info.meta
        if not isinstance(meta, Quantity) or meta.kind in (*MONEY, Kind.FRACTION) or info.type is int:
            return None
        zero = parse(f"0 {column.unit}", meta.kind)
        one = parse(f"1 {column.unit}", meta.kind) - zero
    except InputError:
        return None
    ends = [e for e in (meta.plausible, meta.limits) if e]
    low, high = max((e[0] for e in ends), default=0.0), min((e[1] for e in ends), default=0.0)
    return _Common(one, zero, low, high, info.type is Span)


def _outcome(checked: Checked) -> Outcome:
    return Outcome(checked.plain, checked.value, odd=checked.question)


def _inch_size(text: str, unit: str, problem: Problem) -> Problem:
    """Return what is wrong with a bare fraction in a column of another unit than it is written in."""
    what = f"a fraction is an inch size, and the column is in {unit}"
    step = f"write its unit behind it where it is one, {text} in, else a decimal number in {unit}"
    return replace(problem, what=what, value=shown(text), next_step=step)


def _tag(text: str, kind: str) -> Outcome:
    if kind in (DATE, TIME):
        raise InputError(_a_date(text, "a tag"))
    if steering(text) or "\n" in text or "\t" in text:
        raise InputError(
            Problem("the tag holds a control character", value=shown(text), accepted="a tag in one line")
        )
    if len(text) > TAG_LENGTH or not any(c.isalnum() for c in text):
        accepted = f"letters and digits, up to {TAG_LENGTH} characters"
        raise InputError(Problem("is no tag", value=shown(text), accepted=accepted))
    return Outcome(text, text)


def _a_date(text: str, wanted: str) -> Problem:
    step = "the spreadsheet changed what was typed (4-7 becomes a day): format the cell as text and type it again"
    return Problem(
        "the spreadsheet made a date or time of it", value=shown(text), accepted=wanted, next_step=step
    )
