"""Screws and bolts: stress area, proof load, preload and tightening torque."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np

from halfbore.mechanics.bands import Band
from halfbore.mechanics.given import positive, refuse
from halfbore.sources import Source, Status, practice
from halfbore.working import Number, clause

_ISO_898_1 = Source("ISO 898-1", "stress area", Status.FROM_MEMORY)
_PROOF = Source("ISO 898-1:1999", "proof stress", Status.PUBLISHED, "read in an extract")
_UNIFIED = Source("Shigley, Mechanical Engineering Design", "Table 8-2", Status.PUBLISHED)
_TORQUE = Source("Shigley, Mechanical Engineering Design", "torque coefficient", Status.PUBLISHED)
_PRELOAD = Source("Shigley, Mechanical Engineering Design", "recommended preload", Status.PUBLISHED)

TORQUE_COEFFICIENT = {
    "dry": Band(0.20, 0.25, "", practice("torque coefficient of dry steel")),
    "oiled": Band(0.15, 0.20, "", practice("torque coefficient of oiled steel")),
    "anti-seize": Band(0.12, 0.16, "", practice("torque coefficient with anti-seize paste")),
}


@dataclass(frozen=True)
class StrengthClass:
    """One property class of bolts: strengths in MPa, for nominal diameters up to d_max in mm."""

    name: str
    tensile: float
    yield_stress: float
    proof: float
    source: Source = _PROOF
    d_max: float = np.inf


_MEMORY = Source("ISO 898-1", "mechanical properties", Status.FROM_MEMORY)

STRENGTH_CLASSES = (
    StrengthClass("4.6", 400, 240, 225),
    StrengthClass("4.8", 420, 340, 310),
    StrengthClass("5.6", 500, 300, 280, _MEMORY),
    StrengthClass("5.8", 520, 420, 380),
    StrengthClass("6.8", 600, 480, 440, _MEMORY),
    StrengthClass("8.8", 800, 640, 580, _MEMORY, d_max=16.0),
    StrengthClass("8.8", 830, 660, 600),
    StrengthClass("9.8", 900, 720, 650),
    StrengthClass("10.9", 1040, 940, 830),
    StrengthClass("12.9", 1220, 1100, 970),
)


def strength_class(name: str, d: float) -> StrengthClass | None:
    """Return the row of a property class for a bolt of diameter d [mm], None for an unknown class."""
    return next((row for row in STRENGTH_CLASSES if row.name == name and d <= row.d_max), None)


@clause(_ISO_898_1, "pi/4*(d - 0.9382*pitch)**2")
def stress_area(d: Number, pitch: Number) -> Number:
    """Return the stress area of a metric thread [mm²].

    ISO 898-1, stress area
    d: nominal diameter [mm]. pitch: less than d [mm].
    """
    refuse(
        np.less_equal(pitch, 0) | np.greater_equal(pitch, d),
        "a pitch from above 0 to below the diameter",
        d=d,
        pitch=pitch,
    )
    return pi / 4.0 * (d - 0.9382 * pitch) ** 2


@clause(_UNIFIED, "pi/4*(d - 0.9743*25.4/threads)**2")
def stress_area_unified(d: Number, threads: Number) -> Number:
    """Return the stress area of a unified inch thread [mm²].

    Shigley, Table 8-2
    d: nominal diameter [mm]. threads: threads per inch, above zero.
    """
    positive(d=d, threads=threads)
    return pi / 4.0 * (d - 0.9743 * 25.4 / threads) ** 2


@clause(_PROOF, "S_p*A_s")
def proof_load(S_p: Number, A_s: Number) -> Number:
    """Return the load that a bolt bears without lasting stretch [N].

    ISO 898-1:1999, proof stress
    S_p: proof stress of the property class [MPa]. A_s: stress area [mm²].
    """
    return S_p * A_s


@clause(_PRELOAD, "share*F_p")
def preload(F_p: Number, share: Number = 0.75) -> Number:
    """Return the preload of a bolt that is used again [N].

    Shigley, recommended preload
    F_p: proof load [N]. share: 0.75 for bolts used again, 0.90 for permanent ones (the latter from memory).
    """
    return share * F_p


@clause(_TORQUE, "K*d*F_v")
def tightening_torque(F_v: Number, d: Number, K: Number = 0.20) -> Number:
    """Return the torque that gives a preload [N·mm].

    Shigley, torque coefficient
    F_v: preload [N]. d: nominal diameter [mm]. K: torque coefficient, see TORQUE_COEFFICIENT.
    """
    return K * d * F_v


@clause(_TORQUE, "T/(K*d)")
def preload_from_torque(T: Number, d: Number, K: Number = 0.20) -> Number:
    """Return the preload that a torque gives [N].

    Shigley, torque coefficient
    T: torque [N·mm]. d: nominal diameter, above zero [mm].
    K: torque coefficient, above zero, see TORQUE_COEFFICIENT.
    """
    positive(d=d, K=K)
    return T / (K * d)
