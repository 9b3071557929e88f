"""Room along and beside the shaft and above it, and the side from which the unit comes in."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.position import EntrySide
from halfbore.domain.unit import Hand, Support, UnitTable
from halfbore.phrases import listed, mm, phrase
from halfbore.selection.check import EXACT, Check, Outcome, Wish, column, exactly, given, one, worst
from halfbore.selection.need import Floats, Need
from halfbore.sources import Source, Status
from halfbore.units import Kind

EASED = 0.90
"""Room that is made leaves the reserve of a check that holds."""

_SURVEY = Source("survey and supplier's unit table", "", Status.GIVEN)
FIELDS = ("plain_left", "plain_right", "beside", "headroom")
_WORDS = (
    "plain shaft towards the drive end",
    "plain shaft towards the free end",
    "free width beside the shaft",
    "headroom",
)
_DIMENSIONS = ("length", "length", "width", "height")
_OTHER_END = {0: 1, 1: 0}
_HANDS = {EntrySide.LEFT: Hand.LEFT, EntrySide.RIGHT: Hand.RIGHT}


def _takes(units: UnitTable) -> Floats:
    """Return what a unit takes towards drive end, towards free end, beside and above the shaft (4, n) [mm].

    A side-entry pedestal stands beside the shaft with its whole width before it goes under it.
    """
    half = units.length / 2.0
    side_entry = units.support == Support.SIDE_ENTRY
    return np.stack([half, half, np.where(side_entry, units.width, units.width / 2.0), units.height])


def free_room(need: Need) -> Floats:
    """Return the free room in the order of FIELDS [mm]; NaN where it was not surveyed."""
    return np.array([getattr(need.position.room, name) for name in FIELDS], dtype=np.float64)


def _parts(need: Need, units: UnitTable) -> Floats:
    """Return the part of the room used (4, n).

    Room beside the shaft is asked of a side-entry pedestal only, and headroom only limits where it was surveyed:
    where an old housing stood, another one stands.
    """
    with np.errstate(divide="ignore"):
        used = _takes(units) / free_room(need)[:, None]
    spare = np.zeros_like(used, dtype=np.bool_)
    spare[2] = units.support != Support.SIDE_ENTRY
    spare[3] = True
    used[spare & np.isnan(free_room(need))[:, None]] = 0.0
    return used


def _entry(need: Need, units: UnitTable) -> Floats:
    """Return nothing for a unit that can come in, without bound for one whose side is closed (n)."""
    enters = units.support == Support.SIDE_ENTRY
    side = need.position.room.entry_side
    if side is None:
        return np.where(enters, np.nan, 0.0)
    if side is EntrySide.BOTH:
        return np.zeros(len(units))
    if side in _HANDS:
        enters = enters & (units.hand != _HANDS[side]) & (units.hand != Hand.NONE)
    return np.where(enters, np.inf, 0.0)


def _column(need: Need, units: UnitTable) -> Column:
    used = worst(np.concatenate([_parts(need, units), _entry(need, units)[None, :]]))
    return column(used, used, len(units))


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    room, entry = need.position.room, one(_entry(need, unit))
    if np.isinf(entry):
        open_side = room.entry_side.value if room.entry_side else ""
        return Outcome(
            f"comes in from a side that is closed; open: {open_side}", (_SURVEY,), kind=Kind.LENGTH
        )
    parts, takes, free = _parts(need, unit)[:, 0], _takes(unit)[:, 0], free_room(need)
    governs = int(np.nan_to_num(parts).argmax())
    details = tuple(
        (
            word,
            "not surveyed"
            if np.isnan(f)
            else phrase("{}, {} free", given(mm(float(t), digits=3)), mm(float(f))),
        )
        for word, t, f in zip(_WORDS, takes, free, strict=True)
    )
    if not parts[governs] > 1.0 + EXACT and np.isnan(parts.sum() + entry):
        site, dimensions = _missing(parts, free, entry)
        return Outcome(
            " and ".join(
                f"{listed(words)} not {done}"
                for words, done in ((site, "surveyed"), (dimensions, "given"))
                if words
            ),
            (_SURVEY,),
            kind=Kind.LENGTH,
            datum=_datum(site, dimensions),
            details=details,
        )
    where = (
        f"from the middle towards the drive end{_what(room.left_is)}",
        f"from the middle towards the free end{_what(room.right_is)}",
        "beside the shaft",
        "above the shaft",
    )[governs]
    over = phrase(", {} too much", mm(takes[governs] - free[governs])) if parts[governs] > 1 else ""
    return Outcome(
        phrase(
            "{} of {} {}{}{}",
            mm(takes[governs], bare=True),
            mm(free[governs]),
            where,
            over,
            _moved(takes, free, governs),
        ),
        (_SURVEY,),
        exactly(float(takes[governs])),
        exactly(float(free[governs])),
        Kind.LENGTH,
        details=details,
    )


def _moved(takes: Floats, free: Floats, side: int) -> str:
    """Return how far along the shaft the unit would find room on both sides, and how far with the reserve of a holding check.

    Nothing where it needs no more room or has none.
    """
    if side not in _OTHER_END:
        return ""
    over, spare = takes[side] - free[side], free[_OTHER_END[side]] - takes[_OTHER_END[side]]
    if not 0.0 < over <= spare:
        return ""
    end = ("free", "drive")[side]
    eased = np.ceil(takes[side] / EASED) - free[side]
    moved = phrase("; {} nearer the {} end it has room on both sides", mm(np.ceil(over)), end)
    return phrase("{}, {} with a tenth to spare", moved, mm(eased)) if eased <= spare else moved


def _missing(parts: Floats, free: Floats, entry: float) -> tuple[list[str], list[str]]:
    """Return what the site did not survey and which dimensions the supplier does not give."""
    unknown = np.isnan(parts)
    site = [word for word, u, f in zip(_WORDS, unknown, free, strict=True) if u and np.isnan(f)]
    site += ["side from which a support can be brought in"] if np.isnan(entry) else []
    given = unknown & ~np.isnan(free)
    return site, list(dict.fromkeys(word for word, u in zip(_DIMENSIONS, given, strict=True) if u))


def _datum(site: list[str], dimensions: list[str]) -> str:
    asked = [(site, "the site"), (dimensions, "the supplier")]
    return "; ".join(f"{listed(words)}, from {who}" for words, who in asked if words)


def _what(name: str) -> str:
    return f" ({name})" if name else ""


def _relax(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    """Make room where there is too little."""
    if one(_entry(need, unit)) != 0.0:
        return ()
    return tuple(
        Wish(f"positions[{need.index}].room.{name}", float(np.ceil(takes / EASED)), word, Kind.LENGTH)
        for name, word, takes, used in zip(
            FIELDS, _WORDS, _takes(unit)[:, 0], _parts(need, unit)[:, 0], strict=True
        )
        if used > 1.0 + EXACT
    )


CHECK = Check("room", "Room", _column, _outcome, relax=_relax)
