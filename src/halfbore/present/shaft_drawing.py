"""The shaft line to scale: what acts on it, what holds it, how it bends; the map of every page."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from halfbore.domain.job import Job
from halfbore.domain.shaftline import ShaftResponse
from halfbore.domain.unit import UnitTable
from halfbore.numbers import METRIC, Style, write
from halfbore.phrases import listed
from halfbore.present.frame import frame_of, nice_quantity, unit_size
from halfbore.present.labels import Box
from halfbore.present.metrics import text_width
from halfbore.present.palette import LIGHT, Palette
from halfbore.present.shaft_curves import Layer, bending_moment, bent_shaft
from halfbore.present.shaft_forces import acting, holding, main_condition, reaction_at, reaction_words
from halfbore.present.shaft_from_above import from_above, is_seen_from_above
from halfbore.present.shaft_from_the_side import from_the_side
from halfbore.present.shaft_scene import ACTS, Scene
from halfbore.present.svg import DASH_FAINT, Drawing, Group, Line, Pen, Shape, Text, arrow
from halfbore.present.wording import prose, tags
from halfbore.units import Kind

TALLEST = 300.0
"""Most height of the parts on the shaft, their labels not counted [px]."""
LONGEST = 58.0
"""Length of the longest arrow [px]."""
SMALLER = (1.0, 0.88, 0.77, 0.66, 0.55, 0.45)
"""Parts of the full heights that are tried one after the other."""
MARGIN = 16.0
GAP = 9.0
"""Clear height between two strips [px]."""


def shaft_drawing(
    job: Job,
    response: ShaftResponse,
    units: Mapping[str, UnitTable],
    style: Style = METRIC,
    width: float = 680.0,
    height: float = 620.0,
    look: Palette = LIGHT,
) -> Drawing:
    """Return the drawing of a shaft line to scale.

    units: the split units by the name of their position; a position without one keeps its bearing.
    width: of the drawing; height: that it shall not pass if a smaller scale, and at last no moment, can help it [px].
    """
    for drawing in shaft_drawings(job, response, units, style, width, look):
        if drawing.height <= height:
            break
    return drawing


def shaft_drawings(
    job: Job,
    response: ShaftResponse,
    units: Mapping[str, UnitTable],
    style: Style = METRIC,
    width: float = 680.0,
    look: Palette = LIGHT,
) -> Iterator[Drawing]:
    """Yield the drawing of a shaft line smaller and smaller, the last one without the moment.

    units: the split units by the name of their position; width: of the drawing [px].
    """
    for part in SMALLER:
        yield _drawing(_scene(job, response, units, style, width, part, look), with_moment=True)
    yield _drawing(_scene(job, response, units, style, width, SMALLER[-1], look), with_moment=False)


def _drawing(scene: Scene, with_moment: bool) -> Drawing:
    job, response, style, look = scene.job, scene.response, scene.style, scene.look
    supports = tuple(p.x for p in job.positions)
    curve = response.curves[scene.condition]
    side = from_the_side(scene)
    strips = [_with_scales(side, scene)]
    if is_seen_from_above(scene):
        strips.append(from_above(scene))
    bent = bent_shaft(curve, supports, scene.frame, look, style, scene.part)
    moment = bending_moment(curve, scene.frame, look, style, scene.part)
    strips += [bent, moment] if with_moment else [bent]
    tops, y = [], 2.0
    for strip in strips:
        tops.append(y - strip.top)
        y += strip.bottom - strip.top + GAP
    uprights = [
        Line((scene.frame.x(x), tops[0]), (scene.frame.x(x), tops[-1]), Pen(look.rule, 0.8, DASH_FAINT))
        for x in supports
    ]
    groups = [Group(strip.shapes, (0.0, round(top, 2))) for strip, top in zip(strips, tops, strict=True)]
    title = f"Shaft line of {job.machine.name} to scale"
    return Drawing(
        scene.frame.width,
        y - GAP + 2.0,
        (*uprights, *groups),
        title,
        _described(scene, (*bent.words, *moment.words)),
        scene.frame.scale,
        scene.frame.x(0.0),
    )


def _scene(
    job: Job,
    response: ShaftResponse,
    units: Mapping[str, UnitTable],
    style: Style,
    width: float,
    part: float,
    look: Palette,
) -> Scene:
    condition = main_condition(response)
    sizes = tuple(unit_size(job, i, units.get(p.name)) for i, p in enumerate(job.positions))
    forces, reactions = acting(response, condition), holding(response, condition)
    largest = max([1e-9, *(abs(c) for f in (*forces, *reactions) for c in (f.y, f.z))])
    return Scene(
        job,
        response,
        condition,
        units,
        sizes,
        tags([p.name for p in job.positions]),
        frame_of(job, list(sizes), width, MARGIN, TALLEST * part),
        forces,
        reactions,
        LONGEST * max(part, 0.6) / largest,
        part,
        look,
        style,
    )


def _with_scales(strip: Layer, scene: Scene) -> Layer:
    """Return the view from the side with the bar of lengths and the arrow of forces, as high up as there is room."""
    frame, look, style = scene.frame, scene.look, scene.style
    length = nice_quantity(90.0 / frame.scale, Kind.LENGTH, style)
    force = nice_quantity(30.0 / scene.force_scale, Kind.FORCE, style)
    bar, tall = frame.size(length), force * scene.force_scale
    name = scene.response.curves[scene.condition].condition
    words = f"{write(length, Kind.LENGTH, style)} both ways; {name}, likely loads"
    number = write(force, Kind.FORCE, style, resolution=force)
    left = Box(0.0, 0.0, bar + 8.0 + text_width(words, 12.0), 16.0)
    place_ = max(0.0, frame.width - text_width(number, 12.0) - 14.0)
    wide = text_width(number, 12.0) + 14.0
    while any(place_ - 10.0 < frame.x(p.x) < place_ + wide for p in scene.job.positions):
        place_ -= 14.0
    right = Box(place_ - 8.0, 16.0 - tall, place_ + wide, 16.0)
    y = strip.bottom - 34.0
    while any(box.moved(0.0, y).meets(other) for box in (left, right) for other in strip.full):
        y += 2.0
    ink, tip = Pen(look.ink2), (place_, y + 15.0)
    shapes: list[Shape] = [
        Line((0.0, y + 10.0), (bar, y + 10.0), Pen(look.ink2, 1.8)),
        *(Line((x, y + 6.0), (x, y + 14.0), ink) for x in (0.5, bar)),
        Text((bar + 8.0, y + 14.0), words, look.ink2, halo=look.sheet),
        *arrow((place_, tip[1] - tall), tip, Pen(look.acts, ACTS), solid=True),
        Text((place_ + 9.0, y + 14.0), number, look.ink2, halo=look.sheet),
    ]
    return Layer((*strip.shapes, *shapes), strip.top, max(strip.bottom, y + 18.0))


def _described(scene: Scene, curves: tuple[str, ...]) -> str:
    """Return the drawing in words, for those who do not see it."""
    job, style = scene.job, scene.style
    name = scene.response.curves[scene.condition].condition
    where = [f"{load.name} at {write(load.x, Kind.LENGTH, style)}" for load in job.loads]
    held = [
        f"{p.name} at {write(p.x, Kind.LENGTH, style)}, "
        f"{'split unit' if p.name in scene.units else 'bearing kept'}, "
        f"{reaction_words(reaction_at(scene.response, p.name, name), style)}"
        for p in job.positions
    ]
    return prose(
        f"Shaft of {write(job.shaft.length, Kind.LENGTH, style)} seen from the side, to scale, drive end on the "
        f"left. On it: {listed(where)}. Reactions in {name}: {'; '.join(held)}. "
        f"Below: {'; '.join(curves)}."
    )
