"""What belongs to one position, as plain floats: the side of the loop in `loop.py` that is worked out once."""

from __future__ import annotations

from dataclasses import dataclass
from math import nan

import numpy as np

from halfbore.domain.machine import Water
from halfbore.domain.position import DamageMode, EntrySide
from halfbore.selection.checks import alignment, axial_travel, room, root_cause, seals, static_safety
from halfbore.selection.checks import support_direction as support
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.need import Need
from halfbore.standards import iso281_2007
from halfbore.standards.iso281_2007_annex_a import contamination_constants

NAMES = [check.name for check in CHECKS]


@dataclass(slots=True)
class Place:
    """What belongs to the position, as floats: worked out once."""

    nominal: float
    measured: tuple[float, float] | None
    form: tuple[float, float] | None
    fastest: float
    shaft: tuple[float, float]
    light: list[float]
    heavy: list[float]
    stands: set[int]
    free: list[float]
    entry: EntrySide | None
    peaks: tuple[float, float]
    wanted_safety: float
    running: list[tuple[float, float, float, float, float, float, float]]
    turns_an_hour: float
    viscosity: list[tuple[float, float]] | None
    constants: list[tuple[float, float, float]]
    proven_ep: bool
    a_1: float
    life: float
    sides: list[tuple[float, list[bool], list[bool], float]]
    purged: list[bool]
    standing: bool
    locating: bool
    axial_known: bool
    travel: tuple[float, float]
    setting: tuple[float, float]
    change: float
    studs: tuple[float, float]
    allowed: tuple[float, float] | None
    old_centre: float
    follows: bool
    heat: tuple[float, float]
    thrust: tuple[float, float]
    pushed: list[tuple[float, float, float]]
    latest: float | None
    cause: list[int] | None
    uncured: bool
    years: float
    currency: str


def place_of(need: Need) -> Place:
    """Return one position's side of the checks as floats."""
    d, position, job = need.duty, need.position, need.job
    on = np.flatnonzero(need.running)
    light, heavy = support.loads_by_sector(need)
    warm = need.warm
    cool = max(float((d.shaft_temperature_low[warm] - d.housing_temperature_high[warm]).min()), 0.0)
    hot = max(float((d.shaft_temperature_high[warm] - d.housing_temperature_low[warm]).max()), 0.0)
    with_offset, without, _ = axial_travel.needed(need)
    base, seat = position.base, position.seat
    setting = (
        float(d.slope_low.min()) + base.tilt_error.low,
        float(d.slope_high.max()) + base.tilt_error.high,
    )
    thrust = float(d.axial_low.max()), float(d.axial_high.max())
    died = root_cause.last_failure(need)
    known = died is not None and died.why is not DamageMode.NOT_KNOWN
    cures = root_cause.CURES.get(died.why) if died is not None else None
    levels = [contamination_constants(level, 100.0) for level in need.levels]
    large = [contamination_constants(level, 1000.0) for level in need.levels]
    found = need.viscosity
    return Place(
        need.nominal,
        None if seat.diameter is None else (seat.diameter.low, seat.diameter.high),
        None if seat.form_error is None else (seat.form_error.low, seat.form_error.high),
        need.fastest,
        need.shaft_temperature,
        light.tolist(),
        heavy.tolist(),
        {int(s) for s in support.ON[base.fixing]},
        room.free_room(need).tolist(),
        position.room.entry_side,
        static_safety.peaks(need),
        static_safety.least(job.required.shock),
        [
            (
                float(d.share[c] * d.speed[c]),
                float(d.speed[c]),
                float(d.equivalent_low[c]),
                float(d.equivalent_high[c]),
                float(d.radial_low[c]),
                float(d.angle[c]),
                float(need.angle_spread[c]),
            )
            for c in on
        ],
        60.0 * float(d.share[on] @ d.speed[on]) / float(d.share[on].sum()),
        None
        if found is None or np.isnan(found).any()
        else list(zip(*(v.tolist() for v in found), strict=True)),
        [(c[0], float(c[1]), float(b[1])) for c, b in zip(levels, large, strict=True)],
        job.lubricant is not None and job.lubricant.proven_ep,
        float(iso281_2007.a_1(job.required.reliability)),
        job.required.life,
        [
            (
                seals.surface_speed(need, side.surveyed),
                side.suits.tolist(),
                side.dry.tolist(),
                side.stands_out,
            )
            for side in seals.sides(need)
        ],
        seals.purged(need).tolist(),
        job.machine.site.water is Water.STANDING,
        d.locating,
        d.axial_known,
        (with_offset, without),
        setting,
        alignment.change_in_service(need),
        (base.stud_stick_out.low, base.stud_stick_out.high),
        None if position.lift.allowed is None else (position.lift.allowed.low, position.lift.allowed.high),
        nan if base.centre_height is None else base.centre_height,
        base.drive_can_follow,
        (cool, hot),
        thrust,
        [
            (float(d.radial_low[c]), float(d.speed[c]), float(d.axial_high[c]) / thrust[1])
            for c in np.flatnonzero(d.axial_high > 0)
        ],
        job.required.latest_delivery,
        [NAMES.index(check.name) for check in cures] if known and cures is not None else None,
        known and (cures is None or root_cause.low_base(need)),
        job.required.horizon / 8760.0,
        job.value.currency if job.value is not None else "EUR",
    )
