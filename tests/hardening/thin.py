"""A thin slice of both demo catalogues: enough units to choose from, few enough to try hundreds of jobs."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from halfbore.demo import suppliers
from halfbore.domain.catalogue import Catalogue

BORES = (112.7125, 150.8125, 160.0)
"""Shafts of the demo machines [mm]."""


@cache
def catalogues() -> tuple[Catalogue, ...]:
    """Return both demo catalogues with the lightest units of the demo shafts and some of other sizes."""
    return tuple(_thin(suppliers.load(name)) for name in ("first", "second"))


def _thin(catalogue: Catalogue) -> Catalogue:
    bore = catalogue.units.bore
    near = np.any([np.abs(bore - size) < 0.1 for size in BORES], axis=0)
    light = np.flatnonzero(near & (catalogue.units.row_size == 1))
    return replace(catalogue, units=catalogue.units.take(np.union1d(light, np.arange(0, len(bore), 400))))
