"""What went into numbers that no clause gives alone: each load's part of a reaction, the prices behind a value."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from halfbore.changeover.plan import DRAWS
from halfbore.domain.job import Job
from halfbore.domain.shaftline import AppliedLoad, Nature
from halfbore.domain.study import Glance, PositionStudy, Study
from halfbore.domain.worked import LoadPart, ReactionParts, Taken
from halfbore.mechanics import forces, shaft_section
from halfbore.sources import Source, Status, derived, practice
from halfbore.units import Kind, Span
from halfbore.value.failures import CAP_YEARS, PACKING_YEARS
from halfbore.value.simulate import ONE_PIECE_PART, SPARE_PART

PERT = "Beta-PERT"
CATALOGUE = Source("the supplier's catalogue", status=Status.GIVEN)
OWN_WEIGHT = derived("weight of a stretch = density times volume times 9.80665 m/s²")


def reaction_parts(found: Study | Glance, position: str) -> tuple[ReactionParts, ...]:
    """Return what each reaction of a position is made of, condition by condition.

    found: a study or a glance; position: its name. On two bearings each load divides by its place; on more, give and
    clearance decide as well, and a load has no share of its own.
    """
    job = found.reading.job
    index = [p.name for p in job.positions].index(position)
    places = [p.x for p in job.positions]
    others = tuple(x for i, x in enumerate(places) if i != index)
    return tuple(
        ReactionParts(
            condition.name,
            places[index],
            others,
            tuple(_parts(job, found.response.loads, c, places[index], others)),
        )
        for c, condition in enumerate(job.duty)
    )


def _parts(
    job: Job, loads: tuple[AppliedLoad, ...], condition: int, x: float, others: tuple[float, ...]
) -> Iterator[LoadPart]:
    lever = x - others[0] if len(others) == 1 else math.nan
    for load in loads:
        likely = (float(load.force_y[condition, 1]), float(load.force_z[condition, 1]))
        sizes = np.sort(np.hypot(load.force_y[condition], load.force_z[condition]))
        along = np.sort(load.axial[condition])
        if not sizes.any() and not load.couple[condition].any() and not along.any():
            continue
        still = load.nature is Nature.STATIONARY
        share = (load.x - others[0]) / lever if still and len(others) == 1 else math.nan
        turning = load.couple[condition, 1] / lever
        part = tuple(-share * f - float(c) for f, c in zip(likely, turning, strict=True))
        yield LoadPart(
            load.name,
            likely,
            Span(*map(float, sizes)),
            load.x,
            share,
            (part[0], part[1]),
            Span(*map(float, along)),
            load.direction if still else load.nature.value,
            load.source,
        )
    start = 0.0
    for number, stretch in enumerate(job.shaft.segments, 1):
        per_length = float(shaft_section.mass_per_length(stretch.diameter, stretch.bore, job.shaft.density))
        weight = per_length * stretch.length * forces.GRAVITY * math.cos(job.shaft.inclination)
        middle = start + stretch.length / 2
        share = (middle - others[0]) / lever if len(others) == 1 else math.nan
        yield LoadPart(
            f"weight of stretch {number} of the shaft",
            (-weight, 0.0),
            Span.of(weight),
            middle,
            share,
            (share * weight, 0.0),
            Span.of(0.0),
            "down",
            OWN_WEIGHT,
        )
        start += stretch.length


def plan_luck(found: Study) -> tuple[int, int]:
    """Return seed and number of draws of the plans of a study."""
    money = found.reading.job.value
    return found.provenance.seed, DRAWS if money is None else money.draws


def prices_taken(found: Study, position: str) -> tuple[Taken, ...]:
    """Return what the parts of either way cost, and when a split unit is renewed or packed in any case.

    found: a study as far as the value; position: name of one that has a value.
    """
    economics = found.reading.job.value
    one = _of(found, position)
    if economics is None or one.choice is None or one.choice.chosen_unit is None:
        return ()
    unit, currency = one.choice.chosen_unit, economics.currency
    price, spare = float(unit.price[0]), float(unit.bearing_price[0])

    def part(name: str, of: Span) -> Taken:
        value = Span(of.low * price, of.likely * price, of.high * price)
        return Taken(name, value, Kind.MONEY, practice("a part of the split unit's price"), PERT, currency)

    found_prices = [Taken("split unit without its seals", price, Kind.MONEY, CATALOGUE, currency=currency)]
    if economics.one_piece_price is None:
        found_prices.append(part("one-piece bearing, no price given", ONE_PIECE_PART))
    if math.isnan(spare):
        found_prices.append(part("spare bearing of the split unit, no price given", SPARE_PART))
    else:
        found_prices.append(
            Taken("spare bearing of the split unit", spare, Kind.MONEY, CATALOGUE, currency=currency)
        )
    years = (
        ("age at which a split unit is renewed in any case", CAP_YEARS),
        ("age at which packing is renewed, where it has any", PACKING_YEARS),
    )
    return (
        *found_prices,
        *(
            Taken(n, _hours(span), Kind.DURATION, practice("service intervals"), PERT, unit="years")
            for n, span in years
        ),
    )


def _hours(years: Span) -> Span:
    return Span(*(end * 8760.0 for end in (years.low, years.likely, years.high)))


def _of(found: Study, position: str) -> PositionStudy:
    return next(p for p in found.positions if p.position == position)
