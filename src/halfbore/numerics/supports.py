"""Supports of a shaft in one plane, and the ways in which they hold it.

A support holds against deflection, rigidly or as a spring, in both directions or in one, at once or after
a free gap; one that is not self-aligning also holds against the slope.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from halfbore.errors import InputError, Problem
from halfbore.numerics.bending import Beam, Bending
from halfbore.working import Number

Array = NDArray[np.float64]

VARIES = {
    "height": "a number, mm",
    "stiffness": "above zero or infinite, N/mm",
    "gap": "zero or more, mm",
    "tilting_stiffness": "zero, above zero or infinite, N·mm/rad",
    "slope": "a number, rad",
}
"""The numbers of a support that may differ from case to case, and what each may be."""


@dataclass(frozen=True, eq=False)
class Support:
    """A support at a node x (mm); every other number may be one value per load case.

    height: of the shaft in the unloaded support: misalignment as surveyed, or the lift at a jack (mm).
    stiffness: against deflection, infinite for rigid (N/mm). holds: both ways, or pushes up or down only.
    gap: total free play; the shaft moves ± gap/2 about the height before it is held (mm).
    tilting_stiffness: against the slope of the shaft, zero for a self-aligning support, infinite for a
    clamped one (N·mm/rad); slope: of the shaft in the unloaded support (rad). Tilting is resisted only
    where the support holds both ways without gap.
    """

    x: float
    height: Number = 0.0
    stiffness: Number = np.inf
    holds: Literal["both", "up", "down"] = "both"
    gap: Number = 0.0
    tilting_stiffness: Number = 0.0
    slope: Number = 0.0

    def __post_init__(self) -> None:
        problems = list(_problems(self))
        if problems:
            raise InputError(problems)


@dataclass(frozen=True, eq=False)
class Rows:
    """The r ways in which the supports hold the shaft: against deflection, or against its slope."""

    x: Array
    """(supports,) their places (mm)."""
    owner: Array
    """(r, supports) one where the row belongs to the support."""
    sense: Array
    """(r,) 0 both ways, +1 up only, −1 down only."""
    across: NDArray[np.intp]
    """(r,) the row on the other side of the same play, or its own number."""
    push: Array
    """(r, n) unit forces at the nodes."""
    turn: Array
    """(r, n) couples as large as a unit force has over the length of the shaft."""
    wanted: Array
    """(c, r) height of the surface (mm), or slope times the length of the shaft (mm)."""
    compliance: Array
    """(c, r) mm/N, that of tilting taken over the length of the shaft."""
    touching: NDArray[np.bool_]
    gap: Array
    """(c, r) a state to begin with: rows in contact, and the distance (mm) of the others."""

    def read(self, bent: Bending) -> Array:
        """Return the displacement of each case in the sense of each row (c, r)."""
        return bent.deflection @ self.push.T + bent.slope @ self.turn.T


def rows_of(beam: Beam, supports: Sequence[Support], cases: int) -> Rows:
    """Return every way in which the supports hold the shaft, checked and one number per load case."""
    _refuse_misfit(supports, cases)
    at = beam.node([s.x for s in supports])
    _refuse_mechanism(supports, at)
    ways = [(i, *way) for i, s in enumerate(supports) for way in _ways(s, beam.span)]
    owner, tilts, sense, wanted, compliance, touching, gap = zip(*ways, strict=True)
    tilting = np.array(tilts)[:, None]
    onto = np.equal.outer(at[list(owner)], np.arange(beam.x.size))
    return Rows(
        x=beam.x[at],
        owner=np.equal.outer(np.array(owner), np.arange(at.size)).astype(np.float64),
        sense=np.array(sense, dtype=np.float64),
        across=np.array([_across(row, owner, sense) for row in range(len(ways))]),
        push=np.where(tilting, 0.0, onto),
        turn=np.where(tilting, beam.span * onto, 0.0),
        wanted=_table(wanted, cases),
        compliance=_table(compliance, cases),
        touching=np.tile(np.array(touching), (cases, 1)),
        gap=_table(gap, cases),
    )


def _table(columns: Sequence[Number], cases: int) -> Array:
    """Return the columns, each a number or one value per load case, side by side."""
    table = np.empty((cases, len(columns)))
    for row, column in enumerate(columns):
        table[:, row] = column
    return table


def _ways(s: Support, span: float) -> Iterator[tuple[bool, int, Number, Number, bool, Number]]:
    """Yield each way in which a support holds: tilting, sense, wanted, compliance, touching and gap at first.

    Where both directions are one-sided the search starts with the shaft on its lower surface.
    """
    soft, free = 1.0 / np.asarray(s.stiffness), np.asarray(s.gap)
    if s.holds == "both" and not free.any():
        yield False, 0, s.height, soft, True, 0.0
    else:
        if s.holds != "down":
            yield False, 1, s.height - free / 2, soft, True, 0.0
        if s.holds != "up":
            yield False, -1, s.height + free / 2, soft, s.holds == "down", free if s.holds == "both" else 0.0
    if np.any(s.tilting_stiffness):
        yield True, 0, s.slope * span, span**2 / np.asarray(s.tilting_stiffness), True, 0.0


def _across(row: int, owner: Sequence[int], sense: Sequence[int]) -> int:
    """Return the row of the same support that pushes the other way, or the row itself."""
    return next((k for k in range(len(owner)) if owner[k] == owner[row] and sense[k] * sense[row] < 0), row)


def _problems(s: Support) -> Iterator[Problem]:
    """Yield what is wrong with a support."""
    where = f"support at x = {s.x:g} mm"
    for name, accepted in VARIES.items():
        given = np.asarray(getattr(s, name), dtype=np.float64)
        lowest = -np.inf if name in ("height", "slope") else 0.0
        finite = np.isfinite(given) | (name.endswith("stiffness") & (given == np.inf))
        if not (finite & (given >= lowest)).all() or (name == "stiffness" and not given.all()):
            yield Problem(f"{name} cannot be used", where, f"{given}", accepted)
    if s.holds not in ("both", "up", "down"):
        yield Problem("no such direction", where, str(s.holds), "both, up or down")
    tilts = np.asarray(s.tilting_stiffness)
    if tilts.any() and (s.holds != "both" or np.any(s.gap) or not tilts.all()):
        yield Problem(
            "tilting is resisted by a support that the shaft can leave",
            where,
            accepted="a tilting stiffness, in every case, only where the support holds both ways without gap",
        )


def _refuse_misfit(supports: Sequence[Support], cases: int) -> None:
    """Refuse a column of a support that has neither one value nor one for each load case."""
    for s in supports:
        for name in VARIES:
            shape = np.shape(getattr(s, name))
            if shape not in ((), (1,), (cases,)):
                where, accepted = f"support at x = {s.x:g} mm", f"a number or {cases} values"
                raise InputError(
                    Problem(f"{name} does not fit the load cases", where, f"shape {shape}", accepted)
                )


def _refuse_mechanism(supports: Sequence[Support], at: NDArray[np.intp]) -> None:
    """Refuse supports that share a place or leave the shaft free to move."""
    if len(set(at.tolist())) < len(supports):
        raise InputError(
            Problem("two supports at one place", next_step="join them or correct the place of one")
        )
    if len(supports) < 2 and not any(np.any(s.tilting_stiffness) for s in supports):
        raise InputError(
            Problem(
                "the shaft is free to move",
                value=f"{len(supports)} supports",
                accepted="two supports, or one that resists tilting",
                next_step="add a support",
            )
        )
