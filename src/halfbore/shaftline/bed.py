"""Parts that work a bed of material along the shaft: paddles and the flight of a screw."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from halfbore.domain.job import Job
from halfbore.domain.machine import Paddles, ScrewFlight
from halfbore.domain.shaftline import AppliedLoad
from halfbore.mechanics import paddles, power, screw
from halfbore.mechanics.bands import Band
from halfbore.shaftline.acting import GIVEN, Floats, ends, factors, pull, rated_speed, thrust, weight
from halfbore.sources import Source


def paddle_loads(part: Paddles, job: Job) -> Iterator[AppliedLoad]:
    """Yield weight and push of the bed, both spread evenly over the length of the paddles."""
    yield from weight(job, part.name, part.x, part.mass, length=part.length)
    sizes, source = bed_push(part, job)
    yield pull(
        job,
        f"push of the bed at {part.name}",
        part.name,
        part.x,
        sizes * factors(job),
        part.push_direction,
        source=source,
        length=part.length,
    )


def bed_push(part: Paddles, job: Job) -> tuple[Floats, Source]:
    """Return the resultant radial push of the bed [N] as low, likely, high, and its source."""
    if part.push is not None:
        return ends(part.push), GIVEN
    if part.power is None or part.diameter is None:
        return np.zeros(3), GIVEN
    torque = power.torque(ends(part.power), rated_speed(job))
    on_all = paddles.bed_push(torque, part.diameter, _low_to_high(paddles.LEVER)[::-1])
    return np.asarray(paddles.unbalanced_push(on_all, ends(part.one_sided))), paddles.LEVER.source


def screw_loads(part: ScrewFlight, job: Job) -> Iterator[AppliedLoad]:
    """Yield the weight, spread evenly over the length of the flight, and the thrust.

    The thrust stays at standstill: a screw that is blocked pushes hardest.
    """
    yield from weight(job, part.name, part.x, part.mass, length=part.length)
    sizes, source = screw_thrust(part, job)
    yield thrust(job, part.name, part.x, sizes * factors(job), part.thrust_towards, source=source)


def screw_thrust(part: ScrewFlight, job: Job) -> tuple[Floats, Source]:
    """Return the thrust of a screw [N] as low, likely, high, and its source; the high end of a power is its bound."""
    if part.thrust is not None:
        return ends(part.thrust), GIVEN
    if part.power is None or part.pitch is None:
        return np.zeros(3), GIVEN
    bound = screw.thrust_bound(ends(part.power), rated_speed(job), part.pitch)
    low, likely, _ = _low_to_high(screw.THRUST_PART)
    return np.asarray(screw.thrust_of_power(bound, np.array([low, likely, 1.0]))), screw.THRUST_PART.source


def _low_to_high(band: Band) -> Floats:
    """Return a band as low, middle, high."""
    return np.array([band.low, 0.5 * (band.low + band.high), band.high])
