"""Units of a catalogue as columns: one row is one unit as it is ordered, one unit is a one-row table.

A number that the supplier does not give is NaN, never zero.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum, StrEnum
from typing import Annotated, Any, Self

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.fields import Note, Quantity
from halfbore.units import Kind

Floats = NDArray[np.float64]
Texts = NDArray[np.str_]
Flags = NDArray[np.bool_]
Codes = NDArray[np.int8]


class Named(IntEnum):
    """A number in a column that also has a word."""

    @property
    def word(self) -> str:
        """The value as it is written in mappings, schemes and words."""
        return self.name.lower().replace("_", "-")

    @classmethod
    def words(cls) -> dict[str, Self]:
        """Return the values by their words."""
        return {value.word: value for value in cls}


class Support(Named):
    """What carries the housing."""

    PLAIN = 0
    SIDE_ENTRY = 1
    FLANGE = 2
    TAKE_UP = 3


class Hand(Named):
    """Side from which a side-entry pedestal comes in, seen from the drive end."""

    NONE = 0
    LEFT = 1
    RIGHT = 2


class SealKind(Named):
    """Seals as the trade names them; the number is the column of the seal arrays."""

    PACKING = 0
    LABYRINTH = 1
    CLOSED_END = 2


CLEARANCE_GROUPS = 3


class Direction(StrEnum):
    """Sectors in which a support's radial limit is given."""

    DOWN = "down"
    SIDE = "sideways"
    UP = "up"


@dataclass(frozen=True)
class UnitTable:
    """Units of one or more catalogues, a column a field (n rows)."""

    supplier: Annotated[Texts, Note("supplier")]
    code: Annotated[Texts, Note("order code of the unit in its standard build")]
    size: Annotated[Texts, Note("bore as the supplier writes it")]
    bore: Annotated[Floats, Quantity(Kind.LENGTH, "bore of the inner ring, the nominal shaft diameter", (30, 620), (10, 1500), "d")]
    row_size: Annotated[Codes, Note("size of the roller row within a bore, light to heavy")]
    locating: Annotated[Flags, Note("can hold the shaft axially")]
    support: Annotated[Codes, Note("support, see Support")]
    hand: Annotated[Codes, Note("entry side of a side-entry pedestal, see Hand")]
    rollers: Annotated[Floats, Quantity(Kind.COUNT, "rollers in a row", (8, 60), (4, 200), "Z")]
    rows: Annotated[Floats, Quantity(Kind.COUNT, "rows of rollers", (1, 2), (1, 4), "i")]
    roller_diameter: Annotated[Floats, Quantity(Kind.LENGTH, "roller diameter", (5, 80), (1, 200), "D_we")]
    roller_length: Annotated[Floats, Quantity(Kind.LENGTH, "effective roller length", (5, 160), (1, 400), "L_we")]
    pitch_diameter: Annotated[Floats, Quantity(Kind.LENGTH, "pitch diameter of the rollers", (40, 900), (10, 2000), "D_pw")]
    dynamic_rating: Annotated[Floats, Quantity(Kind.FORCE, "basic dynamic radial load rating", (10e3, 8e6), (1e3, 5e7), "C_r")]
    static_rating: Annotated[Floats, Quantity(Kind.FORCE, "basic static radial load rating", (10e3, 2e7), (1e3, 1e8), "C_0r")]
    fatigue_limit: Annotated[Floats, Quantity(Kind.FORCE, "fatigue load limit; computed by ISO 281:2007 B.3.3.3 when not given", (1e3, 2e6), (100, 1e7), "C_u")]
    axial_capacity: Annotated[Floats, Quantity(Kind.FORCE, "permissible axial load of a locating unit by the supplier", (0, 500e3), (0, 1e7), "F_a,max")]
    flange_height: Annotated[Floats, Quantity(Kind.LENGTH, "mean height of the flange contact above the raceway", (0.3, 15), (0, 100), "h")]
    flange_pv_limit: Annotated[Floats, Quantity(Kind.NUMBER, "limit of pressure times sliding speed at the flange in MPa·m/s", (0.1, 200), (0, 1e4), "(p·v)_max")]
    flange_strength: Annotated[Floats, Quantity(Kind.FORCE, "axial load that the flange bears by strength", (0, 1e6), (0, 1e8))]
    clamp_grip: Annotated[Floats, Quantity(Kind.FORCE, "axial load at which the clamping rings slip on a dry shaft of nominal size", (0, 1e6), (0, 1e8))]
    housing_axial: Annotated[Floats, Quantity(Kind.FORCE, "axial load that housing, seat and base bolts bear", (0, 1e6), (0, 1e8))]
    speed_limit: Annotated[Floats, Quantity(Kind.SPEED, "speed limit with grease", (50, 6000), (1, 50000), "n_max")]
    ring_temperature_limit: Annotated[Floats, Quantity(Kind.TEMPERATURE, "highest temperature of rings and cage", (80, 250), (20, 500))]
    clearance_min: Annotated[Floats, Quantity(Kind.LENGTH, "least radial internal clearance per group on a nominal shaft (n, 3)", (0, 0.6), (-0.1, 3))]
    clearance_max: Annotated[Floats, Quantity(Kind.LENGTH, "largest radial internal clearance per group on a nominal shaft (n, 3)", (0, 0.8), (0, 4))]
    inner_raceway: Annotated[Floats, Quantity(Kind.LENGTH, "inner raceway diameter", (35, 850), (10, 2000), "F")]
    seat_lower: Annotated[Floats, Quantity(Kind.LENGTH, "lower deviation that the shaft may have, negative", (-0.3, 0), (-2, 0.1))]
    seat_upper: Annotated[Floats, Quantity(Kind.LENGTH, "upper deviation that the shaft may have", (-0.05, 0.02), (-1, 0.5))]
    seat_form: Annotated[Floats, Quantity(Kind.LENGTH, "roundness and taper that the seat may have", (0.005, 0.1), (0, 1))]
    joint_gap: Annotated[Floats, Quantity(Kind.LENGTH, "gap at each inner joint on a nominal shaft", (0.1, 2), (0, 10))]
    joint_angle: Annotated[Floats, Quantity(Kind.ANGLE, "angle of one outer ring joint from straight up in the usual build", (0, 3.2), (-6.3, 6.3))]
    joint_clear: Annotated[Floats, Quantity(Kind.ANGLE, "least angle between load and outer ring joint that the supplier allows", (0, 1.6), (0, 3.2))]
    joint_eased: Annotated[Floats, Quantity(Kind.LENGTH, "eased length at each joint edge", (0.1, 10), (0, 50))]
    limit_down: Annotated[Floats, Quantity(Kind.FORCE, "radial load that housing and support bear downwards", (1e3, 1e7), (0, 1e9))]
    limit_side: Annotated[Floats, Quantity(Kind.FORCE, "radial load that housing and support bear sideways", (1e3, 1e7), (0, 1e9))]
    limit_up: Annotated[Floats, Quantity(Kind.FORCE, "radial load that cap and bolts bear upwards", (1e3, 1e7), (0, 1e9))]
    track_travel: Annotated[Floats, Quantity(Kind.LENGTH, "axial travel that the roller track gives, each way", (0, 60), (0, 300))]
    seal_travel: Annotated[Floats, Quantity(Kind.LENGTH, "axial travel before a seal ring touches, each way", (0, 60), (0, 300))]
    housing_travel: Annotated[Floats, Quantity(Kind.LENGTH, "axial travel before a clamping ring touches, each way", (0, 60), (0, 300))]
    static_alignment: Annotated[Floats, Quantity(Kind.ANGLE, "setting range of the aligning seat, each way", (0, 0.05), (0, 0.3))]
    roller_tilt: Annotated[Floats, Quantity(Kind.ANGLE, "tilt that the rollers bear in service", (0.0001, 0.003), (0, 0.05))]
    seal_offered: Annotated[Flags, Note("seals that the unit can have (n, 3)")]
    seal_speed: Annotated[Floats, Quantity(Kind.SURFACE_SPEED, "surface speed limit per seal (n, 3)", (1, 60), (0, 200))]
    seal_temperature: Annotated[Floats, Quantity(Kind.TEMPERATURE, "temperature limit per seal (n, 3)", (60, 260), (0, 500))]
    seal_price: Annotated[Floats, Quantity(Kind.NUMBER, "price of one seal, a side, per kind (n, 3), in the catalogue's currency", (0, 5000), (0, 1e6))]
    length: Annotated[Floats, Quantity(Kind.LENGTH, "length along the shaft over clamping rings and seals", (60, 900), (10, 3000))]
    width: Annotated[Floats, Quantity(Kind.LENGTH, "width across the shaft over the support's feet", (100, 2000), (20, 5000))]
    height: Annotated[Floats, Quantity(Kind.LENGTH, "height above the shaft centre", (40, 1000), (10, 3000))]
    centre_height: Annotated[Floats, Quantity(Kind.LENGTH, "height of the shaft centre above the base", (40, 800), (5, 3000))]
    bolt_spacing: Annotated[Floats, Quantity(Kind.LENGTH, "distance of the base bolts across the shaft", (80, 2000), (10, 5000))]
    bolt_slot: Annotated[Floats, Quantity(Kind.LENGTH, "how far the bolts may stand off that distance, both together", (0, 120), (0, 500))]
    bolt_size: Annotated[Floats, Quantity(Kind.LENGTH, "diameter of the base bolts", (8, 64), (4, 150))]
    lip_depth: Annotated[Floats, Quantity(Kind.LENGTH, "depth of the cradle's lip that the shaft must clear", (0, 150), (0, 500))]
    mass: Annotated[Floats, Quantity(Kind.MASS, "mass of the whole unit", (2, 4000), (0.1, 50000))]
    bearing_mass: Annotated[Floats, Quantity(Kind.MASS, "mass of the bearing set: rings, cage, rollers, clamping rings", (0.3, 3000), (0.01, 50000))]
    support_mass: Annotated[Floats, Quantity(Kind.MASS, "mass of the support alone", (0.3, 3000), (0.01, 50000))]
    heaviest_half: Annotated[Floats, Quantity(Kind.MASS, "mass of the heaviest part lifted at once", (1, 2000), (0.1, 50000))]
    price: Annotated[Floats, Quantity(Kind.NUMBER, "price of the unit without seals, in the catalogue's currency", (50, 200e3), (0, 1e8))]
    bearing_price: Annotated[Floats, Quantity(Kind.NUMBER, "price of the bearing set alone", (30, 100e3), (0, 1e8))]
    support_price: Annotated[Floats, Quantity(Kind.NUMBER, "price of the support alone", (10, 100e3), (0, 1e8))]
    currency: Annotated[Texts, Note("three-letter currency code")]
    lead_time: Annotated[Floats, Quantity(Kind.DURATION, "lead time", (24, 17520), (0, 100000))]

    def __len__(self) -> int:
        return len(self.code)

    def slots_reach(self, spacing: float) -> NDArray[np.bool_]:
        """Return whether base bolts of a distance across the shaft [mm] stand within the slots (n)."""
        return np.asarray(np.abs(self.bolt_spacing - spacing) <= np.nan_to_num(self.bolt_slot))

    def take(self, rows: Any) -> UnitTable:
        """Return the table with only these rows (indices, a mask or a slice)."""
        return UnitTable(**{f.name: getattr(self, f.name)[rows] for f in dataclasses.fields(self)})

    def row(self, index: int) -> UnitTable:
        """Return one unit as a one-row table: the same one where it is, with all that is worked out for it."""
        return self if len(self) == 1 and index == 0 else self.take(slice(index, index + 1))


COLUMNS: dict[str, tuple[str, ...]] = {
    **{name: tuple(str(g + 1) for g in range(CLEARANCE_GROUPS)) for name in ("clearance_min", "clearance_max")},
    **{name: tuple(kind.word for kind in SealKind) for name in ("seal_offered", "seal_speed", "seal_temperature", "seal_price")},
}
"""Names of the columns of the fields that have several (n, 3)."""


def joined(tables: Sequence[UnitTable]) -> UnitTable:
    """Return the units of all tables, one after the other."""
    names = [f.name for f in dataclasses.fields(UnitTable)]
    return UnitTable(**{n: np.concatenate([getattr(t, n) for t in tables]) for n in names})


LIFT_BY_HAND = 25.0
"""Mass of a part from which it goes in with lifting gear [kg] (common practice, no source)."""


def heaviest_part(unit: UnitTable) -> float:
    """Return the mass of the heaviest part of a unit that is lifted at once, its support alone included [kg].

    unit: a one-row table. NaN where the supplier gives neither.
    """
    known = [float(mass[0]) for mass in (unit.heaviest_half, unit.support_mass) if not np.isnan(mass[0])]
    return max(known, default=float("nan"))
