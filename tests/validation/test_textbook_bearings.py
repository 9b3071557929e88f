"""Textbook examples on bearing life, reliability, mean and combined load.

The books differ from ISO 281 in their reliability models; those stand here with the book's own constants,
on top of the rating life that the library computes.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, log

import pytest
from scipy.optimize import brentq

from halfbore.standards.iso281_2007 import (
    BALL_EXPONENT,
    ROLLER_EXPONENT,
    a_1,
    basic_rating_life,
    dynamic_equivalent_radial_load,
    life_in_hours,
    mean_load,
    modified_rating_life,
)

Compare = Callable[..., None]
READ = "read"
ROUNDED = "the book rounds its steps"
SHIGLEY_8 = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 8th ed., solutions, problem"
SHIGLEY_9 = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th/10th ed., solutions, problem"
JINDAL = "Jindal, Machine Design, example"


def rating_for(
    life: float, load: float, p: float, reached: Callable[[float], float] = lambda L_10: L_10
) -> float:
    """Return the load rating at which the life that a model makes of the rating life is the one wanted."""
    return float(brentq(lambda C: reached(float(basic_rating_life(C, load, p))) - life, load / 2, 200 * load))


def revolutions(hours: float, n: float) -> float:
    """Return the life [10^6 revolutions] whose hours are those wanted."""
    return float(brentq(lambda L: float(life_in_hours(L, n)) - hours, 1e-3, 1e6))


def book_survival(life: float, L_10: float) -> float:
    """Return Shigley's reliability: three parameters, x_0 = 0.02, θ - x_0 = 4.439, b = 1.483."""
    return exp(-(((life / L_10 - 0.02) / 4.439) ** 1.483))


def book_life(L_10: float, reliability: float) -> float:
    """Return the life that Shigley's reliability model gives."""
    return L_10 * (0.02 + 4.439 * log(1 / reliability) ** (1 / 1.483))


@pytest.mark.parametrize(
    ("hours", "n", "printed", "source"),
    [
        (30_000, 300, 540, f"{SHIGLEY_8} 11-1"),
        (25_000, 350, 525, f"{SHIGLEY_9} 11-1"),
        (8_000, 950, 456, f"{SHIGLEY_9} 11-6"),
        (15_000, 1500, 1350, "Faires, Design of Machine Elements, problem 601"),
    ],
)
def test_life_in_revolutions(compare: Compare, hours: float, n: float, printed: float, source: str) -> None:
    compare(
        f"{hours} h at {n} r/min, 10^6 revolutions",
        revolutions(hours, n),
        printed,
        rtol=1e-9,
        source=source,
        status=READ,
    )


@pytest.mark.parametrize(
    ("load", "life", "p", "printed", "rtol", "source", "status"),
    [
        (10.279, 1440, ROLLER_EXPONENT, 91.1, 1e-3, f"{SHIGLEY_8} 11-3", READ),
        (13.92, 1248, ROLLER_EXPONENT, 118, 3e-3, f"{SHIGLEY_9} 11-3", READ),
        (10.6, 270, BALL_EXPONENT, 68.51, 1e-3, f"{SHIGLEY_8} 11-6", READ),
        (2770, 1350, BALL_EXPONENT, 30_614, 2e-3, "Faires, Design of Machine Elements, problem 601", READ),
        (400, 517.5, BALL_EXPONENT, 3211, 1e-3, "Shigley, example 11-1", "from memory"),
    ],
)
def test_rating_that_a_life_needs(
    compare: Compare,
    load: float,
    life: float,
    p: float,
    printed: float,
    rtol: float,
    source: str,
    status: str,
) -> None:
    compare(
        f"C for {life:g} 10^6 revolutions under {load:g}",
        rating_for(life, load, p),
        printed,
        rtol=rtol,
        source=source,
        status=status,
        why=ROUNDED,
    )


@pytest.mark.parametrize(
    ("C", "P", "printed", "rtol", "source"),
    [
        (5590, 1450, 57.3, 1e-3, f"{JINDAL} 18-2, V = 1"),
        (5590, 1590, 43.46, 1e-3, f"{JINDAL} 18-2, V = 1.2"),
        (2350, 1675, 2.76, 2e-3, "Mott, Machine Elements in Mechanical Design, problem 14-1"),
        (3150, 2200, 2.94, 2e-3, "Mott, Machine Elements in Mechanical Design, problem 14-3a"),
        (29_900, 2770, 1258, 1e-3, "Faires, Design of Machine Elements, problem 601"),
    ],
)
def test_rating_life_of_ball_bearings(
    compare: Compare, C: float, P: float, printed: float, rtol: float, source: str
) -> None:
    compare(
        f"L_10 of C = {C} under P = {P}",
        basic_rating_life(C, P, BALL_EXPONENT),
        printed,
        rtol=rtol,
        source=source,
        status=READ,
        why=ROUNDED,
    )


def test_rating_life_in_hours(compare: Compare) -> None:
    compare(
        "L_10h of C = 5050 under P = 2400 at 1750 r/min",
        life_in_hours(basic_rating_life(5050, 2400, BALL_EXPONENT), 1750),
        88.73,
        rtol=2e-4,
        source="Wentzell, Machine Design, example 20.1",
        status=READ,
        why=ROUNDED,
    )


@pytest.mark.parametrize(
    ("F_r", "F_a", "X", "Y", "printed", "source"),
    [
        (8, 4, 0.56, 1.53, 10.6, f"{SHIGLEY_8} 11-6"),
        (8, 4, 0.56, 1.661, 11.12, f"{SHIGLEY_8} 11-7"),
        (1250, 625, 0.56, 1.2, 1450, f"{JINDAL} 18-2, V = 1"),
        (1.2 * 1250, 625, 0.56, 1.2, 1590, f"{JINDAL} 18-2, V = 1.2"),
    ],
)
def test_combined_load(
    compare: Compare, F_r: float, F_a: float, X: float, Y: float, printed: float, source: str
) -> None:
    compare(
        f"P of F_r = {F_r:g}, F_a = {F_a:g}, X = {X}, Y = {Y}",
        dynamic_equivalent_radial_load(F_r, F_a, X, Y),
        printed,
        rtol=1e-3,
        source=source,
        status=READ,
        why=ROUNDED,
    )


@pytest.mark.parametrize(
    ("load", "life", "p", "reliability", "printed", "rtol", "source"),
    [
        (2.278, 540, BALL_EXPONENT, 0.90, 18.59, 1e-3, f"{SHIGLEY_8} 11-1"),
        (10.6, 270, BALL_EXPONENT, 0.96, 84.47, 1e-3, f"{SHIGLEY_8} 11-7, first trial"),
        (11.12, 270, BALL_EXPONENT, 0.96, 88.61, 1e-3, f"{SHIGLEY_8} 11-7"),
        (3.0, 525, BALL_EXPONENT, 0.90, 24.3, 3e-3, f"{SHIGLEY_9} 11-1"),
        (20.0, 456, ROLLER_EXPONENT, 0.95, 145, 4e-3, f"{SHIGLEY_9} 11-6"),
    ],
)
def test_rating_that_a_reliability_needs(
    compare: Compare,
    load: float,
    life: float,
    p: float,
    reliability: float,
    printed: float,
    rtol: float,
    source: str,
) -> None:
    compare(
        f"C for {life} 10^6 revolutions under {load} at {reliability:.0%}, the book's Weibull model",
        rating_for(life, load, p, lambda L_10: book_life(L_10, reliability)),
        printed,
        rtol=rtol,
        source=source,
        status=READ,
        why=ROUNDED,
    )


@pytest.mark.parametrize(
    ("C", "load", "life", "p", "printed", "atol", "source"),
    [
        (19.5, 2.278, 540, BALL_EXPONENT, 0.919, 6e-4, f"{SHIGLEY_8} 11-1"),
        (102, 10.28, 1440, ROLLER_EXPONENT, 0.942, 1e-3, f"{SHIGLEY_8} 11-3"),
        (25.5, 3.0, 525, BALL_EXPONENT, 0.920, 6e-4, f"{SHIGLEY_9} 11-1"),
        (123, 13.92, 1248, ROLLER_EXPONENT, 0.917, 1e-3, f"{SHIGLEY_9} 11-3"),
    ],
)
def test_reliability_of_a_chosen_bearing(
    compare: Compare, C: float, load: float, life: float, p: float, printed: float, atol: float, source: str
) -> None:
    compare(
        f"reliability of C = {C} at {life} 10^6 revolutions under {load}, the book's Weibull model",
        book_survival(life, float(basic_rating_life(C, load, p))),
        printed,
        atol=atol,
        source=source,
        status=READ,
        why="three printed digits",
    )


def test_reliability_of_both_bearings_of_a_shaft(compare: Compare) -> None:
    roller = book_survival(1248, float(basic_rating_life(123, 13.92, ROLLER_EXPONENT)))
    compare(
        "reliability of a ball bearing of 0.945 and the roller bearing of problem 11-3 together",
        0.945 * roller,
        0.867,
        atol=1e-3,
        source=f"{SHIGLEY_9} 11-4",
        status=READ,
        why="the book multiplies three printed digits",
    )


def test_reliability_factor_in_place_of_a_weibull_model(compare: Compare) -> None:
    factor = float(a_1(0.95))
    compare(
        "C for 1248 10^6 revolutions under 4514.72 N at 95 %, with a_1 = 0.64",
        rating_for(1248, 4514.72, BALL_EXPONENT, lambda L_10: float(modified_rating_life(factor, 1.0, L_10))),
        56_403.9,
        rtol=1e-6,
        source="a public course notebook on Shigley, problem 11-5",
        status=READ,
    )


def test_two_parameter_reliability_of_jindal(compare: Compare) -> None:
    def life_at_98(L_10: float) -> float:
        return L_10 * (log(1 / 0.98) / log(1 / 0.9)) ** (1 / 1.17)

    compare(
        "C for 6000 h at 1400 r/min under 3500 N at 98 %, Weibull slope 1.17",
        rating_for(revolutions(6000, 1400), 3500, BALL_EXPONENT, life_at_98),
        44_589,
        rtol=1e-4,
        source=f"{JINDAL} 18-7",
        status=READ,
        why=ROUNDED,
    )


def test_two_parameter_survival_of_faires(compare: Compare) -> None:
    L_10 = float(basic_rating_life(29_900, 2770, BALL_EXPONENT))
    compare(
        "survival at 1350 10^6 revolutions of C = 29 900 under 2770 lb, Weibull slope 1.34",
        exp(-log(1 / 0.9) * (1350 / L_10) ** 1.34),
        0.891,
        atol=6e-4,
        source="Faires, Design of Machine Elements, problem 601",
        status=READ,
        why="three printed digits",
    )


def test_rating_of_a_duty_in_three_steps(compare: Compare) -> None:
    speeds, shares = [1440, 1080, 720], [0.25, 0.5, 0.25]
    load = float(mean_load([3000, 4000, 5000], speeds, shares, BALL_EXPONENT))
    turns_per_minute = sum(n * q for n, q in zip(speeds, shares, strict=True))
    compare(
        "C for 10 000 h of 3, 4 and 5 kN at 1440, 1080 and 720 r/min",
        rating_for(revolutions(10_000, turns_per_minute), load, BALL_EXPONENT),
        34_219,
        rtol=1e-4,
        source=f"{JINDAL} 18-9",
        status=READ,
        why=ROUNDED,
    )


def test_mean_load_of_a_duty_in_four_steps(compare: Compare) -> None:
    compare(
        "mean of 873, 795, 966 and 835 lbf over given shares of the turns",
        mean_load([873, 795, 966, 835], [1, 1, 1, 1], [0.077, 0.115, 0.346, 0.462], BALL_EXPONENT),
        884,
        rtol=1e-3,
        source="Shigley, example 11-5 (8th ed.), 11-6 (9th ed.)",
        status="from memory",
        why=ROUNDED,
    )
