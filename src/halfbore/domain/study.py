"""The whole answer for one machine."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from halfbore.domain.job import JobReading
from halfbore.domain.order import Order
from halfbore.domain.plan import ChangeoverPair
from halfbore.domain.selection import Choice
from halfbore.domain.shaftline import LiftResult, ShaftResponse
from halfbore.domain.value import Value


class Decision(StrEnum):
    """What the study advises for a position."""

    CONVERT = "convert"
    CONVERT_IF = "convert if it holds"
    SETTLE_FIRST = "settle a question first"
    NO_CLEAR_CASE = "no clear case"
    DOES_NOT_PAY = "does not pay"
    WAITS = "a question is open"
    NO_UNIT = "no unit holds"
    HOLDS_IF = "a unit holds if that is shown; its value was not worked out"
    HOLDS = "a unit holds; its value was not worked out"
    KEEP = "keeps its bearing"

    @property
    def short(self) -> str:
        """The advice as it stands in a column."""
        return _SHORT.get(self, self.value)


_SHORT = {
    Decision.SETTLE_FIRST: "settle first",
    Decision.WAITS: "question open",
    Decision.HOLDS_IF: "holds if shown",
    Decision.HOLDS: "a unit holds",
    Decision.KEEP: "keep",
}


@dataclass(frozen=True)
class CatalogueUse:
    """Which catalogue in which version was searched, and what it leaves out."""

    supplier: str
    version: str
    units: int
    invented: bool
    holes: tuple[str, ...]


@dataclass(frozen=True)
class Provenance:
    """What the numbers rest on."""

    version: str
    inputs_hash: str
    seed: int
    on: date
    editions: tuple[str, ...]
    catalogues: tuple[CatalogueUse, ...]


@dataclass(frozen=True)
class PositionStudy:
    """All results of one position; what was not asked for, or has no unit to be about, is None.

    lift: the shaft lifted by what the entry of the chosen unit needs; because: why the decision is what it is.
    first: the measurement that may still turn the chosen unit away, empty where there is none.
    """

    position: str
    decision: Decision
    because: str
    choice: Choice | None
    lift: LiftResult | None
    order: Order | None
    plans: ChangeoverPair | None
    value: Value | None
    first: str = ""


@dataclass(frozen=True)
class Glance:
    """The units of an earlier study on other inputs: loads, reactions and checks, without a search for others."""

    reading: JobReading
    response: ShaftResponse
    positions: tuple[PositionStudy, ...]


@dataclass(frozen=True)
class Confirmation:
    """The shaft solved again on the chosen bearings, with their give and clearance.

    rounds: solves until no choice changed, or the limit; settled: whether none changed in the last one;
    largest: largest change of a likely reaction against rigid bearings, as a share of the largest reaction;
    changed: what changed, in words.
    """

    rounds: int
    settled: bool
    largest: float
    changed: tuple[str, ...]


@dataclass(frozen=True)
class Study:
    """All results of one machine; confirmation is None where two bearings alone decide the reactions."""

    reading: JobReading
    response: ShaftResponse
    positions: tuple[PositionStudy, ...]
    confirmation: Confirmation | None
    provenance: Provenance
    sentence: str
