"""The sketch of a survey sheet: the shaft line, not to scale, with a numbered balloon on every dimension."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from halfbore.domain.machine import (
    Coupling,
    Drum,
    ElevatorDrum,
    FanWheel,
    Load,
    Paddles,
    PointLoad,
    ScrewFlight,
    Segment,
    Shaft,
    ShaftDrive,
    Sheave,
)
from halfbore.domain.position import Fixing
from halfbore.domain.survey import Thing
from halfbore.present import shaft_parts
from halfbore.present.frame import Frame, UnitSize
from halfbore.present.labels import Box
from halfbore.present.metrics import text_width
from halfbore.present.palette import LIGHT
from halfbore.present.survey_layouts import Dimension, Layout, Part, dimensions
from halfbore.present.svg import (
    DASH_AXIS,
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
)
from halfbore.units import Span

INK = replace(LIGHT, ink="#000000", ink2="#000000", ink3="#000000", metal="#F0F0F0", metal2="#DDDDDD")
"""For paper that is filled in by pen: black on white, parts in light grey."""
WIDTH = 680.0
LEFT = 38.0
"""Room for the datum at the drive end [px]."""
BALLOON = 9.0
"""Radius of a balloon [px]."""
PITCH = 19.0
"""From one dimension line to the next [px]."""
UNIT = UnitSize(46.0, 36.0, 44.0)
"""A bearing as sketched [px]."""
_THIN = Pen(INK.ink, 0.8)
_FRAME = Frame(WIDTH, LEFT, 1.0, 0.0)


def sketch(layout: Layout, decisive: Collection[int] = ()) -> Drawing:
    """Return the sketch of a shaft line with its numbered dimensions.

    decisive: numbers that are filled in first; their balloons are black.
    """
    top, bottom = _edges(layout)
    found = dimensions(layout)
    shapes = [*_shaft_line(layout), *_names(layout)]
    shapes += [s for number in _numbered(layout, found, top, bottom) for s in number.shapes(decisive)]
    rows = sum(d.ask.path == "x" for d in found)
    lowest = bottom + rows * PITCH
    shapes += _ends(top - CHAIN, lowest)
    up = CHAIN - top + 26.0
    height = up + lowest + 2.0 - PITCH + BALLOON
    return Drawing(WIDTH, height, (Group(tuple(shapes), (0.0, up)),), _title(layout), _described(layout))


CHAIN = 54.0
"""Height of the chain of steps over the highest part [px]."""


def _edges(layout: Layout) -> tuple[float, float]:
    """Return how high the parts stand and where the dimension lines below begin."""
    radius = max(part.diameter / 2 for part in layout.parts)
    lowest = UNIT.below + shaft_parts.PLATE + shaft_parts.GROUND
    return -max(radius, UNIT.above), max(radius, lowest) + 10.0


def _title(layout: Layout) -> str:
    return f"Sketch of the shaft line: {layout.kind.words}"


def _described(layout: Layout) -> str:
    on_it = [(p.x, p.name) for p in layout.parts] + [(b.x, f"bearing {b.letter}") for b in layout.bearings]
    order = ", ".join(name for _, name in sorted(on_it))
    last = dimensions(layout)[-1].number
    return f"From the drive end on the left: {order}. Not to scale. Dimensions 1 to {last} stand in the table below."


def _shaft_line(layout: Layout) -> Iterator[Shape]:
    """Yield casing, shaft, parts and bearings."""
    shaft = Shaft(tuple(Segment(step.length, step.diameter) for step in layout.steps))
    loads = [(part, _load(part)) for part in layout.parts]
    for x in layout.walls:
        yield from _wall(layout, x)
    for _, load in loads:
        if load is not None:
            yield from shaft_parts.behind(load, shaft, _FRAME, INK)
    yield from (s for part, load in loads if load is None for s in _worked(part))
    yield from shaft_parts.shaft_outline(shaft, _FRAME, INK)
    for _, load in loads:
        if load is not None:
            yield from shaft_parts.on_shaft(load, shaft, _FRAME, INK)
    for bearing in layout.bearings:
        x, d = _FRAME.x(bearing.x), shaft.segment_at(bearing.x).diameter
        on_base = bearing.fixing is Fixing.BASE
        if not on_base:
            yield from _slides(x)
        yield from shaft_parts.unit_shapes(x, UNIT, d, _FRAME, INK, False, on_base)
        yield Text((x, -UNIT.above + 15.0), bearing.letter, INK.ink, 14.0, 700, "middle")
    yield shaft_parts.axis(shaft, _FRAME, INK)


def _load(part: Part) -> Load | None:
    """Return the record that draws a part, None for paddles and flights, which are drawn here."""
    none = Span.of(0.0)
    match part.kind:
        case FanWheel.KIND:
            return FanWheel(part.name, part.x, none, diameter=part.diameter, width=part.width)
        case Coupling.KIND:
            return Coupling(part.name, part.x, none, diameter=part.diameter, width=part.width)
        case Sheave.KIND:
            return Sheave(part.name, part.x, none, part.diameter, 0.0, width=part.width)
        case ShaftDrive.KIND:
            return ShaftDrive(part.name, part.x, none, 0.0, diameter=part.diameter, width=part.width)
        case Drum.KIND | ElevatorDrum.KIND:
            hubs, face = part.hubs, part.width
            return Drum(part.name, part.x, none, part.diameter, 0.0, hub_spacing=hubs, face=face)
        case PointLoad.KIND:
            return PointLoad(part.name, part.x, diameter=part.diameter, width=part.width)
        case _:
            return None


def _worked(part: Part) -> Iterator[Shape]:
    """Yield paddles on their arms, or the flight of a screw."""
    left, radius, pen = _FRAME.x(part.x - part.width / 2), part.diameter / 2, Pen(INK.ink, WIDE)
    if part.kind == ScrewFlight.KIND:
        turns = 5
        pitch = part.width / turns
        for i in range(turns):
            x = left + i * pitch
            edge = (
                (x, radius),
                (x + 0.5 * pitch, -radius),
                (x + 0.66 * pitch, -radius),
                (x + 0.16 * pitch, radius),
            )
            yield Poly(edge, pen, INK.metal, closed=True)
            yield Line((x + 0.66 * pitch, -radius), (x + pitch, radius), Pen(INK.ink, 0.8, "5 3"))
        return
    for i in range(6):
        x = left + (i + 0.5) * part.width / 6
        for sign in (-1.0, 1.0):
            yield Line((x, 0.0), (x, sign * (radius - 12.0)), Pen(INK.ink, 4.0))
            yield Rect(x - 9.0, min(sign * radius, sign * (radius - 14.0)), 18.0, 14.0, pen, INK.metal2)


def _slides(x: float) -> Iterator[Shape]:
    """Yield the frame that a take-up bearing slides in, with its screw."""
    for sign in (-1.0, 1.0):
        yield Rect(x + sign * 27.0 - 3.0, -56.0, 6.0, 112.0, Pen(INK.ink, 1.2), INK.metal2)
    yield Line((x, 36.0), (x, 62.0), Pen(INK.ink, 2.4))


def _wall(layout: Layout, x: float) -> Iterator[Shape]:
    """Yield the wall of a casing, open where the shaft goes through."""
    reach, gap = -_edges(layout)[0] + 6.0, 28.0
    for sign in (-1.0, 1.0):
        yield Line((_FRAME.x(x), sign * gap), (_FRAME.x(x), sign * reach), Pen(INK.ink, 2.4))


def _names(layout: Layout) -> Iterator[Shape]:
    for part in layout.parts:
        box = name_box(part)
        yield Text((box.left, box.bottom), part.name, INK.ink, 12.0, 600, halo="#FFFFFF")


def name_box(part: Part) -> Box:
    """Return where the name of a part stands, over the part and the dimension along it."""
    width = text_width(part.name, 12.0, 600)
    left = max(LEFT + 4.0, _FRAME.x(part.x) - width / 2)
    base = -part.diameter / 2 - (7.0 if _along(part) is None else 27.0)
    return Box(left, base - 9.0, left + width, base)


def _along(part: Part) -> float | None:
    """Return the length that is measured along a part, None where there is none."""
    known = {FanWheel.KIND: part.width, Paddles.KIND: part.width, ScrewFlight.KIND: part.width}
    return known.get(part.kind) or part.hubs or None


@dataclass(frozen=True)
class Balloon:
    """A numbered dimension as drawn: its line with arrows and the balloon on it."""

    dimension: Dimension
    at: Point
    lines: tuple[Shape, ...]

    @property
    def box(self) -> Box:
        """The square that the balloon takes."""
        x, y = self.at
        return Box(x - BALLOON, y - BALLOON, x + BALLOON, y + BALLOON)

    def shapes(self, decisive: Collection[int]) -> tuple[Shape, ...]:
        """Return the line and its balloon, black where it is filled in first."""
        return (*self.lines, *balloon(self.at, str(self.dimension.number), self.dimension.number in decisive))


def balloon(at: Point, text: str, black: bool) -> tuple[Shape, ...]:
    """Return a mark in a circle."""
    fill, colour = (INK.ink, INK.sheet) if black else (INK.sheet, INK.ink)
    return (
        Circle(at, BALLOON, Pen(INK.ink, 1.2), fill),
        Text((at[0], at[1] + 4.0), text, colour, 11.5, 700, "middle"),
    )


def balloons(layout: Layout) -> tuple[Balloon, ...]:
    """Return every numbered dimension of a layout as the sketch draws it, the axis at height 0."""
    top, bottom = _edges(layout)
    return tuple(_numbered(layout, dimensions(layout), top, bottom))


def _numbered(layout: Layout, found: tuple[Dimension, ...], top: float, bottom: float) -> Iterator[Balloon]:
    row = 0
    for d in found:
        if d.ask.path == "x":
            yield _place(layout, d, bottom + row * PITCH)
            row += 1
        elif d.ask.thing is Thing.SEGMENT:
            yield _step(layout, d, top - CHAIN)
        else:
            yield _size(layout.parts[d.index], d)


def _place(layout: Layout, d: Dimension, y: float) -> Balloon:
    """Return a distance from the datum; the shortest lies highest, so that no line crosses another."""
    if d.ask.thing is Thing.PART:
        part = layout.parts[d.index]
        x, start = part.x, part.diameter / 2 + 3.0
    else:
        bearing = layout.bearings[d.index]
        on_base = bearing.fixing is Fixing.BASE
        x, start = bearing.x, UNIT.below + (shaft_parts.PLATE + shaft_parts.GROUND if on_base else 22.0) + 2.0
    near = _FRAME.x(x) - 24.0 if x >= 50.0 else _FRAME.x(x) + 15.0
    lead = Line((_FRAME.x(x), start), (_FRAME.x(x), y + 4.0), _THIN)
    return Balloon(d, (near, y), (lead, *measured((LEFT, y), (_FRAME.x(x), y))))


def _step(layout: Layout, d: Dimension, y: float) -> Balloon:
    """Return the length of a step in the chain above all parts, or its diameter across the shaft."""
    step = layout.steps[d.index]
    start = sum(s.length for s in layout.steps[: d.index])
    left, right, radius = _FRAME.x(start), _FRAME.x(start + step.length), step.diameter / 2
    if d.ask.path == "length":
        ends = [Line((x, -radius - 2.0), (x, y - 4.0), _THIN) for x in (left, right)]
        return Balloon(d, ((left + right) / 2, y), (*ends, *measured((left, y), (right, y))))
    x = _FRAME.x(step.gauge)
    outside = [Line((x, s * (radius + 16.0)), (x, s * radius), _THIN) for s in (-1.0, 1.0)]
    tips = [s for sign in (-1.0, 1.0) for s in tip((x, sign * radius), (0.0, -sign))]
    return Balloon(d, (x, -radius - 16.0 - BALLOON), (*outside, *tips))


def _size(part: Part, d: Dimension) -> Balloon:
    """Return a size of a part: across the shaft at its right side, or along it above the part."""
    radius, x = part.diameter / 2, _FRAME.x(part.x)
    if d.ask.path == "diameter":
        right = x + part.width / 2
        at = right + 13.0
        leads = [Line((right + 2.0, s * radius), (at + 4.0, s * radius), _THIN) for s in (-1.0, 1.0)]
        return Balloon(d, (at, -0.62 * radius), (*leads, *measured((at, -radius), (at, radius))))
    half, y = (_along(part) or 0.0) / 2, -radius - 12.0
    ends = [Line((x + s * half, -radius - 2.0), (x + s * half, y - 4.0), _THIN) for s in (-1.0, 1.0)]
    hubs = [
        Line((x + s * half, -radius), (x + s * half, 0.0), Pen(INK.ink, 0.8, DASH_AXIS)) for s in (-1.0, 1.0)
    ]
    return Balloon(d, (x, y), (*ends, *(hubs if part.hubs else ()), *measured((x - half, y), (x + half, y))))


def measured(start: Point, end: Point) -> tuple[Shape, ...]:
    """Return a dimension line with an arrow at both ends."""
    length = math.hypot(end[0] - start[0], end[1] - start[1])
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    back = (-along[0], -along[1])
    return (Line(start, end, _THIN), *tip(start, back), *tip(end, along))


def tip(point: Point, along: Point) -> tuple[Shape, ...]:
    """Return the head of an arrow; along: its direction, of length 1."""
    x, y = point[0] - 7.0 * along[0], point[1] - 7.0 * along[1]
    sides = tuple((x + s * 2.6 * along[1], y - s * 2.6 * along[0]) for s in (-1.0, 1.0))
    return (Poly((sides[0], point, sides[1]), fill=INK.ink, closed=True),)


def _ends(top: float, bottom: float) -> Iterator[Shape]:
    """Yield the datum and the names of both ends."""
    yield Line((LEFT, top - 10.0), (LEFT, bottom - PITCH + 8.0), Pen(INK.ink, 2.0))
    yield Poly(((LEFT, -6.0), (LEFT - 11.0, -13.0), (LEFT - 11.0, 1.0)), fill=INK.ink, closed=True)
    yield Text((0.0, top - 16.0), "DRIVE END: datum, all places from here", INK.ink, 12.0, 700)
    yield Text((WIDTH, top - 16.0), "FREE END", INK.ink, 12.0, 700, "end")
    yield Text((LEFT - 7.0, top + 4.0), "0", INK.ink, 13.0, 700, "end")
