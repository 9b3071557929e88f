"""The value of converting a position: saving with its range, chance, payback, break-even, what moves it."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from datetime import date

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.economics import Economics
from halfbore.domain.job import Job
from halfbore.domain.plan import PairDraws
from halfbore.domain.position import Position
from halfbore.domain.value import CostLine, Value
from halfbore.errors import InputError, Problem
from halfbore.numbers import write
from halfbore.numerics.sampling import quantiles
from halfbore.phrases import Amount, phrase
from halfbore.units import Kind, Span
from halfbore.value import caveats, record, wording
from halfbore.value.breakeven import leading_step, turning
from halfbore.value.costs import KINDS
from halfbore.value.failures import estimate
from halfbore.value.sharing import Sharing, sharing
from halfbore.value.simulate import (
    ONE_PIECE_PART,
    SPARE_PART,
    Changes,
    Costs,
    Future,
    Inputs,
    Renewed,
    begin,
    change_costs,
    draw_inputs,
    each_change,
    exposed_hours,
    outage_hours,
    present_costs,
    renew,
    without_cure,
)
from halfbore.value.tornado import swings

Floats = NDArray[np.float64]

BINS = 40
"""Bars of the histogram, from the 0.5 % to the 99.5 % quantile; what lies outside stands in the end bars."""


def value_of(
    job: Job,
    position: Position,
    unit_price: float,
    spare_price: float,
    modified_life: Span | None,
    cured: bool | None,
    plans: PairDraws,
    seed: int,
    on: date,
    seals: float = math.nan,
    stays: Collection[str] = (),
) -> Value:
    """Return what it is worth to put a split unit in at the next change, not a one-piece bearing again.

    unit_price: the complete unit; spare_price: its bearing alone, NaN where not named; seals: a set of packing, NaN
    where the unit has none [all in the job's currency]. modified_life: of the chosen unit [h], None without data.
    cured: whether the unit cures what ended the last bearing, None where nobody can tell.
    stays: names of the positions at which no split unit goes in: their changes govern the stops shared with them.
    plans: both changeovers, draw by draw, from `plan_changeover`; on: day on which the present bearing still ran.
    seed: zero or more. InputError without the money side of the job, and without a price of the unit.
    """
    economics = _economics(job, position, unit_price)
    inputs = draw_inputs(
        job, economics, position, unit_price, spare_price, modified_life, cured, plans, seed, on, seals, stays
    )
    future = renew(inputs)
    changes = begin(inputs, future)
    costs = change_costs(inputs)
    old, new = (present_costs(c, k) for c, k in zip(costs, changes, strict=True))
    saved = old.sum(axis=0) - new.sum(axis=0)
    one_piece, split = inputs.one_piece, inputs.split
    together = sharing(position, job.positions, stays)
    ours = 0.0 if together.governed == 1.0 else 1.0  # a stop that another change governs ends no sooner
    total, next_hours = estimate(saved), estimate(ours * (one_piece.next.outage - split.next.outage))
    uncured = estimate(without_cure(inputs, costs))
    turns = turning(inputs, future, changes, costs, economics.stopped_production)
    payback = _payback(future, costs, changes)
    lead, pays, chance = (
        leading_step(economics.stopped_production),
        total.p50 > 0.0,
        float(np.mean(saved > 0.0)),
    )
    edges, counts = _histogram(saved)
    outage = [outage_hours(w, c, inputs.stop_share) for w, c in zip((one_piece, split), changes, strict=True)]
    exposed = [exposed_hours(w, c) for w, c in zip((one_piece, split), changes, strict=True)]
    replaced = (estimate(changes[0].number.sum(axis=0)), estimate(changes[1].number.sum(axis=0)))
    return Value(
        position=position.name,
        currency=economics.currency,
        horizon=job.required.horizon,
        saving=total,
        saving_without_cure=uncured,
        shared_with=together.others,
        stop_share=together.share,
        hours_saved_next=next_hours,
        hours_saved_later=estimate(ours * (one_piece.planned.outage - split.planned.outage)),
        one_piece_outage=estimate(one_piece.next.outage),
        hours_saved=estimate(outage[0] - outage[1]),
        exposed_hours=(float(quantiles(exposed[0]).p50), float(quantiles(exposed[1]).p50)),
        chance=chance,
        payback=payback,
        breakeven=turns.rate,
        breakeven_from_first_hour=turns.from_first_hour,
        breakeven_planned_share=turns.share,
        plant_rate=(lead.rate.low, lead.rate.high) if lead else (math.nan, math.nan),
        replacements=replaced,
        costs=_cost_lines(old, new),
        swings=swings(inputs, future, changes, costs, economics.currency),
        lives=(*inputs.old.bases, *inputs.new.bases),
        edges=edges,
        counts=counts,
        seed=seed,
        draws=inputs.draws,
        assumptions=(
            *_assumptions(economics, inputs, spare_price, modified_life, plans),
            *record.said(position, economics, plans.one_piece, bool(together.others)),
            *_of_the_cure(inputs, together),
        ),
        caveats=(
            *record.differs(position, economics, plans.one_piece),
            *caveats.shared_stops(together),
            *caveats.resting_on_cure(total, uncured, replaced, inputs.horizon, economics.currency),
            *caveats.few_carry(total, chance),
        ),
        sentence=wording.answer(position.name, pays, chance, next_hours, payback),
        no_when=wording.when_no(pays, chance, turns, lead.after if lead else 0.0, economics.currency),
    )


def _economics(job: Job, position: Position, unit_price: float) -> Economics:
    if job.value is None:
        raise InputError(
            Problem(
                "no money side to reckon with", "value", next_step="give the table [value] in the job file"
            )
        )
    if not unit_price >= 0.0:
        raise InputError(
            Problem(
                "no price of the unit, so no value",
                position.name,
                accepted=f"a price in {job.value.currency}",
                next_step="ask the supplier",
            )
        )
    return job.value


def _payback(future: Future, costs: tuple[Costs, Costs], changes: tuple[Changes, Changes]) -> float:
    """Return the year from which on the sum of what was saved covers what the conversion cost more, P50."""
    old, new = costs
    years = np.vstack([future.one_piece.years, future.split.years])
    money = np.vstack([_spent(future.one_piece, old, changes[0]), -_spent(future.split, new, changes[1])])
    order = np.argsort(years, axis=0)
    now = old.next.sum(axis=0) - new.next.sum(axis=0) - new.packing
    saved = np.vstack([now, now + np.cumsum(np.take_along_axis(money, order, 0), axis=0)])
    when = np.vstack([np.zeros_like(now), np.take_along_axis(years, order, 0)])
    covered = np.logical_and.accumulate((saved >= 0.0)[::-1])[::-1]
    first = np.take_along_axis(when, covered.argmax(axis=0)[None], 0)[0]
    middle = float(quantiles(np.where(covered.any(axis=0), first, np.inf)).p50)
    return middle if math.isfinite(middle) else math.nan


def _spent(way: Renewed, costs: Costs, changes: Changes) -> Floats:
    """Return the present value of what each later change costs (changes, draws) [money]."""
    own, stop = (each[:, None, :] for each in each_change(costs))
    return np.asarray((changes.happens * (own + way.share * stop)).sum(axis=0) * way.worth)


def _cost_lines(old: Floats, new: Floats) -> tuple[CostLine, ...]:
    means = zip(KINDS, old.mean(axis=1), new.mean(axis=1), strict=True)
    return tuple(CostLine(name, float(a), float(b)) for name, a, b in means if a or b)


def _histogram(saved: Floats) -> tuple[Floats, Floats]:
    low, high = np.quantile(saved, (0.005, 0.995))
    inside = np.clip(saved, low, high)
    counts, edges = np.histogram(inside, bins=BINS)
    return edges, counts.astype(np.float64)


def _assumptions(
    economics: Economics, inputs: Inputs, spare_price: float, modified_life: Span | None, plans: PairDraws
) -> Iterator[str]:
    yield from plans.warnings
    yield (
        "At the next change either a one-piece bearing goes back or a split unit goes in; "
        "both ways are then renewed by their field lives over the horizon."
    )
    yield "In a run all later changes of a way take the same hours: what is not known of the work does not average out."
    if economics.one_piece_price is None:
        low, high = ONE_PIECE_PART.low, ONE_PIECE_PART.high
        taken = write((low, high), Kind.FRACTION)
        money = Amount(
            (low * inputs.unit_price, high * inputs.unit_price), Kind.MONEY, currency=economics.currency
        )
        yield phrase(
            "No price of the one-piece bearing was given: {} of the split unit's is taken, {} "
            "(common practice, no source).",
            taken,
            money,
        )
    if math.isnan(spare_price):
        low, high = SPARE_PART.low, SPARE_PART.high
        taken = write((low, high), Kind.FRACTION)
        yield f"No price of the spare bearing was given: {taken} of the unit's is taken."
    if modified_life is None:
        yield "The modified life has no data: fatigue of the split unit is left out."
    if math.isnan(inputs.seals):
        yield "No packing is renewed between changes of the split unit."
    yield "No money is put on safety: hours exposed are counted. Friction energy is left out: it decides nothing."


def _of_the_cure(inputs: Inputs, together: Sharing) -> Iterator[str]:
    low, _, high = quantiles(inputs.carried.left)
    left = write((float(low), float(high)), Kind.FRACTION)
    if inputs.recorded and not inputs.carried.goes_on.all():
        yield (
            f"No cure is certain: of failures that the unit cures {left} are taken to go on (estimate, "
            "no source)."
        )
    if together.others:
        yield (
            "A shared stop is counted by its part in lost production, crane, extra and hours saved; "
            "the risks that a split unit has of its own are taken to stop the machine for it alone."
        )
