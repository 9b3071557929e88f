"""Supports that push one way only: which of them carry, found by an active set for all load cases at once.

A body on r restraints moves rigidly (two coordinates) and bends. With every length and force scaled
by the caller, the displacement at the restraints is

    influence @ force + rigid @ motion        (a bent body plus a rigid one)

and each restraint that is in contact meets its target less compliance × force; all forces together
balance the resultant of the loads. A one-sided restraint is in contact with a force of its own sign,
or stands off by a gap that is not negative.

The search walks through states that nobody forbids: it goes towards the solution of the restraints
now in contact, stops at the first one it would pass through and takes it in, and lets go the one
that pulls hardest where it may only push. The potential energy falls with every step that moves
anything, so the search ends; a cap on the steps ends it in case of ties. A body left on one contact
turns about it until it meets the next.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfbore.errors import HalfboreError, InputError, Problem

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Cases = NDArray[np.intp]

ROUNDING = 1e-12
"""Part of the largest term below which a gap or a pull is taken as zero; 10^4 times the rounding unit."""


@dataclass(frozen=True, eq=False)
class Restraints:
    """What holds the body: r restraints in c load cases, all numbers scaled alike.

    influence: (r, r) displacement by unit forces, symmetric; rigid: (r, 2) displacement by unit motions.
    sense: (r,) 0 holds both ways, +1 pushes up only, −1 pushes down only.
    across: (r,) the number of the restraint on the other side of the same play, its own where there is none.
    compliance, target: (c, r) softness, and displacement wanted less that of the loads.
    touching, gap: (c, r) a state to start from that breaks nothing: contacts, and distances of the others.
    """

    influence: Array
    rigid: Array
    sense: Array
    across: Cases
    compliance: Array
    target: Array
    touching: Flags
    gap: Array


@dataclass(frozen=True, eq=False)
class Settled:
    """Forces (c, r), rigid motion (c, 2) and contacts (c, r) of the state that holds."""

    force: Array
    motion: Array
    touching: Flags


def settle(held: Restraints, resultant: Array, acting: Array) -> Settled:
    """Return the one state in which every contact pushes and nothing is passed through.

    resultant: (c, 2) the loads along the two rigid motions; acting: (c,) the sum of their sizes.
    The contacts at first must hold the body.
    Raises InputError when the body lifts off in some load case, HalfboreError when the search does not end.
    """
    search = _Search(held, resultant, acting)
    todo = np.arange(len(resultant))
    for _ in range(10 + 10 * len(held.sense)):
        arrived = search.go(todo)
        todo = np.concatenate([todo[~arrived], search.let_go(todo[arrived])])
        if todo.size == 0:
            return Settled(search.force, search.motion, search.touching)
    raise HalfboreError(f"the search for the supports that carry did not end in load case {todo.min() + 1}")


class _Search:
    """The state of the search in every load case; each step works on the cases that are not settled yet."""

    def __init__(self, held: Restraints, resultant: Array, acting: Array) -> None:
        self.held, self.resultant, self.acting = held, resultant, acting
        self.touching, self.gap = held.touching.copy(), held.gap.copy()
        self.force, self.motion = np.zeros_like(held.gap), np.zeros_like(resultant)

    def go(self, cases: Cases) -> Flags:
        """Move towards the state that the present contacts hold; return where nothing was in the way."""
        held = self.held
        self.force[cases], self.motion[cases] = self._hold(cases)
        bent, moved = self.force[cases] @ held.influence, self.motion[cases] @ held.rigid.T
        off = held.sense * (bent + moved - held.target[cases])
        step = np.where(self.touching[cases], 0.0, off) - self.gap[cases]
        size = np.abs(held.target[cases]).max(1) + np.abs(bent).max(1) + np.abs(moved).max(1)
        return self._advance(cases, step, 1.0, ROUNDING * size)

    def let_go(self, cases: Cases) -> Cases:
        """Release the contact that pulls hardest in each case; return the cases in which there was one."""
        held, force = self.held, self.force[cases]
        pull = np.where(self.touching[cases] & (held.sense != 0), -held.sense * force, -np.inf)
        size = np.abs(force).max(1) + self.acting[cases]
        wrong = pull.max(1) > ROUNDING * size
        cases, released = cases[wrong], pull.argmax(1)[wrong]
        self.touching[cases, released] = False
        alone = self.touching[cases].sum(1) == 1
        if alone.any():
            self._turn(cases[alone], released[alone])
        return cases

    def _hold(self, cases: Cases) -> tuple[Array, Array]:
        """Return forces and rigid motion with the present contacts held both ways."""
        held, r = self.held, len(self.held.sense)
        on = self.touching[cases]
        matrix = np.zeros((len(cases), r + 2, r + 2))
        soft = held.influence + held.compliance[cases, :, None] * np.eye(r)
        matrix[:, :r, :r] = np.where(on[:, :, None], soft, np.eye(r))
        matrix[:, :r, r:] = np.where(on[:, :, None], held.rigid, 0.0)
        matrix[:, r:, :r] = held.rigid.T
        wanted = np.concatenate([np.where(on, held.target[cases], 0.0), -self.resultant[cases]], axis=1)
        found = np.linalg.solve(matrix, wanted[:, :, None])[:, :, 0]
        return found[:, :r], found[:, r:]

    def _turn(self, cases: Cases, released: Cases) -> None:
        """Turn the body about its only contact, away from the released one, until it meets another."""
        about = self.held.rigid[self.touching[cases].argmax(1)]
        turn = np.stack([-about[:, 1], about[:, 0]], axis=1)
        step = self.held.sense * (turn @ self.held.rigid.T)
        step = step * np.sign(step[np.arange(len(cases)), released])[:, None]
        free = self._advance(cases, step, np.inf, np.full(len(cases), ROUNDING))
        if free.any():
            raise InputError(
                Problem(
                    f"the shaft lifts off its supports in load case {cases[free].min() + 1}",
                    accepted="loads that at least two supports can carry in the direction in which they hold",
                    next_step="add a support or a hold-down, or let a support hold both ways",
                )
            )

    def _advance(self, cases: Cases, step: Array, limit: float, rounding: Array) -> Flags:
        """Take the step, or the part of it up to the first contact; return where nothing was in the way.

        limit: 1 when the step leads to a goal, infinity when it only gives a direction.
        """
        closing = ~self.touching[cases] & (step < -rounding[:, None])
        reach = np.full_like(step, np.inf)
        np.divide(self.gap[cases], -step, out=reach, where=closing)
        first = reach.argmin(1)
        part = reach[np.arange(len(cases)), first]
        stopped: Flags = part < limit
        part = np.where(stopped, part, 1.0)
        self.gap[cases] = np.maximum(self.gap[cases] + part[:, None] * step, 0.0)
        self._meet(cases[stopped], first[stopped])
        return ~stopped

    def _meet(self, cases: Cases, met: Cases) -> None:
        """Take in a contact; a body that meets one side of a play leaves the other by the whole play."""
        left = self.held.across[met]
        play = self.held.gap[cases, left] + self.held.gap[cases, met]
        self.gap[cases, left] = np.where(self.touching[cases, left], play, self.gap[cases, left])
        self.touching[cases, left] = False
        self.touching[cases, met] = True
