"""The sketches of the survey sheet: every dimension has one balloon, and no balloon lies on a part or on another."""

from __future__ import annotations

from itertools import combinations

import pytest

from halfbore.domain.survey import Thing
from halfbore.domain.survey_form import SheetKind
from halfbore.errors import InputError
from halfbore.present import shaft_parts
from halfbore.present.labels import Box
from halfbore.present.survey_details import LETTERS, bearing_sketch, compass
from halfbore.present.survey_layouts import MOST, Layout, dimensions, layout_of
from halfbore.present.survey_sketch import LEFT, UNIT, balloons, name_box, sketch
from halfbore.present.svg import Circle, Group, Shape, to_svg
from tests.present.drawn_texts import collisions, outside, texts

SHEETS = [
    *((kind, 0) for kind in SheetKind),
    *((kind, n) for kind in (SheetKind.LINE_SHAFT, SheetKind.PLAIN_SHAFT) for n in range(2, MOST + 1)),
]


def bodies(layout: Layout) -> list[Box]:
    """Return the rectangles of parts and bearings, the axis at height 0."""
    found = [
        Box(LEFT + p.x - p.width / 2, -p.diameter / 2, LEFT + p.x + p.width / 2, p.diameter / 2)
        for p in layout.parts
    ]
    below = UNIT.below + shaft_parts.PLATE + shaft_parts.GROUND
    half = UNIT.length / 2
    found += [Box(LEFT + b.x - half, -UNIT.above, LEFT + b.x + half, below) for b in layout.bearings]
    return found


@pytest.mark.parametrize(("kind", "positions"), SHEETS)
def test_every_dimension_has_one_balloon_that_is_free(kind: SheetKind, positions: int) -> None:
    layout = layout_of(kind, positions)
    drawn = balloons(layout)
    assert [b.dimension.number for b in drawn] == list(range(1, len(drawn) + 1))
    assert [b.dimension for b in drawn] == list(dimensions(layout))
    taken = [*bodies(layout), *(name_box(part) for part in layout.parts)]
    assert [b.dimension.number for b in drawn if any(b.box.meets(t) for t in taken)] == []
    assert [pair for pair in combinations(drawn, 2) if pair[0].box.meets(pair[1].box)] == []


@pytest.mark.parametrize(("kind", "positions"), SHEETS)
def test_texts_never_collide_and_nothing_is_cut(kind: SheetKind, positions: int) -> None:
    svg = to_svg(sketch(layout_of(kind, positions), {1}))
    assert collisions(svg) == [] and outside(svg) == []


@pytest.mark.parametrize("kind", SheetKind)
def test_the_numbers_are_those_of_the_dimensions(kind: SheetKind) -> None:
    layout = layout_of(kind)
    told = [text for text, _ in texts(to_svg(sketch(layout)))]
    numbers = sorted(int(t) for t in told if t.isdecimal() and t != "0")
    assert numbers == [d.number for d in dimensions(layout)]
    assert {b.letter for b in layout.bearings} <= set(told)


def test_places_come_first_and_in_order_from_the_drive_end() -> None:
    layout = layout_of(SheetKind.FAN)
    places = [d for d in dimensions(layout) if d.ask.path == "x"]
    assert [d.number for d in places] == [1, 2, 3, 4]
    parts, positions = Thing.PART, Thing.POSITION
    assert [d.ask.thing for d in places] == [parts, positions, parts, positions]


def circles(shapes: tuple[Shape, ...]) -> list[Circle]:
    """Return the circles of a drawing."""
    found: list[Circle] = []
    for shape in shapes:
        found += circles(shape.shapes) if isinstance(shape, Group) else []
        found += [shape] if isinstance(shape, Circle) else []
    return found


def test_what_is_filled_in_first_has_a_black_balloon() -> None:
    found = circles(sketch(layout_of(SheetKind.TAIL_DRUM), {2, 5}).shapes)
    assert sum(c.fill == "#000000" for c in found) == 2


def test_the_sketch_of_a_bearing_has_each_letter_once() -> None:
    drawing = bearing_sketch(frozenset({"seat.diameter"}))
    svg = to_svg(drawing)
    letters = [text for text, _ in texts(svg) if len(text) == 1]
    assert sorted(letters) == sorted(LETTERS.values())
    assert collisions(svg) == [] and outside(svg) == []
    assert all(letter in drawing.description for letter in LETTERS.values())


def test_the_compass_agrees_with_the_signs() -> None:
    """Up is 0°, positive to the right seen from the drive end: docs/signs.md."""
    told = dict(texts(to_svg(compass())))
    assert told["up 0°"].bottom < told["right 90°"].top < told["down 180°"].top
    assert told["left 270°"].right < told["right 90°"].left
    assert collisions(to_svg(compass())) == [] and outside(to_svg(compass())) == []


@pytest.mark.parametrize(
    ("kind", "positions"),
    [(SheetKind.FAN, 3), (SheetKind.LINE_SHAFT, MOST + 1), (SheetKind.PLAIN_SHAFT, 1), (SheetKind.SCREW, -1)],
)
def test_a_number_of_positions_that_no_sheet_has_is_refused(kind: SheetKind, positions: int) -> None:
    with pytest.raises(InputError, match="no sheet with so many positions"):
        layout_of(kind, positions)
