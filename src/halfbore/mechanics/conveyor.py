"""Belt conveyor: resistances and the effective pull that its drive must give, in the form of ISO 5048."""

from __future__ import annotations

import numpy as np

from halfbore.mechanics.forces import GRAVITY
from halfbore.mechanics.given import positive, refuse
from halfbore.sources import Source, Status, derived
from halfbore.working import Number, clause


def _iso5048(place: str) -> Source:
    return Source("ISO 5048:1989", place, Status.FROM_MEMORY)


_LENGTH = np.array([80, 100, 150, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1500, 2000, 2500, 5000.0])
_COEFFICIENT = np.array(
    [1.92, 1.78, 1.58, 1.45, 1.31, 1.25, 1.2, 1.17, 1.14, 1.12, 1.1, 1.09, 1.06, 1.05, 1.04, 1.03]
)


@clause(derived("mass that passes = mass per metre times speed"), "capacity/(3.6*belt_speed)")
def load_per_metre(capacity: Number, belt_speed: Number) -> Number:
    """Mass of the load on each metre of belt.

    Derived: mass that passes = mass per metre times speed
    capacity: mass conveyed [t/h]; belt_speed: belt speed [m/s], above zero.
    Returns the mass [kg/m]. Raises InputError for a belt that stands still.
    """
    positive(belt_speed=belt_speed)
    return capacity / (3.6 * belt_speed)


@clause(
    _iso5048("main resistances"),
    "friction*length/1000*gravity*(idlers + (2*belt + load)*cos(slope))",
)
def main_resistance(
    friction: Number,
    length: Number,
    idlers: Number,
    belt: Number,
    load: Number,
    slope: Number = 0.0,
    gravity: Number = GRAVITY,
) -> Number:
    """Main resistance of both runs of a conveyor.

    ISO 5048:1989, main resistances (from memory)
    friction: artificial friction factor, 0.016 best, 0.02 normal, up to 0.03; length: centres [mm].
    idlers: turning parts of both runs [kg/m]; belt: one run of belt [kg/m]; load: load [kg/m].
    slope: inclination [rad]; gravity: acceleration of free fall [m/s²].
    Returns the resistance F_H [N].
    """
    return friction * length / 1000 * gravity * (idlers + (2 * belt + load) * np.cos(slope))


@clause(_iso5048("coefficient C by length"))
def length_coefficient(length: Number) -> Number:
    """Coefficient that adds the secondary resistances to the main one.

    ISO 5048:1989, coefficient C by length (from memory)
    length: centres [mm], 80 m to 5000 m.
    Returns the coefficient C, linear between the rows. Raises InputError outside the table, where
    the secondary resistances are found one by one or the effective pull is measured.
    """
    metres = np.asarray(length, np.float64) / 1000
    refuse((metres < _LENGTH[0]) | (metres > _LENGTH[-1]), "80 m to 5000 m", length=length)
    coefficient: Number = np.interp(metres, _LENGTH, _COEFFICIENT)
    return coefficient


@clause(_iso5048("slope resistance"), "load*lift/1000*gravity")
def lift_resistance(load: Number, lift: Number, gravity: Number = GRAVITY) -> Number:
    """Pull that lifts the load.

    ISO 5048:1989, slope resistance (from memory)
    load: load [kg/m]; lift: rise from tail to head [mm], negative downhill; gravity: [m/s²].
    Returns the resistance F_St [N].
    """
    return load * lift / 1000 * gravity


@clause(_iso5048("peripheral force"), "coefficient*main + lift + special")
def conveyor_pull(coefficient: Number, main: Number, lift: Number, special: Number = 0.0) -> Number:
    """Effective pull at the drive drum.

    ISO 5048:1989, peripheral force (from memory)
    coefficient: C; main: main resistance [N]; lift: slope resistance [N]; special: skirts, ploughs [N].
    Returns the effective pull F_U [N].
    """
    return coefficient * main + lift + special


@clause(_iso5048("limit of sag"), "spacing/1000*belt_and_load*gravity/(8*sag)")
def sag_tension(spacing: Number, belt_and_load: Number, sag: Number, gravity: Number = GRAVITY) -> Number:
    """Least tension that keeps the belt between idlers from sagging more than allowed.

    ISO 5048:1989, limit of sag (from memory)
    spacing: distance of idlers [mm]; belt_and_load: mass [kg/m]; gravity: [m/s²].
    sag: allowed sag over spacing, 0.005 to 0.02.
    Returns the tension [N]. Raises InputError for no sag at all.
    """
    positive(sag=sag)
    return spacing / 1000 * belt_and_load * gravity / (8 * sag)
