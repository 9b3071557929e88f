"""How the rollers of one unit share the load at a position: what the checks read off in one number, drawn out."""

from __future__ import annotations

import numpy as np

from halfbore.domain.rollers import RollerPattern, RollerView
from halfbore.domain.unit import UnitTable
from halfbore.mechanics.ring_joint import half_load_zone
from halfbore.mechanics.roller_loads import contact_radius, line_pressure, roller_loads
from halfbore.mechanics.stiffness import roller_stiffness
from halfbore.selection.check import one
from halfbore.selection.checks import clearance
from halfbore.selection.checks.alignment import change_in_service
from halfbore.selection.need import Need


def rollers_of(need: Need, unit: UnitTable) -> RollerView | None:
    """Return the rollers of a unit in the heaviest running condition.

    unit: a one-row table. The clearance in operation is at both ends of its band, at its least where the supplier
    gives no largest; the tilt is the change of slope in service, all of it in the plane of the load.
    Returns None where roller geometry, clearance or load are not known.
    """
    duty, on = need.duty, need.running
    geometry = [one(v) for v in (unit.rollers, unit.roller_diameter, unit.roller_length, unit.inner_raceway)]
    least, most = (one(end) for end in clearance.band(need, unit))
    if not on.any() or not np.isfinite([*geometry, least]).all():
        return None
    worst = int(np.where(on, duty.equivalent_high, -np.inf).argmax())
    load, rows = float(duty.equivalent_high[worst]), max(int(one(unit.rows)), 1)
    if not load > 0.0:
        return None
    tilt = change_in_service(need)
    ends = (least, most if np.isfinite(most) else least)
    tight, loose = (_pattern(load / rows, end, tilt, *geometry) for end in ends)
    joint = one(unit.joint_angle)
    return RollerView(
        need.job.duty[worst].name,
        load,
        float(need.angle[worst]),
        rows,
        (joint, joint + np.pi),
        tilt,
        roller_loads(load / rows, 0.0, 0.0, int(geometry[0]), *geometry[1:3]).place,
        tight,
        loose,
    )


def _pattern(
    load: float, s: float, tilt: float, count: float, diameter: float, length: float, raceway: float
) -> RollerPattern:
    level, tilted = (roller_loads(load, s, t, int(count), diameter, length) for t in (0.0, tilt))
    radius = contact_radius(diameter, raceway)
    heaviest = int(level.load.argmax())
    return RollerPattern(
        s,
        level.load,
        float(half_load_zone(load, s, count, roller_stiffness(length))),
        np.asarray(line_pressure(level.per_length[heaviest], radius)),
        np.asarray(line_pressure(tilted.per_length[heaviest], radius)),
    )
