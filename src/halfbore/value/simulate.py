"""Both ways over the horizon in the same draws: what they have in common is drawn once."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from halfbore.domain.economics import Economics, LossStep, Stop
from halfbore.domain.job import Job
from halfbore.domain.plan import PairDraws, PlanDraws, WayDraws
from halfbore.domain.position import Position
from halfbore.numerics.cash_flow import discount_factor
from halfbore.numerics.pert import beta_pert_at
from halfbore.numerics.renewal import PLANNED, renewals
from halfbore.numerics.sampling import beta_pert, streams
from halfbore.units import Kind, Span, convert
from halfbore.value.costs import OF_THE_STOP, LossCurve, Prices, change_cost, packing_cost
from halfbore.value.failures import (
    PACKING_YEARS,
    Carried,
    Lives,
    chance_that_cause_goes_on,
    on_record,
    one_piece_lives,
    split_lives,
)
from halfbore.value.record import one_piece_hours, split_hours
from halfbore.value.sharing import sharing

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

_STREAMS = (
    *("one-piece field life", "split field life", "one-piece renewals", "split renewals"),
    *("planned or not", "seized or not", "downtime rate", "once", "labour", "crane", "unplanned extra"),
    *("one-piece price", "planned share", "seized share", "stop length", "packing", "spare price"),
    "cure",
)
ONE_PIECE_PART = Span(0.2, 0.35, 0.5)
"""Price of a one-piece bearing as a part of the split unit's, where none is given (common practice, no source)."""
SPARE_PART = Span(0.4, 0.55, 0.7)
"""Price of the bearing of a split unit as a part of the unit's, where none is given (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Inputs:
    """All that is drawn, (draws,) each, and what is fixed; the value follows from it without further luck.

    stop_share: of what a stop costs that counts here, 0 to 1; recorded: a life of the one-piece bearing is on record.
    """

    one_piece: WayDraws
    split: WayDraws
    old: Lives
    new: Lives
    carried: Carried
    curve: LossCurve
    prices: Prices
    one_piece_price: Floats
    spare_price: Floats
    planned_share: Floats
    seized_share: Floats
    stop_length: Floats
    packing_years: Floats
    unit_price: float
    seals: float
    stop_share: float
    recorded: bool
    hidden_share: float
    discount_rate: float
    hours_a_year: float
    horizon: float
    next_planned: bool
    seed: int

    @property
    def draws(self) -> int:
        """Number of draws."""
        return len(self.planned_share)


@dataclass(frozen=True, eq=False)
class Renewed:
    """When one way is renewed: years [a] and worth of money then, (changes, draws), infinite and 0 where it is not.

    at_cap: renewed because of its age, in a planned stop; share: of what the stop costs that counts here.
    """

    years: Floats
    worth: Floats
    at_cap: Flags
    share: Floats


@dataclass(frozen=True, eq=False)
class Future:
    """The renewals of both ways, and the luck of stop and seizure that they meet change by change (changes, draws)."""

    one_piece: Renewed
    split: Renewed
    stop: Floats
    seizure: Floats


@dataclass(frozen=True, eq=False)
class Changes:
    """Later changes of one way by how they begin: planned, failed, seized.

    happens: (3, changes, draws); number, worth: (3, draws), how many and what money spent at them is worth now;
    stops, stops_worth: the same of the stops, each counted by the share of it that is the position's own.
    """

    happens: Flags
    number: Floats
    worth: Floats
    stops: Floats
    stops_worth: Floats


@dataclass(frozen=True, eq=False)
class Costs:
    """What the changes of one way cost by kind (kinds, draws): the next one, later ones (3, kinds, draws), packing.

    Of the next stop the position's share is counted; later ones stand in full and are weighed as they are counted.
    """

    next: Floats
    later: Floats
    packing: Floats


def draw_inputs(
    job: Job,
    economics: Economics,
    position: Position,
    unit_price: float,
    spare_price: float,
    modified_life: Span | None,
    cured: bool | None,
    plans: PairDraws,
    seed: int,
    on: date,
    seals: float,
    stays: Collection[str] = (),
) -> Inputs:
    """Draw everything that is not known, each from a stream of its own; arguments as for `value_of`.

    The plans may have been drawn from the same seed: the money takes a seed of its own from it, so that no rate
    has the luck of a task.
    """
    seed = int(streams(seed, ("plans", "money"))["money"].integers(2**53))
    draws, rngs = len(plans.split.next.outage), streams(seed, _STREAMS)

    def drawn(name: str, span: Span) -> Floats:
        return np.asarray(beta_pert(rngs[name], span.low, span.likely, span.high, draws)[:, 0])

    old = one_piece_lives(position, economics, on, rngs["one-piece field life"], draws)
    recorded = on_record(position, economics)
    new, carried = split_lives(
        old,
        modified_life,
        job.required.reliability,
        chance_that_cause_goes_on(position, economics, cured),
        drawn("cure", economics.cure_leaves if recorded else Span.of(0.0)),
        economics.hours_a_year,
        rngs["split field life"],
        draws,
    )
    price = economics.one_piece_price
    spare = _part(SPARE_PART, unit_price) if np.isnan(spare_price) else Span.of(spare_price)
    return Inputs(
        one_piece=one_piece_hours(position, economics, plans.one_piece),
        split=split_hours(position, economics, plans.one_piece, plans.split),
        old=old,
        new=new,
        carried=carried,
        curve=_drawn_curve(economics.stopped_production, rngs, draws),
        prices=Prices(
            drawn("labour", economics.labour),
            economics.overtime,
            drawn("crane", economics.crane_call),
            drawn("unplanned extra", economics.unplanned_extra),
        ),
        one_piece_price=drawn("one-piece price", price or _part(ONE_PIECE_PART, unit_price)),
        spare_price=drawn("spare price", spare),
        planned_share=drawn("planned share", economics.planned_share),
        seized_share=drawn("seized share", economics.seized_share),
        stop_length=drawn("stop length", economics.stop_length),
        packing_years=drawn("packing", PACKING_YEARS),
        unit_price=unit_price,
        seals=seals,
        stop_share=sharing(position, job.positions, stays).share,
        recorded=recorded,
        hidden_share=economics.hidden_share,
        discount_rate=economics.discount_rate,
        hours_a_year=economics.hours_a_year,
        horizon=convert(job.required.horizon, Kind.DURATION, "years"),
        next_planned=job.changeover.next_stop is Stop.PLANNED and not position.old_is_seized,
        seed=seed,
    )


def renew(inputs: Inputs) -> Future:
    """Return the renewals of both ways over the horizon."""
    rngs = streams(inputs.seed, _STREAMS)
    # What ends bearings today stops several at a time as the record says; a split unit's own risks strike it alone.
    alone = inputs.new.scales.shape[1] - 1
    old = _renewed(inputs, inputs.old, rngs["one-piece renewals"], 0)
    new = _renewed(inputs, inputs.new, rngs["split renewals"], alone)
    shape = (max(len(old.years), len(new.years)), inputs.draws)
    return Future(old, new, rngs["planned or not"].random(shape), rngs["seized or not"].random(shape))


def begin(inputs: Inputs, future: Future) -> tuple[Changes, Changes]:
    """Return how the later changes of both ways begin: in a planned stop, after a failure, after a seizure."""
    planned = future.stop < inputs.planned_share
    seized = future.seizure < inputs.seized_share

    def changes(way: Renewed) -> Changes:
        n = len(way.years)
        in_stop, inside = planned[:n] | way.at_cap, np.isfinite(way.years)
        happens = np.stack([in_stop, ~in_stop & ~seized[:n], ~in_stop & seized[:n]]) & inside
        return Changes(
            happens,
            happens.sum(axis=1).astype(np.float64),
            (happens * way.worth).sum(axis=1),
            (happens * way.share).sum(axis=1),
            (happens * (way.share * way.worth)).sum(axis=1),
        )

    return changes(future.one_piece), changes(future.split)


def change_costs(inputs: Inputs) -> tuple[Costs, Costs]:
    """Return what the changes of both ways cost, one-piece and split."""
    unit, old_price = np.full(inputs.draws, inputs.unit_price), inputs.one_piece_price
    return (
        _costs(inputs, inputs.one_piece, old_price, old_price, np.nan),
        _costs(inputs, inputs.split, unit, inputs.spare_price, inputs.seals),
    )


def present_costs(costs: Costs, changes: Changes) -> Floats:
    """Return the present value of all that one way costs over the horizon, by kind (kinds, draws) [money]."""
    worth = np.where(OF_THE_STOP[:, None], changes.stops_worth[:, None, :], changes.worth[:, None, :])
    later = (worth * costs.later).sum(axis=0)
    total = costs.next + later
    total[-1] += costs.packing
    return np.asarray(total)


def saving(costs: tuple[Costs, Costs], changes: tuple[Changes, Changes]) -> Floats:
    """Return the present value of one-piece less split, draw by draw (draws,) [money]."""
    old, new = (_total(cost, change) for cost, change in zip(costs, changes, strict=True))
    return np.asarray(old - new)


def outage_hours(way: WayDraws, changes: Changes, stop_share: float) -> Floats:
    """Return the outage hours of one way over the horizon (draws,) [h], of a shared stop the position's share."""
    each = zip((way.planned, way.failed, way.seized), changes.stops, strict=True)
    return np.asarray(stop_share * way.next.outage + sum(plan.outage * n for plan, n in each))


def exposed_hours(way: WayDraws, changes: Changes) -> Floats:
    """Return the person-hours exposed of one way over the horizon (draws,) [h]."""
    each = zip((way.planned, way.failed, way.seized), changes.number, strict=True)
    return np.asarray(way.next.exposed + sum(plan.exposed * n for plan, n in each))


def each_change(costs: Costs) -> tuple[Floats, Floats]:
    """Return what a later change costs for itself and what its stop costs, by how it begins (3, draws) [money]."""
    stop = costs.later[:, OF_THE_STOP].sum(axis=1)
    return np.asarray(costs.later.sum(axis=1) - stop), np.asarray(stop)


def without_cure(inputs: Inputs, costs: tuple[Costs, Costs]) -> Floats:
    """Return the saving if nothing were cured and all failures of today went on in the split unit (draws,) [money]."""
    if not inputs.recorded:
        return saving(costs, begin(inputs, renew(inputs)))
    old, new = inputs.old, inputs.new
    goes_on = np.hstack([new.scales[:, :-1], old.scales])
    told = replace(inputs, new=replace(new, scales=goes_on))
    return saving(costs, begin(told, renew(told)))


def _total(costs: Costs, changes: Changes) -> Floats:
    own, stop = each_change(costs)
    later = (changes.worth * own + changes.stops_worth * stop).sum(axis=0)
    return np.asarray(costs.next.sum(axis=0) + later + costs.packing)


def _renewed(inputs: Inputs, lives: Lives, rng: Generator, alone: int) -> Renewed:
    """Return the renewals of one way; alone: number of its first risks that strike no other bearing with it."""
    ends = inputs.horizon * inputs.hours_a_year
    found = renewals(rng, ends, lives.shapes, lives.scales, inputs.draws, lives.cap)
    years = np.ascontiguousarray(found.times.T) / inputs.hours_a_year
    worth = np.asarray(discount_factor(inputs.discount_rate, years))
    causes = np.ascontiguousarray(found.causes.T)
    own = (causes >= 0) & (causes < alone)
    return Renewed(years, worth, causes == PLANNED, np.where(own, 1.0, inputs.stop_share))


def _costs(inputs: Inputs, way: WayDraws, first_parts: Floats, parts: Floats, seals: float) -> Costs:
    def cost(change: PlanDraws, planned: bool, pieces: Floats) -> Floats:
        return change_cost(
            change, planned, pieces, inputs.prices, inputs.curve, inputs.hidden_share, inputs.stop_length
        )

    later = ((way.planned, True), (way.failed, False), (way.seized, False))
    share = np.where(OF_THE_STOP, inputs.stop_share, 1.0)[:, None]
    return Costs(
        share * cost(way.next, inputs.next_planned, first_parts),
        np.stack([cost(change, planned, parts) for change, planned in later]),
        packing_cost(seals, inputs.packing_years, inputs.discount_rate, inputs.horizon, inputs.prices),
    )


def _part(part: Span, price: float) -> Span:
    return Span(part.low * price, part.likely * price, part.high * price)


def _drawn_curve(given: tuple[LossStep, ...], rngs: Mapping[str, Generator], draws: int) -> LossCurve:
    """Return the loss curve; the luck of its rates is one, as they move with the price of the product."""
    steps = sorted(given, key=lambda step: step.after) or [LossStep(0.0, Span.of(0.0))]
    shares = {name: rngs[name].random(draws) for name in ("downtime rate", "once")}

    def of(name: str, spans: list[Span]) -> Floats:
        return np.stack([beta_pert_at(shares[name], s.low, s.likely, s.high) for s in spans])

    return LossCurve(
        np.array([step.after for step in steps]),
        of("downtime rate", [step.rate for step in steps]),
        of("once", [step.once for step in steps]),
    )
