"""Ranges are drawn as ranges: bar, likely value and limit on one scale, what is past the limit open and coloured."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from halfbore.domain.check import Finding, Sense, Verdict
from halfbore.domain.shaftline import Reaction
from halfbore.likely import likely_job, likely_values
from halfbore.numbers import INCH, METRIC, Style
from halfbore.present.metrics import text_width
from halfbore.present.palette import LIGHT
from halfbore.present.ranges import CHECKS, ranged_checks, ranged_reactions, ranges_drawn
from halfbore.present.svg import Drawing, Line, Rect, Text
from halfbore.sources import Source
from halfbore.units import Kind, Span
from tests.documents.studies import studied

HOT = Finding(
    *("temperature", "Temperature of the shaft", Verdict.TIGHT, Kind.TEMPERATURE),
    *(Span(95.0, 110.0, 125.0), Span.of(120.0), Sense.AT_MOST, Span(0.8, 0.9, 1.04), "", (Source("s"),)),
)
LIVES = replace(
    HOT,
    check="modified life",
    title="Modified life",
    kind=Kind.DURATION,
    value=Span(40e3, 100e3, 900e3),
    limit=Span.of(60e3),
    sense=Sense.AT_LEAST,
)


def bars(drawing: Drawing, fill: str) -> list[Rect]:
    """Return the bars of a colour."""
    return [s for s in drawing.shapes if isinstance(s, Rect) and s.fill == fill]


def stroke(drawing: Drawing) -> float:
    """Return where the stroke of the limit stands."""
    lines = [s for s in drawing.shapes if isinstance(s, Line) and s.pen.colour == LIGHT.ink]
    return lines[0].start[0]


def test_what_is_past_an_upper_limit_is_open_and_coloured_right_of_the_stroke() -> None:
    drawing = ranges_drawn(ranged_checks([HOT], {"temperature": Span.of(105.0)}), "t")
    [good], [bad] = bars(drawing, LIGHT.bar), bars(drawing, LIGHT.sheet)
    assert good.left + good.width == pytest.approx(stroke(drawing)) == pytest.approx(bad.left)
    assert bad.pen is not None
    assert bad.pen.colour == LIGHT.past
    assert good.width / bad.width == pytest.approx(25.0 / 5.0)


def test_what_is_short_of_a_lower_limit_is_left_of_the_stroke_and_lives_go_by_tens() -> None:
    drawing = ranges_drawn(ranged_checks([LIVES], {}), "t")
    [good], [bad] = bars(drawing, LIGHT.bar), bars(drawing, LIGHT.sheet)
    assert bad.left + bad.width == pytest.approx(stroke(drawing)) == pytest.approx(good.left)
    assert good.width / bad.width == pytest.approx(6.679, rel=1e-3), "log 15 over log 1.5"


def test_a_bad_end_alone_reaches_to_the_likely_value() -> None:
    worst = replace(LIVES, check="clearance", kind=Kind.LENGTH, value=Span.of(0.004), limit=Span.of(0.0))
    [row] = ranged_checks([worst], {"clearance": Span.of(0.048)})
    assert (row.low, row.high) == (0.004, 0.048)
    assert row.says[0].startswith("from ")


def test_a_life_past_all_counting_is_said_to_be_that_and_no_more() -> None:
    [row] = ranged_checks([replace(LIVES, value=Span.of(24e6))], {"modified life": Span.of(60e6)})
    assert row.says[0].startswith("over\u00a0"), row.says


def test_forces_stand_on_one_scale() -> None:
    forces = [
        Reaction("A", c, y, 0.0, 0.8 * y, 1.2 * y, 0.0, 0.0, 0.0, 0.0) for c, y in (("a", 1e3), ("b", 4e3))
    ]
    small, large = bars(ranges_drawn(ranged_reactions(forces), "t", shared=True), LIGHT.bar)
    assert large.width == pytest.approx(4.0 * small.width)


@pytest.mark.parametrize("style", [METRIC, INCH], ids=["mm", "in"])
@pytest.mark.parametrize("width", [446.0, 570.0, 652.0])
@pytest.mark.parametrize("name", ["fan", "line_shaft"])
def test_no_word_of_a_drawing_is_cut_off_or_lies_on_another(name: str, width: float, style: Style) -> None:
    study = studied(name)
    for found in study.positions:
        assert found.choice is not None
        rows = ranged_checks(found.choice.shown_findings, likely_values(study, found.position), style)
        assert [row.name for row in rows]
        drawing = ranges_drawn(rows, "t", width)
        texts = [s for s in drawing.shapes if isinstance(s, Text)]
        places = sorted((t.at[0], t.at[1]) for t in texts)
        for (left, above), (right, below) in pairwise(places):
            assert right - left > 1.0 or below - above >= 15.0, "each line has its own place"
        for text in texts:
            assert text.at[0] >= 0.0
            assert text.at[0] + text_width(text.text, text.size, text.weight) <= width + 0.5
            assert 0.0 < text.at[1] <= drawing.height
            assert "…" not in text.text


def test_likely_values_lie_within_the_ranges_of_what_they_are_likely_of() -> None:
    study = studied("fan")
    assert all(s.exact for s in (likely_job(study.reading.job).duty[0].load_factor,))
    for found in study.positions:
        likely = likely_values(study, found.position)
        assert found.choice is not None
        for finding in found.choice.shown_findings:
            if finding.check in CHECKS and finding.value is not None and not finding.value.exact:
                value = likely[finding.check]
                assert finding.value.low - 1e-9 <= value.low
                assert value.high <= finding.value.high + 1e-9
