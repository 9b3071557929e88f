"""What a position asks of a unit: duty, survey, surroundings, lubricant and requirement in one record."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property, wraps
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.duty import LubricantKind
from halfbore.domain.job import Job
from halfbore.domain.machine import Contamination
from halfbore.domain.position import Position
from halfbore.domain.shaftline import PositionDuty
from halfbore.domain.unit import UnitTable
from halfbore.standards import astm_d341, astm_d2270, iso3448_1992
from halfbore.standards.iso281_2007_annex_a import ContaminationLevel

Floats = NDArray[np.float64]
T = TypeVar("T")

_GREASE = {
    Contamination.HIGH_CLEANLINESS: ContaminationLevel.GREASE_HIGH_CLEANLINESS,
    Contamination.NORMAL_CLEANLINESS: ContaminationLevel.GREASE_NORMAL_CLEANLINESS,
    Contamination.SLIGHT_TO_TYPICAL: ContaminationLevel.GREASE_SLIGHT_TO_TYPICAL,
    Contamination.SEVERE: ContaminationLevel.GREASE_SEVERE,
    Contamination.VERY_SEVERE: ContaminationLevel.GREASE_VERY_SEVERE,
}
_OIL = {
    Contamination.HIGH_CLEANLINESS: ContaminationLevel.OIL_BATH_13_10,
    Contamination.NORMAL_CLEANLINESS: ContaminationLevel.OIL_BATH_15_12,
    Contamination.SLIGHT_TO_TYPICAL: ContaminationLevel.OIL_BATH_17_14,
    Contamination.SEVERE: ContaminationLevel.OIL_BATH_19_16,
    Contamination.VERY_SEVERE: ContaminationLevel.OIL_BATH_21_18,
}


@dataclass(frozen=True)
class Need:
    """One position's side of every check.

    duty: what the solved shaft line puts on the position.
    again: solves the shaft line of a changed job and returns the duty here; without it nothing that changes
    loads or speeds is offered as a relaxation.
    """

    job: Job
    index: int
    duty: PositionDuty
    again: Callable[[Job], PositionDuty] | None = field(default=None, repr=False, compare=False)

    @property
    def position(self) -> Position:
        """The position as surveyed."""
        return self.job.positions[self.index]

    @cached_property
    def running(self) -> NDArray[np.bool_]:
        """Conditions with a share of the time and a speed: they use up life."""
        return (self.duty.share > 0) & (self.duty.speed > 0)

    @cached_property
    def warm(self) -> NDArray[np.bool_]:
        """Conditions whose temperatures count: the running ones, or all of a shaft that never turns."""
        return self.running if self.running.any() else np.ones_like(self.running)

    @cached_property
    def nominal(self) -> float:
        """Nominal shaft diameter [mm]."""
        return self.position.seat.nominal or self.duty.shaft_diameter

    @cached_property
    def fastest(self) -> float:
        """Highest speed of the duty [r/min]."""
        return float(self.duty.speed.max())

    @cached_property
    def angle_spread(self) -> Floats:
        """Half the range of the load's direction per condition [rad]; a load that may vanish may turn round."""
        return np.where(self.duty.radial_low > 0, self.duty.angle_spread, np.pi)

    @cached_property
    def angle(self) -> Floats:
        """Direction of the load from the unit's own upright per condition [rad]: a base that is turned turns the unit."""
        return self.duty.angle - self.position.base.turned

    @cached_property
    def shaft_temperature(self) -> tuple[float, float]:
        """Temperature of the shaft in its hottest condition, low and high [°C]; NaN when one is not known."""
        low, high = self.duty.shaft_temperature_low[self.warm], self.duty.shaft_temperature_high[self.warm]
        return float(low.max()), float(high.max())

    @cached_property
    def _settled(self) -> dict[object, Any]:
        return {}

    @cached_property
    def _kept(self) -> dict[object, Any]:
        return {}

    def kept(self, units: UnitTable) -> dict[object, Any]:
        """Return what is already worked out for a table; only the table that was asked last is kept."""
        if self._kept.get("units") is not units:
            self._kept.clear()
            self._kept["units"] = units
        return self._kept

    @cached_property
    def viscosity(self) -> tuple[Floats, Floats] | None:
        """Viscosity in each running condition at the hot and at the cool end [mm²/s]; None without a lubricant.

        The lubricant is taken at the mean of shaft and housing. NaN where a temperature is not known.
        """
        found = self._viscosities()
        if found is None:
            return None
        d, on = self.duty, self.running
        hot = 0.5 * (d.shaft_temperature_high + d.housing_temperature_high)[on]
        cool = 0.5 * (d.shaft_temperature_low + d.housing_temperature_low)[on]
        thin, thick = found.T
        return np.atleast_1d(astm_d341.viscosity(hot, *thin)), np.atleast_1d(
            astm_d341.viscosity(cool, *thick)
        )

    def _viscosities(self) -> Floats | None:
        """Return viscosities at 40 and at 100 °C (rows), thin and thick end (columns) [mm²/s]."""
        oil = self.job.lubricant
        if oil is None:
            return None
        if oil.viscosity_40 is not None:
            at_40 = np.array([oil.viscosity_40.low, oil.viscosity_40.high])
        elif oil.iso_vg is not None:
            at_40 = np.full(2, iso3448_1992.midpoint_viscosity(oil.iso_vg))
        else:
            return None
        if oil.viscosity_100 is not None:
            return np.stack([at_40, [oil.viscosity_100.low, oil.viscosity_100.high]])
        return np.stack([at_40, np.asarray(astm_d2270.viscosity_at_100(at_40, oil.viscosity_index))])

    @cached_property
    def levels(self) -> tuple[ContaminationLevel, ContaminationLevel]:
        """Contamination, cleaner and dirtier end, in the levels of ISO 281:2007, Annex A."""
        oil = self.job.lubricant
        given = (oil.cleanliness if oil else ()) or (self.job.machine.site.contamination,)
        order = list(Contamination)
        ranked = sorted(given, key=order.index)
        table = _OIL if oil is not None and oil.kind is LubricantKind.OIL else _GREASE
        return table[ranked[0]], table[ranked[-1]]


def settled(function: Callable[[Need], T]) -> Callable[[Need], T]:
    """Work out once for a need what belongs to the position alone."""

    @wraps(function)
    def once(need: Need) -> T:
        known = need._settled
        if function not in known:
            known[function] = function(need)
        answer: T = known[function]
        return answer

    return once


def shared(function: Callable[[Need, UnitTable], T]) -> Callable[[Need, UnitTable], T]:
    """Work out once for a need and a table what several checks ask for."""

    @wraps(function)
    def once(need: Need, units: UnitTable) -> T:
        kept = need.kept(units)
        if function not in kept:
            kept[function] = function(need, units)
        answer: T = kept[function]
        return answer

    return once
