"""The shaft's diameter where it is not measured: as the seat, or from its torque."""

from __future__ import annotations

import math

from halfbore.estimate.plate import POWER, Plate
from halfbore.estimate.practice import LIKE_SHAFTS, SIZES, WORDS, stress_of
from halfbore.estimate.spans import over, power, rounded, text_of, times
from halfbore.estimate.typed import Plain, Sheet, given, read_positive, table
from halfbore.units import Kind, Span


def segments(sheet: Sheet) -> list[Plain]:
    """Return the segments of the shaft, with one of no known length where none is given."""
    shaft = sheet.data.setdefault("shaft", {})
    if isinstance(shaft, dict) and "segments" not in shaft:
        shaft["segments"] = [{}]
    found = table(sheet.data, "shaft").get("segments")
    found = [found] if isinstance(found, dict) else found
    return [s for s in found if isinstance(s, dict)] if isinstance(found, list) else []


def diameter(sheet: Sheet, plate: Plate) -> Span | None:
    """Return the diameter of the shaft with its range [mm], filled in where it is not given.

    Of several segments the thinnest counts: distances and sizes are told in diameters of the bearing seats.
    """
    missing = [(i, s) for i, s in enumerate(segments(sheet)) if not given(s, "diameter")]
    known = [read_positive(s, "diameter", Kind.LENGTH) for s in segments(sheet)]
    typed = [d for d in known if d is not None]
    if not missing:
        return min(typed, key=lambda d: d.likely, default=None)
    seat = _of_a_seat(sheet)
    found = seat or _of_torque(sheet, plate)
    if found is None:
        return None
    why = (
        "as the bearing seat"
        if seat
        else f"from the rated torque and a nominal stress of {text_of(stress_of(sheet.kind), Kind.STRESS)}"
    )
    needs = () if seat else (POWER,)
    source = WORDS if seat else LIKE_SHAFTS
    for i, segment in missing:
        sheet.fill_one(segment, f"shaft.segments[{i}]", "diameter", found, Kind.LENGTH, why, source, needs)
    return min([found, *typed], key=lambda d: d.likely)


def _of_a_seat(sheet: Sheet) -> Span | None:
    for position in sheet.entries("positions"):
        seat = table(position, "seat")
        found = read_positive(seat, "nominal", Kind.LENGTH) or read_positive(seat, "diameter", Kind.LENGTH)
        if found is not None:
            return Span.of(found.likely)
    return None


def _of_torque(sheet: Sheet, plate: Plate) -> Span | None:
    """Return the diameter at which the rated torque makes a nominal stress [mm]: d³ = 16·M/(π·τ)."""
    if plate.torque is None:
        return None
    cube = times(16e3 / math.pi, over(plate.torque, stress_of(sheet.kind)))
    span = rounded(power(cube, 1 / 3), Kind.LENGTH)
    size = float(min(SIZES, key=lambda s: abs(s - span.likely)))
    return Span(span.low, min(max(size, span.low), span.high), span.high)
