"""Belts and chains: wrap, strand tensions, and the pull on the shaft.

Each of two strands pulls the shaft along its own line. A tension contains the centrifugal part m·v²
unless that is taken off; it stresses the belt and does not load the running shaft, so the pull on a
running shaft is found from the tensions less that part.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.mechanics.bands import Band
from halfbore.mechanics.forces import sum_of
from halfbore.mechanics.given import a_sense, not_negative, one_of, positive, refuse
from halfbore.sources import Source, derived, practice
from halfbore.working import Number, clause

_GEOMETRY = derived("plane geometry of two sheaves and a taut belt")
_GRIP = Source("Khurmi & Gupta, Theory of Machines", "chapter 11", note="belt grip after Euler and Eytelwein")
_STATICS = derived("vector sum of the two strands")

_FACTOR = practice("shaft pull as a multiple of the effective pull", "from memory")

PULL_FACTORS = {
    "V-belt": Band(1.5, 2.5, "", _FACTOR),
    "flat belt": Band(2.5, 4.0, "", _FACTOR),
    "chain": Band(1.0, 1.25, "", _FACTOR),
}
"""Shaft pull over effective pull when only the power is known."""


@clause(_GEOMETRY, "pi + 2*asin((own_diameter - other_diameter)/(2*centre_distance))")
def wrap_open(own_diameter: Number, other_diameter: Number, centre_distance: Number) -> Number:
    """Wrap of an open belt on the own sheave, large or small.

    Derived: plane geometry of two sheaves and a taut belt
    own_diameter, other_diameter: pitch diameters [mm]; centre_distance: between the shafts [mm].
    Returns the wrap [rad]. Raises InputError when the sheaves do not fit at that distance.
    """
    positive(own_diameter=own_diameter, other_diameter=other_diameter, centre_distance=centre_distance)
    difference = (own_diameter - other_diameter) / (2 * centre_distance)
    refuse(
        np.abs(difference) >= 1, "more than half the difference of diameters", centre_distance=centre_distance
    )
    return np.pi + 2 * np.arcsin(difference)


@clause(_GEOMETRY, "pi + 2*asin((own_diameter + other_diameter)/(2*centre_distance))")
def wrap_crossed(own_diameter: Number, other_diameter: Number, centre_distance: Number) -> Number:
    """Wrap of a crossed belt, the same on both sheaves.

    Derived: plane geometry of two sheaves and a taut belt
    own_diameter, other_diameter: pitch diameters [mm]; centre_distance: between the shafts [mm].
    Returns the wrap [rad]. Raises InputError when the sheaves would touch.
    """
    positive(own_diameter=own_diameter, other_diameter=other_diameter, centre_distance=centre_distance)
    total = (own_diameter + other_diameter) / (2 * centre_distance)
    refuse(np.greater_equal(total, 1), "more than half the sum of diameters", centre_distance=centre_distance)
    return np.pi + 2 * np.arcsin(total)


@clause(_GRIP, "exp(friction*wrap)")
def tension_ratio(friction: Number, wrap: Number) -> Number:
    """Largest ratio of the two strand tensions, each less its centrifugal part, before slip.

    Khurmi & Gupta, Theory of Machines, chapter 11
    friction: coefficient of friction, of a V-belt the one from groove_friction; wrap: wrap [rad].
    Returns the ratio tight to slack. Raises InputError unless both are above zero.
    """
    positive(friction=friction, wrap=wrap)
    return np.exp(friction * wrap)


@clause(_GRIP, "friction/sin(half_groove)")
def groove_friction(friction: Number, half_groove: Number) -> Number:
    """Friction coefficient that a V-groove makes of the plain one.

    Khurmi & Gupta, Theory of Machines, chapter 11
    friction: coefficient of friction on a flat; half_groove: half the groove angle [rad].
    Returns the coefficient to use with the wrap. Raises InputError outside 0 to pi/2.
    """
    bad = np.less_equal(half_groove, 0) | np.greater(half_groove, np.pi / 2)
    refuse(bad, "above zero, up to pi/2", half_groove=half_groove)
    return friction / np.sin(half_groove)


@clause(_GRIP, "power/belt_speed")
def effective_pull(power: Number, belt_speed: Number) -> Number:
    """Difference of the strand tensions that carries a power.

    Khurmi & Gupta, Theory of Machines, chapter 11
    power: power [W]; belt_speed: belt speed [m/s], above zero.
    Returns the effective pull [N]. Raises InputError for a belt that stands still.
    """
    positive(belt_speed=belt_speed)
    return power / belt_speed


@clause(_GRIP, "mass_per_metre*belt_speed**2")
def centrifugal_tension(mass_per_metre: Number, belt_speed: Number) -> Number:
    """Tension that turns the belt's own mass round the sheave.

    Khurmi & Gupta, Theory of Machines, chapter 11
    mass_per_metre: mass of the belt [kg/m]; belt_speed: belt speed [m/s].
    Returns the tension in each strand [N].
    """
    return mass_per_metre * belt_speed**2


@clause(_GRIP, "centrifugal + pull*ratio/(ratio - 1)")
def tight_from_pull(pull: Number, ratio: Number, centrifugal: Number = 0.0) -> Number:
    """Tension of the tight strand that just does not slip at an effective pull.

    Khurmi & Gupta, Theory of Machines, chapter 11
    pull: effective pull [N]; ratio: tension ratio, above 1; centrifugal: centrifugal tension [N].
    Returns the tension [N]. Raises InputError for a ratio of 1 or less.
    """
    refuse(np.less_equal(ratio, 1), "above 1", ratio=ratio)
    return centrifugal + pull * ratio / (ratio - 1)


@clause(_GRIP, "centrifugal + pull/(ratio - 1)")
def slack_from_pull(pull: Number, ratio: Number, centrifugal: Number = 0.0) -> Number:
    """Tension of the slack strand that just does not slip at an effective pull.

    Khurmi & Gupta, Theory of Machines, chapter 11
    pull: effective pull [N]; ratio: tension ratio, above 1; centrifugal: centrifugal tension [N].
    Returns the tension [N]. Raises InputError for a ratio of 1 or less.
    """
    refuse(np.less_equal(ratio, 1), "above 1", ratio=ratio)
    return centrifugal + pull / (ratio - 1)


@clause(_GRIP, "centrifugal + (tight - centrifugal)/ratio")
def slack_from_tight(tight: Number, ratio: Number, centrifugal: Number = 0.0) -> Number:
    """Tension of the slack strand at the limit of slip when the tight one is known.

    Khurmi & Gupta, Theory of Machines, chapter 11
    tight: tight strand [N]; ratio: tension ratio; centrifugal: centrifugal tension [N].
    Returns the tension [N]. Raises InputError for a ratio that is not above zero.
    """
    positive(ratio=ratio)
    return centrifugal + (tight - centrifugal) / ratio


@clause(_GRIP, "(tight + slack)/2")
def initial_tension(tight: Number, slack: Number) -> Number:
    """Tension of the belt at rest that gives these two strands, of a belt of constant length.

    Khurmi & Gupta, Theory of Machines, chapter 11
    tight, slack: strand tensions in running [N].
    Returns the initial tension [N].
    """
    return (tight + slack) / 2


@clause(_GRIP, "2*(initial - centrifugal)*(ratio - 1)/(ratio + 1)")
def pull_from_initial(initial: Number, ratio: Number, centrifugal: Number = 0.0) -> Number:
    """Largest effective pull that an initial tension carries without slip.

    Khurmi & Gupta, Theory of Machines, chapter 11
    initial: initial tension [N]; ratio: tension ratio; centrifugal: centrifugal tension [N].
    Returns the effective pull [N]; negative when the belt is thrown off its sheave.
    """
    positive(ratio=ratio)
    return 2 * (initial - centrifugal) * (ratio - 1) / (ratio + 1)


@clause(_GRIP, "sqrt(allowed/(3*mass_per_metre))")
def speed_of_greatest_power(allowed: Number, mass_per_metre: Number) -> Number:
    """Belt speed at which an allowed tension carries the most power.

    Khurmi & Gupta, Theory of Machines, chapter 11
    allowed: allowed tension of the tight strand [N]; mass_per_metre: mass of the belt [kg/m].
    Returns the speed [m/s], where the centrifugal part is a third of the tension.
    """
    positive(allowed=allowed, mass_per_metre=mass_per_metre)
    return np.sqrt(allowed / (3 * mass_per_metre))


@clause(_STATICS, "sqrt(tight**2 + slack**2 - 2*tight*slack*cos(wrap))")
def shaft_pull(tight: Number, slack: Number, wrap: Number) -> Number:
    """Size of the pull of both strands on the shaft.

    Derived: vector sum of the two strands
    tight, slack: strand tensions, less the centrifugal part when running [N]; wrap: wrap [rad].
    Returns the pull [N]; the sum of the tensions at half a turn. Raises InputError for a negative one.
    """
    not_negative(tight=tight, slack=slack)
    square = tight**2 + slack**2 - 2 * tight * slack * np.cos(wrap)
    return np.sqrt(np.maximum(square, 0.0))


@clause(
    _STATICS,
    "(tight*cos(tight_angle) + slack*cos(slack_angle), tight*sin(tight_angle) + slack*sin(slack_angle))",
)
def strand_pull(
    tight: Number, slack: Number, tight_angle: Number, slack_angle: Number
) -> NDArray[np.float64]:
    """Pull on the shaft of two strands of known directions.

    Derived: vector sum of the two strands
    tight, slack: strand tensions, less the centrifugal part when running [N].
    tight_angle, slack_angle: direction in which each strand leaves the sheave, from +y to z [rad].
    Returns (y, z) [N].
    """
    return sum_of((tight, tight_angle), (slack, slack_angle))


@clause(_GEOMETRY, "tight_angle + torque_sense*(pi - wrap)")
def slack_direction(tight_angle: Number, wrap: Number, torque_sense: Number) -> Number:
    """Direction in which the slack strand leaves, from that of the tight one.

    Derived: plane geometry of two sheaves and a taut belt
    tight_angle: direction of the tight strand, from +y to z [rad]; wrap: wrap [rad].
    torque_sense: 1 when the belt turns this shaft from y to z, -1 the other way; a drum or sheave
    that drives the belt feels the opposite of its own rotation.
    Returns the direction of the slack strand [rad].
    """
    a_sense(torque_sense=torque_sense)
    return tight_angle + torque_sense * (np.pi - wrap)


@clause(
    _STATICS,
    "(tight*cos(centre_angle - torque_sense*(pi - wrap)/2) + slack*cos(centre_angle + torque_sense*(pi"
    " - wrap)/2), tight*sin(centre_angle - torque_sense*(pi - wrap)/2) + slack*sin(centre_angle"
    " + torque_sense*(pi - wrap)/2))",
)
def pull_from_centres(
    tight: Number, slack: Number, wrap: Number, centre_angle: Number, torque_sense: Number
) -> NDArray[np.float64]:
    """Pull on the shaft when the direction to the other shaft and the wrap are known.

    Derived: vector sum of the two strands
    tight, slack: strand tensions, less the centrifugal part when running [N]; wrap: wrap [rad].
    centre_angle: direction from this shaft to the other one, from +y to z [rad].
    torque_sense: 1 when the belt turns this shaft from y to z, -1 the other way.
    Returns (y, z) [N]: not along the line of centres unless the wrap is half a turn.
    """
    tight_angle = centre_angle - torque_sense * (np.pi - wrap) / 2
    return strand_pull(tight, slack, tight_angle, slack_direction(tight_angle, wrap, torque_sense))


@clause(_FACTOR, "pull*factor")
def pull_from_power(pull: Number, factor: Number) -> Number:
    """Shaft pull when no more than the effective pull is known.

    Common practice, no source
    pull: effective pull [N]; factor: low or high end of pull_factor.
    Returns the pull on the shaft [N].
    """
    return pull * factor


@clause(_FACTOR)
def pull_factor(kind: str) -> Band:
    """Shaft pull over effective pull for a kind of belt or chain.

    Common practice, no source
    kind: V-belt, flat belt or chain.
    Returns the band. Raises InputError for another kind.
    """
    return one_of(PULL_FACTORS, "kind", kind)
