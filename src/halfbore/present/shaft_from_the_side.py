"""The shaft line from the side: room, parts, units, loads, reactions, dimensions, names."""

from __future__ import annotations

from dataclasses import dataclass, replace

from halfbore.domain.machine import Drum, ElevatorDrum, ElevatorPlace, Paddles, ScrewFlight
from halfbore.domain.position import Fixing, Position
from halfbore.numbers import System, write
from halfbore.present import shaft_parts as parts
from halfbore.present.frame import drawn_extent, extent_of, is_broken_off
from halfbore.present.labels import Box, Label, Spot, Words, cut, edges_of, place, wrapped
from halfbore.present.metrics import text_width
from halfbore.present.palette import Palette
from halfbore.present.shaft_bed_parts import BELT
from halfbore.present.shaft_curves import Layer, layer
from halfbore.present.shaft_forces import SMALL, Force, load_words, take_ups
from halfbore.present.shaft_from_above import SEEN
from halfbore.present.shaft_scene import ACTS, HOLDS, Scene, arrow_of, places_beside, take_up_arrow
from halfbore.present.svg import Group, Pen, Rect, Shape, Text
from halfbore.units import Kind

BADGE = 9.0
"""Radius of the badge of a position [px]."""
WORDED = 0.5
"""Part of the full height from which loads are told in words."""
ROW = 21.0
"""Height of a dimension with its words [px]."""
UPRIGHT = 90.0
"""Length below the ground over which a label stays off the dotted line of a support [px]."""
NAME_WIDTH = 150.0
"""Width at which a name is broken into lines [px]."""


@dataclass(frozen=True)
class _Seat:
    """One position with the pixels of its unit."""

    position: Position
    x: float
    half: float
    above: float
    below: float
    radius: float
    split: bool
    on_base: bool

    @property
    def ground(self) -> float:
        """Where the arrow of the reaction begins [px]."""
        return self.below + (parts.PLATE + parts.GROUND if self.on_base else 0.0) + 4.0


def _seats(scene: Scene) -> list[_Seat]:
    frame = scene.frame
    return [
        _Seat(
            p,
            frame.x(p.x),
            frame.size(size.length) / 2,
            frame.size(size.above),
            frame.size(size.below),
            frame.size(scene.job.shaft.segment_at(p.x).diameter) / 2,
            p.name in scene.units,
            p.base.fixing in (Fixing.BASE, Fixing.SIDE_ENTRY),
        )
        for p, size in zip(scene.job.positions, scene.sizes, strict=True)
    ]


def from_the_side(scene: Scene) -> Layer:
    """Return the shaft line as it stands: room, parts, units, loads, reactions, dimensions, names."""
    job, frame, look, shaft = scene.job, scene.frame, scene.look, scene.job.shaft
    seats = _seats(scene)
    rooms = [_clear_rooms(scene, seat) for seat in seats]
    sizes = _dimensions(scene, seats)
    arrows, arrow_boxes = _arrows(scene, seats)
    badges, badge_boxes = _badges(scene, seats)
    stretched = _take_ups(scene)
    outlines: list[Shape] = [
        *(s for load in job.loads for s in parts.behind(load, shaft, frame, look)),
        *parts.shaft_outline(shaft, frame, look),
        *(_part(scene, i) for i in range(len(job.loads))),
    ]
    shapes: list[Shape] = [
        *(s for room in rooms for s in room.shapes),
        *outlines,
        *(s for seat in seats for s in _unit(scene, seat)),
        parts.axis(shaft, frame, look),
        *sizes.shapes,
        *arrows,
        *badges,
        *stretched.shapes,
    ]
    units = [Box(s.x - 1.12 * s.half, -s.above, s.x + 1.12 * s.half, s.ground - 4.0) for s in seats]
    taken = [*(b for room in rooms for b in room.boxes), *sizes.boxes, *arrow_boxes, *badge_boxes, *units]
    taken += stretched.boxes
    bodies = [_outline(scene, i) for i in range(len(job.loads))]
    lines = [*edges_of(outlines), *(Box(s.x, s.ground, s.x, s.ground + UPRIGHT) for s in seats)]
    words = [w for room in rooms for w in room.labels]
    first = place(
        [*sizes.labels, *_insides(scene), *_force_labels(scene, seats), *stretched.labels],
        taken,
        0.0,
        frame.width,
        lines=lines,
    )
    second = place(_names(scene), taken, 0.0, frame.width, first, lines)
    third = place([*_diameters(scene), *words], [*taken, *bodies], 0.0, frame.width, (*first, *second), lines)
    placed = (*first, *second, *third)
    full = (*taken, *bodies, *(box for p in placed for box in p.boxes))
    return replace(
        layer(shapes, placed, look, min(b.top for b in full), max(b.bottom for b in full)), full=full
    )


def _part(scene: Scene, index: int) -> Group:
    """Return a part on the shaft, with a frame that nobody sees, so that a page can take hold of all of it."""
    load, box = scene.job.loads[index], _body(scene, index)
    hold = Rect(box.left, box.top, box.right - box.left, box.bottom - box.top)
    shapes = parts.on_shaft(load, scene.job.shaft, scene.frame, scene.look)
    return Group((*shapes, hold), name=load.name)


def _body(scene: Scene, index: int) -> Box:
    frame = scene.frame
    at = drawn_extent(scene.job.loads[index], scene.job.shaft, frame)
    radius = frame.size(at.radius)
    return Box(frame.x(at.left), -radius, frame.x(at.right), radius)


def _outline(scene: Scene, index: int) -> Box:
    """Return what a part takes on the drawing with the belt that hangs from it or rises from it."""
    load, box = scene.job.loads[index], _body(scene, index)
    if not isinstance(load, ElevatorDrum):
        return box
    above, below = (0.0, BELT) if load.place is ElevatorPlace.HEAD else (BELT, 0.0)
    return Box(box.left, box.top - above, box.right, box.bottom + below)


def _take_ups(scene: Scene) -> _Marks:
    """Return the arrow of each take-up that this view shows, beyond its drum."""
    shapes: list[Shape] = []
    boxes, labels = [], []
    names = [load.name for load in scene.job.loads]
    for force in take_ups(scene.job, scene.response, scene.condition):
        if abs(force.y) > SEEN * force.size:
            body = _outline(scene, names.index(force.part))
            edge = -body.top if force.y > 0 else body.bottom
            marks, box, label = take_up_arrow(scene, force, force.y, edge + 4.0)
            shapes += marks
            boxes.append(box)
            labels.append(label)
    return _Marks(tuple(shapes), tuple(boxes), tuple(labels))


@dataclass(frozen=True)
class _Marks:
    """Shapes with the room they take and the labels that go with them."""

    shapes: tuple[Shape, ...]
    boxes: tuple[Box, ...]
    labels: tuple[Label, ...]


def _clear_rooms(scene: Scene, seat: _Seat) -> _Marks:
    """Return the blocks that the neighbours keep on both sides of a position, with the reason in words."""
    room, frame, look = seat.position.room, scene.frame, scene.look
    names = [load.name for load in scene.job.loads]
    shapes: list[Shape] = []
    boxes, labels = [], []
    for towards, free, what in ((-1, room.plain_left, room.left_is), (1, room.plain_right, room.right_is)):
        if free is None or not seat.split:
            continue
        place_ = seat.position.x + towards * free
        if not 0.0 < place_ < scene.job.shaft.length:
            continue
        x, top = frame.x(place_), -max(seat.above, seat.radius + 14.0) - 6.0
        radius = frame.size(scene.job.shaft.segment_at(place_ + towards * 0.01).diameter) / 2
        bottom = max(seat.below, radius + 14.0)
        shapes += parts.kept_clear(x, towards, radius, top, bottom, look)
        box = parts.clear_box(x, towards, top, bottom)
        boxes.append(box)
        if what and what not in names:
            middle = (box.left + box.right) / 2
            spots = tuple(
                Spot(x, y, across, down)
                for y, down in ((top - 1, -1), (bottom + 1, 1))
                for x, across in ((middle, 0), (box.left, 1), (box.right, -1))
            )
            words = tuple(Words(line, look.ink2) for line in wrapped(what, NAME_WIDTH, 12.0))
            labels.append(Label(words, spots, points_at=(middle, top)))
    return _Marks(tuple(shapes), tuple(boxes), tuple(labels))


def _dimensions(scene: Scene, seats: list[_Seat]) -> _Marks:
    """Return what each unit needs along the shaft and what is free, above one another where they would cross."""
    shapes: list[Shape] = []
    boxes, labels = [], []
    rows: list[tuple[float, float, float]] = []
    for seat, size in zip(seats, scene.sizes, strict=True):
        room, y = seat.position.room, -max(seat.above, seat.radius + 14.0) - 13.0
        needed = (seat.x - seat.half, seat.x + seat.half)
        wanted = [(needed, write(size.length, Kind.LENGTH, scene.style), "needed", False)]
        if room.plain_left is not None and room.plain_right is not None:
            free = room.plain_left + room.plain_right
            ends = tuple(scene.frame.x(seat.position.x + d) for d in (-room.plain_left, room.plain_right))
            wanted.append(((ends[0], ends[1]), write(free, Kind.LENGTH, scene.style), "free", True))
        for (left, right), number, word, strong in wanted if seat.split else []:
            text = f"{number} {word}"
            reach = max(right - left, text_width(text, 12.0, 600)) / 2 + 4.0
            middle = (left + right) / 2
            row = (middle - reach, middle + reach)
            while any(row[0] < r and s < row[1] and abs(t - y) < ROW for s, r, t in rows):
                y -= ROW
            rows.append((*row, y))
            foot = -seat.above - 2.0
            shapes += parts.dimension(left, right, y, (foot, foot), scene.look)
            boxes.append(Box(left, y - 1.0, right, y + 1.0))
            colour, weight = (scene.look.ink, 600) if strong else (scene.look.ink2, 400)
            spots = tuple(Spot(x, y - 1.0, across, -1) for x, across in ((middle, 0), (left, 1), (right, -1)))
            labels.append(Label((Words(text, colour, weight),), spots))
    return _Marks(tuple(shapes), tuple(boxes), tuple(labels))


def _unit(scene: Scene, seat: _Seat) -> tuple[Shape, ...]:
    i = scene.job.positions.index(seat.position)
    diameter = scene.job.shaft.segment_at(seat.position.x).diameter
    return parts.unit_shapes(
        seat.x, scene.sizes[i], diameter, scene.frame, scene.look, seat.split, seat.on_base
    )


def _tips(scene: Scene, seats: list[_Seat]) -> list[tuple[Force, float, float, bool]]:
    """Return each force of this view with the y of its tail and of its tip, and whether it acts."""
    most = max((abs(f.y) for f in (*scene.forces, *scene.reactions)), default=0.0)
    most = max(most, *(abs(f.z) for f in (*scene.forces, *scene.reactions)))
    found = [(f, f.y * scene.force_scale, 0.0, True) for f in scene.forces if abs(f.y) > SMALL * most]
    for seat, force in zip(seats, scene.reactions, strict=True):
        length, ground = force.y * scene.force_scale, seat.ground
        if abs(force.y) > SMALL * most:
            tail, tip = (ground + length, ground) if length > 0 else (ground, ground - length)
            found.append((force, tail, tip, False))
    return found


def _arrows(scene: Scene, seats: list[_Seat]) -> tuple[list[Shape], list[Box]]:
    shapes: list[Shape] = []
    boxes = []
    for force, tail, tip, acts in _tips(scene, seats):
        pen = Pen(scene.look.acts, ACTS) if acts else Pen(scene.look.answers, HOLDS)
        arrows, taken = arrow_of(scene, force, tail, tip, pen, acts)
        shapes += arrows
        boxes += taken
    return shapes, boxes


def _force_labels(scene: Scene, seats: list[_Seat]) -> list[Label]:
    """Return the number of each arrow, at its tail."""
    labels = []
    for force, tail, tip, acts in _tips(scene, seats):
        colour = scene.look.acts if acts else scene.look.answers
        words = (Words(write(abs(force.y), Kind.FORCE, scene.style), colour, 600),)
        spots = (*places_beside(scene, force, tail, tip), *_outside(scene, force, (tail + tip) / 2))
        labels.append(Label(words, spots, 1 if tail > tip else -1, 12.5 if acts else 13.5))
    return labels


def _outside(scene: Scene, force: Force, y: float) -> tuple[Spot, ...]:
    """Return places for the number of an arrow clear of the shaft: beside its part or hub, or further down its upright."""
    x, load = scene.frame.x(force.x), next((p for p in scene.job.loads if p.name == force.part), None)
    if load is None:
        return tuple(Spot(x + s * 6.0, y + 22.0, s, 0) for s in (1, -1))
    box = _body(scene, scene.job.loads.index(load))
    left, right = box.left, box.right
    if isinstance(load, (Drum, ElevatorDrum)):
        half = scene.frame.size(parts.hub_width(load, scene.job.shaft) / 2)
        left, right = x - half, x + half
    above = -scene.frame.size(scene.job.shaft.segment_at(force.x).diameter) / 2 - 2.0
    return tuple(
        Spot(e, at, s, d) for at, d in ((above, -1), (-above, 1)) for e, s in ((left, -1), (right, 1))
    )


def _badges(scene: Scene, seats: list[_Seat]) -> tuple[list[Shape], list[Box]]:
    """Return the letter of each position: in its unit where there is room, else beside or below its reaction."""
    shapes: list[Shape] = []
    boxes: list[Box] = []
    for seat in seats:
        text = scene.tags[seat.position.name]
        half = _badge_half(text)
        inside = (
            seat.below - max(0.25 * seat.below, 4.0) - seat.radius >= 2 * BADGE + 4 and seat.half > half + 3
        )
        spots = [(seat.x, (seat.radius + seat.below * 0.75) / 2)] if inside else []
        rows = [seat.ground + BADGE + row * (2 * BADGE + 2) for row in range(len(seats) + 1)]
        spots += [(seat.x + side * (half + 8.0), y) for y in rows for side in (-1.0, 1.0)]
        around = [Box(x - half - 1, y - BADGE - 1, x + half + 1, y + BADGE + 1) for x, y in spots]
        free = next(n for n, box in enumerate(around) if not any(box.meets(other) for other in boxes))
        shapes.append(Group(badge(*spots[free], text, seat.split, scene.look), name=seat.position.name))
        boxes.append(around[free])
    return shapes, boxes


def _badge_half(text: str) -> float:
    """Return half the width of a badge [px]."""
    return max(BADGE, text_width(text, 12.0, 700) / 2 + 4.0)


def badge(x: float, y: float, text: str, filled: bool, look: Palette) -> tuple[Shape, ...]:
    """Return the round mark of a position, filled where a split unit is chosen."""
    half = _badge_half(text)
    fill, colour = (look.answers, look.sheet) if filled else (look.sheet, look.ink)
    pen = None if filled else Pen(look.ink, 1.4)
    plate = Rect(x - half, y - BADGE, 2 * half, 2 * BADGE, pen, fill, BADGE)
    return (plate, Text((x, y + 4.2), text, colour, 12.0, 700, "middle"))


def _diameters(scene: Scene) -> list[Label]:
    """Return each diameter of the shaft once, on its longest stretch."""
    longest: dict[float, tuple[float, float]] = {}
    start = 0.0
    for segment in scene.job.shaft.segments:
        if segment.length > longest.get(segment.diameter, (0.0, 0.0))[1]:
            longest[segment.diameter] = (start, segment.length)
        start += segment.length
    labels = []
    for d, (begin, length) in longest.items():
        radius = scene.frame.size(d) / 2
        xs = [
            scene.frame.x(begin + part * length) for part in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)
        ]
        inside = [Spot(x, -1.0, 0, -1) for x in xs] if radius >= 18.0 else []
        outside = [Spot(x, radius + 2.0, 0, 1) for x in xs]
        metric = scene.style.system is System.METRIC
        size = write(d, Kind.LENGTH, scene.style, resolution=1.0 if d == round(d) else 0.1, bare=metric)
        words = (Words(f"Ø{size}", scene.look.ink2),)
        labels.append(Label(words, (*inside, *outside), 1, points_at=(xs[0], radius)))
    return labels


def _insides(scene: Scene) -> list[Label]:
    """Return the loads in words of the parts that have room for them inside."""
    labels = []
    for i, load in enumerate(scene.job.loads):
        if _fits_inside(scene, i):
            box, words = _body(scene, i), _details(scene, load.name)
            middle = (box.left + box.right) / 2
            spots = (Spot(middle, box.top + 11, 0, 1), Spot(middle, box.bottom - 11, 0, -1))
            labels.append(Label(words, spots, halo=scene.look.metal))
    return labels


def _fits_inside(scene: Scene, index: int) -> bool:
    load, box = scene.job.loads[index], _body(scene, index)
    if isinstance(load, (Paddles, ScrewFlight)):
        return False
    words = _details(scene, load.name)
    wide = max((text_width(w.text, 12.0) for w in words), default=0.0) + 10.0
    radius = scene.frame.size(scene.job.shaft.segment_at(load.x).diameter) / 2
    return bool(words) and wide < box.right - box.left and len(words) * 14.4 + 18.0 < -box.top - radius


def _names(scene: Scene) -> list[Label]:
    """Return the name of each part above it, with its loads in words where these have no room inside."""
    labels: list[Label] = []
    for i, load in enumerate(scene.job.loads):
        box = _outline(scene, i)
        middle, top = (box.left + box.right) / 2, min(box.top, -14.0, *_spread_tails(scene, load.name))
        name = tuple(Words(line, scene.look.ink, 600) for line in wrapped(load.name, NAME_WIDTH, 12.0, 600))
        if is_broken_off(load, scene.job.shaft, scene.frame):
            across = write(2 * extent_of(load, scene.job.shaft).radius, Kind.LENGTH, scene.style)
            name = (*name, Words(f"broken off, Ø{across}", scene.look.ink2))
        words = name if _fits_inside(scene, i) else (*name, *_details(scene, load.name))
        spots = tuple(
            Spot(x, top - 2, across, -1) for x, across in ((middle, 0), (box.left, 1), (box.right, -1))
        )
        labels.append(Label(words, spots, points_at=(middle, box.top)))
    return labels


def _spread_tails(scene: Scene, part: str) -> list[float]:
    """Return the y of the numbers above the spread loads of a part [px]."""
    own = [f for f in scene.forces if f.part == part and f.length > 0 and f.y < 0]
    return [f.y * scene.force_scale - 17.0 for f in own]


def _details(scene: Scene, part: str) -> tuple[Words, ...]:
    """Return the loads of a part in words, unless one arrow already says it all or there is no room for words."""
    if scene.part < WORDED:
        return ()
    least = SMALL * max(f.size for f in (*scene.forces, *scene.reactions))
    words = load_words(scene.response, part, scene.condition, scene.style, least)
    told = words if len(words) > 1 or any("turning" in w or "any way" in w for w in words) else ()
    return tuple(Words(cut(w, 240.0, 12.0), scene.look.acts) for w in told)
