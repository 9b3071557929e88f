"""The things on the shaft line as shapes: stepped shaft, drive parts, bearing units, room kept clear."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from halfbore.domain.machine import (
    Coupling,
    Drum,
    ElevatorDrum,
    FanWheel,
    Load,
    Paddles,
    ScrewFlight,
    Shaft,
    ShaftDrive,
    Sheave,
)
from halfbore.present import shaft_bed_parts as bed_parts
from halfbore.present.frame import (
    Extent,
    Frame,
    UnitSize,
    drawn_extent,
    extent_of,
    is_broken_off,
)
from halfbore.present.labels import Box
from halfbore.present.palette import Palette
from halfbore.present.svg import DASH_AXIS, DASH_HIDDEN, WIDE, Line, Pen, Poly, Rect, Shape, hatching

PLATE = 8.0
"""Thickness of the base plate as drawn [px]."""
GROUND = 8.0
"""Depth of the hatching under a base [px]."""
CLEAR_WIDTH = 13.0
"""Width of the hatched blocks that are kept clear [px]."""


def shaft_outline(shaft: Shaft, frame: Frame, look: Palette) -> tuple[Shape, ...]:
    """Return the stepped shaft with its edges and its axis."""
    edges = [0.0]
    for segment in shaft.segments:
        edges.append(edges[-1] + segment.length)
    radii = [frame.size(s.diameter) / 2 for s in shaft.segments]
    ends = [(frame.x(a), frame.x(b)) for a, b in pairwise(edges)]
    top = [p for (a, b), r in zip(ends, radii, strict=True) for p in ((a, -r), (b, -r))]
    bottom = [(x, -y) for x, y in reversed(top)]
    pen = Pen(look.ink, WIDE)
    steps = [
        Line((frame.x(x), -max(r, s)), (frame.x(x), max(r, s)), pen)
        for x, (r, s) in zip(edges[1:-1], pairwise(radii), strict=True)
        if r != s
    ]
    return (Poly((*top, *bottom), pen, look.sheet, closed=True), *steps)


def axis(shaft: Shaft, frame: Frame, look: Palette) -> Shape:
    """Return the line of the axis, a little longer than the shaft."""
    ends = frame.x(0.0) - 12.0, frame.x(shaft.length) + 12.0
    return Line((ends[0], 0.0), (ends[1], 0.0), Pen(look.ink2, dash=DASH_AXIS))


def behind(load: Load, shaft: Shaft, frame: Frame, look: Palette) -> tuple[Shape, ...]:
    """Return what of a part stands behind the shaft: the shell of a drum, the case of a hung drive, half a flight."""
    at = extent_of(load, shaft)
    if isinstance(load, (Drum, ElevatorDrum)):
        hanging = bed_parts.belt(load, at, frame, look) if isinstance(load, ElevatorDrum) else ()
        return (*hanging, _block(at, frame, look.metal, look), *bed_parts.hidden_shell(at, frame, look))
    if isinstance(load, ScrewFlight):
        return bed_parts.flight(load, at, shaft.segment_at(load.x).diameter, frame, look, front=False)
    if isinstance(load, ShaftDrive):
        return (_block(at, frame, look.metal, look, round_=9.0),)
    return ()


def on_shaft(load: Load, shaft: Shaft, frame: Frame, look: Palette) -> tuple[Shape, ...]:
    """Return what of a part stands on the shaft: hubs, sheaves, a wheel, a coupling half."""
    at, d = drawn_extent(load, shaft, frame), shaft.segment_at(load.x).diameter
    width = at.right - at.left
    match load:
        case Drum() | ElevatorDrum():
            half = hub_width(load, shaft) / 2
            radius = min(max(0.95 * d, 0.25 * at.radius), 0.6 * at.radius)
            places = (load.x - load.hub_spacing / 2, load.x + load.hub_spacing / 2)
            return tuple(
                _block(Extent(x - half, x + half, radius), frame, look.metal2, look)
                for x in dict.fromkeys(places)
            )
        case ShaftDrive():
            hub = Extent(load.x - 0.46 * width, load.x + 0.46 * width, min(0.9 * d, 0.8 * at.radius))
            return (_block(hub, frame, look.metal2, look),)
        case Coupling():
            return _coupling(load, at, shaft, frame, look)
        case FanWheel():
            return _wheel(load, at, d, frame, look, is_broken_off(load, shaft, frame))
        case Sheave():
            return _sheave(at, frame, look)
        case Paddles():
            return bed_parts.paddles(load, at, d, frame, look)
        case ScrewFlight():
            return bed_parts.flight(load, at, d, frame, look, front=True)
        case _:
            return (_block(at, frame, look.metal, look),) if width else ()


def hub_width(drum: Drum | ElevatorDrum, shaft: Shaft) -> float:
    """Return the width of a hub of a drum as drawn [mm]."""
    at = extent_of(drum, shaft)
    return 2 * min(0.06 * (at.right - at.left), 60.0)


def _block(at: Extent, frame: Frame, fill: str, look: Palette, round_: float = 0.0) -> Rect:
    left, radius = frame.x(at.left), frame.size(at.radius)
    return Rect(left, -radius, frame.x(at.right) - left, 2 * radius, Pen(look.ink, WIDE), fill, round_)


def _coupling(load: Coupling, at: Extent, shaft: Shaft, frame: Frame, look: Palette) -> tuple[Shape, ...]:
    """Return hub and flange, the flange towards the nearer end of the shaft."""
    width = at.right - at.left
    towards_start = load.x < shaft.length / 2
    flange = (at.left, at.left + 0.28 * width) if towards_start else (at.right - 0.28 * width, at.right)
    return (
        _block(Extent(at.left, at.right, 0.58 * at.radius), frame, look.metal2, look),
        _block(Extent(*flange, at.radius), frame, look.metal2, look),
    )


def _wheel(
    load: FanWheel, at: Extent, d: float, frame: Frame, look: Palette, broken: bool
) -> tuple[Shape, ...]:
    """Return a wheel: back plate, shrouds that narrow outwards, hub; zigzags where it is broken off."""
    radius, half, plate = (
        frame.size(at.radius),
        frame.size(at.right - at.left) / 2,
        0.03 * (at.right - at.left),
    )
    x, inner = frame.x(load.x), 0.55 * radius
    outline = [(x - half, -inner), (x - 0.72 * half, -radius), (x + 0.72 * half, -radius), (x + half, -inner)]
    if broken:
        steps = [-1.0, -0.3, 0.0, 0.3, 1.0]
        outline = [
            (x + s * half, -radius + dy) for s, dy in zip(steps, (2.0, 2.0, 6.0, 0.0, 2.0), strict=True)
        ]
    mirrored = [(px, -py) for px, py in reversed(outline)]
    hidden = Pen(look.ink2, dash=DASH_HIDDEN)
    eyes = [Line((x - half, s * inner), (x + half, s * inner), hidden) for s in (-1, 1)]
    shaft_edges = [
        Line((x - half, s * frame.size(d) / 2), (x + half, s * frame.size(d) / 2), hidden) for s in (-1, 1)
    ]
    hub = Extent(
        load.x - 0.22 * (at.right - at.left), load.x + 0.22 * (at.right - at.left), min(0.95 * d, at.radius)
    )
    return (
        Poly((*outline, *mirrored), Pen(look.ink, WIDE), look.metal, closed=True),
        *eyes,
        *shaft_edges,
        _block(Extent(load.x - plate, load.x + plate, at.radius), frame, look.metal2, look),
        _block(hub, frame, look.metal2, look),
    )


def _sheave(at: Extent, frame: Frame, look: Palette) -> tuple[Shape, ...]:
    """Return a sheave with its grooves."""
    radius, left, right = frame.size(at.radius), frame.x(at.left), frame.x(at.right)
    count = max(1, min(6, int((right - left) / 5.0) - 1))
    depth = min(6.0, 0.3 * radius)
    pen = Pen(look.ink2)
    grooves = [
        Line((x, s * radius), (x, s * (radius - depth)), pen)
        for x in (left + (right - left) * (i + 1) / (count + 1) for i in range(count))
        for s in (-1, 1)
    ]
    return (_block(at, frame, look.metal, look), *grooves)


def unit_shapes(
    x: float, size: UnitSize, diameter: float, frame: Frame, look: Palette, split: bool, on_base: bool
) -> tuple[Shape, ...]:
    """Return a bearing unit from the side: washed blue with its parting line where split, else metal grey.

    x: of its middle [px]; diameter: of the shaft [mm]; on_base: it stands on a base, not on a wall or in a frame.
    """
    half, above, below = frame.size(size.length) / 2, frame.size(size.above), frame.size(size.below)
    pen, fill = Pen(look.ink, WIDE), look.wash if split else look.metal
    corner, foot = min(0.45 * above, 0.5 * half, 14.0), max(0.25 * below, 4.0)
    inset = 0.12 * half
    body = [
        (x - half + inset, below - foot),
        *_rounded(x, half - inset, above, corner),
        (x + half - inset, below - foot),
    ]
    standing = [(x + half, below - foot), (x + half, below), (x - half, below), (x - half, below - foot)]
    closed = standing if on_base else [(x + half - inset, above), (x - half + inset, above)]
    hidden = Pen(look.ink2, dash=DASH_HIDDEN)
    radius = frame.size(diameter) / 2
    edges = [Line((x - half + inset, s * radius), (x + half - inset, s * radius), hidden) for s in (-1, 1)]
    parting = [Line((x - half, 0.0), (x + half, 0.0), Pen(look.answers, 2.4))] if split else []
    plate = _plate(x, half, below, look) if on_base else ()
    points = tuple([*body, *closed] if on_base else [*body[1:-1], *closed])
    return (*plate, Poly(points, pen, fill, closed=True), *edges, *parting)


def _rounded(x: float, half: float, above: float, corner: float) -> list[tuple[float, float]]:
    """Return the upper edge of a housing with its rounded corners, from left to right."""
    bend = (
        (0.0, 1.0),
        (0.02, 0.8),
        (0.08, 0.6),
        (0.18, 0.38),
        (0.34, 0.18),
        (0.55, 0.06),
        (0.78, 0.0),
        (1.0, 0.0),
    )
    left = [(x - half + corner * u, -above + corner * v) for u, v in bend]
    return [*left, *((2 * x - px, py) for px, py in reversed(left))]


def _plate(x: float, half: float, below: float, look: Palette) -> tuple[Shape, ...]:
    reach = half * 1.12
    ground = hatching(x - reach, below + PLATE, 2 * reach, GROUND, Pen(look.ink2), gap=7.0)
    return (*ground, Rect(x - reach, below, 2 * reach, PLATE, Pen(look.ink, WIDE), look.metal2))


def kept_clear(
    x: float, towards: int, radius: float, top: float, bottom: float, look: Palette
) -> tuple[Shape, ...]:
    """Return the hatched blocks above and below the shaft that the neighbours keep.

    x: where the free room ends; towards: −1 block to its left, 1 to its right; radius: of the shaft [px].
    """
    left = x if towards > 0 else x - CLEAR_WIDTH
    pen = Pen(look.ink2)
    parts: list[Shape] = []
    for edge, other in ((top, -radius), (radius, bottom)):
        parts += [
            *hatching(left, edge, CLEAR_WIDTH, other - edge, pen),
            Rect(left, edge, CLEAR_WIDTH, other - edge, pen),
        ]
    return tuple(parts)


def clear_box(x: float, towards: int, top: float, bottom: float) -> Box:
    """Return the rectangle of both blocks, where no label may lie."""
    return Box(min(x, x + towards * CLEAR_WIDTH), top, max(x, x + towards * CLEAR_WIDTH), bottom)


def dimension(
    left: float, right: float, y: float, down_to: Sequence[float], look: Palette
) -> tuple[Shape, ...]:
    """Return a dimension line with its ends and the lines that lead to what it measures.

    down_to: where the lines at its left and right end stop [px].
    """
    pen = Pen(look.ink2)
    leads = [Line((x, y - 4.0), (x, end), pen) for x, end in zip((left, right), down_to, strict=True)]
    if right - left < 16.0:
        return (*leads, Line((left, y), (right, y), pen))
    tips = [
        Poly(((x + s * 7.0, y - 2.4), (x, y), (x + s * 7.0, y + 2.4)), fill=look.ink2, closed=True)
        for x, s in ((left, 1.0), (right, -1.0))
    ]
    return (*leads, Line((left, y), (right, y), pen), *tips)
