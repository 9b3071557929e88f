"""What acts on the shaft and how it responds."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from halfbore.sources import Source

Floats = NDArray[np.float64]

LEAST_HOLD = 1.0
"""A bearing that holds the shaft down by less holds nothing [N]."""


class Nature(StrEnum):
    """How a load stands to the turning shaft."""

    STATIONARY = "stationary"
    ROTATING = "rotating with the shaft"
    ANY_DIRECTION = "direction not known"


@dataclass(frozen=True)
class AppliedLoad:
    """One load on the shaft, in every condition (axis 0), as low, likely and high (axis 1).

    force_y, force_z: radial components [N], (conditions, 3); for a rotating load its amplitude stands in force_y.
    couple: bending couple in the y plane and in the z plane [N·mm], (conditions, 3, 2).
    axial: positive towards the free end [N], (conditions, 3).
    process: service factors apply to it; weights are no process loads.
    length: of shaft over which the radial force is spread evenly about x [mm], 0 for a force at one place.
    turned: in which directions it may act where its direction is an estimate, in words; empty where it is given.
    """

    name: str
    part: str
    x: float
    nature: Nature
    force_y: Floats
    force_z: Floats
    couple: Floats
    axial: Floats
    process: bool
    source: Source
    direction: str
    length: float = 0.0
    turned: str = ""


@dataclass(frozen=True)
class Bearing:
    """How a bearing holds the shaft: its radial stiffness [N/mm] and its clearance across the diameter [mm]."""

    stiffness: float
    clearance: float


@dataclass(frozen=True)
class BodyBalance:
    """What is left over when forces and moments of a body are summed from the printed numbers [N, N·mm]."""

    body: str
    force: float
    moment: float


@dataclass(frozen=True)
class AxialPath:
    """Who holds the shaft in one axial direction."""

    towards: str
    holders: tuple[str, ...]


@dataclass(frozen=True)
class ShaftCurve:
    """The shaft line in one condition, for the drawing (n points along x)."""

    condition: str
    x: Floats
    deflection_y: Floats
    deflection_z: Floats
    slope: Floats
    moment: Floats
    stress: Floats


@dataclass(frozen=True)
class Neighbour:
    """What a lift does at another bearing: change of its reaction [N] and slope of the shaft there [rad].

    least: its least reaction in any state of the lift with take-ups slack [N], negative where it holds the shaft down.
    """

    position: str
    change: float
    slope: float
    least: float = 0.0

    @property
    def holds_down(self) -> bool:
        """Whether it holds the shaft down then: it may not be opened."""
        return self.least < -LEAST_HOLD


@dataclass(frozen=True)
class OtherState:
    """What else a lift may meet, in words, and the force of the jack on the shaft then [N]."""

    words: str
    force: float


@dataclass(frozen=True)
class LiftResult:
    """The shaft at standstill with the bearing of one position away, held or lifted at a jack.

    lift: of the shaft at the position above its running place [mm]; at_jack: of the jack point [mm];
    force: of the jack on the shaft [N], negative where the shaft must be held down; take-ups are slack, the rest is
    as in service; holding: whether a jack or a hold-down is right here, in words;
    others: the same lift with the take-up still on and with the coupling opened, where there is one.
    """

    position: str
    jack_x: float
    jack_assumed: bool
    lift: float
    at_jack: float
    force: float
    holding: str
    neighbours: tuple[Neighbour, ...]
    others: tuple[OtherState, ...] = ()


@dataclass(frozen=True)
class PositionDuty:
    """What one position bears in every condition (axis 0), low to high over the given ranges.

    equivalent_*: mean over one turn with exponent 10/3 of stationary and rotating load [N].
    peak_*: largest sum over one turn [N]; axial_*: magnitude to be held here [N], zero where it does not locate.
    angle: direction of the load on the bearing from straight up [rad], likely; angle_spread: half width of its range [rad].
    slope_low, slope_high: tilt of the shaft by bending [rad]; slope_y, slope_z: its likely parts in both planes [rad].
    growth_*: movement against the housing from the locating place [mm].
    warmed_by: where the shaft temperature comes from, in words.
    """

    name: str
    x: float
    locating: bool
    shaft_diameter: float
    share: Floats
    speed: Floats
    equivalent_low: Floats
    equivalent_high: Floats
    peak_high: Floats
    radial_low: Floats
    axial_low: Floats
    axial_high: Floats
    axial_known: bool
    angle: Floats
    angle_spread: Floats
    slope_low: Floats
    slope_high: Floats
    slope_y: Floats
    slope_z: Floats
    growth_low: Floats
    growth_high: Floats
    shaft_temperature_low: Floats
    shaft_temperature_high: Floats
    housing_temperature_low: Floats
    housing_temperature_high: Floats
    warmed_by: str = "as given"


@dataclass(frozen=True)
class Reaction:
    """Force of one support on the shaft in one condition [N], likely, with its range and direction.

    spread: half width of the range of its direction [rad], pi where it may point anywhere; axial, axial_low,
    axial_high: positive towards the free end, zero where it does not locate.
    """

    position: str
    condition: str
    y: float
    z: float
    low: float
    high: float
    spread: float
    axial: float
    axial_low: float
    axial_high: float


@dataclass(frozen=True)
class ShaftResponse:
    """The solved shaft line."""

    loads: tuple[AppliedLoad, ...]
    reactions: tuple[Reaction, ...]
    duties: tuple[PositionDuty, ...]
    curves: tuple[ShaftCurve, ...]
    balances: tuple[BodyBalance, ...]
    paths: tuple[AxialPath, ...]
    first_critical_speed: float
    max_stress: float
    max_stress_x: float
    notes: tuple[str, ...]
