"""A supplier's catalogue: its units, its order code scheme, what it leaves out."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from halfbore.domain.unit import UnitTable


class Part(StrEnum):
    """What an order line asks for."""

    UNIT = "complete unit"
    BEARING = "bearing set"
    SEALS = "seal set"
    SUPPORT = "support"


@dataclass(frozen=True)
class Word:
    """One tagged word of a code: the feature it carries and how its values are written.

    letters: value of the feature → text after the tag; empty for a bore, which is written as a number.
    """

    feature: str
    tag: str
    letters: tuple[tuple[str, str], ...] = ()
    optional: bool = False


@dataclass(frozen=True)
class TaggedScheme:
    """Codes made of tagged words in any order, canonical when written."""

    separator: str
    words: tuple[Word, ...]
    spares: tuple[tuple[Part, str], ...]


@dataclass(frozen=True)
class Place:
    """One fixed place of a code: its features, and how each value is written.

    digits: number of characters of the place.
    """

    features: tuple[str, ...]
    digits: int
    letters: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class PlacedScheme:
    """Codes made of fixed places with a check character."""

    separator: str
    places: tuple[Place, ...]
    check_separator: str
    check_letters: str
    check_weights: tuple[int, ...]
    spares: tuple[tuple[Part, str], ...]


Scheme = TaggedScheme | PlacedScheme


@dataclass(frozen=True)
class Hole:
    """A datum that a catalogue leaves out, and the checks that this blinds."""

    field: str
    missing: int
    of: int
    blinds: tuple[str, ...]


@dataclass(frozen=True)
class Catalogue:
    """One supplier's catalogue in one version."""

    supplier: str
    version: str
    invented: bool
    currency: str
    units: UnitTable
    scheme: Scheme
    holes: tuple[Hole, ...] = ()
