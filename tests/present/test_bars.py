"""Unlike checks on one measure: the bar is the need, the upright stroke the limit."""

from __future__ import annotations

import pytest

from halfbore.domain.check import Finding, Sense, Verdict
from halfbore.present.bars import LIMIT, MOST, check_bar, used_words, verdict_mark
from halfbore.present.palette import LIGHT
from halfbore.present.svg import Line, Rect
from halfbore.sources import Source
from halfbore.units import Kind, Span

WIDTH = 100.0


def finding(verdict: Verdict, used: Span | None) -> Finding:
    """Return a finding with this part of its limit used."""
    return Finding("c", "Check", verdict, Kind.NUMBER, None, None, Sense.AT_MOST, used, "", (Source("s"),))


def rects(verdict: Verdict, used: Span | None) -> list[Rect]:
    """Return the rectangles of a bar."""
    return [s for s in check_bar(finding(verdict, used), WIDTH).shapes if isinstance(s, Rect)]


def stroke(verdict: Verdict, used: Span | None) -> list[float]:
    """Return where the upright stroke stands."""
    lines = [s for s in check_bar(finding(verdict, used), WIDTH).shapes if isinstance(s, Line)]
    return [line.start[0] for line in lines if line.start[0] == line.end[0]]


def test_a_bar_that_holds_ends_short_of_the_stroke() -> None:
    [bar] = rects(Verdict.HOLDS, Span.of(0.5))
    assert bar.width == pytest.approx(0.5 * LIMIT * WIDTH) and bar.fill == LIGHT.bar
    assert stroke(Verdict.HOLDS, Span.of(0.5)) == [LIMIT * WIDTH]


def test_a_range_is_solid_to_its_good_end_and_open_to_its_bad_end() -> None:
    solid, open_ = rects(Verdict.HOLDS, Span(0.4, 0.5, 0.8))
    assert solid.width == pytest.approx(28.0) and open_.left == pytest.approx(28.0)
    assert open_.left + open_.width == pytest.approx(56.0, abs=1.0) and open_.fill == LIGHT.sheet


def test_tight_is_ink_and_fails_goes_past_the_stroke_in_its_own_colour() -> None:
    [tight] = rects(Verdict.TIGHT, Span.of(0.95))
    assert tight.fill == LIGHT.ink and tight.width < LIMIT * WIDTH
    held, past = rects(Verdict.FAILS, Span.of(1.2))
    assert held.width == pytest.approx(70.0) and past.left == pytest.approx(70.0)
    assert past.fill == LIGHT.past and past.width == pytest.approx(14.0)


def test_what_is_tight_past_its_limit_is_open_there() -> None:
    solid, open_ = rects(Verdict.TIGHT, Span.of(17.6))
    assert solid.width == pytest.approx(70.0) and open_.fill == LIGHT.sheet


def test_a_bar_stops_but_its_figure_does_not() -> None:
    told = finding(Verdict.FAILS, Span.of(17.6))
    bars = [s for s in check_bar(told, WIDTH).shapes if isinstance(s, Rect)]
    assert max(b.left + b.width for b in bars) <= MOST * LIMIT * WIDTH + 1e-9
    assert used_words(told) == "1\u202f760\u00a0%"


@pytest.mark.parametrize("verdict", [Verdict.OUTSIDE, Verdict.NO_DATA, Verdict.NOT_APPLICABLE])
def test_no_number_no_filled_bar(verdict: Verdict) -> None:
    assert not [r for r in rects(verdict, None) if r.fill]
    assert used_words(finding(verdict, None)) == ""
    assert verdict.word in check_bar(finding(verdict, None)).title


def test_outside_the_method_has_a_dashed_box_and_no_stroke() -> None:
    [box] = rects(Verdict.OUTSIDE, None)
    assert box.pen is not None and box.pen.dash
    assert stroke(Verdict.OUTSIDE, None) == []


def test_six_verdicts_have_six_marks() -> None:
    marks = {str(verdict_mark(v).shapes) for v in Verdict}
    assert len(marks) == len(Verdict)
