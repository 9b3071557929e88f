"""One measure for every check: the part of its limit that is used, a bar against one upright stroke."""

from __future__ import annotations

from halfbore.domain.check import Finding, Verdict
from halfbore.numbers import METRIC, Style, write
from halfbore.present.palette import LIGHT, Palette
from halfbore.present.svg import Drawing, Line, Pen, Rect, Shape
from halfbore.present.wording import is_exceeded
from halfbore.units import Kind, Span

LIMIT = 0.7
"""Place of the stroke as a part of the width."""
MOST = 1.4
"""Bars stop here; the figure beside them does not."""
PAST_TELLING = 9.995
"""From this part of a limit on, a narrow column has no place for the figure."""
WIDTH, HEIGHT = 84.0, 12.0
DASHED = "2.5 2"


def used_words(finding: Finding, style: Style = METRIC) -> str:
    """Return the part of the limit that is used in words, by its bad end; nothing where there is no number."""
    words = "" if finding.used is None else write(finding.used.high, Kind.FRACTION, style)
    return f"over {words}" if is_exceeded(finding) else words


def part_words(used: float, style: Style = METRIC, bare: bool = False) -> str:
    """Return the part of a limit that is used as it stands in a narrow column: from 1000 % on only that it is over 999.

    used: 1.0 at the limit; bare: without the sign.
    """
    over = used >= PAST_TELLING
    words = write(9.99 if over else used, Kind.FRACTION, style, bare=bare)
    return f"over {words}" if over else words


def check_bar(
    finding: Finding, width: float = WIDTH, style: Style = METRIC, look: Palette = LIGHT
) -> Drawing:
    """Return the bar of one check: solid to the good end of its range, open to its bad end."""
    told = used_words(finding, style)
    words = f"{told} of the limit used, {finding.verdict.word}" if told else finding.verdict.word
    shapes = _bar(finding.verdict, finding.used, width, look)
    return Drawing(width, HEIGHT, shapes, f"{finding.title}: {words}", words)


def used_bar(title: str, verdict: Verdict, used: float, width: float, look: Palette = LIGHT) -> Drawing:
    """Return the bar of one check of one of many units by the bad end of its range, its figure left to the table."""
    return Drawing(width, HEIGHT, _bar(verdict, Span.of(used), width, look), title, verdict.word)


def verdict_mark(verdict: Verdict, look: Palette = LIGHT) -> Drawing:
    """Return the small mark that stands before the word of a verdict."""
    used = {Verdict.HOLDS: 0.6, Verdict.TIGHT: 0.97, Verdict.FAILS: 1.35}.get(verdict)
    span = None if used is None else Span.of(used)
    return Drawing(22.0, HEIGHT, _bar(verdict, span, 22.0, look, base=False), verdict.word, verdict.word)


def _bar(
    verdict: Verdict, used: Span | None, width: float, look: Palette, base: bool = True
) -> tuple[Shape, ...]:
    limit = LIMIT * width
    ground = [Line((0.0, HEIGHT - 1.0), (width, HEIGHT - 1.0), Pen(look.hair))] if base else []
    stroke = Line((limit, 0.5), (limit, HEIGHT - 0.5), Pen(look.ink, 1.5))
    if verdict is Verdict.OUTSIDE:
        return (*ground, Rect(0.5, 3.0, limit - 1.0, 6.0, Pen(look.ink2, 1.0, DASHED)))
    if verdict is Verdict.NOT_APPLICABLE:
        return (Line((0.0, 6.0), (8.0, 6.0), Pen(look.ink3)),)
    if verdict is Verdict.NO_DATA or used is None:
        return (*ground, Line((0.0, 6.0), (limit, 6.0), Pen(look.ink2, 1.0, DASHED)), stroke)
    return (*ground, *_range(verdict, used, limit, look), stroke)


def _range(verdict: Verdict, used: Span, limit: float, look: Palette) -> list[Shape]:
    """Return the filled part of a bar and what of its range is open; only what fails is past the limit and filled."""
    good, bad = (min(max(u, 0.0), MOST) * limit for u in (used.low, used.high))
    colour = look.ink if verdict is Verdict.TIGHT else look.bar
    solid = min(good, limit)
    shapes: list[Shape] = [Rect(0.0, 3.0, solid, 6.0, fill=colour)]
    if verdict is Verdict.FAILS and good > limit:
        shapes.append(Rect(limit, 3.0, good - limit, 6.0, fill=look.past))
        solid = good
    if bad - solid > 1.5:
        shapes.append(Rect(solid, 3.6, bad - solid - 0.6, 4.8, Pen(colour, 1.2), look.sheet))
    return shapes
