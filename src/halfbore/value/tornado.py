"""What moves the answer: each input held at its P10 and at its P90 while all else stays as drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from enum import IntEnum
from typing import Any, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.plan import PlanDraws, WayDraws
from halfbore.domain.value import Swing
from halfbore.numerics.sampling import quantiles
from halfbore.value.costs import Prices
from halfbore.value.simulate import Changes, Costs, Future, Inputs, begin, change_costs, renew, saving

Floats = NDArray[np.float64]
Record = TypeVar("Record", Inputs, Prices)

LOW, HIGH = 0, 2
"""Places of P10 and P90 among the quantiles of `sampling`."""


class Moves(IntEnum):
    """What an input moves: money only, how changes begin, or when bearings are renewed."""

    MONEY = 0
    BEGINNINGS = 1
    RENEWALS = 2


class _Lever(NamedTuple):
    """One input: its name and unit, its draws, and how to hold it at an end."""

    name: str
    unit: str
    draws: Floats
    hold: Callable[[int], Inputs]
    moves: Moves = Moves.MONEY


def swings(
    inputs: Inputs,
    future: Future,
    changes: tuple[Changes, Changes],
    costs: tuple[Costs, Costs],
    currency: str,
) -> tuple[Swing, ...]:
    """Return how far the mean saving moves with each input alone, the widest first; still ones are left out."""

    def mean(lever: _Lever, end: int) -> float:
        """Return the mean saving with the lever held, working out again only what it moves."""
        held = lever.hold(end)
        if lever.moves is Moves.MONEY:
            return float(np.mean(saving(change_costs(held), changes)))
        ahead = renew(held) if lever.moves is Moves.RENEWALS else future
        return float(np.mean(saving(costs, begin(held, ahead))))

    found = []
    for lever in _levers(inputs, currency):
        low, high = mean(lever, LOW), mean(lever, HIGH)
        if low != high:
            found.append(
                Swing(lever.name, _end(lever.draws, LOW), _end(lever.draws, HIGH), low, high, lever.unit)
            )
    return tuple(sorted(found, key=lambda swing: -abs(swing.at_high - swing.at_low)))


def _levers(inputs: Inputs, currency: str) -> Iterator[_Lever]:
    yield from _money_levers(inputs, currency)
    yield from _hours_levers(inputs)
    yield from _life_levers(inputs)


def _money_levers(inputs: Inputs, currency: str) -> Iterator[_Lever]:
    curve, prices = inputs.curve, inputs.prices
    lead = curve.rate[int(np.argmax(curve.rate.max(axis=1) > 0.0))]
    yield _Lever(
        "cost of lost production",
        f"{currency}/h",
        lead,
        lambda end: replace(inputs, curve=replace(curve, rate=np.stack([_held(r, end) for r in curve.rate]))),
    )
    for name, unit, field in (
        ("labour", f"{currency}/h", "labour"),
        ("hired crane, a call", currency, "crane"),
        ("extra cost of an unplanned stop", currency, "unplanned_extra"),
    ):
        draws = getattr(prices, field)

        def hold(end: int, field: str = field, draws: Floats = draws) -> Inputs:
            return replace(inputs, prices=_with(prices, field, _held(draws, end)))

        yield _Lever(name, unit, draws, hold)
    for name, field in (
        ("price of the one-piece bearing", "one_piece_price"),
        ("price of the spare ring halves", "spare_price"),
    ):
        yield _field_lever(inputs, name, currency, field)


def _hours_levers(inputs: Inputs) -> Iterator[_Lever]:
    old, new = inputs.one_piece, inputs.split
    yield _Lever(
        "one-piece change",
        "h",
        old.next.outage,
        lambda end: replace(inputs, one_piece=WayDraws(*(_held_hours(c, end) for c in _changes(old)))),
    )
    yield _Lever(
        "first conversion",
        "h",
        new.next.outage,
        lambda end: replace(inputs, split=replace(new, next=_held_hours(new.next, end))),
    )
    yield _Lever(
        "repeat change",
        "h",
        new.planned.outage,
        lambda end: replace(
            inputs, split=WayDraws(new.next, *(_held_hours(c, end) for c in _changes(new)[1:]))
        ),
    )
    yield _field_lever(inputs, "length of a stop taken anyway", "h", "stop_length")


def _life_levers(inputs: Inputs) -> Iterator[_Lever]:
    old, new = inputs.old, inputs.new
    own, going = new.scales[:, :-1], new.scales[:, -1:]

    def hold_old(end: int) -> Inputs:
        """Hold the one-piece life, and with it what of its failures goes on in the split unit."""
        scale = _held(old.scales[:, 0], end)
        still = inputs.carried.scale(scale)[:, None]
        return replace(
            inputs, old=replace(old, scales=scale[:, None]), new=replace(new, scales=np.hstack([own, still]))
        )

    def hold_cure(end: int) -> Inputs:
        carried = replace(inputs.carried, left=_held(inputs.carried.left, end))
        still = carried.scale(old.scales[:, 0])[:, None]
        return replace(inputs, carried=carried, new=replace(new, scales=np.hstack([own, still])))

    def hold_new(end: int) -> Inputs:
        scales = np.stack([_held(scale, end) for scale in own.T], axis=1)
        cap = _held(new.cap, end)
        return replace(inputs, new=replace(new, scales=np.hstack([scales, going]), cap=cap))

    yield _Lever("field life of the one-piece bearing", "h", old.scales[:, 0], hold_old, Moves.RENEWALS)
    weakest = np.minimum(own.min(axis=1), new.cap)
    yield _Lever("field life of the split unit, shortest risk", "h", weakest, hold_new, Moves.RENEWALS)
    left = inputs.carried.left
    if left.any():
        yield _Lever("today's failures that a cure leaves", "", left, hold_cure, Moves.RENEWALS)
    yield _field_lever(
        inputs, "share of changes in stops taken anyway", "", "planned_share", Moves.BEGINNINGS
    )
    yield _field_lever(inputs, "share of failures that seize", "", "seized_share", Moves.BEGINNINGS)


def _field_lever(inputs: Inputs, name: str, unit: str, field: str, moves: Moves = Moves.MONEY) -> _Lever:
    draws = getattr(inputs, field)
    return _Lever(name, unit, draws, lambda end: _with(inputs, field, _held(draws, end)), moves)


def _with(record: Record, field: str, draws: Floats) -> Record:
    """Return a record with one field, named by a text, set to draws."""
    told: dict[str, Any] = {field: draws}
    return replace(record, **told)


def _changes(way: WayDraws) -> tuple[PlanDraws, ...]:
    return way.next, way.planned, way.failed, way.seized


def _held_hours(change: PlanDraws, end: int) -> PlanDraws:
    return replace(change, outage=_held(change.outage, end))


def _held(draws: Floats, end: int) -> Floats:
    return np.full_like(draws, _end(draws, end))


def _end(draws: Floats, end: int) -> float:
    return float(quantiles(draws)[end])
