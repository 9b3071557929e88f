"""Whether a scheme reads every code in one way only, and writes every unit of its catalogue."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from halfbore.domain.catalogue import CheckCharacter, Letters, Scheme, TaggedScheme
from halfbore.domain.position import Role
from halfbore.domain.unit import CLEARANCE_GROUPS, Hand, SealKind, Support, UnitTable
from halfbore.errors import Problem

_WORDS: dict[str, set[str]] = {
    "row_size": {str(n) for n in range(1, 100)},
    "locating": {role.value for role in Role},
    "support": set(Support.words()),
    "hand": set(Hand.words()),
    "seal_left": set(SealKind.words()),
    "seal_right": set(SealKind.words()),
    "clearance": {str(n + 1) for n in range(CLEARANCE_GROUPS)},
}


def problems(scheme: Scheme, units: UnitTable) -> Iterator[Problem]:
    """Yield everything that makes codes of this scheme ambiguous or unable to name a unit."""
    groups = [w.letters for w in scheme.words] if isinstance(scheme, TaggedScheme) else sum(scheme.places, ())
    for letters in groups:
        yield from _letters(letters)
    if isinstance(scheme, TaggedScheme):
        texts = [word.tag + text for word in scheme.words for text, _ in word.letters.table]
        yield from _twice(texts, "a word has two meanings")
        apart = scheme.separator
    else:
        yield from _check(scheme.check, groups)
        yield from (p for place in scheme.places if len(place) > 1 for p in _widths(place))
        apart = scheme.separator + scheme.check.separator
    starts = "".join(mark[:1] for mark, _ in scheme.spares)
    for letters in groups:
        for text, _ in letters.table:
            if set(text) & set(apart + starts):
                yield Problem("letters hold a separator or the mark of a spare", "scheme", text)
    yield from _unnamed(scheme, groups, units)


def _letters(letters: Letters) -> Iterator[Problem]:
    yield from _twice([text for text, _ in letters.table], "letters have two meanings")
    yield from _twice([" ".join(values) for _, values in letters.table], "a value has two letters")
    for text, values in letters.table:
        if len(values) != len(letters.features):
            yield Problem(
                "letters need a value for each feature", "scheme", text, ", ".join(letters.features)
            )
        for feature, value in zip(letters.features, values, strict=False):
            if feature in _WORDS and value not in _WORDS[feature]:
                known = ", ".join(sorted(_WORDS[feature])[:12])
                yield Problem(f"is no {feature.replace('_', ' ')}", "scheme", value, known)


def _twice(texts: list[str], what: str) -> Iterator[Problem]:
    for text, count in Counter(texts).items():
        if count > 1:
            yield Problem(what, "scheme", text, "letters that differ")


def _widths(place: tuple[Letters, ...]) -> Iterator[Problem]:
    for letters in place:
        if len({len(text) for text, _ in letters.table}) != 1:
            texts = ", ".join(text for text, _ in letters.table)
            yield Problem("letters in one place with others must be of one width", "scheme", texts)


def _check(check: CheckCharacter, groups: tuple[Letters, ...] | list[Letters]) -> Iterator[Problem]:
    """Yield what would let a wrong character pass: equal values, or weights that the modulus divides."""
    modulus = len(check.letters)
    used = {c for letters in groups for text, _ in letters.table for c in text}
    if lost := used - set(check.values):
        yield Problem("the check character does not see these", "scheme.check.values", "".join(sorted(lost)))
    if len(check.values) > modulus or len(set(check.values)) < len(check.values):
        most = f"up to {modulus} characters, each once"
        yield Problem("two characters have one value", "scheme.check.values", check.values, most)
    if not check.weights or any(weight % modulus == 0 for weight in check.weights):
        yield Problem(
            "a weight counts for nothing", "scheme.check.weights", accepted=f"no multiple of {modulus}"
        )


def _unnamed(
    scheme: Scheme, groups: tuple[Letters, ...] | list[Letters], units: UnitTable
) -> Iterator[Problem]:
    """Yield the values of units that the scheme has no letters for."""
    held = {
        "size": units.size.tolist(),
        "row_size": [str(n) for n in units.row_size.tolist()],
        "locating": [(Role.LOCATING if is_ else Role.NON_LOCATING).value for is_ in units.locating.tolist()],
        "support": [Support(n).word for n in units.support.tolist()],
        "hand": [Hand(n).word for n in units.hand.tolist()],
    }
    fixed = [Letters((feature,), (("", (value,)),)) for feature, value in scheme.fixed]
    for letters in [*groups, *fixed]:
        if all(feature in held for feature in letters.features):
            known = {values for _, values in letters.table}
            for asked in set(zip(*(held[f] for f in letters.features), strict=True)) - known:
                features = " and ".join(letters.features)
                yield Problem(f"the scheme has no letters for this {features}", "scheme", " ".join(asked))
