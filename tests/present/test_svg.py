"""Drawings become XML as a tree: nothing in a name can break out of it."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.present.svg import Drawing, Group, Line, Pen, Poly, Rect, Text, arrow, hatching, to_svg

NASTY = '</text><script>alert("1")</script> & <b>'
BLACK = Pen("#000000")


def test_text_stays_text() -> None:
    shapes = (Group((Text((1.0, 2.0), NASTY, "#000000"),), (3.0, 4.0)),)
    root = ET.fromstring(to_svg(Drawing(10.0, 10.0, shapes, NASTY, NASTY)))
    assert [e.text for e in root.iter() if e.text] == [NASTY] * 3
    assert not [e for e in root.iter() if e.tag.endswith("script")]


def test_a_drawing_says_what_it_is() -> None:
    root = ET.fromstring(to_svg(Drawing(10.0, 5.5, (), "shaft", "a shaft on two bearings")))
    assert root.get("role") == "img" and root.get("viewBox") == "0 0 10 5.5"
    assert [e.text for e in root] == ["shaft", "a shaft on two bearings"]


@given(st.floats(0.0, 50.0), st.floats(0.0, 50.0), st.floats(1.0, 90.0), st.floats(1.0, 90.0))
def test_hatching_stays_in_its_rectangle_at_45_degrees(x: float, y: float, w: float, h: float) -> None:
    for line in hatching(x, y, w, h, BLACK):
        for px, py in (line.start, line.end):
            assert x - 1e-9 <= px <= x + w + 1e-9 and y - 1e-9 <= py <= y + h + 1e-9
        run, rise = line.end[0] - line.start[0], line.start[1] - line.end[1]
        assert run == pytest.approx(rise, abs=1e-9)


def test_what_acts_has_a_solid_head_and_what_holds_an_open_one() -> None:
    acts = arrow((0.0, 0.0), (0.0, 30.0), BLACK, solid=True)
    holds = arrow((0.0, 30.0), (0.0, 0.0), BLACK, solid=False)
    [solid] = [s for s in acts if isinstance(s, Poly)]
    [open_] = [s for s in holds if isinstance(s, Poly)]
    assert solid.fill and solid.points[1] == (0.0, 30.0)
    assert not open_.fill and open_.pen is not None and open_.points[1] == (0.0, 0.0)
    assert arrow((0.0, 0.0), (0.0, 0.0), BLACK, solid=True) == ()


def test_dashes_and_corners_are_kept() -> None:
    shapes = (Line((0.0, 0.0), (1.0, 1.0), Pen("#123456", 1.8, "5 3")), Rect(0.0, 0.0, 4.0, 4.0, round=2.0))
    line, rect = list(ET.fromstring(to_svg(Drawing(5.0, 5.0, shapes, "", ""))))[2:]
    assert line.get("stroke-dasharray") == "5 3" and line.get("stroke-width") == "1.8"
    assert rect.get("rx") == "2"
