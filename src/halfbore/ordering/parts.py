"""What an order consists of: the unit with its seals, and the spares that go with it."""

from __future__ import annotations

from dataclasses import replace
from math import nan

import numpy as np

from halfbore.domain.catalogue import Catalogue, Part
from halfbore.domain.order import Item, Specification
from halfbore.domain.unit import Hand, SealKind, Support, UnitTable
from halfbore.errors import InputError, Problem
from halfbore.ordering.scheme import write_code
from halfbore.ordering.words import SEALS, describe

SIDES = ("drive end side", "free end side")


def specification_of(
    unit: UnitTable, seal_left: int, seal_right: int, clearance: int, part: Part = Part.UNIT
) -> Specification:
    """Return what is ordered when a unit is built with these seals and this clearance.

    unit: one row; seal_left, seal_right: columns of the seal arrays; clearance: column of the clearance arrays.
    Raises InputError when one of them is none, or a seal is not offered.
    """
    for side, seal in zip(SIDES, (seal_left, seal_right), strict=True):
        offered = [kind.word for kind in SealKind if unit.seal_offered[0, kind]]
        if seal < 0 or not unit.seal_offered[0, seal]:
            asked = SealKind(seal).word if seal >= 0 else "none"
            what = f"the unit has no such seal at the {side}"
            raise InputError(Problem(what, str(unit.code[0]), asked, ", ".join(offered)))
    if not 0 <= clearance < unit.clearance_min.shape[1]:
        raise InputError(Problem("no clearance group is chosen", str(unit.code[0]), str(clearance + 1)))
    return Specification(
        supplier=str(unit.supplier[0]),
        part=part,
        size=str(unit.size[0]),
        row_size=int(unit.row_size[0]),
        locating=bool(unit.locating[0]),
        support=Support(int(unit.support[0])).word,
        hand=Hand(int(unit.hand[0])).word,
        seal_left=SealKind(seal_left).word,
        seal_right=SealKind(seal_right).word,
        clearance=clearance + 1,
    )


def unit_of(specification: Specification, units: UnitTable) -> UnitTable:
    """Return the unit that a specification asks for, as a one-row table.

    Raises InputError when the supplier makes none, or not with these seals; the sizes near it are named.
    """
    s = specification
    alike = (units.supplier == s.supplier) & (units.size == s.size)
    wanted = alike & (units.row_size == s.row_size) & (units.locating == s.locating)
    wanted &= (units.support == Support.words()[s.support]) & (units.hand == Hand.words()[s.hand])
    found = np.flatnonzero(wanted)
    if not len(found):
        near = ", ".join(units.code[alike][:8].tolist())
        raise InputError(Problem("the supplier makes no such unit", "order", describe(s), near))
    unit = units.row(int(found[0]))
    kinds = SealKind.words()
    specification_of(unit, kinds[s.seal_left], kinds[s.seal_right], s.clearance - 1)
    return unit


def items_of(specification: Specification, unit: UnitTable, catalogue: Catalogue) -> tuple[Item, ...]:
    """Return what is delivered: the unit, and the seals that its code names."""
    seals = (specification.seal_left, specification.seal_right)
    code = write_code(specification, catalogue.scheme)
    return (
        _item(unit, Part.UNIT, code, describe(specification), unit.mass[0], unit.price[0], unit.lead_time[0]),
        *(
            _item(
                unit,
                "seal",
                "",
                f"{SEALS[seal]} at the {side}, in the code of the unit",
                nan,
                _price(unit, seal),
            )
            for side, seal in zip(SIDES, seals, strict=True)
        ),
    )


def spares_of(specification: Specification, unit: UnitTable, catalogue: Catalogue) -> tuple[Item, ...]:
    """Return the spares: matched halves never come one by one, so a bearing is a whole set."""
    masses = {Part.BEARING: unit.bearing_mass[0], Part.SEALS: nan, Part.SUPPORT: unit.support_mass[0]}
    prices = {
        Part.BEARING: unit.bearing_price[0],
        Part.SEALS: _price(unit, specification.seal_left) + _price(unit, specification.seal_right),
        Part.SUPPORT: unit.support_price[0],
    }
    spares = []
    for _, part in catalogue.scheme.spares:
        asked = replace(specification, part=part)
        code = write_code(asked, catalogue.scheme)
        spares.append(_item(unit, part, code, _HOLDS[part] + describe(asked), masses[part], prices[part]))
    return tuple(spares)


_HOLDS = {
    Part.BEARING: "matched halves of both rings, cage with rollers, clamping rings and screws; ",
    Part.SEALS: "one seal a side; ",
    Part.SUPPORT: "without housing and bearing; ",
}


def _price(unit: UnitTable, seal: str) -> float:
    return float(unit.seal_price[0, SealKind.words()[seal]])


def _item(
    unit: UnitTable, part: str, code: str, words: str, mass: float, price: float, lead_time: float = nan
) -> Item:
    return Item(1, str(part), code, words, float(mass), float(price), str(unit.currency[0]), float(lead_time))
