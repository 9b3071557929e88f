"""How a part of a machine becomes a load on the shaft: weight, pull, factors, directions."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.job import Job
from halfbore.domain.machine import End
from halfbore.domain.shaftline import AppliedLoad, Nature
from halfbore.mechanics import forces
from halfbore.numbers import number
from halfbore.sources import Source, Status, derived
from halfbore.units import Span

Floats = NDArray[np.float64]

DOWN = np.pi
UP = 0.0
GIVEN = Source("job file", status=Status.GIVEN)
_WEIGHT = derived("weight = mass times 9.80665 m/s²")


def rated_speed(job: Job) -> float:
    """Return the speed of the condition with the largest share [r/min], at which power is named."""
    return max(job.duty, key=lambda c: c.share).speed


def ends(span: Span) -> Floats:
    """Return a range as an array of low, likely, high."""
    return np.array([span.low, span.likely, span.high])


def factors(job: Job, own: float = 1.0) -> Floats:
    """Return the service factor on process loads (conditions, 3), times one that belongs to a load alone."""
    return own * np.array([ends(c.load_factor) for c in job.duty])


def steady(job: Job, values: Floats) -> Floats:
    """Return values that are the same in every condition (conditions, 3)."""
    return np.broadcast_to(values, (len(job.duty), 3)).copy()


def load_of(job: Job, name: str, part: str, x: float, **given: Any) -> AppliedLoad:
    """Return a load of which everything that is not given is nothing."""
    zero = np.zeros((len(job.duty), 3))
    filled: dict[str, Any] = {
        "nature": Nature.STATIONARY,
        "force_y": zero,
        "force_z": zero,
        "couple": np.zeros((len(job.duty), 3, 2)),
        "axial": zero,
        "process": False,
        "source": GIVEN,
        "direction": "",
    }
    return AppliedLoad(name, part, x, **(filled | given))


def weight(
    job: Job, part: str, x: float, mass: Span, offset: float = 0.0, length: float = 0.0, what: str = ""
) -> Iterator[AppliedLoad]:
    """Yield the weight of a part, with its part along an inclined shaft; nothing for a part without mass.

    offset: its centre of gravity from x [mm]; length: of shaft over which it is spread evenly [mm]; what: weighs,
    where it is not the part itself.
    """
    if mass.high <= 0:
        return
    size = np.asarray(forces.weight(ends(mass)))
    lean = job.shaft.inclination
    across = steady(job, -size * np.cos(lean))
    couple = np.zeros((*across.shape, 2))
    couple[..., 0] = across * offset
    yield load_of(
        job,
        f"weight of {what or part}",
        part,
        x,
        force_y=across,
        couple=couple,
        axial=steady(job, -size * np.sin(lean)),
        source=_WEIGHT,
        direction="down",
        length=length,
    )


def pull(job: Job, name: str, part: str, x: float, sizes: Floats, angle: float, **given: Any) -> AppliedLoad:
    """Return a process force of sizes (conditions, 3) in one direction [rad]."""
    return load_of(
        job,
        name,
        part,
        x,
        force_y=sizes * np.cos(angle),
        force_z=sizes * np.sin(angle),
        process=True,
        direction=direction_words(angle),
        **given,
    )


def direction_words(angle: float) -> str:
    """Return a direction as people say it, seen from the drive end.

    angle: from straight up, positive to the right [rad].
    """
    degrees = np.degrees(angle) % 360.0
    words = {0: "up", 90: "right", 180: "down", 270: "left", 360: "up"}
    near = min(words, key=lambda w: abs(w - degrees))
    return words[near] if abs(near - degrees) < 0.5 else f"{number(degrees)}° from up, to the right"


def ordered(values: Floats) -> Floats:
    """Return low, likely, high in order, also where a negative sense has exchanged the ends."""
    return np.sort(values, axis=1)


def thrust(job: Job, part: str, x: float, sizes: Floats, towards: End | None, **given: Any) -> AppliedLoad:
    """Return an axial process force of sizes (conditions, 3) towards one end of the shaft."""
    sense = -1.0 if towards is End.DRIVE else 1.0
    return load_of(
        job,
        f"thrust of {part}",
        part,
        x,
        axial=ordered(sense * sizes),
        process=True,
        direction=f"along the shaft, towards the {towards}",
        **given,
    )
