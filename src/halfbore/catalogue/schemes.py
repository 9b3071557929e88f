"""Whether a scheme reads every code in one way only, and writes every unit of its catalogue."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

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
    fixed = [Letters((feature,), (("", (value,)),)) for feature, value in scheme.fixed]
    for letters in [*groups, *fixed]:
        yield from _letters(letters)
    if isinstance(scheme, TaggedScheme):
        texts = [word.tag + text for word in scheme.words for text, _ in word.letters.table]
        signs = {scheme.separator}
        yield from _twice(texts, "a word has two meanings")
    else:
        texts = [text for letters in groups for text, _ in letters.table]
        signs = {scheme.separator, scheme.check.separator}
        yield from _check(scheme.check)
        yield from (p for place in scheme.places if len(place) > 1 for p in _widths(place))
        if len(signs) == 1:
            yield Problem("two separators are alike", "scheme", scheme.separator)
    starts = {mark[0] for mark, _ in scheme.spares}
    for text in texts:
        if any(sign in text for sign in signs | starts):
            yield Problem("letters hold a separator or the mark of a spare", "scheme", text)
    if signs & starts:
        yield Problem("a spare begins with a separator", "scheme", ", ".join(sorted(signs & starts)))
    yield from _unnamed([*groups, *fixed], units)


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


def _check(check: CheckCharacter) -> Iterator[Problem]:
    yield from _twice(list(check.values), "a character has two values")
    yield from _twice(list(check.letters), "a check letter stands for two remainders")
    if not check.letters or not check.weights:
        yield Problem("the check character has no letters or no weights", "scheme.check")


def oddities(scheme: Scheme) -> Iterator[str]:
    """Yield how wrong characters may pass the check character of a scheme; it is the supplier's own."""
    if isinstance(scheme, TaggedScheme):
        return
    check, modulus = scheme.check, len(scheme.check.letters)
    used = {c for place in scheme.places for letters in place for text, _ in letters.table for c in text}
    if blind := "".join(sorted(used - set(check.values))):
        yield f"order codes: the check character does not count {blind}"
    if len(check.values) >= modulus:
        yield f"order codes: the check character takes some of {check.values} for one another"
    if any(weight % modulus == 0 for weight in check.weights):
        yield "order codes: the check character does not count every place"
    if any((a - b) % modulus == 0 for a, b in pairwise(check.weights)):
        yield "order codes: the check character does not see every exchanged pair"


def _unnamed(groups: list[Letters], units: UnitTable) -> Iterator[Problem]:
    """Yield the values of units that the scheme has no letters for."""
    held = {
        "size": units.size.tolist(),
        "row_size": [str(n) for n in units.row_size.tolist()],
        "locating": [(Role.LOCATING if is_ else Role.NON_LOCATING).value for is_ in units.locating.tolist()],
        "support": [Support(n).word for n in units.support.tolist()],
        "hand": [Hand(n).word for n in units.hand.tolist()],
    }
    optional = {"seal_left": _seals(units), "seal_right": _seals(units), "clearance": _groups(units)}
    for letters in groups:
        if all(feature in held for feature in letters.features):
            known = {values for _, values in letters.table}
            for asked in set(zip(*(held[f] for f in letters.features), strict=True)) - known:
                features = " and ".join(letters.features).replace("_", " ")
                yield Problem(f"the scheme has no letters for this {features}", "scheme", " ".join(asked))
        for i, feature in enumerate(letters.features):
            for asked_for in optional.get(feature, ()):
                if asked_for not in {values[i] for _, values in letters.table if i < len(values)}:
                    step = "give it letters, or leave it out of what is offered"
                    what = f"the scheme has no letters for this {feature.replace('_', ' ')}"
                    yield Problem(what, "scheme", asked_for, next_step=step)


def _seals(units: UnitTable) -> list[str]:
    """Return the seals that some unit can have."""
    return [kind.word for kind in SealKind if units.seal_offered[:, kind].any()]


def _groups(units: UnitTable) -> list[str]:
    """Return the clearance groups that some unit can have."""
    given = ~np.isnan(units.clearance_min).all(axis=0)
    return [str(n + 1) for n in np.flatnonzero(given).tolist()]
