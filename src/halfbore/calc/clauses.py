"""The steps of a working as a reader wants them: with units, once each, without the inside of look-ups."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from inspect import unwrap
from typing import Any

import numpy as np

from halfbore.calc.described import clause_units
from halfbore.working import Step

OWN_UNITS = {
    "mean_speed": ("r/min", {"speeds": "r/min"}),
    "turns_an_hour": ("", {"n": "r/min"}),
    "life_at_the_reliability": ("h", {"L_h": "h"}),
}
"""Units of what comes out of and goes into steps that no clause function stands for."""


@dataclass(frozen=True)
class Legible:
    """A step with the symbol and the unit of its result, and the unit of each number that went in."""

    step: Step
    symbol: str
    unit: str
    units: dict[str, str]


def legible(steps: Sequence[Step]) -> tuple[Legible, ...]:
    """Return the steps once each, without those that a look-up took inside, with their units."""
    kept = [s for i, s in enumerate(steps) if not _inside(s, steps[i + 1 :])]
    by_text = {repr((s.name, s.given, s.result)): s for s in kept}
    return tuple(_with_units(s) for s in by_text.values())


def _inside(step: Step, later: Sequence[Step]) -> bool:
    """Whether a step belongs to the next look-up with all between them, so that the look-up alone is told."""
    end = next((i for i, other in enumerate(later) if not other.formula), len(later))
    if end == len(later):
        return False
    called = _called(later[end])
    return all(one.name in called for one in (step, *later[:end]))


def _called(step: Step) -> tuple[str, ...]:
    found = _function(step)
    return found.__code__.co_names if found is not None else ()


def _function(step: Step) -> Any:
    """Return the function that a step is of; None for one that no module holds."""
    return _functions(len(sys.modules)).get((step.name, step.source, step.formula))


@cache
def _functions(_loaded: int) -> dict[tuple[str, object, str], Callable[..., Any]]:
    """Return every clause function of the modules that are loaded; their number tells when there are more."""
    return {
        (name, value.source, value.formula): unwrap(value)
        for module in [m for n, m in sys.modules.items() if n.startswith("halfbore.")]
        for name, value in list(vars(module).items())
        if hasattr(value, "formula") and hasattr(value, "names")
    }


def _with_units(step: Step) -> Legible:
    function = _function(step)
    if function is None:
        return Legible(step, "", *OWN_UNITS.get(step.name, ("", {})))
    symbol, unit, units = clause_units(function)
    return Legible(
        step, symbol, unit if np.isscalar(step.result) or hasattr(step.result, "shape") else "", units
    )
