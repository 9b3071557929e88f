"""Fan rotor: residual unbalance by grade, and the axial thrust of the inlet."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.mechanics.given import not_negative, one_of, positive, refuse
from halfbore.mechanics.power import angular_speed
from halfbore.sources import Source, Status, practice
from halfbore.working import Number, clause

_GRADE = Source(
    "ISO 21940-11:2016", "definition of the balance quality grade", note="read in a secondary text"
)
_ISO14694 = Source("ISO 14694:2003", "balance and vibration categories", Status.FROM_MEMORY)

GRADES: NDArray[np.float64] = np.array([0.4, 1, 2.5, 6.3, 16, 40, 100, 250, 630, 1600, 4000])
"""Balance quality grades G of ISO 21940-11 [mm/s]."""

CATEGORY_GRADES: dict[str, float] = {"BV-1": 16.0, "BV-2": 16.0, "BV-3": 6.3, "BV-4": 2.5, "BV-5": 1.0}
"""Balance quality grade by fan category [mm/s]."""


@clause(_ISO14694)
def category_grade(category: str) -> float:
    """Balance quality grade of a fan category.

    ISO 14694:2003, balance and vibration categories (from memory)
    category: BV-1 to BV-5.
    Returns the grade G [mm/s]. Raises InputError for another category.
    """
    return one_of(CATEGORY_GRADES, "category", category)


@clause(practice("a fan in service is one or two balance grades worse than new", "from memory"))
def grade_in_service(grade: Number, worse: Number = 1) -> Number:
    """Balance grade that service leaves of a new one.

    Common practice, no source
    grade: grade when new [mm/s], up to the next one of the series; worse: grades lost, 1 or 2.
    Returns the grade in service [mm/s]. Raises InputError past the end of the series.
    """
    positive(grade=grade)
    place = np.searchsorted(GRADES, grade) + np.asarray(worse, np.intp)
    refuse((place < 0) | (place >= GRADES.size), "a grade whose worse one is in the series", grade=grade)
    return GRADES[place]


@clause(_GRADE, "30*grade/(pi*speed)")
def eccentricity(grade: Number, speed: Number) -> Number:
    """Permissible displacement of the centre of mass.

    ISO 21940-11:2016, definition of the balance quality grade
    grade: balance grade G [mm/s]; speed: highest service speed [r/min], above zero.
    Returns the eccentricity e_per [mm]. Raises InputError for a rotor that stands still.
    """
    positive(speed=speed)
    return grade / angular_speed(speed)


@clause(_GRADE, "30000*mass*grade/(pi*speed)")
def unbalance(mass: Number, grade: Number, speed: Number) -> Number:
    """Permissible residual unbalance.

    ISO 21940-11:2016, definition of the balance quality grade
    mass: rotor [kg]; grade: balance grade G [mm/s]; speed: highest service speed [r/min].
    Returns the unbalance U_per [g·mm].
    """
    return 1000 * mass * eccentricity(grade, speed)


@clause(_GRADE, "mass*grade/1000*pi*speed/30")
def unbalance_force(mass: Number, grade: Number, speed: Number) -> Number:
    """Rotating force of a rotor whose residual unbalance just meets a grade at this speed.

    ISO 21940-11:2016, definition of the balance quality grade
    mass: rotor [kg]; grade: balance grade G [mm/s]; speed: rotational speed [r/min].
    Returns the force that turns with the shaft [N]; it holds when the grade was set at this speed.
    """
    not_negative(mass=mass, grade=grade, speed=speed)
    return mass * grade / 1000 * angular_speed(speed)


@clause(_GRADE, "mass*eccentricity/1000*(pi*speed/30)**2")
def eccentric_force(mass: Number, eccentricity: Number, speed: Number) -> Number:
    """Rotating force of a rotor of known eccentricity, at any speed.

    ISO 21940-11:2016, definition of the balance quality grade
    mass: rotor [kg]; eccentricity: centre of mass from the axis [mm]; speed: rotational speed [r/min].
    Returns the force that turns with the shaft [N].
    """
    return mass * eccentricity / 1000 * angular_speed(speed) ** 2


@clause(
    practice("axial thrust of a fan = static pressure rise times inlet area", "from memory"),
    "pressure_rise*pi*inlet_diameter**2/4",
)
def inlet_thrust(pressure_rise: Number, inlet_diameter: Number) -> Number:
    """Axial thrust of a single-inlet wheel, towards its inlet.

    Common practice, no source
    pressure_rise: static pressure rise [MPa]; inlet_diameter: diameter of the eye [mm].
    Returns the thrust [N]; that of a double-inlet wheel nets to about nothing.
    """
    return pressure_rise * np.pi * inlet_diameter**2 / 4
