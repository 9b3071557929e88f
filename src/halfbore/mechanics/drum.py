"""A drum that drives a belt: grip by wrap and friction, and what slack tension it needs.

The pull of the two strands on the shaft is that of any belt: belt.strand_pull.
"""

from __future__ import annotations

import numpy as np

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import not_negative, one_of, positive
from halfbore.sources import Source, Status, derived
from halfbore.working import Number, clause

_EYTELWEIN = derived("belt friction after Euler and Eytelwein")
_START = Source("ISO 5048:1989", "drive pulley, limit of slip", Status.FROM_MEMORY)

_TABLE = Source("ISO 5048:1989", "friction of drive pulley and belt", Status.FROM_MEMORY)

FRICTION = {
    "bare steel, dry": Band(0.35, 0.40, "", _TABLE),
    "bare steel, clean wet": Band(0.10, 0.10, "", _TABLE),
    "bare steel, wet dirty": Band(0.05, 0.10, "", _TABLE),
    "grooved rubber, dry": Band(0.40, 0.45, "", _TABLE),
    "grooved rubber, clean wet": Band(0.35, 0.35, "", _TABLE),
    "grooved rubber, wet dirty": Band(0.25, 0.30, "", _TABLE),
    "grooved polyurethane, dry": Band(0.35, 0.40, "", _TABLE),
    "grooved polyurethane, clean wet": Band(0.35, 0.35, "", _TABLE),
    "grooved polyurethane, wet dirty": Band(0.20, 0.20, "", _TABLE),
    "grooved ceramic, dry": Band(0.40, 0.45, "", _TABLE),
    "grooved ceramic, clean wet": Band(0.35, 0.40, "", _TABLE),
    "grooved ceramic, wet dirty": Band(0.35, 0.35, "", _TABLE),
}
"""Friction of a rubber belt on a drum, by surface and state."""


@clause(_TABLE)
def surface_friction(surface: str) -> Band:
    """Friction of a rubber belt on a drum.

    ISO 5048:1989, friction of drive pulley and belt (from memory)
    surface: a key of FRICTION, lagging and state.
    Returns the band. Raises InputError for another surface.
    """
    return one_of(FRICTION, "surface", surface)


@clause(_EYTELWEIN, "1/(exp(friction*wrap) - 1)")
def wrap_factor(friction: Number, wrap: Number) -> Number:
    """Least slack tension for each newton of effective pull.

    Derived: belt friction after Euler and Eytelwein
    friction: coefficient of friction; wrap: wrap [rad].
    Returns the ratio of slack tension to effective pull. Raises InputError unless both are above zero.
    """
    positive(friction=friction, wrap=wrap)
    return 1 / np.expm1(friction * wrap)


@clause(_START, "start_factor*pull/(exp(friction*wrap) - 1)")
def slack_minimum(pull: Number, friction: Number, wrap: Number, start_factor: Number = 1.0) -> Number:
    """Least slack tension at which the drum does not slip.

    ISO 5048:1989, drive pulley, limit of slip (from memory)
    pull: effective pull in running [N]; friction: coefficient of friction; wrap: wrap [rad].
    start_factor: pull in starting over pull in running, 1.3 to 2 (from memory).
    Returns the slack tension [N].
    """
    not_negative(pull=pull, start_factor=start_factor)
    return start_factor * pull * wrap_factor(friction, wrap)


@clause(_EYTELWEIN, "slack + pull")
def tight_from_slack(slack: Number, pull: Number) -> Number:
    """Tension of the strand that runs on to a driving drum.

    Derived: balance of the drum about its shaft
    slack: slack strand [N]; pull: effective pull [N].
    Returns the tight strand [N].
    """
    return slack + pull


@clause(_EYTELWEIN, "slack*exp(friction*wrap)/tight - 1")
def slip_margin(tight: Number, slack: Number, friction: Number, wrap: Number) -> Number:
    """Part by which the tight strand may rise before the drum slips.

    Derived: belt friction after Euler and Eytelwein
    tight, slack: strand tensions [N], tight above zero; friction: coefficient; wrap: wrap [rad].
    Returns the margin: 0.1 is ten per cent, below zero the drum slips, -1 for a slack strand
    without tension.
    """
    positive(tight=tight, friction=friction, wrap=wrap)
    not_negative(slack=slack)
    return slack * np.exp(friction * wrap) / tight - 1


@clause(derived("balance of the take-up and both strands"), "take_up/2")
def take_up_strand(take_up: Number) -> Number:
    """Tension of each strand of a drum that does not drive.

    Derived: balance of the take-up and both strands; without torque both pull alike
    take_up: force of the take-up along the strands, of a drum with half a turn of wrap [N].
    Returns the tension of one strand [N].
    """
    return take_up / 2
