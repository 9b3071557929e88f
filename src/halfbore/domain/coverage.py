"""What a catalogue covers and what it leaves open, and what changed between two of its versions."""

from __future__ import annotations

from dataclasses import dataclass

from halfbore.domain.catalogue import Hole, Part


@dataclass(frozen=True)
class Sizes:
    """The bores of one row size, in order; metric and inch ones apart, as the supplier writes them."""

    row_size: int
    metric: tuple[str, ...]
    inch: tuple[str, ...]
    units: int


@dataclass(frozen=True)
class Option:
    """One option and the units that have it: kind is support, hand, flanges or seals."""

    kind: str
    word: str
    units: int


@dataclass(frozen=True)
class Given:
    """How far a price or a lead time is given: in how many units of how many, least, middle and most of it.

    field: of a unit, `field.column` for one of several; values NaN where none is given.
    """

    field: str
    units: int
    of: int
    least: float
    middle: float
    most: float


@dataclass(frozen=True)
class Blinded:
    """A check that gives no answer for some units, and the data that they lack."""

    check: str
    units: int
    fields: tuple[str, ...]


@dataclass(frozen=True)
class Left:
    """A datum that no check needs and that is missing: what cannot be told without it."""

    field: str
    missing: int
    of: int
    untold: str


@dataclass(frozen=True)
class Coverage:
    """What one catalogue offers and what it leaves out.

    unproven: units whose ratings no roller geometry is given for; scheme: how codes are written, in words;
    parts: what can be ordered besides the unit.
    """

    supplier: str
    version: str
    invented: bool
    currency: str
    units: int
    sizes: tuple[Sizes, ...]
    options: tuple[Option, ...]
    scheme: str
    parts: tuple[Part, ...]
    prices: tuple[Given, ...]
    lead_time: Given
    blinded: tuple[Blinded, ...]
    holes: tuple[Hole, ...]
    left: tuple[Left, ...]
    unproven: int
    notes: tuple[str, ...]


@dataclass(frozen=True)
class FieldChange:
    """One datum of one unit in both versions: a number in the internal unit, NaN for not given, or a word."""

    code: str
    field: str
    old: float | str
    new: float | str


@dataclass(frozen=True)
class PriceShift:
    """How the prices of one kind moved: share of the old price, least, middle and most of those that changed."""

    field: str
    units: int
    least: float
    middle: float
    most: float


@dataclass(frozen=True)
class CatalogueChanges:
    """What differs between two versions of a supplier's catalogue.

    recoded: units that are the same build under another code, old and new; changed: every datum but prices;
    prices: how they moved; repriced: each of them; options, scheme: in sentences; same: units without any change.
    """

    supplier: str
    old: str
    new: str
    added: tuple[str, ...]
    withdrawn: tuple[str, ...]
    recoded: tuple[tuple[str, str], ...]
    changed: tuple[FieldChange, ...]
    prices: tuple[PriceShift, ...]
    repriced: tuple[FieldChange, ...]
    options: tuple[str, ...]
    scheme: tuple[str, ...]
    same: int

    @property
    def none(self) -> bool:
        """Whether the two are the same."""
        parts = (self.added, self.withdrawn, self.recoded, self.changed, self.repriced, self.options, self.scheme)
        return not any(parts)


@dataclass(frozen=True)
class Concern:
    """What a new version means for one code that is in use.

    now: its code in the new version, empty where there is none; unknown: the old version does not hold it either.
    """

    code: str
    now: str
    changes: tuple[FieldChange, ...]
    unknown: bool = False

    @property
    def withdrawn(self) -> bool:
        """Whether the unit can no longer be ordered."""
        return not self.now and not self.unknown
