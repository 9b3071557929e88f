"""How far a roller bearing gives under load."""

from __future__ import annotations

from halfbore.sources import Source, Status
from halfbore.working import Number, clause

_LINE = Source(
    "ISO/TS 16281:2008",
    "line contact of roller and both raceways",
    Status.PUBLISHED,
    "read in an open library",
)
_SHARE = Source(
    "Harris, Rolling Bearing Analysis",
    "J_r at half the rollers loaded",
    Status.FROM_MEMORY,
    "0.2453, confirmed by integral",
)
ROLLER = 35_948.0
"""Stiffness of a steel roller between both raceways at 1 mm of length [N/mm^(10/9)]."""


@clause(_LINE, "35948*L_we**(8/9)")
def roller_stiffness(L_we: Number) -> Number:
    """Return the stiffness of one roller between both raceways, Q = K·δ^(10/9) [N/mm^(10/9)].

    ISO/TS 16281:2008, line contact
    L_we: effective roller length [mm].
    """
    return ROLLER * L_we ** (8 / 9)


@clause(_SHARE, "(F_r/(0.2453*Z*i*35948*L_we**(8/9)))**(9/10)")
def radial_deflection(F_r: Number, Z: Number, i: Number, L_we: Number) -> Number:
    """Return how far the inner ring moves against the outer under a radial load, beyond the clearance [mm].

    Harris, half the rollers loaded
    F_r: radial load [N]; Z: rollers in a row; i: rows; L_we: effective roller length [mm].
    Rings stay round; housing and seat are taken as stiff.
    """
    return (F_r / (0.2453 * Z * i * roller_stiffness(L_we))) ** 0.9


@clause(_SHARE, "F_r/(F_r/(0.2453*Z*i*35948*L_we**(8/9)))**(9/10)")
def secant_stiffness(F_r: Number, Z: Number, i: Number, L_we: Number) -> Number:
    """Return load over deflection of a bearing at one load [N/mm].

    Harris, half the rollers loaded
    F_r: radial load, above zero [N]; Z, i, L_we: as in radial_deflection.
    """
    return F_r / radial_deflection(F_r, Z, i, L_we)
