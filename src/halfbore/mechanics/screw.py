"""Screw conveyor: the thrust of what the flight pushes."""

from __future__ import annotations

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import positive
from halfbore.sources import derived, practice
from halfbore.working import Number, clause

THRUST_PART = Band(0.5, 0.8, "", practice("thrust of a screw over the bound that its power sets"))
"""Part of the power that goes along the shaft; the rest is friction on flight and trough that turns with the screw."""


@clause(
    derived("work along the shaft in a turn is at most the work of the torque in a turn"),
    "60000*power/(speed*pitch)",
)
def thrust_bound(power: Number, speed: Number, pitch: Number) -> Number:
    """Greatest thrust that a power can keep up on a screw.

    Derived: in one turn the bed moves at most one pitch along, F·pitch ≤ 2π·torque = 60·power/speed
    power: power that the screw takes [W]; speed: rotational speed [r/min]; pitch: of the flight [mm].
    Returns the thrust [N]. Raises InputError unless speed and pitch are above zero.
    """
    positive(speed=speed, pitch=pitch)
    return 60000 * power / (speed * pitch)


@clause(THRUST_PART.source, "bound*part")
def thrust_of_power(bound: Number, part: Number) -> Number:
    """Thrust of a screw when no more than its power is known.

    Common practice, no source
    bound: from thrust_bound [N]; part: of it that goes along the shaft, see THRUST_PART; 1 is the bound.
    Returns the thrust [N].
    """
    return bound * part
