"""A shaft that leads heat from the machine to the bearing, as a fin that the air cools."""

from __future__ import annotations

import numpy as np

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import a_ring, not_negative, positive, refuse
from halfbore.sources import Source, Status, derived, practice
from halfbore.working import Number, clause

_FIN = derived("heat balance of a fin of constant section with an insulated end")

CONDUCTIVITY = Band(40.0, 52.0, "W/(m·K)", Source("conductivity of carbon steel", "", Status.FROM_MEMORY))
STILL_AIR = Band(10.0, 20.0, "W/(m²·K)", practice("heat transfer to still air, radiation included"))

CASING = Band(
    0.0, 1.0, "", practice("distance of a casing wall from the wheel inside, over the shaft diameter")
)
"""Where a survey does not say how far the hot gas reaches along the shaft."""


@clause(_FIN, "sqrt(film*diameter/(250*conductivity*(diameter**2 - bore**2)))")
def fin_parameter(diameter: Number, film: Number, conductivity: Number = 45.0, bore: Number = 0.0) -> Number:
    """How fast the excess temperature dies away along the shaft.

    Derived: heat balance of a fin; √(4h/(k d)) for a solid shaft
    diameter, bore: outside and inside diameter, no heat leaves the bore [mm]; film: heat transfer to
    the air, see STILL_AIR [W/(m²·K)]; conductivity: see CONDUCTIVITY [W/(m·K)].
    Returns the parameter m [1/mm]. Raises InputError for values that no shaft has.
    """
    positive(film=film, conductivity=conductivity)
    a_ring(diameter, bore)
    return np.sqrt(film * diameter / (250 * conductivity * (diameter**2 - bore**2)))


@clause(_FIN, "excess*cosh(fin*(length - distance))/cosh(fin*length)")
def excess_temperature(excess: Number, fin: Number, distance: Number, length: Number) -> Number:
    """Excess of the shaft over the air at a distance from its hot end.

    Derived: heat balance of a fin of constant section with an insulated end
    excess: excess at the hot end [K]; fin: from fin_parameter [1/mm]; distance: from the hot
    end [mm]; length: of the shaft that the air cools [mm], not below the distance.
    Returns the excess [K]; at the far end it is the excess over cosh of fin times length.
    """
    not_negative(distance=distance)
    refuse(np.greater(distance, length), "up to the length", distance=distance, length=length)
    # e^-mx (1 + e^-2m(L-x)) / (1 + e^-2mL): the same as the ratio of cosh, and long shafts do not overflow.
    far: Number = np.exp(-2 * fin * (length - distance))
    left: Number = np.exp(-fin * distance) * (1 + far) / (1 + np.exp(-2 * fin * length))
    return excess * left
