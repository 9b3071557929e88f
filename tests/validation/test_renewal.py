"""The renewal function of Weibull lives, and its simulation, against an independent power series."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from halfbore.numerics.life_data import weibull_mean
from halfbore.numerics.renewal import renewal_function, renewals, survival

SERIES = "renewal function of a Weibull life by a 60-digit power series of the Smith and Leadbetter type"
RECURSION = "the recursion agrees with the series to seven digits"
SHAPES = (1.5, 2.0, 2.5, 3.0)
BY_SCALE = {
    0.1: (0.03141916, 0.00996678, 0.00315820, 0.00099955),
    0.5: (0.33026984, 0.23079389, 0.16477133, 0.11826267),
    1.0: (0.84157814, 0.75369128, 0.70250713, 0.67232910),
    1.5: (1.39091515, 1.32949054, 1.28880378, 1.25523513),
    2.0: (1.94550080, 1.89403935, 1.84390756, 1.80107526),
    2.5: (2.49978569, 2.45741367, 2.40944413, 2.36770314),
    3.0: (3.05371394, 3.02174501, 2.97278567, 2.92477492),
}
BY_MEAN = {
    0.25: (0.10492461, 0.04829717, 0.02295566, 0.01107065),
    0.5: (0.28588866, 0.18429770, 0.12438265, 0.08555103),
    1.0: (0.73716467, 0.62406990, 0.56500589, 0.53104621),
    1.5: (1.22948277, 1.13415914, 1.09806472, 1.08503466),
    2.0: (1.72972137, 1.63789859, 1.59217763, 1.55948174),
    3.0: (2.73050254, 2.63649236, 2.59198251, 2.56650233),
}


@pytest.mark.parametrize("column", range(4), ids=[f"shape {shape:g}" for shape in SHAPES])
@pytest.mark.parametrize("unit", ["scale", "mean"])
def test_expected_renewals(compare: Callable[..., None], column: int, unit: str) -> None:
    shape = SHAPES[column]
    scale = 1.0 if unit == "scale" else 1.0 / float(weibull_mean(shape, 1.0))
    expected = renewal_function(lambda t: survival(t, shape, scale), 3.0)
    for time, row in (BY_SCALE if unit == "scale" else BY_MEAN).items():
        compare(
            f"renewals by {time:g} times the {unit}, shape {shape:g}",
            expected[round(time / 3.0 * 1200)],
            row[column],
            rtol=2e-6,
            atol=2e-8,
            source=SERIES,
            status="computed",
            why=RECURSION,
        )


@pytest.mark.parametrize("column", range(4), ids=[f"shape {shape:g}" for shape in SHAPES])
def test_simulation(compare: Callable[..., None], column: int) -> None:
    draws = 50_000
    count = np.isfinite(renewals(np.random.default_rng(8), 3.0, SHAPES[column], 1.0, draws).times).sum(axis=1)
    compare(
        f"mean of {draws} simulated renewals by 3 times the scale, shape {SHAPES[column]:g}",
        count.mean(),
        BY_SCALE[3.0][column],
        atol=4.0 * count.std() / draws**0.5,
        source=SERIES,
        status="computed",
        why="four standard errors of the draws",
    )
