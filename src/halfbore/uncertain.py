"""Every input of a job that is a range, and the job as it would be with that input known."""

from __future__ import annotations

import dataclasses
import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from halfbore.domain.estimate import Estimate, Widening
from halfbore.domain.fields import Quantity, fields_of
from halfbore.domain.job import Job, JobReading
from halfbore.domain.machine import Contamination, FanWheel
from halfbore.estimate.measured import measured
from halfbore.estimate.reading import place_of, read_completed
from halfbore.estimate.spans import text_of
from halfbore.selection.relax import with_value
from halfbore.units import Kind, Span


@dataclass(frozen=True)
class Case:
    """A job with one input known; moves: whether the shaft line has to be solved again."""

    job: Job
    widening: Widening | None
    moves: bool


@dataclass(frozen=True)
class Uncertain:
    """An input that is a range.

    path: its place in the job, entries by name; asks: what to do to know it; low, high: its ends as text.
    how: with what, or who is asked; at: the case at an end, low, likely or high.
    position: the only one that it matters to, empty where it matters to all.
    """

    path: str
    asks: str
    low: str
    high: str
    how: str
    at: Callable[[str], Case]
    position: str = ""


WAYS = {
    "mass": ("weigh {}", "scale ticket, drawing, or a load cell in the sling"),
    "x": ("measure the place of {} along the shaft", "tape"),
    "length": ("measure the length of {}", "tape"),
    "lift": ("measure the lift of {}", "tape, or the drawing"),
    "diameter": ("measure the diameter of {}", "calliper or tape"),
    "power": ("measure the power through {}", "clamp meter at the motor, in running"),
    "pull": ("measure the pull at {}", "belt tension gauge"),
    "direction": ("look in which direction the belt pulls at {}", "eye, protractor"),
    "tight_direction": ("look in which direction the belt leaves {}", "eye, protractor"),
    "arm_direction": ("look in which direction the arm holds {}", "eye"),
    "push": ("measure the push on {}", "power in running and when empty"),
    "tight_strand": (
        "measure the tension of the tight strand at {}",
        "belt tension gauge, or take-up and power",
    ),
    "slack_strand": (
        "measure the tension of the slack strand at {}",
        "belt tension gauge, or weigh the take-up",
    ),
    "take_up": ("measure the take-up force at {}", "weight of the take-up, or its spring or screw"),
    "arm_force": ("measure the force in the arm of {}", "load cell in the arm, or reach and power"),
    "arm_reach": ("measure the reach of the arm of {}", "tape"),
    "axial_thrust": ("ask for the axial thrust of {}", "ask the maker of the fan"),
    "thrust": ("find the axial thrust of {}", "power in running, or ask the maker"),
    "pitch": ("measure the pitch of {}", "tape"),
    "reaction": ("ask for the radial reaction of {}", "ask the maker of the coupling"),
    "balance_in_service": ("measure the unbalance of {}", "vibration meter, or a balance report"),
    "friction": ("look at the lagging of {}, dry and wet", "eye, rain"),
    "belt_mass": ("weigh what hangs on {}", "drawing of belt and buckets"),
    "force": ("measure the force at {}", "load cell, or from what makes it"),
    "axial_force": ("measure the axial force at {}", "load cell, or from what makes it"),
    "digging": ("look how {} is fed, and how lumpy it is", "eye, through the cover"),
    "capacity": ("weigh what {} lifts", "belt scale, or lorries over a shift"),
    "belt_and_buckets": ("weigh a metre of belt and buckets of {}", "scale, or the drawing"),
    "one_sided": ("look how the bed lies around {}", "eye, through the cover"),
    "load_factor": ("record the load over a shift in {}", "clamp meter with memory"),
    "shaft_temperature": (
        "measure the temperature of the shaft in {}",
        "contact thermometer beside the bearing",
    ),
    "housing_temperature": ("measure the temperature of the housing in {}", "contact thermometer"),
    "ambient": ("record the air temperature at the bearings", "thermometer, a hot and a cold day"),
    "height_error": ("level the base of {}", "laser or water level"),
    "tilt_error": ("measure the tilt of the base of {}", "precision level"),
    "stud_stick_out": ("measure the studs of {}", "rule"),
    "allowed": ("measure how far the shaft may be lifted at {}", "feeler gauge at wheel, seals and coupling"),
    "form_error": ("measure roundness and taper of the seat of {}", "micrometer, both ends, three angles"),
    "viscosity_40": ("ask for the viscosity of the lubricant", "ask the lubricant's supplier"),
    "viscosity_100": ("ask for the viscosity of the lubricant at 100 °C", "ask the lubricant's supplier"),
    "cleanliness": ("have a sample of the used lubricant examined", "laboratory"),
    "gas_temperature": ("measure the temperature of the gas at {}", "thermometer in the duct"),
}
"""Field → what to do to know it, and with what; common practice, no source."""

_SEAT = ("measure the seat of {}", "micrometer, both ends, three angles, cold")
_PLATE = ("read the power off the motor's plate", "eye")
_STILL = re.compile(r"positions\[(\d+)\]\.(seat|room|lift|seal|base\.(?!height_error))|lubricant")
"""Places in the job that do not move the shaft."""
_IDLE = re.compile(r"value|changeover|order|machine\.name_plate|positions\[\d+\]\.history")
"""Places in the job that no check asks for."""


def uncertain_inputs(reading: JobReading) -> Iterator[Uncertain]:
    """Yield every input of a job that is a range: estimated from the name plate, assumed, or given as one."""
    estimated = {place_of(e.path, reading.frame) for e in reading.estimates}
    for estimate in reading.estimates:
        if estimate.arcs or (estimate.span is not None and not estimate.span.exact):
            yield _of_estimate(reading, estimate)
    for path, span, kind in _spans(reading.job, ""):
        if (
            path not in estimated
            and not span.exact
            and not _IDLE.match(path)
            and not _well_measured(path, span)
        ):
            yield _of_span(reading, path, span, kind)
    yield from _balances(reading)
    yield from _cleanliness(reading)


WELL_MEASURED = 0.03
"""Readings of one seat that lie this close are its form, not doubt about its size [mm]: common practice, no source."""


def _well_measured(path: str, span: Span) -> bool:
    """Whether the range is that of several readings of a good instrument."""
    return ".seat." in path and span.high - span.low <= WELL_MEASURED


def _of_estimate(reading: JobReading, estimate: Estimate) -> Uncertain:
    """Return an estimate: measured, what was estimated from it is estimated again."""
    ends = _ends_of(estimate)

    def at(end: str) -> Case:
        known = read_completed(measured(reading.frame, estimate.path, ends[end]))
        return Case(known.job, known.widening, True)

    asks, how = _way(estimate.path)
    return Uncertain(estimate.path, asks, ends["low"], ends["high"], how, at)


def _ends_of(estimate: Estimate) -> dict[str, str]:
    if estimate.arcs:
        (low, _), (_, high) = estimate.arcs[0], estimate.arcs[-1]
        if high - low >= 2 * math.pi:
            low, high = 0.0, math.pi
        return {
            "low": f"{math.degrees(low):.4g} deg",
            "likely": estimate.text,
            "high": f"{math.degrees(high):.4g} deg",
        }
    assert estimate.span is not None and estimate.kind is not None
    span, kind = estimate.span, estimate.kind
    return {end: text_of(Span.of(getattr(span, end)), kind) for end in ("low", "likely", "high")}


def _of_span(reading: JobReading, path: str, span: Span, kind: Kind) -> Uncertain:
    def at(end: str) -> Case:
        job = with_value(reading.job, path, Span.of(getattr(span, end)))
        return Case(job, reading.widening, not _STILL.match(path))

    named = _named(reading.job, path)
    asks, how = _way(named)
    low, high = (text_of(Span.of(end), kind) for end in (span.low, span.high))
    still = _STILL.match(path)
    own = reading.job.positions[int(still[1])].name if still and still[1] else ""
    return Uncertain(named, asks, low, high, how, at, own)


def _balances(reading: JobReading) -> Iterator[Uncertain]:
    """Yield the balance of each wheel: from what it was when new to what service leaves."""
    for i, wheel in enumerate(reading.job.loads):
        if not isinstance(wheel, FanWheel) or wheel.balance_grade == wheel.balance_in_service:
            continue
        low, high = sorted((wheel.balance_grade, wheel.balance_in_service))
        grades = {"low": low, "likely": 0.5 * (low + high), "high": high}

        def at(end: str, i: int = i, grades: dict[str, float] = grades) -> Case:
            job = with_value(reading.job, f"loads[{i}].balance_grade", grades[end])
            job = with_value(job, f"loads[{i}].balance_in_service", grades[end])
            return Case(job, reading.widening, True)

        path = f"loads[{wheel.name}].balance_in_service"
        asks, how = _way(path)
        yield Uncertain(path, asks, f"G {low:g}", f"G {high:g}", how, at)


def _cleanliness(reading: JobReading) -> Iterator[Uncertain]:
    """Yield the cleanliness of the lubricant where a cleaner and a dirtier end are given; likely is the dirtier."""
    oil = reading.job.lubricant
    order = list(Contamination)
    levels = sorted(oil.cleanliness if oil else (), key=order.index)
    if len(set(levels)) < 2:
        return
    ends = {"low": levels[0], "likely": levels[-1], "high": levels[-1]}

    def at(end: str) -> Case:
        return Case(with_value(reading.job, "lubricant.cleanliness", (ends[end],)), reading.widening, False)

    asks, how = _way("lubricant.cleanliness")
    yield Uncertain("lubricant.cleanliness", asks, levels[0].value, levels[-1].value, how, at)


def _spans(record: Any, path: str) -> Iterator[tuple[str, Span, Kind]]:
    """Yield every range in a record and in the records inside it, with its path and what it measures."""
    for info in fields_of(type(record)):
        value, here = getattr(record, info.name), f"{path}.{info.name}" if path else info.name
        if isinstance(value, Span) and isinstance(info.meta, Quantity):
            yield here, value, info.meta.kind
        elif dataclasses.is_dataclass(value) and not isinstance(value, (type, Span)):
            yield from _spans(value, here)
        elif isinstance(value, tuple):
            for i, item in enumerate(value):
                if dataclasses.is_dataclass(item):
                    yield from _spans(item, f"{here}[{i}]")


_ENTRY = re.compile(r"(loads|positions|duty)\[(\d+)\]")


def _named(job: Job, path: str) -> str:
    """Return a path that counts list entries as one that names them."""
    return _ENTRY.sub(lambda m: f"{m[1]}[{getattr(job, m[1])[int(m[2])].name}]", path)


def _way(path: str) -> tuple[str, str]:
    """Return what to do to know the value at a path, and with what."""
    name = path.rpartition(".")[2]
    asks, how = WAYS.get(name, (f"find the {name.replace('_', ' ')} of {{}}", "ask the site"))
    if path.endswith("seat.diameter"):
        asks, how = _SEAT
    if path == "machine.name_plate.power":
        asks, how = _PLATE
    owner = re.search(r"\[([^\]]*)\]", path)
    of = owner[1] if owner and not path.startswith("shaft.") else "the shaft"
    if path.startswith("positions["):
        asks = asks.replace(" in {}", " at {}")
    told = asks.format(of)
    return told[0].upper() + told[1:], how
