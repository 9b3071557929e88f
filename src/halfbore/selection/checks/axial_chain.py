"""Axial load on the locating unit as a chain: flange heat, flange strength, grip, housing."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column, State
from halfbore.domain.machine import AxialElement, AxialReach
from halfbore.domain.position import Role
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import axial, shaft_seat
from halfbore.numbers import number
from halfbore.phrases import Phrase, kilonewton, phrase
from halfbore.selection.check import (
    EXACT,
    JUST_TIGHT,
    Check,
    Outcome,
    Wish,
    column,
    everywhere,
    given,
    one,
    spread,
)
from halfbore.selection.checks import clearance
from halfbore.selection.checks.axial_travel import AXIAL_DATUM
from halfbore.selection.checks.bore_and_seat import deviations
from halfbore.selection.load_zone import half_zone
from halfbore.selection.need import Floats, Need, shared
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

LINKS = ("supplier's axial load", "flange heat", "flange strength", "grip on the shaft", "housing and base")
FLANGE_HEAT = 1
CONTACT_TO_HEIGHT = 1 / 0.6
"""Height of a flange over the height of its contact's middle: a circular segment, derived."""
EASED = 0.90
"""A thrust that is eased leaves the reserve of a check that holds."""

_SUPPLIER = Source("supplier's unit table", "axial capacity", Status.GIVEN)


def _thrust(need: Need) -> tuple[float, float]:
    """Return the largest axial load of the duty at both ends of the ranges [N]."""
    return float(need.duty.axial_low.max()), float(need.duty.axial_high.max())


@shared
def links(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the thrust of the duty that each link of the chain bears, at the least and at best (links, n) [N].

    Infinite for no limit. The fewest rollers share the thrust where the clearance is greatest.
    """
    low, _ = deviations(need, units)
    gap = np.asarray(shaft_seat.joint_gap(units.joint_gap, low))
    grip = np.asarray(
        shaft_seat.remaining_grip(units.clamp_grip * (1.0 - shaft_seat.RETORQUE_LOSS.high), gap)
    )

    def chain(heat: Floats) -> Floats:
        return np.stack([units.axial_capacity, heat, units.flange_strength, grip, units.housing_axial])

    least, most = _flange_heat(need, units)
    return chain(least), chain(most)


def _flange_heat(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the thrust of the duty at which p·v at the flange reaches the supplier's limit, least and most (n) [N].

    Each condition has its own share of the thrust, its speed and its loaded rollers, which share the thrust: the fewest
    where the bearing is loosest, the most where it is tightest.
    """
    d = need.duty
    pushed = d.axial_high > 0
    loose = clearance.greatest_known(need, units)
    tight = np.minimum(clearance.band(need, units)[0], loose)
    height = np.where(units.flange_height > 0, units.flange_height, np.nan)
    area = np.asarray(axial.flange_overlap_area(units.roller_diameter, height * CONTACT_TO_HEIGHT))
    gamma = units.roller_diameter / units.pitch_diameter
    sliding = axial.inner_flange_speed(height[None, :], d.speed[pushed, None], gamma[None, :])
    share = d.axial_high[pushed, None] / d.axial_high.max()

    def bears(gap: Floats) -> Floats:
        rollers = axial.loaded_rollers(units.rollers[None, :], half_zone(units, d.radial_low[pushed], gap))
        limit = units.flange_pv_limit[None, :]
        capacity = np.asarray(axial.flange_capacity(limit, sliding, rollers, area[None, :]))
        return np.asarray((capacity / share).min(0))

    return bears(loose), bears(tight)


def full_contact(need: Need, units: UnitTable) -> Floats:
    """Return the radial load that the thrust asks for, over the least there is (n); nothing without a flange height.

    Past it the thrust lifts one end of the rollers off: a lightly loaded bearing that locates is never better than tight.
    """
    d = need.duty
    pushed, height = d.axial_high > 0, units.flange_height
    wanted = axial.radial_load_for_full_contact(
        d.axial_high[pushed, None], units.roller_diameter, height, height, units.roller_length
    )
    with np.errstate(divide="ignore"):
        used = np.asarray(wanted) / d.radial_low[pushed, None]
    return np.asarray(np.where(np.isnan(used), 0.0, used).max(0))


def _column(need: Need, units: UnitTable) -> Column:
    n = len(units)
    if not need.duty.locating:
        return everywhere(State.NOT_APPLICABLE if need.duty.axial_known else State.NO_DATA, n)
    low, high = _thrust(need)
    if high == 0.0:
        return column(np.inf, np.inf, n, np.where(units.locating, State.NOT_APPLICABLE, State.NUMBER))
    chain, at_best = links(need, units)
    with np.errstate(divide="ignore", invalid="ignore"):
        good = low / np.asarray(axial.chain_capacity(at_best))
        bad = high / np.asarray(axial.chain_capacity(chain))
    bad = np.where(full_contact(need, units) > 1.0, np.maximum(bad, JUST_TIGHT), bad)
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
        unsettled = "what holds the shaft axially is not settled"
        return Outcome(
            "this position does not locate the shaft" if need.duty.axial_known else unsettled,
            (_SUPPLIER,),
            kind=Kind.FORCE,
            datum="" if need.duty.axial_known else f"{AXIAL_DATUM}, from the site",
        )
    if not unit.locating[0]:
        return Outcome(
            "this unit cannot hold the shaft axially and the position locates", (_SUPPLIER,), kind=Kind.FORCE
        )
    low, high = _thrust(need)
    if high == 0.0:
        return Outcome(
            "nothing pushes the shaft axially; the unit can locate it", (_SUPPLIER,), kind=Kind.FORCE
        )
    chain, at_best = links(need, unit)
    weakest = int(axial.weakest_link(chain)[0])  # type: ignore[index]
    bears, most = (one(np.asarray(axial.chain_capacity(c))) for c in (chain, at_best))
    unknown = [name for name, value in zip(LINKS, chain[:, 0], strict=True) if np.isnan(value)]
    told = phrase("{} to hold", kilonewton((low, high), 2))
    if weakest >= 0:
        link = LINKS[weakest]
        told = phrase("{}, weakest known link {} bears {}", told, link, kilonewton((bears, most), 2))
    lifted = one(full_contact(need, unit))
    if lifted > 1.0:
        asked = f"{number(lifted, 2)} times the radial load there is"
        told = phrase("{}; the thrust asks for {}, or roller ends lift off", told, asked)
    return Outcome(
        phrase("{}{}", told, f"; {' and '.join(unknown)} not given" if unknown else ""),
        (_SUPPLIER, axial.flange_capacity.source, shaft_seat.remaining_grip.source),
        spread(low, high),
        spread(bears, most),
        Kind.FORCE,
        datum=f"axial limit by {' and '.join(unknown)}, from the supplier" if unknown else "",
        details=(
            *(
                (name, given(kilonewton((float(v), float(best)))))
                for name, v, best in zip(LINKS, chain[:, 0], at_best[:, 0], strict=True)
            ),
            ("radial load at the least", Phrase(kilonewton(need.duty.radial_low.min()))),
        ),
    )


def _relax(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    """Ease the one named thrust of the machine, or let a bearing of its own take it from a unit that cannot."""
    if not unit.locating[0]:
        return _thrust_bearing(need)
    chain, _ = links(need, unit)
    if np.isnan(chain).any():
        return ()
    named = [
        (f"loads[{i}].{name}", value)
        for i, load in enumerate(need.job.loads)
        for name in ("axial_thrust", "axial_force")
        if isinstance(value := getattr(load, name, None), Span) and max(-value.low, value.high) > 0
    ]
    if len(named) != 1:
        return ()
    path, now = named[0]
    bears = one(np.asarray(axial.chain_capacity(chain)))
    most = float(np.floor(EASED * bears * max(-now.low, now.high) / _thrust(need)[1] / 10.0) * 10.0)
    eased = np.clip([now.low, now.likely, now.high], -most, most).tolist()
    return (Wish(path, Span(*eased), "axial thrust", Kind.FORCE),) if most > 0 else ()


def _thrust_bearing(need: Need) -> tuple[Wish, ...]:
    """Return what lets a non-locating unit serve where thrust must be held."""
    if _thrust(need)[1] == 0.0:
        return ()
    name = f"thrust bearing at {need.position.name}"
    element = AxialElement(name, AxialReach.BOTH, need.position.x)
    return (
        Wish(f"positions[{need.index}].role", Role.NON_LOCATING, "the unit"),
        Wish("machine.locates", (*need.job.machine.locates, element), f"a {name}, which holds the shaft"),
    )


CHECK = Check("axial chain", "Axial load, locating", _column, _outcome, decisive=True, relax=_relax)
