"""A job of which little is measured, filled in from the name plate with wide, stated ranges."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

from halfbore.domain.estimate import Completed, Widening
from halfbore.errors import InputError
from halfbore.estimate import kinds, parts, places, shaft
from halfbore.estimate.plate import Plate, running
from halfbore.estimate.typed import Sheet


def completed(data: Mapping[str, Any]) -> Completed:
    """Fill in everything that loads and reactions need and that the survey does not give.

    data: plain data of a job, as typed. Nothing is filled in without a name plate, nor where nothing is missing.
    Returns the job as plain data with one Estimate for each value that was filled in.
    Raises InputError that says what to read off which plate, where the plate lacks what is needed.
    """
    sheet = Sheet.of(data)
    if not isinstance(sheet.machine.get("name_plate"), dict) or sheet.kind is None:
        return Completed(dict(data), sheet.frame)
    widening = _filled(sheet)
    if sheet.problems:
        raise InputError(sheet.problems)
    if not sheet.estimates:
        return Completed(dict(data), sheet.frame)
    return Completed(sheet.data, sheet.frame, tuple(sheet.estimates), widening)


def _filled(sheet: Sheet) -> Widening:
    """Fill a job in, from the frame over the places to the parts; each step rests on those before it."""
    plate = Plate(sheet)
    kinds.framed(sheet)
    running(sheet, plate)
    size = shaft.diameter(sheet, plate)
    if size is None:
        return Widening()
    layouts = places.laid_out(sheet, size)
    loads = sheet.entries("loads")
    of_kind = Counter(load.get("kind") for load in loads)
    found = [
        parts.Part(sheet, plate, size, load, i, of_kind[load.get("kind")]) for i, load in enumerate(loads)
    ]
    for part in found:
        parts.filled(part)
    return Widening(
        layouts,
        tuple(d for part in found for d in part.dimensions),
        tuple((part.name, part.arcs) for part in found if part.arcs),
        tuple(part.name for part in found if _rests_on(sheet, part, weight=True)),
        tuple(part.name for part in found if _rests_on(sheet, part, weight=False)),
    )


PLACES = ("x", "length")


def _rests_on(sheet: Sheet, part: parts.Part, weight: bool) -> bool:
    """Whether the weight of a part, or another force of it, rests on an estimate."""
    fields = {
        e.path.removeprefix(f"{part.place}.") for e in sheet.estimates if e.path.startswith(f"{part.place}.")
    }
    return "mass" in fields if weight else bool(fields - {"mass", *PLACES})
