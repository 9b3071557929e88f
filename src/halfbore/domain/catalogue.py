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


FEATURES = ("size", "row_size", "locating", "support", "hand", "seal_left", "seal_right", "clearance")
"""What a code says of a unit; a scheme writes each of them once, or holds it fixed."""

LISTED = "\n"
"""Separator of a scheme whose codes are listed and looked up as a whole: no code holds it."""


@dataclass(frozen=True)
class Letters:
    """How the values of one or more features are written: text → the value of each feature."""

    features: tuple[str, ...]
    table: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True)
class Word:
    """One word of a tagged code: its tag, which may be empty, and the letters after it."""

    tag: str
    letters: Letters


@dataclass(frozen=True)
class TaggedScheme:
    """Codes made of tagged words in any order, canonical when written.

    spares: mark at the end → part; no mark stands for the complete unit; fixed: feature → its only value.
    """

    separator: str
    words: tuple[Word, ...]
    spares: tuple[tuple[str, Part], ...]
    fixed: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class CheckCharacter:
    """The character that guards a code: the weighted sum of its characters, modulo the number of check letters.

    values: the characters that a code is made of, in order of their value, from 1;
    letters: check letters in order of the remainder; weights: by place, from the right, separators not counted.
    """

    separator: str
    values: str
    letters: str
    weights: tuple[int, ...]


@dataclass(frozen=True)
class PlacedScheme:
    """Codes made of fixed places and a check character.

    places: the letters of each place; where a place has several, each of them has texts of one width.
    """

    separator: str
    places: tuple[tuple[Letters, ...], ...]
    check: CheckCharacter
    spares: tuple[tuple[str, Part], ...]
    fixed: tuple[tuple[str, str], ...] = ()


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
    """One supplier's catalogue in one version.

    notes: what was computed because it was not given, what was left out, what looks odd.
    """

    supplier: str
    version: str
    invented: bool
    currency: str
    units: UnitTable
    scheme: Scheme
    holes: tuple[Hole, ...] = ()
    notes: tuple[str, ...] = ()
