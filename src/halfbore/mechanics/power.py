"""Power, torque and speed of a turning shaft."""

from __future__ import annotations

import numpy as np

from halfbore.mechanics.given import not_negative, positive
from halfbore.sources import derived
from halfbore.working import Number, clause

_WORK = derived("power = torque times angular speed")


@clause(_WORK, "pi*speed/30")
def angular_speed(speed: Number) -> Number:
    """Angular speed of a shaft.

    Derived: 2π radians a turn, 60 s a minute
    speed: rotational speed [r/min].
    Returns the angular speed [rad/s].
    """
    return np.pi * speed / 30


@clause(_WORK, "30000*power/(pi*speed)")
def torque(power: Number, speed: Number) -> Number:
    """Torque that carries a power at a speed.

    Derived: power = torque times angular speed; 9549.3 N·m for each kW at 1 r/min
    power: power [W]; speed: rotational speed [r/min], above zero.
    Returns the torque [N·mm]. Raises InputError for torque without speed.
    """
    positive(speed=speed)
    return 30000 * power / (np.pi * speed)


@clause(_WORK, "pi*diameter*speed/60000")
def surface_speed(diameter: Number, speed: Number) -> Number:
    """Speed of the rim of a sheave, a drum or a gear.

    Derived: circumference times turns
    diameter: pitch diameter [mm]; speed: rotational speed [r/min].
    Returns the speed [m/s]. Raises InputError for a negative value.
    """
    not_negative(diameter=diameter, speed=speed)
    return np.pi * diameter * speed / 60000
