"""Lifting and holding: the shaft at standstill with one bearing away and a jack beside it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from halfbore.domain.job import Job
from halfbore.domain.machine import Coupling, Drum, ElevatorDrum, ElevatorPlace
from halfbore.domain.shaftline import AppliedLoad, LiftResult, Nature, Neighbour, OtherState
from halfbore.numerics import beam
from halfbore.phrases import joined, kilonewton, phrase
from halfbore.shaftline import drums, solve

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


def lifts(job: Job, loads: tuple[AppliedLoad, ...]) -> tuple[LiftResult, ...]:
    """Return, for each position, what holds the shaft in its place while the bearing is away."""
    return tuple(lift_at(job, loads, p.name, 0.0) for p in job.positions)


def lift_at(job: Job, loads: tuple[AppliedLoad, ...], position: str, lift: float) -> LiftResult:
    """Return the jack's force and what it does to the neighbours when the shaft is lifted at a position.

    job: the machine; loads: on its shaft, of which only the weights act at standstill; the belt that hangs on a head
    whose strands are given is taken from its falling strand.
    position: its name; lift: of the shaft at the position above its running place [mm].
    """
    index = next(i for i, p in enumerate(job.positions) if p.name == position)
    jack_x, assumed = jack_place(job, index)
    states = list(_states(job, loads))
    found = [_lifted(job, acting, index, jack_x, lift) for _, acting in states]
    first, force = found[0], found[0].force
    others = tuple(OtherState(words, x.force) for (words, _), x in zip(states[1:], found[1:], strict=True))
    return LiftResult(
        position,
        jack_x,
        assumed,
        lift,
        first.at_jack,
        force,
        joined("; ", (_holding(force), *_belts(job), *_in_words(force, others))),
        _neighbours(
            job, index, [x for (words, _), x in zip(states, found, strict=True) if words != TAKE_UP_ON]
        ),
        others,
    )


@dataclass(frozen=True)
class _Lifted:
    """The shaft in one state, standing on all bearings and lifted: both solved, the jack's height and force."""

    standing: beam.BeamSolution
    lifted: beam.BeamSolution
    at_jack: float

    @property
    def force(self) -> float:
        return float(self.lifted.reaction[0, -1])


def _states(job: Job, loads: tuple[AppliedLoad, ...]) -> Iterator[tuple[str, list[AppliedLoad]]]:
    """Yield what acts at standstill: with take-ups slack, then as other work leaves it, in words."""
    weights = [load for load in loads if load.nature is Nature.STATIONARY and not load.process]
    weights += drums.belts_at_rest(job)
    yield "", weights
    pulled = list(drums.take_ups(job))
    if pulled:
        yield TAKE_UP_ON, [*weights, *pulled]
    coupled = {part.name for part in job.loads if isinstance(part, Coupling)}
    uncoupled = [load for load in weights if load.part not in coupled]
    if len(uncoupled) < len(weights):
        yield "with the coupling off", uncoupled


def _lifted(job: Job, acting: list[AppliedLoad], index: int, jack_x: float, lift: float) -> _Lifted:
    line = solve.shaft_beam(job, (*(x for load in acting for x in solve.places_of(load)), jack_x))
    standing = _solved(job, acting, line, index, None, np.zeros(1))
    running = float(standing.at(job.positions[index].x).deflection[0, 0])
    before = float(standing.at(jack_x).deflection[0, 0])
    height = before
    for _ in range(MOST_STEPS):
        # Linear between two contacts of a neighbour: two heights give the next, and a few steps the one wanted.
        two = _solved(job, acting, line, index, jack_x, height + np.array([0.0, 1.0]))
        seen = two.at(job.positions[index].x).deflection[:, 0] - running
        step = float((lift - seen[0]) / (seen[1] - seen[0]))
        height += step
        if abs(step) < EXACT:
            break
    at_height = _solved(job, acting, line, index, jack_x, np.array([height]))
    return _Lifted(standing, at_height, float(height - before))


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
    job: Job,
    weights: list[AppliedLoad],
    line: beam.Beam,
    index: int,
    jack_x: float | None,
    heights: np.ndarray[tuple[int], np.dtype[np.float64]],
) -> beam.BeamSolution:
    """Solve the standing shaft: all bearings, or the jack instead of the one at index."""
    size = np.array([load.force_y[0, 1] for load in weights])
    acting = beam.Loads(
        np.array([load.x for load in weights]),
        (size * solve.at_place(weights))[None, :],
        np.array([[load.couple[0, 1, 0] for load in weights]]),
        (solve.own_weight(job, line) + size @ solve.spread(line, weights))[None, :],
    )
    held = [
        beam.Support(p.x, height=p.base.height_error.likely, holds="both" if p.base.holds_down else "up")
        for i, p in enumerate(job.positions)
        if jack_x is None or i != index
    ]
    if jack_x is not None:
        held.append(beam.Support(jack_x, height=heights))
    return beam.solve(line, acting, held)


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


def _neighbours(job: Job, index: int, states: list[_Lifted]) -> tuple[Neighbour, ...]:
    others = [i for i in range(len(job.positions)) if i != index]
    places = np.array([job.positions[i].x for i in others])
    first = states[0]
    slope = first.lifted.at(places).slope[0]
    return tuple(
        Neighbour(
            job.positions[i].name,
            float(first.lifted.reaction[0, k] - first.standing.reaction[0, i]),
            float(slope[k]),
            min(float(state.lifted.reaction[0, k]) for state in states),
        )
        for k, i in enumerate(others)
    )
