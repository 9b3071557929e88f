"""Changeover plans: what is done, by whom, how long, exposed to what."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.economics import Stop
from halfbore.sources import Source
from halfbore.units import Span

Floats = NDArray[np.float64]


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
    CONFINED = "confined space"
    EXPLOSION = "dust or gas that explodes"
    CAUSTIC = "caustic dust or product"
    RUN_BACK = "belt run-back"
    TAKE_UP = "loaded take-up"


class Phase(StrEnum):
    """Where a task stands on the three clocks."""

    ACCESS = "before the guards are off"
    PREPARE = "guards off, old bearing not yet opened"
    EXCHANGE = "from the old bearing opened to the new one closed"
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
    """One piece of work; its duration is an estimate until a site replaces it.

    Two plans that do the same work hold the same record, and its hours are drawn once for both.
    branches: outcomes of a hold point, best first, whose chances add up to 1; empty for an ordinary task.
    decided_by: what decides the branch; hold points that name the same thing share its luck.
    """

    name: str
    phase: Phase
    hours: Span
    persons: int
    hazards: tuple[Hazard, ...]
    equipment: tuple[str, ...]
    source: Source
    branches: tuple[Branch, ...] = ()
    decided_by: str = ""


@dataclass(frozen=True)
class TaskTime:
    """One task of a plan on the time axis at likely durations [h], and the tasks that it waits for.

    slack: how much later it may start [h]; critical_share: part of the draws in which its delay delays the end.
    """

    task: Task
    after: tuple[str, ...]
    start: float
    finish: float
    slack: float
    critical_share: float


@dataclass(frozen=True)
class Clock:
    """What is read on one clock: what 10, 50 and 90 % of the draws stay below."""

    name: str
    p10: float
    p50: float
    p90: float


@dataclass(frozen=True)
class Exposure:
    """Hours and person-hours exposed to one hazard, at P50; hours in which two tasks expose count once."""

    hazard: Hazard
    hours: float
    person_hours: float


@dataclass(frozen=True)
class Plan:
    """One changeover: tasks on a time axis, three clocks, crew-hours, exposure, equipment.

    stop, seized: how the change begins; waits and tasks without people count on the clocks, not as crew-hours.
    """

    position: str
    way: Way
    stop: Stop
    seized: bool
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
    """How much shorter the split unit's plans are than the one-piece's on one clock, draw by draw, as a share."""

    clock: str
    first: Clock
    repeat: Clock


@dataclass(frozen=True)
class ChangeoverPair:
    """The plans of one position, side by side; nothing of one is computed from the other.

    one_piece, split_first: the next change, as it begins on this site; split_repeat: a later, planned one;
    one_piece_seized: the one-piece bearing changed after it has seized on the shaft.
    """

    position: str
    one_piece: Plan
    split_first: Plan
    split_repeat: Plan
    one_piece_seized: Plan
    shortening: tuple[Shortening, ...]
    claim: str
    notes: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class PlanDraws:
    """One changeover, draw by draw (draws): the clocks [h], crew-hours, person-hours exposed to any hazard."""

    exchange: Floats
    mechanical: Floats
    outage: Floats
    crew_hours: Floats
    exposed: Floats
    hired_crane: bool


@dataclass(frozen=True, eq=False)
class WayDraws:
    """All changes of one way, draw by draw: the next one, and later ones planned, after a failure, after a seizure."""

    next: PlanDraws
    planned: PlanDraws
    failed: PlanDraws
    seized: PlanDraws


@dataclass(frozen=True, eq=False)
class PairDraws:
    """Both ways in the same draws: what they have in common had the same luck.

    warnings: what the plant's record says against them.
    """

    one_piece: WayDraws
    split: WayDraws
    warnings: tuple[str, ...] = ()
