"""Paddles that work a bed: what the bed pushes back with."""

from __future__ import annotations

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import positive
from halfbore.sources import derived, practice
from halfbore.working import Number, clause

LEVER = Band(0.6, 0.8, "", practice("lever of the bed's push on paddles over their tip radius"))
"""Where the push of the bed acts on a paddle, as a part of the tip radius.

With even pressure from a hub of 0.2 of the tip radius to the tip, the middle: 0.6. With pressure that grows with the
radius from a hub of 0.3 on, 2/3·(1 − 0.3³)/(1 − 0.3²) = 0.71. With blades on arms that reach from 0.6 to the tip: 0.8.
"""


@clause(derived("torque = push times its lever"), "2*torque/(lever*diameter)")
def bed_push(torque: Number, diameter: Number, lever: Number) -> Number:
    """Push of the bed on all paddles that gives their torque.

    Derived: torque = push times its lever
    torque: torque that the paddles take [N·mm]; diameter: over the paddle tips [mm]; lever: part of the
    tip radius at which the push acts, see LEVER.
    Returns the push [N]. Raises InputError unless diameter and lever are above zero.
    """
    positive(diameter=diameter, lever=lever)
    return 2 * torque / (lever * diameter)


@clause(derived("pushes on opposite sides cancel"), "push*one_sided")
def unbalanced_push(push: Number, one_sided: Number) -> Number:
    """Push of the bed that nothing on the other side of the shaft balances.

    Derived: pushes on opposite sides cancel
    push: of the bed on all paddles [N]; one_sided: part of it that is not balanced, 0 for a full trough
    with paddles all round, 1 for one paddle at a time in the bed.
    Returns the resultant radial push on the shaft [N].
    """
    return push * one_sided
