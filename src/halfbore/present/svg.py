"""Drawings as plain records, and the one function that writes them as SVG: a tree, never pasted text."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from halfbore.present.metrics import FAMILY

Point = tuple[float, float]

DASH_HIDDEN = "5 3"
DASH_AXIS = "14 3 3 3"
DASH_BENT = "11 3 2.5 3 2.5 3"
DASH_FAINT = "2 3"
WIDE, NARROW = 1.8, 1.0


@dataclass(frozen=True)
class Pen:
    """A line: colour, width [px], dashes."""

    colour: str
    width: float = NARROW
    dash: str = ""


@dataclass(frozen=True)
class Line:
    """A straight line."""

    start: Point
    end: Point
    pen: Pen


@dataclass(frozen=True)
class Poly:
    """A line through points, closed and filled where asked."""

    points: tuple[Point, ...]
    pen: Pen | None = None
    fill: str = ""
    closed: bool = False


@dataclass(frozen=True)
class Rect:
    """A rectangle by its left top corner, with rounded corners where asked."""

    left: float
    top: float
    width: float
    height: float
    pen: Pen | None = None
    fill: str = ""
    round: float = 0.0


@dataclass(frozen=True)
class Circle:
    """A circle."""

    centre: Point
    radius: float
    pen: Pen | None = None
    fill: str = ""


@dataclass(frozen=True)
class Text:
    """One line of text on its base line; a halo keeps it readable over lines."""

    at: Point
    text: str
    colour: str
    size: float = 12.0
    weight: int = 400
    anchor: str = "start"
    halo: str = ""


@dataclass(frozen=True)
class Group:
    """Shapes moved together; name: of what they stand for, so that a page can make them the way to it.

    told: the figures that they show, which a pointer over them brings up.
    """

    shapes: tuple[Shape, ...]
    move: Point = (0.0, 0.0)
    name: str = ""
    told: str = ""


Shape = Line | Poly | Rect | Circle | Text | Group


@dataclass(frozen=True)
class Drawing:
    """A picture with its words for those who do not see it.

    scale: along the shaft [px/mm], and origin: where the shaft begins [px], of a drawing that is to scale.
    """

    width: float
    height: float
    shapes: tuple[Shape, ...]
    title: str
    description: str
    scale: float = 0.0
    origin: float = 0.0


def hatching(
    left: float, top: float, width: float, height: float, pen: Pen, gap: float = 6.0
) -> tuple[Line, ...]:
    """Return 45° hatching of a rectangle as lines, so that no pattern needs a name."""
    lines = []
    for i in range(1, math.ceil((width + height) / gap)):
        d = i * gap  # the line x + y = d, from the left or bottom edge to the top or right edge
        start = (left + max(0.0, d - height), top + min(d, height))
        end = (left + min(d, width), top + max(0.0, d - width))
        lines.append(Line(start, end, pen))
    return tuple(lines)


def arrow(tail: Point, tip: Point, pen: Pen, solid: bool, head: float = 8.0) -> tuple[Shape, ...]:
    """Return an arrow: a solid head acts on the shaft, an open one holds it."""
    length = math.hypot(tip[0] - tail[0], tip[1] - tail[1])
    if length == 0.0:
        return ()
    ux, uy = (tip[0] - tail[0]) / length, (tip[1] - tail[1]) / length
    half = head * (0.42 if solid else 0.6)
    back = (tip[0] - ux * head, tip[1] - uy * head)
    sides = tuple((back[0] - s * uy * half, back[1] + s * ux * half) for s in (1.0, -1.0))
    if solid:
        neck = (tip[0] - ux * head * 0.9, tip[1] - uy * head * 0.9)
        shaft = (Line(tail, neck, pen),) if length > head else ()
        return (*shaft, Poly((sides[0], tip, sides[1]), fill=pen.colour, closed=True))
    return (Line(tail, tip, pen), Poly((sides[0], tip, sides[1]), pen))


@dataclass(frozen=True)
class Way:
    """Where a group of a drawing leads: the page of what it shows, and the page on which its place x [mm] is edited."""

    page: str
    edit: str = ""
    x: float = 0.0


def to_svg(drawing: Drawing, ways: Mapping[str, Way] | None = None) -> str:
    """Return a drawing as an SVG document; one px is a CSS pixel, 1/96 in.

    ways: where the group of a name leads.
    """
    size = {"width": _n(drawing.width), "height": _n(drawing.height)}
    box = f"0 0 {_n(drawing.width)} {_n(drawing.height)}"
    head = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": box,
        **size,
        "role": "group" if ways else "img",
        "font-family": FAMILY,
    }
    if ways and drawing.scale:
        head |= {"data-scale": f"{drawing.scale:.6g}", "data-origin": _n(drawing.origin)}
    root = ET.Element("svg", head)
    ET.SubElement(root, "title").text = drawing.title
    ET.SubElement(root, "desc").text = drawing.description
    for shape in drawing.shapes:
        _add(root, shape, ways or {})
    return ET.tostring(root, encoding="unicode")


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _add(parent: ET.Element, shape: Shape, ways: Mapping[str, Way]) -> None:
    match shape:
        case Line():
            ends = (shape.start, shape.end)
            _drawn(parent, "path", _path(ends, False), shape.pen, "")
        case Poly():
            _drawn(parent, "path", _path(shape.points, shape.closed), shape.pen, shape.fill)
        case Rect():
            places = {"x": shape.left, "y": shape.top, "width": shape.width, "height": shape.height}
            rounded = {"rx": shape.round} if shape.round else {}
            _drawn(parent, "rect", _numbers({**places, **rounded}), shape.pen, shape.fill)
        case Circle():
            place = {"cx": shape.centre[0], "cy": shape.centre[1], "r": shape.radius}
            _drawn(parent, "circle", _numbers(place), shape.pen, shape.fill)
        case Text():
            _text(parent, shape)
        case Group():
            inside = _group(parent, shape, ways)
            for inner in shape.shapes:
                _add(inside, inner, ways)


def _group(parent: ET.Element, shape: Group, ways: Mapping[str, Way]) -> ET.Element:
    """Return the element of a group, inside a link where its name leads somewhere."""
    way = ways.get(shape.name)
    if way is not None:
        more = {"data-edit": way.edit, "data-x": f"{way.x:.6g}"} if way.edit else {}
        parent = ET.SubElement(parent, "a", {"href": way.page} | more)
        ET.SubElement(parent, "title").text = shape.name
    move = f"translate({_n(shape.move[0])} {_n(shape.move[1])})"
    made = ET.SubElement(parent, "g", {"transform": move})
    if shape.told:
        ET.SubElement(made, "title").text = shape.told
    return made


def _numbers(attributes: dict[str, float]) -> dict[str, str]:
    return {name: _n(value) for name, value in attributes.items()}


def _path(points: Sequence[Point], closed: bool) -> dict[str, str]:
    steps = [f"{'L' if i else 'M'}{_n(x)} {_n(y)}" for i, (x, y) in enumerate(points)]
    return {"d": "".join(steps) + ("Z" if closed else "")}


def _drawn(parent: ET.Element, tag: str, places: dict[str, str], pen: Pen | None, fill: str) -> None:
    look = {"fill": fill or "none"}
    if pen is not None:
        look |= {"stroke": pen.colour, "stroke-width": _n(pen.width), "stroke-linejoin": "round"}
        look |= {"stroke-dasharray": pen.dash} if pen.dash else {}
    ET.SubElement(parent, tag, places | look)


def _text(parent: ET.Element, shape: Text) -> None:
    look = {"x": _n(shape.at[0]), "y": _n(shape.at[1]), "font-size": _n(shape.size), "fill": shape.colour}
    look |= {"font-weight": str(shape.weight)} if shape.weight != 400 else {}
    look |= {"text-anchor": shape.anchor} if shape.anchor != "start" else {}
    if shape.halo:
        look |= {
            "stroke": shape.halo,
            "stroke-width": "3",
            "stroke-linejoin": "round",
            "paint-order": "stroke",
        }
    ET.SubElement(parent, "text", look).text = shape.text
