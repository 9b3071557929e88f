"""Tilt between shaft and housing: what is asked, what the seat takes up, what stays in the rollers."""

from __future__ import annotations

from math import radians

import numpy as np

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import not_negative, positive
from halfbore.sources import Source, Status, derived, practice
from halfbore.working import Number, clause

_GEOMETRY = derived("geometry of a line over two supports")
_PLANES = derived("slopes in two planes at right angles")
_SEAT = derived(
    "friction of a spherical seat", "the cap presses twice: on itself and, through the ring, on the base"
)

SEAT_FRICTION = Band(0.1, 0.3, "", practice("friction of an aligning seat"))
SEAT_WIDTH = Band(1.0, 1.3, "", practice("spread of pressure over an aligning seat, narrow to wide"))
ROLLER_TILT = Band(0.0003, 0.001, "rad", practice("tilt that profiled rollers bear in service"))
STATIC_ALIGNMENT = Band(
    0.0, radians(1.5), "rad", Source("spherical seat while it is free", status=Status.COMMON_PRACTICE)
)


@clause(_GEOMETRY, "atan(height_error/span)")
def height_slope(height_error: Number, span: Number) -> Number:
    """Return the slope of the shaft line when one support stands too high or too low [rad].

    geometry of a line over two supports
    height_error: height against the line of the others [mm].
    span: distance to the next support, above zero [mm].
    """
    positive(span=span)
    slope: Number = np.arctan(height_error / span)
    return slope


@clause(_PLANES, "sqrt((shaft_y - base_y)**2 + (shaft_z - base_z)**2)")
def tilt_demand(shaft_y: Number, shaft_z: Number, base_y: Number, base_z: Number) -> Number:
    """Return the tilt of the shaft against the housing when all slopes are known with their signs [rad].

    slopes in two planes at right angles
    shaft_y, shaft_z: slope of the shaft in the upright and in the level plane [rad].
    base_y, base_z: slope of the housing's axis in the same planes [rad].
    """
    return ((shaft_y - base_y) ** 2 + (shaft_z - base_z) ** 2) ** 0.5


@clause(_PLANES, "Abs(shaft_slope) + Abs(height_slope) + Abs(base_slope)")
def tilt_bound(shaft_slope: Number, height_slope: Number, base_slope: Number) -> Number:
    """Return the greatest tilt when the directions of the parts are not known [rad].

    slopes in two planes at right angles
    shaft_slope: by bending [rad]. height_slope: by the heights of the supports [rad].
    base_slope: of the base along the shaft [rad].
    """
    parts = (np.abs(np.asarray(slope)) for slope in (shaft_slope, height_slope, base_slope))
    total: Number = sum(parts)
    return total


@clause(derived("a free seat follows a still tilt, and only that"), "Max(static_tilt - setting_range, 0)")
def tilt_not_set(static_tilt: Number, setting_range: Number) -> Number:
    """Return the part of a still tilt that the free seat cannot take up at mounting [rad].

    a free seat follows a still tilt, and only that
    static_tilt: base error and slope of the shaft at rest [rad]. setting_range: of the seat, each way [rad].
    """
    return np.maximum(static_tilt - setting_range, 0.0)


@clause(derived("a tightened seat stands still"), "running_change + rotating_tilt + not_set")
def roller_tilt_left(running_change: Number, rotating_tilt: Number, not_set: Number) -> Number:
    """Return the tilt that stays in the rollers while the seat does not slide [rad].

    a tightened seat stands still
    running_change: change of the shaft's slope from rest to running [rad].
    rotating_tilt: of a bent shaft or a cocked ring, which no seat follows [rad].
    not_set: see tilt_not_set [rad].
    """
    return running_change + rotating_tilt + not_set


@clause(_SEAT, "friction*width*R_s*(F_r + 2*F_cap)")
def break_loose_moment(
    F_r: Number, F_cap: Number, R_s: Number, friction: Number, width: Number = 1.0
) -> Number:
    """Return the tilting moment at which a tightened aligning seat slides [N·mm].

    friction of a spherical seat
    F_r: radial load [N]. F_cap: force with which the tightened cap presses the ring into the base [N].
    R_s: radius of the seat [mm]. friction: see SEAT_FRICTION. width: see SEAT_WIDTH; report both bounds.
    """
    not_negative(F_r=F_r, F_cap=F_cap, R_s=R_s, friction=friction)
    return friction * width * R_s * (F_r + 2.0 * F_cap)
