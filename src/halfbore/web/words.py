"""How a page writes: numbers in the units that are shown, verdicts with their mark, drawings in the page's colours."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import datetime
from functools import cache
from typing import Any

from jinja2 import pass_context
from jinja2.runtime import Context
from markupsafe import Markup

from halfbore.domain.check import Finding, Verdict
from halfbore.domain.value import Estimate
from halfbore.numbers import INCH, METRIC, Style, percent, unit_of, write
from halfbore.present.bars import check_bar, part_words, used_bar, used_words, verdict_mark
from halfbore.present.palette import Palette
from halfbore.present.svg import Drawing, Line, Pen, Rect, Shape, Way, to_svg
from halfbore.present.wording import day, limit_of, prose, sentence, value_of
from halfbore.units import Kind

THEMED = Palette(**{f.name: f"var(--{f.name})" for f in fields(Palette)})
"""Colours that the style sheet names, so that a drawing is light or dark with its page."""
UNITS = {"mm": METRIC, "in": INCH}
BAR, SMALL_BAR = 84.0, 44.0


def svg(drawing: Drawing, ways: Mapping[str, Way] | None = None) -> Markup:
    """Return a drawing for a page; it is built as a tree, so what stands in it is text."""
    return Markup(to_svg(drawing, ways))


def silent(drawing: Drawing) -> Markup:
    """Return a drawing that says nothing of its own: the same stands beside it in words."""
    return Markup(to_svg(drawing).replace('role="img"', 'aria-hidden="true"', 1))


@cache
def _mark(verdict: Verdict) -> Markup:
    past = " past" if verdict is Verdict.FAILS else ""
    return Markup('<span class="verdict{}">{} {}</span>').format(
        past, silent(verdict_mark(verdict, THEMED)), verdict.word
    )


@dataclass(frozen=True)
class Words:
    """The filters of one page."""

    units: str = "mm"

    @property
    def style(self) -> Style:
        """How numbers are written."""
        return UNITS[self.units]

    def number(self, value: Any, kind: Kind, **how: Any) -> str:
        """Return a value as `numbers.write` has it."""
        return write(value, kind, self.style, **how)

    def unit(self, kind: Kind, *values: Any) -> str:
        """Return the unit in which values are shown."""
        return unit_of(kind, self.style, *values)

    def mark(self, verdict: Verdict) -> Markup:
        """Return a verdict: its mark and its word."""
        return _mark(verdict)

    def bar(self, finding: Finding, width: float = BAR) -> Markup:
        """Return the bar of a check against the stroke that is its limit."""
        return silent(check_bar(finding, width, self.style, THEMED))

    def small_bar(self, title: str, used: float, tight: bool) -> Markup:
        """Return the bar of one check of one unit among many."""
        verdict = Verdict.FAILS if used > 1.0 and not tight else Verdict.TIGHT if tight else Verdict.HOLDS
        return silent(used_bar(title, verdict, used, SMALL_BAR, THEMED))

    def used(self, finding: Finding) -> str:
        """Return the part of a limit that is used."""
        return used_words(finding, self.style)

    def part(self, used: float) -> str:
        """Return the part of a limit that is used as it stands in a narrow column whose head says what it is."""
        return part_words(used, self.style, bare=True)

    def percent(self, chance: float) -> str:
        """Return a chance."""
        return percent(chance, self.style)

    def value(self, finding: Finding) -> str:
        """Return what a check found."""
        return value_of(finding, self.style)

    def limit(self, finding: Finding) -> str:
        """Return the limit of a check with its sense."""
        return limit_of(finding, self.style)


def range_bar(found: Estimate, largest: float) -> Markup:
    """Return the range of a saving from P10 to P90 against the stroke where nothing is gained.

    largest: the end of the scale, the same for all rows of a table.
    """
    wide, zero = 104.0, 26.0
    scale = (wide - zero - 2.0) / largest

    def at(value: float) -> float:
        return min(max(zero + value * scale, 1.0), wide - 1.0)

    low, high = at(found.p10), at(found.p90)
    shapes: list[Shape] = [Line((0.0, 11.0), (wide, 11.0), Pen(THEMED.hair))]
    if low < zero:
        shapes.append(Rect(low, 3.0, min(high, zero) - low, 6.0, fill=THEMED.past))
    if high > zero:
        shapes.append(Rect(max(low, zero), 3.0, high - max(low, zero), 6.0, fill=THEMED.bar))
    shapes.append(Line((zero, 0.5), (zero, 11.5), Pen(THEMED.ink, 1.5)))
    return silent(Drawing(wide, 12.0, tuple(shapes), "P10 to P90", ""))


def clock(at: datetime) -> str:
    """Return the time of day here, with the date where it is not today's."""
    here, now = at.astimezone(), datetime.now().astimezone()
    time = f"{here:%H:%M}"
    return time if here.date() == now.date() else f"{day(here.date())}, {time}"


def whole(text: str) -> str:
    """Return a headline in which no tag breaks at its hyphen."""
    return re.sub(r"(?<=\w)-(?=\w)", "\u2060-\u2060", text)


@pass_context
def sentence_here(context: Context, text: str) -> str:
    """Return a clause as a sentence in the style of the page."""
    return sentence(text, context.get("style", METRIC))


@pass_context
def prose_here(context: Context, text: str) -> str:
    """Return a text as prose in the style of the page."""
    return prose(text, context.get("style", METRIC))


FILTERS = {"whole": whole, "sentence": sentence_here, "prose": prose_here, "clock": clock}
