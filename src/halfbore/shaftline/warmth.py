"""How warm the shaft is along its length: as the condition says, as hot gas makes it, as measured at a position.

Where a wheel stands in hot gas, the shaft between its casing walls has the temperature of the gas and leads heat
outwards as a fin in still air. The warmer of that and what the condition says counts in every running condition;
what was measured at a position counts there before both.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from halfbore.domain.job import Job
from halfbore.domain.machine import FanWheel, Segment
from halfbore.mechanics import hot_shaft
from halfbore.numbers import number
from halfbore.phrases import celsius, joined, phrase
from halfbore.shaftline.acting import Floats
from halfbore.units import Span

GRID = 801
"""Places between two bearings at which the temperature is averaged."""

AS_GIVEN, MEASURED, BY_GAS = "as given", "as measured here", "by heat from the gas along the shaft (estimate)"


def at_positions(job: Job) -> Floats:
    """Return the temperature of the shaft at each position (positions, conditions, low and high) [°C].

    NaN where nobody knows it.
    """
    found = _profile(job, np.array([p.x for p in job.positions]))
    for i, p in enumerate(job.positions):
        if p.shaft_temperature is not None:
            found[i, running(job)] = _ends(p.shaft_temperature)
    return found


def origins(job: Job) -> tuple[str, ...]:
    """Return where the temperature at each position comes from, in words."""
    found, said = at_positions(job), _said(job)
    warmer = np.any(~np.isclose(found, said, equal_nan=True), axis=(1, 2))
    return tuple(
        MEASURED if p.shaft_temperature is not None else BY_GAS if by_gas else AS_GIVEN
        for p, by_gas in zip(job.positions, warmer.tolist(), strict=True)
    )


def mean_between(job: Job, one: float, other: float) -> Floats:
    """Return the mean temperature of the shaft between two places (conditions, low and high) [°C].

    What was measured at a position shifts the course of the temperature there, and fades to the next position;
    nowhere is the shaft taken to be cooler than at the cooler bearing.
    """
    if not _wheels(job) and all(p.shaft_temperature is None for p in job.positions):
        return _said(job)
    x = np.linspace(one, other, GRID)
    at, known = np.array([p.x for p in job.positions]), at_positions(job)
    course, here = _profile(job, x), _profile(job, at)
    by_line, shift = _between(x, at, known), _between(x, at, known - here)
    found = np.fmax(np.where(np.isnan(course), by_line, course + shift), known.min(axis=0))
    return np.sort((found[1:] + found[:-1]).mean(axis=0) / 2, axis=1)


def running(job: Job) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Return the conditions in which the machine is warm: those that turn, or all of one that never does."""
    turning = np.array([c.speed > 0 for c in job.duty])
    return turning if turning.any() else np.ones_like(turning)


def notes(job: Job) -> Iterator[str]:
    """Yield where the temperature of the shaft is an estimate and what would narrow it."""
    estimated = [i for i, origin in enumerate(origins(job)) if origin == BY_GAS]
    if not estimated:
        return
    on, found = running(job), at_positions(job)
    told = joined(
        ", ",
        (
            phrase("{} {}", job.positions[i].name, celsius((found[i, on, 0].min(), found[i, on, 1].max())))
            for i in estimated
        ),
    )
    air, steel = hot_shaft.STILL_AIR, hot_shaft.CONDUCTIVITY
    yield phrase(
        "Heat from the gas along the shaft gives {}: a fin with {} {} to still air and {} {}, from the casing wall "
        "on; a cooling disc makes it less. Measure the shaft beside the bearing: that narrows it most.",
        told,
        number((air.low, air.high), 6),
        air.unit,
        number((steel.low, steel.high), 6),
        steel.unit,
    )


def _between(x: Floats, at: Floats, values: Floats) -> Floats:
    """Return values at the positions (positions, conditions, 2) laid on a line from one to the next, at x."""
    flat = values.reshape(len(at), -1)
    return np.stack([np.interp(x, at, column) for column in flat.T], axis=1).reshape(
        len(x), *values.shape[1:]
    )


def _profile(job: Job, x: Floats) -> Floats:
    """Return the temperature without what was measured (places, conditions, low and high) [°C]."""
    found = np.broadcast_to(_said(job), (len(x), len(job.duty), 2)).copy()
    for wheel in _wheels(job):
        warm = _by_gas(job, wheel, x)[:, None, :]
        found[:, running(job)] = np.fmax(found[:, running(job)], warm)
    return found


def _wheels(job: Job) -> list[FanWheel]:
    return [w for w in job.loads if isinstance(w, FanWheel) and w.gas_temperature is not None]


def _said(job: Job) -> Floats:
    nothing = np.full(2, np.nan)
    return np.array(
        [nothing if c.shaft_temperature is None else _ends(c.shaft_temperature) for c in job.duty]
    )


def _ends(span: Span) -> Floats:
    return np.array([span.low, span.high])


def _by_gas(job: Job, wheel: FanWheel, x: Floats) -> Floats:
    """Return what the gas at a wheel makes of the shaft at places along it (places, low and high) [°C]."""
    assert wheel.gas_temperature is not None
    gas, air = _ends(wheel.gas_temperature), _ends(job.machine.site.ambient)
    left = np.stack([_left_of_excess(job, wheel, x, end) for end in ("low", "high")])
    both = air[:, None, None] + (gas - air)[:, None, None] * left  # gas that is colder than the air cools
    return np.stack([both[0].min(axis=0), both[1].max(axis=0)], axis=1)


def _left_of_excess(job: Job, wheel: FanWheel, x: Floats, end: str) -> Floats:
    """Return the part of the excess over the air that is left at places along the shaft.

    end: low for a strong film, poor conduction and a near wheel wall, high for the other end of each.
    """
    high = end == "high"
    hot = hot_half(job, wheel)[int(high)]
    film = hot_shaft.STILL_AIR.low if high else hot_shaft.STILL_AIR.high
    conductivity = hot_shaft.CONDUCTIVITY.high if high else hot_shaft.CONDUCTIVITY.low
    left = np.ones_like(x)
    for side in (-1.0, 1.0):
        beyond = side * (x - wheel.x) > hot
        total = wheel.x if side < 0 else job.shaft.length - wheel.x
        fins = [
            float(hot_shaft.fin_parameter(s.diameter, film, conductivity, s.bore))
            for s in _led_over(job, wheel, side)
        ]
        if beyond.any():
            distance = np.minimum(side * (x[beyond] - wheel.x), total) - hot
            fin = min(fins) if high else max(fins)
            left[beyond] = hot_shaft.excess_temperature(1.0, fin, distance, np.float64(total - hot))
    return left


def hot_half(job: Job, wheel: FanWheel) -> tuple[float, float]:
    """Return how far from the middle of a wheel the shaft stands in its gas, least and most [mm]."""
    if wheel.hot_length is not None:
        return wheel.hot_length / 2, wheel.hot_length / 2
    half, d = (wheel.width or 0.0) / 2, job.shaft.segment_at(wheel.x).diameter
    return half + hot_shaft.CASING.low * d, half + hot_shaft.CASING.high * d


def _led_over(job: Job, wheel: FanWheel, side: float) -> list[Segment]:
    """Return the segments between a wheel and the outermost bearing on one side; the wheel's own without one."""
    far = [p.x for p in job.positions if side * (p.x - wheel.x) > 0] or [wheel.x]
    low, high = sorted((wheel.x, max(far, key=lambda x: abs(x - wheel.x))))
    ends = np.cumsum([s.length for s in job.shaft.segments])
    return [
        s
        for s, end in zip(job.shaft.segments, ends, strict=True)
        if end > low - 1e-6 and end - s.length < high + 1e-6
    ]
