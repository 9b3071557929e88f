"""Both changeovers of a position: networks, three clocks, exposure, and how much shorter one is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.changeover import dangers, sample, shared_tasks, site, templates
from halfbore.changeover.exposure import exposures, person_hours
from halfbore.changeover.record import against_the_record
from halfbore.changeover.sample import Luck
from halfbore.changeover.sequence import Step
from halfbore.changeover.situation import Beginning, Situation, situation_of
from halfbore.domain.economics import Changeover, Stop
from halfbore.domain.job import Job
from halfbore.domain.plan import (
    ChangeoverPair,
    Clock,
    PairDraws,
    Phase,
    Plan,
    PlanDraws,
    Shortening,
    Task,
    TaskTime,
    Way,
    WayDraws,
)
from halfbore.domain.position import Position
from halfbore.domain.shaftline import LiftResult
from halfbore.domain.unit import UnitTable
from halfbore.numbers import number
from halfbore.numerics.network import Network, critical_path, criticality, forward, network
from halfbore.numerics.sampling import quantiles

Floats = NDArray[np.float64]

DRAWS = 20_000
"""Draws where the job has no money side that names a number."""
SHARE_DRAWS = 4_000
"""Draws that tell how often a task is critical and how long people are exposed; the clocks take all."""
CLAIM = (
    "Up to 90 % shorter is often quoted. It is about the exchange alone, at a repeat change of a trapped bearing; "
    "nothing here is computed from it."
)
_CLOCKS = ("exchange", "mechanical", "outage")


@dataclass(frozen=True, eq=False)
class _Sampled:
    """One way of one beginning: its network, its tasks with the hours of this site, and their times in all draws."""

    way: Way
    beginning: Beginning
    net: Network
    steps: tuple[Step, ...]
    hours: Floats
    starts: Floats
    finishes: Floats
    draws: PlanDraws

    @property
    def tasks(self) -> tuple[Task, ...]:
        return tuple(step.task for step in self.steps)


def plan_changeover(
    job: Job,
    position: Position,
    unit: UnitTable,
    lift: LiftResult | None,
    base_step: float,
    seed: int,
    draws: int = DRAWS,
) -> tuple[ChangeoverPair, PairDraws]:
    """Return both changeovers of a position, as plans and draw by draw.

    unit: the chosen unit, one row. lift: the shaft lifted by what the entry of that unit needs; None if not solved.
    base_step: new centre height less the old one [mm], NaN where one is not known.
    seed: zero or more; the same seed gives the same numbers. draws: at least a few thousand.
    InputError when the job gives its own hours for a task or a plan that does not exist.
    """
    site.check_overrides(job.changeover.tasks, templates.NAMES)
    situation = situation_of(job, position, unit, lift, base_step)
    luck = Luck(seed, draws)

    def run(way: Way, beginning: Beginning) -> _Sampled:
        return _sampled(way, beginning, situation, job.changeover, luck)

    old = {b: run(Way.ONE_PIECE, b) for b in Beginning}
    new = {b: run(Way.SPLIT_REPEAT, b) for b in Beginning}
    first = run(Way.SPLIT_FIRST, situation.next)
    old_draws = WayDraws(old[situation.next].draws, *(old[b].draws for b in Beginning))
    new_draws = WayDraws(first.draws, *(new[b].draws for b in Beginning))
    warnings = tuple(against_the_record(position, old_draws))
    pair = ChangeoverPair(
        position=position.name,
        one_piece=_plan(position.name, old[situation.next]),
        split_first=_plan(position.name, first),
        split_repeat=_plan(position.name, new[Beginning.PLANNED]),
        one_piece_seized=_plan(position.name, old[Beginning.SEIZED]),
        shortening=_shortenings(old_draws, new_draws),
        claim=CLAIM,
        notes=(*warnings, *_pair_notes(position), *situation.notes),
    )
    return pair, PairDraws(old_draws, new_draws, warnings)


def _sampled(
    way: Way, beginning: Beginning, situation: Situation, changeover: Changeover, luck: Luck
) -> _Sampled:
    steps = tuple(
        Step(dangers.added(site.on_site(task, way, changeover, situation.size), situation.dangers), after)
        for task, after in templates.steps_of(way, situation, beginning)
    )
    net = network({step.task.name: step.after for step in steps})
    tasks = [step.task for step in steps]
    hours = luck.hours(tasks)
    starts, finishes = forward(net, hours)
    draws = _draws(tasks, starts, finishes, situation.hoist)
    return _Sampled(way, beginning, net, steps, hours, starts, finishes, draws)


def _draws(tasks: Sequence[Task], starts: Floats, finishes: Floats, hoist: bool) -> PlanDraws:
    exposed = [i for i, task in enumerate(tasks) if task.hazards]

    def clock(*phases: Phase) -> Floats:
        """Return the time from the first start to the last finish of the tasks of some phases."""
        columns = [i for i, task in enumerate(tasks) if task.phase in phases]
        return np.asarray(finishes[:, columns].max(axis=1) - starts[:, columns].min(axis=1))

    return PlanDraws(
        exchange=clock(Phase.EXCHANGE),
        mechanical=clock(Phase.PREPARE, Phase.EXCHANGE, Phase.RESTORE),
        outage=clock(*Phase),
        crew_hours=person_hours(tasks, starts, finishes),
        exposed=person_hours([tasks[i] for i in exposed], starts[:, exposed], finishes[:, exposed]),
        hired_crane=not hoist and any(shared_tasks.CRANE in task.equipment for task in tasks),
    )


def _plan(position: str, s: _Sampled) -> Plan:
    likely = critical_path(s.net, np.array([task.hours.likely for task in s.tasks]))
    shares = criticality(s.net, s.hours[:SHARE_DRAWS])
    times = zip(s.steps, likely.early_start, likely.early_finish, likely.slack, shares, strict=True)
    return Plan(
        position=position,
        way=s.way,
        stop=Stop.PLANNED if s.beginning is Beginning.PLANNED else Stop.UNPLANNED,
        seized=s.beginning is Beginning.SEIZED,
        tasks=tuple(
            TaskTime(step.task, step.after, *(float(number) for number in numbers))
            for step, *numbers in times
        ),
        critical_path=likely.critical,
        exchange=_clock("exchange", s.draws.exchange),
        mechanical=_clock("mechanical", s.draws.mechanical),
        outage=_clock("outage", s.draws.outage),
        crew_hours=_clock("crew-hours", s.draws.crew_hours),
        exposure=exposures(s.tasks, s.starts[:SHARE_DRAWS], s.finishes[:SHARE_DRAWS]),
        equipment=tuple(sorted({thing for task in s.tasks for thing in task.equipment})),
        notes=_plan_notes(s.tasks),
    )


def _clock(name: str, draws: Floats) -> Clock:
    return Clock(name, *(float(q) for q in quantiles(draws)))


def _shortenings(old: WayDraws, new: WayDraws) -> tuple[Shortening, ...]:
    """Return the shortening on each clock: the next change, and a later planned one, draw by draw."""

    def shorter(clock: str, split: PlanDraws, one_piece: PlanDraws) -> Clock:
        return _clock(clock, 1.0 - getattr(split, clock) / getattr(one_piece, clock))

    return tuple(
        Shortening(clock, shorter(clock, new.next, old.next), shorter(clock, new.planned, old.planned))
        for clock in _CLOCKS
    )


def _plan_notes(tasks: Sequence[Task]) -> tuple[str, ...]:
    own = sum(task.source is shared_tasks.SITE for task in tasks)
    branches = [task.name for task in tasks if task.branches]
    points = f"Hold points with branches: {'; '.join(branches)}." if branches else ""
    counted = f"{own} of {len(tasks)} durations are the site's own, the others estimates."
    return (counted, points) if points else (counted,)


def _pair_notes(position: Position) -> Iterator[str]:
    yield (
        f"With chance {number(sample.PACE, 6)} a task follows the pace of the site, else its own luck "
        "(common practice, no source)."
    )
    stops = sorted(failure.stop for failure in position.history if failure.stop is not None)
    if stops:
        yield f"Recorded stops here: {', '.join(number(hours, 3) for hours in stops)} h."
