"""Whether the units of a catalogue hold together: codes, limits, ends of ranges, ratings against geometry."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from halfbore.domain.fields import FieldInfo, Quantity, fields_of
from halfbore.domain.unit import COLUMNS, Hand, Support, UnitTable
from halfbore.errors import Problem
from halfbore.standards import iso76_2006, iso281_2007
from halfbore.units import INTERNAL

Place = Callable[[int, str], str]
"""Row of a unit and field → where that stands in the supplier's file."""

RATING_TOLERANCE = 0.15
"""Part by which a rating may differ from what its geometry yields; common practice, no source."""
_ENDS = (("clearance_min", "clearance_max"), ("seat_lower", "seat_upper"), ("bore", "inner_raceway"))


def problems(units: UnitTable, place: Place) -> Iterator[Problem]:
    """Yield everything that keeps the units from being used."""
    yield from _doubles(units, place)
    yield from _past_limits(units, place)
    inside = _inside(units)
    yield from _exchanged(inside, place)
    yield from _hands(inside, place)
    yield from _crowded(inside, place)
    yield from _ratings(inside, place)


def oddities(units: UnitTable) -> Iterator[str]:
    """Yield a sentence for every field in which values lie outside their plausible range."""
    for info, meta in _quantities():
        if meta.plausible:
            low, high = meta.plausible
            values = getattr(units, info.name)
            odd = _outside(values, low, high)
            if odd.any():
                count = int((odd.any(axis=1) if odd.ndim == 2 else odd).sum())
                unit = INTERNAL[meta.kind]
                seen = f"{values[odd].min():g} to {values[odd].max():g} {unit}".strip()
                common = f"{low:g} to {high:g} {unit}".strip()
                yield f"{meta.help}: {seen} in {count} of {len(values)} units; {common} is common"


def _quantities() -> Iterator[tuple[FieldInfo, Quantity]]:
    for info in fields_of(UnitTable):
        if isinstance(info.meta, Quantity):
            yield info, info.meta


def _outside(values: NDArray[np.float64], low: float, high: float) -> NDArray[np.bool_]:
    """Return which values lie outside; what is not given does not."""
    return np.asarray(
        (values < low * (1 - 1e-9 * np.sign(low))) | (values > high * (1 + 1e-9 * np.sign(high)))
    )


def _inside(units: UnitTable) -> UnitTable:
    """Return the units with what is past its limits taken as not given: it is told, and nothing is reckoned from it."""
    limited = ((info.name, *meta.limits) for info, meta in _quantities() if meta.limits)
    kept = {
        name: np.where(_outside(values := getattr(units, name), low, high), np.nan, values)
        for name, low, high in limited
    }
    return replace(units, **kept)


def _doubles(units: UnitTable, place: Place) -> Iterator[Problem]:
    first: dict[str, int] = {}
    for i, code in enumerate(units.code.tolist()):
        if first.setdefault(code, i) != i:
            where, other = place(i, "code"), place(first[code], "code")
            yield Problem("two units have one code", where, code, f"see {other}")


def _past_limits(units: UnitTable, place: Place) -> Iterator[Problem]:
    for info, meta in _quantities():
        if not meta.limits:
            continue
        low, high = meta.limits
        values, unit = getattr(units, info.name), INTERNAL[meta.kind]
        for index in np.argwhere(_outside(values, low, high)):
            path = f"{info.name}.{COLUMNS[info.name][index[1]]}" if len(index) == 2 else info.name
            read = f"{values[tuple(index)]:g} {unit}".strip()
            accepted = f"{low:g} to {high:g} {unit}".strip()
            yield Problem(f"{meta.help} is out of bounds", place(int(index[0]), path), read, accepted)


def _exchanged(units: UnitTable, place: Place) -> Iterator[Problem]:
    for low_name, high_name in _ENDS:
        low, high = getattr(units, low_name), getattr(units, high_name)
        for index in np.argwhere(low > high):
            at = tuple(index)
            path = f"{low_name}.{COLUMNS[low_name][index[1]]}" if len(index) == 2 else low_name
            accepted = f"at most {high[at]:g} mm, the {high_name.replace('_', ' ')}"
            yield Problem("the ends are exchanged", place(int(index[0]), path), f"{low[at]:g} mm", accepted)


def _hands(units: UnitTable, place: Place) -> Iterator[Problem]:
    wrong = (units.support == Support.SIDE_ENTRY) == (units.hand == Hand.NONE)
    for i in np.flatnonzero(wrong).tolist():
        support, hand = Support(int(units.support[i])).word, Hand(int(units.hand[i])).word
        accepted = "left or right for side-entry, none for any other support"
        yield Problem("support and hand do not agree", place(i, "hand"), f"{support}, {hand}", accepted)


def _crowded(units: UnitTable, place: Place) -> Iterator[Problem]:
    """Yield the rows in which the rollers do not go round their pitch circle, or do not clear the shaft."""
    around = np.pi * units.pitch_diameter
    for i in np.flatnonzero(units.rollers * units.roller_diameter > around).tolist():
        read = f"{units.rollers[i]:g} rollers of {units.roller_diameter[i]:g} mm"
        accepted = f"{around[i]:.4g} mm round the pitch circle"
        yield Problem("the rollers do not go round", place(i, "rollers"), read, accepted)
    for i in np.flatnonzero(units.pitch_diameter - units.roller_diameter <= units.bore).tolist():
        accepted = f"over {units.bore[i] + units.roller_diameter[i]:g} mm"
        read = f"{units.pitch_diameter[i]:g} mm"
        yield Problem("the rollers run into the shaft", place(i, "pitch_diameter"), read, accepted)


def _ratings(units: UnitTable, place: Place) -> Iterator[Problem]:
    """Yield the ratings that the roller geometry does not yield.

    ISO 281:2007, 7.1; ISO 76:2006.
    """
    computed = {
        "dynamic_rating": (dynamic_by_geometry(units), "C_r", "ISO 281:2007"),
        "static_rating": (static_by_geometry(units), "C_0r", "ISO 76:2006"),
    }
    for name, (by_geometry, symbol, standard) in computed.items():
        given = getattr(units, name)
        with np.errstate(invalid="ignore"):
            wrong = np.abs(given / by_geometry - 1) > RATING_TOLERANCE
        for i in np.flatnonzero(wrong).tolist():
            share = 100 * (given[i] / by_geometry[i] - 1)
            read = f"{symbol} {given[i] / 1000:.4g} kN, {abs(share):.1f} % {'over' if share > 0 else 'under'}"
            yields = f"{by_geometry[i] / 1000:.4g} kN by {standard} from Z {units.rollers[i]:g}, "
            yields += f"D_we {units.roller_diameter[i]:.4g}, L_we {units.roller_length[i]:.4g}, "
            yields += f"D_pw {units.pitch_diameter[i]:.4g} mm, within {RATING_TOLERANCE:.0%}"
            yield Problem("the rating is not what its rollers yield", place(i, name), read, yields)


def dynamic_by_geometry(units: UnitTable) -> NDArray[np.float64]:
    """Return the basic dynamic radial load rating that the rollers yield [N]; NaN where geometry is not given.

    ISO 281:2007, 7.1.
    """
    g = iso281_2007.gamma(units.roller_diameter, 0.0, units.pitch_diameter)
    b_m = iso281_2007.b_m(iso281_2007.RollerBearingKind.CYLINDRICAL)
    rating = iso281_2007.basic_dynamic_radial_load_rating(
        b_m, iso281_2007.f_c(g), units.rows, units.roller_length, 0.0, units.rollers, units.roller_diameter
    )
    return np.asarray(rating)


def static_by_geometry(units: UnitTable) -> NDArray[np.float64]:
    """Return the basic static radial load rating that the rollers yield [N]; NaN where geometry is not given.

    ISO 76:2006.
    """
    rating = iso76_2006.basic_static_radial_load_rating(
        units.rows, units.rollers, units.roller_length, units.roller_diameter, 0.0, units.pitch_diameter
    )
    return np.asarray(rating)
