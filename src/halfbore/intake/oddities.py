"""What a job may say of itself but is asked about: used as it stands, and shown with what there is to settle."""

from __future__ import annotations

from collections.abc import Iterable

from halfbore.domain.job import Job, Question
from halfbore.domain.machine import (
    Drum,
    ElevatorDrum,
    ElevatorPlace,
    FanWheel,
    Load,
    MachineKind,
    Paddles,
    PointLoad,
    ScrewFlight,
    Sheave,
)
from halfbore.intake.contradictions import SAME, steps
from halfbore.phrases import mm, phrase, reading, size

HALF_A_UNIT = 0.5
"""Half the length of a unit in shaft diameters, at least (common practice, no source)."""
ONE_SHAFT = 0.01
"""Diameters that differ by more are not the same shaft (common practice, no source)."""
ONE_SEAL = 0.20
"""A seal runs on the shaft, a collar or a step beside it: further off it runs on something else (common practice,
no source)."""


def oddities(job: Job) -> Iterable[Question]:
    """Yield what is used as it stands although it looks odd."""
    for i in range(len(job.positions)):
        yield from _steps_near(job, i)
        yield from _parts_near(job, i)
        yield from _seat(job, i)
        yield from _seals(job, i)
    yield from _temperatures(job)
    for i, load in enumerate(job.loads):
        yield from _load(job, load, f"loads[{i}]")
    yield from _kind(job)


def _load(job: Job, load: Load, where: str) -> Iterable[Question]:
    match load:
        case FanWheel():
            yield from _wheel(job, load, where)
        case ElevatorDrum(place=ElevatorPlace.BOOT) if load.take_up.high <= 0:
            yield Question(
                f"{where}.take_up", "no take-up is named at the boot: nothing but weight is on its bearings"
            )
        case ElevatorDrum(place=ElevatorPlace.HEAD) if load.lift is not None and load.capacity is None:
            yield Question(f"{where}.capacity", "no capacity is named: the belt is taken to run empty")


def _wheel(job: Job, load: FanWheel, where: str) -> Iterable[Question]:
    if load.balance_in_service < load.balance_grade:
        yield Question(f"{where}.balance_in_service", "service leaves a better balance than the new wheel")
    if load.hot_length is None:
        return
    if load.gas_temperature is None:
        yield Question(f"{where}.hot_length", "it counts only with a gas temperature: how hot is the gas?")
    for p in job.positions:
        if abs(p.x - load.x) < load.hot_length / 2:
            yield Question(f"{where}.hot_length", f"{p.name} stands inside the hot casing: is that so?")


_MAKES: dict[MachineKind, tuple[str, tuple[type[Load], ...], int]] = {
    MachineKind.FAN: ("a fan wheel", (FanWheel,), 1),
    MachineKind.HEAD_SHAFT: ("a drum", (Drum,), 1),
    MachineKind.TAIL_DRUM: ("a drum", (Drum,), 1),
    MachineKind.ELEVATOR_HEAD: ("an elevator drum", (ElevatorDrum,), 1),
    MachineKind.ELEVATOR_BOOT: ("an elevator drum", (ElevatorDrum,), 1),
    MachineKind.PADDLE_SHAFT: ("paddles", (Paddles,), 1),
    MachineKind.SCREW: ("a screw flight", (ScrewFlight,), 1),
    MachineKind.JACKSHAFT: ("two sheaves", (Sheave,), 2),
}
"""What a machine kind has on its shaft, and how many of it."""


def _kind(job: Job) -> Iterable[Question]:
    """Ask where a machine lacks what makes it one of its kind, unless a point load may stand for it."""
    makes = _MAKES.get(job.machine.kind)
    if makes is None or any(isinstance(load, PointLoad) for load in job.loads):
        return
    words, types, least = makes
    if sum(isinstance(load, types) for load in job.loads) < least:
        yield Question(
            "machine.kind",
            f"the kind {job.machine.kind} has {words} on its shaft, this one has not: which is right?",
        )


def _steps_near(job: Job, i: int) -> Iterable[Question]:
    p = job.positions[i]
    for step in steps(job):
        off = step - p.x
        if abs(off) <= HALF_A_UNIT * job.shaft.segment_at(p.x).diameter:
            text = phrase(
                "the shaft has a step {} from here: a unit would stand across it", mm(abs(off), digits=4)
            )
            yield Question(f"positions[{i}].x", text)
        name = "plain_left" if off < 0 else "plain_right"
        plain = getattr(p.room, name)
        if plain is not None and plain > abs(off) + SAME:
            reach = mm(plain, digits=4)
            text = phrase("{} of plain shaft reach past the step of the shaft at {}", reach, size(step))
            yield Question(f"positions[{i}].room.{name}", text)


def _parts_near(job: Job, i: int) -> Iterable[Question]:
    p = job.positions[i]
    for load in job.loads:
        free = abs(load.x - p.x) - _width(load) / 2.0
        if free < HALF_A_UNIT * job.shaft.segment_at(p.x).diameter:
            where = phrase("{} from here", mm(free, digits=4)) if free > 0 else "across this place"
            yield Question(
                f"positions[{i}].x",
                phrase(
                    "{} stands {}, and a unit takes half a shaft diameter each way: which place is right?",
                    load.name,
                    where,
                ),
            )


def _width(load: Load) -> float:
    """Return how much of the shaft a part takes, nothing where it was not given [mm]."""
    match load:
        case Drum() | ElevatorDrum():
            return load.face or 0.0
        case Paddles() | ScrewFlight():
            return load.length
    return load.width or 0.0


def _seat(job: Job, i: int) -> Iterable[Question]:
    """Ask where the seat, the size that the unit shall have and the shaft there are not one diameter."""
    p = job.positions[i]
    seat, shaft = p.seat, job.shaft.segment_at(p.x).diameter
    measured = None if seat.diameter is None else seat.diameter.likely
    if measured is not None and seat.nominal is not None and _differs(measured, seat.nominal, ONE_SHAFT):
        yield Question(
            f"positions[{i}].seat.nominal",
            phrase(
                "{} is wanted and the seat measures {}: is the old bearing sleeve-mounted? the seat is then smaller "
                "than the old bearing's bore",
                size(seat.nominal),
                reading(measured),
            ),
        )
    named = [("nominal", seat.nominal), ("diameter", measured)]
    for name, given in named:
        if given is not None and _differs(given, shaft, ONE_SHAFT):
            yield Question(
                f"positions[{i}].seat.{name}",
                phrase(
                    "{} on a shaft of {} at this place: which of the two is right, or is the position on another "
                    "segment?",
                    size(given),
                    size(shaft),
                ),
            )
            return


def _seals(job: Job, i: int) -> Iterable[Question]:
    p = job.positions[i]
    shaft = job.shaft.segment_at(p.x).diameter
    for name in ("seal_left", "seal_right"):
        given = getattr(p, name).diameter
        if given is not None and _differs(given, shaft, ONE_SEAL):
            seal, here = size(given), size(shaft)
            text = phrase("the seal runs on {} and the shaft is {} here: on what does it run?", seal, here)
            yield Question(f"positions[{i}].{name}.diameter", text)


def _temperatures(job: Job) -> Iterable[Question]:
    for c, condition in enumerate(job.duty):
        shaft, housing = condition.shaft_temperature, condition.housing_temperature
        runs = condition.share > 0 and condition.speed > 0
        if runs and shaft is not None and housing is not None and housing.likely > shaft.likely:
            yield Question(
                f"duty[{c}].housing_temperature",
                "the housing is hotter than the shaft while it runs: heated from outside, or are the two exchanged?",
            )


def _differs(size: float, other: float, most: float) -> bool:
    return abs(size - other) > most * other
