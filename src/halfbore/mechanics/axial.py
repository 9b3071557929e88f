"""Axial load on a locating unit as a chain: roller ends, flanges, clamp, housing, base."""

from __future__ import annotations

from math import pi

import numpy as np
from numpy.typing import NDArray

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import not_negative, positive
from halfbore.sources import Source, Status, derived, practice
from halfbore.working import Number, clause

_CENTRE = derived(
    "a roller turns about its contact line", "sliding speed is height times relative turning speed"
)
_HEAT = derived("friction power")
_SHARE = derived("axial load shared by the rollers of the load zone")
_SEGMENT = derived(
    "circular segment of a flat roller end", "raceway taken as straight; nominal, not Hertzian"
)
_COUPLE = derived("two end contacts at opposite ends of a roller")
_TILTED = derived("line load that balances a couple", "rings parallel: both raceways take half each")
_CHAIN = derived("a chain is as strong as its weakest link")

FLANGE_FRICTION = Band(
    0.02,
    0.06,
    "",
    Source("friction of roller ends, mixed lubrication", "", Status.FROM_MEMORY, "0.1 when starved"),
)


@clause(_CENTRE, "h*pi*n/30*(1 + gamma)/(2*gamma)/1000")
def inner_flange_speed(h: Number, n: Number, gamma: Number) -> Number:
    """Return the sliding speed of roller end on inner ring flange [m/s].

    a roller turns about its contact line
    h: height of the end contact above the inner raceway [mm]. n: speed of the inner ring [r/min].
    gamma: D_we/D_pw, above zero.
    """
    positive(gamma=gamma)
    return h * pi * n / 30.0 * (1.0 + gamma) / (2.0 * gamma) / 1000.0


@clause(_CENTRE, "h*pi*n/30*(1 - gamma)/(2*gamma)/1000")
def outer_flange_speed(h: Number, n: Number, gamma: Number) -> Number:
    """Return the sliding speed of roller end on the flange of the stationary outer ring [m/s].

    a roller turns about its contact line
    h: height of the end contact inside the outer raceway [mm]. n: speed of the inner ring [r/min].
    gamma: D_we/D_pw, above zero.
    """
    positive(gamma=gamma)
    return h * pi * n / 30.0 * (1.0 - gamma) / (2.0 * gamma) / 1000.0


@clause(_HEAT, "friction*F_a*(v_i + v_e)")
def flange_heat(F_a: Number, v_i: Number, v_e: Number, friction: Number) -> Number:
    """Return the heat at the flanges of both rings [W].

    friction power
    F_a: axial load [N]. v_i, v_e: sliding speed at inner and outer flange [m/s].
    friction: see FLANGE_FRICTION.
    """
    return friction * F_a * (v_i + v_e)


@clause(_SHARE, "Max(Z*half_zone/pi, 1)")
def loaded_rollers(Z: Number, half_zone: Number) -> Number:
    """Return how many rollers carry load on average, at least one.

    axial load shared by the rollers of the load zone
    Z: rollers in a row. half_zone: half the load zone [rad].
    """
    return np.maximum(Z * half_zone / pi, 1.0)


@clause(_SEGMENT, "D_we**2/8*(2*acos(1 - 2*overlap/D_we) - sin(2*acos(1 - 2*overlap/D_we)))")
def flange_overlap_area(D_we: Number, overlap: Number) -> Number:
    """Return the area of one roller end that a flange can cover [mm²].

    circular segment of a flat roller end
    D_we: roller diameter [mm]. overlap: height of the flange above the raceway, less corner and relief [mm];
    its middle of area lies at about 0.6 of that height. NaN for a flange higher than the roller.
    """
    positive(D_we=D_we)
    not_negative(overlap=overlap)
    with np.errstate(invalid="ignore"):
        angle: Number = 2.0 * np.arccos(1.0 - 2.0 * overlap / D_we)
    return D_we**2 / 8.0 * (angle - np.sin(angle))


@clause(_SHARE, "F_a/(z*area)")
def flange_pressure(F_a: Number, z: Number, area: Number) -> Number:
    """Return the mean pressure between roller ends and flange [MPa].

    axial load shared by the rollers of the load zone
    F_a: axial load [N]. z: loaded rollers. area: contact of one roller end, above zero [mm²].
    """
    not_negative(F_a=F_a)
    positive(z=z, area=area)
    return F_a / (z * area)


@clause(_HEAT, "p*v")
def pressure_speed(p: Number, v: Number) -> Number:
    """Return pressure times sliding speed [MPa·m/s = W/mm²].

    friction power
    p: mean pressure [MPa]. v: sliding speed [m/s].
    """
    return p * v


@clause(_SHARE, "pv_limit*z*area/v")
def flange_capacity(pv_limit: Number, v: Number, z: Number, area: Number) -> Number:
    """Return the axial load at which pressure times speed reaches the supplier's limit; no limit at rest [N].

    axial load shared by the rollers of the load zone
    pv_limit: supplier's datum [MPa·m/s]; there is no published value. v: the larger sliding speed [m/s].
    z: loaded rollers. area: contact of one roller end [mm²].
    """
    not_negative(pv_limit=pv_limit, v=v)
    positive(z=z, area=area)
    with np.errstate(divide="ignore"):
        capacity: Number = np.divide(pv_limit * z * area, v)
    return capacity


@clause(_COUPLE, "F_a/z*(D_we - h_i - h_e)")
def roller_couple(F_a: Number, z: Number, D_we: Number, h_i: Number, h_e: Number) -> Number:
    """Return the couple that the two end contacts put on a roller [N·mm].

    two end contacts at opposite ends of a roller
    F_a: axial load [N]. z: loaded rollers. D_we: roller diameter [mm].
    h_i, h_e: height of the end contact above the inner and inside the outer raceway [mm].
    """
    positive(z=z)
    return F_a / z * (D_we - h_i - h_e)


@clause(_TILTED, "12*M*x/L_we**3")
def raceway_load_difference(M: Number, x: Number, L_we: Number) -> Number:
    """Return the line load on the one raceway less that on the other at x from the roller's middle [N/mm].

    line load that balances a couple
    M: couple on the roller [N·mm]. x: from the middle, within half the length [mm].
    L_we: effective length, above zero [mm].
    """
    positive(L_we=L_we)
    return 12.0 * M * x / L_we**3


@clause(_TILTED, "3*M/L_we**2")
def end_load_change(M: Number, L_we: Number) -> Number:
    """Return by how much a couple raises the line load of each raceway at a roller's end [N/mm].

    line load that balances a couple
    M: couple on the roller [N·mm]. L_we: effective length [mm].
    Twice this, should one raceway take the whole couple.
    """
    positive(L_we=L_we)
    return 3.0 * M / L_we**2


@clause(_TILTED, "3*F_a*(D_we - h_i - h_e)/L_we")
def radial_load_for_full_contact(F_a: Number, D_we: Number, h_i: Number, h_e: Number, L_we: Number) -> Number:
    """Return the radial load from which no roller end is relieved by the axial load, as a guideline [N].

    line load that balances a couple
    F_a: axial load, shared like the roller loads [N]. D_we, L_we: roller diameter and effective length [mm].
    h_i, h_e: height of the end contacts [mm].
    """
    positive(L_we=L_we)
    return 3.0 * F_a * (D_we - h_i - h_e) / L_we


@clause(
    practice("F_a ≤ 0.4 F_r", "lore of one-piece bearings; never by itself a reason to say that it holds"),
    "F_a/ratio",
)
def radial_load_by_custom(F_a: Number, ratio: Number = 0.4) -> Number:
    """Return the radial load that custom asks for beside an axial load, as a guideline only [N].

    F_a ≤ 0.4 F_r, common practice
    F_a: axial load [N]. ratio: axial to radial load, 0.4 to 0.5.
    """
    positive(ratio=ratio)
    return F_a / ratio


@clause(_CHAIN)
def chain_capacity(links: NDArray[np.float64]) -> Number:
    """Return the axial load that the known links bear; NaN when none is known [N].

    a chain is as strong as its weakest link
    links: capacity of each link, one link a row, NaN where not known [N].
    An unknown link can only lower it: see unknown_links.
    """
    known = ~np.isnan(links)
    least = np.where(known, links, np.inf).min(axis=0)
    return np.where(known.any(axis=0), least, np.nan)[()]


@clause(_CHAIN)
def weakest_link(links: NDArray[np.float64]) -> NDArray[np.int64] | int:
    """Return the row of the weakest known link, -1 when none is known.

    a chain is as strong as its weakest link
    links: capacity of each link, one link a row, NaN where not known [N].
    """
    known = ~np.isnan(links)
    return np.where(known.any(axis=0), np.where(known, links, np.inf).argmin(axis=0), -1)[()]


@clause(_CHAIN)
def unknown_links(links: NDArray[np.float64]) -> NDArray[np.int64] | int:
    """Return how many links of the chain are not known.

    a chain is as strong as its weakest link
    links: capacity of each link, one link a row, NaN where not known [N].
    """
    count: NDArray[np.int64] | int = np.isnan(links).sum(axis=0)
    return count
