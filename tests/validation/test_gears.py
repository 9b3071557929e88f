"""Gear examples of a machine-design book, read in a notebook copy and worked again."""

from __future__ import annotations

from collections.abc import Callable
from math import radians

from halfbore.mechanics import gear
from halfbore.mechanics.power import surface_speed, torque

HORSEPOWER = 745.69987158227
POUND = 4.4482216152605
WHY = "the book takes 63000 for 63025 lbf·in·r/min, or 33000 ft·lbf/min with v rounded"


def test_spur_gear(compare: Callable[..., None]) -> None:
    given = {"source": "Wentzell, Machine Design, Example 12.1", "status": "read", "rtol": 5e-4, "why": WHY}
    tangential = gear.tangential_force(torque(5 * HORSEPOWER, 1725.0), 20 / 8 * 25.4)
    compare("spur, F_t in lbf", tangential / POUND, 146.09, **given)
    compare("spur, F_r in lbf", gear.spur_radial(tangential, radians(20)) / POUND, 53.17, **given)
    compare("spur, whole force in lbf", gear.spur_resultant(tangential, radians(20)) / POUND, 155.46, **given)


def test_helical_gear(compare: Callable[..., None]) -> None:
    given = {"source": "Wentzell, Machine Design, Example 13.1", "status": "read", "rtol": 5e-4, "why": WHY}
    diameter = 24 / 12 * 25.4
    tangential = gear.tangential_force(torque(5 * HORSEPOWER, 1750.0), diameter)
    speed = surface_speed(diameter, 1750.0) / 0.3048 * 60
    compare("helical, speed in ft/min", speed, 916.3, **given)
    compare("helical, F_t in lbf", tangential / POUND, 180.07, **given)
    compare("helical, F_a in lbf", gear.helical_axial(tangential, radians(15)) / POUND, 48.25, **given)
    radial = gear.helical_radial(tangential, radians(20), radians(15))
    compare("helical, F_r in lbf", radial / POUND, 67.85, **given)
