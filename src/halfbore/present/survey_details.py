"""The small sketches of a survey sheet: one bearing with lettered dimensions, and the compass of directions."""

from __future__ import annotations

import math
from collections.abc import Iterator

from halfbore.domain.survey import Thing
from halfbore.domain.survey_form import Ask
from halfbore.present.survey_sketch import BALLOON, INK, WIDTH, balloon, measured, tip
from halfbore.present.svg import (
    DASH_AXIS,
    DASH_HIDDEN,
    WIDE,
    Circle,
    Drawing,
    Group,
    Line,
    Pen,
    Point,
    Poly,
    Rect,
    Shape,
    Text,
    arrow,
    hatching,
)

LETTERS: dict[str, str] = {
    "seat.diameter": "a",
    "seal_left.diameter": "b",
    "seal_right.diameter": "c",
    "room.plain_left": "d",
    "room.plain_right": "e",
    "base.centre_height": "f",
    "base.bolt_spacing": "g",
    "base.bolt_size": "h",
    "base.stud_stick_out": "j",
    "room.beside": "k",
    "room.headroom": "m",
    "lift.allowed": "n",
}
"""Field of a position → its letter on the sketch; i and l look like 1."""
_THIN, _THICK = Pen(INK.ink, 0.8), Pen(INK.ink, WIDE)
_AXIS = Pen(INK.ink, 0.8, DASH_AXIS)
_HIDDEN = Pen(INK.ink, 0.8, DASH_HIDDEN)
_R = 20.0
"""Radius of the shaft [px]."""
_BASE = 62.0
"""Base under the shaft centre [px]."""
_ROW = 98.0
"""Height of the lowest dimension lines [px]."""


def bearing_sketch(decisive: frozenset[str] = frozenset()) -> Drawing:
    """Return one bearing from the side and from the drive end, each dimension with its letter.

    decisive: fields that are filled in first; their balloons are black.
    """
    shapes = (
        Group(tuple(_side(decisive)), (182.0, 150.0)),
        Group(tuple(_end(decisive)), (530.0, 150.0)),
    )
    words = ", ".join(f"{letter} {path}" for path, letter in LETTERS.items())
    return Drawing(
        WIDTH,
        270.0,
        shapes,
        "Sketch of one bearing, not to scale",
        "On the left the bearing from the side with the drive end on the left, on the right seen from the drive end. "
        f"Letters: {words}.",
    )


def asked_on_sketch() -> tuple[tuple[str, Ask], ...]:
    """Return each letter of the sketch with the field that it asks for."""
    return tuple((letter, Ask(Thing.POSITION, path)) for path, letter in LETTERS.items())


def _mark(path: str, at: Point, decisive: frozenset[str]) -> tuple[Shape, ...]:
    return balloon(at, LETTERS[path], path in decisive)


def _side(decisive: frozenset[str]) -> Iterator[Shape]:
    """Yield the bearing from the side: seat, seals, plain shaft left and right, centre height."""
    yield Text((-178.0, -136.0), "drive end", INK.ink, 12.0, 700)
    yield Text((162.0, -136.0), "free end", INK.ink, 12.0, 700, "end")
    yield from arrow((-120.0, -140.0), (-96.0, -140.0), Pen(INK.ink, 1.4), solid=True)
    yield Text((-90.0, -136.0), "look this way", INK.ink, 12.0)
    yield Rect(-178.0, -_R, 318.0, 2 * _R, _THICK, INK.sheet)
    yield Rect(-170.0, -46.0, 44.0, 92.0, _THICK, INK.metal2)
    yield Text((-148.0, -52.0), "next part", INK.ink, 12.0, anchor="middle")
    yield Rect(132.0, -30.0, 32.0, 60.0, _THICK, INK.sheet)
    yield Text((148.0, -36.0), "step", INK.ink, 12.0, anchor="middle")
    yield Poly(
        ((-54.0, _BASE), (-54.0, -34.0), (-40.0, -50.0), (40.0, -50.0), (54.0, -34.0), (54.0, _BASE)), _THICK
    )
    yield from (Rect(s * 57.0 - 3.0, -26.0, 6.0, 52.0, _THICK, INK.metal2) for s in (-1.0, 1.0))
    yield Line((-186.0, 0.0), (172.0, 0.0), _AXIS)
    yield from _ground(-72.0, 144.0)
    yield from (*_across(-18.0), *_across(18.0))
    yield from (Line((0.0, -78.0), (x, -_R - 14.0), _THIN) for x in (-18.0, 18.0))
    yield from _mark("seat.diameter", (0.0, -78.0), decisive)
    for path, x in (("seal_left.diameter", -84.0), ("seal_right.diameter", 84.0)):
        yield from _across(x)
        yield from _mark(path, (x, -_R - 16.0 - BALLOON), decisive)
    yield Line((0.0, _R), (0.0, _ROW + 4.0), _AXIS)
    for path, x, start in (("room.plain_left", -126.0, 48.0), ("room.plain_right", 132.0, 32.0)):
        yield Line((x, start), (x, _ROW + 4.0), _THIN)
        yield from measured((min(x, 0.0), _ROW), (max(x, 0.0), _ROW))
        yield from _mark(path, (x / 2, _ROW), decisive)
    yield Line((74.0, _BASE), (116.0, _BASE), _THIN)
    yield from measured((108.0, 0.0), (108.0, _BASE))
    yield from _mark("base.centre_height", (108.0, 42.0), decisive)


def _across(x: float) -> tuple[Shape, ...]:
    """Return the arrows of a diameter of the shaft."""
    lines = [Line((x, s * (_R + 14.0)), (x, s * _R), _THIN) for s in (-1.0, 1.0)]
    return (*lines, *(t for s in (-1.0, 1.0) for t in tip((x, s * _R), (0.0, -s))))


def _ground(left: float, width: float) -> Iterator[Shape]:
    yield Rect(left, _BASE, width, 8.0, _THICK, INK.metal2)
    yield from hatching(left, _BASE + 8.0, width, 8.0, _THIN, gap=7.0)


def _end(decisive: frozenset[str]) -> Iterator[Shape]:
    """Yield the bearing seen from the drive end: bolts, studs, room beside and above, lift."""
    yield Text((0.0, -136.0), "seen from the drive end", INK.ink, 12.0, 700, "middle")
    yield Text((-146.0, 116.0), "left", INK.ink, 12.0, 700)
    yield Text((148.0, 116.0), "right", INK.ink, 12.0, 700, "end")
    yield from _ground(-92.0, 184.0)
    arch = [(52.0 * math.cos(a), -52.0 * math.sin(a)) for a in (math.pi * i / 24 for i in range(25))]
    foot = ((-52.0, 40.0), (-84.0, 46.0), (-84.0, _BASE), (84.0, _BASE), (84.0, 46.0), (52.0, 40.0))
    yield Poly((*arch, *foot), _THICK, INK.sheet, closed=True)
    yield Circle((0.0, 0.0), _R, _THICK, INK.sheet)
    yield Line((-60.0, 0.0), (60.0, 0.0), _AXIS)
    yield Line((0.0, -60.0), (0.0, 40.0), _AXIS)
    for s in (-1.0, 1.0):
        yield Rect(s * 68.0 - 4.0, 22.0, 8.0, _BASE - 22.0, _THICK, INK.metal2)
        yield Line((s * 68.0, 16.0), (s * 68.0, _ROW + 4.0), _AXIS)
    yield from measured((-68.0, _ROW), (68.0, _ROW))
    yield from _mark("base.bolt_spacing", (0.0, _ROW), decisive)
    yield Line((100.0, 12.0), (74.0, 30.0), _THIN)
    yield from _mark("base.bolt_size", (106.0, 8.0), decisive)
    yield from (Line((x, y), (-120.0, y), _THIN) for x, y in ((-76.0, 22.0), (-94.0, _BASE)))
    yield from measured((-114.0, 22.0), (-114.0, _BASE))
    yield from _mark("base.stud_stick_out", (-114.0, 42.0), decisive)
    yield from _room(decisive)


def _room(decisive: frozenset[str]) -> Iterator[Shape]:
    yield from hatching(146.0, -110.0, 9.0, 190.0, _THIN)
    yield Line((146.0, -110.0), (146.0, 80.0), _THICK)
    yield Line((0.0, -60.0), (0.0, -80.0), _THIN)
    yield from measured((0.0, -74.0), (146.0, -74.0))
    yield from _mark("room.beside", (96.0, -74.0), decisive)
    yield Line((-140.0, -122.0), (40.0, -122.0), _THICK)
    yield from hatching(-140.0, -130.0, 180.0, 8.0, _THIN)
    yield Line((-60.0, 0.0), (-140.0, 0.0), _THIN)
    yield from measured((-134.0, -122.0), (-134.0, 0.0))
    yield from _mark("room.headroom", (-134.0, -62.0), decisive)
    yield from arrow((-76.0, -8.0), (-76.0, -52.0), Pen(INK.ink, 2.0), solid=False)
    yield from _mark("lift.allowed", (-76.0, -66.0), decisive)


def compass() -> Drawing:
    """Return the directions as the survey writes them: seen from the drive end, from straight up to the right."""
    words = (("up 0°", 0.0, -50.0, "middle"), ("right 90°", 44.0, 4.0, "start"),
             ("down 180°", 0.0, 58.0, "middle"), ("left 270°", -44.0, 4.0, "end"))  # fmt: skip
    shapes: list[Shape] = [
        Circle((0.0, 0.0), 13.0, _THICK, INK.metal),
        *(s for end in ((0.0, -42.0), (38.0, 0.0), (0.0, 42.0), (-38.0, 0.0)) for s in _ray(end)),
        *(Text((x, y), text, INK.ink, 12.0, 600, anchor) for text, x, y, anchor in words),
        *_turn(),
    ]
    return Drawing(
        204.0,
        142.0,
        (
            Text((102.0, 12.0), "Directions, seen from the drive end", INK.ink, 12.0, 700, "middle"),
            Group(tuple(shapes), (102.0, 78.0)),
        ),
        "Compass of directions, seen from the drive end",
        "Up is 0°, right 90°, down 180°, left 270°; a curved arrow shows clockwise rotation.",
    )


def _ray(end: Point) -> tuple[Shape, ...]:
    start = (end[0] * 0.38, end[1] * 0.38)
    return arrow(start, end, Pen(INK.ink, 1.4), solid=True)


def _turn() -> Iterator[Shape]:
    """Yield the sense of rotation that is called clockwise."""
    angles = [math.radians(12.0 + 60.0 * i / 12) for i in range(13)]
    points = tuple((28.0 * math.sin(a), -28.0 * math.cos(a)) for a in angles)
    yield Poly(points, Pen(INK.ink, 1.4))
    yield from arrow(points[-2], points[-1], Pen(INK.ink, 1.4), solid=True, head=7.0)
    yield Text((34.0, -26.0), "clockwise", INK.ink, 12.0)
