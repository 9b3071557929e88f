"""What the views of a shaft line share: the frame, the forces, how arrows and their numbers look."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from halfbore.domain.job import Job
from halfbore.domain.shaftline import ShaftResponse
from halfbore.domain.unit import UnitTable
from halfbore.present.frame import Frame, UnitSize
from halfbore.present.labels import Spot
from halfbore.present.numbers import Style
from halfbore.present.palette import Palette
from halfbore.present.shaft_forces import Force

ACTS, HOLDS = 2.2, 2.4
"""Line widths of arrows [px]."""


@dataclass(frozen=True)
class Scene:
    """All that the views share.

    forces, reactions: on the shaft [N]; force_scale: px for a newton; part: of the full heights; units: chosen units by position.
    """

    job: Job
    response: ShaftResponse
    condition: int
    units: Mapping[str, UnitTable]
    sizes: tuple[UnitSize, ...]
    tags: Mapping[str, str]
    frame: Frame
    forces: tuple[Force, ...]
    reactions: tuple[Force, ...]
    force_scale: float
    part: float
    look: Palette
    style: Style


def beside_arrow(x: float, tail: float, tip: float) -> tuple[Spot, ...]:
    """Return places for the number of an upright arrow, the tail first."""
    inward = 1 if tip > tail else -1
    middle = (tail + tip) / 2
    if abs(tip - tail) < 18.0:
        return tuple(
            Spot(x + 5.0 * s, y, s, d) for y, d in ((tail, -inward), (tip, inward)) for s in (1, -1, 0)
        )
    sides = [
        Spot(x + s * 6.0, y, s, d) for y, d in ((tail, inward), (middle, 0), (tip, -inward)) for s in (1, -1)
    ]
    return (*sides, Spot(x, tail, 0, -inward))
