"""Axial paths: exactly one element holds the shaft in each direction; growth runs from there."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.job import Job
from halfbore.domain.machine import AxialReach
from halfbore.domain.position import Role
from halfbore.domain.shaftline import AppliedLoad, AxialPath
from halfbore.errors import InputError, Problem
from halfbore.mechanics import growth
from halfbore.phrases import kilonewton, mm, phrase
from halfbore.shaftline import warmth

Floats = NDArray[np.float64]

BASE_EXPANSION = growth.expansion("carbon steel")
"""A steel frame or concrete with bars carries the bearings [1e-6/K]; common practice, no source."""

_WAYS = {"the drive end": AxialReach.DRIVE, "the free end": AxialReach.FREE}


def axial_paths(job: Job) -> tuple[AxialPath, ...]:
    """Return who holds the shaft in each axial direction.

    Raises InputError when two hold it in one direction: growth would have nowhere to go.
    """
    paths = tuple(AxialPath(towards, _holders(job, reach)) for towards, reach in _WAYS.items())
    for path in paths:
        if len(path.holders) > 1:
            raise InputError(
                Problem(
                    f"the shaft is held twice towards {path.towards}",
                    "axial paths",
                    " and ".join(path.holders),
                    "exactly one element in each direction",
                    "make one of them non-locating, or say which way it holds",
                )
            )
    return paths


def _holders(job: Job, reach: AxialReach) -> tuple[str, ...]:
    units = [p.name for p in job.positions if p.role is Role.LOCATING]
    others = [e.name for e in job.machine.locates if e.holds in (reach, AxialReach.BOTH)]
    return tuple(units + others)


def axial_notes(job: Job, paths: tuple[AxialPath, ...], carried: Floats) -> tuple[str, ...]:
    """Return what must still be settled about the axial paths, in words.

    carried: largest likely radial load of each position in running [N].
    """
    notes = [
        f"Whether {e.name} holds the shaft axially is not known: settle it before a locating unit is ordered."
        for e in job.machine.locates
        if e.holds is AxialReach.UNKNOWN
    ]
    notes += [
        f"Nothing holds the shaft towards {path.towards}: name the element or make one position locating."
        for path in paths
        if not path.holders
    ]
    if not any(path.holders for path in paths):
        notes.append(_suits(job, carried))
    return tuple(notes)


def _suits(job: Job, carried: Floats) -> str:
    """Return which position should locate where nothing else does, why, and how far the shaft grows in any case."""
    best, first, last = job.positions[int(carried.argmax())], job.positions[0], job.positions[-1]
    text = phrase(
        "Of the positions {} suits best for a locating unit: it carries most, {}, and a lightly loaded bearing "
        "must not locate.",
        best.name,
        kilonewton(float(carried.max())),
    )
    grown = np.abs(growth_between(job, first.x, last.x))
    if np.isnan(grown).all():
        return text
    most = mm(float(np.nanmax(grown)), digits=2)
    between = f"between {first.name} and {last.name}"
    return phrase("{} Wherever it is held, the shaft grows by up to {} {}.", text, most, between)


def axial_force(loads: tuple[AppliedLoad, ...], own_weight: float, conditions: int) -> Floats:
    """Return the axial force on the shaft per condition as low, likely, high [N], positive towards the free end.

    own_weight: axial part of the shaft's weight [N].
    """
    total = np.full((conditions, 3), own_weight)
    for load in loads:
        total = total + load.axial
    return total


def locating_place(job: Job) -> float:
    """Return where along the shaft growth starts [mm]; NaN when nobody knows."""
    for p in job.positions:
        if p.role is Role.LOCATING:
            return p.x
    places = [e.x for e in job.machine.locates if e.holds is not AxialReach.UNKNOWN and e.x is not None]
    return places[0] if places else float("nan")


def growth_at(job: Job, x: float) -> tuple[Floats, Floats]:
    """Return the movement of the shaft against its housing at x per condition, low and high [mm].

    Shaft temperature against the air that the base follows; a cold start with the base still cold is the high end.
    Positive towards the free end; NaN where a temperature or the locating place is not known.
    """
    return growth_between(job, locating_place(job), x)


def growth_between(job: Job, held: float, x: float) -> tuple[Floats, Floats]:
    """Return how the shaft grows at x against the base from where it is held, as `growth_at` [mm]."""
    ambient, alpha = job.machine.site.ambient, job.shaft.expansion
    if np.isnan(held):
        unknown = np.full(len(job.duty), np.nan)
        return unknown, unknown
    found = [
        np.full(2, np.nan)
        if np.isnan(mean).any()
        else growth.growth_range(x - held, alpha, mean[0], mean[1], BASE_EXPANSION, ambient.low, ambient.high)
        for mean in warmth.mean_between(job, held, x)
    ]
    both = np.array(found, dtype=np.float64)
    return both[:, 0], both[:, 1]
