"""Labels that never collide: each takes the first of its places that is free, else it moves until one is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from halfbore.present.metrics import text_width
from halfbore.present.svg import Group, Line, Pen, Point, Poly, Rect, Shape, Text

LEADING = 1.2
"""Line pitch over font size."""
CLEAR = 2.0
"""Clear room around a label [px]."""


@dataclass(frozen=True)
class Box:
    """A rectangle with y downwards [px]."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether the rectangles have more than an edge in common."""
        apart = self.right <= other.left or other.right <= self.left
        return not (apart or self.bottom <= other.top or other.bottom <= self.top)

    def moved(self, dx: float, dy: float) -> Box:
        """Return the rectangle moved."""
        return Box(self.left + dx, self.top + dy, self.right + dx, self.bottom + dy)


@dataclass(frozen=True)
class Words:
    """One line of a label."""

    text: str
    colour: str
    weight: int = 400


@dataclass(frozen=True)
class Spot:
    """A place for a label: across −1, 0, 1 puts it left of, over or right of x; down −1, 0, 1 above, at or below y."""

    x: float
    y: float
    across: int = 0
    down: int = 0


@dataclass(frozen=True)
class Label:
    """Text that looks for a place.

    spots: places in order of preference; drift: −1 upwards or 1 downwards when all are taken;
    points_at: end of a leader that is drawn when the label had to move away; halo: colour of the ground it lies on,
    the sheet's where empty.
    """

    words: tuple[Words, ...]
    spots: tuple[Spot, ...]
    drift: int = -1
    size: float = 12.0
    points_at: Point | None = None
    halo: str = ""


@dataclass(frozen=True)
class Placed:
    """A label with the rectangle that it has taken, and its leader where it found none of its spots free."""

    label: Label
    box: Box
    leader: tuple[Point, Point] | None = None

    @property
    def boxes(self) -> tuple[Box, ...]:
        """What the label and its leader take."""
        return (self.box, *([_along(*self.leader)] if self.leader else []))


def place(
    labels: Iterable[Label],
    taken: Sequence[Box],
    left: float,
    right: float,
    before: Sequence[Placed] = (),
    lines: Sequence[Box] = (),
) -> tuple[Placed, ...]:
    """Return the labels with their rectangles: inside left and right, clear of each other and of what is taken.

    before: labels that already have their place; these too stay clear, and no leader crosses them.
    lines: what a label lies across only where all its spots do.
    """
    full = [*taken, *(box for p in before for box in p.boxes)]
    placed: list[Placed] = []
    for label in labels:
        found = _find(label, full, [p.box for p in (*before, *placed)], left, right, lines)
        full += found.boxes
        placed.append(found)
    return tuple(placed)


def _find(
    label: Label,
    taken: Sequence[Box],
    texts: Sequence[Box],
    left: float,
    right: float,
    lines: Sequence[Box],
) -> Placed:
    boxes = [_inside(box_at(label, spot), left, right) for spot in label.spots]
    free = [box for box in boxes if not any(box.meets(other) for other in taken)]
    if free:
        # of equal spots the first: min is stable
        return Placed(label, min(free, key=lambda box: any(box.meets(line) for line in lines)))
    width = boxes[0].right - boxes[0].left
    shifts = (0.0, 0.25, -0.25, 0.45, -0.45) if label.points_at else (0.0,)
    drifts = (label.drift, -label.drift) if label.points_at else (label.drift,)
    starts = [_inside(boxes[0].moved(s * width, 0.0), left, right) for s in shifts]
    moved = [_past(box, taken, drift) for drift in drifts for box in starts]
    for box in moved:
        leader = _leader(label, box)
        if leader is not None and not any(_along(*leader).meets(text) for text in texts):
            return Placed(label, box, leader)
    return Placed(label, moved[0])


def _past(box: Box, taken: Sequence[Box], drift: int) -> Box:
    """Return a rectangle moved up or down until it is free."""
    while hit := [other for other in taken if box.meets(other)]:
        # past the nearest edge of what is in the way; each step leaves at least one obstacle behind for good
        edge = min(o.top for o in hit) - box.bottom if drift < 0 else max(o.bottom for o in hit) - box.top
        box = box.moved(0.0, edge)
    return box


def _leader(label: Label, box: Box) -> tuple[Point, Point] | None:
    """Return the upright line from a label to what it points at, if it stands over or under that."""
    if label.points_at is None or not box.left + 3 <= label.points_at[0] <= box.right - 3:
        return None
    return (label.points_at[0], box.bottom if label.points_at[1] > box.bottom else box.top), label.points_at


def _along(start: Point, end: Point) -> Box:
    return Box(start[0] - 1.0, min(start[1], end[1]), start[0] + 1.0, max(start[1], end[1]))


def edges_of(shapes: Iterable[Shape]) -> Iterator[Box]:
    """Yield the upright and level edges of drawn shapes as rectangles without width."""
    for shape in shapes:
        match shape:
            case Group(shapes=inner):
                yield from edges_of(inner)
            case Rect(pen=Pen()):
                x, y = shape.left, shape.top
                a, b = x + shape.width, y + shape.height
                yield from (Box(x, y, x, b), Box(a, y, a, b), Box(x, y, a, y), Box(x, b, a, b))
            case Line():
                yield from _edge(shape.start, shape.end)
            case Poly(pen=Pen()):
                yield from (e for one, two in pairwise(shape.points) for e in _edge(one, two))


def _edge(start: Point, end: Point) -> Iterator[Box]:
    (x, y), (a, b) = start, end
    if min(abs(a - x), abs(b - y)) < 1.0:
        yield Box(min(x, a), min(y, b), max(x, a), max(y, b))


def box_at(label: Label, spot: Spot) -> Box:
    """Return the rectangle of a label at a spot, with its clear room."""
    width = max(text_width(w.text, label.size, w.weight) for w in label.words) + 2 * CLEAR
    height = len(label.words) * label.size * LEADING + 2 * CLEAR
    left = spot.x - width * (1 - spot.across) / 2
    top = spot.y - height * (1 - spot.down) / 2
    return Box(left, top, left + width, top + height)


def _inside(box: Box, left: float, right: float) -> Box:
    return box.moved(max(left - box.left, min(0.0, right - box.right)), 0.0)


def drawn(placed: Placed, halo: str, leader: Pen) -> tuple[Shape, ...]:
    """Return the text of a placed label, its leader first."""
    label, box = placed.label, placed.box
    middle = (box.left + box.right) / 2
    lines: list[Shape] = []
    if placed.leader is not None:
        lines.append(Line(*placed.leader, leader))
    pitch = label.size * LEADING
    for i, words in enumerate(label.words):
        base = box.top + CLEAR + i * pitch + 0.78 * pitch
        ground = label.halo or halo
        lines.append(
            Text((middle, base), words.text, words.colour, label.size, words.weight, "middle", ground)
        )
    return tuple(lines)


def wrapped(text: str, width: float, size: float, weight: int = 400, lines: int = 2) -> tuple[str, ...]:
    """Return a text broken at its spaces into so many lines at most; what is too long ends in …"""
    found: list[str] = []
    for word in text.split():
        longer = f"{found[-1]} {word}" if found else word
        if found and text_width(longer, size, weight) <= width:
            found[-1] = longer
        else:
            found.append(word)
    if len(found) > lines:
        found = [*found[: lines - 1], " ".join(found[lines - 1 :])]
    return tuple(cut(line, width, size, weight) for line in found)


def cut(text: str, width: float, size: float, weight: int = 400) -> str:
    """Return a text that fits into a width, cut and ended in … where it is longer."""
    if text_width(text, size, weight) <= width:
        return text
    while text and text_width(text + "…", size, weight) > width:
        text = text[:-1].rstrip()
    return text + "…"
