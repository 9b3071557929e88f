"""The shaft line as a small map: the same parts to the same scale both ways, one position marked, no figures."""

from __future__ import annotations

from collections.abc import Mapping

from halfbore.domain.job import Job
from halfbore.domain.unit import UnitTable
from halfbore.phrases import listed
from halfbore.present import shaft_parts as parts
from halfbore.present.frame import drawn_extent, frame_of, unit_size
from halfbore.present.palette import LIGHT, Palette
from halfbore.present.shaft_from_the_side import BADGE, badge
from halfbore.present.svg import Drawing, Group, Pen, Rect, Shape
from halfbore.present.wording import tags


def shaft_strip(
    job: Job,
    units: Mapping[str, UnitTable],
    here: str,
    width: float = 312.0,
    tallest: float = 64.0,
    look: Palette = LIGHT,
) -> Drawing:
    """Return the map of a shaft line.

    units: the split units by the name of their position; here: the position that is marked; tallest: of the parts [px].
    """
    sizes = [unit_size(job, i, units.get(p.name)) for i, p in enumerate(job.positions)]
    frame = frame_of(job, sizes, width, 6.0, tallest)
    shapes: list[Shape] = [s for load in job.loads for s in parts.behind(load, job.shaft, frame, look)]
    shapes += parts.shaft_outline(job.shaft, frame, look)
    shapes += [s for load in job.loads for s in parts.on_shaft(load, job.shaft, frame, look)]
    for position, size in zip(job.positions, sizes, strict=True):
        left, top = frame.x(position.x - size.length / 2), -frame.size(size.above)
        wide, tall = frame.size(size.length), frame.size(size.above + size.below)
        fill = look.wash if position.name in units else look.metal
        shapes.append(Rect(left, top, wide, tall, Pen(look.ink, 1.2), fill, 3.0))
    shapes.append(parts.axis(job.shaft, frame, look))
    letters = tags([p.name for p in job.positions])
    for position in job.positions:
        marked = position.name == here
        shapes += badge(frame.x(position.x), 0.0, letters[position.name], marked, look)
    radii = [frame.size(drawn_extent(load, job.shaft, frame).radius) for load in job.loads]
    above = max([BADGE, *radii, *(frame.size(size.above) for size in sizes)]) + 2.0
    below = max([BADGE, *radii, *(frame.size(size.below) for size in sizes)]) + 2.0
    words = f"Shaft line of {job.machine.name} to scale, with {listed(list(letters))}; {here} is marked"
    return Drawing(width, above + below, (Group(tuple(shapes), (0.0, above)),), words, "")
