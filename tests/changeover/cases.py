"""Machines whose changeovers are tested: three kinds, built from records, and a unit to put in."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import numpy as np

from halfbore.domain.duty import Condition
from halfbore.domain.economics import Changeover, TaskOverride
from halfbore.domain.job import Job
from halfbore.domain.machine import (
    Coupling,
    Drum,
    FanWheel,
    Load,
    Machine,
    MachineKind,
    Segment,
    Shaft,
    ShaftDrive,
    Sheave,
)
from halfbore.domain.position import Mounting, Position, Role, Room
from halfbore.domain.shaftline import LiftResult, Neighbour
from halfbore.domain.unit import UnitTable
from halfbore.units import Span

RUN = (Condition("run", 1.0, 990.0),)
WHEEL = FanWheel("wheel", 2000.0, Span.of(2600.0))
COUPLING = Coupling("coupling", 100.0, Span.of(140.0))


def unit(bore: float = 160.0, **columns: Any) -> UnitTable:
    """Return a one-row table with what a changeover asks of a unit; all else is not given."""
    given = {field.name: np.array([np.nan]) for field in fields(UnitTable)}
    given |= {"bore": np.array([bore]), "heaviest_half": np.array([18.0])}
    return UnitTable(**(given | {name: np.array([value]) for name, value in columns.items()}))


def position(name: str, x: float, *traps: str, **changes: Any) -> Position:
    """Return a position with an old bearing on an adapter sleeve and a hoist above it."""
    base: dict[str, Any] = {"old_mounting": Mounting.ADAPTER_SLEEVE, "room": Room(hoist=True)}
    return Position(name, x, Role.LOCATING, trapped_between=traps, **(base | changes))


def job(
    kind: MachineKind, diameter: float, loads: tuple[Load, ...], positions: tuple[Position, ...], **site: Any
) -> Job:
    """Return a job on a shaft of one diameter."""
    shaft = Shaft((Segment(5000.0, diameter),))
    return Job(1, "a test", Machine("M", kind), shaft, loads, positions, RUN, changeover=Changeover(**site))


def fan(trapped: bool = True, **changes: Any) -> tuple[Job, Position]:
    """Return a centre-hung fan and its coupling side, or its free end."""
    ends = (
        position("A", 500.0, "coupling", "wheel", **changes),
        position("B", 3500.0, "wheel", **changes),
    )
    return job(MachineKind.FAN, 160.0, (COUPLING, WHEEL), ends), ends[0 if trapped else 1]


def overhung_fan() -> tuple[Job, Position]:
    """Return an overhung fan and its wheel side."""
    ends = (position("A", 500.0, "coupling", "B"), position("B", 1500.0, "A", "wheel"))
    return job(MachineKind.FAN, 160.0, (COUPLING, replace(WHEEL, x=1900.0)), ends), ends[1]


def head_shaft() -> tuple[Job, Position]:
    """Return a head shaft with a shaft-mounted drive, and the side of the drive."""
    loads = (
        ShaftDrive("gear unit", 200.0, Span.of(780.0), 0.0),
        Drum("drum", 1500.0, Span.of(900.0), 800.0, 1.57),
    )
    ends = (position("A", 700.0, "gear unit", "drum"), position("B", 2500.0, "drum"))
    return job(MachineKind.HEAD_SHAFT, 150.0, loads, ends), ends[0]


def line_shaft() -> tuple[Job, Position]:
    """Return a line shaft on four bearings, and one between sheaves."""
    loads = tuple(
        Sheave(f"sheave {i}", x, Span.of(60.0), 500.0, 1.57) for i, x in enumerate((700.0, 2400.0, 4200.0), 1)
    )
    places = (("1", 100.0), ("2", 1600.0), ("3", 3300.0), ("4", 4800.0))
    ends = tuple(position(name, x, "sheave", "sheave") for name, x in places)
    return job(MachineKind.PLAIN_SHAFT, 95.0, loads, ends, crew=2), ends[1]


def told(given: Job, **site: Any) -> Job:
    """Return a job with other words of the site on the work."""
    return replace(given, changeover=replace(given.changeover, **site))


def own_hours(task: str, hours: Span, plan: str = "") -> tuple[TaskOverride, ...]:
    """Return the site's own hours of one task."""
    return (TaskOverride(task, hours, plan),)


def lifted(lift: float, **slopes: float) -> LiftResult:
    """Return a shaft lifted by so much [mm], with its slope at other bearings [rad]."""
    others = tuple(Neighbour(name, -500.0, slope) for name, slope in slopes.items())
    return LiftResult(
        "A", 800.0, False, lift, lift, 9000.0, "a jack from below carries the shaft here", others
    )
