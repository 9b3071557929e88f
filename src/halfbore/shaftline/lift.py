"""Lifting and holding: the shaft at standstill with one bearing away and a jack beside it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.job import Job
from halfbore.domain.machine import Coupling, Drum, ElevatorDrum, ElevatorPlace
from halfbore.domain.shaftline import AppliedLoad, LiftResult, Nature, Neighbour, OtherState
from halfbore.numerics import beam
from halfbore.phrases import joined, kilonewton, phrase
from halfbore.shaftline import drums, solve

Floats = NDArray[np.float64]

JACK_BESIDE = 2.0
"""Where a jack stands when the survey does not say: this many diameters towards the middle, or halfway to the next
bearing where that is nearer (common practice, no source)."""

MOST_STEPS = 12
"""Steps to the height of the jack; each neighbour that lifts off costs one."""
EXACT = 1e-9
"""A step that no longer matters [mm]."""
TAKE_UP_ON = "while the take-up is on"
"""The state of a lift in which a plan has not yet slackened the belt."""
ALIKE = 1.0
"""Forces of the jack that differ by less are one force [N]."""


def lift_at(job: Job, loads: tuple[AppliedLoad, ...], position: str, lift: float) -> LiftResult:
    """Return the jack's force and what it does to the neighbours when the shaft is lifted at a position.

    job: the machine; loads: on its shaft, of which only the weights act at standstill; the belt that hangs on a head
    whose strands are given is taken from its falling strand.
    position: its name; lift: of the shaft at the position above its running place [mm].
    """
    index = next(i for i, p in enumerate(job.positions) if p.name == position)
    jack_x, assumed = jack_place(job, index)
    states = _states(job, loads)
    found = _lifted(job, states, index, jack_x, lift)
    force = found.lifted.reaction[:, -1]
    others = tuple(OtherState(w, float(f)) for w, f in zip(states.words[1:], force[1:], strict=True))
    first = float(force[0])
    return LiftResult(
        position,
        jack_x,
        assumed,
        lift,
        float(found.at_jack[0]),
        first,
        joined("; ", (_holding(first), *_belts(job), *_in_words(first, others))),
        _neighbours(job, index, found, np.array([words != TAKE_UP_ON for words in states.words])),
        others,
    )


@dataclass(frozen=True)
class _States:
    """What acts at standstill in every state of a lift: its words, all loads, and which of them act (states, loads)."""

    words: tuple[str, ...]
    loads: list[AppliedLoad]
    acts: Floats

    def on(self, job: Job, line: beam.Beam, heights: int) -> beam.Loads:
        """Return the likely loads on a shaft, each state as often as there are heights of the jack."""
        size = np.array([load.force_y[0, 1] for load in self.loads]) * self.acts
        couple = np.array([load.couple[0, 1, 0] for load in self.loads]) * self.acts
        along = solve.own_weight(job, line) + size @ solve.spread(line, self.loads)
        places = np.array([load.x for load in self.loads])
        point = size * solve.at_place(self.loads)
        return beam.Loads(places, *(np.repeat(table, heights, axis=0) for table in (point, couple, along)))


@dataclass(frozen=True)
class _Lifted:
    """The shaft in every state, standing on all bearings and lifted: both solved, and the jack's height (states)."""

    standing: beam.BeamSolution
    lifted: beam.BeamSolution
    at_jack: Floats


def _states(job: Job, loads: tuple[AppliedLoad, ...]) -> _States:
    """Return what acts at standstill: with take-ups slack, then as other work leaves it."""
    weights = [load for load in loads if load.nature is Nature.STATIONARY and not load.process]
    weights += drums.belts_at_rest(job)
    pulled = list(drums.take_ups(job))
    coupled = {part.name for part in job.loads if isinstance(part, Coupling)}
    slack, pulls = np.ones(len(weights)), np.zeros(len(pulled))
    free = np.array([float(load.part not in coupled) for load in weights])
    states = [("", [*slack, *pulls])]
    if pulled:
        states.append((TAKE_UP_ON, [*slack, *(pulls + 1.0)]))
    if not free.all():
        states.append(("with the coupling off", [*free, *pulls]))
    words, acts = zip(*states, strict=True)
    return _States(words, [*weights, *pulled], np.array(acts).reshape(len(states), -1))


def _lifted(job: Job, states: _States, index: int, jack_x: float, lift: float) -> _Lifted:
    line = solve.shaft_beam(job, (*(x for load in states.loads for x in solve.places_of(load)), jack_x))
    standing = _solved(job, states, line, index, None, np.zeros((len(states.words), 1)))
    here = job.positions[index].x
    running, before = standing.at(here).deflection[:, 0], standing.at(jack_x).deflection[:, 0]
    height = before.copy()
    for _ in range(MOST_STEPS):
        # Linear between two contacts of a neighbour: two heights give the next, and a few steps the one wanted.
        two = _solved(job, states, line, index, jack_x, height[:, None] + np.array([0.0, 1.0]))
        seen = two.at(here).deflection.reshape(-1, 2) - running[:, None]
        step = (lift - seen[:, 0]) / (seen[:, 1] - seen[:, 0])
        height += step
        if (np.abs(step) < EXACT).all():
            break
    at_height = _solved(job, states, line, index, jack_x, height[:, None])
    return _Lifted(standing, at_height, height - before)


def jack_place(job: Job, index: int) -> tuple[float, bool]:
    """Return where the jack stands [mm], and whether that is assumed."""
    position = job.positions[index]
    if position.lift.jack_x is not None:
        return position.lift.jack_x, False
    total = job.shaft.length
    diameter = job.shaft.segments[0].diameter
    inward = 1.0 if position.x < total / 2 else -1.0
    ahead = [inward * (p.x - position.x) for p in job.positions]
    beside = min([JACK_BESIDE * diameter, *(a / 2 for a in ahead if a > 0)])
    return float(np.clip(position.x + inward * beside, 0.0, total)), True


def _solved(
    job: Job, states: _States, line: beam.Beam, index: int, jack_x: float | None, heights: Floats
) -> beam.BeamSolution:
    """Solve the standing shaft: all bearings, or the jack instead of the one at index; heights: (states, heights)."""
    held = [
        beam.Support(p.x, height=p.base.height_error.likely, holds="both" if p.base.holds_down else "up")
        for i, p in enumerate(job.positions)
        if jack_x is None or i != index
    ]
    if jack_x is not None:
        held.append(beam.Support(jack_x, height=heights.ravel()))
    return beam.solve(line, states.on(job, line, heights.shape[1]), held)


def _holding(force: float) -> str:
    if force >= 0:
        return "a jack or sling from below carries the shaft here"
    return "the shaft pulls upwards here: a hold-down, not a jack"


def _belts(job: Job) -> Iterator[str]:
    """Yield how the belts stand at rest: what hangs on a head is in the force, a conveyor's pull is not."""
    heads = [p for p in job.loads if isinstance(p, ElevatorDrum) and p.place is ElevatorPlace.HEAD]
    rested = list(drums.belts_at_rest(job))
    if heads and rested:
        force = -sum(float(load.force_y[0, 1]) for load in rested)
        unnamed = all(part.take_up.high <= 0 for part in heads)
        more = ", the pull of a take-up in it, as none was named" if unnamed else ""
        yield phrase("belt and buckets hang on the shaft with {}{}", kilonewton(force), more)
    if any(isinstance(part, Drum) and part.take_up is None for part in job.loads):
        yield "the belt is taken as slack: its take-up stays loaded after lock-out until it is released or blocked"


def _in_words(force: float, others: tuple[OtherState, ...]) -> Iterator[str]:
    """Yield the other states in which the jack or hold-down bears something else."""
    for other in others:
        if abs(other.force - force) > ALIKE:
            sense = "from below" if other.force >= 0 else "of hold-down"
            yield phrase("{}: {} {}", other.words, kilonewton(abs(other.force)), sense)
    if any(other.words == TAKE_UP_ON for other in others):
        yield "the take-up stays loaded after lock-out: it is slackened or blocked before the bearing is opened"


def _neighbours(job: Job, index: int, found: _Lifted, slack: NDArray[np.bool_]) -> tuple[Neighbour, ...]:
    others = [i for i in range(len(job.positions)) if i != index]
    slope = found.lifted.at(np.array([job.positions[i].x for i in others])).slope[0]
    reaction = found.lifted.reaction[:, : len(others)]
    return tuple(
        Neighbour(
            job.positions[i].name,
            float(reaction[0, k] - found.standing.reaction[0, i]),
            float(slope[k]),
            float(reaction[slack, k].min()),
        )
        for k, i in enumerate(others)
    )
