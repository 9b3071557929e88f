"""A stepped shaft on its supports: reactions, bending, and the first critical speed."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Any, ClassVar

import numpy as np

from halfbore.domain.fields import Note, Quantity
from halfbore.domain.machine import Segment
from halfbore.mechanics.forces import magnitude, weight
from halfbore.mechanics.shaft_section import bending_stress, mass_per_length, second_moment
from halfbore.numerics import beam as bending
from halfbore.numerics.beam import Beam, Loads, Support
from halfbore.numerics.critical_speed import critical_speed as solve_critical_speed
from halfbore.sources import derived
from halfbore.units import Kind
from halfbore.working import clause

STEEL = 206_000.0
"""Young's modulus of carbon steel [MPa]."""
PLACES = 25
"""Places from node to node at which deflection, moment and stress are read."""


class Holds(StrEnum):
    """Which way a support can push the shaft."""

    BOTH = "both"
    UP = "up"
    DOWN = "down"


@dataclass(frozen=True)
class Bearing:
    """A support of the shaft."""

    name: Annotated[str, Note("name of the support")]
    x: Annotated[float, Quantity(Kind.LENGTH, "place from the left end", limits=(0, 1e5))]
    height: Annotated[
        float,
        Quantity(Kind.LENGTH, "height against the line of the others; the lift at a jack", limits=(-50, 50)),
    ] = 0.0
    holds: Annotated[Holds, Note("which way it can push the shaft, upright")] = Holds.BOTH
    stiffness: Annotated[float | None, Quantity(Kind.STIFFNESS, "stiffness, rigid when left out")] = None


@dataclass(frozen=True)
class Force:
    """A load on the shaft at one place."""

    x: Annotated[float, Quantity(Kind.LENGTH, "place from the left end", limits=(0, 1e5))]
    y: Annotated[float, Quantity(Kind.FORCE, "force on the shaft, up positive", limits=(-1e9, 1e9))] = 0.0
    z: Annotated[float, Quantity(Kind.FORCE, "force on the shaft, level", limits=(-1e9, 1e9))] = 0.0
    mass: Annotated[
        float, Quantity(Kind.MASS, "mass that sits there; its weight is added", limits=(0, 1e6))
    ] = 0.0


@dataclass(frozen=True)
class ShaftLine:
    """A stepped shaft, what acts on it and what carries it."""

    segments: Annotated[tuple[Segment, ...], Note("stretches of one diameter from the left end")]
    supports: Annotated[tuple[Bearing, ...], Note("supports")]
    loads: Annotated[tuple[Force, ...], Note("loads")] = ()
    elastic_modulus: Annotated[float, Quantity(Kind.STRESS, "Young's modulus", limits=(1, 1e6))] = STEEL
    density: Annotated[
        float, Quantity(Kind.DENSITY, "density; zero leaves the shaft's weight out", limits=(0, 30000))
    ] = 7850.0

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "segments": [{"length": "900 mm", "diameter": "160 mm"}, {"length": "2900 mm", "diameter": "200 mm"}],
        "supports": [{"name": "A", "x": "450 mm"}, {"name": "B", "x": "3.7 m"}],
        "loads": [{"x": "2 m", "mass": "900 kg", "z": "1.2 kN"}, {"x": "0 mm", "mass": "140 kg"}],
    }


@dataclass(frozen=True)
class SupportAnswer:
    """What one support feels."""

    name: Annotated[str, Note("support")]
    y: Annotated[float, Quantity(Kind.FORCE, "force on the shaft, up positive")]
    z: Annotated[float, Quantity(Kind.FORCE, "force on the shaft, level")]
    size: Annotated[float, Quantity(Kind.FORCE, "size of the force")]
    slope: Annotated[float, Quantity(Kind.ANGLE, "slope of the shaft there")]


@dataclass(frozen=True)
class ShaftAnswer:
    """Reactions and bending of a shaft, with what its balance leaves open."""

    reactions: Annotated[tuple[SupportAnswer, ...], Note("forces of the supports on the shaft")]
    deflection: Annotated[float, Quantity(Kind.LENGTH, "largest deflection")]
    deflection_x: Annotated[float, Quantity(Kind.LENGTH, "where, from the left end")]
    moment: Annotated[float, Quantity(Kind.TORQUE, "largest bending moment")]
    moment_x: Annotated[float, Quantity(Kind.LENGTH, "where, from the left end")]
    stress: Annotated[float, Quantity(Kind.STRESS, "largest nominal bending stress, without notch")]
    stress_x: Annotated[float, Quantity(Kind.LENGTH, "where, from the left end")]
    force_left: Annotated[float, Quantity(Kind.FORCE, "sum of loads and reactions")]
    moment_left: Annotated[float, Quantity(Kind.TORQUE, "sum of their moments")]


def _beam(given: ShaftLine) -> Beam:
    lengths = [s.length for s in given.segments]
    stiff = [given.elastic_modulus * float(second_moment(s.diameter, s.bore)) for s in given.segments]
    places = [s.x for s in given.supports] + [f.x for f in given.loads]
    return bending.stepped(lengths, stiff, places)


def _supports(given: ShaftLine, upright: bool) -> list[Support]:
    return [
        Support(
            s.x,
            height=s.height if upright else 0.0,
            stiffness=np.inf if s.stiffness is None else s.stiffness,
            holds=s.holds.value if upright else "both",
        )
        for s in given.supports
    ]


def _line_mass(given: ShaftLine, shaft: Beam) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Return the mass per length of each element [kg/mm]."""
    edges = np.concatenate([[0.0], np.cumsum([s.length for s in given.segments])])
    mass = [float(mass_per_length(s.diameter, s.bore, given.density)) for s in given.segments]
    return shaft.per_element(edges, mass)


@clause(derived("elementary bending of a stepped shaft", "small slopes, no shear deformation"))
def shaft_line(given: ShaftLine) -> ShaftAnswer:
    """Reactions, slopes, deflection, bending moment and stress of a stepped shaft on any number of supports."""
    shaft, places = _beam(given), [f.x for f in given.loads]
    down = [f.y - float(weight(f.mass)) for f in given.loads]
    own = -weight(_line_mass(given, shaft))
    y = bending.solve(shaft, Loads(places, np.array([down]), distributed=own), _supports(given, True))
    z = bending.solve(shaft, Loads(places, np.array([[f.z for f in given.loads]])), _supports(given, False))
    at = shaft.node([s.x for s in given.supports])
    reactions = [
        SupportAnswer(
            s.name,
            float(ry),
            float(rz),
            float(magnitude(ry, rz)),
            float(np.hypot(y.slope[0, node], z.slope[0, node])),
        )
        for s, ry, rz, node in zip(given.supports, y.reaction[0], z.reaction[0], at, strict=True)
    ]
    force = float(np.hypot(y.residual_force[0], z.residual_force[0]))
    moment = float(np.hypot(y.residual_moment[0], z.residual_moment[0]))
    largest = _largest(given, shaft, y, z)
    return ShaftAnswer(tuple(reactions), *largest, force, moment)


def _largest(
    given: ShaftLine, shaft: Beam, y: bending.BeamSolution, z: bending.BeamSolution
) -> tuple[float, float, float, float, float, float]:
    """Return the largest deflection, moment and stress, each with its place."""
    parts = np.linspace(0.0, 1.0, PLACES)
    x = np.unique(shaft.x[:-1, None] + parts * shaft.length[:, None])
    up, level = y.at(x), z.at(x)
    moment = np.hypot(up.moment[0], level.moment[0])
    ends = np.cumsum([s.length for s in given.segments])
    sections = np.array([(s.diameter, s.bore) for s in given.segments])
    beside = (np.searchsorted(ends, x, side).clip(0, len(ends) - 1) for side in ("left", "right"))
    stress = np.maximum(*(np.asarray(bending_stress(moment, *sections[row].T)) for row in beside))
    sag = np.hypot(up.deflection[0], level.deflection[0])
    i, j, k = int(sag.argmax()), int(moment.argmax()), int(stress.argmax())
    return float(sag[i]), float(x[i]), float(moment[j]), float(x[j]), float(stress[k]), float(x[k])


@dataclass(frozen=True)
class CriticalSpeedAnswer:
    """The first critical speed of bending; the estimates lie on both sides of the exact value."""

    exact: Annotated[float, Quantity(Kind.SPEED, "first critical speed of bending")]
    rayleigh: Annotated[float, Quantity(Kind.SPEED, "Rayleigh's estimate, from above")]
    dunkerley: Annotated[float, Quantity(Kind.SPEED, "Dunkerley's estimate, from below")]


@clause(
    derived("point masses on the flexibility of the shaft", "no gyroscopic effect, no inertia of rotation")
)
def critical_speed(given: ShaftLine) -> CriticalSpeedAnswer:
    """First critical speed of bending of a stepped shaft with the masses that sit on it; forces play no part."""
    shaft = _beam(given)
    masses = [f for f in given.loads if f.mass > 0]
    supports = _supports(given, False)
    line = _line_mass(given, shaft)
    found = solve_critical_speed(shaft, supports, line, [f.x for f in masses], [f.mass for f in masses])
    return CriticalSpeedAnswer(found.exact, found.rayleigh, found.dunkerley)
