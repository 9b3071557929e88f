"""What a catalogue covers, what it leaves out, and that the map of blinded checks is the truth."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from halfbore.catalogue.coverage import BLINDS, UNTOLD, coverage, holes
from halfbore.demo.suppliers import load
from halfbore.domain.catalogue import Part
from halfbore.domain.check import State
from halfbore.domain.coverage import Blinded
from halfbore.domain.duty import Requirement
from halfbore.domain.fields import Quantity, fields_of
from halfbore.domain.unit import UnitTable
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.need import Need
from tests.selection.test_missing_data import PLACES, kinds
from tests.selection.units import demo_needs, duty, need, table

FOLLOWS = "root cause"
"""This check asks the others which of them cures what happened, and knows what they know."""
MEASURED = tuple(
    info.name for info in fields_of(UnitTable) if isinstance(info.meta, Quantity) and info.name != "bore"
)


@cache
def cases() -> tuple[tuple[Need, UnitTable], ...]:
    """Return needs that between them make every check speak, and units to be asked."""
    demo = [demo_needs(name)[index] for name, index in PLACES]
    thrust = duty(locating=True, axial_low=[2e3], axial_high=[3e3])
    soon = Requirement(life=60_000.0, latest_delivery=1000.0)
    made = [need(), need(thrust), need(required=soon)]
    both = table(2, locating=[False, True])
    return (*((asked, kinds(asked.nominal)) for asked in demo), *((asked, both) for asked in made))


def states(asked: Need, units: UnitTable) -> dict[str, np.ndarray[tuple[int], np.dtype[np.int8]]]:
    fresh = Need(asked.job, asked.index, asked.duty)
    return {check.name: check.column(fresh, units).state for check in CHECKS}


def test_every_check_speaks_in_some_case() -> None:
    spoken = {name for asked, units in cases() for name, s in states(asked, units).items() if (s == 0).any()}
    assert spoken == {check.name for check in CHECKS}


@pytest.mark.parametrize("field", MEASURED)
def test_a_datum_blinds_the_checks_that_the_map_says_and_no_other(field: str) -> None:
    blinded = set()
    for asked, units in cases():
        given = states(asked, units)
        without = replace(units, **{field: np.full_like(getattr(units, field), np.nan)})
        for name, state in states(asked, without).items():
            if (np.isin(state, (State.NO_DATA, State.OUTSIDE)) & (given[name] == State.NUMBER)).any():
                blinded.add(name)
    assert blinded - {FOLLOWS} == set(BLINDS.get(field, ()))


def test_a_datum_that_blinds_nothing_leaves_something_untold() -> None:
    assert set(BLINDS) | set(UNTOLD) == set(MEASURED)
    assert not set(BLINDS) & set(UNTOLD)


def test_what_the_first_demo_catalogue_covers() -> None:
    found = coverage(load("first"))
    assert (found.units, found.currency, found.invented) == (3320, "EUR", True)
    light, *_, heavy = found.sizes
    assert (light.row_size, len(light.metric), len(light.inch)) == (1, 43, 63)
    assert (light.metric[0], light.metric[-1]) == ("40 mm", "560 mm")
    assert (light.inch[0], light.inch[-1]) == ("1 7/16 in", "22 in")
    assert (heavy.row_size, heavy.metric[0], heavy.metric[-1]) == (4, "80 mm", "400 mm")
    assert sum(sizes.units for sizes in found.sizes) == found.units
    options = {(o.kind, o.word): o.units for o in found.options}
    assert options["support", "plain"] == 776
    assert options["hand", "left"] == options["hand", "right"] == 704
    assert options["flanges", "locating"] == 1660
    assert options["seals", "closed-end"] == 2852
    assert found.blinded == (Blinded("axial chain", 1660, ("flange_pv_limit",)),)
    assert [left.field for left in found.left] == ["support_price"]
    assert found.parts == (Part.BEARING, Part.SEALS, Part.SUPPORT)
    assert found.unproven == 0
    price = found.prices[0]
    assert (price.field, price.units, price.of) == ("price", 3320, 3320)
    assert price.least < price.middle < price.most
    assert (found.lead_time.least, found.lead_time.most) == (168.0, 16 * 168.0)


def test_a_check_is_blind_in_the_units_that_lack_any_of_its_data() -> None:
    units = load("first").units.take(slice(0, 10))
    length, width = units.length.copy(), units.width.copy()
    length[:4], width[2:6] = np.nan, np.nan
    found = coverage(replace(load("first"), units=replace(units, length=length, width=width)))
    (room,) = (b for b in found.blinded if b.check == "room")
    assert room == Blinded("room", 6, ("length", "width"))


def test_ratings_without_geometry_are_counted_and_nobody_is_turned_away() -> None:
    units = load("first").units.take(slice(0, 10))
    rollers = units.rollers.copy()
    rollers[3:] = np.nan
    catalogue = replace(load("first"), units=replace(units, rollers=rollers))
    assert coverage(catalogue).unproven == 7
    assert {hole.field for hole in holes(catalogue.units)} >= {"rollers"}


def test_no_prices_at_all() -> None:
    units = load("first").units.take(slice(0, 10))
    blank = {
        name: np.full_like(getattr(units, name), np.nan) for name in ("price", "bearing_price", "seal_price")
    }
    found = coverage(replace(load("first"), units=replace(units, **blank)))
    assert all(given.units == 0 and np.isnan(given.least) for given in found.prices)
    assert {left.field for left in found.left} >= {"price", "bearing_price", "seal_price", "support_price"}


def test_a_clearance_group_that_is_not_given_is_not_offered_and_no_hole() -> None:
    units = load("first").units.take(slice(0, 10))
    least, most = units.clearance_min.copy(), units.clearance_max.copy()
    least[:, 1:], most[:, 1:] = np.nan, np.nan
    one_group = replace(units, clearance_min=least, clearance_max=most)
    assert not {h.field for h in holes(one_group)} & {"clearance_min", "clearance_max"}
    groups = [
        o.units for o in coverage(replace(load("first"), units=one_group)).options if o.kind == "clearance"
    ]
    assert groups == [10, 0, 0]
    least[3], most[4] = np.nan, np.nan
    found = {
        h.field: (h.missing, h.of) for h in holes(replace(units, clearance_min=least, clearance_max=most))
    }
    assert found["clearance_min"] == (1, 10)
    assert found["clearance_max"] == (1, 9)
