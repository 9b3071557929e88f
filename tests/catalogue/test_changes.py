"""Two versions of a catalogue held against each other, and what that means for codes in use."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from halfbore.catalogue.changes import changes, concerned
from halfbore.demo.suppliers import load
from halfbore.domain.catalogue import Catalogue, Letters, TaggedScheme
from halfbore.domain.coverage import FieldChange
from halfbore.domain.unit import SealKind, Support, joined
from halfbore.errors import InputError
from halfbore.ordering.parts import specification_of


@pytest.fixture
def old() -> Catalogue:
    whole = load("first")
    return replace(whole, units=whole.units.take(np.flatnonzero(whole.units.size == "100 mm")))


def newer(catalogue: Catalogue, **columns: Any) -> Catalogue:
    return replace(catalogue, version="next", units=replace(catalogue.units, **columns))


def put(catalogue: Catalogue, field: str, row: Any, value: Any) -> Catalogue:
    column = getattr(catalogue.units, field).copy()
    column[row] = value
    return newer(catalogue, **{field: column})


def test_nothing_changed(old: Catalogue) -> None:
    found = changes(old, newer(old))
    assert found.none
    assert (found.old, found.new, found.same) == ("2026-1", "next", len(old.units))


def test_blank_stays_blank_and_rounding_is_no_change(old: Catalogue) -> None:
    assert np.isnan(old.units.support_price).all()
    assert changes(old, newer(old, mass=old.units.mass * (1 + 1e-12))).none


def test_added_and_withdrawn_are_the_same_seen_from_both_sides(old: Catalogue) -> None:
    fewer = replace(old, version="next", units=old.units.take(slice(3, None)))
    gone = tuple(old.units.code[:3].tolist())
    assert changes(old, fewer).withdrawn == gone
    assert changes(old, fewer).added == ()
    assert changes(fewer, old).added == gone


@pytest.mark.parametrize(
    ("field", "row", "value", "told"),
    [
        ("dynamic_rating", 2, 250e3, ("dynamic_rating", 250e3)),
        ("mass", 1, np.nan, ("mass", np.nan)),
        ("clearance_min", (1, 2), 0.2, ("clearance_min.3", 0.2)),
        ("locating", 0, True, ("locating", "yes")),
        ("support", 0, int(Support.FLANGE), ("support", "flange")),
        ("size", 0, "100", ("size", "100")),
        ("seal_offered", (0, SealKind.LABYRINTH), False, ("seal_offered.labyrinth", "no")),
    ],
)
def test_each_datum_is_told_with_both_values(
    old: Catalogue, field: str, row: Any, value: Any, told: Any
) -> None:
    (change,) = changes(old, put(old, field, row, value)).changed
    index = row if isinstance(row, int) else row[0]
    assert (change.code, change.field) == (old.units.code[index], told[0])
    assert change.new == told[1] or (np.isnan(change.new) and np.isnan(told[1]))  # type: ignore[arg-type]


def test_prices_are_a_distribution(old: Catalogue) -> None:
    factor = np.linspace(0.95, 1.15, len(old.units))
    found = changes(old, newer(old, price=old.units.price * factor))
    (shift,) = found.prices
    assert (shift.field, shift.units) == ("price", len(old.units))
    np.testing.assert_allclose((shift.least, shift.middle, shift.most), (-0.05, 0.05, 0.15), atol=1e-12)
    assert found.changed == ()
    assert len(found.repriced) == len(old.units)


def test_prices_in_another_currency_are_not_compared(old: Catalogue) -> None:
    found = changes(old, replace(newer(old, price=old.units.price * 1.1), currency="USD"))
    assert found.prices == ()
    assert found.repriced == ()
    assert found.options == ("prices are in USD, they were in EUR: compare them by a dated rate",)


def test_a_build_under_another_code_is_recoded_where_one_alone_has_it(old: Catalogue) -> None:
    codes = np.array([f"Q{code}" for code in old.units.code.tolist()])
    found = changes(old, newer(old, code=codes))
    assert (found.added, found.withdrawn) == ((), ())
    assert found.recoded[0] == (old.units.code[0], f"Q{old.units.code[0]}")
    twice = joined(
        [replace(old.units, code=codes), replace(old.units, code=np.array([f"Z{c}" for c in codes]))]
    )
    found = changes(old, replace(old, version="next", units=twice))
    assert (len(found.withdrawn), len(found.added), found.recoded) == (len(old.units), 2 * len(old.units), ())


def test_options_and_letters(old: Catalogue) -> None:
    keep = np.flatnonzero(old.units.support != Support.TAKE_UP)
    scheme = old.scheme
    assert isinstance(scheme, TaggedScheme)
    words = list(scheme.words)
    seal = Letters(("seal_left",), (("J", ("labyrinth",)), ("F", ("packing",)), ("Z", ("closed-end",))))
    words[4] = replace(words[4], letters=seal)
    new = replace(
        old, version="next", units=old.units.take(keep), scheme=replace(scheme, words=tuple(words), spares=())
    )
    found = changes(old, new)
    assert found.options == ("support take-up is offered no longer",)
    assert found.scheme == (
        "spares are marked none",
        "letters of seal left mean something else: aJ is labyrinth, it was packing",
        "letters of seal left are gone: aW",
        "letters of seal left are new: aF",
    )


def test_schemes_of_two_forms(old: Catalogue) -> None:
    (form, *_) = changes(old, replace(newer(old), scheme=load("second").scheme)).scheme
    assert form.startswith("order codes are fixed places parted by '-'")
    assert form.endswith("they were tagged words in any order, parted by '.'")


def test_two_suppliers_are_not_two_versions(old: Catalogue) -> None:
    with pytest.raises(InputError, match="another supplier's catalogue"):
        changes(old, load("second"))


def test_which_codes_in_use_are_concerned(old: Catalogue) -> None:
    new = put(old, "dynamic_rating", 4, 250e3)
    new = replace(new, units=new.units.take(slice(1, None)))
    found = changes(old, new)
    code = old.units.code.tolist()
    ordered = specification_of(old.units.row(4), SealKind.LABYRINTH, SealKind.PACKING, 1)
    told = concerned(found, old, [code[0], code[2], code[4], ordered, "no such code"])
    assert [(c.code, c.now, c.withdrawn, c.unknown) for c in told] == [
        (code[0], "", True, False),
        (code[4], code[4], False, False),
        (code[4], code[4], False, False),
        ("no such code", "", False, True),
    ]
    assert told[1].changes == (
        FieldChange(code[4], "dynamic_rating", float(old.units.dynamic_rating[4]), 250e3),
    )


def test_a_large_catalogue_under_new_codes_is_quick() -> None:
    whole = load("first")
    renamed = newer(whole, code=np.array([f"Q{code}" for code in whole.units.code.tolist()]))
    assert len(changes(whole, renamed).recoded) == 3320
