"""The only place that knows the order of the stages: from a job as read to the whole answer."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict, dataclass, fields
from datetime import date
from enum import IntEnum
from functools import partial
from importlib.metadata import version

import numpy as np

from halfbore.advice import NOT_SETTLED, advised, at_a_glance, cured, finding, held_back, sentence
from halfbore.changeover.plan import plan_changeover
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.check import Finding
from halfbore.domain.job import Job, JobReading
from halfbore.domain.order import Order
from halfbore.domain.plan import ChangeoverPair, PairDraws
from halfbore.domain.rollers import RollerView
from halfbore.domain.selection import Choice
from halfbore.domain.shaftline import Bearing, LiftResult, PositionDuty, ShaftResponse
from halfbore.domain.study import (
    CatalogueUse,
    Confirmation,
    Decision,
    Glance,
    PositionStudy,
    Provenance,
    Study,
)
from halfbore.domain.unit import SealKind, UnitTable, joined
from halfbore.domain.value import Value
from halfbore.errors import InputError, Problem
from halfbore.ordering.order import make_order
from halfbore.selection.bearing import bearing_of
from halfbore.selection.checks import lift_and_entry, seals
from halfbore.selection.checks.clearance import group
from halfbore.selection.choose import choose, holds, weigh
from halfbore.selection.need import Need
from halfbore.selection.rollers import rollers_of
from halfbore.selection.why import working_of
from halfbore.shaftline.lift import lift_at
from halfbore.shaftline.widen import duties_over, respond_over
from halfbore.units import Span
from halfbore.value.answer import value_of
from halfbore.working import Step

PLAN_SEED = 20260101
"""Seed of the plans where the job has no money side that names one."""


MOST_ROUNDS = 3
"""Times that the shaft is solved again on the chosen bearings before the last choice stands."""


class Stage(IntEnum):
    """How far a study goes; each stage needs those before it."""

    LOADS = 0
    SELECT = 1
    ORDER = 2
    CHANGEOVER = 3
    VALUE = 4


def study(
    reading: JobReading,
    catalogues: Iterable[Catalogue] = (),
    upto: Stage = Stage.VALUE,
    on: date | None = None,
) -> Study:
    """Work out a machine.

    reading: the job as read; catalogues: those to choose from; upto: the last stage that is wanted.
    on: day on which the present bearings still run; when not given that of the survey, else the last that the job names.
    Raises InputError for what cannot be solved: two axial paths in one direction, a shaft that nothing holds.
    """
    job, known = reading.job, tuple(catalogues)
    day = on or job.last_day or date.today()  # without any day in the job nothing rests on it
    respond = partial(respond_over, widening=reading.widening)
    response = respond(job)
    positions: tuple[PositionStudy, ...] = ()
    confirmation = None
    if upto > Stage.LOADS:
        if not known:
            raise InputError(
                Problem("there is no catalogue to choose from", "catalogues", next_step="name one")
            )
        units = joined([c.units for c in known])
        choices = _choices(job, response, units, (), respond)
        if len(job.positions) > 2:
            response, choices, confirmation = _confirmed(job, response, units, choices, respond)
        stays = {p.name for p, c in zip(job.positions, choices, strict=True) if c is None or c.chosen is None}
        work = _Work(job, response, {c.supplier: c for c in known}, upto, day, frozenset(stays))
        positions = tuple(work.position(i, choice) for i, choice in enumerate(choices))
    return Study(
        reading,
        response,
        positions,
        confirmation,
        _provenance(reading, known, day, positions),
        sentence(positions) if positions else f"{job.machine.name}: loads and reactions only.",
    )


def glance(reading: JobReading, earlier: Study) -> Glance | None:
    """Return how the units of an earlier study stand on another job of the same machine, at a tenth of the cost.

    reading: the job as read; earlier: a study of the same positions with its units.
    Returns no more than the study says of these units once it is known what to measure; None where positions or units
    are not those of the study.
    Raises InputError for what cannot be solved.
    """
    job, shown = reading.job, {p.position: p.choice for p in earlier.positions}
    choices = [shown.get(p.name) for p in job.positions]
    units = [None if choice is None else choice.shown_unit for choice in choices]
    if any(unit is None and p.convert for p, unit in zip(job.positions, units, strict=True)):
        return None
    bearings: tuple[Bearing, ...] = ()
    for _ in range(earlier.confirmation.rounds if earlier.confirmation else 0):
        duties = duties_over(job, bearings, reading.widening)
        asked = _asked(job, duties, units)
        bearings = tuple(_bearing(n, u if u is not None and holds(n, u) else None) for n, u in asked)
    response = respond_over(job, bearings, reading.widening)
    found = [weigh(n, u) if u is not None else None for n, u in _asked(job, response.duties, units)]
    doubts = {p.position: p.first for p in earlier.positions}
    said = (
        at_a_glance(p.name, choice, doubts.get(p.name, ""))
        for p, choice in zip(job.positions, found, strict=True)
    )
    return Glance(reading, response, tuple(said))


def _asked(
    job: Job, duties: tuple[PositionDuty, ...], units: list[UnitTable | None]
) -> Iterator[tuple[Need, UnitTable | None]]:
    """Yield what each position asks for, and of which unit; of none where the job keeps the bearing."""
    for i, (position, unit) in enumerate(zip(job.positions, units, strict=True)):
        yield Need(job, i, duties[i]), unit if position.convert else None


Choices = tuple[Choice | None, ...]
Respond = Callable[[Job, tuple[Bearing, ...]], ShaftResponse]


def _choices(
    job: Job, response: ShaftResponse, units: UnitTable, bearings: tuple[Bearing, ...], respond: Respond
) -> Choices:
    """Return the choice of each position on these bearings; None where the job keeps the bearing."""

    def again(index: int) -> Callable[[Job], PositionDuty]:
        return lambda changed: respond(changed, bearings).duties[index]

    return tuple(
        choose(Need(job, i, response.duties[i], again(i)), units) if p.convert else None
        for i, p in enumerate(job.positions)
    )


def _confirmed(
    job: Job, rigid: ShaftResponse, units: UnitTable, choices: Choices, respond: Respond
) -> tuple[ShaftResponse, Choices, Confirmation]:
    """Solve the shaft on the chosen bearings and choose again until nothing changes, three times at most."""
    changed: list[str] = []
    response, settled, rounds = rigid, False, 0
    while rounds < MOST_ROUNDS and not settled:
        rounds += 1
        units_now = (None if c is None else c.chosen_unit for c in choices)
        needs = (Need(job, i, duty) for i, duty in enumerate(response.duties))
        bearings = tuple(_bearing(need, unit) for need, unit in zip(needs, units_now, strict=True))
        response = respond(job, bearings)
        again = _choices(job, response, units, bearings, respond)
        moved = [
            f"{p.name}: {_code(old)} gives way to {_code(new)} once the bearings give"
            for p, old, new in zip(job.positions, choices, again, strict=True)
            if _code(old) != _code(new)
        ]
        changed += moved
        choices, settled = again, not moved
    return response, choices, Confirmation(rounds, settled, _largest(rigid, response), tuple(changed))


def _bearing(need: Need, unit: UnitTable | None) -> Bearing:
    """Return give and clearance of the chosen bearing at its mean load; rigid where none is chosen."""
    return Bearing(float("inf"), 0.0) if unit is None else bearing_of(need, unit)


def _code(choice: Choice | None) -> str:
    return choice.chosen.code if choice is not None and choice.chosen is not None else "no unit"


def _largest(before: ShaftResponse, after: ShaftResponse) -> float:
    """Return the largest change of a likely reaction as a share of the largest reaction."""
    old = np.array([(r.y, r.z) for r in before.reactions])
    new = np.array([(r.y, r.z) for r in after.reactions])
    return float(np.hypot(*(new - old).T).max() / np.hypot(*old.T).max())


@dataclass(frozen=True)
class _Work:
    """What every position of one machine shares.

    stays: names of the positions at which no split unit goes in.
    """

    job: Job
    response: ShaftResponse
    catalogues: dict[str, Catalogue]
    upto: Stage
    on: date
    stays: frozenset[str]

    def position(self, index: int, choice: Choice | None) -> PositionStudy:
        """Work out one position from its choice."""
        position = self.job.positions[index]
        if choice is None:
            return PositionStudy(
                position.name, Decision.KEEP, "as the job says", None, None, None, None, None
            )
        need = Need(self.job, index, self.response.duties[index])
        if choice.chosen_unit is None:
            return PositionStudy(position.name, *advised(choice, None, ""), choice, None, None, None, None)
        lift = self._lift(need, choice.chosen_unit)
        order = self._order(need, choice) if self.upto >= Stage.ORDER else None
        plans, draws = (
            self._plans(need, choice.chosen_unit, lift) if self.upto >= Stage.CHANGEOVER else (None, None)
        )
        value = self._value(need, choice, draws) if self.upto >= Stage.VALUE and draws is not None else None
        unpriced = _unpriced(self.job, choice.chosen_unit) if self.upto >= Stage.VALUE else ""
        decision, because = advised(choice, value, unpriced)
        if decision is Decision.SETTLE_FIRST:
            order = held_back(order, NOT_SETTLED)
        return PositionStudy(position.name, decision, because, choice, lift, order, plans, value)

    def _lift(self, need: Need, unit: UnitTable) -> LiftResult:
        _, most = lift_and_entry.needed(need, unit)
        return lift_at(self.job, self.response.loads, need.position.name, float(np.nan_to_num(most[0])))

    def _order(self, need: Need, choice: Choice) -> Order:
        unit = choice.chosen_unit
        assert unit is not None
        left, right = seals.build(need, unit)
        return make_order(
            self.job,
            need.position,
            unit,
            int(left[0]),
            int(right[0]),
            int(group(need, unit)[0]),
            self.catalogues[str(unit.supplier[0])],
            need.duty,
            self.job.order,
        )

    def _plans(self, need: Need, unit: UnitTable, lift: LiftResult) -> tuple[ChangeoverPair, PairDraws]:
        money = self.job.value
        step = float(lift_and_entry.base_step(need, unit)[0])
        if money is None:
            return plan_changeover(self.job, need.position, unit, lift, step, PLAN_SEED)
        return plan_changeover(self.job, need.position, unit, lift, step, money.seed, money.draws)

    def _value(self, need: Need, choice: Choice, draws: PairDraws) -> Value | None:
        unit, money = choice.chosen_unit, self.job.value
        assert unit is not None
        if money is None or _unpriced(self.job, unit):
            return None
        left, right = seals.build(need, unit)
        kinds = [int(left[0]), int(right[0])]
        price = {k: float(np.nan_to_num(unit.seal_price[0, k])) for k in kinds}
        packing = [price[k] for k in kinds if k == SealKind.PACKING]
        return value_of(
            self.job,
            need.position,
            float(unit.price[0]) + sum(price[k] for k in kinds),
            float(unit.bearing_price[0]),
            _life(choice.findings),
            cured(choice.findings),
            draws,
            money.seed,
            self.on,
            sum(packing) if packing else float("nan"),
            self.stays,
        )


def why(found: Study, position: str, check: str, unit: UnitTable | None = None) -> tuple[Step, ...]:
    """Return the working of one check of a unit.

    found: a study; position, check: names; unit: a one-row table; when not given the unit that was chosen, or the
    nearest one where nothing holds.
    Returns the clauses that ran, with what went in and what came out. Raises InputError for unknown names and
    where there is no unit of the bore.
    """
    names = [p.position for p in found.positions]
    if position not in names:
        raise InputError(Problem("there is no such position", "position", position, ", ".join(names)))
    choice = found.positions[names.index(position)].choice
    unit = choice.shown_unit if unit is None and choice is not None else unit
    if unit is None:
        raise InputError(Problem("there is no unit of this bore", "position", position))
    return working_of(_need(found, position), unit, check)


def weighed(found: Study, position: str, unit: UnitTable) -> Choice:
    """Return how a unit stands at a position of a study, without a look at any other.

    found: a study; position: its name; unit: a one-row table.
    """
    return weigh(_need(found, position), unit)


def rollers(found: Study, position: str) -> RollerView | None:
    """Return how the rollers of the unit that is shown at a position share the load.

    found: a study; position: its name. None where no unit is shown, or its rollers are not known.
    """
    choice = next((p.choice for p in found.positions if p.position == position), None)
    unit = None if choice is None else choice.shown_unit
    if unit is None:
        return None
    return rollers_of(_need(found, position), unit)


def _need(found: Study, position: str) -> Need:
    """Return what a position of a study asks of a unit."""
    index = [p.name for p in found.reading.job.positions].index(position)
    return Need(found.reading.job, index, found.response.duties[index])


def _life(findings: tuple[Finding, ...]) -> Span | None:
    return finding(findings, "modified life").value


def _unpriced(job: Job, unit: UnitTable) -> str:
    """Return why no money can be put on a unit; empty where it can."""
    money, currency = job.value, str(unit.currency[0])
    if money is None:
        return "The job has no money side."
    if np.isnan(unit.price[0]):
        return "No value: the supplier gives no price."
    if currency != money.currency:
        return f"No value: the price is in {currency}, the job counts in {money.currency}; convert it by a dated rate."
    return ""


def _provenance(
    reading: JobReading, catalogues: tuple[Catalogue, ...], on: date, positions: tuple[PositionStudy, ...]
) -> Provenance:
    money = reading.job.value
    return Provenance(
        version("halfbore"),
        _hash(reading, catalogues, on),
        money.seed if money else PLAN_SEED,
        on,
        _editions(positions),
        tuple(
            CatalogueUse(c.supplier, c.version, len(c.units), c.invented, tuple(h.field for h in c.holes))
            for c in catalogues
        ),
    )


def _hash(reading: JobReading, catalogues: tuple[Catalogue, ...], on: date) -> str:
    """Return the hash of everything that the answer rests on."""
    widening = [] if reading.widening is None else [asdict(reading.widening)]
    known = [(c.supplier, c.version) for c in catalogues]
    day = str(on) if reading.job.last_day else ""
    text = json.dumps([asdict(reading.job), known, day, *widening], default=str)
    digest = hashlib.sha256(text.encode())
    for c in catalogues:
        digest.update(repr(c.scheme).encode())
        for column in fields(c.units):
            digest.update(np.ascontiguousarray(getattr(c.units, column.name)).tobytes())
    return digest.hexdigest()


def _editions(positions: tuple[PositionStudy, ...]) -> tuple[str, ...]:
    titles = {
        source.title
        for p in positions
        if p.choice is not None
        for f in p.choice.findings
        for source in f.sources
        if source.title.startswith(("ISO", "ASTM"))
    }
    return tuple(sorted(titles))
