"""Codes both ways: every unit of both suppliers, any order of words, and every wrong letter."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.demo.suppliers import load
from halfbore.domain.catalogue import Catalogue, Letters, Part, PlacedScheme, TaggedScheme, Word
from halfbore.domain.order import Specification
from halfbore.domain.unit import SealKind
from halfbore.errors import InputError
from halfbore.ordering.parts import specification_of
from halfbore.ordering.scheme import read_code, write_code
from halfbore.ordering.words import describe

NAMES = ("first", "second")


def read(code: str, catalogue: Catalogue) -> Specification:
    return read_code(code, catalogue.scheme, catalogue.supplier)


def refusal(code: str, catalogue: Catalogue) -> str:
    with pytest.raises(InputError) as raised:
        read(code, catalogue)
    (problem,) = raised.value.problems
    return problem.sentence()


@cache
def specifications(name: str) -> tuple[Specification, ...]:
    """Return a sample over all units of a supplier in every build: seals, clearance and part."""
    units = load(name).units
    builds = list(product(range(3), range(3), range(3), Part))
    found = []
    for i in range(len(units)):
        unit = units.row(i)
        left, right, clearance, part = builds[(7 * i) % len(builds)]
        offered = [kind for kind in SealKind if unit.seal_offered[0, kind]]
        seals = offered[left % len(offered)], offered[right % len(offered)]
        found.append(specification_of(unit, *seals, clearance, part))
    return tuple(found)


@pytest.mark.parametrize("name", NAMES)
def test_every_unit_has_the_code_that_its_supplier_prints(name: str) -> None:
    catalogue = load(name)
    units = catalogue.units
    for i in range(len(units)):
        standard = specification_of(units.row(i), SealKind.PACKING, SealKind.PACKING, 0)
        assert write_code(standard, catalogue.scheme) == units.code[i]


@pytest.mark.parametrize("name", NAMES)
def test_specification_to_code_and_back(name: str) -> None:
    catalogue, sample = load(name), specifications(name)
    codes = [write_code(s, catalogue.scheme) for s in sample]
    assert [read(code, catalogue) for code in codes] == list(sample)
    assert len(set(codes)) == len(set(sample)) == len({describe(s) for s in sample})


@pytest.mark.parametrize("name", NAMES)
def test_all_builds_of_one_unit(name: str) -> None:
    catalogue = load(name)
    unit = catalogue.units.row(0)
    for left, right, clearance, part in product(SealKind, SealKind, range(3), Part):
        s = specification_of(unit, left, right, clearance, part)
        assert read(write_code(s, catalogue.scheme), catalogue) == s


@given(st.sampled_from(specifications("first")), st.randoms(use_true_random=False))
def test_words_may_stand_in_any_order(specification: Specification, random) -> None:  # type: ignore[no-untyped-def]
    catalogue = load("first")
    code = write_code(specification, catalogue.scheme)
    body, mark, spare = code.partition("!")
    words = body.split(".")
    random.shuffle(words)
    shuffled = ".".join(words) + mark + spare
    assert read(shuffled, catalogue) == specification
    assert write_code(read(shuffled, catalogue), catalogue.scheme) == code


def corrupted(code: str, letters: str) -> list[str]:
    """Return every code that differs in one character."""
    return [code[:i] + c + code[i + 1 :] for i in range(len(code)) for c in letters if c != code[i]]


@pytest.mark.parametrize("name", NAMES)
def test_no_wrong_letter_passes_as_the_same(name: str) -> None:
    catalogue = load(name)
    sample = specifications(name)[:: len(specifications(name)) // 200][:200]
    codes = [write_code(s, catalogue.scheme) for s in sample]
    letters = "".join(sorted(set("".join(codes) + "xQ7 ")))  # all that any code has, and some that none has
    assert len(sample) == 200
    passed = 0
    for s, code in zip(sample, codes, strict=True):
        for wrong in corrupted(code, letters):
            try:
                other = read(wrong, catalogue)
            except InputError as error:
                assert "character" in error.problems[0].where
            else:
                assert other != s
                passed += 1
    assert passed == 0 or isinstance(catalogue.scheme, TaggedScheme)


def test_the_check_character_catches_every_exchanged_pair() -> None:
    catalogue = load("second")
    for s in specifications("second"):
        code = write_code(s, catalogue.scheme)
        for i in range(len(code) - 1):
            if code[i] != code[i + 1]:
                with pytest.raises(InputError):
                    read(code[:i] + code[i + 1] + code[i] + code[i + 2 :], catalogue)


def test_the_check_character_catches_a_lost_first_character() -> None:
    catalogue = load("second")
    for s in specifications("second"):
        with pytest.raises(InputError):
            read(write_code(s, catalogue.scheme)[1:], catalogue)


@pytest.mark.parametrize(
    ("name", "code", "told"),
    [
        (
            "first",
            "d125.w2.n.uQ.aJ.bW.g1",
            "character 12: no such support and hand; read 'Q'; accepted: P, Vl, Vr, G, Y",
        ),
        ("first", "d125.w9.n.uP.aJ.bW.g1", "character 7: no such row size; read '9'; accepted: 1, 2, 3, 4"),
        ("first", "d125.w2.n.uP.x.bW.g1", "character 14: no word begins like this; read 'x'"),
        (
            "first",
            "d125.w2.n.uP.aJ.aW.g1",
            "character 17: stands beside 'aJ': one of the two is too many; read 'aW'",
        ),
        ("first", "d125.w2.n.w2.uP.aJ.bW.g1", "character 11: stands beside 'w2'"),
        (
            "first",
            "d125.w2.n.uP.aJ.g1",
            "the word for seal at the free end side is missing; accepted: bJ, bW, bZ",
        ),
        ("first", "d125.w2..n.uP.aJ.bW.g1", "character 9: no word begins like this"),
        ("first", "d125.w2.n.uP.aJ.bW.g1!q", "character 22: no such spare; read '!q'; accepted: !k, !s, !p"),
        ("first", "d126.w2.n.uP.aJ.bW.g1", "character 2: no such size; read '126'; accepted: 120, 125"),
        ("second", "79-31-6L-04/R", "character 12: no such clearance; accepted: 1, 2, 3"),
        (
            "second",
            "79-31-6L-041/A",
            "character 14: the check character does not fit; read 'A'; the rest of the code",
        ),
        ("second", "79-31-6L/A", "character 9: 4 places are wanted, parted by '-'"),
        (
            "second",
            "79-31-6X-041/A",
            "character 7: no such support and hand; read '6X'; accepted: 1N, 6L, 6R, 3N, 8N",
        ),
        ("second", "79-51-6L-041/A", "character 4: no such row size; read '5'; accepted: 1, 2, 3"),
        ("second", "79-31-6L-041", "one check character is wanted after '/'"),
        ("second", "79-31-6L-041/A+9", "no such spare; read '+9'; accepted: +1, +2, +3"),
        ("second", "", "4 places are wanted"),
        ("first", "x" * 81, "too long for a code"),
    ],
)
def test_a_wrong_code_says_where(name: str, code: str, told: str) -> None:
    assert told in refusal(code, load(name))


def test_what_has_no_letters_is_not_written() -> None:
    s = replace(specifications("second")[0], row_size=4)
    with pytest.raises(InputError, match="no letters for this row size; read '4'; accepted: 1, 2, 3"):
        write_code(s, load("second").scheme)


def test_a_fixed_feature_needs_no_letters() -> None:
    whole = load("first").scheme
    assert isinstance(whole, TaggedScheme)
    words = tuple(w for w in whole.words if w.tag != "g")
    scheme = replace(whole, words=words, fixed=(("clearance", "2"),))
    code = "d125.w2.n.uP.aJ.bW"
    s = read_code(code, scheme, "Quernvold Split Units")
    assert s.clearance == 2
    assert write_code(s, scheme) == code
    with pytest.raises(InputError, match="clearance"):
        write_code(replace(s, clearance=1), scheme)


def test_a_spare_without_a_mark_cannot_be_ordered() -> None:
    scheme = load("second").scheme
    assert isinstance(scheme, PlacedScheme)
    s = replace(specifications("second")[0], part=Part.SUPPORT)
    with pytest.raises(InputError, match="no letters for this part"):
        write_code(s, replace(scheme, spares=scheme.spares[:2]))


def test_words_without_a_tag_stand_beside_tagged_ones() -> None:
    letters = Letters(("locating",), (("n", ("non-locating",)), ("l", ("locating",))))
    whole = load("first").scheme
    assert isinstance(whole, TaggedScheme)
    assert Word("", letters) in whole.words
