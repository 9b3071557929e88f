"""What may be found when the shaft is bare, how likely, and the hours that it adds.

Chances and hours are common practice without a source. A seat that was measured narrows them.
"""

from __future__ import annotations

from enum import StrEnum

from halfbore.domain.plan import Branch
from halfbore.domain.position import Position
from halfbore.domain.unit import UnitTable
from halfbore.units import Span


class SeatState(StrEnum):
    """What is known of the seat before the shaft is bare."""

    GOOD = "measured, within the unit's limits"
    NOT_MEASURED = "not measured, or not compared with limits"
    POOR = "measured, outside the unit's limits"
    SEIZED = "the old bearing has seized on it"


def _branches(outcomes: dict[str, Span], chances: tuple[float, ...]) -> tuple[Branch, ...]:
    return tuple(
        Branch(name, chance, hours) for (name, hours), chance in zip(outcomes.items(), chances, strict=True)
    )


_SPLIT = {
    "seat good": Span(0.0, 0.0, 0.0),
    "dress the seat": Span(0.5, 1.0, 2.0),
    "undersize unit on hand": Span(0.5, 1.0, 2.5),
    "sleeve the shaft": Span(4.0, 6.0, 12.0),
    "back out to the old type on the shelf": Span(5.0, 9.0, 18.0),
    "weld repair": Span(8.0, 14.0, 24.0),
}
SPLIT_SEAT = {
    SeatState.GOOD: _branches(_SPLIT, (0.88, 0.09, 0.01, 0.01, 0.005, 0.005)),
    SeatState.NOT_MEASURED: _branches(_SPLIT, (0.55, 0.25, 0.05, 0.06, 0.05, 0.04)),
    SeatState.POOR: _branches(_SPLIT, (0.10, 0.30, 0.25, 0.15, 0.10, 0.10)),
    SeatState.SEIZED: _branches(_SPLIT, (0.25, 0.40, 0.10, 0.10, 0.08, 0.07)),
}

_ONE_PIECE = {
    "seat good": Span(0.0, 0.0, 0.0),
    "dress the seat": Span(0.5, 1.0, 2.0),
    "sleeve or weld repair": Span(5.0, 9.0, 20.0),
}
ONE_PIECE_SEAT = {
    SeatState.GOOD: _branches(_ONE_PIECE, (0.90, 0.095, 0.005)),
    SeatState.NOT_MEASURED: _branches(_ONE_PIECE, (0.75, 0.22, 0.03)),
    SeatState.POOR: _branches(_ONE_PIECE, (0.45, 0.40, 0.15)),
    SeatState.SEIZED: _branches(_ONE_PIECE, (0.35, 0.45, 0.20)),
}
REPEAT_SEAT = _branches(_ONE_PIECE, (0.60, 0.33, 0.07))
"""Under a split unit that has seized; one that has not is only inspected."""


def seat_state(position: Position, unit: UnitTable) -> SeatState:
    """Return what the survey says of the seat against the limits of a unit.

    position: with the measured diameter and form; unit: one row, whose limits may be missing (NaN).
    """
    seat = position.seat
    if seat.diameter is None:
        return SeatState.NOT_MEASURED
    bore, lower, upper, form = (
        float(column[0]) for column in (unit.bore, unit.seat_lower, unit.seat_upper, unit.seat_form)
    )
    too_rough = seat.form_error is not None and seat.form_error.high > form
    if seat.diameter.low - bore < lower or seat.diameter.high - bore > upper or too_rough:
        return SeatState.POOR
    compared = seat.diameter.low - bore >= lower and seat.diameter.high - bore <= upper
    if compared and seat.form_error is not None and seat.form_error.high <= form:
        return SeatState.GOOD
    return SeatState.NOT_MEASURED
