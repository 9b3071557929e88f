"""What a position asks of a unit: duty, survey, surroundings, lubricant and requirement in one record."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.duty import LubricantKind
from halfbore.domain.job import Job
from halfbore.domain.machine import Contamination
from halfbore.domain.position import Position
from halfbore.domain.shaftline import PositionDuty
from halfbore.standards import astm_d341, astm_d2270, iso3448_1992
from halfbore.standards.iso281_2007_annex_a import ContaminationLevel

Floats = NDArray[np.float64]

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
    """One position's side of every check."""

    job: Job
    index: int
    duty: PositionDuty

    @property
    def position(self) -> Position:
        """The position as surveyed."""
        return self.job.positions[self.index]

    @cached_property
    def running(self) -> NDArray[np.bool_]:
        """Conditions with a share of the time and a speed: they use up life."""
        return (self.duty.share > 0) & (self.duty.speed > 0)

    @cached_property
    def nominal(self) -> float:
        """Nominal shaft diameter [mm]."""
        return self.position.seat.nominal or self.duty.shaft_diameter

    @cached_property
    def fastest(self) -> float:
        """Highest speed of the duty [r/min]."""
        return float(self.duty.speed.max())

    @cached_property
    def hottest_shaft(self) -> float:
        """Highest shaft temperature of the running conditions [°C]; NaN when one is not known."""
        return float(self.duty.shaft_temperature_high[self.running].max())

    @cached_property
    def viscosity(self) -> tuple[Floats, Floats] | None:
        """Viscosity in each running condition at the hot and at the cool end [mm²/s]; None without a lubricant.

        The lubricant is taken at the mean of shaft and housing.
        """
        found = self._viscosities()
        if found is None:
            return None
        d, on = self.duty, self.running
        hot = 0.5 * (d.shaft_temperature_high + d.housing_temperature_high)[on]
        cool = 0.5 * (d.shaft_temperature_low + d.housing_temperature_low)[on]
        thin, thick = found
        return np.atleast_1d(astm_d341.viscosity(hot, *thin)), np.atleast_1d(
            astm_d341.viscosity(cool, *thick)
        )

    def _viscosities(self) -> tuple[tuple[float, float], tuple[float, float]] | None:
        """Return viscosities at 40 and 100 °C, thin end and thick end [mm²/s]."""
        oil = self.job.lubricant
        if oil is None:
            return None
        at_40 = oil.viscosity_40
        if at_40 is not None:
            thin, thick = at_40.low, at_40.high
        elif oil.iso_vg is not None:
            thin = thick = float(iso3448_1992.midpoint_viscosity(oil.iso_vg))
        else:
            return None
        if oil.viscosity_100 is not None:
            return (thin, oil.viscosity_100.low), (thick, oil.viscosity_100.high)
        return (thin, self._at_100(thin)), (thick, self._at_100(thick))

    def _at_100(self, at_40: float) -> float:
        assert self.job.lubricant is not None
        return float(astm_d2270.viscosity_at_100(at_40, self.job.lubricant.viscosity_index))

    @cached_property
    def levels(self) -> tuple[ContaminationLevel, ContaminationLevel]:
        """Contamination, cleaner and dirtier end, in the levels of ISO 281:2007, Annex A."""
        oil = self.job.lubricant
        given = (oil.cleanliness if oil else ()) or (self.job.machine.site.contamination,)
        order = list(Contamination)
        ranked = sorted(given, key=order.index)
        table = _OIL if oil is not None and oil.kind is LubricantKind.OIL else _GREASE
        return table[ranked[0]], table[ranked[-1]]
