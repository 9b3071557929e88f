"""ISO 5753:1991, radial internal clearance of cylindrical roller bearings with cylindrical bore."""

from __future__ import annotations

from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike

from halfbore.sources import Source, Status
from halfbore.standards.validity import Range, cell, number, step_of
from halfbore.working import Number, clause

SOURCE = Source(
    "ISO 5753:1991",
    "cylindrical roller bearings, cylindrical bore",
    Status.FROM_MEMORY,
    "unconfirmed: only the order of the groups and rows could be checked",
)
RANGES = {"d": Range(10, 630, "mm", SOURCE)}


class ClearanceGroup(StrEnum):
    """Groups of radial internal clearance, from tight to loose."""

    C2 = "C2"
    CN = "CN"
    C3 = "C3"
    C4 = "C4"


_GROUPS = np.array([g.value for g in ClearanceGroup])
# fmt: off
_EDGES = np.array([
    10, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200,
    225, 250, 280, 315, 355, 400, 450, 500, 560, 630,
], dtype=float)
_LOW_HIGH = np.array([
    [0, 25, 20, 45, 35, 60, 50, 75],
    [0, 25, 20, 45, 35, 60, 50, 75],
    [5, 30, 25, 50, 45, 70, 60, 85],
    [5, 35, 30, 60, 50, 80, 70, 100],
    [10, 40, 40, 70, 60, 90, 80, 110],
    [10, 45, 40, 75, 65, 100, 90, 125],
    [15, 50, 50, 85, 75, 110, 105, 140],
    [15, 55, 50, 90, 85, 125, 125, 165],
    [15, 60, 60, 105, 100, 145, 145, 190],
    [20, 70, 70, 120, 115, 165, 165, 215],
    [25, 75, 75, 125, 120, 170, 170, 220],
    [35, 90, 90, 145, 140, 195, 195, 250],
    [45, 105, 105, 165, 160, 220, 220, 280],
    [45, 110, 110, 175, 170, 235, 235, 300],
    [55, 125, 125, 195, 190, 260, 260, 330],
    [55, 130, 130, 205, 200, 275, 275, 350],
    [65, 145, 145, 225, 225, 305, 305, 385],
    [100, 190, 190, 280, 280, 370, 370, 460],
    [110, 210, 210, 310, 310, 410, 410, 510],
    [110, 220, 220, 330, 330, 440, 440, 550],
    [120, 240, 240, 360, 360, 480, 480, 600],
    [140, 260, 260, 380, 380, 500, 500, 620],
], dtype=float)
# fmt: on


@clause(SOURCE)
def radial_clearance(d: ArrayLike, group: ArrayLike) -> tuple[Number, Number]:
    """Return the least and the largest radial internal clearance before mounting.

    ISO 5753:1991, cylindrical roller bearings with cylindrical bore (from memory, unconfirmed).
    d: bore [mm]; group: C2, CN, C3 or C4.
    Returns both limits [mm]; nan outside 10 to 630 mm and for another group.
    """
    match = np.asarray(group)[..., np.newaxis] == _GROUPS
    column = np.where(match.any(axis=-1), 2 * match.argmax(axis=-1), -2)
    row = np.where(np.asarray(d) == _EDGES[0], 0, step_of(d, _EDGES))
    return number(cell(_LOW_HIGH, row, column) / 1000), number(cell(_LOW_HIGH, row, column + 1) / 1000)
