"""What acts on the shaft and what holds it, gathered for the drawing: one arrow a place, words for the rest."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass

from halfbore.domain.job import Job
from halfbore.domain.machine import Drum, ElevatorDrum, ElevatorPlace
from halfbore.domain.shaftline import AppliedLoad, Nature, Reaction, ShaftResponse
from halfbore.numbers import METRIC, Style, write
from halfbore.present.wording import ANY_WAY, direction
from halfbore.units import Kind

LIKELY = 1
"""Place of the likely value among low, likely and high."""
SMALL = 0.01
"""Forces below this part of the largest get neither arrow nor words on the drawing; the table has them all."""


@dataclass(frozen=True)
class Force:
    """A force on the shaft at one place [mm, N], for one arrow in each view.

    length: of shaft over which it is spread [mm].
    """

    x: float
    y: float
    z: float
    part: str
    length: float = 0.0

    @property
    def size(self) -> float:
        """The whole force [N]."""
        return math.hypot(self.y, self.z)


def main_condition(response: ShaftResponse) -> int:
    """Return the running condition in which the supports bear most, the first where nothing runs."""
    running = [i for i, share in enumerate(response.duties[0].share) if share > 0.0] or [0]
    names = [curve.condition for curve in response.curves]
    return max(running, key=lambda i: sum(abs(r.high) for r in response.reactions if r.condition == names[i]))


def acting(response: ShaftResponse, condition: int) -> tuple[Force, ...]:
    """Return the sum of the stationary loads of each part at each place."""
    sums: dict[tuple[str, float, float], list[float]] = defaultdict(lambda: [0.0, 0.0])
    for load in response.loads:
        if load.nature is Nature.STATIONARY:
            total = sums[load.part, load.x, load.length]
            total[0] += float(load.force_y[condition, LIKELY])
            total[1] += float(load.force_z[condition, LIKELY])
    return tuple(Force(x, y, z, part, length) for (part, x, length), (y, z) in sums.items())


def take_ups(job: Job, response: ShaftResponse, condition: int) -> tuple[Force, ...]:
    """Return the force of each take-up on its bearings: against the strands that it stretches."""
    drums = [
        load
        for load in job.loads
        if (isinstance(load, Drum) and load.take_up is not None)
        or (isinstance(load, ElevatorDrum) and load.place is ElevatorPlace.BOOT)
    ]
    found = []
    for drum in drums:
        pulls = [load for load in response.loads if load.part == drum.name and load.process]
        y, z = (-sum(float(getattr(p, n)[condition, LIKELY]) for p in pulls) for n in ("force_y", "force_z"))
        if math.hypot(y, z) > 0:
            found.append(Force(drum.x, y, z, drum.name))
    return tuple(found)


def holding(response: ShaftResponse, condition: int) -> tuple[Force, ...]:
    """Return the reactions in one condition, in the order of the positions."""
    name = response.curves[condition].condition
    places = {duty.name: duty.x for duty in response.duties}
    return tuple(
        Force(places[r.position], r.y, r.z, r.position) for r in response.reactions if r.condition == name
    )


def reaction_at(response: ShaftResponse, position: str, condition: str) -> Reaction:
    """Return the reaction of one support in one condition."""
    return next(r for r in response.reactions if r.position == position and r.condition == condition)


def reaction_words(reaction: Reaction, style: Style = METRIC) -> str:
    """Return a reaction with its direction: 43.0 kN, right."""
    size = math.hypot(reaction.y, reaction.z)
    way = ANY_WAY if reaction.spread >= math.pi / 2 else direction(reaction.y, reaction.z)
    return f"{write(size, Kind.FORCE, style)}, {way}" if size else "no load"


def load_words(
    response: ShaftResponse, part: str, condition: int, style: Style = METRIC, least: float = 0.05
) -> tuple[str, ...]:
    """Return the loads of one part in words, those of one kind added up: tight strand 41.0 kN left.

    least: loads below it are left out [N].
    """
    kinds: dict[tuple[str, Nature], list[AppliedLoad]] = defaultdict(list)
    for load in response.loads:
        if load.part == part:
            kinds[_kind_of(load), load.nature].append(load)
    told = [_told(kind, nature, loads, condition, style, least) for (kind, nature), loads in kinds.items()]
    return tuple(words for words in told if words)


def _kind_of(load: AppliedLoad) -> str:
    """Return what a load is, without the name of its part: weight, pull, tight strand."""
    for link in (f" of {load.part}", f" at {load.part}", f" on {load.part}"):
        if link in load.name:
            return load.name.partition(link)[0]
    return load.name


def _told(
    kind: str, nature: Nature, loads: list[AppliedLoad], condition: int, style: Style, least: float
) -> str:
    y = sum(float(load.force_y[condition, LIKELY]) for load in loads)
    z = sum(float(load.force_z[condition, LIKELY]) for load in loads)
    along = sum(float(load.axial[condition, LIKELY]) for load in loads)
    size, words = math.hypot(y, z), []
    if size > least:
        way = direction(y, z) if nature is Nature.STATIONARY else _UNSTEADY[nature]
        way = next((load.turned for load in loads if load.turned), way)
        words.append(f"{write(size, Kind.FORCE, style)} {way}")
    if abs(along) > least:
        end = "free end" if along > 0 else "drive end"
        words.append(f"{write(abs(along), Kind.FORCE, style)} to the {end}")
    return f"{kind} {', '.join(words)}" if words else ""


_UNSTEADY = {Nature.ROTATING: "turning", Nature.ANY_DIRECTION: "any way"}
