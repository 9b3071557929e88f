"""Ranges drawn as ranges: from low to high with the likely value, against the limit, each on a scale of its own."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from halfbore.domain.check import Finding, Sense
from halfbore.domain.shaftline import Reaction
from halfbore.numbers import METRIC, Style, write
from halfbore.present.labels import wrapped
from halfbore.present.metrics import text_width
from halfbore.present.palette import LIGHT, Palette
from halfbore.present.svg import Drawing, Line, Pen, Rect, Shape, Text
from halfbore.present.wording import LIFE_CAP, life, limit_of, value_of
from halfbore.units import Kind, Span

ROW, TOP, LEADING = 46.0, 8.0, 15.0
"""Height of a row of two lines, the room above the first, and what each further line takes [px]."""
NAME, SAID = 0.28, 0.34
"""Parts of the width that names and figures take; the scale has what is left."""
GAP = 12.0
CHECKS = ("temperature", "clearance", "rating life", "modified life")
"""Checks whose result is drawn as a range."""


@dataclass(frozen=True)
class Ranged:
    """A value with its range: low and high, likely where it is known, its limit where it has one.

    says: range, likely value and limit in words; by_tens: on a scale on which every factor of ten takes as much.
    """

    name: str
    low: float
    high: float
    likely: Span | None
    limit: float | None
    sense: Sense
    says: tuple[str, ...]
    by_tens: bool = False


def ranged_checks(
    findings: Iterable[Finding], likely: Mapping[str, Span], style: Style = METRIC
) -> list[Ranged]:
    """Return the checks whose result is drawn; likely: what each finds at the likely value of all inputs."""
    by_name = {f.check: f for f in findings}
    return [
        _checked(by_name[name], likely.get(name), style) for name in CHECKS if _is_drawn(by_name.get(name))
    ]


def _is_drawn(finding: Finding | None) -> bool:
    return finding is not None and finding.value is not None and math.isfinite(finding.value.low)


def _checked(finding: Finding, likely: Span | None, style: Style) -> Ranged:
    value, by_tens = finding.value, finding.kind is Kind.DURATION
    assert value is not None
    limit = finding.limit.likely if finding.limit is not None else None
    middle = "" if likely is None else life(likely, style) if by_tens else write(likely, finding.kind, style)
    low, high, first = value.low, value.high, value_of(finding, style)
    endless = by_tens and value.low >= LIFE_CAP
    if value.exact and not endless and likely is not None and not math.isclose(likely.likely, value.likely):
        # The check tells its bad end alone: from there it reaches at least to the likely value.
        at_most = finding.sense is Sense.AT_MOST
        low, high = min(low, likely.low), max(high, likely.high)
        first = f"{'up to' if at_most else 'from'} {first}"
    said = (first, f"likely {middle}" if middle else "", limit_of(finding, style))
    return Ranged(
        finding.title,
        low,
        high,
        likely,
        limit,
        finding.sense,
        tuple(filter(None, said)),
        by_tens,
    )


def ranged_reactions(reactions: Iterable[Reaction], style: Style = METRIC) -> list[Ranged]:
    """Return the force of a bearing on the shaft in each condition; it has no limit of its own."""
    return [
        Ranged(
            f"Force, {r.condition}",
            r.low,
            r.high,
            Span.of(math.hypot(r.y, r.z)),
            None,
            Sense.AT_MOST,
            (
                write((r.low, r.high), Kind.FORCE, style),
                f"likely {write(math.hypot(r.y, r.z), Kind.FORCE, style)}",
            ),
        )
        for r in reactions
    ]


def ranges_drawn(
    rows: Iterable[Ranged], title: str, width: float = 446.0, look: Palette = LIGHT, shared: bool = False
) -> Drawing:
    """Return ranges under each other: name, scale with bar and limit, figures.

    Bar: low to high; the dark upright in it: likely; the tall stroke: the limit. shared: all on one scale.
    """
    known = list(rows)
    left, right = NAME * width, (1.0 - SAID) * width - GAP
    ends = [_ends(row) for row in known]
    if shared and ends:
        ends = [(min(low for low, _ in ends), max(high for _, high in ends))] * len(ends)
    shapes: list[Shape] = []
    top = TOP
    for row, (low, high) in zip(known, ends, strict=True):
        drawn, height = _row(row, _Scale(left, right, low, high, row.by_tens), top, width, look)
        shapes += drawn
        top += height
    told = "; ".join(f"{row.name}: {', '.join(row.says)}" for row in known)
    return Drawing(width, top, tuple(shapes), title, told)


@dataclass(frozen=True)
class _Scale:
    """A scale across the paper, by equal steps or by tens; what lies beyond stands at its end."""

    left: float
    right: float
    low: float
    high: float
    by_tens: bool

    def x(self, value: float) -> float:
        inside = min(max(value, self.low), self.high)
        part = (
            math.log(inside / self.low) / math.log(self.high / self.low)
            if self.by_tens
            else (inside - self.low) / (self.high - self.low)
        )
        return self.left + part * (self.right - self.left)


def _ends(row: Ranged) -> tuple[float, float]:
    """Return the ends of the scale of a row: nothing or the least, and somewhat past the most that stands on it."""
    limits = [] if row.limit is None else [row.limit]
    if row.by_tens:
        low, high = min(row.low, *limits, LIFE_CAP), min(max(row.high, *limits, 0.0), LIFE_CAP)
        return max(low, 1.0) / 2.0, max(high, low) * 2.0
    low, high = min(row.low, 0.0, *limits), max(row.high, 0.0, *limits)
    return low, high + 0.08 * (high - low or 1.0)


def _row(row: Ranged, scale: _Scale, top: float, width: float, look: Palette) -> tuple[list[Shape], float]:
    """Return a row and its height."""
    middle = top + 14.0
    low, high = scale.x(row.low), scale.x(row.high)
    names = wrapped(row.name, scale.left - 6.0, 12.0, 600)
    shapes: list[Shape] = [
        *(Text((0.0, middle + 4.0 + LEADING * k), line, look.ink, 12.0, 600) for k, line in enumerate(names)),
        Line((scale.left, middle), (scale.right, middle), Pen(look.hair)),
        *_bar(row, scale, low, max(high, low + 2.0), middle, look),
    ]
    if row.likely is not None:
        shapes += _likely(row.likely, scale, middle, look)
    if row.limit is not None:
        at = scale.x(row.limit)
        shapes.append(Line((at, middle - 12.0), (at, middle + 12.0), Pen(look.ink, 1.8)))
    lines = _said(row.says, SAID * width - GAP / 2)
    for k, (text, size, weight) in enumerate(lines):
        place = (1.0 - SAID) * width + GAP / 2, middle + LEADING * k
        shapes.append(Text(place, text, look.ink if weight > 400 else look.ink2, size, weight))
    return shapes, ROW + LEADING * max(0, len(lines) - 2)


def _said(says: tuple[str, ...], width: float) -> list[tuple[str, float, int]]:
    """Return the lines of the figures with size and weight: the range; likely value and limit, on one where they fit."""
    first, *rest = says
    beside = "; ".join(rest)
    small = [beside] if text_width(beside, 12.0) <= width else rest
    return [
        *((line, 13.0, 600) for line in wrapped(first, width, 13.0, 600)),
        *((line, 12.0, 400) for text in small for line in wrapped(text, width, 12.0)),
    ]


def _bar(
    row: Ranged, scale: _Scale, low: float, high: float, middle: float, look: Palette
) -> Iterator[Shape]:
    """Yield the bar; what of it is past the limit in its own colour and open, so that it is said twice."""
    if row.limit is None:
        yield Rect(low, middle - 5.0, high - low, 10.0, fill=look.bar)
        return
    at = min(max(scale.x(row.limit), low), high)
    good, bad = ((low, at), (at, high)) if row.sense is Sense.AT_MOST else ((at, high), (low, at))
    if good[1] - good[0] > 0.0:
        yield Rect(good[0], middle - 5.0, good[1] - good[0], 10.0, fill=look.bar)
    if bad[1] - bad[0] > 0.0:
        yield Rect(bad[0], middle - 4.0, bad[1] - bad[0], 8.0, Pen(look.past, 1.8), look.sheet)


def _likely(likely: Span, scale: _Scale, middle: float, look: Palette) -> Iterator[Shape]:
    low, high = scale.x(likely.low), scale.x(likely.high)
    if high - low < 3.0:
        at = (low + high) / 2
        yield Line((at, middle - 7.0), (at, middle + 7.0), Pen(look.answers, 2.2))
        return
    yield Rect(low, middle - 2.0, high - low, 4.0, fill=look.answers)
