"""Activity networks: which task waits for which, when each can start, and which ones decide the end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from heapq import heapify, heappop, heappush

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.errors import InputError, Problem
from halfbore.sources import Source, Status
from halfbore.working import Number, clause

PERT = Source(
    "Hillier and Lieberman, Introduction to Operations Research",
    "PERT three-estimate approach",
    Status.FROM_MEMORY,
    "reproduces the published project means and variances",
)
SLACK_ROUNDING = 1e-9
"""A task whose slack is below this part of the total is critical: sums of one path round differently."""


@dataclass(frozen=True)
class Network:
    """Tasks and what each waits for, checked: no unknown task, no circle."""

    names: tuple[str, ...]
    predecessors: tuple[tuple[int, ...], ...]
    order: tuple[int, ...]
    """Columns in an order in which each task comes after all that it waits for."""

    def column(self, name: str) -> int:
        """Return the column of a task; InputError when there is no such task."""
        if name not in self.names:
            raise InputError(Problem("no such task", value=name, accepted=", ".join(self.names)))
        return self.names.index(name)


@dataclass(frozen=True)
class CriticalPath:
    """Early and late times of each task, in the order of the network's names, and the tasks without slack."""

    total: float
    early_start: NDArray[np.float64]
    early_finish: NDArray[np.float64]
    late_start: NDArray[np.float64]
    late_finish: NDArray[np.float64]
    slack: NDArray[np.float64]
    critical: tuple[str, ...]


def network(tasks: Mapping[str, Sequence[str]]) -> Network:
    """Build and check a network from the names of the tasks that each task waits for.

    tasks: name → names of its predecessors; the columns keep this order.
    Returns the network. InputError names every unknown predecessor, or the tasks of a circle.
    """
    unknown = [
        Problem("waits for a task that is not there", task, before, ", ".join(tasks))
        for task, waits in tasks.items()
        for before in waits
        if before not in tasks
    ]
    if unknown or not tasks:
        raise InputError(unknown or Problem("a network without tasks", next_step="give at least one task"))
    column = {name: i for i, name in enumerate(tasks)}
    predecessors = tuple(tuple(column[before] for before in dict.fromkeys(waits)) for waits in tasks.values())
    return Network(tuple(tasks), predecessors, _in_order(tuple(tasks), predecessors))


def _in_order(names: tuple[str, ...], predecessors: tuple[tuple[int, ...], ...]) -> tuple[int, ...]:
    """Return the columns so that each task comes after all that it waits for, else as they were given."""
    graph = TopologicalSorter(dict(enumerate(predecessors)))
    try:
        graph.prepare()
    except CycleError as error:
        circle = " → ".join(names[i] for i in error.args[1])
        step = "take one of these predecessors out"
        raise InputError(
            Problem("tasks wait for each other in a circle", value=circle, next_step=step)
        ) from None
    order: list[int] = []
    ready = list(graph.get_ready())
    heapify(ready)
    while ready:
        order.append(heappop(ready))
        graph.done(order[-1])
        for i in graph.get_ready():
            heappush(ready, i)
    return tuple(order)


def forward(net: Network, durations: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Start every task as early as what it waits for allows.

    durations: (draws, tasks) or (tasks,) [any unit of time], columns as in `net.names`.
    Returns starts and finishes, each of the same shape and unit.
    InputError on a wrong number of columns and on a duration that is negative or no number.
    """
    length = _durations(net, durations).T
    start, finish = np.zeros_like(length), np.empty_like(length)
    for i in net.order:
        if net.predecessors[i]:
            start[i] = np.maximum.reduce([finish[p] for p in net.predecessors[i]])
        finish[i] = start[i] + length[i]
    return start.T, finish.T


def critical_path(net: Network, durations: ArrayLike) -> CriticalPath:
    """Find the early and late times of each task and the tasks whose delay delays the end.

    durations: (tasks,) [any unit of time], columns as in `net.names`.
    Returns the critical path, all times in that unit; several critical paths give the tasks of them all.
    InputError as `forward`.
    """
    length = _durations(net, durations)
    if length.ndim != 1:
        raise InputError(Problem("the critical path is of one set of durations", value=str(length.shape)))
    start, finish = forward(net, length)
    late_start, late_finish = _backward(net, length, finish)
    slack = np.maximum(late_start - start, 0.0)  # rounding alone can make it negative
    critical = tuple(net.names[i] for i in net.order if slack[i] <= SLACK_ROUNDING * finish.max())
    return CriticalPath(float(finish.max()), start, finish, late_start, late_finish, slack, critical)


def criticality(net: Network, durations: ArrayLike) -> NDArray[np.float64]:
    """Count how often each task is critical.

    durations: (draws, tasks) [any unit of time], columns as in `net.names`.
    Returns the share of draws in which each task has no slack (tasks,), 0 to 1. InputError as `forward`.
    """
    length = np.atleast_2d(_durations(net, durations))
    start, finish = forward(net, length)
    late_start, _ = _backward(net, length, finish)
    total = finish.max(axis=1, keepdims=True)
    return np.asarray(np.mean(late_start - start <= SLACK_ROUNDING * total, axis=0), dtype=np.float64)


def span_between(
    net: Network, starts: NDArray[np.float64], finishes: NDArray[np.float64], first: str, last: str
) -> NDArray[np.float64]:
    """Read one clock: the time from the start of one task to the end of another.

    starts, finishes: (draws, tasks) or (tasks,) [any unit of time], from `forward`.
    first, last: names of the task that starts the clock and of the one that stops it.
    Returns the time of each draw in that unit.
    InputError on an unknown task, and where the clock would stop before it starts.
    """
    span = np.asarray(finishes[..., net.column(last)] - starts[..., net.column(first)])
    if np.any(span < 0.0):
        raise InputError(Problem("a clock that stops before it starts", value=f"{first} → {last}"))
    return span


@clause(PERT, "(low + 4*likely + high)/6")
def pert_mean(low: Number, likely: Number, high: Number) -> Number:
    """Return the mean of a three-point estimate.

    Hillier and Lieberman, PERT three-estimate approach
    low, likely, high: optimistic, most likely and pessimistic value, low ≤ likely ≤ high.
    Returns the mean in the same unit.
    """
    return (low + 4.0 * likely + high) / 6.0


@clause(PERT, "((high - low)/6)**2")
def pert_variance(low: Number, high: Number) -> Number:
    """Return the classic variance of a three-point estimate, a sixth of the range squared.

    Hillier and Lieberman, PERT three-estimate approach
    low, high: optimistic and pessimistic value.
    Returns the variance in the unit squared. The beta-PERT draws of `sampling` have another one.
    """
    return ((high - low) / 6.0) ** 2


def _durations(net: Network, durations: ArrayLike) -> NDArray[np.float64]:
    length = np.asarray(durations, dtype=np.float64)
    if length.ndim not in (1, 2) or length.shape[-1] != len(net.names):
        accepted = f"(draws, {len(net.names)}) or ({len(net.names)},)"
        raise InputError(
            Problem("durations do not match the tasks", value=str(length.shape), accepted=accepted)
        )
    if length.size and not (length.min() >= 0.0 and length.max() < np.inf):
        column = int(np.argwhere(~((length >= 0.0) & (length < np.inf)))[0, -1])
        bad = length[..., column]
        value = f"{np.ravel(bad[~((bad >= 0.0) & (bad < np.inf))])[0]:g}"
        raise InputError(Problem("not a duration", net.names[column], value, "zero or more"))
    return length


def _backward(
    net: Network, length: NDArray[np.float64], finish: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return late starts and late finishes: as late as the end of the project allows."""
    late = np.empty_like(length.T)
    late[:] = finish.max(axis=-1)
    for i in reversed(net.order):
        for p in net.predecessors[i]:
            late[p] = np.minimum(late[p], late[i] - length.T[i])
    return (late - length.T).T, late.T
