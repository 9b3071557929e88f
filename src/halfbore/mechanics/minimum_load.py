"""Radial load that keeps the rollers turning.

Below it the loaded rollers cannot drag the unloaded ones and the cage along, and the raceways are
smeared. No rule of it is exact: it makes a choice `tight`, and the remedy is a lighter series or less
clearance, never a heavier bearing.
"""

from __future__ import annotations

import numpy as np

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import not_negative, positive
from halfbore.sources import derived, practice
from halfbore.working import Number, clause

_RULE = practice(
    "minimum load of roller bearings as a part of C_r", "a quarter of the rule at a crawl is ours"
)

LEAST_SHARE = Band(0.005, 0.02, "", _RULE)
"""Least load over C_r. At the speed limit the rule of thumb, since that is where drag and slip are worst;
at a crawl a quarter of it, which only keeps the weight of the set moving."""

TRACTION = Band(0.01, 0.04, "", practice("traction coefficient of a roller about to slip", "from memory"))


@clause(_RULE, "capacity/50")
def rule_of_thumb(capacity: Number) -> Number:
    """Minimum radial load by the rule of thumb, whatever the speed.

    Common practice, no source
    capacity: basic dynamic load rating C_r [N].
    Returns 0.02 C_r [N]; far too strict for a slow or lightly loaded shaft.
    """
    positive(capacity=capacity)
    return LEAST_SHARE.high * capacity


@clause(_RULE, "capacity*(1 + 3*Min(speed/speed_limit, 1))/200")
def minimum_load(capacity: Number, speed: Number, speed_limit: Number) -> Number:
    """Minimum radial load that grows with the speed.

    Common practice, no source
    capacity: basic dynamic load rating C_r [N]; speed: rotational speed [r/min].
    speed_limit: speed limit of the bearing [r/min], above zero.
    Returns the load [N]: from 0.005 C_r at a crawl straight up to the rule of thumb, 0.02 C_r, at
    the speed limit and above. A bearing at rest needs none, which the caller decides.
    """
    positive(capacity=capacity, speed_limit=speed_limit)
    not_negative(speed=speed)
    share = np.minimum(speed / speed_limit, 1.0)
    return capacity * (LEAST_SHARE.low + (LEAST_SHARE.high - LEAST_SHARE.low) * share)


@clause(
    derived("traction of the loaded rollers against the drag of the set"),
    "2*drag_moment/(traction*mean_diameter)",
)
def traction_load(drag_moment: Number, mean_diameter: Number, traction: Number) -> Number:
    """Radial load whose traction just overcomes a drag on the roller set.

    Derived: traction of the loaded rollers against the drag of the set
    drag_moment: load-free friction moment about the shaft [N·mm]; mean_diameter: mean of bore and
    outside diameter d_m [mm]; traction: traction coefficient, see TRACTION.
    Returns the load [N], a lower bound: clearance and the cage's weight ask for more.
    """
    positive(mean_diameter=mean_diameter, traction=traction)
    not_negative(drag_moment=drag_moment)
    return 2 * drag_moment / (traction * mean_diameter)
