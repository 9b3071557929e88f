"""The shaft line from above: what acts and holds sideways, and the whole reaction at each support."""

from __future__ import annotations

from halfbore.numbers import write
from halfbore.present import shaft_parts as parts
from halfbore.present.labels import Box, Label, Spot, Words, place
from halfbore.present.shaft_curves import Layer, layer
from halfbore.present.shaft_forces import SMALL, reaction_at, reaction_words, take_ups
from halfbore.present.shaft_scene import ACTS, HOLDS, Scene, arrow_of, places_beside, take_up_arrow
from halfbore.present.svg import Pen, Shape
from halfbore.units import Kind

SEEN = 0.3
"""Part of a take-up's force from which it is drawn in a view."""


def is_seen_from_above(scene: Scene) -> bool:
    """Whether forces act sideways so much that the view from the side does not tell them."""
    every = (*scene.forces, *scene.reactions)
    return max(abs(f.z) for f in every) > 0.05 * max(f.size for f in every)


def from_above(scene: Scene) -> Layer:
    """Return the shaft line from above: what acts and holds sideways, and the whole reaction at each support."""
    frame, look = scene.frame, scene.look
    shapes: list[Shape] = [
        *parts.shaft_outline(scene.job.shaft, frame, look),
        parts.axis(scene.job.shaft, frame, look),
    ]
    most = max(abs(f.z) for f in (*scene.forces, *scene.reactions))
    radius = max(frame.size(s.diameter) for s in scene.job.shaft.segments) / 2
    ends = frame.x(0.0), frame.x(scene.job.shaft.length)
    labels, boxes = [], [Box(ends[0], -radius, ends[1], radius)]
    for force, acts in [*((f, True) for f in scene.forces), *((f, False) for f in scene.reactions)]:
        if abs(force.z) <= SMALL * most:
            continue
        side = 1.0 if force.z > 0 else -1.0
        tip = 0.0 if acts else -side * (radius + 2.0)
        tail = tip - force.z * scene.force_scale
        pen = Pen(look.acts, ACTS) if acts else Pen(look.answers, HOLDS)
        arrows, taken = arrow_of(scene, force, tail, tip, pen, acts)
        shapes += arrows
        boxes += taken
        words = (Words(write(abs(force.z), Kind.FORCE, scene.style), pen.colour, 600),)
        spots = places_beside(scene, force, tail, tip)
        labels.append(Label(words, spots, int(-side), 12.5 if acts else 13.5))
    for force in take_ups(scene.job, scene.response, scene.condition):
        if abs(force.z) > SEEN * force.size:
            marks, box, label = take_up_arrow(scene, force, -force.z, radius + 4.0)
            shapes += marks
            boxes.append(box)
            labels.append(label)
    placed = place([*_resultants(scene, radius), *labels, _view_name(scene)], boxes, 0.0, frame.width)
    return layer(shapes, placed, look, min(b.top for b in boxes), max(b.bottom for b in boxes))


def _resultants(scene: Scene, radius: float) -> list[Label]:
    """Return the whole reaction at each support with its direction, opposite its arrow."""
    name = scene.response.curves[scene.condition].condition
    labels = []
    for p, force in zip(scene.job.positions, scene.reactions, strict=True):
        text = reaction_words(reaction_at(scene.response, p.name, name), scene.style)
        words = (Words(f"{scene.tags[p.name]}: {text}", scene.look.answers, 600),)
        x, side = scene.frame.x(p.x), 1 if force.z > 0 else -1
        spots = (Spot(x, side * (radius + 3.0), 0, side), Spot(x, -side * (radius + 3.0), 0, -side))
        labels.append(Label(words, spots, side, 13.0))
    return labels


def _view_name(scene: Scene) -> Label:
    words = (Words("from above; right is down", scene.look.ink2),)
    high = 1.0 + max(abs(f.z) for f in (*scene.forces, *scene.reactions)) * scene.force_scale
    ends = ((0.0, 1), (scene.frame.width, -1), (scene.frame.width / 2, 0))
    return Label(
        words, tuple(Spot(x, y, across, d) for y, d in ((-high, 0), (high, 0)) for x, across in ends)
    )
