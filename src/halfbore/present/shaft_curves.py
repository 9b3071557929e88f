"""Below the drawing, on the same x: the bent shaft with its tilt at each support, and the bending moment."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from halfbore.domain.shaftline import ShaftCurve
from halfbore.numbers import Style, write
from halfbore.present.frame import Frame, nice
from halfbore.present.labels import Box, Label, Placed, Spot, Words, drawn, place
from halfbore.present.palette import Palette
from halfbore.present.svg import DASH_BENT, Line, Pen, Poly, Shape
from halfbore.present.wording import prose
from halfbore.units import Kind

BENT_HEIGHT = 24.0
"""Most that the bent shaft stands off its straight line as drawn [px]."""
MOMENT_HEIGHT = 30.0


@dataclass(frozen=True)
class Layer:
    """One strip of the drawing with its own axis at y = 0; full: what is taken in it."""

    shapes: tuple[Shape, ...]
    top: float
    bottom: float
    words: tuple[str, ...] = ()
    full: tuple[Box, ...] = ()


def layer(
    shapes: list[Shape], placed: tuple[Placed, ...], look: Palette, top: float, bottom: float, *words: str
) -> Layer:
    """Return shapes and labels as one strip, as tall as they need."""
    texts = [s for p in placed for s in drawn(p, look.sheet, Pen(look.ink2, 0.7))]
    return Layer(
        (*shapes, *texts),
        min([top, *(p.box.top for p in placed)]),
        max([bottom, *(p.box.bottom for p in placed)]),
        words,
    )


def bent_shaft(
    curve: ShaftCurve,
    supports: tuple[float, ...],
    frame: Frame,
    look: Palette,
    style: Style,
    part: float = 1.0,
) -> Layer:
    """Return the deflected shape in the plane in which it bends most, with the tilt at each support.

    supports: their places along the shaft [mm]; part: of the full height.
    """
    level = float(np.abs(curve.deflection_z).max()) > float(np.abs(curve.deflection_y).max())
    bend = curve.deflection_z if level else curve.deflection_y
    largest = float(np.abs(bend).max())
    ends = frame.x(float(curve.x[0])), frame.x(float(curve.x[-1]))
    shapes: list[Shape] = [Line((ends[0], 0.0), (ends[1], 0.0), Pen(look.ink2))]
    labels: list[Label] = []
    factor = nice(max(part, 0.6) * BENT_HEIGHT / frame.size(largest)) if largest > 1e-9 else 1.0
    line = np.asarray(bend * frame.scale * factor) * (1.0 if level else -1.0)
    if largest > 1e-9:
        points = tuple((frame.x(float(x)), float(y)) for x, y in zip(curve.x, line, strict=True))
        shapes.append(Poly(_thinned(points), Pen(look.answers, 1.8, DASH_BENT)))
        labels += _peaks(curve, bend, line, level, frame, look, style)
    size = 4.5
    for x in supports:
        px = frame.x(x)
        triangle = ((px - size, 1.6 * size), (px, 0.0), (px + size, 1.6 * size))
        shapes.append(Poly(triangle, Pen(look.ink), look.sheet, closed=True))
        tilt = abs(float(np.interp(x, curve.x, curve.slope)))
        text = prose(f"tilt {write(tilt, Kind.ANGLE, style)}")
        spots = (Spot(px - 7, 5, -1, 1), Spot(px + 7, 5, 1, 1), Spot(px, 9, 0, 1))
        labels.append(Label((Words(text, look.answers),), spots, drift=1))
    taken = [_around(points_) for points_ in _pieces(frame, curve, line)]
    scale = f"deflection × {write(factor, Kind.COUNT, style)}"
    note = Label((Words(scale, look.ink2),), (Spot(frame.width, -9, -1, -1), Spot(0.0, -9, 1, -1)), drift=-1)
    placed = place([*labels, note], taken, 0.0, frame.width)
    top, bottom = min(-8.0, float(line.min())), max(10.0, float(line.max()))
    return layer(shapes, placed, look, top, bottom, scale)


def _peaks(
    curve: ShaftCurve,
    bend: np.ndarray,
    line: np.ndarray,
    level: bool,
    frame: Frame,
    look: Palette,
    style: Style,
) -> list[Label]:
    """Return the labels of the largest deflection each way; the smaller only where it is not small."""
    ways = ("right", "left") if level else ("up", "down")
    largest = float(np.abs(bend).max())
    found = []
    for i, way in ((int(bend.argmax()), ways[0]), (int(bend.argmin()), ways[1])):
        size = float(bend[i]) * (1.0 if way == ways[0] else -1.0)
        if size < 0.2 * largest:
            continue
        x, y = frame.x(float(curve.x[i])), float(line[i])
        down = 1 if y > 0 else -1
        text = f"{write(size, Kind.LENGTH, style)} {way}"
        spots = (
            Spot(x, y + 3 * down, 0, down),
            Spot(x + 30, y + 3 * down, 1, down),
            Spot(x - 30, y + 3 * down, -1, down),
        )
        found.append((-size, Label((Words(text, look.answers, 600),), spots, drift=down)))
    return [label for _, label in sorted(found, key=lambda f: f[0])]


def _thinned(points: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    """Return fewer points: dashes look even, and a file stays small."""
    step = max(1, len(points) // 120)
    return (*points[:-1:step], points[-1])


def _pieces(frame: Frame, curve: ShaftCurve, line: np.ndarray) -> list[list[tuple[float, float]]]:
    points = [(frame.x(float(x)), float(y)) for x, y in zip(curve.x, line, strict=True)]
    step = max(1, len(points) // 60)
    return [points[i : i + step + 1] for i in range(0, len(points) - 1, step)]


def _around(points: list[tuple[float, float]]) -> Box:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return Box(min(xs), min(ys) - 1.0, max(xs), max(ys) + 1.0)


def bending_moment(curve: ShaftCurve, frame: Frame, look: Palette, style: Style, part: float = 1.0) -> Layer:
    """Return the size of the bending moment with its largest value, its place and the stress there."""
    height = max(part, 0.6) * MOMENT_HEIGHT
    largest = float(curve.moment.max())
    ends = frame.x(float(curve.x[0])), frame.x(float(curve.x[-1]))
    base = Line((ends[0], 0.0), (ends[1], 0.0), Pen(look.ink2))
    if largest <= 0.0:
        return Layer((base,), -4.0, 4.0)
    i = int(curve.moment.argmax())
    points = tuple(
        (frame.x(float(x)), -float(m) / largest * height) for x, m in zip(curve.x, curve.moment, strict=True)
    )
    area = Poly(((ends[0], 0.0), *points, (ends[1], 0.0)), Pen(look.ink2), look.metal, closed=True)
    words = prose(
        f"moment at most {write(largest, Kind.TORQUE, style)} at x = {write(float(curve.x[i]), Kind.LENGTH, style)}, "
        f"bending stress there {write(float(curve.stress[i]), Kind.STRESS, style)}"
    )
    peak = frame.x(float(curve.x[i]))
    label = Label((Words(words, look.ink2),), (Spot(peak, 4.0, 0, 1),), drift=1)
    mark = Line((peak, -height - 4.0), (peak, 4.0), Pen(look.ink2))
    placed = place([label], [], 0.0, frame.width)
    return layer([area, base, mark], placed, look, -height - 4.0, 4.0, words)
