"""What the views of a shaft line share: the frame, the forces, how arrows and their numbers look."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from halfbore.domain.job import Job
from halfbore.domain.shaftline import ShaftResponse
from halfbore.domain.unit import UnitTable
from halfbore.numbers import Style, write
from halfbore.present.frame import Frame, UnitSize
from halfbore.present.labels import Box, Label, Spot, Words
from halfbore.present.palette import Palette
from halfbore.present.shaft_forces import Force
from halfbore.present.svg import Line, Pen, Shape, arrow
from halfbore.units import Kind

ACTS, HOLDS = 2.2, 2.4
"""Line widths of arrows [px]."""


@dataclass(frozen=True)
class Scene:
    """All that the views share.

    forces, reactions: on the shaft [N]; force_scale: px for a newton; part: of the full heights; units: chosen units by position.
    """

    job: Job
    response: ShaftResponse
    condition: int
    units: Mapping[str, UnitTable]
    sizes: tuple[UnitSize, ...]
    tags: Mapping[str, str]
    frame: Frame
    forces: tuple[Force, ...]
    reactions: tuple[Force, ...]
    force_scale: float
    part: float
    look: Palette
    style: Style


def beside_arrow(x: float, tail: float, tip: float) -> tuple[Spot, ...]:
    """Return places for the number of an upright arrow, the tail first."""
    inward = 1 if tip > tail else -1
    middle = (tail + tip) / 2
    if abs(tip - tail) < 18.0:
        return tuple(
            Spot(x + 5.0 * s, y, s, d) for y, d in ((tail, -inward), (tip, inward)) for s in (1, -1, 0)
        )
    sides = [
        Spot(x + s * 6.0, y, s, d) for y, d in ((tail, inward), (middle, 0), (tip, -inward)) for s in (1, -1)
    ]
    return (*sides, Spot(x, tail, 0, -inward))


SPREAD_OVER = 7
"""Arrows of a load that is spread along the shaft."""


def arrow_of(
    scene: Scene, force: Force, tail: float, tip: float, pen: Pen, acts: bool
) -> tuple[list[Shape], list[Box]]:
    """Return the arrow of a force, or a row of them under one line where it is spread, with the room they take."""
    head, x, half = 8.0 if acts else 10.0, scene.frame.x(force.x), scene.frame.size(force.length) / 2
    if force.length <= 0:
        box = Box(x - 5.0, min(tail, tip), x + 5.0, max(tail, tip))
        return [*arrow((x, tail), (x, tip), pen, solid=acts, head=head)], [box]
    xs = [x - half + 2 * half * i / (SPREAD_OVER - 1) for i in range(SPREAD_OVER)]
    thin = Pen(pen.colour, 1.2)
    shapes: list[Shape] = [Line((xs[0], tail), (xs[-1], tail), pen)]
    for place in xs:
        shapes += arrow((place, tail), (place, tip), thin, solid=acts, head=6.0)
    return shapes, [Box(p - 4.0, min(tail, tip), p + 4.0, max(tail, tip)) for p in xs]


def places_beside(scene: Scene, force: Force, tail: float, tip: float) -> tuple[Spot, ...]:
    """Return places for the number of an arrow: beside it, or on the line of a spread load."""
    x = scene.frame.x(force.x)
    if force.length <= 0:
        return beside_arrow(x, tail, tip)
    outward = -1 if tip > tail else 1
    return (Spot(x, tail + 2.0 * outward, 0, outward), *beside_arrow(x, tail, tip))


TAKE_UP = 24.0
"""Length of the arrow of a take-up [px]."""


def take_up_arrow(
    scene: Scene, force: Force, along: float, start: float
) -> tuple[tuple[Shape, ...], Box, Label]:
    """Return the arrow of a take-up in one view.

    along: its part in the upright or level direction of this view, positive towards the top of the page [N];
    start: where it may begin, from the axis [px].
    """
    way, x = (-1.0 if along > 0 else 1.0), scene.frame.x(force.x)
    tail, tip = way * start, way * (start + TAKE_UP)
    pen = Pen(scene.look.ink2, 1.4)
    words = (Words(f"take-up {write(force.size, Kind.FORCE, scene.style)}", scene.look.ink2),)
    spots = tuple(Spot(x + s * 7.0, (tail + tip) / 2, s, 0) for s in (1, -1))
    box = Box(x - 6.0, min(tail, tip), x + 6.0, max(tail, tip))
    return arrow((x, tail), (x, tip), pen, solid=False), box, Label(words, spots, int(way))
