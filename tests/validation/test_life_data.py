"""Weibull fits of published lives, complete and censored."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from halfbore.numerics.life_data import fit, weibull_deviation, weibull_life, weibull_mean

LIEBLEIN = "Lieblein and Zelen (1956), J. Res. NBS 57:273, 23 ball bearings"
NIST = "NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3"
MEEKER = "Meeker and Escobar (1998), p. 630, 38 shock absorbers"
ABERNETHY = "Abernethy et al. (1983), AFWAL-TR-83-2079, 1703 bearing cages"


def test_ball_bearings_all_failed(compare: Callable[..., None]) -> None:
    # The seventh life is printed 48.40, 48.48 or 48.80 in secondary copies; 48.40 here.
    lives = [
        17.88, 28.92, 33.0, 41.52, 42.12, 45.6, 48.4, 51.84, 51.96, 54.12, 55.56, 67.8,
        68.64, 68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.4,
    ]  # fmt: skip
    found = fit(lives, np.ones(23, bool))
    printed = "printed to these digits"
    secondary = f"{LIEBLEIN}; fit printed in the surpyval documentation"
    compare("shape", found.shape, 2.102, atol=5e-4, source=secondary, status="read", why=printed)
    compare("scale, 10⁶ rev", found.scale, 81.875, atol=5e-4, source=secondary, status="read", why=printed)
    three = f"{LIEBLEIN}; three public fitting libraries run on it"
    optimiser = "where the optimisers of the libraries stop"
    for what, computed, published in (
        ("shape", found.shape, 2.101847),
        ("scale, 10⁶ rev", found.scale, 81.87456),
        ("log-likelihood", found.log_likelihood, -113.6920),
    ):
        compare(what, computed, published, rtol=1e-6, source=three, status="computed", why=optimiser)


def test_ten_failed_and_ten_suspended(compare: Callable[..., None]) -> None:
    lives = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386, *[500] * 10]
    found = fit(lives, np.arange(20) < 10)
    for what, computed, published, half in (
        ("shape", found.shape, 1.7208, 5e-5),
        ("scale, h", found.scale, 606.528, 5e-4),
        (
            "log-likelihood (the handbook prints it without its minus sign)",
            found.log_likelihood,
            -75.135,
            5e-4,
        ),
        ("mean life, h", weibull_mean(found.shape, found.scale), 540.737, 5e-4),
        ("standard deviation of the life, h", weibull_deviation(found.shape, found.scale), 323.806, 5e-4),
    ):
        compare(
            what, computed, published, atol=half, source=NIST, status="read", why="half of the last digit"
        )
    assert (found.failures, found.suspended) == (10, 10)


def test_shock_absorbers_suspended_at_many_distances(compare: Callable[..., None]) -> None:
    failed = [6700, 9120, 12200, 13150, 14300, 17520, 20100, 20900, 22700, 26510, 27490]
    good = [
        6950, 7820, 8790, 9660, 9820, 11310, 11690, 11850, 11880, 12140, 12870, 13330, 13470, 14040,
        17540, 17890, 18450, 18960, 18980, 19410, 20100, 20150, 20320, 23490, 27410, 27890, 28100,
    ]  # fmt: skip
    found = fit(failed + good, np.arange(38) < 11)
    for what, computed, published, atol, why in (
        ("log of the scale in km", np.log(found.scale), 10.2298631, 2e-7, "where its optimiser stops"),
        ("inverse of the shape", 1.0 / found.shape, 0.3164092, 1e-6, "where its optimiser stops"),
        ("log-likelihood", found.log_likelihood, -123.9954, 5e-5, "half of the last digit"),
    ):
        source = f"{MEEKER}; fit as kept in the tests of the weibulltools package"
        compare(what, computed, published, atol=atol, source=source, status="read", why=why)


def test_six_cages_failed_of_1703(compare: Callable[..., None]) -> None:
    failed = [230, 334, 423, 990, 1009, 1510]
    good = {
        50: 288, 150: 148, 250: 124, 350: 111, 450: 106, 550: 99, 650: 110, 750: 114, 850: 119, 950: 127,
        1050: 123, 1150: 93, 1250: 47, 1350: 41, 1450: 27, 1550: 11, 1650: 6, 1850: 1, 2050: 2,
    }  # fmt: skip
    lives = np.concatenate([failed, np.repeat(list(good), list(good.values()))])
    found = fit(lives, np.arange(len(lives)) < len(failed))
    assert (found.failures, found.suspended) == (6, 1697)
    last = "half of the last digit"
    memory = "from memory, confirmed"
    compare("shape", found.shape, 2.035, atol=5e-4, source=ABERNETHY, status=memory, why=last)
    compare("scale, h", found.scale, 11792, atol=0.5, source=ABERNETHY, status=memory, why=last)
    life = weibull_life(0.1, found.shape, found.scale)
    compare("B10 life, h", life, 3903, atol=0.5, source=ABERNETHY, status="computed", why=last)
