"""What machine and site add to the hazards of the work: casings, burning dust, a belt that runs back, its take-up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from halfbore.changeover import fan_tasks as fan
from halfbore.changeover import head_shaft_tasks as head
from halfbore.changeover import shared_tasks as shared
from halfbore.domain.job import Job
from halfbore.domain.machine import Contamination, Drum, ElevatorDrum, FanWheel, Paddles, ScrewFlight
from halfbore.domain.plan import Hazard, Task

ENCLOSED = (ElevatorDrum, FanWheel, Paddles, ScrewFlight)
"""Parts that turn in a boot, a casing or a trough."""
BURNS = ("acid", "alkali", "burn", "caustic", "cement", "corrosive", "lime", "lye", "steam")
"""Words of a site that tell of dust or product that burns skin and eyes."""
_OPENING = (fan.OPEN_CASING, fan.SECURE_WHEEL, head.HOLD_DRUM, shared.HOLD_SHAFT)
_TASKS = {
    Hazard.CONFINED: _OPENING,
    Hazard.BURNING: (*_OPENING, shared.OPEN_HOUSING, shared.OPEN_SPLIT, shared.OLD_BASE, shared.FIT_HALVES),
    Hazard.RUN_BACK: (head.HOLD_DRUM,),
    Hazard.TAKE_UP: (head.HOLD_DRUM, head.TENSION_BELT),
}
"""In which tasks people meet each of them: tasks that expose people as they are."""


def of(job: Job) -> Iterator[Hazard]:
    """Yield what a machine and its site add to the hazards of every changeover on it."""
    site = job.machine.site
    if any(isinstance(part, ENCLOSED) for part in job.loads):
        yield Hazard.CONFINED
    told = any(word in words.casefold() for words in site.special for word in BURNS)
    if told or site.contamination in (Contamination.SEVERE, Contamination.VERY_SEVERE):
        yield Hazard.BURNING
    if any(isinstance(part, (Drum, ElevatorDrum)) for part in job.loads):
        yield Hazard.RUN_BACK
    if any(isinstance(part, (Drum, ElevatorDrum)) for part in job.loads):
        yield Hazard.TAKE_UP


def added(task: Task, dangers: tuple[Hazard, ...]) -> Task:
    """Return a task with what machine and site add to its hazards."""
    names = {hazard: {t.name for t in tasks} for hazard, tasks in _TASKS.items()}
    more = tuple(hazard for hazard in dangers if task.name in names[hazard])
    return replace(task, hazards=(*task.hazards, *more)) if more else task
