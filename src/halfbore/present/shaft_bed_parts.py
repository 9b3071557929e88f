"""Parts that reach along the shaft or off it: paddles over their length, the flight of a screw, an elevator's belt."""

from __future__ import annotations

import math

from halfbore.domain.machine import ElevatorDrum, ElevatorPlace, Paddles, ScrewFlight
from halfbore.present.frame import Extent, Frame
from halfbore.present.palette import Palette
from halfbore.present.svg import DASH_HIDDEN, WIDE, Line, Pen, Point, Poly, Rect, Shape

BELT = 26.0
"""Length of an elevator's belt as drawn beyond its drum [px]."""
USUAL_PITCH = 0.8
"""Pitch over diameter of a flight whose survey has none: for the drawing only."""
MOST_TURNS = 40
"""Turns of a flight that are drawn; a finer pitch is drawn wider."""
STEPS = 12
"""Straight pieces of half a turn of a flight."""


def paddles(part: Paddles, at: Extent, d: float, frame: Frame, look: Palette) -> tuple[Shape, ...]:
    """Return arms with blades, up and down in turn, over the length of the paddles; in the middle one is down.

    d: diameter of the shaft [mm].
    """
    count = 2 * max(1, min(8, round(part.length / at.radius))) + 1
    pitch = frame.size(part.length) / count
    tip, root = frame.size(at.radius), frame.size(d) / 2
    blade, arm = 0.24 * tip, max(2.5, 0.1 * pitch)
    shapes: list[Shape] = []
    for i in range(count):
        x, side = frame.x(at.left) + (i + 0.5) * pitch, 1.0 if (i - count // 2) % 2 == 0 else -1.0
        shapes.append(_upright(x, arm, side * root, side * (tip - blade), look.metal2, look))
        shapes.append(_upright(x, 0.62 * pitch, side * (tip - blade), side * tip, look.metal, look))
    return tuple(shapes)


def _upright(x: float, width: float, a: float, b: float, fill: str, look: Palette) -> Rect:
    return Rect(x - width / 2, min(a, b), width, abs(b - a), Pen(look.ink, WIDE), fill)


def flight(
    part: ScrewFlight, at: Extent, d: float, frame: Frame, look: Palette, front: bool
) -> tuple[Shape, ...]:
    """Return the half turns of a flight that stand before or behind the shaft.

    d: diameter of the shaft [mm].
    """
    pitch = max(part.pitch or USUAL_PITCH * 2 * at.radius, part.length / MOST_TURNS)
    outer, inner = frame.size(at.radius), frame.size(d) / 2
    fill = look.metal if front else look.metal2
    first = 0.0 if front else 0.5
    starts = [first + i for i in range(math.ceil(part.length / pitch))]
    pieces = (_half_turn(at, pitch, s, outer, inner, frame) for s in starts)
    return tuple(Poly(points, Pen(look.ink, 1.2), fill, closed=True) for points in pieces if points)


def _half_turn(
    at: Extent, pitch: float, start: float, outer: float, inner: float, frame: Frame
) -> tuple[Point, ...]:
    """Return the outline of half a turn that begins after so many turns; nothing where the flight has ended."""
    length = (at.right - at.left) / pitch
    turns = [start + 0.5 * i / STEPS for i in range(STEPS + 1) if start + 0.5 * i / STEPS <= length]
    if len(turns) < 2:
        return ()
    places = [(frame.x(at.left + t * pitch), -math.cos(2 * math.pi * t)) for t in turns]
    return (*((x, outer * c) for x, c in places), *((x, inner * c) for x, c in reversed(places)))


def belt(part: ElevatorDrum, at: Extent, frame: Frame, look: Palette) -> tuple[Shape, ...]:
    """Return the belt that hangs from a head drum or rises from a boot drum, with one row of buckets, broken off."""
    down = 1.0 if part.place is ElevatorPlace.HEAD else -1.0
    inset = 0.06 * (frame.x(at.right) - frame.x(at.left))
    left, right = frame.x(at.left) + inset, frame.x(at.right) - inset
    near, far = down * frame.size(at.radius), down * (frame.size(at.radius) + BELT)
    steps = [(1.0, 0.0), (0.8, -3.0), (0.6, 3.0), (0.4, -3.0), (0.2, 3.0), (0.0, 0.0)]
    torn = [(left + part_ * (right - left), far + dy) for part_, dy in steps]
    bucket = Rect(
        left + 0.5 * inset,
        min(near, far) + BELT / 2 - 5.0,
        right - left - inset,
        9.0,
        Pen(look.ink2),
        look.metal2,
    )
    return (Poly(((left, near), (right, near), *torn), Pen(look.ink2), look.sheet, closed=True), bucket)


def hidden_shell(at: Extent, frame: Frame, look: Palette) -> tuple[Line, ...]:
    """Return the inside of a drum's shell."""
    inner = frame.size(at.radius) - max(5.0, 0.05 * frame.size(at.radius))
    left, right = frame.x(at.left), frame.x(at.right)
    return tuple(
        Line((left, s * inner), (right, s * inner), Pen(look.ink2, dash=DASH_HIDDEN)) for s in (-1, 1)
    )
