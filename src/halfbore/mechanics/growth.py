"""Thermal growth of the shaft against its base, between locating and non-locating position.

A distance runs from the locating to the other position along +x; with it, growth has a sign and says
which way the shaft moves through the non-locating bearing.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from halfbore.mechanics.forces import vector
from halfbore.mechanics.given import one_of, refuse
from halfbore.sources import Source, Status, derived
from halfbore.working import Number, clause

_TABLE = Source("Expansion of steels, 0 to 100 °C", note="read in a public table of steel properties")
_CALLISTER = Source("Callister, Materials Science and Engineering", "table B.6")
_HANDBOOK = Source("Pytel & Kiusalaas, Mechanics of Materials")
_IRON = Source("Expansion of grey cast iron", note="read in a public table of cast iron properties")
_GROWTH = derived("growth = expansion times length times temperature rise")

_MOVED = "distance*(shaft_expansion*({} - mounting) - base_expansion*({} - mounting))/1000000"
_COLD, _HOT = _MOVED.format("shaft_low", "base_high"), _MOVED.format("shaft_high", "base_low")


class Expansion(NamedTuple):
    """Expansion coefficient [1e-6/K] and where it comes from."""

    value: float
    source: Source


EXPANSION: dict[str, Expansion] = {
    "carbon steel": Expansion(11.7, _HANDBOOK),
    "AISI 1010": Expansion(12.2, _TABLE),
    "AISI 1020": Expansion(11.7, _TABLE),
    "AISI 1025": Expansion(12.0, _TABLE),
    "AISI 1040": Expansion(11.2, _TABLE),
    "AISI 1045": Expansion(11.6, _TABLE),
    "AISI 4140": Expansion(12.3, _TABLE),
    "AISI 4340": Expansion(12.3, _TABLE),
    "AISI 304": Expansion(17.2, _TABLE),
    "AISI 316": Expansion(15.9, _TABLE),
    "AISI 440C": Expansion(10.1, _TABLE),
    "grey cast iron": Expansion(10.8, _IRON),
    "ductile iron 60-40-18": Expansion(11.2, _CALLISTER),
    "ductile iron 80-55-06": Expansion(10.6, _CALLISTER),
    "bearing steel": Expansion(
        12.0,
        Source("Expansion of 1 C 1.5 Cr bearing steel", "20 to 100 °C", Status.FROM_MEMORY, "11.5 to 12.5"),
    ),
}


@clause(Source("Tables of expansion coefficients", note="each row of EXPANSION names its own"))
def expansion(material: str) -> float:
    """Thermal expansion coefficient of a material.

    Tables of expansion coefficients, each row of EXPANSION names its own
    material: a key of EXPANSION.
    Returns the coefficient [1e-6/K]. Raises InputError for another material.
    """
    return one_of(EXPANSION, "material", material).value


@clause(_GROWTH, "expansion*length*rise/1000000")
def growth(expansion: Number, length: Number, rise: Number) -> Number:
    """Growth of a length.

    Derived: growth = expansion times length times temperature rise
    expansion: coefficient [1e-6/K]; length: length when cold [mm]; rise: temperature rise [K].
    Returns the growth [mm].
    """
    return expansion * length * rise / 1e6


@clause(_GROWTH, _MOVED.format("shaft_temperature", "base_temperature"))
def growth_against_base(
    distance: Number,
    shaft_expansion: Number,
    shaft_temperature: Number,
    base_expansion: Number,
    base_temperature: Number,
    mounting: Number = 20.0,
) -> Number:
    """Axial movement of the shaft through the non-locating bearing since mounting.

    Derived: growth of the shaft less growth of the base between the two bearings
    distance: from the locating to the non-locating position, positive along +x [mm].
    shaft_expansion, base_expansion: coefficients [1e-6/K]; shaft_temperature, base_temperature:
    mean between the two positions [°C]; mounting: temperature of both when set [°C].
    Returns the movement along +x [mm]. Coefficients hold from about 0 to 100 °C; a hot shaft
    grows a few per cent more.
    """
    return growth(shaft_expansion, distance, shaft_temperature - mounting) - growth(
        base_expansion, distance, base_temperature - mounting
    )


@clause(_GROWTH, _MOVED.format("shaft_temperature", "start"))
def cold_start_growth(
    distance: Number,
    shaft_expansion: Number,
    shaft_temperature: Number,
    base_expansion: Number,
    start: Number,
    mounting: Number = 20.0,
) -> Number:
    """Axial movement shortly after a cold start: the shaft is hot, the base still as cold as before.

    Derived: growth of the shaft less growth of the base between the two bearings
    distance, shaft_expansion, shaft_temperature, base_expansion, mounting: as in growth_against_base.
    start: temperature of the base at the start [°C].
    Returns the movement along +x [mm], the largest when the shaft warms before its base.
    """
    return growth_against_base(distance, shaft_expansion, shaft_temperature, base_expansion, start, mounting)


@clause(_GROWTH, f"(Min({_COLD}, {_HOT}), Max({_COLD}, {_HOT}))")
def growth_range(
    distance: Number,
    shaft_expansion: Number,
    shaft_low: Number,
    shaft_high: Number,
    base_expansion: Number,
    base_low: Number,
    base_high: Number,
    mounting: Number = 20.0,
) -> NDArray[np.float64]:
    """Least and greatest axial movement when the two temperatures are only known as ranges.

    Derived: growth rises with the shaft's temperature and falls with the base's
    distance, shaft_expansion, base_expansion, mounting: as in growth_against_base.
    shaft_low, shaft_high, base_low, base_high: ends of the two ranges [°C].
    Returns (least, greatest) movement along +x [mm]. Raises InputError for exchanged ends.
    """
    refuse(np.greater(shaft_low, shaft_high), "low end first", shaft_low=shaft_low, shaft_high=shaft_high)
    refuse(np.greater(base_low, base_high), "low end first", base_low=base_low, base_high=base_high)
    small = growth_against_base(distance, shaft_expansion, shaft_low, base_expansion, base_high, mounting)
    large = growth_against_base(distance, shaft_expansion, shaft_high, base_expansion, base_low, mounting)
    return vector(np.minimum(small, large), np.maximum(small, large))
