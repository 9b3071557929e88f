"""Bearing calculations that take several clauses together: ratings, lives, mean loads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

import numpy as np

from halfbore.calc.described import Measured
from halfbore.domain.fields import Note, Quantity
from halfbore.standards import astm_d341, iso281_2007, iso281_2007_annex_a
from halfbore.standards.iso281_2007 import RollerBearingKind
from halfbore.standards.iso281_2007_annex_a import ContaminationLevel
from halfbore.units import Kind


@dataclass(frozen=True)
class Rollers:
    """The rollers of a radial roller bearing."""

    Z: Annotated[int, Quantity(Kind.COUNT, "rollers in a row", limits=(1, 1000))]
    D_we: Annotated[float, Quantity(Kind.LENGTH, "roller diameter", limits=(0.1, 1000))]
    L_we: Annotated[float, Quantity(Kind.LENGTH, "effective roller length", limits=(0.1, 2000))]
    D_pw: Annotated[float, Quantity(Kind.LENGTH, "pitch diameter of the roller set", limits=(1, 10000))]
    i: Annotated[int, Quantity(Kind.COUNT, "rows of rollers", limits=(1, 10))] = 1
    alpha: Annotated[float, Quantity(Kind.ANGLE, "contact angle", limits=(0, 1.5))] = 0.0
    kind: Annotated[RollerBearingKind, Note("kind of radial roller bearing")] = RollerBearingKind.CYLINDRICAL

    EXAMPLE: ClassVar[dict[str, Any]] = {"Z": 18, "D_we": "20 mm", "L_we": "30 mm", "D_pw": "160 mm"}


@dataclass(frozen=True)
class DynamicRating:
    """The dynamic load rating and the factors that lead to it."""

    gamma: Annotated[float, Quantity(Kind.NUMBER, "size ratio")]
    f_c: Annotated[float, Quantity(Kind.NUMBER, "geometry factor")]
    C_r: Annotated[float, Quantity(Kind.FORCE, "basic dynamic radial load rating")]


def dynamic_rating(given: Rollers) -> DynamicRating:
    """Basic dynamic radial load rating of a radial roller bearing from its rollers.

    ISO 281:2007, 7.1; the size ratio lies within 0.01 to 0.30, else no value.
    """
    ratio = iso281_2007.gamma(given.D_we, given.alpha, given.D_pw)
    f_c = iso281_2007.f_c(ratio)
    C_r = iso281_2007.basic_dynamic_radial_load_rating(
        iso281_2007.b_m(given.kind), f_c, given.i, given.L_we, given.alpha, given.Z, given.D_we
    )
    return DynamicRating(float(ratio), float(f_c), float(C_r))


@dataclass(frozen=True)
class LifeCase:
    """A bearing under a steady load."""

    C_r: Annotated[float, Quantity(Kind.FORCE, "basic dynamic radial load rating", limits=(1, 1e9))]
    P_r: Annotated[float, Quantity(Kind.FORCE, "dynamic equivalent radial load", limits=(0, 1e9))]
    n: Annotated[float | None, Quantity(Kind.SPEED, "speed", limits=(0, 1e6))] = None
    p: Annotated[float, Quantity(Kind.NUMBER, "life exponent: 10/3 rollers, 3 balls", limits=(1, 10))] = (
        10 / 3
    )

    EXAMPLE: ClassVar[dict[str, Any]] = {"C_r": "200 kN", "P_r": "20 kN", "n": "990 r/min"}


@dataclass(frozen=True)
class RatingLife:
    """The basic rating life."""

    C_over_P: Annotated[float, Quantity(Kind.NUMBER, "rating over load")]
    L_10: Annotated[float, Measured(Kind.NUMBER, "basic rating life", unit="10^6 revolutions")]
    L_10h: Annotated[float | None, Quantity(Kind.DURATION, "basic rating life")]
    outside: Annotated[tuple[str, ...], Note("limits of the method that are passed")]


def rating_life(given: LifeCase) -> RatingLife:
    """Basic rating life, which 90 % of like bearings reach.

    ISO 281:2007, 7.3; the load is at most half the rating.
    """
    life = iso281_2007.basic_rating_life(given.C_r, given.P_r, given.p)
    hours = None if given.n is None else float(iso281_2007.life_in_hours(life, given.n))
    with np.errstate(divide="ignore"):
        ratio = float(np.divide(given.C_r, given.P_r))
    return RatingLife(ratio, float(life), hours, _load_range(given.P_r, given.C_r))


def _load_range(load: float, rating: float) -> tuple[str, ...]:
    limit = iso281_2007.LOAD_RANGE
    if limit.holds(load / rating):
        return ()
    return (f"P/C is {load / rating:.3g}, over {limit.high:g} ({limit.source}): ask the supplier",)


@dataclass(frozen=True)
class DutyStep:
    """One condition of a duty."""

    P: Annotated[float, Quantity(Kind.FORCE, "dynamic equivalent load", limits=(0, 1e9))]
    n: Annotated[float, Quantity(Kind.SPEED, "speed", limits=(0, 1e6))]
    share: Annotated[float, Quantity(Kind.FRACTION, "share of the time")]


@dataclass(frozen=True)
class Duty:
    """Conditions, and what life they are compared by."""

    conditions: Annotated[tuple[DutyStep, ...], Note("conditions of the duty")]
    p: Annotated[float, Quantity(Kind.NUMBER, "life exponent: 10/3 rollers, 3 balls", limits=(1, 10))] = (
        10 / 3
    )

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "conditions": [
            {"P": "12 kN", "n": "1480 r/min", "share": "70 %"},
            {"P": "18 kN", "n": "990 r/min", "share": "30 %"},
        ]
    }


@dataclass(frozen=True)
class MeanLoad:
    """The steady load that stands for a duty."""

    P: Annotated[float, Quantity(Kind.FORCE, "mean load")]
    n: Annotated[float, Quantity(Kind.SPEED, "mean speed")]


def mean_load(given: Duty) -> MeanLoad:
    """Steady load and speed that give the same basic rating life as a duty.

    ISO 281:2007, 7.3 with the linear damage rule; no value for a duty without a turn.
    """
    loads, speeds, shares = np.array([(c.P, c.n, c.share) for c in given.conditions]).reshape(-1, 3).T
    load = iso281_2007.mean_load(loads, speeds, shares, given.p)
    return MeanLoad(float(load), float(speeds @ shares / shares.sum()) if shares.any() else float("nan"))


@dataclass(frozen=True)
class LivedStep:
    """One condition of a duty with the life that it alone would give."""

    L: Annotated[
        float, Measured(Kind.NUMBER, "life under this condition", limits=(0, 1e15), unit="10^6 revolutions")
    ]
    n: Annotated[float, Quantity(Kind.SPEED, "speed", limits=(0, 1e6))]
    share: Annotated[float, Quantity(Kind.FRACTION, "share of the time")]


@dataclass(frozen=True)
class LivedDuty:
    """Conditions with their lives."""

    conditions: Annotated[tuple[LivedStep, ...], Note("conditions of the duty")]

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "conditions": [
            {"L": 9000, "n": "1480 r/min", "share": "70 %"},
            {"L": 2200, "n": "990 r/min", "share": "30 %"},
        ]
    }


@dataclass(frozen=True)
class DutyLife:
    """The life over a duty."""

    L: Annotated[float, Measured(Kind.NUMBER, "life over the duty", unit="10^6 revolutions")]


def life_over_duty(given: LivedDuty) -> DutyLife:
    """Life over a duty from the lives that its conditions alone would give.

    Linear damage rule; no value for a duty without a turn.
    """
    lives, speeds, shares = np.array([(c.L, c.n, c.share) for c in given.conditions]).reshape(-1, 3).T
    return DutyLife(float(iso281_2007.life_over_duty(lives, speeds, shares)))


@dataclass(frozen=True)
class LubricatedCase:
    """A roller bearing under a steady load with its lubricant."""

    C_r: Annotated[float, Quantity(Kind.FORCE, "basic dynamic radial load rating", limits=(1, 1e9))]
    C_0r: Annotated[float, Quantity(Kind.FORCE, "basic static radial load rating", limits=(1, 1e9))]
    D_pw: Annotated[float, Quantity(Kind.LENGTH, "pitch diameter of the roller set", limits=(1, 10000))]
    P_r: Annotated[float, Quantity(Kind.FORCE, "dynamic equivalent radial load", limits=(1e-6, 1e9))]
    n: Annotated[float, Quantity(Kind.SPEED, "speed", limits=(0, 1e6))]
    t: Annotated[float, Quantity(Kind.TEMPERATURE, "temperature of the lubricant", limits=(-70, 370))]
    nu_40: Annotated[float, Quantity(Kind.VISCOSITY, "viscosity at 40 °C", limits=(2, 1e5))]
    nu_100: Annotated[float, Quantity(Kind.VISCOSITY, "viscosity at 100 °C", limits=(2, 1e5))]
    level: Annotated[ContaminationLevel, Note("contamination of the lubricant, by Annex A")]
    S: Annotated[float, Quantity(Kind.FRACTION, "reliability")] = 0.90
    proven_ep: Annotated[bool, Note("extreme-pressure additives of proven effect")] = False

    EXAMPLE: ClassVar[dict[str, Any]] = {
        "C_r": "200 kN",
        "C_0r": "280 kN",
        "D_pw": "160 mm",
        "P_r": "20 kN",
        "n": "990 r/min",
        "t": "70 °C",
        "nu_40": "150 mm²/s",
        "nu_100": "15 mm²/s",
        "level": "grease, normal cleanliness",
        "S": "90 %",
    }


@dataclass(frozen=True)
class ModifiedLife:
    """The modified rating life and the factors that lead to it."""

    nu: Annotated[float, Quantity(Kind.VISCOSITY, "viscosity at temperature")]
    nu_1: Annotated[float, Quantity(Kind.VISCOSITY, "reference viscosity")]
    kappa: Annotated[float, Quantity(Kind.NUMBER, "viscosity ratio")]
    e_C: Annotated[float, Quantity(Kind.NUMBER, "contamination factor")]
    C_u: Annotated[float, Quantity(Kind.FORCE, "fatigue load limit")]
    a_ISO: Annotated[float, Quantity(Kind.NUMBER, "life modification factor")]
    a_1: Annotated[float, Quantity(Kind.NUMBER, "reliability factor")]
    L_10: Annotated[float, Measured(Kind.NUMBER, "basic rating life", unit="10^6 revolutions")]
    L_nm: Annotated[float, Measured(Kind.NUMBER, "modified rating life", unit="10^6 revolutions")]
    L_nmh: Annotated[float, Quantity(Kind.DURATION, "modified rating life")]
    outside: Annotated[tuple[str, ...], Note("limits of the method that are passed")]


def modified_life(given: LubricatedCase) -> ModifiedLife:
    """Modified rating life with reliability, lubrication, contamination and fatigue load limit.

    ISO 281:2007, 9; no value for a viscosity ratio below 0.1 or a reliability outside 0.90 to 0.9995.
    """
    nu = astm_d341.viscosity(given.t, given.nu_40, given.nu_100)
    nu_1 = iso281_2007.nu_1(given.n, given.D_pw)
    kappa = iso281_2007.kappa(nu, nu_1)
    e_C = iso281_2007_annex_a.contamination_factor(kappa, given.D_pw, given.level)
    C_u = iso281_2007.fatigue_load_limit(given.C_0r, given.D_pw)
    plain = iso281_2007.a_iso(kappa, e_C, C_u, given.P_r)
    helped = iso281_2007.kappa_with_ep(kappa, e_C, given.proven_ep)
    e_C_helped = iso281_2007_annex_a.contamination_factor(helped, given.D_pw, given.level)
    factor = iso281_2007.a_iso_with_ep(plain, iso281_2007.a_iso(helped, e_C_helped, C_u, given.P_r))
    a_1, L_10 = iso281_2007.a_1(given.S), iso281_2007.basic_rating_life(given.C_r, given.P_r)
    L_nm = iso281_2007.modified_rating_life(a_1, factor, L_10)
    lives = float(L_10), float(L_nm), float(iso281_2007.life_in_hours(L_nm, given.n))
    film = float(nu), float(nu_1), float(kappa), float(e_C)
    factors = float(C_u), float(factor), float(a_1)
    return ModifiedLife(*film, *factors, *lives, _load_range(given.P_r, given.C_r))
