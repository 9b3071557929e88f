"""All checks in one tuple, cheap ones first; replacing a model is replacing a file."""

from __future__ import annotations

from halfbore.selection.check import Check
from halfbore.selection.checks import (
    alignment,
    axial_chain,
    axial_travel,
    bore_and_seat,
    clearance,
    delivery,
    joint,
    life,
    lift_and_entry,
    minimum_load,
    room,
    root_cause,
    seals,
    speed,
    static_safety,
    support_direction,
    temperature,
)

CHECKS: tuple[Check, ...] = (
    bore_and_seat.CHECK,
    support_direction.CHECK,
    room.CHECK,
    speed.CHECK,
    temperature.CHECK,
    static_safety.CHECK,
    minimum_load.CHECK,
    seals.CHECK,
    axial_travel.CHECK,
    alignment.CHECK,
    lift_and_entry.CHECK,
    clearance.CHECK,
    axial_chain.CHECK,
    joint.CHECK,
    life.RATING,
    life.MODIFIED,
    delivery.CHECK,
    root_cause.CHECK,
)
