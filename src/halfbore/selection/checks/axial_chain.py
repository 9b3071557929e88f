"""Axial load on the locating unit as a chain: flange heat, flange strength, grip, housing."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, State
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import axial, ring_joint, shaft_seat
from halfbore.mechanics.stiffness import roller_stiffness
from halfbore.selection.check import EXACT, Check, Outcome, Wish, column, everywhere, spread
from halfbore.selection.checks import clearance
from halfbore.selection.checks.bore_and_seat import deviations
from halfbore.selection.need import Floats, Need
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

LINKS = ("supplier's axial load", "flange heat", "flange strength", "grip on the shaft", "housing and base")
FLANGE_HEAT = 1
CONTACT_TO_HEIGHT = 1 / 0.6
"""Height of a flange over the height of its contact's middle: a circular segment, derived."""

_SUPPLIER = Source("supplier's unit table", "axial capacity", Status.GIVEN)


def load_zone(need: Need, units: UnitTable, loads: Floats) -> Floats:
    """Return half the load zone per load and unit (conditions, n) [rad], at the least clearance in operation."""
    least, _ = clearance.band(need, units)
    tight = np.where(np.isnan(least), 0.0, np.maximum(least, 0.0))
    stiffness = np.asarray(roller_stiffness(units.roller_length))
    zone = ring_joint.half_load_zone(
        loads[:, None], tight[None, :], units.rollers[None, :], stiffness[None, :]
    )
    return np.asarray(zone)


def links(need: Need, units: UnitTable) -> Floats:
    """Return what each link of the chain bears, the least over the conditions (links, n) [N]."""
    low, _ = deviations(need, units)
    gap = np.asarray(shaft_seat.joint_gap(units.joint_gap, low))
    grip = shaft_seat.remaining_grip(units.clamp_grip * (1.0 - shaft_seat.RETORQUE_LOSS.high), gap)
    return np.stack(
        [
            units.axial_capacity,
            _flange_heat(need, units),
            units.flange_strength,
            np.asarray(grip),
            units.housing_axial,
        ]
    )


def _flange_heat(need: Need, units: UnitTable) -> Floats:
    """Return the axial load at which p·v at the flange reaches the supplier's limit (n) [N]; inf at rest."""
    loads = need.duty.radial_low
    rollers = np.asarray(axial.loaded_rollers(units.rollers[None, :], load_zone(need, units, loads)))
    area = np.asarray(
        axial.flange_overlap_area(units.roller_diameter, units.flange_height * CONTACT_TO_HEIGHT)
    )
    gamma = units.roller_diameter / units.pitch_diameter
    sliding = np.asarray(
        axial.inner_flange_speed(units.flange_height[None, :], need.duty.speed[:, None], gamma[None, :])
    )
    capacity = np.asarray(
        axial.flange_capacity(units.flange_pv_limit[None, :], sliding, rollers, area[None, :])
    )
    return np.where(np.isnan(units.flange_pv_limit), np.nan, capacity.min(0))


def _column(need: Need, units: UnitTable) -> Column:
    n = len(units)
    if not need.duty.locating:
        return everywhere(State.NOT_APPLICABLE, n)
    low, high = float(need.duty.axial_low.max()), float(need.duty.axial_high.max())
    if high == 0.0:
        state = np.where(units.locating, State.NOT_APPLICABLE, State.NUMBER)
        return column(np.inf, np.inf, n, state)
    chain = links(need, units)
    bears = np.asarray(axial.chain_capacity(chain))
    with np.errstate(divide="ignore", invalid="ignore"):
        good, bad = low / bears, high / bears
    good = np.where(units.locating, good, np.inf)
    bad = np.where(units.locating, bad, np.inf)
    return column(good, bad, n, _state(chain, good))


def _state(chain: Floats, good: Floats) -> Floats:
    """A chain that fails by a known link fails; otherwise a link that is not known leaves it open."""
    heat = np.isnan(chain[FLANGE_HEAT])
    unknown = np.isnan(chain).any(0)
    failed = good > 1.0 + EXACT
    return np.select([failed, heat, unknown], [State.NUMBER, State.OUTSIDE, State.NO_DATA], State.NUMBER)


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    if not need.duty.locating:
        return Outcome("this position does not locate the shaft", (_SUPPLIER,), kind=Kind.FORCE)
    if not unit.locating[0]:
        return Outcome(
            "this unit cannot hold the shaft axially and the position locates", (_SUPPLIER,), kind=Kind.FORCE
        )
    low, high = float(need.duty.axial_low.max()), float(need.duty.axial_high.max())
    if high == 0.0:
        return Outcome(
            "nothing pushes the shaft axially; the unit can locate it", (_SUPPLIER,), kind=Kind.FORCE
        )
    chain = links(need, unit)
    weakest = int(np.asarray(axial.weakest_link(chain)).reshape(-1)[0])
    bears = float(np.asarray(axial.chain_capacity(chain)).reshape(-1)[0])
    unknown = [name for name, value in zip(LINKS, chain[:, 0], strict=True) if np.isnan(value)]
    told = f"{high / 1000:.2g} kN to hold, weakest known link {LINKS[weakest]} bears {bears / 1000:.2g} kN"
    if unknown:
        told += f"; {' and '.join(unknown)} not given"
    return Outcome(
        told,
        (_SUPPLIER, axial.flange_capacity.source, shaft_seat.remaining_grip.source),
        spread(low, high),
        Span(bears, bears, bears),
        Kind.FORCE,
        datum=f"{' and '.join(unknown)}, from the supplier" if unknown else "",
        details=tuple(
            (name, "not given" if np.isnan(v) else f"{v / 1000:.3g} kN")
            for name, v in zip(LINKS, chain[:, 0], strict=True)
        ),
    )


def _relax(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    """Ease the one named thrust of the machine, where there is one."""
    if not unit.locating[0] or np.isnan(links(need, unit)).any():
        return ()
    sources = [
        (f"loads[{i}].{name}", value)
        for i, load in enumerate(need.job.loads)
        for name in ("axial_thrust", "axial_force")
        if (value := getattr(load, name, None)) is not None and value.high > 0
    ]
    if len(sources) != 1:
        return ()
    path, now = sources[0]
    bears = float(np.asarray(axial.chain_capacity(links(need, unit))).reshape(-1)[0])
    eased = float(np.floor(0.9 * bears * now.high / float(need.duty.axial_high.max()) / 10.0) * 10.0)
    return (
        (Wish(path, Span(min(now.low, eased), min(now.likely, eased), eased), "axial thrust"),)
        if eased > 0
        else ()
    )


CHECK = Check("axial chain", "Axial load, locating", _column, _outcome, decisive=True, relax=_relax)
