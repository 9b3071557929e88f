"""A round shaft section, solid or hollow: stiffness, mass and nominal stress."""

from __future__ import annotations

import numpy as np

from halfbore.mechanics.given import a_ring
from halfbore.sources import derived
from halfbore.working import Number, clause

_ROUND = derived("properties of a circular ring section")
_STRESS = derived("elementary bending and torsion of a round shaft, without notch factor")


@clause(_ROUND, "pi*(diameter**2 - bore**2)/4")
def area(diameter: Number, bore: Number = 0.0) -> Number:
    """Area of the section.

    Derived: properties of a circular ring section
    diameter, bore: outside and inside diameter [mm].
    Returns the area [mm²]. Raises InputError for a bore that is not inside the diameter.
    """
    a_ring(diameter, bore)
    return np.pi * (diameter**2 - bore**2) / 4


@clause(_ROUND, "pi*(diameter**4 - bore**4)/64")
def second_moment(diameter: Number, bore: Number = 0.0) -> Number:
    """Second moment of area about a diameter.

    Derived: properties of a circular ring section
    diameter, bore: outside and inside diameter [mm].
    Returns the second moment [mm⁴]. Raises InputError for a bore that is not inside the diameter.
    """
    a_ring(diameter, bore)
    return np.pi * (diameter**4 - bore**4) / 64


@clause(_ROUND, "pi*(diameter**4 - bore**4)/(32*diameter)")
def section_modulus(diameter: Number, bore: Number = 0.0) -> Number:
    """Section modulus in bending; in torsion it is twice as large.

    Derived: properties of a circular ring section
    diameter, bore: outside and inside diameter [mm].
    Returns the modulus [mm³]. Raises InputError for a bore that is not inside the diameter.
    """
    return 2 * second_moment(diameter, bore) / diameter


@clause(_ROUND, "density*pi*(diameter**2 - bore**2)/4/1000000000")
def mass_per_length(diameter: Number, bore: Number = 0.0, density: Number = 7850.0) -> Number:
    """Mass of each millimetre of shaft.

    Derived: properties of a circular ring section
    diameter, bore: outside and inside diameter [mm]; density: [kg/m³].
    Returns the mass [kg/mm].
    """
    return density * area(diameter, bore) / 1e9


@clause(_STRESS, "32*moment*diameter/(pi*(diameter**4 - bore**4))")
def bending_stress(moment: Number, diameter: Number, bore: Number = 0.0) -> Number:
    """Nominal bending stress at the surface.

    Derived: elementary bending of a round shaft, without notch factor
    moment: bending moment [N·mm]; diameter, bore: outside and inside diameter [mm].
    Returns the stress [MPa].
    """
    return moment / section_modulus(diameter, bore)


@clause(_STRESS, "16*torque*diameter/(pi*(diameter**4 - bore**4))")
def torsional_stress(torque: Number, diameter: Number, bore: Number = 0.0) -> Number:
    """Nominal shear stress of torsion at the surface.

    Derived: elementary torsion of a round shaft, without notch factor
    torque: [N·mm]; diameter, bore: outside and inside diameter [mm].
    Returns the stress [MPa].
    """
    return torque / (2 * section_modulus(diameter, bore))


@clause(derived("distortion energy of bending with torsion"), "sqrt(bending**2 + 3*torsion**2)")
def equivalent_stress(bending: Number, torsion: Number) -> Number:
    """Equivalent stress of bending and torsion together.

    Derived: distortion energy of bending with torsion
    bending, torsion: nominal stresses [MPa].
    Returns the stress [MPa].
    """
    stress: Number = np.hypot(bending, np.sqrt(3) * torsion)
    return stress
