"""Which input moves the result: three measures, all read off draws that are there already."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from halfbore.errors import InputError, Problem

Draws = NDArray[np.float64]
FEWEST_DRAWS = 20


class Swing(NamedTuple):
    """Mean of the output where an input is in its lowest tenth, and where it is in its highest."""

    low: float
    high: float


def swing(inputs: Mapping[str, Draws], output: Draws) -> dict[str, Swing]:
    """Average the output over the draws in the lowest and in the highest tenth of each input.

    inputs: name → (draws,); output: (draws,) in any unit.
    Returns name → both means, in the unit of the output; their distance is the bar of a tornado chart.
    It is a difference between draws, all inputs varying, not a change of one input alone.
    InputError on too few draws, unequal lengths and values that are no numbers.
    """
    _check(inputs, output)
    bars = {}
    for name, values in inputs.items():
        low, high = np.quantile(values, (0.1, 0.9))
        bars[name] = Swing(float(output[values <= low].mean()), float(output[values >= high].mean()))
    return bars


def rank_correlation(inputs: Mapping[str, Draws], output: Draws) -> dict[str, float]:
    """Return Spearman's rank correlation of the output with each input.

    inputs: name → (draws,); output: (draws,).
    Returns name → −1 to 1; 0 where the input or the output is constant. InputError as `swing`.
    """
    from scipy.stats import rankdata  # a second and a half to load

    _check(inputs, output)
    y = rankdata(output) - (len(output) + 1) / 2.0
    links = {}
    for name, values in inputs.items():
        x = rankdata(values) - (len(output) + 1) / 2.0
        size = float(np.sqrt((x @ x) * (y @ y)))
        links[name] = float(x @ y) / size if size > 0.0 else 0.0
    return links


def first_order_share(inputs: Mapping[str, Draws], output: Draws) -> dict[str, float]:
    """Return the share of the output's variance that each input explains alone (first-order Sobol index).

    inputs: name → (draws,), independent of each other; output: (draws,).
    Returns name → 0 to 1, from the variance of the means in slices of equally many draws, less what chance
    alone would give. InputError as `swing`.
    """
    _check(inputs, output)
    draws, total = len(output), float(output.var())
    if total == 0.0:
        return dict.fromkeys(inputs, 0.0)
    slices = round(draws ** (1.0 / 3.0))
    shares = {}
    for name, values in inputs.items():
        edges = np.unique(np.quantile(values, np.linspace(0.0, 1.0, slices + 1)[1:-1]))
        slot = np.searchsorted(edges, values)
        count = np.bincount(slot)
        mean = np.bincount(slot, output) / np.maximum(count, 1)
        explained = float(count @ (mean - output.mean()) ** 2) / draws / total
        chance = (draws - 1) / (draws - np.count_nonzero(count))
        shares[name] = max(0.0, float(1.0 - (1.0 - explained) * chance))
    return shares


def _check(inputs: Mapping[str, Draws], output: Draws) -> None:
    for name, values in {**inputs, "output": output}.items():
        if values.shape != (len(output),) or len(output) < FEWEST_DRAWS:
            accepted = f"(draws,), the same for all, at least {FEWEST_DRAWS}"
            raise InputError(Problem("draws that do not match", name, str(values.shape), accepted))
        if not np.isfinite(values).all():
            raise InputError(Problem("a draw that is not a finite number", name))
