"""The job of one machine: all that a run starts from."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Annotated, Any

from halfbore.domain.duty import Condition, Lubricant, Requirement
from halfbore.domain.economics import Changeover, Economics
from halfbore.domain.estimate import Estimate, Widening
from halfbore.domain.fields import Note, Quantity
from halfbore.domain.machine import Load, Machine, Shaft
from halfbore.domain.order import Wishes
from halfbore.domain.position import Position
from halfbore.units import Kind


@dataclass(frozen=True)
class Job:
    """One machine with its loads, positions, duty, requirement and money."""

    format: Annotated[int, Quantity(Kind.COUNT, "version of this file format", limits=(1, 1))]
    title: Annotated[str, Note("title of the job")]
    machine: Annotated[Machine, Note("the machine")]
    shaft: Annotated[Shaft, Note("the shaft")]
    loads: Annotated[tuple[Load, ...], Note("what sits on and pulls at the shaft")]
    positions: Annotated[tuple[Position, ...], Note("bearing positions")]
    duty: Annotated[tuple[Condition, ...], Note("conditions; their shares add up to 1")]
    catalogues: Annotated[tuple[str, ...], Note("catalogues: demo:first, demo:second, or paths", assumed="both demo catalogues")] = ("demo:first", "demo:second")
    lubricant: Annotated[Lubricant | None, Note("the lubricant")] = None
    required: Annotated[Requirement, Note("what a unit must give")] = Requirement()
    value: Annotated[Economics | None, Note("the money side")] = None
    changeover: Annotated[Changeover, Note("what the site says about the work")] = Changeover()
    surveyed: Annotated[date | None, Note("day of the survey, on which the present bearings still ran", assumed="the last day that the job names")] = None
    order: Annotated[Wishes, Note("what is wanted beside the unit itself")] = Wishes()
    invented: Annotated[bool, Note("plant, people and history are made up, as in the demo")] = False
    customer: Annotated[str, Note("for whom the proposal is", assumed="not named")] = ""
    number: Annotated[str, Note("number of the proposal", assumed="not numbered")] = ""

    @property
    def last_day(self) -> date | None:
        """The day of the survey, else the last one on which a bearing was taken out or put in; None without any."""
        days = [failure.on for position in self.positions for failure in position.history]
        days += [p.in_service_since for p in self.positions if p.in_service_since is not None]
        return self.surveyed or max(days, default=None)


@dataclass(frozen=True)
class Assumption:
    """Something that the job file left out and the tool filled in.

    carried: the range of a value that a job writes as one number, carried beside the job.
    """

    path: str
    value: str
    why: str
    carried: bool = False


@dataclass(frozen=True)
class Question:
    """A value outside its plausible range: used as it stands, and asked about."""

    path: str
    text: str


@dataclass(frozen=True)
class JobReading:
    """A job as read, with what was typed, what was assumed and what looks odd.

    estimates: what was filled in from the name plate, also among the assumptions; widening: how far places,
    dimensions and directions among them may be off; frame: the job as plain data, as typed, with the parts and
    positions that the machine kind stands for.
    """

    job: Job
    typed: dict[str, str]
    assumptions: tuple[Assumption, ...]
    questions: tuple[Question, ...]
    estimates: tuple[Estimate, ...] = ()
    widening: Widening | None = None
    frame: dict[str, Any] = field(default_factory=dict, repr=False)
