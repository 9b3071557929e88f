"""Lifting the shaft: what side entry needs, and the sign of a new centre height."""

from __future__ import annotations

import numpy as np

from halfbore.mechanics.given import not_negative
from halfbore.sources import derived
from halfbore.working import Number, clause

_ENTRY = derived("a base that comes in sideways clears the studs, and its lip clears the shaft")
_HEIGHT = derived("the shaft stays where it is")


@clause(_ENTRY, "Max(stick_out + lip + clearance + rise - drop, 0)")
def lift_needed(
    stick_out: Number, lip: Number, clearance: Number, rise: Number = 0.0, drop: Number = 0.0
) -> Number:
    """Return the lift of the shaft from where it is now that side entry needs [mm].

    a base that comes in sideways clears the studs, and its lip clears the shaft
    stick_out: of the studs above the base; zero for bolts that come out [mm].
    lip: depth of the cradle's lip under the shaft [mm]. clearance: to work with [mm].
    rise: by which the whole line goes up for good, see height_to_remove [mm].
    drop: by which a lower unit stands below its place until its packing goes in last, see packing_thickness [mm].
    """
    not_negative(stick_out=stick_out, lip=lip, clearance=clearance)
    return np.maximum(stick_out + lip + clearance + rise - drop, 0.0)


@clause(_ENTRY, "allowed - needed")
def lift_margin(allowed: Number, needed: Number) -> Number:
    """Return the lift that is left over; below zero, the unit does not go in that way [mm].

    a base that comes in sideways clears the studs, and its lip clears the shaft
    allowed: by coupling, wheel gap, seals and the other bearings [mm]. needed: see lift_needed [mm].
    """
    return allowed - needed


@clause(_HEIGHT, "Max(old_height - new_height, 0)")
def packing_thickness(old_height: Number, new_height: Number) -> Number:
    """Return the packing under a unit whose centre is lower than the old one's [mm].

    the shaft stays where it is
    old_height, new_height: of the shaft centre above the base [mm].
    """
    return np.maximum(old_height - new_height, 0.0)


@clause(_HEIGHT, "Max(new_height - old_height, 0)")
def height_to_remove(old_height: Number, new_height: Number) -> Number:
    """Return by how much the base is milled down, or else the whole line raised, for a higher unit [mm].

    the shaft stays where it is
    old_height, new_height: of the shaft centre above the base [mm].
    """
    return np.maximum(new_height - old_height, 0.0)
