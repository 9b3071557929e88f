"""What a catalogue leaves out, and which checks that blinds."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.catalogue import Hole
from halfbore.domain.fields import Quantity, fields_of
from halfbore.domain.unit import Support, UnitTable

BLINDS: dict[str, tuple[str, ...]] = {
    "rollers": ("axial chain", "ring joint"),
    "roller_diameter": ("axial chain",),
    "roller_length": ("axial chain", "ring joint"),
    "pitch_diameter": ("modified life", "clearance", "axial chain"),
    "dynamic_rating": ("rating life", "modified life", "minimum load"),
    "static_rating": ("static safety", "modified life"),
    "fatigue_limit": ("modified life",),
    "axial_capacity": ("axial chain",),
    "flange_height": ("axial chain",),
    "flange_pv_limit": ("axial chain",),
    "flange_strength": ("axial chain",),
    "clamp_grip": ("axial chain",),
    "housing_axial": ("axial chain",),
    "speed_limit": ("speed", "minimum load"),
    "ring_temperature_limit": ("temperature",),
    "clearance_min": ("clearance", "ring joint"),
    "clearance_max": ("clearance",),
    "seat_lower": ("bore and seat",),
    "seat_upper": ("bore and seat",),
    "seat_form": ("bore and seat",),
    "joint_gap": ("bore and seat", "axial chain"),
    "joint_angle": ("ring joint",),
    "joint_clear": ("ring joint",),
    "limit_down": ("support direction",),
    "limit_side": ("support direction",),
    "limit_up": ("support direction",),
    "track_travel": ("axial travel",),
    "seal_travel": ("axial travel",),
    "housing_travel": ("axial travel",),
    "static_alignment": ("alignment",),
    "roller_tilt": ("alignment",),
    "seal_speed": ("seals",),
    "seal_temperature": ("seals",),
    "length": ("room",),
    "width": ("room",),
    "height": ("room",),
    "centre_height": ("lift and entry",),
    "lip_depth": ("lift and entry",),
}
"""Datum → the checks that need it; a datum that no check needs, such as a price, blinds none."""

_LOCATING = ("axial_capacity", "flange_height", "flange_pv_limit", "flange_strength")
_ON_BASE = ("centre_height",)


def holes(units: UnitTable) -> tuple[Hole, ...]:
    """Return every datum that is missing where it applies, in how many units of how many."""
    found = []
    for info in fields_of(UnitTable):
        if not isinstance(info.meta, Quantity):
            continue
        applies = _applies(info.name, units)
        missing = np.isnan(getattr(units, info.name)) & applies
        if missing.any():
            count, of = int(_any(missing).sum()), int(_any(applies).sum())
            found.append(Hole(info.name, count, of, BLINDS.get(info.name, ())))
    return tuple(found)


def _applies(name: str, units: UnitTable) -> NDArray[np.bool_]:
    """Return where a datum has a meaning: flanges on locating units, centre height on a base, seals offered."""
    if name in _LOCATING:
        return units.locating
    if name in _ON_BASE:
        return np.isin(units.support, (Support.PLAIN, Support.SIDE_ENTRY))
    if name.startswith("seal_") and getattr(units, name).ndim == 2:
        return units.seal_offered
    return np.ones(getattr(units, name).shape, dtype=np.bool_)


def _any(marks: NDArray[np.bool_]) -> NDArray[np.bool_]:
    return np.asarray(marks.any(axis=1) if marks.ndim == 2 else marks)
