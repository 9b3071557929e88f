"""What keeps a catalogue out, what it is asked about, what it leaves out and what is filled in."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from halfbore import limits
from halfbore.catalogue.admit import admitted
from halfbore.catalogue.coverage import holes
from halfbore.catalogue.fill import with_fatigue_limit
from halfbore.demo.suppliers import load
from halfbore.domain.catalogue import Catalogue, Letters, Part, PlacedScheme, TaggedScheme
from halfbore.domain.unit import Hand, UnitTable
from halfbore.errors import InputError


@pytest.fixture
def catalogue() -> Catalogue:
    """Return a catalogue of twelve units around 100 mm."""
    whole = load("first")
    units = whole.units
    return replace(whole, units=units.take(np.flatnonzero(units.size == "100 mm")[:12]))


def with_units(catalogue: Catalogue, **columns: Any) -> Catalogue:
    return replace(catalogue, units=replace(catalogue.units, **columns))


def put(units: UnitTable, field: str, row: int, value: Any) -> dict[str, Any]:
    column = getattr(units, field).copy()
    column[row] = value
    return {field: column}


def refusal(catalogue: Catalogue) -> list[str]:
    with pytest.raises(InputError) as raised:
        admitted(catalogue)
    return [problem.sentence() for problem in raised.value.problems]


def test_a_sound_catalogue_is_admitted(catalogue: Catalogue) -> None:
    assert len(admitted(catalogue).units) == 12


def test_two_units_of_one_code(catalogue: Catalogue) -> None:
    code = catalogue.units.code.tolist()
    (told,) = refusal(with_units(catalogue, **put(catalogue.units, "code", 3, code[1])))
    assert f"two units have one code; read '{code[1]}'; accepted: see unit {code[1]}" in told


@pytest.mark.parametrize(("field", "symbol"), [("dynamic_rating", "C_r"), ("static_rating", "C_0r")])
@pytest.mark.parametrize("factor", [0.84, 1.16])
def test_a_rating_that_its_rollers_do_not_yield(
    catalogue: Catalogue, field: str, symbol: str, factor: float
) -> None:
    given = getattr(catalogue.units, field)
    (told,) = refusal(with_units(catalogue, **put(catalogue.units, field, 2, given[2] * factor)))
    assert f"read '{symbol} {given[2] * factor / 1000:.4g} kN, 1" in told
    assert (" % under'" if factor < 1 else " % over'") in told
    assert "from Z 22, D_we 15, L_we 18.5, D_pw 134 mm, within 15%" in told
    assert ("ISO 281:2007" if symbol == "C_r" else "ISO 76:2006") in told


@pytest.mark.parametrize(
    ("field", "value", "told"),
    [
        ("dynamic_rating", 195.5e3, "C_r 195.5 kN, 15.3 % over"),
        ("dynamic_rating", 194.5e3, ""),
        ("dynamic_rating", 144.6e3, ""),
        ("dynamic_rating", 143.6e3, "C_r 143.6 kN, 15.3 % under"),
        ("static_rating", 274.9e3, "C_0r 274.9 kN, 15.2 % over"),
        ("static_rating", 273.9e3, ""),
        ("static_rating", 203.2e3, ""),
        ("static_rating", 202.2e3, "C_0r 202.2 kN, 15.2 % under"),
    ],
)
def test_ratings_worked_by_hand(catalogue: Catalogue, field: str, value: float, told: str) -> None:
    """ISO 281:2007, 7.1 with Table 7, and ISO 76:2006, both from memory, worked with a pocket calculator.

    Z 22, D_we 15, L_we 18.5, D_pw 134, one row: D_we/D_pw = 0.11194, f_c = 85.4 + 0.194 × 1.0 = 85.59,
    C_r = 1.1 × 85.59 × 18.5^(7/9) × 22^(3/4) × 15^(29/27) = 1.1 × 85.59 × 9.673 × 10.158 × 18.33 = 169.6 kN;
    C_0r = 44 × (119/134) × 22 × 18.5 × 15 = 238.55 kN. 15 % either way: 144.2 to 195.0 and 202.8 to 274.3 kN.
    """
    ours = catalogue.units
    row = int(np.flatnonzero((ours.rollers == 22) & (ours.roller_diameter == 15))[0])
    shape = (ours.roller_length[row], ours.pitch_diameter[row], ours.rows[row])
    assert shape == (18.5, 134.0, 1.0)
    changed = with_units(catalogue, **put(ours, field, row, value))
    if told:
        (sentence,) = refusal(changed)
        assert f"read '{told}'" in sentence
        assert ("169.6 kN by ISO 281:2007" if field[0] == "d" else "238.6 kN by ISO 76:2006") in sentence
    else:
        assert len(admitted(changed).units) == 12


@pytest.mark.parametrize("factor", [0.87, 1.13])
def test_a_rating_near_its_geometry_passes(catalogue: Catalogue, factor: float) -> None:
    given = catalogue.units.dynamic_rating
    assert len(admitted(with_units(catalogue, dynamic_rating=given * factor)).units) == 12


def test_a_rating_without_geometry_is_believed(catalogue: Catalogue) -> None:
    blank = np.full(12, np.nan)
    assert admitted(with_units(catalogue, rollers=blank, dynamic_rating=np.full(12, 5e6)))


@pytest.mark.parametrize(
    ("field", "row", "value", "told"),
    [
        ("mass", 0, 0.0, "mass of the whole unit is out of bounds; read '0 kg'; accepted: 0.1 to 50000 kg"),
        ("bore", 1, 2000.0, "is out of bounds; read '2000 mm'"),
        ("clearance_min", (2, 1), 3.5, "is out of bounds; read '3.5 mm'"),
        ("clearance_min", (2, 1), 0.9, "the ends are exchanged; read '0.9 mm'; accepted: at most 0.125 mm"),
        ("seat_lower", 3, 0.01, "the ends are exchanged"),
        ("hand", 3, int(Hand.LEFT), "support and hand do not agree; read 'flange, left'"),
        ("hand", 1, int(Hand.NONE), "support and hand do not agree; read 'side-entry, none'"),
        ("rollers", 4, 60.0, "the rollers do not go round; read '60 rollers of 15 mm'"),
        ("pitch_diameter", 5, 110.0, "the rollers run into the shaft; read '110 mm'; accepted: over 115 mm"),
    ],
)
def test_what_cannot_be(catalogue: Catalogue, field: str, row: Any, value: float, told: str) -> None:
    assert any(told in t for t in refusal(with_units(catalogue, **put(catalogue.units, field, row, value))))


def test_problems_past_the_limit_are_counted() -> None:
    whole = load("first")
    told = refusal(with_units(whole, mass=np.zeros(len(whole.units))))
    assert len(told) == limits.PROBLEMS + 1
    assert told[-1].endswith(f"and {len(whole.units) - limits.PROBLEMS} more problems")


def test_the_place_in_the_file_is_named(catalogue: Catalogue) -> None:
    broken = with_units(catalogue, **put(catalogue.units, "mass", 7, 0.0))
    with pytest.raises(InputError, match=r"row 7, mass: mass of the whole unit"):
        admitted(broken, lambda i, path: f"row {i}, {path}")


def test_an_odd_value_is_asked_about_and_kept(catalogue: Catalogue) -> None:
    odd = admitted(with_units(catalogue, **put(catalogue.units, "price", 0, 999_999.0)))
    assert odd.units.price[0] == 999_999
    assert any(
        note.startswith("price of the unit without seals") and "in 1 of 12 units" in note
        for note in odd.notes
    )


def test_a_blank_fatigue_limit_is_computed(catalogue: Catalogue) -> None:
    given = catalogue.units.fatigue_limit
    blank = replace(catalogue.units, fatigue_limit=np.where(np.arange(12) < 5, np.nan, given))
    filled, count = with_fatigue_limit(blank)
    assert count == 5
    np.testing.assert_allclose(filled.fatigue_limit, given, rtol=0.005)  # the catalogue prints three digits
    unknown = replace(blank, static_rating=np.full(12, np.nan))
    assert np.isnan(with_fatigue_limit(unknown)[0].fatigue_limit[:5]).all()
    assert any(
        hole.field == "fatigue_limit" and hole.missing == 5 for hole in holes(with_fatigue_limit(unknown)[0])
    )


def test_a_hole_counts_only_where_the_datum_has_a_meaning(catalogue: Catalogue) -> None:
    units = catalogue.units
    blank = np.full(12, np.nan)
    found = {
        h.field: h
        for h in holes(replace(units, axial_capacity=blank, centre_height=blank, speed_limit=blank))
    }
    assert (found["axial_capacity"].missing, found["axial_capacity"].of) == (int(units.locating.sum()),) * 2
    assert found["centre_height"].of == int(np.isin(units.support, (0, 1)).sum())
    assert found["speed_limit"].of == 12
    assert found["speed_limit"].blinds == ("speed", "minimum load")


def tagged(catalogue: Catalogue, number: int, *table: tuple[str, tuple[str, ...]]) -> Catalogue:
    scheme = catalogue.scheme
    assert isinstance(scheme, TaggedScheme)
    words = list(scheme.words)
    words[number] = replace(words[number], letters=replace(words[number].letters, table=table))
    return replace(catalogue, scheme=replace(scheme, words=tuple(words)))


@pytest.mark.parametrize(
    ("word", "table", "told"),
    [
        (5, (("J", ("packing",)), ("J", ("labyrinth",))), "letters have two meanings; read 'J'"),
        (5, (("J", ("packing",)), ("K", ("packing",))), "a value has two letters; read 'packing'"),
        (5, (("J", ("felt",)),), "is no seal right; read 'felt'; accepted: closed-end, labyrinth, packing"),
        (5, (("J.", ("packing",)),), "letters hold a separator or the mark of a spare; read 'bJ.'"),
        (5, (("J!", ("packing",)),), "letters hold a separator or the mark of a spare; read 'bJ!'"),
        (5, (("J", ("packing", "left")),), "letters need a value for each feature"),
        (2, (("w1", ("locating",)), ("n", ("non-locating",))), "a word has two meanings; read 'w1'"),
        (1, (("1", ("1",)),), "the scheme has no letters for this row size; read '2'"),
        (0, (("x", ("1 m",)),), "the scheme has no letters for this size; read '100 mm'"),
    ],
)
def test_a_scheme_that_reads_two_ways_or_not_at_all(
    catalogue: Catalogue, word: int, table: tuple[tuple[str, tuple[str, ...]], ...], told: str
) -> None:
    assert any(told in t for t in refusal(tagged(catalogue, word, *table)))


@pytest.mark.parametrize(
    ("word", "features", "told"),
    [
        (4, "seal_left", "the scheme has no letters for this seal left; read 'labyrinth'"),
        (5, "seal_right", "the scheme has no letters for this seal right; read 'labyrinth'"),
        (6, "clearance", "the scheme has no letters for this clearance; read '2'"),
    ],
)
def test_what_is_offered_and_has_no_letters(
    catalogue: Catalogue, word: int, features: str, told: str
) -> None:
    first = "1" if features == "clearance" else "packing"
    sentences = refusal(tagged(catalogue, word, ("J", (first,))))
    assert any(told in t for t in sentences)
    assert all("give it letters, or leave it out of what is offered" in t for t in sentences)


def with_check(**change: Any) -> Catalogue:
    second = load("second")
    assert isinstance(second.scheme, PlacedScheme)
    scheme = replace(second.scheme, check=replace(second.scheme.check, **change))
    return replace(second, scheme=scheme)


@pytest.mark.parametrize(
    ("check", "told"),
    [
        ({"values": "0123456789LNR0"}, "a character has two values; read '0'"),
        ({"letters": "ABCA"}, "a check letter stands for two remainders; read 'A'"),
        ({"weights": ()}, "no letters or no weights"),
    ],
)
def test_a_check_character_that_cannot_be_worked_out(check: dict[str, Any], told: str) -> None:
    assert any(told in t for t in refusal(with_check(**check)))


@pytest.mark.parametrize(
    ("check", "told"),
    [
        ({"values": "0123456789LN"}, "does not count R"),
        ({"values": "0123456789LNRABCDEFGHJK"}, "takes some of 0123456789LNRABCDEFGHJK for one another"),
        ({"weights": (3, 23)}, "does not count every place"),
        ({"weights": (3, 26)}, "does not see every exchanged pair"),
    ],
)
def test_a_weak_check_character_is_told(check: dict[str, Any], told: str) -> None:
    assert any(told in note for note in admitted(with_check(**check)).notes)
    assert not any("order codes" in note for note in load("second").notes)


def test_separators_and_marks_differ() -> None:
    second = load("second")
    assert isinstance(second.scheme, PlacedScheme)
    for change, told in (
        ({"separator": "/"}, "two separators are alike; read '/'"),
        ({"spares": (("-1", Part.BEARING),)}, "a spare begins with a separator; read '-'"),
        ({"fixed": (("clearance", "9"),)}, "is no clearance; read '9'"),
    ):
        scheme: PlacedScheme = replace(second.scheme, **change)  # type: ignore[arg-type]
        assert any(told in t for t in refusal(replace(second, scheme=scheme)))


def test_letters_of_one_place_have_one_width() -> None:
    second = load("second")
    assert isinstance(second.scheme, PlacedScheme)
    wide = Letters(("row_size",), (("1", ("1",)), ("2", ("2",)), ("30", ("3",))))
    places = list(second.scheme.places)
    places[1] = (wide, places[1][1])
    told = refusal(replace(second, scheme=replace(second.scheme, places=tuple(places))))
    assert any("must be of one width; read '1, 2, 30'" in t for t in told)
