"""Work in order: tasks one after another, and lanes of tasks beside each other."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from halfbore.domain.plan import Task


@dataclass(frozen=True)
class Beside:
    """Lanes that run beside each other; what follows waits for them all."""

    lanes: tuple[tuple[Task, ...], ...]


def beside(*lanes: Iterable[Task]) -> Beside:
    """Return work in lanes; an empty lane does not count."""
    return Beside(tuple(tuple(lane) for lane in lanes))


Work = Task | Beside


class Step(NamedTuple):
    """A task in its place: the names of the tasks that it waits for."""

    task: Task
    after: tuple[str, ...]


def in_order(works: Iterable[Work]) -> tuple[Step, ...]:
    """Return the steps of work done in this order."""
    steps: list[Step] = []
    ends: tuple[str, ...] = ()
    for work in works:
        lanes = work.lanes if isinstance(work, Beside) else ((work,),)
        started = [_lane(lane, ends) for lane in lanes if lane]
        steps += [step for lane in started for step in lane]
        ends = tuple(lane[-1].task.name for lane in started) or ends
    return tuple(steps)


def _lane(tasks: tuple[Task, ...], after: tuple[str, ...]) -> list[Step]:
    waits = [after, *((task.name,) for task in tasks[:-1])]
    return [Step(task, wait) for task, wait in zip(tasks, waits, strict=True)]
