"""The shaft line that a survey sheet shows for each kind of machine: schematic, lengths in px of the sketch."""

from __future__ import annotations

from dataclasses import dataclass

from halfbore.domain.machine import (
    Coupling,
    Drum,
    ElevatorDrum,
    FanWheel,
    Paddles,
    PointLoad,
    ScrewFlight,
    ShaftDrive,
    Sheave,
)
from halfbore.domain.position import Fixing
from halfbore.domain.survey import Thing
from halfbore.domain.survey_form import Ask, SheetKind
from halfbore.errors import InputError, Problem


@dataclass(frozen=True)
class Step:
    """A stretch of shaft of one diameter; gauge: where its diameter is shown, from the drive end."""

    length: float
    diameter: float
    gauge: float


@dataclass(frozen=True)
class Part:
    """A part on the shaft; kind: of its record; hubs: their distance; main: what the machine works with."""

    kind: str
    name: str
    x: float
    width: float
    diameter: float
    hubs: float = 0.0
    main: bool = False


@dataclass(frozen=True)
class Bearing:
    """A bearing position."""

    letter: str
    x: float
    fixing: Fixing = Fixing.BASE


@dataclass(frozen=True)
class Layout:
    """A shaft line as sketched, from its drive end; walls: of the casing that the shaft goes through."""

    kind: SheetKind
    steps: tuple[Step, ...]
    parts: tuple[Part, ...]
    bearings: tuple[Bearing, ...]
    walls: tuple[float, ...] = ()

    @property
    def length(self) -> float:
        """Length of the whole shaft."""
        return sum(step.length for step in self.steps)


@dataclass(frozen=True)
class Dimension:
    """A numbered dimension of the sketch: which field of which part, bearing or stretch of shaft."""

    number: int
    ask: Ask
    index: int


SIZES: dict[str, tuple[str, ...]] = {
    FanWheel.KIND: ("diameter", "width"),
    Sheave.KIND: ("diameter",),
    Drum.KIND: ("diameter", "hub_spacing"),
    ElevatorDrum.KIND: ("diameter", "hub_spacing"),
    Paddles.KIND: ("diameter", "length"),
    ScrewFlight.KIND: ("diameter", "length"),
}
"""Sizes of a part that the sketch numbers: first across the shaft, then along it."""


def dimensions(layout: Layout) -> tuple[Dimension, ...]:
    """Return the numbered dimensions: places from the drive end first, then the steps, then the parts."""
    places = [
        *((part.x, Ask(Thing.PART, "x"), i) for i, part in enumerate(layout.parts)),
        *((bearing.x, Ask(Thing.POSITION, "x"), i) for i, bearing in enumerate(layout.bearings)),
    ]
    asks = [(ask, i) for _, ask, i in sorted(places, key=lambda p: p[0])]
    for i, _ in enumerate(layout.steps):
        asks += [(Ask(Thing.SEGMENT, "length"), i), (Ask(Thing.SEGMENT, "diameter"), i)]
    for i, part in enumerate(layout.parts):
        asks += [(Ask(Thing.PART, path), i) for path in SIZES.get(part.kind, ())]
    return tuple(Dimension(number, ask, i) for number, (ask, i) in enumerate(asks, start=1))


MOST = 6
"""Positions that the sketch of one shaft can show."""


def layout_of(kind: SheetKind, positions: int = 0) -> Layout:
    """Return the shaft line of a survey sheet.

    positions: bearings on it; 0 for the usual number. Only line shafts and plain shafts have more than two.
    Raises InputError for a number that the sheet does not have.
    """
    usual = {SheetKind.LINE_SHAFT: 4}.get(kind, 2)
    wanted = positions or usual
    most = MOST if kind in (SheetKind.LINE_SHAFT, SheetKind.PLAIN_SHAFT) else 2
    if not 2 <= wanted <= most:
        accepted = f"2 to {most}" if most > 2 else "2"
        step = f"take the sheet of a {SheetKind.PLAIN_SHAFT}" if most == 2 else "take two sheets"
        raise InputError(
            Problem("no sheet with so many positions", str(kind), str(positions), accepted, step)
        )
    if kind is SheetKind.LINE_SHAFT:
        return _line_shaft(wanted)
    if kind is SheetKind.PLAIN_SHAFT:
        return _plain_shaft(wanted)
    return _LAYOUTS[kind]


def _pair(first: float, second: float, fixing: Fixing = Fixing.BASE) -> tuple[Bearing, Bearing]:
    return Bearing("A", first, fixing), Bearing("B", second, fixing)


def _line_shaft(count: int) -> Layout:
    """Return a line shaft with a sheave in each bay."""
    bay = 500.0 / (count - 1)
    bearings = tuple(Bearing("ABCDEF"[i], 56.0 + i * bay) for i in range(count))
    sheaves = tuple(
        Part(Sheave.KIND, f"sheave {i + 1}", 56.0 + (i + 0.38) * bay, min(34.0, 0.26 * bay), 92.0, main=True)
        for i in range(count - 1)
    )
    steps = (Step(612.0, 26.0, 597.0),)
    return Layout(SheetKind.LINE_SHAFT, steps, sheaves, bearings)


def _plain_shaft(count: int) -> Layout:
    """Return a plain shaft with a part in its first bay."""
    bay = 400.0 / (count - 1)
    bearings = tuple(Bearing("ABCDEF"[i], 106.0 + i * bay) for i in range(count))
    part = Part(PointLoad.KIND, "part", 106.0 + 0.45 * bay, min(90.0, 0.3 * bay), 100.0, main=True)
    return Layout(SheetKind.PLAIN_SHAFT, (Step(612.0, 32.0, 48.0),), (part,), bearings)


_DRIVE = Part(ShaftDrive.KIND, "gear unit", 62.0, 84.0, 136.0)
_ENDS = (Step(226.0, 28.0, 125.0), Step(238.0, 40.0, 253.0), Step(128.0, 28.0, 560.0))
_FREE_DRUM = (Step(134.0, 28.0, 26.0), Step(330.0, 40.0, 163.0), Step(134.0, 28.0, 572.0))
_LAYOUTS = {
    SheetKind.FAN: Layout(
        SheetKind.FAN,
        (Step(156.0, 28.0, 65.0), Step(310.0, 42.0, 228.0), Step(126.0, 28.0, 570.0)),
        (
            Part(Coupling.KIND, "coupling half", 28.0, 40.0, 104.0),
            Part(FanWheel.KIND, "fan wheel", 311.0, 96.0, 186.0, main=True),
        ),
        _pair(112.0, 510.0),
        (200.0, 422.0),
    ),
    SheetKind.OVERHUNG_FAN: Layout(
        SheetKind.OVERHUNG_FAN,
        (Step(184.0, 28.0, 94.0), Step(168.0, 42.0, 240.0), Step(240.0, 28.0, 576.0)),
        (
            Part(Sheave.KIND, "sheave", 34.0, 42.0, 104.0),
            Part(FanWheel.KIND, "fan wheel", 500.0, 86.0, 186.0, main=True),
        ),
        _pair(142.0, 394.0),
        (440.0,),
    ),
    SheetKind.HEAD_SHAFT: Layout(
        SheetKind.HEAD_SHAFT,
        _ENDS,
        (_DRIVE, Part(Drum.KIND, "head drum", 352.0, 160.0, 176.0, 120.0, main=True)),
        _pair(182.0, 510.0),
    ),
    SheetKind.TAIL_DRUM: Layout(
        SheetKind.TAIL_DRUM,
        _FREE_DRUM,
        (Part(Drum.KIND, "tail drum", 299.0, 220.0, 176.0, 172.0, main=True),),
        _pair(88.0, 510.0),
    ),
    SheetKind.ELEVATOR_HEAD: Layout(
        SheetKind.ELEVATOR_HEAD,
        _ENDS,
        (_DRIVE, Part(ElevatorDrum.KIND, "head drum", 352.0, 146.0, 176.0, 108.0, main=True)),
        _pair(182.0, 510.0),
        (233.0, 457.0),
    ),
    SheetKind.ELEVATOR_BOOT: Layout(
        SheetKind.ELEVATOR_BOOT,
        _FREE_DRUM,
        (Part(ElevatorDrum.KIND, "boot drum", 299.0, 206.0, 176.0, 152.0, main=True),),
        (Bearing("C", 88.0, Fixing.TAKE_UP), Bearing("D", 510.0, Fixing.TAKE_UP)),
        (142.0, 455.0),
    ),
    SheetKind.PADDLE_SHAFT: Layout(
        SheetKind.PADDLE_SHAFT,
        _ENDS,
        (_DRIVE, Part(Paddles.KIND, "paddles", 352.0, 150.0, 150.0, main=True)),
        _pair(182.0, 510.0),
        (233.0, 457.0),
    ),
    SheetKind.SCREW: Layout(
        SheetKind.SCREW,
        _ENDS,
        (_DRIVE, Part(ScrewFlight.KIND, "screw flight", 352.0, 150.0, 116.0, main=True)),
        _pair(182.0, 510.0),
        (233.0, 457.0),
    ),
    SheetKind.JACKSHAFT: Layout(
        SheetKind.JACKSHAFT,
        (Step(196.0, 28.0, 104.0), Step(200.0, 40.0, 296.0), Step(196.0, 28.0, 484.0)),
        (
            Part(Sheave.KIND, "driven sheave", 40.0, 54.0, 166.0, main=True),
            Part(Sheave.KIND, "driving sheave", 526.0, 46.0, 120.0, main=True),
        ),
        _pair(152.0, 440.0),
    ),
}
