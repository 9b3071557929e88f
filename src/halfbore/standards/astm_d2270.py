"""ASTM D2270, viscosity index, and the viscosity at 100 °C that it stands for."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.sources import Source, Status
from halfbore.standards.validity import CONFIRMED, Range, number, step_of
from halfbore.working import Number, clause


def _source(place: str, note: str = "") -> Source:
    return Source("ASTM D2270", place, Status.FROM_MEMORY, note)


_LARGEST_Y = 2000.0
RANGES = {
    "Y": Range(2.0, _LARGEST_Y, "mm²/s", _source("scope", "viscosity at 100 °C; the upper end is ours")),
    "VI": Range(0.0, 400.0, "", _source("procedures A and B", "the upper end is ours")),
}

# fmt: off
_EDGES = np.array([2.0, 3.8, 4.4, 5.0, 6.4, 7.0, 7.7, 9.0, 12, 15, 18, 22, 28, 40, 55, 70, _LARGEST_Y])
_QUADRATICS = np.array([
    # of L                          of H
    [1.14673, 1.7576, -0.109,       0.84155, 1.5521, -0.077],
    [3.38095, -15.4952, 33.196,     0.78571, 1.7929, -0.183],
    [2.5000, -7.2143, 13.812,       0.82143, 1.5679, 0.119],
    [0.10100, 16.6350, -45.469,     0.04985, 9.1613, -18.557],
    [3.35714, -23.5643, 78.466,     0.22619, 7.7369, -16.656],
    [0.01191, 21.4750, -72.870,     0.79762, -0.7321, 14.610],
    [0.41858, 16.1558, -56.040,     0.05794, 10.5156, -28.240],
    [0.88779, 7.5527, -16.600,      0.26665, 6.7015, -10.810],
    [0.76720, 10.7972, -38.180,     0.20073, 8.4658, -22.490],
    [0.97305, 5.3135, -2.200,       0.28889, 5.9741, -4.930],
    [0.97256, 5.2500, -0.980,       0.24504, 7.4160, -16.730],
    [0.91413, 7.4759, -21.820,      0.20323, 9.1267, -34.230],
    [0.87031, 9.7157, -50.770,      0.18411, 10.1015, -46.750],
    [0.84703, 12.6752, -133.310,    0.17029, 11.4866, -80.620],
    [0.85921, 11.1009, -83.190,     0.17130, 11.3680, -76.940],
    [0.83531, 14.6731, -216.246,    0.16841, 11.8493, -96.947],
])
# fmt: on


@clause(
    _source(
        "quadratic equations for L and H",
        f"{CONFIRMED}: neighbouring rows meet within 0.2 %, and the worked example Y = 8.86 comes out",
    )
)
def reference_viscosities(Y: Number) -> tuple[Number, Number]:
    """Return the viscosities at 40 °C of the reference oils of viscosity index 0 and 100.

    ASTM D2270, quadratic equations (from memory, confirmed where the rows meet).
    Y: kinematic viscosity at 100 °C [mm²/s].
    Returns L and H [mm²/s]; nan below 2 and above 2000 mm²/s.
    """
    l_y, h_y = _l_and_h(np.asarray(RANGES["Y"].keep(Y)))
    return number(l_y), number(h_y)


def _l_and_h(y: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    row = np.clip(step_of(y, _EDGES), 0, len(_QUADRATICS) - 1)
    a, b, c, d, e, f = np.moveaxis(_QUADRATICS[row], -1, 0)
    return (a * y + b) * y + c, (d * y + e) * y + f


@clause(
    _source("procedures A and B"),
    "Piecewise((100*(L - U)/(L - H), U >= H), ((10**(log(H/U, 10)/log(Y, 10)) - 1)/0.00715 + 100, True))",
)
def viscosity_index(U: Number, L: Number, H: Number, Y: Number) -> Number:
    """Return the viscosity index.

    ASTM D2270, procedure A up to 100 and procedure B above (from memory).
    U, Y: kinematic viscosities at 40 °C and 100 °C [mm²/s]; L, H: those of the reference oils [mm²/s].
    Returns VI [-].
    """
    below = np.divide(100 * np.subtract(L, U), np.subtract(L, H))
    n = np.log10(np.maximum(np.divide(H, U), 1.0)) / np.log10(Y)
    return number(np.where(np.asarray(U) >= H, below, (10**n - 1) / 0.00715 + 100))


@clause(_source("procedures A and B, solved for the viscosity at 100 °C"))
def viscosity_at_100(nu_40: Number, VI: Number) -> Number:
    """Return the viscosity at 100 °C of an oil from that at 40 °C and its viscosity index.

    ASTM D2270, procedures A and B (from memory).
    nu_40: kinematic viscosity at 40 °C [mm²/s]; VI: viscosity index [-].
    Returns ν at 100 °C [mm²/s]; nan where it comes out below 2 mm²/s, and outside VI 0 to 400.
    """
    vi = np.asarray(RANGES["VI"].keep(VI))
    wanted, vi = np.broadcast_arrays(np.asarray(nu_40, dtype=float), vi)
    low, high = np.full(wanted.shape, 2.0), np.full(wanted.shape, _LARGEST_Y)
    reached = (_at_40(low, vi) <= wanted) & (_at_40(high, vi) >= wanted)
    for _ in range(7):  # 256 parts at a time bring 2000 mm²/s down to the last digit
        width = (high - low) / 256
        below = _at_40(low[..., None] + width[..., None] * _INNER, vi[..., None]) <= wanted[..., None]
        low = low + width * below.sum(-1)
        high = low + width
    return number(np.where(reached, (low + high) / 2, np.nan))


_INNER = np.arange(1, 256)
"""Where a bracket is cut."""


def _at_40(Y: NDArray[np.float64], VI: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the viscosity at 40 °C of an oil of that viscosity at 100 °C and that index."""
    l_y, h_y = _l_and_h(Y)
    n = np.log10(1 + 0.00715 * np.maximum(VI - 100, 0.0))
    return np.where(VI <= 100, l_y - VI / 100 * (l_y - h_y), h_y / Y**n)
