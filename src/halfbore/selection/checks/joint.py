"""Load direction against the joints of the outer ring."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.check import Column, Sense, State
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import ring_joint
from halfbore.selection.check import RESERVE, Check, Outcome, column, one, spread
from halfbore.selection.checks.axial_chain import load_zone
from halfbore.selection.need import Floats, Need
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

_SUPPLIER = Source("supplier's unit table", "ring joint", Status.GIVEN)
JUST_TIGHT = 1.0 - RESERVE + 0.001
"""A load zone that reaches the joint is never better than tight, whatever the supplier allows."""


def _loaded(need: Need) -> NDArray[np.bool_]:
    return need.running & (need.duty.equivalent_high > 0)


def distances(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the least and the likely angle between load and nearer joint (n) [rad] over the running conditions."""
    on = _loaded(need)
    likely = np.asarray(ring_joint.joint_distance(need.duty.angle[on][:, None], units.joint_angle[None, :]))
    least = np.maximum(likely - need.duty.angle_spread[on][:, None], 0.0)
    return least.min(0), likely.min(0)


def zones(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return half the load zone at light and at heavy load (n) [rad]."""
    on = _loaded(need)
    heavy = load_zone(need, units, need.duty.equivalent_high[on]).max(0)
    return load_zone(need, units, need.duty.equivalent_low[on]).max(0), heavy


def _column(need: Need, units: UnitTable) -> Column:
    n = len(units)
    if not _loaded(need).any():
        return column(0.0, 0.0, n, np.full(n, State.NOT_APPLICABLE))
    least, likely = distances(need, units)
    light, heavy = zones(need, units)
    clear = least > heavy
    with np.errstate(divide="ignore", invalid="ignore"):
        by_zone_good, by_zone_bad = light / likely, heavy / least
        by_supplier_good, by_supplier_bad = units.joint_clear / likely, units.joint_clear / least
    good = np.where(clear, by_zone_good, np.maximum(by_supplier_good, JUST_TIGHT))
    bad = np.where(clear, by_zone_bad, np.maximum(by_supplier_bad, JUST_TIGHT))
    return column(good, bad, n)


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    sources = (ring_joint.joint_distance.source, ring_joint.half_load_zone.source, _SUPPLIER)
    if not _loaded(need).any():
        return Outcome("no load while running", sources, kind=Kind.ANGLE, sense=Sense.AT_LEAST)
    least, likely = (np.degrees(one(v)) for v in distances(need, unit))
    light, heavy = (np.degrees(one(v)) for v in zones(need, unit))
    if np.isnan(likely):
        return Outcome(
            "the joint angle is not given", sources, kind=Kind.ANGLE, datum="joint angle, from the supplier"
        )
    sector = f"load {np.degrees(need.duty.angle[_loaded(need)][0]) % 360:.0f}° from up, joint {least:.0f} to {likely:.0f}° off it"
    if least > heavy:
        return Outcome(
            f"{sector}; the load zone ends {least - heavy:.0f}° short of the joint",
            sources,
            spread(np.radians(light), np.radians(heavy)),
            Span(*(np.radians(least),) * 3),
            Kind.ANGLE,
        )
    allowed = one(unit.joint_clear)
    if np.isnan(allowed):
        return Outcome(
            f"{sector}; the load zone of {heavy:.0f}° either way reaches the joint",
            sources,
            kind=Kind.ANGLE,
            datum="least angle between load and joint, from the supplier; or turn the base, another support, the other hand",
        )
    return Outcome(
        f"{sector}; the load zone reaches the joint, the supplier allows down to {np.degrees(allowed):.0f}°",
        sources,
        spread(np.radians(least), np.radians(likely)),
        Span(allowed, allowed, allowed),
        Kind.ANGLE,
        Sense.AT_LEAST,
        details=(
            ("choices", "turn the base, another support, the other hand, a sector that the supplier allows"),
        ),
    )


CHECK = Check("ring joint", "Ring joint", _column, _outcome)
