"""What a check waits for, in the same words wherever it is missing, so that it is asked for once."""

from __future__ import annotations

import re

import numpy as np

from halfbore.selection.need import Need

SHAFT_TEMPERATURE = "shaft temperature at the bearing, from the site"
HOUSING_TEMPERATURE = "housing temperature, from the site"

_PARTS = re.compile(r"; (?!or )")


def parts_of(datum: str) -> list[str]:
    """Return each thing that is missing apart, with who can supply it."""
    return [part for part in _PARTS.split(datum) if part]


def temperatures(need: Need) -> list[str]:
    """Return which temperatures of bearing and housing are missing in the conditions that count."""
    duty, on = need.duty, need.warm
    of_shaft = np.isnan(duty.shaft_temperature_low + duty.shaft_temperature_high)[on].any()
    of_housing = np.isnan(duty.housing_temperature_low + duty.housing_temperature_high)[on].any()
    return [SHAFT_TEMPERATURE] * bool(of_shaft) + [HOUSING_TEMPERATURE] * bool(of_housing)
