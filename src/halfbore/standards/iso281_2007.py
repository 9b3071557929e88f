"""ISO 281:2007, load ratings and rating life of radial roller bearings; Annex A has its own module."""

from __future__ import annotations

from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.sources import Source, Status
from halfbore.standards.validity import CONFIRMED, Range, not_negative, number, positive, ratio
from halfbore.working import Number, clause

ROLLER_EXPONENT = 10 / 3
BALL_EXPONENT = 3.0


def _source(place: str, note: str = "", status: Status = Status.FROM_MEMORY) -> Source:
    return Source("ISO 281:2007", place, status, note)


GAMMA_RANGE = Range(0.01, 0.30, "", _source("Table 7", "the rows of the table"))
RELIABILITY_RANGE = Range(0.90, 0.9995, "", _source("9.2, Table 12", "the rows of the table"))
KAPPA_RANGE = Range(0.1, np.inf, "", _source("9.3", "a viscosity ratio above 4 counts as 4"))
LOAD_RANGE = Range(0.0, 0.5, "", _source("7.2", "above half the rating the supplier is asked"))
RANGES = {
    "gamma": GAMMA_RANGE,
    "reliability": RELIABILITY_RANGE,
    "kappa": KAPPA_RANGE,
    "P/C": LOAD_RANGE,
}


class RollerBearingKind(StrEnum):
    """Kinds of radial roller bearing that the rating tells apart."""

    CYLINDRICAL = "cylindrical"
    TAPERED = "tapered"
    MACHINED_NEEDLE = "machined needle"
    DRAWN_CUP_NEEDLE = "drawn cup needle"
    SPHERICAL = "spherical"


_B_M = {
    RollerBearingKind.CYLINDRICAL: 1.1,
    RollerBearingKind.TAPERED: 1.1,
    RollerBearingKind.MACHINED_NEEDLE: 1.1,
    RollerBearingKind.DRAWN_CUP_NEEDLE: 1.0,
    RollerBearingKind.SPHERICAL: 1.15,
}

_GAMMA = np.arange(1, 31) / 100
# fmt: off
_F_C = np.array([
    52.1, 60.8, 66.5, 70.7, 74.1, 76.9, 79.2, 81.2, 82.8, 84.2,
    85.4, 86.4, 87.1, 87.7, 88.2, 88.5, 88.7, 88.8, 88.8, 88.7,
    88.5, 88.2, 87.9, 87.5, 87.0, 86.4, 85.8, 85.2, 84.5, 83.8,
])
_RELIABILITY = np.array([
    0.90, 0.95, 0.96, 0.97, 0.98, 0.99, 0.992, 0.994, 0.996, 0.998, 0.999, 0.9992, 0.9994, 0.9995,
])
_A_1 = np.array([
    1.0, 0.64, 0.55, 0.47, 0.37, 0.25, 0.22, 0.19, 0.16, 0.12, 0.093, 0.087, 0.080, 0.077,
])
# fmt: on


# Load ratings


@clause(_source("Table 6"))
def b_m(kind: RollerBearingKind) -> float:
    """Return the rating factor for contemporary material and manufacture.

    ISO 281:2007, Table 6 (from memory).
    kind: kind of radial roller bearing.
    Returns b_m [-].
    """
    return _B_M[kind]


@clause(_source("3, symbols"), "D_we*cos(alpha)/D_pw")
def gamma(D_we: Number, alpha: Number, D_pw: Number) -> Number:
    """Return the size ratio of a roller bearing.

    ISO 281:2007, 3 (from memory).
    D_we: roller diameter [mm]; alpha: contact angle [rad]; D_pw: pitch diameter of the roller set [mm].
    Returns γ [-].
    """
    return number(D_we * np.cos(alpha) / D_pw)


@clause(_source("Table 7", f"{CONFIRMED}: the formula of ISO/TR 1281-1 gives all 30 rows"))
def f_c(gamma: Number) -> Number:
    """Return the geometry factor of a radial roller bearing, linear between the rows of the table.

    ISO 281:2007, Table 7 (from memory, confirmed by f_c_formula).
    gamma: size ratio [-].
    Returns f_c [N, mm]; nan outside 0.01 to 0.30.
    """
    return number(np.interp(GAMMA_RANGE.keep(gamma), _GAMMA, _F_C))


@clause(
    Source("ISO/TR 1281-1", "radial roller bearings", Status.FROM_MEMORY, f"{CONFIRMED}: ISO 281, Table 7"),
    "207.9*0.83*gamma**(2/9)*(1 - gamma)**(29/27)/(1 + gamma)**(1/4)"
    "*(1 + (1.04*((1 - gamma)/(1 + gamma))**(143/108))**(9/2))**(-2/9)",
)
def f_c_formula(gamma: Number) -> Number:
    """Return the geometry factor of a radial roller bearing by the formula behind the table.

    ISO/TR 1281-1, λν = 0.83 (from memory, confirmed by all rows of ISO 281:2007, Table 7).
    gamma: size ratio [-].
    Returns f_c [N, mm]; nan outside 0.01 to 0.30.
    """
    g = GAMMA_RANGE.keep(gamma)
    inner_to_outer = 1.04 * ((1 - g) / (1 + g)) ** (143 / 108)
    ring = g ** (2 / 9) * (1 - g) ** (29 / 27) / (1 + g) ** (1 / 4)
    return number(207.9 * 0.83 * ring * (1 + inner_to_outer ** (9 / 2)) ** (-2 / 9))


@clause(_source("7.1"), "b_m*f_c*(i*L_we*cos(alpha))**(7/9)*Z**(3/4)*D_we**(29/27)")
def basic_dynamic_radial_load_rating(
    b_m: Number, f_c: Number, i: Number, L_we: Number, alpha: Number, Z: Number, D_we: Number
) -> Number:
    """Return the basic dynamic radial load rating of a radial roller bearing.

    ISO 281:2007, 7.1 (from memory).
    b_m: rating factor [-]; f_c: geometry factor [N, mm]; i: rows of rollers; L_we: effective roller
    length [mm]; alpha: contact angle [rad]; Z: rollers per row; D_we: roller diameter [mm].
    Returns C_r [N].
    """
    length = (i * L_we * np.cos(alpha)) ** (7 / 9)
    return number(b_m * f_c * length * Z ** (3 / 4) * D_we ** (29 / 27))


# Load and basic rating life


@clause(_source("7.2", "a cylindrical roller bearing takes X = 1, Y = 0"), "X*F_r + Y*F_a")
def dynamic_equivalent_radial_load(
    F_r: Number, F_a: Number = 0.0, X: Number = 1.0, Y: Number = 0.0
) -> Number:
    """Return the dynamic equivalent radial load; for contact angle 0 it is the radial load.

    ISO 281:2007, 7.2 (from memory).
    F_r: radial load [N]; F_a: axial load [N]; X, Y: load factors [-].
    Returns P_r [N].
    """
    return number(X * F_r + Y * F_a)


@clause(_source("7.3", status=Status.PUBLISHED), "(C_r/P_r)**p")
def basic_rating_life(C_r: Number, P_r: Number, p: float = ROLLER_EXPONENT) -> Number:
    """Return the basic rating life, which 90 % of like bearings reach.

    ISO 281:2007, 7.3.
    C_r: basic dynamic radial load rating [N]; P_r: dynamic equivalent radial load [N];
    p: 10/3 for roller bearings, 3 for ball bearings.
    Returns L_10 [10^6 revolutions]; inf without load, nan for a load below 0.
    Range: P_r up to 0.5 C_r (RANGES["P/C"], which the caller asks).
    """
    return number(ratio(C_r, not_negative(P_r)) ** p)


@clause(_source("7.3", status=Status.PUBLISHED), "10**6*L/(60*n)")
def life_in_hours(L: Number, n: Number) -> Number:
    """Return a life in hours.

    ISO 281:2007, 7.3.
    L: life [10^6 revolutions]; n: speed [r/min].
    Returns L_h [h]; inf for a shaft that stands.
    """
    return ratio(1e6 * L, 60 * np.asarray(n))


def _turns(speeds: ArrayLike, shares: ArrayLike, like: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the turns of each condition, shaped so that they stand along axis 0 of `like`."""
    turns: NDArray[np.float64] = np.asarray(speeds, dtype=float) * np.asarray(shares, dtype=float)
    return turns.reshape(turns.shape + (1,) * (like.ndim - turns.ndim))


@clause(
    Source(
        "Budynas & Nisbett, Shigley's Mechanical Engineering Design",
        "ch. 11, variable loading",
        Status.FROM_MEMORY,
        f"{CONFIRMED}: worked examples with p = 3",
    )
)
def mean_load(loads: ArrayLike, speeds: ArrayLike, shares: ArrayLike, p: float = ROLLER_EXPONENT) -> Number:
    """Return the steady load that gives the same basic rating life as a duty.

    Shigley, ch. 11: P = (Σ P_i^p n_i q_i / Σ n_i q_i)^(1/p) (from memory, confirmed by worked examples).
    loads: load of each condition, axis 0 [N]; speeds: its speed [r/min]; shares: its share of the time [-];
    p: life exponent [-].
    Returns P [N]; nan for a duty without a turn or with a load below 0.
    """
    load = np.asarray(loads, dtype=float)
    turns = _turns(speeds, shares, load)
    work = np.sum(turns * not_negative(load) ** p, axis=0)
    return number(ratio(work, np.sum(turns, axis=0)) ** (1 / p))


@clause(Source("Linear damage rule", "Palmgren, Miner", Status.FROM_MEMORY, f"{CONFIRMED}: mean load"))
def life_over_duty(lives: ArrayLike, speeds: ArrayLike, shares: ArrayLike) -> Number:
    """Return the life of a duty from the lives that its conditions alone would give.

    Linear damage rule: 1/L = Σ (n_i q_i / L_i) / Σ n_i q_i (from memory, confirmed by mean_load).
    lives: life of each condition, axis 0 [10^6 revolutions]; speeds: its speed [r/min];
    shares: its share of the time [-]. Conditions without a turn do no damage.
    Returns L [10^6 revolutions]; nan for a duty without a turn.
    """
    life = np.asarray(lives, dtype=float)
    turns = np.broadcast_to(_turns(speeds, shares, life), life.shape)
    damage = np.where(turns > 0, ratio(turns, life), 0.0)
    return ratio(np.sum(turns, axis=0), np.sum(damage, axis=0))


# Reliability


@clause(
    Source("ISO/TR 1281-2", "reliability factor", Status.FROM_MEMORY, f"{CONFIRMED}: ISO 281, Table 12"),
    "0.95*(log(1/S)/log(1/0.9))**(2/3) + 0.05",
)
def a_1_formula(S: Number) -> Number:
    """Return the reliability factor by the three-parameter form behind the table.

    ISO/TR 1281-2 (from memory, confirmed by all rows of ISO 281:2007, Table 12; the form without the
    least life 0.05 belongs to the edition of 1990).
    S: reliability [-].
    Returns a_1 [-]; nan outside 0.90 to 0.9995.
    """
    s = RELIABILITY_RANGE.keep(S)
    return number(0.95 * (np.log(1 / s) / np.log(1 / 0.9)) ** (2 / 3) + 0.05)


@clause(_source("9.2, Table 12", f"{CONFIRMED}: the three-parameter form; 0.64 at 95 % was read"))
def a_1(S: Number) -> Number:
    """Return the life modification factor for reliability.

    ISO 281:2007, Table 12 (from memory, confirmed by a_1_formula), which is followed between the rows.
    S: reliability [-].
    Returns a_1 [-]; nan outside 0.90 to 0.9995.
    """
    rows = np.asarray(a_1_formula(_RELIABILITY))
    return number(np.interp(a_1_formula(S), rows[::-1], _A_1[::-1]))


@clause(
    Source("ISO/TR 1281-2", "reliability factor", Status.FROM_MEMORY, f"{CONFIRMED}: inverse of a_1"),
    "exp(-log(1/0.9)*Max((L/L_10 - 0.05)/0.95, 0)**1.5)",
)
def survival_probability(L: Number, L_10: Number) -> Number:
    """Return the share of like bearings that reach a life.

    ISO/TR 1281-2 (from memory, confirmed as the inverse of a_1_formula).
    L: life; L_10: life at 90 % reliability, basic or modified, in the same unit.
    Returns S [-]; 1 below the least life 0.05 L_10.
    """
    x = np.maximum((ratio(L, L_10) - 0.05) / 0.95, 0.0)
    return number(np.exp(-np.log(1 / 0.9) * x**1.5))


# Lubrication


@clause(
    _source("9.3", "the two branches part by 2.3 % at 1000 r/min"),
    "Piecewise((45000*n**(-0.83)*D_pw**(-0.5), n < 1000), (4500*n**(-0.5)*D_pw**(-0.5), True))",
)
def nu_1(n: Number, D_pw: Number) -> Number:
    """Return the reference kinematic viscosity.

    ISO 281:2007, 9.3 (from memory).
    n: speed [r/min]; D_pw: pitch diameter of the roller set [mm].
    Returns ν_1 [mm²/s]; nan for a shaft that stands.
    """
    speed = positive(n)
    slow = 45000 * speed**-0.83
    fast = 4500 * speed**-0.5
    return number(np.where(np.asarray(n) < 1000, slow, fast) * positive(D_pw) ** -0.5)


@clause(_source("9.3"), "nu/nu_1")
def kappa(nu: Number, nu_1: Number) -> Number:
    """Return the viscosity ratio.

    ISO 281:2007, 9.3 (from memory).
    nu: kinematic viscosity at operating temperature [mm²/s]; nu_1: reference viscosity [mm²/s].
    Returns κ [-].
    """
    return ratio(nu, nu_1)


@clause(_source("9.3"), "Min(kappa, 4)")
def kappa_used(kappa: Number) -> Number:
    """Return the viscosity ratio that a_ISO and e_C are read at.

    ISO 281:2007, 9.3 (from memory).
    kappa: viscosity ratio [-].
    Returns κ [-], 4 at most; nan below 0.1.
    """
    return number(np.minimum(KAPPA_RANGE.keep(kappa), 4.0))


# Modified life


@clause(_source("B.3.3.3"), "C_0r/8.2*Min(1, (100/D_pw)**0.3)")
def fatigue_load_limit(C_0r: Number, D_pw: Number) -> Number:
    """Return the fatigue load limit of a roller bearing by the simple way.

    ISO 281:2007, B.3.3.3 (from memory).
    C_0r: basic static radial load rating [N]; D_pw: pitch diameter of the roller set [mm].
    Returns C_u [N].
    """
    return number(C_0r / 8.2 * np.minimum(1.0, (100 / D_pw) ** 0.3))


_B = (
    "Piecewise((1.5859 - 1.3993/kappa**0.054381, kappa < 0.4),"
    " (1.5859 - 1.2348/kappa**0.19087, kappa < 1),"
    " (1.5859 - 1.2348/Min(kappa, 4)**0.071739, True))"
)
_A_ISO_SOURCE = _source("9.3", "the branches meet at κ = 0.4 within 0.3 % and at κ = 1 exactly")


@clause(_A_ISO_SOURCE, f"Min(50, 0.1*Max(1 - Max({_B}, 0)*(Max(e_C, 0)*C_u/P)**0.4, 0.1)**(-9.185))")
def a_iso(kappa: Number, e_C: Number, C_u: Number, P: Number) -> Number:
    """Return the life modification factor for lubrication, contamination and fatigue load limit.

    ISO 281:2007, 9.3, radial roller bearings (from memory).
    kappa: viscosity ratio [-]; e_C: contamination factor [-]; C_u: fatigue load limit [N];
    P: dynamic equivalent load [N].
    Returns a_ISO [-], 0.1 to 50; nan for κ below 0.1, κ above 4 counts as 4.
    """
    k = kappa_used(kappa)
    b = np.where(k < 0.4, 1.3993 / k**0.054381, 1.2348 / k ** np.where(k < 1, 0.19087, 0.071739))
    # The rounded constants leave the difference a hair below 0 at κ = 0.1; it stands for 0 there.
    bracket = 1 - np.maximum(1.5859 - b, 0.0) * ratio(np.maximum(e_C, 0.0) * C_u, P) ** 0.4
    # Below a bracket of 0.508 the factor is past its limit; 0.1 keeps 0 and less out of the power.
    return number(np.minimum(50.0, 0.1 * np.maximum(bracket, 0.1) ** -9.185))


@clause(_source("9.3, EP additives"))
def kappa_with_ep(kappa: Number, e_C: Number, proven_ep: bool | NDArray[np.bool_]) -> Number:
    """Return the viscosity ratio that may be used with an additive of proven effect.

    ISO 281:2007, 9.3 (from memory).
    kappa: viscosity ratio [-]; e_C: contamination factor at that ratio [-];
    proven_ep: whether extreme-pressure additives of proven effect are in the lubricant.
    Returns 1 where κ < 1, e_C ≥ 0.2 and the additive is proven; else κ. nan for κ below 0.1.
    """
    k = KAPPA_RANGE.keep(kappa)
    helped = np.asarray(proven_ep) & (np.asarray(k) < 1) & (np.asarray(e_C) >= 0.2)
    return number(np.where(helped, 1.0, k))


@clause(
    _source("9.3, EP additives", "the additive never lowers the factor"),
    "Max(a_ISO, Min(a_ISO_with_ep, 3))",
)
def a_iso_with_ep(a_ISO: Number, a_ISO_with_ep: Number) -> Number:
    """Return the life modification factor that counts with an additive of proven effect.

    ISO 281:2007, 9.3 (from memory): what the additive gives is capped at 3.
    a_ISO: factor at the true viscosity ratio [-]; a_ISO_with_ep: factor at kappa_with_ep [-].
    Returns a_ISO [-].
    """
    return number(np.maximum(a_ISO, np.minimum(a_ISO_with_ep, 3.0)))


@clause(_source("9", status=Status.PUBLISHED), "a_1*a_ISO*L_10")
def modified_rating_life(a_1: Number, a_ISO: Number, L_10: Number) -> Number:
    """Return the modified rating life.

    ISO 281:2007, 9.
    a_1: reliability factor [-]; a_ISO: life modification factor [-];
    L_10: basic rating life [10^6 revolutions].
    Returns L_nm [10^6 revolutions].
    """
    return number(a_1 * a_ISO * L_10)
