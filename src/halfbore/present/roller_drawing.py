"""The rollers of a unit under load: round the bearing against its joints, and the pressure along the heaviest one."""

from __future__ import annotations

import math

import numpy as np

from halfbore.domain.rollers import RollerPattern, RollerView
from halfbore.numbers import METRIC, Style, write
from halfbore.present.metrics import text_width
from halfbore.present.palette import LIGHT, Palette
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
    Shape,
    Text,
    arrow,
)
from halfbore.present.wording import direction
from halfbore.units import Kind

RING, REACH = 66.0, 46.0
"""Radius of the circle of rollers, and length of the longest bar [px]."""
SIZE = 11.0


def rollers_round(view: RollerView, style: Style = METRIC, look: Palette = LIGHT) -> Drawing:
    """Return the load of each roller round the bearing, seen from the drive end, the unit upright.

    Bars: at the clearance at which the heaviest roller bears most; outlines: at the other end.
    """
    heavy, light = heavier(view)
    most = float(heavy.load.max())
    middle = RING + REACH + 34.0
    shapes: list[Shape] = [
        Circle((0.0, 0.0), RING, Pen(look.rule), look.sheet),
        Circle((0.0, 0.0), RING - 13.0, Pen(look.rule), look.metal),
        Line((0.0, -middle + 8.0), (0.0, middle - 8.0), Pen(look.hair, dash=DASH_AXIS)),
        Line((-middle + 8.0, 0.0), (middle - 8.0, 0.0), Pen(look.hair, dash=DASH_AXIS)),
    ]
    shapes += _joints(view, look)
    count = len(heavy.load)
    for k in range(count):
        angle = view.angle + 2.0 * math.pi * k / count
        shapes += _bar(angle, RING, float(heavy.load[k]) / most, look.bar, math.pi / count, look.ink2)
        if light is not heavy:
            shapes += _outline(angle, float(light.load[k]) / most, look)
    tail, tip = _at(view.angle + math.pi, 40.0), _at(view.angle, 40.0)
    shapes += arrow(tail, tip, Pen(look.acts, 2.2), solid=True, head=10.0)
    told = write(most, Kind.FORCE, style)
    across = RING + REACH + 18.0 + text_width(told, SIZE, 600)
    at = _at(view.angle, RING + REACH + 14.0)
    shapes.append(Text((at[0], at[1] + 4.0), told, look.ink, SIZE, 600, _anchor(at[0]), look.sheet))
    way = direction(math.cos(view.angle), math.sin(view.angle))
    title = f"Load of each roller: {told} on the heaviest, load {way}"
    zones = f"Half the load zone is {_degrees(heavy)} at the one end of the clearance, {_degrees(light)} at the other"
    return Drawing(2 * across, 2 * middle, (Group(tuple(shapes), (across, middle)),), title, zones)


def pressure_along(view: RollerView, style: Style = METRIC, look: Palette = LIGHT) -> Drawing:
    """Return the pressure at the inner raceway along the heaviest roller, without and with the tilt in service."""
    heavy, _ = heavier(view)
    most = float(max(heavy.pressure.max(), heavy.tilted.max()))
    wide, tall, left, top = 260.0, 120.0, 12.0, 22.0
    scale = tall / (1.1 * most)
    half = float(view.place[-1])

    def points(values: np.ndarray[tuple[int], np.dtype[np.float64]]) -> tuple[Point, ...]:
        x = left + (view.place / half + 1.0) * wide / 2.0
        return tuple(zip(x.tolist(), (top + tall - values * scale).tolist(), strict=True))

    base = top + tall
    level, tilted = points(heavy.pressure), points(heavy.tilted)
    shapes: list[Shape] = [
        Poly(((left, base), *level, (left + wide, base)), None, look.metal2, closed=True),
        Line((left, base), (left + wide, base), Pen(look.ink, WIDE)),
        Poly(level, Pen(look.bar, WIDE)),
        Poly(tilted, Pen(look.past, WIDE, DASH_HIDDEN)),
        Text((left, base + 15.0), write(-half, Kind.LENGTH, style), look.ink2, SIZE),
        Text((left + wide, base + 15.0), write(half, Kind.LENGTH, style), look.ink2, SIZE, anchor="end"),
        Text(
            (left + wide / 2, base + 15.0), "from the middle of the roller", look.ink2, SIZE, anchor="middle"
        ),
    ]
    peak = int(heavy.tilted.argmax())
    at = tilted[peak]
    told = write(float(heavy.tilted.max()), Kind.STRESS, style)
    plain = write(float(heavy.pressure.max()), Kind.STRESS, style)
    shapes.append(
        Text(
            (min(max(at[0], left + 30), left + wide - 30), at[1] - 6.0), told, look.past, SIZE, 600, "middle"
        )
    )
    shapes.append(
        Text((left + wide / 2, level[len(level) // 2][1] + 16.0), plain, look.ink, SIZE, 600, "middle")
    )
    title = f"Pressure along the heaviest roller: {plain}, with the tilt in service at most {told}"
    return Drawing(wide + 2 * left, base + 22.0, tuple(shapes), title, "")


def heavier(view: RollerView) -> tuple[RollerPattern, RollerPattern]:
    """Return the pattern in which the heaviest roller bears more, and the other."""
    if view.loose.clearance == view.tight.clearance:
        return view.tight, view.tight
    return (
        (view.loose, view.tight)
        if view.loose.load.max() >= view.tight.load.max()
        else (view.tight, view.loose)
    )


def _at(angle: float, radius: float) -> Point:
    return radius * math.sin(angle), -radius * math.cos(angle)


def _tick(angle: float, radius: float, beside: float) -> Point:
    x, y = _at(angle, radius)
    return x + beside * math.cos(angle), y + beside * math.sin(angle)


def _bar(angle: float, inner: float, part: float, fill: str, half: float, idle: str) -> tuple[Shape, ...]:
    """Return a roller with its load as a bar outwards; one without load is an empty circle."""
    size = min(5.5, 0.8 * inner * half)
    centre = _at(angle, inner - 6.5)
    if part <= 0.0:
        return (Circle(centre, size, Pen(idle, 0.8)),)
    wide, outer = 0.7 * half, inner + REACH * part
    turns = ((-wide, inner), (-wide, outer), (wide, outer), (wide, inner))
    corners = tuple(_at(angle + turn, radius) for turn, radius in turns)
    return (Poly(corners, None, fill, closed=True), Circle(centre, size, None, fill))


def _outline(angle: float, part: float, look: Palette) -> tuple[Shape, ...]:
    """Return the load of a roller at the other clearance as a line with a stroke across its end."""
    if part <= 0.0:
        return ()
    reach = RING + REACH * part
    stroke = Line(_tick(angle, reach, -5.0), _tick(angle, reach, 5.0), Pen(look.answers, WIDE))
    return (stroke, Line(_at(angle, RING), _at(angle, reach), Pen(look.answers)))


def _joints(view: RollerView, look: Palette) -> tuple[Shape, ...]:
    """Return the joints of the outer ring as strokes across it."""
    if math.isnan(view.joints[0]):
        return ()
    shapes: list[Shape] = []
    for joint in view.joints:
        shapes.append(Line(_at(joint, RING - 2.0), _at(joint, RING + 20.0), Pen(look.past, 2.4)))
        x, y = _at(joint, RING + 30.0)
        shapes.append(Text((x, y + 4.0), "joint", look.past, SIZE - 1.0, anchor=_anchor(x), halo=look.sheet))
    return tuple(shapes)


def _anchor(x: float) -> str:
    return "middle" if abs(x) < 12.0 else "start" if x > 0 else "end"


def _degrees(pattern: RollerPattern) -> str:
    return write(pattern.zone, Kind.ANGLE)
