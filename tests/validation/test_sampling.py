"""Draws against closed-form moments, and the sensitivity measure on a function with known indices."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from halfbore.numerics.life_data import weibull_deviation, weibull_life, weibull_mean
from halfbore.numerics.network import pert_mean, pert_variance
from halfbore.numerics.sampling import beta_pert, lognormal, streams, triangular, weibull
from halfbore.numerics.sensitivity import first_order_share

DRAWS = 400_000
MEMORY = "from memory, confirmed"
FOUR = "four standard errors of the draws"
RANGE = (2.0, 5.0, 12.0)


def check(
    compare: Callable[..., None],
    law: str,
    draws: np.ndarray,
    mean: float,
    variance: float,
    median: float | None,
) -> None:
    """Compare mean, variance and median of the draws with closed forms, to four standard errors."""
    values, source = draws[:, 0], f"closed-form moments of the {law} distribution"
    spread = values.std() / DRAWS**0.5
    fourth = ((values - values.mean()) ** 2).std() / DRAWS**0.5
    compare(f"{law}: mean", values.mean(), mean, atol=4 * spread, source=source, status=MEMORY, why=FOUR)
    compare(
        f"{law}: variance", values.var(), variance, atol=4 * fourth, source=source, status=MEMORY, why=FOUR
    )
    if median is not None:
        below = np.mean(values < median)
        half = 2.0 / DRAWS**0.5
        compare(
            f"{law}: share below the median", below, 0.5, atol=half, source=source, status=MEMORY, why=FOUR
        )


def test_triangular(compare: Callable[..., None]) -> None:
    draws = triangular(streams(1, ["t"])["t"], *RANGE, DRAWS)
    check(compare, "triangular", draws, 6.333333333333333, 4.388888888888889, 6.083920216900384)


def test_beta_pert(compare: Callable[..., None]) -> None:
    draws = beta_pert(streams(1, ["b"])["b"], *RANGE, DRAWS)
    check(compare, "beta-PERT", draws, 5.666666666666667, 3.317460317460317, None)
    source = "PERT three-estimate formulas"
    mean, variance = pert_mean(*RANGE), pert_variance(RANGE[0], RANGE[2])
    compare("PERT mean", mean, 5.666666666666667, rtol=1e-12, source=source, status=MEMORY)
    compare("classic PERT variance", variance, 2.777777777777778, rtol=1e-12, source=source, status=MEMORY)


def test_lognormal(compare: Callable[..., None]) -> None:
    draws = lognormal(streams(1, ["l"])["l"], np.exp(1.2), 0.35, DRAWS)
    check(compare, "lognormal", draws, 3.529831019608083, 1.6237380561369748, 3.3201169227365472)


def test_weibull(compare: Callable[..., None]) -> None:
    draws = weibull(streams(1, ["w"])["w"], 2.0, 100.0, DRAWS)
    check(compare, "Weibull", draws, 88.62269254527581, 46.325137517610415**2, None)
    source = "closed-form moments of the Weibull distribution"
    for what, computed, published in (
        ("Weibull: mean of shape 2, scale 100", weibull_mean(2.0, 100.0), 88.62269254527581),
        ("Weibull: standard deviation", weibull_deviation(2.0, 100.0), 46.325137517610415),
        ("Weibull: B10 life", weibull_life(0.1, 2.0, 100.0), 32.45928459745012),
    ):
        compare(what, computed, published, rtol=1e-12, source=source, status=MEMORY)


def test_ishigami_function(compare: Callable[..., None]) -> None:
    rng = streams(1, ["i"])["i"]
    x, y, z = (rng.uniform(-np.pi, np.pi, DRAWS) for _ in range(3))
    output = np.sin(x) + 7.0 * np.sin(y) ** 2 + 0.1 * z**4 * np.sin(x)
    share = first_order_share({"1": x, "2": y, "3": z}, output)
    for name, published in (("1", 0.31390519), ("2", 0.44241114), ("3", 0.0)):
        compare(
            f"Ishigami function, a = 7, b = 0.1: first-order index of input {name}",
            share[name],
            published,
            atol=0.005,
            source="Ishigami function, closed-form indices",
            status=MEMORY,
            why="400,000 draws in 74 slices",
        )
