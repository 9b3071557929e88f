"""The scale of a shaft drawing: one for both directions, one for forces, nice numbers for their bars."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from halfbore.domain.job import Job
from halfbore.domain.machine import (
    Coupling,
    Drum,
    ElevatorDrum,
    FanWheel,
    Load,
    Paddles,
    PointLoad,
    ScrewFlight,
    Shaft,
    ShaftDrive,
    Sheave,
)
from halfbore.domain.unit import UnitTable
from halfbore.numbers import Style, unit_of
from halfbore.units import Kind, convert

_SHAPE = {
    FanWheel: (7.0, 2.2),
    Coupling: (2.4, 1.2),
    Sheave: (0.0, 1.0),
    ShaftDrive: (3.6, 1.8),
    PointLoad: (1.6, 1.0),
}
_TIPS = {Paddles: 5.0, ScrewFlight: 3.0}
"""Diameter and width in shaft diameters where the survey has none: for the drawing only."""


@dataclass(frozen=True)
class Frame:
    """Pixels of places along the shaft and of sizes; the axis is at y = 0.

    reach: radius [mm] beyond which a wheel is broken off.
    """

    width: float
    left: float
    scale: float
    start: float
    reach: float = math.inf

    def x(self, place: float) -> float:
        """Return the x of a place along the shaft [mm] in px."""
        return self.left + (place - self.start) * self.scale

    def size(self, length: float) -> float:
        """Return a length [mm] in px."""
        return length * self.scale


@dataclass(frozen=True)
class Extent:
    """What one part takes along and across the shaft [mm]."""

    left: float
    right: float
    radius: float


@dataclass(frozen=True)
class UnitSize:
    """A bearing unit from the side [mm]: length, height above the centre, height of the centre above the base."""

    length: float
    above: float
    below: float


def extent_of(load: Load, shaft: Shaft) -> Extent:
    """Return what a load's part takes on the drawing."""
    d = shaft.segment_at(load.x).diameter
    if isinstance(load, (Paddles, ScrewFlight)):
        half = load.length / 2
        return Extent(load.x - half, load.x + half, (load.diameter or _TIPS[type(load)] * d) / 2)
    if isinstance(load, (Drum, ElevatorDrum)):
        width = load.face or max(1.25 * load.hub_spacing, load.diameter)
        return Extent(load.x - width / 2, load.x + width / 2, load.diameter / 2)
    if isinstance(load, PointLoad) and load.diameter is None:
        return Extent(load.x, load.x, d / 2)
    times, wide = _SHAPE[type(load)]
    radius = (load.diameter or times * d) / 2
    width = load.width or wide * d
    return Extent(load.x - width / 2, load.x + width / 2, radius)


def drawn_extent(load: Load, shaft: Shaft, frame: Frame) -> Extent:
    """Return what of a load's part is drawn: all of it, or a wheel as far as the frame reaches."""
    at = extent_of(load, shaft)
    return replace(at, radius=min(at.radius, frame.reach)) if isinstance(load, FanWheel) else at


def is_broken_off(load: Load, shaft: Shaft, frame: Frame) -> bool:
    """Whether a part is larger than what is drawn of it."""
    return drawn_extent(load, shaft, frame).radius < extent_of(load, shaft).radius


def unit_size(job: Job, index: int, unit: UnitTable | None) -> UnitSize:
    """Return the size of the bearing unit at a position; what is not known follows from the shaft."""
    position = job.positions[index]
    d = job.shaft.segment_at(position.x).diameter
    if unit is not None:
        given = [float(unit.length[0]), float(unit.height[0]), float(unit.centre_height[0])]
    else:
        given = [math.nan, math.nan, position.base.centre_height or math.nan]
    usual = (1.35 * d, 1.1 * d, 1.2 * d)
    length, above, below = (u if math.isnan(g) else g for g, u in zip(given, usual, strict=True))
    return UnitSize(length, above, below)


def frame_of(job: Job, sizes: list[UnitSize], width: float, margin: float, tallest: float) -> Frame:
    """Return the largest frame in which the shaft line fits.

    width: of the drawing; margin: left and right of it; tallest: most height of the parts [all px].
    """
    length = job.shaft.length
    parts = [extent_of(load, job.shaft) for load in job.loads]
    halves = [(p.x, s.length / 2) for p, s in zip(job.positions, sizes, strict=True)]
    start = min([0.0, *(e.left for e in parts), *(x - half for x, half in halves)])
    end = max([length, *(e.right for e in parts), *(x + half for x, half in halves)])
    along = (width - 2 * margin) / (end - start)
    radius = [e.radius for e in parts]
    scale, reach = min(along, tallest / _height(radius, sizes)), math.inf
    if scale < NARROW * along:
        wheels = [isinstance(load, FanWheel) for load in job.loads]
        others = [r for r, wheel in zip(radius, wheels, strict=True) if not wheel]
        reach = max(tallest / (2 * along), _height(others, sizes) / 2)
        clipped = [min(r, reach) if wheel else r for r, wheel in zip(radius, wheels, strict=True)]
        scale = min(along, tallest / _height(clipped, sizes))
    return Frame(width, (width - (end - start) * scale) / 2, scale, start, reach)


NARROW = 0.7
"""A wheel that would make the drawing narrower than this part of its width is broken off."""


def _height(radius: list[float], sizes: list[UnitSize]) -> float:
    most = max([0.0, *radius])
    return max([most, *(s.above for s in sizes)]) + max([most, *(s.below for s in sizes)])


def nice_quantity(most: float, kind: Kind, style: Style) -> float:
    """Return the largest value that is not over most and is 1, 2 or 5 times a power of ten in the unit shown."""
    one = convert(1.0, kind, unit_of(kind, style, most))
    return nice(most * one) / one


def nice(value: float) -> float:
    """Return the largest of 1, 2, 5 times a power of ten that is not over a value."""
    power = 10.0 ** math.floor(math.log10(value))
    return float(max(step for step in (1.0, 2.0, 5.0) if step * power <= value * (1 + 1e-12)) * power)
