"""Calculations about the parts of a split unit that take several clauses or a table together."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Any, ClassVar

import numpy as np

from halfbore.calc.described import Measured
from halfbore.domain.fields import Note, Quantity
from halfbore.domain.machine import Dust, Water
from halfbore.errors import InputError, Problem
from halfbore.mechanics import axial, free_body, lubrication, ring_joint, rotating, seals, supports
from halfbore.units import Kind


@dataclass(frozen=True)
class TurningLoad:
    """A load that keeps its direction and one that turns with the shaft."""

    still_y: Annotated[float, Quantity(Kind.FORCE, "stationary load, upright, up positive")]
    still_z: Annotated[float, Quantity(Kind.FORCE, "stationary load, level")]
    turning: Annotated[float, Quantity(Kind.FORCE, "load that turns with the shaft", limits=(0, 1e9))]
    exponent: Annotated[float, Quantity(Kind.NUMBER, "life exponent", limits=(1, 10))] = 10 / 3

    EXAMPLE: ClassVar[dict[str, Any]] = {"still_y": "-17 kN", "still_z": "0 N", "turning": "2.5 kN"}


@dataclass(frozen=True)
class LoadOverTurn:
    """What a bearing feels over one turn."""

    equivalent: Annotated[float, Quantity(Kind.FORCE, "steady load of the same damage")]
    peak: Annotated[float, Quantity(Kind.FORCE, "largest load of the turn")]
    least: Annotated[float, Quantity(Kind.FORCE, "smallest load of the turn")]
    first: Annotated[float, Quantity(Kind.ANGLE, "first direction swept, from straight up")]
    last: Annotated[float, Quantity(Kind.ANGLE, "last direction swept, from straight up")]


def load_over_turn(given: TurningLoad) -> LoadOverTurn:
    """Steady load, peak and sweep of a stationary and a rotating load over one turn."""
    turn = rotating.over_one_turn(
        (given.still_y, given.still_z), (given.turning, 0.0), rotating.quarter_turn(given.turning, 0.0)
    )
    first, last = rotating.directions_swept(turn)
    mean, top, low = rotating.equivalent(turn, given.exponent), rotating.peak(turn), rotating.least(turn)
    return LoadOverTurn(float(mean), float(top), float(low), float(first), float(last))


@dataclass(frozen=True)
class JointCase:
    """A loaded bearing and where its outer ring parts."""

    F_r: Annotated[float, Quantity(Kind.FORCE, "radial load", limits=(0, 1e9))]
    load: Annotated[float, Quantity(Kind.ANGLE, "direction of the load on the bearing, from straight up")]
    joint: Annotated[float, Quantity(Kind.ANGLE, "direction of either joint, from straight up")]
    s: Annotated[float, Quantity(Kind.LENGTH, "diametral clearance in operation", limits=(-1, 5))]
    Z: Annotated[int, Quantity(Kind.COUNT, "rollers in a row", limits=(1, 1000))]
    stiffness: Annotated[
        float,
        Measured(
            Kind.NUMBER, "stiffness of a roller between both raceways", limits=(1, 1e12), unit="N/mm^(10/9)"
        ),
    ]

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "F_r": "35.6 kN",
        "load": "170 deg",
        "joint": "90 deg",
        "s": "0.08 mm",
        "Z": 18,
        "stiffness": 900000,
    }


@dataclass(frozen=True)
class JointStand:
    """How the load zone stands to the nearer joint."""

    distance: Annotated[float, Quantity(Kind.ANGLE, "from the load's direction to the nearer joint")]
    half_zone: Annotated[float, Quantity(Kind.ANGLE, "half the load zone")]
    margin: Annotated[float, Quantity(Kind.ANGLE, "from the end of the zone to the joint")]
    state: Annotated[str, Note("how they stand")]


_STATES = {
    ring_joint.JointState.CLEAR: "the joint is clear of the load zone",
    ring_joint.JointState.ZONE_REACHES: "the load zone reaches the joint",
    ring_joint.JointState.PEAK_ON_JOINT: "the most loaded roller stands on the joint",
}


def load_zone(given: JointCase) -> JointStand:
    """Load zone of a bearing against the joint of its outer ring."""
    zone = ring_joint.half_load_zone(given.F_r, given.s, given.Z, given.stiffness)
    distance = ring_joint.joint_distance(given.load, given.joint)
    margin = ring_joint.joint_margin(distance, zone)
    state = ring_joint.JointState(int(ring_joint.joint_state(distance, zone, given.Z)))
    return JointStand(float(distance), float(zone), float(margin), _STATES[state])


class SealName(StrEnum):
    """Kinds of seal of a split unit."""

    PACKING = "packing (aramid)"
    LABYRINTH = "labyrinth, grease-packed"
    CLOSED = "closed end cover"
    FELT = "felt"


@dataclass(frozen=True)
class SealCase:
    """A seal and what stands before it."""

    kind: Annotated[SealName, Note("kind of seal")]
    d: Annotated[float, Quantity(Kind.LENGTH, "shaft diameter under the seal", limits=(0, 2000))]
    n: Annotated[float, Quantity(Kind.SPEED, "speed", limits=(0, 1e6))]
    dust: Annotated[Dust, Note("dust and dirt outside")] = Dust.DUST
    water: Annotated[Water, Note("water outside")] = Water.NONE
    pressure: Annotated[bool, Note("gas pressure differs across a casing wall at the seal")] = False

    EXAMPLE: ClassVar[dict[str, Any]] = {"kind": "packing (aramid)", "d": "160 mm", "n": "990 r/min"}


@dataclass(frozen=True)
class SealAnswer:
    """What a seal meets and what it bears by custom."""

    speed: Annotated[float, Quantity(Kind.SURFACE_SPEED, "surface speed under the seal")]
    speed_limit: Annotated[float, Quantity(Kind.SURFACE_SPEED, "surface speed that it bears")]
    temperature_limit: Annotated[float, Quantity(Kind.TEMPERATURE, "temperature that it bears")]
    keeps_out: Annotated[bool, Note("keeps this dust and water out")]


def seal_limits(given: SealCase) -> SealAnswer:
    """Surface speed under a seal, and what the kind of seal bears by custom where no supplier says so."""
    row = [kind.name for kind in seals.SEALS].index(given.kind)
    dust, water = list(Dust).index(given.dust), list(Water).index(given.water)
    return SealAnswer(
        float(seals.surface_speed(given.d, given.n)),
        float(seals.speed_limit_fallback(row)),
        float(seals.temperature_limit_fallback(row)),
        bool(seals.keeps_out(row, dust, water, given.pressure)),
    )


@dataclass(frozen=True)
class FillCase:
    """Speed and dirt of a housing."""

    n: Annotated[float, Quantity(Kind.SPEED, "speed", limits=(0, 1e6))]
    d_m: Annotated[float, Quantity(Kind.LENGTH, "mean diameter of the bearing", limits=(1, 10000))]
    dirty: Annotated[bool, Note("wet, dusty or dirty surroundings")] = True

    EXAMPLE: ClassVar[dict[str, Any]] = {"n": "62 r/min", "d_m": "215 mm", "dirty": True}


@dataclass(frozen=True)
class FillAnswer:
    """How full the housing is kept."""

    speed_factor: Annotated[float, Measured(Kind.NUMBER, "n·d_m", unit="mm/min")]
    least: Annotated[float, Quantity(Kind.FRACTION, "least share of the housing's free room")]
    greatest: Annotated[float, Quantity(Kind.FRACTION, "greatest share of the housing's free room")]


def grease_fill(given: FillCase) -> FillAnswer:
    """Share of the housing's free room that is filled with grease, by speed and dirt."""
    factor = given.n * given.d_m
    band = lubrication.HOUSING_FILL[int(lubrication.housing_fill(factor, given.dirty))]
    return FillAnswer(factor, band.low, band.high)


@dataclass(frozen=True)
class Link:
    """One link of the axial chain; without a capacity it is not known."""

    name: Annotated[str, Note("what carries the axial load here")]
    capacity: Annotated[float | None, Quantity(Kind.FORCE, "axial load that it bears", limits=(0, 1e9))] = (
        None
    )


@dataclass(frozen=True)
class Chain:
    """The links that an axial load goes through."""

    links: Annotated[tuple[Link, ...], Note("links of the chain")]

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "links": [
            {"name": "roller ends and flange", "capacity": "6.2 kN"},
            {"name": "grip of the clamping rings", "capacity": "9 kN"},
            {"name": "base bolts"},
        ]
    }


@dataclass(frozen=True)
class ChainAnswer:
    """What the chain bears as far as it is known."""

    capacity: Annotated[float, Quantity(Kind.FORCE, "axial load that the known links bear")]
    weakest: Annotated[str, Note("weakest known link")]
    unknown: Annotated[int, Quantity(Kind.COUNT, "links that are not known and can only lower it")]


def axial_chain(given: Chain) -> ChainAnswer:
    """Axial load that a chain of links bears: no more than its weakest one."""
    links = np.array([np.nan if link.capacity is None else link.capacity for link in given.links] or [np.nan])
    row, unknown = int(axial.weakest_link(links)), int(axial.unknown_links(links))
    return ChainAnswer(
        float(axial.chain_capacity(links)), given.links[row].name if row >= 0 else "none is known", unknown
    )


@dataclass(frozen=True)
class Sector:
    """A sector of load directions with its limit."""

    begins: Annotated[float, Quantity(Kind.ANGLE, "where it begins, from straight up", limits=(0, 6.2832))]
    limit: Annotated[float, Quantity(Kind.FORCE, "load that is allowed in it", limits=(0, 1e9))]


@dataclass(frozen=True)
class SectorCase:
    """A load on a housing and the supplier's limits by direction."""

    direction: Annotated[
        float, Quantity(Kind.ANGLE, "direction of the load on the housing, from straight up")
    ]
    sectors: Annotated[tuple[Sector, ...], Note("sectors in rising order; the last one goes on to the first")]

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "direction": "100 deg",
        "sectors": [
            {"begins": "45 deg", "limit": "40 kN"},
            {"begins": "135 deg", "limit": "120 kN"},
            {"begins": "225 deg", "limit": "40 kN"},
            {"begins": "315 deg", "limit": "25 kN"},
        ],
    }


@dataclass(frozen=True)
class SectorAnswer:
    """The limit in the direction of the load."""

    limit: Annotated[float, Quantity(Kind.FORCE, "load that is allowed in this direction")]


def support_limit(given: SectorCase) -> SectorAnswer:
    """Load that a housing and its support bear in the direction of the load; where two sectors meet, the less."""
    edges = np.array([sector.begins for sector in given.sectors])
    if not edges.size or (np.diff(edges) <= 0.0).any():
        raise InputError(Problem("sectors are wanted in rising order", "sectors", f"{edges.size} sectors"))
    limits = np.array([sector.limit for sector in given.sectors])
    return SectorAnswer(float(supports.sector_limit(given.direction, edges, limits)))


@dataclass(frozen=True)
class ForceInSpace:
    """A force at a point."""

    force_x: Annotated[float, Quantity(Kind.FORCE, "force along the shaft")] = 0.0
    force_y: Annotated[float, Quantity(Kind.FORCE, "force upwards")] = 0.0
    force_z: Annotated[float, Quantity(Kind.FORCE, "force level")] = 0.0
    x: Annotated[float, Quantity(Kind.LENGTH, "place along the shaft")] = 0.0
    y: Annotated[float, Quantity(Kind.LENGTH, "place upwards")] = 0.0
    z: Annotated[float, Quantity(Kind.LENGTH, "place level")] = 0.0


@dataclass(frozen=True)
class Body:
    """The forces on a body."""

    forces: Annotated[tuple[ForceInSpace, ...], Note("forces")]

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "forces": [
            {"force_y": "-9 kN", "x": "700 mm"},
            {"force_y": "5.5 kN"},
            {"force_y": "3.5 kN", "x": "1800 mm"},
        ]
    }


@dataclass(frozen=True)
class Wrench:
    """Sum of forces, and of their moments about the origin; both zero for a body in balance."""

    force_x: Annotated[float, Quantity(Kind.FORCE, "sum along the shaft")]
    force_y: Annotated[float, Quantity(Kind.FORCE, "sum upwards")]
    force_z: Annotated[float, Quantity(Kind.FORCE, "sum level")]
    moment_x: Annotated[float, Quantity(Kind.TORQUE, "moment about the shaft")]
    moment_y: Annotated[float, Quantity(Kind.TORQUE, "moment about the upright axis")]
    moment_z: Annotated[float, Quantity(Kind.TORQUE, "moment about the level axis")]


def resultant(given: Body) -> Wrench:
    """Resultant of forces in space, and its moment about the origin."""
    points = np.array([(f.x, f.y, f.z) for f in given.forces]).reshape(-1, 3)
    forces = np.array([(f.force_x, f.force_y, f.force_z) for f in given.forces]).reshape(-1, 3)
    found = free_body.resultant(points, forces)
    return Wrench(*found.force.tolist(), *found.moment.tolist())
