"""What machine and site add to the hazards of the work: casings, heat, dust, a belt that runs back, its take-up."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from halfbore.changeover import fan_tasks as fan
from halfbore.changeover import head_shaft_tasks as head
from halfbore.changeover import plain_shaft_tasks as plain
from halfbore.changeover import shared_tasks as shared
from halfbore.changeover.seat_branches import SeatState
from halfbore.domain.job import Job
from halfbore.domain.machine import (
    NO_ZONE_NAMED,
    Drum,
    ElevatorDrum,
    ElevatorPlace,
    FanWheel,
    Paddles,
    ScrewFlight,
)
from halfbore.domain.plan import Hazard, Task

HOT = 60.0
"""Gas or air over which a shaft stays too hot to touch at a stop [°C] (common practice, no source)."""


def _any_of(words: str) -> re.Pattern[str]:
    return re.compile(rf"\b({words.replace(' ', '|')})\b", re.IGNORECASE)


_ENCLOSED = _any_of("bunker hopper silo silos tank vessel")
_CAUSTIC = _any_of("acid alkali ash caustic cement clinker corrosive hydrator lime lye quicklime slaker")
_EXPLODES = _any_of(
    "biomass carbon cereal coal cocoa coke explosive flour grain lignite maize malt methane milk peat pellet pellets "
    "petcoke resin rice sawdust solvent soya starch straw sugar sulfur sulphur wheat wood"
)
"""Words of a machine and its site that tell what it holds (common practice, no source)."""

_HOLDING = (shared.HOLD_SHAFT, head.HOLD_DRUM, fan.SECURE_WHEEL, fan.OPEN_CASING)
_AT_THE_BEARING = (
    *(shared.OPEN_HOUSING, shared.OPEN_SPLIT, shared.OLD_BASE, shared.FIT_HALVES, shared.NEW_HALVES),
    *(shared.take_off(None), shared.cut_off(None, True, False), shared.cut_off(None, False, False)),
    *(shared.fit_new(None), shared.CLEAR_DEBRIS),
)
_MEASURING = (
    *(shared.clean_seat(SeatState.GOOD), shared.hold_point(SeatState.GOOD), shared.inspect_seat(False)),
)
_BELT = (head.HOLD_DRUM, head.TENSION_BELT)
_TASKS = {
    Hazard.HEIGHT: (*_HOLDING, *_AT_THE_BEARING, *_MEASURING),
    Hazard.HOT_SURFACE: (shared.HOLD_SHAFT, *_AT_THE_BEARING, *_MEASURING),
    Hazard.CONFINED: (*_HOLDING, fan.CLOSE_CASING, fan.CLOSE_SEAL, head.TENSION_BELT, plain.PULL_PART),
    Hazard.EXPLOSION: (*_HOLDING, shared.PERMIT, *_AT_THE_BEARING),
    Hazard.CAUSTIC: (*_HOLDING, *_AT_THE_BEARING),
    Hazard.RUN_BACK: _BELT,
    Hazard.TAKE_UP: _BELT,
}
_NAMES = {hazard: frozenset(task.name for task in tasks) for hazard, tasks in _TASKS.items()}
"""In which tasks people meet each of them."""


def of(job: Job) -> Iterator[Hazard]:
    """Yield what a machine and its site add to the hazards of every changeover on it."""
    words = _told(job)
    if any(isinstance(part, ElevatorDrum) and part.place is ElevatorPlace.HEAD for part in job.loads):
        yield Hazard.HEIGHT
    if is_hot(job):
        yield Hazard.HOT_SURFACE
    if _has(job, ElevatorDrum, FanWheel, Paddles, ScrewFlight) or _ENCLOSED.search(words):
        yield Hazard.CONFINED
    if explodes(job):
        yield Hazard.EXPLOSION
    if _CAUSTIC.search(words):
        yield Hazard.CAUSTIC
    if _has(job, Drum, ElevatorDrum):
        yield Hazard.RUN_BACK
        yield Hazard.TAKE_UP


def is_hot(job: Job) -> bool:
    """Return whether gas in the machine or air at its bearings keeps the shaft hot."""
    gas = [part.gas_temperature for part in job.loads if isinstance(part, FanWheel)]
    return max(t.high for t in (*gas, job.machine.site.ambient) if t is not None) > HOT


def explodes(job: Job) -> bool:
    """Return whether the site names an explosive zone, or the machine holds what may explode as dust or gas."""
    zone = job.machine.site.explosive_zone.strip().casefold()
    return zone not in ("", NO_ZONE_NAMED, "none", "no", "-", "–") or bool(_EXPLODES.search(_told(job)))


def notes(job: Job) -> Iterator[str]:
    """Yield what heat, and dust or gas that explodes, ask of the plan."""
    if is_hot(job) and job.changeover.cooling.high <= 0.0:
        yield "Caution: the shaft is hot at a stop and no cooling-down time is given: the plan counts none."
    if explodes(job) and job.changeover.hot_work_allowed:
        yield (
            "Caution: hot work is planned where dust or gas may explode: only with the site's release; where it is not "
            "allowed, say so under changeover, and the plan splits the old bearing cold."
        )


def added(task: Task, dangers: tuple[Hazard, ...]) -> Task:
    """Return a task with what machine and site add to its hazards."""
    more = [h for h in dangers if task.name in _NAMES[h] and h not in task.hazards]
    return replace(task, hazards=(*task.hazards, *more)) if more else task


def _told(job: Job) -> str:
    """Return what the job calls machine, parts and special rules: neither plant nor customer tells what it holds."""
    return " ".join((job.title, job.machine.name, *job.machine.site.special, *(p.name for p in job.loads)))


def _has(job: Job, *parts: type) -> bool:
    return any(isinstance(load, parts) for load in job.loads)
