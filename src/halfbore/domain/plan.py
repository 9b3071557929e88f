"""Changeover plans: what is done, by whom, how long, exposed to what."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from halfbore.sources import Source
from halfbore.units import Span


class Way(StrEnum):
    """The way in which the bearing is changed."""

    ONE_PIECE = "one-piece bearing"
    SPLIT_FIRST = "split unit, first conversion"
    SPLIT_REPEAT = "split unit, repeat change"


class Hazard(StrEnum):
    """What people are exposed to in a task."""

    STORED_ENERGY = "stored energy"
    SUSPENDED_LOAD = "suspended load"
    HOT_WORK = "hot work"
    HOT_SURFACE = "hot surface"
    HANDLING = "handling weight"
    ROTATING = "rotating parts"
    HEIGHT = "work at height"


class Phase(StrEnum):
    """Where a task stands on the three clocks."""

    ACCESS = "before the guards are off"
    PREPARE = "guards off, old bearing not yet loose"
    EXCHANGE = "exchange"
    RESTORE = "new bearing closed, guards not yet on"
    RESTART = "after the guards are on"


@dataclass(frozen=True)
class Branch:
    """One outcome of a hold point: its chance and the hours that it adds."""

    name: str
    chance: float
    hours: Span


@dataclass(frozen=True)
class Task:
    """One task of a plan; its duration is an estimate until a site replaces it.

    branches: outcomes of a hold point, whose chances add up to 1; empty for an ordinary task.
    """

    name: str
    phase: Phase
    after: tuple[str, ...]
    hours: Span
    persons: int
    hazards: tuple[Hazard, ...]
    equipment: tuple[str, ...]
    source: Source
    branches: tuple[Branch, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class TaskTime:
    """One task on the time axis at likely durations [h]."""

    task: Task
    start: float
    finish: float
    slack: float
    critical_share: float


@dataclass(frozen=True)
class Clock:
    """Hours on one clock: what 10, 50 and 90 % of the draws stay below."""

    name: str
    p10: float
    p50: float
    p90: float


@dataclass(frozen=True)
class Exposure:
    """Hours and person-hours exposed to one hazard, at P50."""

    hazard: Hazard
    hours: float
    person_hours: float


@dataclass(frozen=True)
class Plan:
    """One changeover: tasks on a time axis, three clocks, crew-hours, exposure, equipment."""

    position: str
    way: Way
    title: str
    tasks: tuple[TaskTime, ...]
    critical_path: tuple[str, ...]
    exchange: Clock
    mechanical: Clock
    outage: Clock
    crew_hours: Clock
    exposure: tuple[Exposure, ...]
    equipment: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Shortening:
    """How much shorter one plan is than another on one clock, draw by draw, as a share."""

    clock: str
    first: Clock
    repeat: Clock


@dataclass(frozen=True)
class ChangeoverPair:
    """The plans of one position, side by side; nothing of one is computed from the other."""

    position: str
    one_piece: Plan
    split_first: Plan
    split_repeat: Plan
    shortening: tuple[Shortening, ...]
    claim: str
