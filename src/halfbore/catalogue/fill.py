"""What a catalogue leaves out and a standard can supply."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from halfbore.domain.unit import UnitTable
from halfbore.standards import iso281_2007


def with_fatigue_limit(units: UnitTable) -> tuple[UnitTable, int]:
    """Return the units with the fatigue load limit computed where it is not given, and how many got it.

    ISO 281:2007, B.3.3.3.
    """
    computed = np.asarray(iso281_2007.fatigue_load_limit(units.static_rating, units.pitch_diameter))
    blank = np.isnan(units.fatigue_limit) & ~np.isnan(computed)
    return replace(units, fatigue_limit=np.where(blank, computed, units.fatigue_limit)), int(blank.sum())
