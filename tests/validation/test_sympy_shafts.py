"""Fifteen random statically indeterminate shafts against SymPy's continuum-mechanics beam, in exact fractions.

SymPy solves the uniform shafts by itself. It has no solution for the reactions of a stepped one, so there it
gives shear and moment with unknown reactions, and slope and deflection are integrated here segment by segment.
SymPy takes a couple the other way round, and wants heights times EI, negative for the reactions and positive for
the deflections, which then have a solution only if the reactions are right.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
import sympy as sp
from sympy.physics.continuum_mechanics.beam import Beam as SymPyBeam

from halfbore.numerics.beam import Loads, Support, solve, stepped

Compare = Callable[..., None]
X = sp.Symbol("x")


def shaft(seed: int) -> dict[str, Any]:
    """Return a random shaft in whole mm and N, with three or four supports, some out of line."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(2, 4)) if seed % 2 else 1
    steps = [0, *np.cumsum(rng.integers(5, 13, count) * 100).tolist()]
    length = steps[-1]
    places = np.sort(rng.choice(np.arange(1, length // 50), 6, replace=False) * 50).tolist()
    supports = places[::2] if seed % 3 else [0, *places[1:6:2]]
    line = sorted(rng.choice(np.arange(0, length // 50 + 1), 2, replace=False).tolist())
    return {
        "steps": steps,
        "EI": [int(e) * 10**9 for e in rng.integers(15, 900, count)],
        "supports": supports,
        "heights": [sp.Rational(int(h), 1000) for h in rng.integers(-9, 10, len(supports))],
        "force": (places[3], int(rng.integers(-9000, -100))),
        "end": (length, int(rng.integers(-900, 900))),
        "couple": (places[1], int(rng.integers(-90000, 90000))),
        "line": (line[0] * 50, line[1] * 50, sp.Rational(int(rng.integers(-90, -1)), 10)),
    }


def exact(given: dict[str, Any]) -> tuple[list[Any], Callable[[Any], Any], Callable[[Any], Any]]:
    """Return reactions, deflection and slope by SymPy."""
    beam = SymPyBeam(given["steps"][-1], 1, given["EI"][0] if len(given["EI"]) == 1 else sp.Symbol("I"))
    reactions = list(sp.symbols(f"R:{len(given['supports'])}"))
    for place, reaction in zip(given["supports"], reactions, strict=True):
        beam.apply_load(reaction, place, -1)
    for place, force in (given["force"], given["end"]):
        beam.apply_load(force, place, -1)
    beam.apply_load(-given["couple"][1], given["couple"][0], -2)
    beam.apply_load(given["line"][2], given["line"][0], 0, end=given["line"][1])
    held = list(zip(given["supports"], given["heights"], strict=True))
    if len(given["EI"]) > 1:
        return by_segments(beam, given, reactions, held)
    beam.bc_deflection = [(place, -height * given["EI"][0]) for place, height in held]
    beam.solve_for_reaction_loads(*reactions)
    beam.bc_deflection = [(place, height * given["EI"][0]) for place, height in held]
    y = beam.deflection()
    return (
        [beam.reaction_loads[r] for r in reactions],
        lambda at: y.subs(X, at),
        lambda at: sp.diff(y, X).subs(X, at),
    )


def by_segments(
    beam: SymPyBeam, given: dict[str, Any], reactions: list[Any], held: list[tuple[Any, Any]]
) -> tuple[list[Any], Callable[[Any], Any], Callable[[Any], Any]]:
    """Integrate SymPy's moment twice over segments of unlike stiffness and solve for the reactions."""
    first = -sp.integrate(beam.bending_moment(), X)
    second = sp.integrate(first, X)
    lift, tilt = sp.symbols("lift tilt")

    def state(at: Any) -> tuple[Any, Any]:
        y, slope = lift, tilt
        for (a, b), EI in zip(pairwise(given["steps"]), given["EI"], strict=True):
            end = min(at, b)
            if end <= a:
                break
            bend, sag = first.subs(X, end) - first.subs(X, a), second.subs(X, end) - second.subs(X, a)
            y = y + slope * (end - a) + (sag - first.subs(X, a) * (end - a)) / EI
            slope = slope + bend / EI
        return sp.expand(y), sp.expand(slope)

    beyond = given["steps"][-1] + 1
    balance = [beam.shear_force().subs(X, beyond), beam.bending_moment().subs(X, beyond)]
    fit = [state(place)[0] - height for place, height in held]
    solved = sp.solve(balance + fit, [*reactions, lift, tilt], dict=True)[0]
    return (
        [solved[r] for r in reactions],
        lambda at: state(at)[0].subs(solved),
        lambda at: state(at)[1].subs(solved),
    )


@pytest.mark.parametrize("seed", range(15))
def test_sympy_shaft(compare: Compare, seed: int) -> None:
    given = shaft(seed)
    reactions, y, slope = exact(given)
    look = [given["steps"][-1] // 7, given["force"][0], given["steps"][-1]]
    points = [given[name][0] for name in ("force", "end", "couple")] + list(given["line"][:2])
    beam = stepped(np.diff(given["steps"]), given["EI"], [*points, *given["supports"]])
    line = beam.per_element(given["line"][:2], [float(given["line"][2])])
    force = [[given["force"][1], given["end"][1], 0.0]]
    couple = [[0.0, 0.0, given["couple"][1]]]
    supports = [Support(p, height=float(h)) for p, h in zip(given["supports"], given["heights"], strict=True)]
    solved = solve(beam, Loads(points[:3], force, couple, line), supports)
    kind = "uniform" if len(given["EI"]) == 1 else "stepped"
    of = {"source": "SymPy, continuum-mechanics beam", "status": "computed"}
    total = max(abs(float(r)) for r in reactions)
    for i, reaction in enumerate(reactions):
        compare(
            f"{kind} shaft {seed}: reaction {i + 1} of {len(reactions)} [N]",
            solved.reaction[0, i],
            float(reaction),
            atol=1e-9 * total,
            why="rounding, against the largest reaction",
            **of,
        )
    found = solved.at(look)
    scale = float(np.abs(solved.deflection).max())
    for i, place in enumerate(look):
        compare(
            f"{kind} shaft {seed}: deflection at {place} mm [mm]",
            found.deflection[0, i],
            float(y(place)),
            atol=1e-9 * scale,
            why="rounding, against the largest deflection",
            **of,
        )
        compare(
            f"{kind} shaft {seed}: slope at {place} mm",
            found.slope[0, i],
            float(slope(place)),
            atol=1e-9 * float(np.abs(solved.slope).max()),
            why="rounding, against the largest slope",
            **of,
        )
