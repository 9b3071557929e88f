"""ISO/TS 16281:2008: a roller cut into laminae, its profile and what each lamina carries."""

from __future__ import annotations

import numpy as np

from halfbore.sources import Source, Status
from halfbore.standards.validity import number
from halfbore.working import Number, clause

LINE_CONTACT = 10.0 / 9.0
LAMINAE = 41
"""Laminae of a roller; the standard asks for 30 at least, an odd number has one in the middle (from memory)."""

_LAMINA = Source(
    "ISO/TS 16281:2008", "lamina load", Status.PUBLISHED, "read in an open library that quotes DIN 26281"
)
_PROFILE = Source("ISO/TS 16281:2008", "profile of a cylindrical roller", Status.FROM_MEMORY)
_LONG = 2.5
"""Length over diameter from which a roller is straight in its middle."""


@clause(_LAMINA, "c_s*Max(delta, 0)**(10/9)")
def lamina_load(delta: Number, c_s: Number) -> Number:
    """Return what one lamina carries between both raceways [N].

    ISO/TS 16281:2008, lamina load
    delta: elastic approach of the raceways there, below zero where they stand off [mm].
    c_s: stiffness of a lamina, that of the roller over the number of laminae [N/mm^(10/9)].
    """
    return number(c_s * np.maximum(delta, 0.0) ** LINE_CONTACT)


@clause(_PROFILE)
def profile(x: Number, L_we: Number, D_we: Number) -> Number:
    """Return how far a roller of the reference profile falls back from its straight line at one raceway [mm].

    ISO/TS 16281:2008, profile of a cylindrical roller (from memory)
    x: from the middle of the roller, inside its effective length [mm]. L_we, D_we: length and diameter [mm].
    A roller longer than 2.5 diameters is straight in its middle. Infinite at its ends.
    """
    straight = np.maximum(np.asarray(L_we) - _LONG * np.asarray(D_we), 0.0)
    crowned = np.asarray(L_we) - straight
    part = np.maximum(2.0 * np.abs(x) - straight, 0.0) / crowned
    depth = np.where(straight > 0.0, 0.0005, 0.00035) * np.asarray(D_we)
    with np.errstate(divide="ignore"):
        return number(-depth * np.log(np.maximum(1.0 - part**2, 0.0)))
