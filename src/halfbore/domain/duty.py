"""What the machine does, what lubricates it and what is asked of the unit."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from halfbore.domain.fields import Note, Quantity
from halfbore.domain.machine import Contamination
from halfbore.units import Kind, Span


class LubricantKind(StrEnum):
    """How the bearing is lubricated."""

    GREASE = "grease"
    OIL = "oil"


class Shock(StrEnum):
    """How rough the duty is, for static safety by ISO 76:2006."""

    QUIET = "quiet"
    NORMAL = "normal"
    SHOCK = "pronounced shock"


@dataclass(frozen=True)
class Condition:
    """One condition of the duty; share 0 stands for start-up, blocked or standing."""

    name: Annotated[str, Note("name of the condition")]
    share: Annotated[float, Quantity(Kind.FRACTION, "share of the running time", (0, 1), (0, 1))]
    speed: Annotated[float, Quantity(Kind.SPEED, "shaft speed", (0, 3600), (0, 20000), "n")]
    load_factor: Annotated[Span, Quantity(Kind.NUMBER, "service factor on the process loads, never on weights", (0.1, 3), (0, 20), assumed="none")] = Span(1.0, 1.0, 1.0)
    shaft_temperature: Annotated[Span | None, Quantity(Kind.TEMPERATURE, "shaft at the bearing", (-40, 150), (-60, 500))] = None
    housing_temperature: Annotated[Span | None, Quantity(Kind.TEMPERATURE, "housing of the bearing", (-40, 120), (-60, 400))] = None


@dataclass(frozen=True)
class Lubricant:
    """The lubricant and its viscosity at two temperatures."""

    kind: Annotated[LubricantKind, Note("grease or oil")]
    viscosity_40: Annotated[Span | None, Quantity(Kind.VISCOSITY, "base oil viscosity at 40 °C", (10, 1500), (1, 10000), "ν_40")] = None
    viscosity_100: Annotated[Span | None, Quantity(Kind.VISCOSITY, "base oil viscosity at 100 °C", (3, 100), (0.5, 1000), "ν_100")] = None
    iso_vg: Annotated[float | None, Quantity(Kind.NUMBER, "ISO viscosity grade", (22, 1500), (2, 3200), prefix="VG")] = None
    viscosity_index: Annotated[float, Quantity(Kind.NUMBER, "viscosity index", (60, 200), (0, 400), "VI", assumed="mineral oil", prefix="VI")] = 95.0
    proven_ep: Annotated[bool, Note("extreme-pressure additives of proven effect", assumed="none that is proven")] = False
    cleanliness: Annotated[tuple[Contamination, ...], Note("cleanliness of the lubricant, cleaner and dirtier end; empty takes the site's", assumed="as the site")] = ()


@dataclass(frozen=True)
class Requirement:
    """What a unit must give."""

    life: Annotated[float, Quantity(Kind.DURATION, "life that is required", (1000, 200e3), (1, 1e7), "L_h", assumed="50000 h, common practice, no source")] = 50_000.0
    reliability: Annotated[float, Quantity(Kind.FRACTION, "reliability at that life", (0.9, 0.9995), (0.5, 0.99999), "S", assumed="90 %, as basic rating life")] = 0.90
    shock: Annotated[Shock, Note("how rough the duty is", assumed="normal running")] = Shock.NORMAL
    horizon: Annotated[float, Quantity(Kind.DURATION, "years over which cost counts", (8760, 262800), (8760, 438000), assumed="10 years")] = 87_600.0
    latest_delivery: Annotated[float | None, Quantity(Kind.DURATION, "longest lead time that helps", (24, 17520), (0, 100000))] = None
