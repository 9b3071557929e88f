"""Load direction against the joints of the outer ring."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Column, Sense, State
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import ring_joint
from halfbore.numbers import number
from halfbore.selection.check import JUST_TIGHT, Check, Outcome, column, everywhere, exactly, one, spread
from halfbore.selection.checks import clearance
from halfbore.selection.checks.support_direction import sector, turned
from halfbore.selection.load_zone import half_zone
from halfbore.selection.need import Floats, Need, shared
from halfbore.sources import Source, Status
from halfbore.units import Kind

CHOICES = "turn the base, another support, the other hand, a sector that the supplier allows"

_SUPPLIER = Source("supplier's unit table", "ring joint", Status.GIVEN)


def _loaded(need: Need) -> NDArray[np.bool_]:
    return need.running & (need.duty.equivalent_high > 0)


@shared
def distances(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the least and the likely angle between load and nearer joint, per loaded condition (c, n) [rad]."""
    on = _loaded(need)
    likely = np.asarray(ring_joint.joint_distance(need.angle[on][:, None], units.joint_angle[None, :]))
    return np.maximum(likely - need.angle_spread[on][:, None], 0.0), likely


@shared
def zones(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return half the load zone at light and at heavy load, per loaded condition (c, n) [rad].

    At the least clearance in operation, where it is widest, or as wide as it can be where that is not known.
    """
    least, _ = clearance.band(need, units)
    on = _loaded(need)
    low, high = need.duty.equivalent_low[on], need.duty.equivalent_high[on]
    heavy = _known(half_zone(units, high, least))
    return heavy if np.array_equal(low, high) else _known(half_zone(units, low, least)), heavy


def _known(zone: Floats) -> Floats:
    return np.where(np.isnan(zone), ring_joint.ZONE_BOUND, zone)


def _column(need: Need, units: UnitTable) -> Column:
    """Clear of the joint: by the load zone; a zone that reaches it: only by what the supplier allows, and tight."""
    n = len(units)
    if not _loaded(need).any():
        return everywhere(State.NOT_APPLICABLE, n)
    least, likely = distances(need, units)
    light, heavy = zones(need, units)
    clear = (least > heavy).all(0)
    with np.errstate(divide="ignore", invalid="ignore"):
        good = np.where(clear, (light / likely).max(0), _allowed(units, likely.min(0)))
        bad = np.where(clear, (heavy / least).max(0), _allowed(units, least.min(0)))
    return column(good, bad, n)


def _allowed(units: UnitTable, distance: Floats) -> Floats:
    """Return the use of what the supplier allows, never better than tight; NaN where he says nothing."""
    used = np.where(units.joint_clear == 0.0, 0.0, units.joint_clear / distance)
    return np.maximum(used, JUST_TIGHT)


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (ring_joint.joint_distance.source, ring_joint.half_load_zone.source, _SUPPLIER)
    on = _loaded(need)
    if not on.any():
        return Outcome("no load while running", sources, kind=Kind.ANGLE, sense=Sense.AT_LEAST)
    if np.isnan(one(unit.joint_angle)):
        return Outcome(
            "the joint angle is not given",
            sources,
            kind=Kind.ANGLE,
            sense=Sense.AT_LEAST,
            datum="joint angle, from the supplier",
        )
    least, likely = (d[:, 0] for d in distances(need, unit))
    light, heavy = (z[:, 0] for z in zones(need, unit))
    c = int((heavy - least).argmax())
    angle = float(need.duty.angle[on][c])
    told = (
        f"load {number(np.degrees(angle) % 360)}° from up, {sector(float(need.angle[on][c]))}{turned(need)}; "
        f"joint {_degrees(float(least[c]), float(likely[c]))} off it"
    )
    if (least > heavy).all():
        return Outcome(
            f"{told}; the load zone ends {number(np.degrees(least[c] - heavy[c]))}° short of the joint",
            sources,
            spread(float(least[c]), float(likely[c])),
            spread(float(light[c]), float(heavy[c])),
            Kind.ANGLE,
            Sense.AT_LEAST,
            details=(("half the load zone", _degrees(float(light[c]), float(heavy[c]))),),
        )
    allowed = one(unit.joint_clear)
    if np.isnan(allowed):
        return Outcome(
            f"{told}; the load zone of {number(np.degrees(heavy[c]))}° either way reaches the joint",
            sources,
            kind=Kind.ANGLE,
            sense=Sense.AT_LEAST,
            datum="least angle between load and joint, from the supplier",
            details=(("choices", CHOICES),),
        )
    return Outcome(
        f"{told}; the load zone reaches the joint, the supplier allows down to {number(np.degrees(allowed))}°",
        sources,
        spread(float(least.min()), float(likely.min())),
        exactly(allowed),
        Kind.ANGLE,
        Sense.AT_LEAST,
        details=(
            ("half the load zone", _degrees(float(light[c]), float(heavy[c]))),
            ("peak load", _peak(unit, float(least[c]), float(likely[c]))),
            ("choices", CHOICES),
        ),
        asks=f"whether the joint may lie {_degrees(float(least.min()), float(likely.min()))} off the load",
    )


def _degrees(low: float, high: float) -> str:
    return f"{number((np.degrees(low), np.degrees(high)))}°"


def _peak(unit: UnitTable, least: float, likely: float) -> str:
    """Return whether the most loaded roller can stand on the joint: within half a roller pitch of it."""
    half_pitch = np.pi / one(unit.rollers)
    if np.isnan(half_pitch):
        return "the number of rollers is not given"
    if likely <= half_pitch:
        return "the most loaded roller is on the joint"
    return "the most loaded roller can be on the joint" if least <= half_pitch else "off the joint"


CHECK = Check("ring joint", "Ring joint", _column, _outcome)
