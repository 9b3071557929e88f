"""An order that a supplier can make without a phone call."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from halfbore.domain.catalogue import Part
from halfbore.domain.fields import Note, Quantity
from halfbore.units import Kind


@dataclass(frozen=True)
class Specification:
    """What is ordered, in features; a code is the same thing in the supplier's letters."""

    supplier: Annotated[str, Note("supplier")]
    part: Annotated[Part, Note("complete unit or a part of it")]
    size: Annotated[str, Note("bore as the supplier writes it")]
    row_size: Annotated[int, Quantity(Kind.COUNT, "size of the row of rollers")]
    locating: Annotated[bool, Note("it locates the shaft")]
    support: Annotated[str, Note("what carries it: plain, side-entry, flange, take-up")]
    hand: Annotated[str, Note("side from which the shaft enters: none, left, right")]
    seal_left: Annotated[str, Note("seal at the drive end side: packing, labyrinth, closed-end")]
    seal_right: Annotated[str, Note("seal at the free end side: packing, labyrinth, closed-end")]
    clearance: Annotated[int, Quantity(Kind.COUNT, "clearance group")]


@dataclass(frozen=True)
class Wishes:
    """What the customer wants beside the unit itself; what is left out is assumed, and the order asks to confirm it."""

    ports: Annotated[str | None, Note("lubrication ports and lines", assumed="the supplier's standard")] = None
    sensors: Annotated[str | None, Note("holes or fittings for sensors", assumed="none")] = None
    paint: Annotated[str | None, Note("paint or coating", assumed="the supplier's standard")] = None
    certificates: Annotated[str | None, Note("certificates that come with the delivery", assumed="none")] = None
    spares: Annotated[str | None, Note("spares that come with the order", assumed="none ordered; the list of spares follows")] = None
    wanted_by: Annotated[str | None, Note("date on which the delivery is wanted", assumed="as soon as the supplier delivers")] = None
    part_delivery: Annotated[bool | None, Note("the order may come in parts", assumed="all at once")] = None
    drawing: Annotated[str | None, Note("number and revision of the drawing that governs", assumed="the supplier's current drawing")] = None


class AnswerState(StrEnum):
    """How a supplier's question stands."""

    ANSWERED = "answered"
    ASSUMED = "assumed, to confirm"
    NOT_APPLICABLE = "does not apply"
    OPEN = "open"


SHOWN = "To be shown before the order is sent"
"""The question of an order whose unit does not hold at the bad end of what is known."""


@dataclass(frozen=True)
class Answer:
    """One question that a supplier asks after an order, and its answer.

    told_by: paths of the job that it rests on and that can be edited; those of the position begin with `position.`.
    """

    question: str
    answer: str
    state: AnswerState
    told_by: tuple[str, ...] = ()


@dataclass(frozen=True)
class CodePart:
    """A piece of a code, and each feature that it says with its value."""

    text: str
    says: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Item:
    """One line of a bill of materials; price NaN where the supplier names none."""

    quantity: int
    part: str
    code: str
    words: str
    mass: float
    price: float
    currency: str
    lead_time: float


@dataclass(frozen=True)
class Order:
    """The order of one position: words, code, parts, spares, questions answered, assumed and open.

    ready: no question is open and nothing holds it back; to_confirm: the questions whose answers are only assumed.
    code_parts: the code in pieces that make it up when they are put together.
    held_back: what keeps it from being sent although a unit holds, empty where nothing does.
    """

    position: str
    specification: Specification
    words: str
    code: str
    items: tuple[Item, ...]
    spares: tuple[Item, ...]
    answers: tuple[Answer, ...]
    ready: bool
    to_confirm: tuple[str, ...]
    code_parts: tuple[CodePart, ...] = ()
    held_back: str = ""

    @property
    def standing(self) -> str:
        """How far the order is, in words."""
        if self.held_back:
            return f"not ready: {self.held_back}"
        asked = sum(a.state is AnswerState.OPEN for a in self.answers)
        if asked:
            return f"not ready: {asked} question{'s' if asked > 1 else ''} open"
        count = len(self.to_confirm)
        if not count:
            return "ready to send"
        return f"ready once {count} assumption{'s are' if count > 1 else ' is'} confirmed"
