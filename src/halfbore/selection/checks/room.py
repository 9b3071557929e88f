"""Room along and beside the shaft and above it."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.position import EntrySide
from halfbore.domain.unit import Hand, Support, UnitTable
from halfbore.selection.check import Check, Outcome, Wish, column, one
from halfbore.selection.need import Floats, Need
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

_SURVEY = Source("survey and supplier's unit table", "", Status.GIVEN)


def _parts(need: Need, units: UnitTable) -> Floats:
    """Return the part of the room used towards drive end, free end, beside and above (4, n)."""
    room = need.position.room
    half = units.length / 2.0
    along = [_share(half, room.plain_left), _share(half, room.plain_right)]
    side = np.where(units.support == Support.SIDE_ENTRY, units.width, units.width / 2.0)
    beside = _share(side, room.beside)
    beside = np.where((units.support == Support.SIDE_ENTRY) | ~np.isnan(beside), beside, 0.0)
    above = np.zeros(len(units)) if room.headroom is None else units.height / room.headroom
    return np.stack([*along, beside, above])


def _share(need: Floats, free: float | None) -> Floats:
    if free is None:
        return np.full(len(need), np.nan)
    with np.errstate(divide="ignore"):
        return need / free


def _side_open(need: Need, units: UnitTable) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Return which units come in from a side that is open; every unit where the survey does not say."""
    side = need.position.room.entry_side
    if side is None or side is EntrySide.BOTH:
        return np.ones(len(units), dtype=np.bool_)
    hand = {EntrySide.LEFT: Hand.LEFT, EntrySide.RIGHT: Hand.RIGHT, EntrySide.NEITHER: None}[side]
    right = units.hand == (-1 if hand is None else int(hand))
    return np.asarray((units.support != Support.SIDE_ENTRY) | right)


def _column(need: Need, units: UnitTable) -> Column:
    used = _parts(need, units).max(0)
    used = np.where(_side_open(need, units), used, np.inf)
    return column(used, used, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    room = need.position.room
    if not _side_open(need, unit)[0]:
        side = room.entry_side.value if room.entry_side else ""
        return Outcome(f"comes in from a side that is closed; open: {side}", (_SURVEY,), kind=Kind.LENGTH)
    parts = _parts(need, unit)[:, 0]
    if np.isnan(parts).any():
        names = (
            "plain shaft towards the drive end",
            "plain shaft towards the free end",
            "free width beside the shaft",
            "headroom",
        )
        missing = [name for name, value in zip(names, parts, strict=True) if np.isnan(value)]
        return Outcome(
            "the room was not surveyed in full",
            (_SURVEY,),
            kind=Kind.LENGTH,
            datum=f"{' and '.join(missing)}, from the site",
        )
    governs = int(parts.argmax())
    half, width, height = one(unit.length) / 2, one(unit.width), one(unit.height)
    side_entry = unit.support[0] == Support.SIDE_ENTRY
    takes = (half, half, width if side_entry else width / 2, height)[governs]
    free = (room.plain_left, room.plain_right, room.beside, room.headroom)[governs] or 0.0
    where = (
        f"from the middle towards the drive end{_what(room.left_is)}",
        f"from the middle towards the free end{_what(room.right_is)}",
        "beside the shaft",
        "above the shaft",
    )[governs]
    over = f", {takes - free:.0f} mm too much" if takes > free else ""
    return Outcome(
        f"{takes:.0f} of {free:.0f} mm {where}{over}",
        (_SURVEY,),
        Span(takes, takes, takes),
        Span(free, free, free),
        Kind.LENGTH,
    )


def _what(name: str) -> str:
    return f" ({name})" if name else ""


def _relax(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    parts = _parts(need, unit)[:, 0]
    if not _side_open(need, unit)[0] or np.isnan(parts).any():
        return ()
    fields = ("plain_left", "plain_right", "beside", "headroom")
    width = one(unit.width) if unit.support[0] == Support.SIDE_ENTRY else one(unit.width) / 2
    takes = (one(unit.length) / 2, one(unit.length) / 2, width, one(unit.height))
    return tuple(
        Wish(
            f"positions[{need.index}].room.{name}",
            float(np.ceil(size / 0.9)),
            f"free room, {name.replace('_', ' ')}",
        )
        for name, size, used in zip(fields, takes, parts, strict=True)
        if used > 0.9
    )


CHECK = Check("room", "Room", _column, _outcome, relax=_relax)
